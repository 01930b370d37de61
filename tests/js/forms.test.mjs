import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const lamp = await import(`${JS}later/lamp-rows.js`);

const NONE = { like: null, ratio: 1, intensity_mcd: null, subject_intensity_cd: null, carry: "equal illuminance", seen_in: null, note: "" };

test("a wish for brightness as the plan keeps it: what is as when left out is left out, a note stays", () => {
  assert.deepEqual(lamp.wished(NONE, { like: "stern", ratio: 1 }), { like: "stern" });
  assert.deepEqual(lamp.wished(NONE, { like: "stern", ratio: 0.5 }), { like: "stern", ratio: 0.5 });
  assert.deepEqual(lamp.wished({ ...NONE, note: "mine" }, { subject_intensity_cd: 12, carry: "equal illuminance" }), { subject_intensity_cd: 12, note: "mine" });
  assert.equal(lamp.wished(NONE, {}), null);
  assert.deepEqual(lamp.wished({ ...NONE, note: "mine" }, {}), { note: "mine" });
});

test("each wish is known again by its way", () => {
  for (const [way, wish] of [["room", {}], ["like", { like: "a" }], ["mcd", { intensity_mcd: 3 }], ["cd", { subject_intensity_cd: 3 }], ["seen", { seen_in: "lit room" }]]) {
    assert.equal(lamp.wayOf({ ...NONE, ...wish }), way);
  }
});

test("a fibre's diameter goes when something else is insisted on; the LED and a note stay", () => {
  const held = { kind: "fibre", led: "5 mm red", fibre_mm: 0.5, note: "seen on the kit" };
  assert.deepEqual(lamp.insisted(held, { kind: "led" }), { kind: "led", led: "5 mm red", note: "seen on the kit" });
  assert.deepEqual(lamp.insisted(held, { fibre_mm: 0 }), { kind: "fibre", led: "5 mm red", note: "seen on the kit" });
  assert.equal(lamp.insisted(null, {}), null);
  const matt = lamp.insisted(held, { tip: "sanded" });
  assert.equal(matt.tip, "sanded");
  assert.deepEqual([lamp.insisted(matt, { kind: "led" }).tip, lamp.insisted(matt, { tip: "polished" }).tip, lamp.insisted(matt, { led: "" }).tip], [undefined, undefined, "sanded"]);
});

const spaces = await import(`${JS}later/space-rows.js`);
const box = (left, low, right, top) => [[left, low], [right, low], [right, top], [left, top]];
const plan = { parts: [{ name: "hull", outline_mm: box(0, -5, 200, 35), openings: [{ name: "scuttle" }] }, { name: "lid", outline_mm: box(0, 0, 50, 60), openings: [] }],
  spaces: [{ name: "inside", parts: ["lid"], size_mm: [1, 1, 1] }] };

test("outlines tell a room's length and height, never its width", () => {
  assert.deepEqual(spaces.sizeOfParts(plan, ["hull", "lid"]), [200, null, 60]);
  assert.deepEqual(spaces.sizeOfParts(plan, []), [null, null, null]);
});

test("a room of an opening's name is the one behind it; what is missing is said", () => {
  assert.deepEqual(spaces.sizeWords(plan, "scuttle"), ["Width along the wall", "Depth behind it", "Height"]);
  assert.deepEqual(spaces.missingOf(plan, { name: "", parts: [], size_mm: [10, null, 10] }), ["its name", "the parts that form it", "width"]);
  assert.equal(spaces.freeSpace(plan, "inside"), false);
  assert.deepEqual(spaces.bareParts(plan, { lamps: [{ part: "hull" }, { part: "lid" }, { part: null }, { part: "hull" }] }), ["hull"]);
});

const strips = await import(`${JS}later/strip-rows.js`);

test("a strip runs along the middle of its openings, the longer way of them all", () => {
  const part = { openings: [{ name: "a", shape: box(10, 20, 20, 26) }, { name: "b", shape: box(40, 22, 50, 30) }, { name: "tall", shape: box(0, 0, 4, 90) }] };
  assert.deepEqual(strips.runBehind(part, ["a", "b"]), [[10, 25], [50, 25]]);
  assert.deepEqual(strips.runBehind(part, ["tall"]), [[2, 0], [2, 90]]);
});

test("a point more lies half way to the next, or as far again behind the last", () => {
  assert.deepEqual(strips.withPoint([[0, 0], [10, 4]], 0), [[0, 0], [5, 2], [10, 4]]);
  assert.deepEqual(strips.withPoint([[0, 0], [10, 4]], 1), [[0, 0], [10, 4], [20, 8]]);
});
