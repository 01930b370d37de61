import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { stepped } = await import(`${JS}keys.js`);

test("arrows go round a group of choices, Home and End to its ends", () => {
  assert.equal(stepped(3, 0, "ArrowRight"), 1);
  assert.equal(stepped(3, 2, "ArrowDown"), 0);
  assert.equal(stepped(3, 0, "ArrowLeft"), 2);
  assert.equal(stepped(3, 1, "Home"), 0);
  assert.equal(stepped(3, 1, "End"), 2);
  assert.equal(stepped(3, 1, "Enter"), 1);
});
