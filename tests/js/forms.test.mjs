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
  spaces: [{ name: "inside", parts: ["lid"], size_mm: [1, 1, 1], windows: [] }] };

test("outlines tell a room's length and height, never its width", () => {
  assert.deepEqual(spaces.sizeOfParts(plan, ["hull", "lid"]), [200, null, 60]);
  assert.deepEqual(spaces.sizeOfParts(plan, []), [null, null, null]);
});

test("a room's LED may be seen through openings of its parts that no other room has", () => {
  const hold = { name: "hold", parts: ["hull"], windows: [] };
  assert.deepEqual(spaces.windowChoices(plan, hold), ["scuttle"]);
  assert.deepEqual(spaces.windowChoices(plan, plan.spaces[0]), []);
  assert.deepEqual(spaces.windowChoices({ ...plan, spaces: [hold, { name: "aft", parts: ["hull"], windows: ["scuttle"] }] }, hold), []);
});

test("a room of an opening's name is the one behind it; what is missing is said", () => {
  assert.deepEqual(spaces.sizeWords(plan, "scuttle"), ["Width along the wall", "Depth behind it", "Height"]);
  assert.deepEqual(spaces.missingOf(plan, { name: "", parts: [], size_mm: [10, null, 10] }), ["its name", "the parts that form it", "width"]);
  assert.deepEqual(spaces.sizeWords(plan, "inside", ["scuttle"]), ["Width along the wall", "Depth behind it", "Height"]);
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

const states = await import(`${JS}later/state-rows.js`);
const boat = {
  states: [{ name: "moving", rule: "Under way", poses: [{ part: "crane", at: "out", note: "" }], minutes: null, note: "" }, { name: "moored", rule: null, poses: [], minutes: 30, note: "" }],
  lamps: [{ name: "stern", states: ["moving"] }], rows: [{ name: "ports", states: ["moving", "moored"] }], strips: [],
  evening: [{ state: "moored", minutes: 20, note: "" }, { state: "moving", minutes: 5, note: "dusk" }],
  as_built: [{ step: "find_fault", part: null, looks: [{ state: "moored", dark: ["stern"], dim: [], lit: [], when: null, by: null, note: "" }], readings: [{ gate: "g", what: "supply current, moored", value: 3, when: null, by: null, note: "" }] }],
};

test("a renamed state keeps its lamps, its stretch of the evening, and what was seen and read in it", () => {
  assert.deepEqual(states.renamedState(boat, "moored", "at anchor"), [
    { action: "set", kind: "states", name: "moored", values: { name: "at anchor" } },
    { action: "set", kind: "rows", name: "ports", values: { states: ["moving", "at anchor"] } },
    { action: "set", kind: "plan", name: "", values: { evening: [{ state: "at anchor", minutes: 20 }, { state: "moving", minutes: 5, note: "dusk" }] } },
    { action: "set", kind: "as_built", name: "find_fault", values: { looks: [{ state: "at anchor", dark: ["stern"] }], readings: [{ gate: "g", what: "supply current, at anchor", value: 3 }] } },
  ]);
});

test("a state that goes leaves lamps dark and its stretch out of the evening", () => {
  assert.deepEqual(states.withoutState(boat, "moving"), [
    { action: "set", kind: "lamps", name: "stern", values: { states: [] } }, { action: "set", kind: "rows", name: "ports", values: { states: ["moored"] } },
    { action: "set", kind: "plan", name: "", values: { evening: [{ state: "moored", minutes: 20 }] } }, { action: "remove", kind: "states", name: "moving", values: {} },
  ]);
});

test("a state goes up or down by one place and keeps what is said of it", () => {
  const swap = [{ action: "remove", kind: "states", name: "moored", values: {} }, { action: "add", kind: "states", name: "moored", before: "moving", values: { minutes: 30 } }];
  assert.deepEqual(states.movedState(boat, "moored", -1), swap);
  assert.deepEqual(states.movedState(boat, "moving", 1), swap);
  assert.deepEqual(states.movedState(boat, "moving", -1), []);
});

const held = await import(`${JS}later/held-rows.js`);

test("what the design chose is said with its unit; of the pins for one thing the last counts", () => {
  const row = { choice: "current_ma", of: "stern", took: ["5"] };
  assert.equal(held.tookWords(row, false), "The design chose 5 mA.");
  assert.equal(held.tookWords(row, true), "You hold it; the design takes 5 mA.");
  assert.equal(held.tookWords({ ...row, took: ["1", "2", "3", "4", "5"] }, false), "The design chose 1, 2, 3 mA and others.");
  const pins = [{ of: "A", choice: "gauge_awg", value: "28" }, { of: "A", choice: "gauge_awg", value: "30" }];
  assert.equal(held.pinOf({ pinned: pins }, "gauge_awg", "A").value, "30");
  assert.deepEqual(["A", "I2", "all", "return", "stern"].map(held.ofWords), ["circuit A", "illuminator I2", "all wire", "the shared return", "stern"]);
});

test("one press holds a way for all lamps that share it; a strip wants openings", () => {
  const plan = { lamps: [{ name: "a", opening: "w1" }, { name: "b", opening: "w2", source: { kind: "strip" } }], rows: [{ name: "r" }], strips: [] };
  const way = { kind: "strip", of: ["a", "b"] };
  assert.equal(held.canTake(plan, way), true);
  assert.deepEqual(held.madeOf(plan, way), ["a", "b"].map(name => ({ action: "set", kind: "lamps", name, values: { source: { kind: "strip" } } })));
  assert.equal(held.canTake(plan, { kind: "strip", of: ["b"] }), false, "it is held already");
  assert.equal(held.canTake(plan, { kind: "strip", of: ["r"] }), false, "holes");
  assert.equal(held.canTake(plan, { kind: "fibre", of: ["r"] }), true);
});
