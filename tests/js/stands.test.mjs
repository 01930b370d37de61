import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { doorAt, freeShape, poseIn, posesChanged, standsAt, stoodIn } = await import(`${JS}stands.js`);

const plan = {
  parts: [{ name: "leaf", poses: [{ name: "shut", value: 0 }, { name: "ajar", value: 60 }, { name: "wide", value: 180 }] }, { name: "still", poses: [] }],
  states: [{ name: "night", poses: [{ part: "leaf", at: "ajar" }] }, { name: "feast", poses: [{ part: "leaf", at: "wide" }] }, { name: "late", poses: [] }],
};
const opening = (edge, moves = "turns") => ({ shape: [[10, 0], [22, 0], [22, 8], [10, 8]], door: { part: "leaf", moves, edge } });
const near = (a, b) => a.flat().forEach((value, n) => assert.ok(Math.abs(value - b.flat()[n]) < 1e-9, `${value} is not ${b.flat()[n]}`));

test("a state that says nothing takes the first pose, as in the engine", () => {
  assert.equal(poseIn(plan, "leaf", "night").value, 60);
  assert.equal(poseIn(plan, "leaf", "late").name, "shut");
  assert.equal(poseIn(plan, "still", "late"), null);
});

test("a door covers what is not seen of its opening", () => {
  near(doorAt(plan, opening("left"), "late").covers, [[10, 0], [22, 0], [22, 8], [10, 8]]);
  near(doorAt(plan, opening("left"), "night").covers, [[10, 0], [16, 0], [16, 8], [10, 8]]);
  near(doorAt(plan, opening("top"), "night").covers, [[10, 8], [22, 8], [22, 4], [10, 4]]);
  assert.equal(doorAt(plan, opening("left"), "feast").covers, null);
  near(doorAt(plan, opening("left"), "feast").leaf, [[10, 0], [-2, 0], [-2, 8], [10, 8]]);
  const sliding = { ...plan, parts: [{ name: "leaf", poses: [{ name: "ajar", value: 3 }] }] };
  near(doorAt(sliding, opening("right", "slides"), "late").covers, [[22, 0], [13, 0], [13, 8], [22, 8]]);
  near(doorAt(sliding, opening("right", "slides"), "late").leaf, [[25, 0], [13, 0], [13, 8], [25, 8]]);
  assert.equal(doorAt(plan, { shape: [], door: null }, "late"), null);
});

test("an obstacle turns about its pivot or slides", () => {
  const boom = { rect_mm: [0, 0, 10, 2], moves_with: "leaf", pivot_mm: [0, 0] };
  near(standsAt(plan, boom, "feast"), [[0, 0], [-10, 0], [-10, -2], [0, -2]]);
  near(standsAt(plan, { ...boom, pivot_mm: null, slide_deg: 90 }, "night"), [[0, 60], [10, 60], [10, 62], [0, 62]]);
  near(standsAt(plan, { ...boom, moves_with: null }, "feast"), [[0, 0], [10, 0], [10, 2], [0, 2]]);
  assert.equal(standsAt(plan, { centre_mm: [5, 5], radius_mm: 2 }, "late").length, 24);
});

test("what is seen past a door is the rest of its opening", () => {
  near(freeShape(plan, opening("left"), "night"), [[16, 0], [22, 0], [22, 8], [16, 8]]);
  near(freeShape(plan, opening("top"), "night"), [[10, 0], [22, 0], [22, 4], [10, 4]]);
  assert.deepEqual(freeShape(plan, opening("left"), "late"), []);
  assert.equal(freeShape(plan, opening("left"), "feast").length, 4);
});

test("states follow a pose that is renamed and forget one that is gone", () => {
  const poses = plan.parts[0].poses, named = poses.map(pose => pose.name === "ajar" ? { ...pose, name: "half open" } : pose);
  assert.deepEqual(posesChanged(plan, "leaf", named, { ajar: "half open" }).slice(1).map(change => [change.name, change.values.poses]), [["night", [{ part: "leaf", at: "half open" }]]]);
  assert.deepEqual(posesChanged(plan, "leaf", poses.filter(pose => pose.name !== "wide")).slice(1).map(change => [change.name, change.values.poses]), [["feast", []]]);
  assert.deepEqual(posesChanged(plan, "leaf", [...poses, { name: "off", value: 200 }]).length, 1);
  assert.deepEqual(stoodIn(plan, "leaf", "feast", "shut")[0].values.poses, [{ part: "leaf", at: "shut" }]);
});
