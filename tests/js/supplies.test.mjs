// What a line says of another supply.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { factsOf, lightOf } = await import(`${JS}later/supplies.js`);

const ROW = { state: "moored", runs: "6.4 to 11 h", fits: "yes", weight_g: 52.34, price_eur: 11.8, dim_lamp: "stern", flat_percent: 84.6, fresh_percent: 110 };

test("run time, room, weight and price", () => {
  assert.equal(factsOf(ROW), "'moored' runs 6.4 to 11 h; 52 g, fits the bay; 11.8 euro.");
  assert.equal(factsOf({ ...ROW, fits: "no" }), "'moored' runs 6.4 to 11 h; 52 g, does not fit the bay; 11.8 euro.");
  assert.equal(factsOf({ ...ROW, fits: "no bay" }), "'moored' runs 6.4 to 11 h; 52 g, no bay is known; 11.8 euro.");
  assert.equal(factsOf({ ...ROW, fits: "outside", weight_g: null, runs: "as long as it is plugged in" }), "'moored' runs as long as it is plugged in; stays outside the model; 11.8 euro.");
  assert.equal(factsOf({ ...ROW, state: "" }), "nothing is lit; 52 g, fits the bay; 11.8 euro.");
});

test("the dimmest lamp, where there is one", () => {
  assert.equal(lightOf(ROW), "Dimmest: stern, 85% of its light on the flat supply; no lamp under 110% on the fresh one.");
  assert.equal(lightOf({ ...ROW, dim_lamp: "" }), "");
});
