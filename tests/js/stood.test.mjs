// From where the model as it stands is asked for.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { stoodPath } = await import(`${JS}later/stood.js`);

test("one's own side, else the plan's", () => {
  assert.equal(stoodPath({ state: "under way", turned: { bearing: 120, height: 15 } }), "/stood?state=under%20way&bearing_deg=120&height_deg=15");
  assert.equal(stoodPath({ state: "moored", turned: { bearing: 0 } }), "/stood?state=moored&bearing_deg=0&height_deg=0");
  for (const turned of [null, undefined, false]) assert.equal(stoodPath({ state: "moored", turned }), "/stood?state=moored");
});
