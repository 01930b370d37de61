// All that flashes together is held under the limit of WCAG 2.2, success criterion 2.3.1 (general flash threshold).
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { LARGE_PX2, MOST_FLASHES, levelAt, mostFlashes, paceWords, safePace } = await import(`${JS}rhythm.js`);
const { Clock } = await import(`${JS}clock.js`);

const flash = (period_s, on = 0.2) => ({ period_s, repeats: true, steps: [[1, on], [0, period_s - on]] });
const fade = { period_s: 2, repeats: true, steps: Array.from({ length: 40 }, (_, n) => [n < 20 ? n / 20 : (40 - n) / 20, 0.05]) };

test("a flash is a rise after a fall, however many steps it takes", () => {
  assert.equal(mostFlashes(flash(1), 1), 2); // one at either end of the second
  assert.equal(mostFlashes(flash(0.4), 1), 3);
  assert.equal(mostFlashes(fade, 1), 1);
  assert.equal(mostFlashes({ period_s: 1, repeats: true, steps: [[1, 1]] }, 1), 0);
  assert.equal(mostFlashes({ period_s: 1, repeats: true, steps: [[1, 0.5], [0.95, 0.5]] }, 1), 0);
});

test("small flashes play at full pace, large ones only so many together", () => {
  const three = [flash(1), flash(1.3), flash(1.7)];
  assert.equal(safePace(three.map(one => [one, LARGE_PX2 / 3])), 1);
  assert.equal(safePace([[flash(1), 2 * LARGE_PX2]]), 1);
  assert.equal(safePace([...three, flash(2)].map(one => [one, LARGE_PX2])), 0);
  const pace = safePace(three.map(one => [one, LARGE_PX2]));
  assert.ok(pace > 0 && pace < 1);
  assert.match(paceWords(pace), /% of their speed/);
  assert.match(paceWords(0), /Held still/);
  assert.equal(paceWords(1), "");
});

// By brute force: all rhythms together at that pace, every start of a second, at worst not one flash more than the limit.
test("what is held keeps the limit whatever second is looked at", () => {
  let held = 0;
  for (let seed = 1; seed <= 40; seed += 1) {
    const rhythms = Array.from({ length: 1 + seed % 3 }, (_, n) => flash(0.45 + ((seed * 37 + n * 61) % 100) / 60, 0.15));
    const pace = safePace(rhythms.map(one => [one, LARGE_PX2 * 2]));
    if (!pace) continue;
    held += pace < 1;
    const rises = [];
    for (const rhythm of rhythms) {
      let was = levelAt(rhythm, 0);
      for (let ms = 1; ms < 8000; ms += 1) {
        const level = levelAt(rhythm, pace * ms / 1000);
        if (level > was) rises.push(ms);
        was = level;
      }
    }
    for (const from of rises) assert.ok(rises.filter(ms => ms >= from && ms < from + 999).length <= MOST_FLASHES, `${seed}: ${pace}`);
  }
  assert.ok(held > 5);
});

test("the clock stands until it knows what flashes, and runs at its pace", () => {
  let now = 0;
  const clock = new Clock(() => now), told = [];
  const frame = lit => { clock.flashing.push(...lit); clock.tick(pace => told.push(pace)); now += 100; };
  const large = [flash(1), flash(1.3), flash(1.7), flash(2)].map(one => [one, LARGE_PX2]);
  frame(large);
  frame(large);
  assert.equal(clock.seconds, 0);
  frame(large.slice(0, 1));
  assert.ok(Math.abs(clock.seconds - 0.1) < 1e-9);
  assert.deepEqual(told, [0, 1]);
});
