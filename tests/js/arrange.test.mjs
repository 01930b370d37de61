import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const curves = await import(`${JS}curves.js`);
const sides = await import(`${JS}sides.js`);
const near = (a, b, by = 1e-6) => a.flat(3).forEach((value, n) => assert.ok(Math.abs(value - b.flat(3)[n]) < by, `${JSON.stringify(a)} is not ${JSON.stringify(b)}`));

const corner = [[0, 0], [30, 0], [30, 40]];

test("places lie at equal lengths along a bent line, not along its chord", () => {
  near(curves.rowPlaces(corner, { count: 8 }), [0, 10, 20, 30].map(x => [x, 0]).concat([10, 20, 30, 40].map(y => [30, y])));
  near(curves.rowPlaces(corner, { pitch_mm: 35 }), [[0, 0], [30, 5], [30, 40]]);
  assert.equal(curves.rowPlaces(corner, { pitch_mm: 36 }).length, 2);
  near(curves.rowPlaces(corner, { count: 1 }), [[0, 0]]);
  assert.equal(curves.spacingWords(corner, { count: 8 }), "8 lamps, 10 mm apart along 70 mm");
});

const box = [[0, 0], [100, 0], [100, 40], [0, 40]];

test("an edge set inward keeps its distance; what turns round is dropped", () => {
  near(curves.insetRing(box, 5), [[5, 5], [95, 5], [95, 35], [5, 35]]);
  near(curves.insetRing([...box].reverse(), 5), [[5, 35], [95, 35], [95, 5], [5, 5]]);
  assert.deepEqual(curves.insetRing(box, 21), []);
  const cut = curves.insetRing([[0, 0], [100, 0], [100, 40], [98, 42], [0, 42]], 6);
  assert.equal(cut.length, 4);  // the short slant is gone at that depth
});

test("a stretch of the edge goes round corners, either way, or all round", () => {
  near(curves.alongEdge(box, [80, 6], { inset: 5, length: 40 }), [[80, 5], [95, 5], [95, 30]]);
  near(curves.alongEdge(box, [80, 6], { inset: 5, length: -40 }), [[80, 5], [40, 5]]);
  const round = curves.alongEdge(box, [50, 0], { inset: 0, length: 1e9 });
  near([curves.lengthOf(round)], [280]);
  near([round[0], round[round.length - 1]], [[50, 0], [50, 0]]);
  near([curves.insetOf(box, [50, 7])], [7]);
  assert.equal(curves.alongEdge(box, [50, 7], { inset: 30, length: 10 }), null);
});

test("points as typed", () => {
  assert.deepEqual(curves.pointsOf("0, 5; 10 5 ;20,7.5"), [[0, 5], [10, 5], [20, 7.5]]);
  assert.equal(curves.pointsOf("0, 5"), null);
  assert.equal(curves.pointsOf("0, 5; x, 3"), null);
});

const hull = [[0, 0], [90, 0], [100, 40], [0, 40]], mirrored = hull.map(([x, y]) => [110 - x, y]);
const lamp = (name, more = {}) => ({ name, part: "hull starboard", at_mm: [20, 10], facing: "outward", colour: "white", rule: null, arc_deg: null, states: ["on"], evidence: [{ kind: "rule", of: "r" }, { kind: "picture", of: "p" }], ...more });
const plan = {
  parts: [{ name: "hull starboard", outline_mm: hull }, { name: "hull port", outline_mm: mirrored }, { name: "lid", outline_mm: [[0, 0], [30, 0], [30, 12], [0, 12]] }],
  lamps: [lamp("side starboard", { colour: "green", rule: "side_starboard", facing: "starboard", arc_deg: [0, 112.5] }), lamp("deck light", { at_mm: [25, 11] }), lamp("far", { at_mm: [95, 30] }), lamp("loose", { part: null, at_mm: null })],
  rows: [{ ...lamp("ports"), at_mm: undefined, along_mm: [[10, 20], [80, 20]], count: 5, mirror: null }], strips: [],
};

test("a sidelight on the other side: red for green, port for starboard, its arc mirrored, the rule's other light", () => {
  const { changes, rows } = sides.mirrorChanges(plan, ["lamps/side starboard", "lamps/deck light", "rows/ports"], "hull port");
  const [side, deck, row] = changes;
  assert.equal(side.name, "side port");
  assert.deepEqual([side.values.colour, side.values.rule, side.values.facing, side.values.arc_deg, side.values.part], ["red", "side_port", "port", [247.5, 360], "hull port"]);
  assert.deepEqual(side.values.at_mm, [90, 10]);
  assert.deepEqual(side.values.evidence, [{ kind: "rule", of: "r" }]);
  assert.equal(deck.values.colour, "white");
  assert.deepEqual([row.action, row.values.mirror, rows], ["set", { part: "hull port", axis_x_mm: 55, flip: true }, ["ports"]]);
});

test("about a part's own middle; red and green without a side stay as they are", () => {
  const own = { ...plan, lamps: [lamp("glow", { colour: "red" }), lamp("lamp left", { colour: "red" })] };
  const [glow, left] = sides.mirrorChanges(own, ["lamps/glow", "lamps/lamp left"], null).changes;
  assert.deepEqual([glow.values.at_mm, glow.values.colour, glow.name], [[80, 10], "red", "glow mirrored"]);
  assert.deepEqual([left.values.colour, left.name], ["green", "lamp right"]);
  assert.deepEqual(sides.mirrorChanges(own, ["lamps/glow"], null, "along").changes[0].values.at_mm, [20, 30]);
});

test("what falls outside the other part is told and not copied", () => {
  const made = sides.copyChanges(plan, ["lamps/deck light", "lamps/far", "lamps/loose"], "lid");
  assert.deepEqual(made.changes.map(change => [change.name, change.values.at_mm, change.values.part]), [["deck light 2", [25, 11], "lid"]]);
  assert.deepEqual(made.outside, [{ name: "far", part: "lid", at: [95, 30] }]);
  assert.equal(sides.toldOf(made).length, 2);
  assert.equal(sides.copyChanges(plan, ["rows/ports"], "lid").outside.length, 1);
});

test("level, upright and at equal distances", () => {
  const row = { ...plan, lamps: [lamp("a", { at_mm: [0, 1] }), lamp("b", { at_mm: [30, 3] }), lamp("c", { at_mm: [12, 2] }), lamp("d", { part: "lid", at_mm: [5, 5] })] };
  const keys = row.lamps.map(item => `lamps/${item.name}`), at = how => Object.fromEntries(sides.lined(row, keys, how).map(change => [change.name, change.values.at_mm]));
  assert.deepEqual(at("level"), { a: [0, 2], b: [30, 2] });
  assert.deepEqual(at("upright"), { a: [14, 1], b: [14, 3], c: [14, 2] });
  assert.deepEqual(at("even"), { c: [15, 2] });
});
