// Rasters kept of the states looked at before.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { Past } = await import(`${JS}later/past.js`);

const layer = planes => [{ rhythm: "", planes: Array(planes).fill(null) }];

test("what was made is found again, of the same answer only", () => {
  const past = new Past(), answer = {}, made = layer(1);
  assert.equal(past.get(answer, "alongside"), undefined);
  past.put("alongside", made);
  assert.equal(past.get(answer, "alongside"), made);
  assert.equal(past.get({}, "alongside"), undefined);
});

test("the oldest go when there are too many planes, the newest never", () => {
  const past = new Past(4), answer = {};
  past.get(answer, "");
  for (const look of ["a", "b", "c"]) past.put(look, layer(2));
  assert.deepEqual(["a", "b", "c"].map(look => Boolean(past.get(answer, look))), [false, true, true]);
  past.put("d", layer(9));
  assert.deepEqual(["b", "c", "d"].map(look => Boolean(past.get(answer, look))), [false, false, true]);
});
