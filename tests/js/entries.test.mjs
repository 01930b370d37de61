import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { entryOf } = await import(`${JS}later/entries.js`);

const word = { align: "left" }, broad = { align: "left", wide: true }, figure = { align: "right" };

test("words stand over the figures and take up all their columns, the wide ones most; remarks come after", () => {
  const laid = entryOf([word, broad, word, figure, figure, figure, figure, figure, broad]);
  assert.deepEqual(laid.map(one => one.names.join(" ")), ["word", "word broad", "word last", "figure first", "figure", "figure", "figure", "figure", "remark"]);
  assert.deepEqual(laid.slice(0, 3).map(one => one.span), [1, 3, 1]);
  const two = entryOf([broad, broad, ...Array(6).fill(figure)]);
  assert.deepEqual(two.slice(0, 2).map(one => one.span), [3, 3]);
});

test("a table that is small, has too many figures or words between them keeps its rows", () => {
  assert.equal(entryOf([word, ...Array(6).fill(figure)]), null);
  assert.equal(entryOf([word, word, ...Array(9).fill(figure)]), null);
  assert.equal(entryOf([word, word, figure, word, figure, figure, figure, figure]), null);
  assert.equal(entryOf(Array(8).fill(word)), null);
});
