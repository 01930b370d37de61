// What is wrong?: readings as people type them, lamps tapped dark and dim, looks that wait to be sent.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { grouped, lighted, marked, nearest, turned, typedReading } = await import(`${JS}bench/amounts.js`);
const { withActs } = await import(`${JS}bench/log.js`);
const { Outbox } = await import(`${JS}bench/outbox.js`);

test("a reading with a comma, a point, its unit or another size of it", () => {
  const asked = [["4,1", "V"], ["4.10 V", "V"], ["312 mV", "V"], ["-2.1", "V"], ["85", "mA"], ["0,085 A", "mA"], ["85mA", "mA"], ["120 µA", "mA"], [" .5 a", "mA"]];
  assert.deepEqual(asked.map(([text, unit]) => typedReading(text, unit).value), [4.1, 4.1, 0.312, -2.1, 85, 85, 85, 0.12, 500]);
  assert.equal(typedReading("  ", "V"), null);
});

test("what is no reading is told, and a wrong unit by its name", () => {
  assert.match(typedReading("OL", "V").wrong, /next higher range/);
  assert.match(typedReading("4 V", "mA").wrong, /in V; this reading is in mA/);
  assert.match(typedReading("4 k", "V").wrong, /whole unit/);
  for (const text of ["four", "1.2.3", "--1", "1e5"]) assert.match(typedReading(text, "V").wrong, /as the meter shows it/, text);
});

test("a tap turns lit to dark to dim to lit; a row follows its first lamp", () => {
  const once = turned({}, ["a"]), twice = turned(once, ["a"]);
  assert.deepEqual([once, twice, turned(twice, ["a"])], [{ a: "dark" }, { a: "dim" }, {}]);
  assert.deepEqual(turned({ b: "dim" }, ["a", "b"]), { a: "dark", b: "dark" });
  assert.deepEqual(marked({ a: "dark", z: "dark" }, "dark", ["a", "b"]), ["a"]);  // z is not lit in this state
});

test("a lamp that should be dark is lit, or not", () => {
  assert.deepEqual([lighted({}, ["a"]), lighted({ a: "on" }, ["a"]), lighted({ b: "on" }, ["a", "b"])], [{ a: "on" }, {}, { a: "on", b: "on" }]);
});

test("the diode test is in volt, and OL is a reading of it", () => {
  assert.deepEqual(["OL", "0,612", "612 mV"].map(text => typedReading(text, "V", true).value), [1e7, 0.612, 0.612]);
});

test("resistances, and OL where there is no way through", () => {
  assert.deepEqual(["OL", "4.7 kohm", "0,4", "12 Ω"].map(text => typedReading(text, "ohm").value), [1e7, 4700, 0.4, 12]);
});

test("the nearest lamp within reach of a finger", () => {
  const places = [["a", [0, 0]], ["b", [10, 0]]];
  assert.deepEqual([nearest([4, 0], places, 6), nearest([6, 1], places, 6), nearest([30, 0], places, 6)], ["a", "b", null]);
});

test("lamps stand by their rows, in order", () => {
  const lamps = { "p 1": { group: "p" }, "p 2": { group: "p" }, s: { group: "s" } };
  assert.deepEqual(grouped(["s", "p 1", "p 2", "q"], lamps), [["s", ["s"]], ["p", ["p 1", "p 2"]], ["q", ["q"]]]);
});

const find = { step: "find_fault", part: null, title: "find the fault" };

test("a look that waits is shown, the later of one state alone; mended takes all of it away", () => {
  const look = (id, what, dark) => ({ id, kind: "look", ...find, what, dark, dim: [] });
  const [row] = withActs([], [look("1", "moving", ["bow"]), look("2", "moored", []), look("3", "moving", ["stern"])]);
  assert.deepEqual(row.looks.map(one => [one.state, one.dark]), [["moored", []], ["moving", ["stern"]]]);
  assert.deepEqual(withActs([row], [{ id: "4", kind: "unlook", ...find, what: "moored" }])[0].looks.length, 1);
  assert.deepEqual(withActs([row], [{ id: "5", kind: "mended", ...find }]), []);
  assert.deepEqual(withActs([], [{ id: "6", kind: "unlook", ...find, what: "moored" }]), []);
});

test("of two looks at one state that wait, the later is sent", () => {
  const held = new Map(), box = new Outbox({ getItem: key => held.get(key) || null, setItem: (key, value) => held.set(key, value) }, "x");
  box.add({ id: "1", kind: "look", ...find, what: "moving", dark: ["bow"] });
  box.add({ id: "2", kind: "look", ...find, what: "moving", dark: [] });
  box.add({ id: "3", kind: "look", ...find, what: "moored", dark: [] });
  assert.deepEqual(box.acts.map(act => act.id), ["2", "3"]);
});
