import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const pick = await import(`${JS}pick.js`);
const many = await import(`${JS}many.js`);

const lamp = (name, more = {}) => ({ name, part: "hull", at_mm: [0, 0], colour: "white", states: ["moving"], versions: [], worth: "must", evidence: [], source: null, rhythm: "steady", size_mm: 100, ...more });
const plan = {
  parts: [{ name: "lid" }, { name: "hull" }, { name: "bare" }], states: [{ name: "moving" }, { name: "moored" }], version: "late",
  versions: [{ name: "early", note: "" }, { name: "late", note: "" }],
  lamps: [lamp("stern", { evidence: [{ kind: "guess" }] }), lamp("bow", { colour: "red", versions: ["early"], states: ["moving", "moored"] }), lamp("spare", { part: null, at_mm: null, worth: "left out" })],
  rows: [{ ...lamp("ports", { mirror: { part: "lid" }, states: ["moored"], size_mm: 80 }), along_mm: [[0, 0], [9, 0]], count: 2 }],
  strips: [{ name: "glow", part: "lid", colour: "warm white", states: [], versions: ["late"], worth: "wished", evidence: [], rhythm: "steady" }],
};
const look = { lamps: [
  { name: "stern", group: "stern", kind: "led", circuit: "A" }, { name: "ports 1", group: "ports", kind: "fibre", circuit: "B" },
  { name: "ports 2", group: "ports", kind: "fibre", circuit: "C" }, { name: "glow: window", group: "glow", kind: "strip", circuit: "B" },
] };
const facts = pick.factsOf(plan, look);
const names = list => list.map(fact => fact.item.name);
const asked = filter => names(pick.picked(facts, { ...pick.ANY, ...filter }));

test("each filter lets through what it names, and together they narrow", () => {
  assert.deepEqual(asked({}), ["stern", "bow", "spare", "ports", "glow"]);
  assert.deepEqual(asked({ part: "lid" }), ["ports", "glow"]);
  assert.deepEqual(asked({ part: pick.UNPLACED }), ["spare"]);
  assert.deepEqual(asked({ colour: "red" }), ["bow"]);
  assert.deepEqual(asked({ state: "moored" }), ["bow", "ports"]);
  assert.deepEqual(asked({ made: "fibre" }), ["ports"]);
  assert.deepEqual(asked({ made: pick.UNMADE }), ["bow", "spare"]);
  assert.deepEqual(asked({ version: "early" }), ["stern", "bow", "spare", "ports"]);
  assert.deepEqual(asked({ worth: "left out" }), ["spare"]);
  assert.deepEqual(asked({ circuit: "B" }), ["ports", "glow"]);
  assert.deepEqual(asked({ evidence: "with" }), ["stern"]);
  assert.deepEqual(asked({ evidence: "without", part: "hull" }), ["bow", "ports"]);
  assert.deepEqual(asked({ words: "HULL moor" }), ["bow", "ports"]);
  assert.ok(pick.narrowed({ ...pick.ANY, part: "lid" }) && !pick.narrowed(pick.ANY));
});

test("filters offer only what is there", () => {
  const choices = pick.choicesFor(facts, plan);
  assert.deepEqual(choices.part, ["lid", "hull", pick.UNPLACED]);
  assert.deepEqual(choices.circuit, ["A", "B", "C"]);
  assert.deepEqual(choices.version, ["early", "late"]);
});

test("groups hold everything, what belongs to two in both", () => {
  for (const by of Object.keys(pick.GROUPS)) {
    const all = new Set(pick.grouped(facts, by).flatMap(group => group.facts.map(fact => fact.key)));
    assert.equal(all.size, facts.length, by);
  }
  assert.deepEqual(pick.grouped(facts, "part").map(group => [group.head, names(group.facts)]), [["hull", ["stern", "bow", "ports"]], [pick.UNPLACED, ["spare"]], ["lid", ["ports", "glow"]]]);
  assert.equal(pick.lampsIn(pick.picked(facts, { ...pick.ANY, circuit: "B" })), 3);
});

test("a version's own, what all have, and what it leaves out", () => {
  const [early, late] = pick.versionTable(plan, facts);
  assert.deepEqual([names(early.own), early.all, names(early.without)], [["bow"], 3, ["glow"]]);
  assert.deepEqual([late.chosen, names(late.without), late.built], [true, ["bow"], 3]);
  assert.deepEqual(pick.worthTable(facts).map(row => row.facts.length), [3, 1, 1]);
});

test("a window of a long list: its rows fill what is in sight, gaps stand for the rest, one row may be tall", () => {
  const seen = pick.windowOf({ count: 2000, height: 40, top: 4000, bottom: 4800, spare: 2 });
  assert.equal(seen.before, seen.first * 40);
  assert.ok(seen.first <= 100 && seen.last >= 120 && seen.last - seen.first < 40);
  assert.equal(seen.before + (seen.last - seen.first) * 40 + seen.after, 2000 * 40);
  for (const top of [0, 300, 900, 5000, 60000]) {
    const tall = pick.windowOf({ count: 2000, height: 40, top, bottom: top + 800, spare: 0, tall: 9, tallBy: 600 });
    assert.ok(tall.before <= top + 40, `${top}: nothing empty above`);
    assert.ok(2000 * 40 + 600 - tall.after >= Math.min(top + 800, 80600), `${top}: nothing empty below`);
  }
  assert.equal(pick.windowOf({ count: 3, height: 40, top: 9000, bottom: 9800 }).last, 3);
});

test("arrow keys stay in the grid", () => {
  assert.deepEqual(pick.cellAfter([0, 0], "ArrowUp", 5, 3), [0, 0]);
  assert.deepEqual(pick.cellAfter([4, 2], "ArrowDown", 5, 3), [4, 2]);
  assert.deepEqual(pick.cellAfter([1, 2], "Home", 5, 3), [1, 0]);
  assert.deepEqual(pick.cellAfter([3, 1], "PageUp", 5, 3), [0, 1]);
  assert.equal(pick.cellAfter([0, 0], "x", 5, 3), null);
});

const chosen = ["lamps/stern", "lamps/bow", "rows/ports", "strips/glow"], items = chosen.map(key => plan[key.split("/")[0]].find(item => item.name === key.split("/")[1]));

test("many: what they share, what differs, what only some have", () => {
  assert.deepEqual(many.shared(items.slice(0, 1), "colour"), { same: "white" });
  assert.deepEqual(many.shared(items, "colour"), { differs: true });
  assert.deepEqual(many.shared(items.slice(0, 2), "size_mm"), { same: 100 });
  assert.deepEqual(many.shared(items.slice(3), "size_mm"), { missing: true });
  assert.equal(many.shareOf(items, "states", "moored"), "some");
  assert.equal(many.shareOf(items.slice(1, 3), "states", "moored"), "all");
});

test("many: only what changes is set, and only where there is such a key", () => {
  assert.deepEqual(many.setAll(plan, chosen, { size_mm: 100 }).map(change => change.name), ["ports"]);
  assert.deepEqual(many.setAll(plan, [...chosen, "lamps/gone"], { worth: "wished" }).map(change => change.name), ["stern", "bow", "ports"]);
  assert.deepEqual(many.tickAll(plan, chosen, "states", "moving", true, ["moving", "moored"]).map(change => [change.name, change.values.states]), [["ports", ["moving", "moored"]], ["glow", ["moving"]]]);
  assert.deepEqual(many.tickAll(plan, ["lamps/bow"], "states", "moving", false, ["moving", "moored"])[0].values, { states: ["moored"] });
  assert.deepEqual(many.madeAll(plan, chosen, "fibre").map(change => change.name), ["stern", "bow", "ports"]);
  assert.deepEqual(many.madeAll(plan, chosen, null), []);
});

test("columns in pages of like length, none longer than there is room for", () => {
  assert.deepEqual(pick.columnPages(14, 3), [[0, 3], [3, 6], [6, 9], [9, 12], [12, 14]]);
  assert.deepEqual(pick.columnPages(5, 4), [[0, 3], [3, 5]]);
  assert.deepEqual(pick.columnPages(3, 9), [[0, 3]]);
  assert.deepEqual(pick.columnPages(2, -1), [[0, 1], [1, 2]]);
  assert.deepEqual(pick.columnPages(0, 4), [[0, 0]]);
});
