import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { firstStand, laidAt, wayOf } = await import(`${JS}later/stand.js`);

test("the second point of a stand lies as far from the first as on the part's own drawing", () => {
  assert.deepEqual(laidAt([[0, 0], [30, 40]], [10, 20], 90), [[10, 20], [10, 70]]);
  assert.equal(wayOf([[10, 20], [10, 70]]), 90);
  const plan = { parts: [{ name: "deck", outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]] }] };
  const part = { name: "house", outline_mm: [[5, 0], [65, 0], [65, 20], [5, 20]] };
  assert.deepEqual(firstStand(plan, part, "deck"), { over: "deck", points_mm: [[5, 0], [65, 0]], at_mm: [[70, 50], [130, 50]] });
});
