import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { stacked, roomFor } = await import(`${JS}margin.js`);
const { placeWords, stepsFor, ticks, lengthWords } = await import(`${JS}ruler.js`);
const { contrast, mixed, plate, roomColours, PAPER, SOOT, INK } = await import(`${JS}room.js`);
const { levelAt } = await import(`${JS}rhythm.js`);
const answers = await import(`${JS}answers.js`);

test("notes stand at the height of their place and never overlap", () => {
  const notes = [300, 310, 320, 20, 790].map(wanted => ({ wanted, height: 60 }));
  const tops = stacked(notes, 8, 0, 800);
  const order = [...tops.keys()].sort((a, b) => tops[a] - tops[b]);
  assert.deepEqual(order, [3, 0, 1, 2, 4]);
  order.slice(1).forEach((n, i) => assert.ok(tops[n] >= tops[order[i]] + 60 + 8 - 1e-9));
  assert.ok(Math.min(...tops) >= 0 && Math.max(...tops) + 60 <= 800);
  assert.equal(tops[0], 270);
  assert.ok(roomFor(notes, 8, 0, 800));
  assert.ok(!roomFor(notes, 8, 0, 330));
});

test("the rule's numbers stay apart at every zoom", () => {
  for (let scale = 0.05; scale < 200; scale *= 1.3) for (const unit of ["mm", "inch"]) {
    const { long, short } = stepsFor(scale, unit);
    assert.ok(long * scale >= 64 || scale < 0.1);
    assert.ok(short <= long);
  }
  assert.equal(ticks(-1, 11, { long: 5, short: 1 }).filter(tick => tick.long).length, 3);
});

test("places read as a modeller reads them", () => {
  assert.equal(placeWords(12.5, "mm"), "12.5");
  assert.equal(placeWords(0, "inch"), "0");
  assert.equal(placeWords(25.4, "inch"), "1");
  assert.equal(placeWords(25.4 * 1.75, "inch"), "1 3/4");
  assert.equal(placeWords(-25.4 / 4, "inch"), "−1/4");
  assert.equal(lengthWords(25.4, "inch"), "1.00 in");
});

const DAY = { plate: PAPER, ink: INK, quiet: [95, 86, 75], ember: [180, 73, 26] };
const NIGHT = { plate: SOOT, ink: [236, 227, 212], quiet: [179, 167, 150], ember: [240, 147, 92] };

test("words on plates keep 4.5 to 1 at every position of the room light", () => {
  for (let light = 0; light <= 1.0001; light += 0.05) {
    const colours = plate(light) === "day" ? DAY : NIGHT;
    for (const ink of ["ink", "quiet", "ember"]) assert.ok(contrast(colours.plate, colours[ink]) >= 4.5, `${ink} at ${light}`);
  }
});

test("the room goes from paper to soot, the glow from none to all", () => {
  assert.deepEqual(roomColours(1).sheet, PAPER);
  assert.deepEqual(roomColours(0).sheet, SOOT);
  assert.equal(roomColours(1).glow, 0);
  assert.equal(roomColours(0).glow, 1);
  let last = 2;
  for (let light = 1; light >= 0; light -= 0.05) {
    const sum = roomColours(light).sheet.reduce((a, b) => a + b) / 765;
    assert.ok(sum <= last + 1e-9);
    last = sum;
  }
  assert.deepEqual(mixed([0, 0, 0], [10, 20, 30], 0.5), [5, 10, 15]);
});

test("a rhythm repeats, or stays at its end", () => {
  const steps = [[1, 1], [0, 3]];
  assert.equal(levelAt({ steps, period_s: 4, repeats: true }, 4.5), 1);
  assert.equal(levelAt({ steps, period_s: 4, repeats: true }, 5.5), 0);
  assert.equal(levelAt({ steps, period_s: 4, repeats: false }, 400), 0);
  assert.equal(levelAt(undefined, 1), 1);
});

const empty = { chosen: [], state: "moving", answer: null, revision: "" };
const plan = { lamps: [{ name: "stern" }], rows: [], strips: [], states: [{ name: "moving" }, { name: "moored" }] };
const body = revision => ({ revision, plan, look: { lamps: [] }, steps: {}, pictures: [], outside: [] });

test("an answer that belongs to an older plan is never taken", () => {
  let state = answers.planTaken({ ...empty, chosen: ["lamps/stern", "lamps/gone"] }, body("a"));
  assert.deepEqual(state.chosen, ["lamps/stern"]);
  state = answers.received(state, { revision: "a" });
  assert.ok(answers.isFresh(state));
  state = answers.planTaken(state, body("b"));
  assert.ok(!answers.isFresh(state));
  assert.equal(answers.received(state, { revision: "a" }), state);
  assert.ok(answers.isFresh(answers.received(state, { revision: "b" })));
});

test("words", () => {
  assert.equal(answers.count(1, "finding"), "1 finding");
  assert.equal(answers.stageWords("loom"), "loom (6 of 13)");
});

test("a state told as what changed is the whole again, what did not change the very same", () => {
  const held = {
    revision: "a", plan: { lamps: [{ name: "a" }, { name: "b" }, { name: "c" }], note: "", version: "x" },
    look: { lamps: [{ name: "a" }], circuits: [{ name: "A" }] },
  };
  const told = {
    revision: "b", since: "a", steps: {}, plan_now: { lamps: [[0, 1], { name: "new" }, [2, 3]], note: "n", version: null },
    look_now: { circuits: [{ name: "B" }] },
  };
  const whole = answers.wholeState(held, told);
  assert.deepEqual(whole, {
    revision: "b", steps: {}, plan: { lamps: [{ name: "a" }, { name: "new" }, { name: "c" }], note: "n", version: null },
    look: { lamps: [{ name: "a" }], circuits: [{ name: "B" }] },
  });
  assert.equal(whole.plan.lamps[2], held.plan.lamps[2]);
  assert.equal(answers.wholeState({ ...held, revision: "z" }, told), null);
  assert.equal(answers.wholeState(null, told), null);
  assert.equal(answers.wholeState(held, held), held);
});
