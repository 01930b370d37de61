import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const items = await import(`${JS}items.js`);

const plan = {
  lamps: [
    { name: "stern", part: "hull", at_mm: [80, 20], colour: "white", states: ["moving"], note: "", rule: null },
    { name: "spare", part: null, at_mm: null, colour: "red", states: [], note: "" },
  ],
  rows: [{ name: "ports", part: "hull", along_mm: [[0, 5], [50, 5]], count: 6, pitch_mm: null, colour: "warm white", states: ["moored"] }],
  strips: [],
};

test("a move shifts a lamp's place, a row's whole line, and skips what is not placed", () => {
  const changes = items.moves(plan, ["lamps/stern", "lamps/spare", "rows/ports", "lamps/gone"], [1.25, -2]);
  assert.deepEqual(changes, [
    { action: "set", kind: "lamps", name: "stern", values: { at_mm: [81.25, 18] } },
    { action: "set", kind: "rows", name: "ports", values: { along_mm: [[1.25, 3], [51.25, 3]] } },
  ]);
});

test("a change is shown at once, without touching the plan that was", () => {
  const now = items.applied(plan, [{ action: "set", kind: "lamps", name: "stern", values: { colour: "red" } }, { action: "remove", kind: "rows", name: "ports", values: {} }]);
  assert.equal(now.lamps[0].colour, "red");
  assert.equal(plan.lamps[0].colour, "white");
  assert.equal(now.rows.length, 1);
});

test("whole lists of a part's openings and keep-outs have their corners at once", () => {
  const hull = { name: "hull", openings: [{ name: "w", rect_mm: [0, 0, 4, 2], diffusers: [], posts_mm: [[1, 1]], shape: [[0, 0]] }], keep_outs: [] };
  const [now] = items.applied({ parts: [hull] }, [{ action: "set", kind: "parts", name: "hull", values: {
    openings: [{ name: "w", rect_mm: [0, 0, 4, 2], diffusers: [{ sheet: "opal", gap_mm: 1 }] }], keep_outs: [{ name: "post", why: "post", rect_mm: [1, 1, 2, 2] }] } }]).parts;
  assert.deepEqual(now.openings[0].shape, [[0, 0], [4, 0], [4, 2], [0, 2]]);
  assert.deepEqual([now.openings[0].posts_mm, now.openings[0].diffusers.length], [[[1, 1]], 1]);
  assert.equal(now.keep_outs[0].shape.length, 4);
  assert.deepEqual(items.applied({ parts: [hull] }, [{ action: "set", kind: "parts", name: "hull", values: { keep_outs: null } }]).parts[0].keep_outs, []);
});

test("a name may hold a slash", () => {
  assert.deepEqual(items.parted("lamps/port/aft"), { kind: "lamps", name: "port/aft" });
});

test("duplicates get free names and leave out what is empty", () => {
  const changes = items.duplicates(plan, ["lamps/stern", "lamps/stern"], [5, 0]);
  assert.deepEqual(changes.map(change => change.name), ["stern 2", "stern 3"]);
  assert.deepEqual(changes[0].values.at_mm, [85, 20]);
  assert.ok(!("rule" in changes[0].values) && !("name" in changes[0].values));
  assert.equal(items.freeName({ ...plan, lamps: [...plan.lamps, { name: "ports 2" }] }, "ports"), "ports 3");
});

test("one lamp spreads into a row by count or by pitch", () => {
  const [gone, row] = items.spread(plan.lamps[0], [120, 20], { count: 5 });
  assert.deepEqual(gone, { action: "remove", kind: "lamps", name: "stern", values: {} });
  assert.deepEqual(row.values, { part: "hull", colour: "white", states: ["moving"], note: "", along_mm: [[80, 20], [120, 20]], count: 5 });
  assert.equal(items.spread(plan.lamps[0], [120, 20], { pitch_mm: 8 })[1].values.pitch_mm, 8);
});

test("ticks keep the plan's order of states", () => {
  const order = ["moored", "moving", "towing"];
  assert.deepEqual(items.ticked(plan.lamps[0], "lamps", "moored", true, order).values.states, ["moored", "moving"]);
  assert.deepEqual(items.ticked(plan.lamps[0], "lamps", "moving", false, order).values.states, []);
});

test("the same states for the rows below", () => {
  const rows = items.itemsOf(plan), changes = items.sameBelow(rows, 1, ["moving", "moored"]);
  assert.deepEqual(changes, [{ action: "set", kind: "rows", name: "ports", values: { states: [] } }]);
});

test("the nearest lamp within reach, and all in a frame", () => {
  const placed = [{ key: "lamps/a", at: [0, 0], radius: 1 }, { key: "lamps/b", at: [4, 0], radius: 1 }, { key: "rows/r", at: [9, 9], radius: 1 }, { key: "rows/r", at: [8, 9], radius: 1 }];
  assert.equal(items.hit(placed, [3, 0], 5).key, "lamps/b");
  assert.equal(items.hit(placed, [30, 0], 5), null);
  assert.deepEqual(items.inFrame(placed, [10, 10], [3, -1]), ["lamps/b", "rows/r"]);
});
