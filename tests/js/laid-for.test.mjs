import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { PX_PER_MM, laidFor } = await import(`${JS}later/laid-for.js`);

const narrow = { svg: "narrow", width_mm: 90 }, broad = { svg: "broad", width_mm: 180, narrow }, alone = { svg: "alone", width_mm: 180, narrow: null };

test("a broad drawing keeps its own layout where it nearly fits, with its letters as large", () => {
  const laid = laidFor(broad, 560);
  assert.equal(laid.shown, broad);
  assert.equal(laid.width, 560);
  assert.equal(laid.letters, 180 * PX_PER_MM / 560);
});

test("a phone gets the layout for it, never wider than its screen and never huge", () => {
  for (const room of [326, 356, 500]) {
    const laid = laidFor(broad, room);
    assert.equal(laid.shown, narrow);
    assert.ok(laid.width <= room && laid.width >= 90 * PX_PER_MM && laid.width <= 1.25 * 90 * PX_PER_MM);
    assert.equal(laid.letters, 1);
  }
});

test("what has one layout alone shrinks to its place, but for its letters; what fits stays as it is", () => {
  const laid = laidFor(alone, 306);
  assert.equal(laid.width, 306);
  assert.equal(laid.letters, 2);
  assert.deepEqual(laidFor(narrow, 1000), { shown: narrow, width: 90 * PX_PER_MM, letters: 1 });
});
