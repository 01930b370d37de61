import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const figures = await import(`${JS}figures.js`);
const { faultOf } = await import(`${JS}faults.js`);
const { aroundOf, snapped } = await import(`${JS}snap.js`);
const { lengthOf, lengthText } = await import(`${JS}measure.js`);
const { evened, mirroredPart, otherSide } = await import(`${JS}mirror.js`);
const { areaOf, inside, selfCrossing } = await import(`${JS}shapes.js`);
const standing = await import(`${JS}standing.js`);

const opening = { name: "window", outline_mm: [], rect_mm: [10, 10, 20, 8], clear: true, diffusers: [], posts_mm: [[12, 12]], note: "", shape: [[10, 10], [30, 10], [30, 18], [10, 18]] };
const hull = {
  name: "port hull", outline_mm: [[0, 0], [100, 0], [100, 40], [0, 40]], drawn_from: "outside", wall: "white styrene", wall_mm: 1.2, coats: [],
  openings: [opening], keep_outs: [{ name: "post", why: "post", outline_mm: [], rect_mm: null, centre_mm: [50, 20], radius_mm: 4, note: "", shape: [] }],
  bays: [{ name: "bay", rect_mm: [70, 5, 20, 10], depth_mm: 12, access: "open", note: "" }], seams_mm: [[[0, 0], [100, 0]]],
  relief: { flat: false, heights: [{ at_mm: [50, 20], height_mm: 12 }], strings: [{ from_mm: [0, 20], to_mm: [100, 20], length_mm: 110 }], folds: [] },
  picture: null, poses: [], removable: false, room_for_illuminators: true, note: "",
};
const lid = { ...hull, name: "lid", openings: [], keep_outs: [], bays: [], seams_mm: [], relief: { flat: true, heights: [], strings: [], folds: [] } };
const plan = {
  parts: [hull, lid], crossings: [{ name: "plug", kind: "plug", ends: [{ part: "port hull", at_mm: [60, 30] }, { part: "lid", at_mm: [5, 5] }] }],
  lamps: [{ name: "stern", part: "port hull", at_mm: [95, 35], opening: null }, { name: "room", part: "port hull", at_mm: [20, 14], opening: "window" }],
  rows: [{ name: "ports", part: "lid", along_mm: [[0, 0], [9, 9]], mirror: { part: "port hull", axis_x_mm: 0, flip: true } }],
  strips: [{ name: "strip", part: "port hull", along_mm: [[10, 14], [30, 14]], openings: ["window"] }],
  spaces: [{ name: "inside", parts: ["port hull", "lid"] }], states: [{ name: "lit", poses: [] }], supply: { bay: "bay" },
};
const at = key => figures.figureAt(plan, hull, key);

test("every thing that is drawn on a part is a figure", () => {
  assert.deepEqual(figures.figuresOf(plan, hull).map(row => [row.key, row.form]), [
    ["outline", "ring"], ["openings/window", "rect"], ["keep_outs/post", "disc"], ["bays/bay", "rect"], ["posts/0/window", "dot"],
    ["seams/0", "line"], ["crossings/0/plug", "dot"], ["heights/0", "dot"], ["strings/0", "pair"]]);
});

test("a rectangle stays one whichever corner goes; a disc goes with its centre", () => {
  for (const n of [0, 1, 2, 3]) {
    const now = figures.bent(at("openings/window"), n, [33, 3]);
    assert.deepEqual(now.points[n], [33, 3]);
    assert.deepEqual(now.points[(n + 2) % 4], at("openings/window").points[(n + 2) % 4]);
    const [x, y, width, height] = figures.boxed(now.points);
    for (const [px, py] of now.points) assert.ok([x, x + width].includes(px) && [y, y + height].includes(py));
  }
  assert.deepEqual(figures.bent(at("keep_outs/post"), 0, [60, 20]).points, [[60, 20], [64, 20]]);
  assert.equal(figures.radiusOf(figures.bent(at("keep_outs/post"), 1, [50, 26]).points), 6);
});

test("points are put in and taken out; three corners and two ends stay", () => {
  const more = figures.inserted(at("outline"), 3);
  assert.deepEqual(more.points[4], [0, 20]);
  assert.deepEqual(figures.without(more, 4).points, hull.outline_mm);
  assert.ok(!figures.canTake({ form: "ring", points: [[0, 0], [1, 0], [0, 1]] }));
  assert.ok(!figures.canTake(at("seams/0")));
});

test("each figure changes its own item alone", () => {
  const moved = key => figures.written(hull, figures.shifted(at(key), [1, 1]))[0];
  assert.deepEqual(moved("openings/window"), { action: "set", kind: "parts", name: "port hull", list: "openings", item: "window", values: { outline_mm: null, rect_mm: [11, 11, 20, 8], centre_mm: null, radius_mm: null } });
  assert.deepEqual(moved("keep_outs/post").values, { outline_mm: null, rect_mm: null, centre_mm: [51, 21], radius_mm: 4 });
  assert.deepEqual(moved("bays/bay").values, { rect_mm: [71, 6, 20, 10] });
  assert.deepEqual(moved("seams/0").values, { seams_mm: [[[1, 1], [101, 1]]] });
  assert.deepEqual(moved("crossings/0/plug").values.ends, [{ part: "port hull", at_mm: [61, 31] }, { part: "lid", at_mm: [5, 5] }]);
  assert.deepEqual(moved("heights/0").values.relief.heights, [{ at_mm: [51, 21], height_mm: 12 }]);
  assert.deepEqual(moved("posts/0/window").values, { posts_mm: [[13, 13]] });
  assert.deepEqual(figures.removed(hull, at("seams/0"))[0].values, { seams_mm: [] });
  assert.deepEqual(figures.removed(hull, at("openings/window"))[0].action, "remove");
  assert.deepEqual(figures.removed(hull, at("outline")), []);
  assert.equal(figures.freeFigureName(plan, hull, "bays"), "bay 2");
});

test("bad shapes are told with their place", () => {
  const ring = points => ({ ...at("outline"), points });
  const bow = faultOf({ ...plan, lamps: [], strips: [] }, { ...hull, openings: [], bays: [] }, ring([[0, 0], [100, 40], [100, 0], [0, 40]]));
  assert.match(bow.says, /cross itself near 50, 20 mm/);
  assert.match(faultOf(plan, hull, ring([[0, 0], [1, 1], [0, 0]])).says, /2 different points/);
  assert.match(faultOf(plan, hull, ring([[0, 0], [50, 0], [100, 0]])).says, /cross itself|no area/);
  assert.match(faultOf(plan, hull, ring([[0, 0], [90, 0], [90, 40], [0, 40]])).says, /leave the lamp 'stern' outside/);
  assert.match(faultOf(plan, hull, ring([[0, 0], [100, 0], [100, 17], [0, 17]])).says, /leave the opening 'window' outside/);
  assert.match(faultOf(plan, hull, figures.shifted(at("openings/window"), [75, 0])).says, /reach 5 mm outside the part near 105, 10/);
  assert.equal(faultOf(plan, hull, figures.shifted(at("openings/window"), [70, 0])), null);
  assert.equal(faultOf(plan, hull, figures.shifted(at("keep_outs/post"), [75, 0])), null);
  assert.match(faultOf(plan, hull, { ...at("openings/window"), points: [[1, 1], [1, 1], [1, 1], [1, 1]] }).says, /no area/);
});

test("rings that touch or fold back cross themselves", () => {
  assert.equal(selfCrossing([[0, 0], [4, 0], [4, 4], [0, 4]]), null);
  assert.ok(selfCrossing([[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]]));
  assert.ok(selfCrossing([[0, 0], [4, 0], [2, 0], [2, 4]]));
  assert.ok(inside([1, 1], hull.outline_mm) && !inside([-1, 1], hull.outline_mm));
});

const around = { neighbours: [{ at: [10, 0], words: "point 1" }, { at: [50, 30], words: "point 3" }], points: [{ at: [70, 5], words: "at a corner of bay" }],
  edges: [{ edge: [[0, 0], [100, 40]], words: "on the edge of seam" }], mirrored: [{ at: [90, 0], words: "mirrors point 1" }], middle: { x: 50, y: 20 } };

test("a point takes hold of points, straight lines, edges, the middle line, the grid, and says so", () => {
  const hold = (place, holds = {}) => snapped(place, around, { holds: { points: true, straight: true, middle: true, grid: true, ...holds }, step: 5, reach: 2 });
  assert.deepEqual(hold([70.9, 5.9]), { at: [70, 5], words: "at a corner of bay", guides: [] });
  assert.deepEqual(hold([10.4, 29]).at, [10, 30]);
  assert.equal(hold([10.4, 29]).words, "upright over point 1, level with point 3");
  assert.equal(hold([10.4, 29]).guides.length, 2);
  assert.equal(hold([89.5, 0.5]).words, "mirrors point 1");
  assert.deepEqual(hold([24, 11]).at.map(value => Math.round(value * 10)), [245, 98]);
  assert.match(hold([24, 11]).words, /on the edge of seam/);
  assert.match(hold([50.5, 44]).words, /on the middle line|upright over point 3/);
  assert.deepEqual(hold([33, 23], { middle: false, straight: false }).at, [35, 25]);
  assert.equal(hold([33, 24]).words, "on the grid of 5 mm");
  assert.deepEqual(snapped([33.333, 24], around, { holds: {}, reach: 2 }).at, [33.33, 24]);
});

test("what is round a point: its neighbours, the corners and edges of the others, the mirrored ones", () => {
  const found = aroundOf(figures.figuresOf(plan, hull), at("outline"), 1, { x: 50, y: null });
  assert.deepEqual(found.neighbours.map(row => row.words), ["point 1", "point 3"]);
  assert.ok(found.mirrored.some(row => row.words === "mirrors point 1" && row.at[0] === 100));
  assert.ok(found.points.some(row => row.words === "at a corner of window"));
  assert.deepEqual(aroundOf([], { key: "x", form: "line", points: [[0, 0], [5, 5]] }, 1, null).neighbours.map(row => row.at), [[0, 0]]);
});

test("lengths are read as people type them", () => {
  const near = (text, unit, mm) => assert.ok(Math.abs(lengthOf(text, unit) - mm) < 1e-9, text);
  near("12.5", "mm", 12.5); near("12,5", "mm", 12.5); near("-3", "mm", -3); near("1/2", "inch", 12.7); near("3 1/4", "inch", 82.55);
  near("8 mm", "inch", 8); near('2"', "mm", 50.8); near("1 in", "mm", 25.4); near("2 cm", "mm", 20); near("−1/4", "inch", -6.35); near(".5", "mm", 0.5);
  for (const bad of ["", "abc", "1/0", "1 2", "--3", "3 mm mm x"]) assert.equal(lengthOf(bad, "mm"), null, bad);
  assert.equal(lengthText(12.345, "mm"), "12.35");
  assert.equal(lengthText(25.4, "inch"), "1");
});

test("an outline is drawn alike on both sides of its middle line", () => {
  const ship = [[0, 0], [60, -10], [100, 0], [60, 12], [0, 9]];
  const even = evened(ship, 1, 0);
  for (const [x, y] of even) assert.ok(even.some(([p, q]) => p === x && q === -y), `${x},${y}`);
  assert.equal(selfCrossing(even), null);
  assert.ok(even.some(([x, y]) => x === 60 && y === 12));
  assert.deepEqual(new Set(evened([[0, 0], [10, 0], [10, 10], [0, 10]], 0, 5).map(String)), new Set(["0,0", "10,0", "10,10", "0,10"]));
});

test("an obstacle is a figure like a keep-out, and may reach over the part's edge", () => {
  const beam = { name: "beam", outline_mm: [], rect_mm: [10, 10, 20, 4], centre_mm: null, radius_mm: null, height_mm: 30, above_mm: 26, moves_with: null, pivot_mm: null, slide_deg: null, note: "" };
  const part = { ...hull, obstacles: [beam] }, [figure] = figures.figuresOf(plan, part).filter(row => row.kind === "obstacles");
  assert.equal(figure.form, "rect");
  const [change] = figures.written(part, { ...figure, form: "disc", points: [[5, 5], [9, 5]] });
  assert.deepEqual([change.list, change.item, change.values], ["obstacles", "beam", { outline_mm: null, rect_mm: null, centre_mm: [5, 5], radius_mm: 4 }]);
  assert.deepEqual(mirroredPart(plan, part).obstacles.map(row => [row.rect_mm[2], row.above_mm]), [[20, 26]]);
});

test("a round opening is a disc, and mirrors as one", () => {
  const dial = { name: "dial", outline_mm: [], rect_mm: null, centre_mm: [20, 20], radius_mm: 5, clear: true, diffusers: [], posts_mm: [], posts_width_mm: 2, door: null, note: "" };
  const part = { ...hull, openings: [dial] }, [figure] = figures.figuresOf(plan, part).filter(row => row.kind === "openings");
  assert.deepEqual([figure.form, figure.points], ["disc", [[20, 20], [25, 20]]]);
  const [change] = figures.written(part, { ...figure, points: [[20, 20], [27, 20]] });
  assert.deepEqual([change.item, change.values], ["dial", { outline_mm: null, rect_mm: null, centre_mm: [20, 20], radius_mm: 7 }]);
  assert.equal(mirroredPart(plan, part).openings[0].radius_mm, 5);
});

test("a mirrored part keeps its measures and gets the other side's name", () => {
  assert.equal(otherSide("port hull", new Set()), "starboard hull");
  assert.equal(otherSide("Right wing", new Set(["Left wing"])), "Left wing 2");
  assert.equal(otherSide("airport", new Set()), "airport mirrored");
  const other = mirroredPart(plan, hull);
  const faced = more => { const { faces, faces_deg, leans_deg, top_edge } = mirroredPart(plan, { ...hull, leans_deg: 0, ...more }); return [faces, faces_deg, leans_deg, top_edge]; };
  assert.deepEqual([faced({ faces: "starboard", leans_deg: 5 }), faced({ faces: "up", top_edge: "port" }), faced({ faces_deg: 40 }), faced({})],
    [["port", undefined, 5, undefined], ["up", undefined, 0, "starboard"], [undefined, 320, 0, undefined], [undefined, undefined, undefined, undefined]]);
  assert.ok(Math.abs(Math.abs(areaOf(other.outline_mm)) - 4000) < 1e-9);
  assert.deepEqual(other.openings[0].rect_mm, [70, 10, 20, 8]);
  assert.ok(!("shape" in other.openings[0]));
  assert.deepEqual(other.bays[0], { name: "bay mirrored", rect_mm: [10, 5, 20, 10], depth_mm: 12, access: "open", note: "" });
  assert.deepEqual(other.keep_outs[0].centre_mm, [50, 20]);
  assert.deepEqual(mirroredPart(plan, { ...hull, ...other, name: "x" }).outline_mm, hull.outline_mm);
});

test("a part that is renamed or taken out takes what stands on it along", () => {
  assert.deepEqual(standing.standingWords(plan, "port hull"), ["2 lamps", "1 row of lamps", "1 strip", "1 crossing", "the bay of the supply"]);
  const renamed = standing.renamedPart(plan, "port hull", "hull");
  assert.deepEqual(renamed.map(change => `${change.kind}/${change.name}`), ["parts/port hull", "lamps/stern", "lamps/room", "rows/ports", "strips/strip", "crossings/plug", "spaces/inside"]);
  const out = standing.withoutPart(plan, "port hull", "unplaced");
  assert.deepEqual(out[0].values, { part: null, at_mm: null, opening: null });
  assert.equal(out.at(-1).action, "remove");
  assert.ok(out.some(change => change.kind === "supply" && change.values.bay === null));
  const logged = { ...plan, as_built: [{ step: "drill", part: "port hull" }, { step: "drill", part: "lid" }, { step: "close", part: null }] };
  assert.deepEqual(standing.renamedPart(logged, "port hull", "hull").at(-1), { action: "set", kind: "as_built", name: "drill on port hull", values: { part: "hull" } });
  assert.ok(standing.withoutPart(logged, "port hull", "remove").some(change => change.action === "remove" && change.name === "drill on port hull"));
  const leaf = { name: "leaf", openings: [], obstacles: [], bays: [] };
  const lid = { name: "lid", bays: [], openings: [{ name: "hatch", door: { part: "leaf", moves: "turns" } }, { name: "pane", door: null }], obstacles: [{ name: "boom", moves_with: "leaf" }, { name: "mast", moves_with: null }] };
  const doors = { ...plan, parts: [leaf, lid], lamps: [], rows: [], strips: [], crossings: [], spaces: [], states: [], supply: null };
  assert.deepEqual(standing.renamedPart(doors, "leaf", "flap").slice(1).map(change => [change.name, change.list, change.item, change.values]),
    [["lid", "openings", "hatch", { door: { part: "flap", moves: "turns" } }], ["lid", "obstacles", "boom", { moves_with: "flap" }]]);
  assert.deepEqual(standing.withoutPart(doors, "leaf", "remove").map(change => [change.action, change.item, change.values]),
    [["set", "hatch", { door: null }], ["remove", "boom", {}], ["remove", undefined, {}]]);
  const built = { ...doors, parts: [leaf, { ...lid, openings: [], obstacles: [], stands: { over: "leaf", at_mm: [] } }] };
  assert.deepEqual(standing.renamedPart(built, "leaf", "flap").at(-1).values, { stands: { over: "flap", at_mm: [] } });
  assert.deepEqual(standing.withoutPart(built, "leaf", "remove").map(change => change.values), [{ stands: null }, {}]);
  const lit = { ...doors, lamps: [{ name: "flood", part: "lid", lights_part: "leaf" }], rows: [{ name: "quay", part: "lid", lights_part: "lid", mirror: { part: "lid", lights_part: "leaf", lights_line_mm: [[0, 0], [1, 0]] } }] };
  assert.deepEqual(standing.renamedPart(lit, "leaf", "flap").slice(1, 3).map(change => [change.name, change.values]),
    [["flood", { lights_part: "flap" }], ["quay", { mirror: { part: "lid", lights_part: "flap", lights_line_mm: [[0, 0], [1, 0]] } }]]);
  assert.deepEqual(standing.withoutPart(lit, "leaf", "remove").slice(0, 2).map(change => change.values),
    [{ lights_mm: null, lights_part: null, foot_mm: null, aim_mm: null }, { mirror: { part: "lid" } }]);
  assert.equal(standing.standingWords(logged, "port hull").at(-1), "1 entry of the log");
  assert.deepEqual(standing.followers(plan, "port hull", "openings", "window", "pane").map(change => change.values), [{ openings: ["pane"] }, { opening: "pane" }]);
  assert.deepEqual(standing.followers(plan, "port hull", "openings", "window", null).map(change => change.action), ["remove", "set"]);
});
