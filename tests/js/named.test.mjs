import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { renamed, removedWithTies } = await import(`${JS}named.js`);
const plan = {
  references: [{ name: "dusk", marks: [{ name: "glow", lamp: "stern" }, { name: "glint", lamp: null }] }],
  pinned: [{ of: "stern", choice: "current_ma", value: "2", note: "" }, { of: "bow", choice: "led", value: "x", note: "" }],
  lamps: [{ name: "stern" }, { name: "bow", brightness: { like: "stern", ratio: 2, intensity_mcd: null, note: "" } }], rows: [], strips: [],
};

test("a new name goes to marks, wishes and held choices", () => {
  assert.deepEqual(renamed(plan, "lamps/stern", "sternlight").map(change => [change.kind, change.item || change.name, change.values]), [
    ["lamps", "stern", { name: "sternlight" }], ["references", "glow", { lamp: "sternlight" }], ["lamps", "bow", { brightness: { like: "sternlight", ratio: 2 } }],
    ["plan", "", { pinned: [{ of: "sternlight", choice: "current_ma", value: "2" }, { of: "bow", choice: "led", value: "x" }] }],
  ]);
});

test("what is taken out leaves no tie behind", () => {
  assert.deepEqual(removedWithTies(plan, ["lamps/stern"]).map(change => [change.action, change.item || change.name]), [["set", "glow"], ["set", "bow"], ["remove", "stern"]]);
  assert.deepEqual(removedWithTies(plan, ["lamps/stern", "lamps/bow"]).map(change => change.action), ["set", "remove", "remove"]);
});
