import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const marks = await import(`${JS}marks.js`);
const shot = { kind: "picture", of: "dusk", mark: "glow", says: "for", certainty: 0.8, count: null, note: "" };
const plan = {
  references: [
    { name: "dusk", file: "dusk.png", versions: [], marks: [{ name: "glow", at_px: [5, 6], lamp: "stern", colour: null, certainty: 0.8 }, { name: "glint", at_px: [9, 9], lamp: null, colour: "red", certainty: 0.4 }] },
    { name: "yard", file: null, versions: [], marks: [{ name: "light 1", at_px: [1, 1], lamp: "spare", colour: null, certainty: 1 }] },
  ],
  lamps: [{ name: "stern", part: "hull", worth: "must", evidence: [shot, { kind: "guess", certainty: 0.3 }] }, { name: "spare", part: null, worth: "must", evidence: [] }],
  rows: [{ name: "ports", part: "hull", worth: "must", evidence: [] }], strips: [],
};

test("a mark is tied: it names the lamp, the lamp gets it as evidence, the other one loses it, in one step", () => {
  const changes = marks.tied(plan, "dusk", "glow", "rows/ports");
  assert.deepEqual(changes[0], { action: "set", kind: "references", name: "dusk", list: "marks", item: "glow", values: { lamp: "ports" } });
  assert.deepEqual(changes.slice(1).map(change => [change.name, change.values.evidence]), [
    ["stern", [{ kind: "guess", certainty: 0.3 }]],
    ["ports", [{ kind: "picture", of: "dusk", mark: "glow", says: "for", certainty: 0.8 }]],
  ]);
  assert.equal(marks.tied(plan, "dusk", "glow", "lamps/stern").length, 1);
  assert.deepEqual(marks.tied(plan, "dusk", "glow", null).map(change => change.name), ["dusk", "stern"]);
  assert.deepEqual(marks.tied(plan, "dusk", "gone", null), []);
});

test("a new lamp for a mark has its colour and its evidence, placed or not", () => {
  const [lamp, mark] = marks.lampFor(plan, "dusk", plan.references[0].marks[1], "glint", { where: { part: "hull", at: [3, 4] }, states: ["moored"] });
  assert.deepEqual(lamp.values, { part: "hull", at_mm: [3, 4], colour: "red", states: ["moored"], evidence: [{ kind: "picture", of: "dusk", mark: "glint", says: "for", certainty: 0.4 }] });
  assert.deepEqual([mark.item, mark.values], ["glint", { lamp: "glint" }]);
  assert.ok(!("part" in marks.lampFor(plan, "dusk", plan.references[0].marks[1], "x", { states: [] })[0].values));
});

test("a mark's name and sureness go to its evidence; removed, it takes it along", () => {
  assert.equal(marks.renamedMark(plan, "dusk", "glow", "sternlight")[1].values.evidence[0].mark, "sternlight");
  assert.equal(marks.surenessSet(plan, "dusk", "glow", 0.5)[1].values.evidence[0].certainty, 0.5);
  assert.deepEqual(marks.removedMark(plan, "dusk", "glow").map(change => change.action), ["remove", "set"]);
  assert.deepEqual(marks.removedPicture(plan, "dusk")[0].values.evidence, [{ kind: "guess", certainty: 0.3 }]);
});

test("what is marked but not placed, and what no picture shows", () => {
  assert.deepEqual(marks.marksToPlace(plan).map(row => row.mark.name), ["glint", "light 1"]);
  assert.deepEqual(marks.lampsWithoutMark(plan).map(entry => entry.item.name), ["ports"]);
  assert.equal(marks.standingOf(plan, "dusk", plan.references[0].marks[0]).word, "placed");
  assert.equal(marks.newMark(plan.references[1], [4.6, -3]).item, "light 2");
  assert.deepEqual(marks.newMark(plan.references[1], [4.6, -3]).values.at_px, [5, 0]);
});

test("other witnesses are added and taken out; each is said in words", () => {
  const { evidence } = marks.withEvidence(plan.lamps[0], { kind: "text", of: "a letter", says: "against", certainty: 0.6, count: null });
  assert.deepEqual(evidence[2], { kind: "text", of: "a letter", says: "against", certainty: 0.6 });
  assert.equal(marks.evidenceWords(evidence[2]), "text 'a letter' against it, 60 % sure");
  assert.equal(marks.evidenceWords({ ...shot, count: [2, 3] }), "picture 'dusk', mark 'glow', 80 % sure, shows 2 to 3");
  assert.deepEqual(marks.withoutEvidence(plan.lamps[0], 0).evidence, [{ kind: "guess", certainty: 0.3 }]);
});

test("a picture fits its frame; a zoom keeps what is under the pointer", () => {
  const view = marks.fittedPicture({ width: 4000, height: 1000 }, { width: 400, height: 300 });
  assert.deepEqual(view, { scale: 0.1, x: 0, y: 100 });
  const near = marks.zoomedPicture(view, [130, 140], 3, 0.05), at = marks.toPicture(near, [130, 140]), was = marks.toPicture(view, [130, 140]);
  at.forEach((value, n) => assert.ok(Math.abs(value - was[n]) < 1e-9));
  marks.toFrame(near, at).forEach((value, n) => assert.ok(Math.abs(value - [130, 140][n]) < 1e-9));
});
