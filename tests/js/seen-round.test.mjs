// Turning round the model: the law of the book, by hand at a few places; the whole is held against it in tests/unit/web/test_seen_round_js.py.
import assert from "node:assert/strict";
import test from "node:test";
import { JS } from "./here.mjs";

const { beamShare, darkWords, outlookOf, wayTo, wayWords } = await import(`${JS}later/seen-round.js`);
const near = (a, b) => assert.ok(Math.abs(a - b) < 1e-9, `${a} is not ${b}`);
const lamp = { axis: [1, 0, 0], order: 1, edge_deg: 90, arc_deg: null, cut_deg: 5, part: "hull" };

test("a matt lamp falls as the cosine and sends nothing backwards", () => {
  near(beamShare(lamp, wayTo({ bearing: 60 })), 0.5);
  assert.equal(beamShare(lamp, wayTo({ bearing: 90 })), 0);
  assert.equal(beamShare({ ...lamp, edge_deg: 30 }, wayTo({ bearing: 0, height: 31 })), 0);
});

test("a dome is seen from its side, and not from behind", () => {
  const dome = { ...lamp, side: 0.25 };
  near(beamShare(dome, wayTo({ bearing: 60 })), 0.5);
  assert.deepEqual([80, 90, 100].map(bearing => beamShare(dome, wayTo({ bearing }))), [0.25, 0.25, 0]);
});

test("a screen lets half by where it has gone half way across", () => {
  const screened = { ...lamp, axis: null, arc_deg: [112.5, 247.5] };
  const half = Math.atan(Math.tan(5 * Math.PI / 180) / 2) * 180 / Math.PI;
  near(beamShare(screened, wayTo({ bearing: 247.5 + half })), 0.5);
  assert.deepEqual([110, 180, 107].map(bearing => beamShare(screened, wayTo({ bearing })) > 0), [true, true, false]);
});

test("a turned part carries its lamp, and a whole turn changes nothing", () => {
  const round = { beams: [lamp], beam_of: { a: 0 }, outer: { hull: [1, 0, 0] }, turns: { out: { hull: [0, -1, 0, 1, 0, 0, 0, 0, 1] } } }; // ahead comes to port
  near(outlookOf(round, "out", { bearing: 270 }).shares.a, 1);
  near(outlookOf(round, "in", { bearing: 360 }).shares.a, outlookOf(round, "in", { bearing: 0 }).shares.a);
  assert.deepEqual(outlookOf(round, "out", { bearing: 90 }).behind, ["hull"]);
});

test("words", () => {
  assert.equal(wayWords({ bearing: 330, height: -5 }), "ahead, 30 degrees to port, 5 degrees down");
  assert.equal(darkWords(["a", "b"], { a: 0 }), "1 of 2 lit lamps send no light there");
  assert.equal(darkWords(["b"], { a: 0 }), "all 1 lit lamps send light there");
});

test("a part that faces another way keeps of its words what still fits", async () => {
  const { facedTo } = await import(`${JS}later/faces.js`);
  assert.deepEqual(facedTo({ top_edge: "port" }, "up"), { faces: "up", faces_deg: null, leans_deg: null });
  assert.deepEqual(facedTo({ top_edge: "port" }, "starboard"), { faces: "starboard", faces_deg: null, top_edge: null });
  assert.deepEqual(facedTo({}, "bearing"), { faces: null, faces_deg: 45, top_edge: null });
  assert.deepEqual(facedTo({}, ""), { faces: null, faces_deg: null, leans_deg: null, top_edge: null });
});
