// The bench's logic: what is done, what is read, what waits to be sent.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { entryOf, gateStanding, isDone, progress, readWords, typedNumber, verdict, verdictWords, waitsFor, whenWords, withActs } = await import(`${JS}bench/log.js`);
const { Outbox, newId } = await import(`${JS}bench/outbox.js`);
const { held, zoomed, MOST } = await import(`${JS}bench/pane.js`);

const step = (number, key, part = null, more = {}) => ({ number, key, title: `${key} it`, part, after: [], readings: [], kind: "work", sitting: 1, ...more });
const row = (name, part = null, more = {}) => ({ step: name, part, how: "done", readings: [], ...more });
const current = { name: "supply current", says: "Supply current", low: 10, high: 20, expect: "10 to 20 mA", shown: "mA", per_shown: 1 };
const short = { name: "no short", says: "No short", low: 20000, high: null, expect: "more than 20 kohm", shown: "kohm", per_shown: 1000 };
const gate = step(3, "bench_test", null, { kind: "gate", readings: [current, short], after: [1, 2] });

test("an entry is found by key or title, on its part alone", () => {
  const log = [row("Drill it", "hull"), row("solder")];
  assert.equal(entryOf(log, step(1, "drill", "hull")), log[0]);
  assert.equal(entryOf(log, step(1, "drill", "deck")), null);
  assert.equal(entryOf(log, step(2, "solder")), log[1]);
});

test("within, below, above; no upper end where more is better", () => {
  assert.deepEqual([9.9, 10, 20, 20.1].map(value => verdict(current, value)), ["below", "within", "within", "above"]);
  assert.equal(verdict(short, 1e9), "within");
  assert.match(verdictWords(current, 25), /Stop: above.*10 to 20 mA/);
  assert.match(verdictWords(current, 15), /^Within/);
});

test("a gate says what is missing, outside, read twice", () => {
  const log = [row("bench_test", null, { how: "begun", readings: [{ what: "Supply Current", value: 25 }, { what: "supply current", value: 12 }] })];
  assert.deepEqual(gateStanding(gate, log), { missing: ["no short"], outside: ["supply current"], twice: ["supply current"] });
  assert.equal(isDone(log[0]), false);
});

test("progress, and what should come before", () => {
  const steps = [step(1, "drill"), step(2, "solder"), gate];
  assert.deepEqual(progress(steps, [row("drill")]), { done: 1, of: 3, next: steps[1] });
  assert.deepEqual(waitsFor(gate, steps, [row("drill")]), [steps[1]]);
});

test("numbers as people type them", () => {
  assert.deepEqual(["12,5", " 3. ", ".5", "-1", ""].map(typedNumber), [12.5, 3, 0.5, -1, null]);
  for (const text of ["OL", "1e5", "1.2.3", "12 mA", "0x10"]) assert.ok(Number.isNaN(typedNumber(text)), text);
});

test("words", () => {
  assert.equal(readWords(short, { value: 33000 }), "33 kohm");
  assert.equal(readWords(short, { value: 20000, note: "more than the dial shows" }), "more than the dial shows");
  assert.equal(whenWords("2026-11-25 18:04:09", "2026-11-25"), "18:04");
  assert.equal(whenWords("2026-11-24 18:04:09", "2026-11-25"), "2026-11-24 18:04");
  assert.equal(whenWords("last spring", "2026-11-25"), "last spring");
});

test("acts that wait are shown as if they were sent", () => {
  const log = withActs([row("drill")], [
    { kind: "tick", step: "solder" }, { kind: "cut", step: "lead A1", length_mm: 90 }, { kind: "untick", step: "drill" },
    { kind: "read", step: "bench_test", what: "no short", value: 5, seen: [] }, { kind: "read", step: "bench_test", what: "no short", value: 7, seen: [5] },
  ]);
  assert.deepEqual(log.map(one => [one.step, one.how, one.readings.map(read => read.value)]), [["solder", "done", []], ["lead A1", "done", []], ["bench_test", "begun", [7]]]);
  assert.ok(log[0].unsent);
});

const storage = (kept = {}) => ({ kept, getItem: key => kept[key] ?? null, setItem: (key, value) => { kept[key] = value; } });

test("what waits outlives the page", () => {
  const disk = storage();
  new Outbox(disk, "o").add({ id: "1", kind: "tick", step: "drill", at_ms: 5 });
  const again = new Outbox(disk, "o");
  assert.deepEqual(again.acts.map(act => [act.id, act.at_ms]), [["1", 5]]);
  assert.deepEqual(again.settle([{ id: "1", refused: "" }]), []);
  assert.deepEqual(new Outbox(disk, "o").acts, []);
});

test("what is refused is given back with why; what was not answered waits on", () => {
  const box = new Outbox(storage(), "o");
  for (const id of ["1", "2", "3"]) box.add({ id, kind: "tick", step: id });
  assert.deepEqual(box.settle([{ id: "1", refused: "" }, { id: "2", refused: "no such step" }]).map(one => one.says), ["no such step"]);
  assert.deepEqual(box.acts.map(act => act.id), ["3"]);
});

test("a reading typed again takes the place of the one that waits, and knows of it in case it was on its way", () => {
  const box = new Outbox(storage(), "o"), read = { kind: "read", step: "g", what: "w", seen: [3] };
  box.add({ id: "1", ...read, value: 5 });
  box.add({ id: "2", ...read, value: 6, seen: [5] });
  assert.deepEqual(box.acts.map(act => [act.value, act.seen]), [[6, [3, 5]]]);
});

test("a storage that is broken or full loses nothing of the page", () => {
  const box = new Outbox({ getItem: () => "{", setItem: () => { throw new Error("full"); } }, "o");
  box.add({ id: "1", kind: "tick", step: "drill" });
  assert.equal(box.acts.length, 1);
  assert.notEqual(newId(bytes => bytes.map((_, n) => n)), newId(bytes => bytes.map((_, n) => n + 1)));
});

test("a drawing zooms about the fingers and stays in its pane", () => {
  const sizes = { pane: [300, 400], drawn: [300, 100] };
  const whole = held({ scale: 1, x: 9, y: 9 }, sizes);
  assert.deepEqual(whole, { scale: 1, x: 0, y: 150 });
  const near = zoomed(whole, 2, [100, 200]);
  assert.deepEqual([(100 - near.x) / near.scale, (200 - near.y) / near.scale], [100, 50]);
  assert.deepEqual(held({ scale: 2, x: -1e6, y: 0 }, sizes), { scale: 2, x: -300, y: 100 });
  assert.equal(zoomed(whole, 1e6, [0, 0]).scale, MOST);
});
