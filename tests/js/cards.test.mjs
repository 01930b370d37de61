import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { cardsOf } = await import(`${JS}later/cards.js`);

const headed = (...headings) => headings.map(heading => ({ heading }));

test("a table that fits a narrow screen keeps its rows, and so does one of few columns", () => {
  assert.equal(cardsOf(headed("a", "b", "c", "d"), [["1", "2", "3", "4"]]), null);
  assert.equal(cardsOf(headed("a", "b", "c"), [["x".repeat(80), "y".repeat(80), "z".repeat(80)]]), null);
  assert.equal(cardsOf(headed("a", "b", "c", "d"), []), null);
});

test("what would scroll aside on a narrow screen takes cards there, what would on a laptop there too", () => {
  const some = [["x".repeat(12), "y".repeat(12), "z".repeat(12), "w".repeat(12)]];
  assert.equal(cardsOf(headed("Lamp", "What", "Value", "Where"), some).below_px, 440);  // derived: 4 x 16 + 7 x 48 = 400 px
  assert.equal(cardsOf(headed("Lamp", "What", "Value", "Where"), [["x".repeat(20), "y".repeat(20), "z".repeat(20), "w".repeat(20)]]).below_px, 640);
});

test("sentences among many columns take lines of their own", () => {
  const long = "a word and ".repeat(15);
  const laid = cardsOf(headed("Measure", "How", "a", "b", "c"), [["LED", long, "1", "2", "3"]]);
  assert.deepEqual([laid.below_px, laid.kinds.join(",")], [640, "lead,full,,,"]);
});
