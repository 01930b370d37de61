// The picture by night in the browser; that it is the book's, pixel by pixel, is told by tests/unit/web/test_night_js.py.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { flashPx, groundLight, layFar, layers, linearOf, spread, levelShares, summed, tone, toned } = await import(`${JS}night.js`);
const { groundLx, halfOf, roomColours } = await import(`${JS}room.js`);

// The table of a made-up eye: an even share in each step of width.
const table = Array.from({ length: 34 }, (_, n) => n / 33);
const eye = { pixelMm: 0.25, distanceMm: 400, table };
const WHITE = [0.3127, 0.329];
const lamp = (at, more = {}) => ({ at, radius: 2, shape: null, cd: 0.01, xy: WHITE, rhythm: "", ...more });
const planes = (wide, high) => [0, 1, 2].map(() => new Float32Array(wide * high));

test("an even plane stays even, and light spread over the edge is lost", () => {
  const plane = new Float32Array(61 * 43).fill(2);
  spread(plane, 61, 43, levelShares(0.001, table));
  assert.ok(plane.every(value => value > 0 && value <= 2.001));
  assert.ok(plane[21 * 61 + 30] > plane[0]);
});

test("weights of rhythms are all that changes while they play", () => {
  const made = layers([lamp([20, 20]), lamp([60, 20], { rhythm: "Fl 4s" })], 80, 40, eye), sum = planes(80, 40);
  assert.deepEqual(made.map(({ rhythm }) => rhythm), ["", "Fl 4s"]);
  summed(sum, made, [1, 0]);
  const dark = sum[1][20 * 80 + 60];
  summed(sum, made, [1, 1]);
  const lit = sum[1][20 * 80 + 60];
  summed(sum, made, [1, 0.5]);
  assert.ok(Math.abs(sum[1][20 * 80 + 60] - (dark + lit) / 2) < 1e-3 * lit);
});

test("what flashes is where the picture changes by a tenth of white", () => {
  const ground = groundLight([20, 17, 15].map(linearOf), 3000), sum = planes(120, 80);
  const area = (cd, xy = WHITE) => {
    const made = layers([lamp([20, 20]), lamp([60, 40], { rhythm: "Fl 4s", cd, xy })], 120, 80, eye);
    summed(sum, made, [1, 0]);
    return flashPx(made[1], sum, ground, 3000);
  };
  assert.equal(area(1e-7), 0);
  assert.ok(area(0.01) >= 9 && area(0.01) < 200, String(area(0.01)));
  assert.ok(area(1) > area(0.01));
  assert.ok(area(0.01, [0.7006, 0.2994]) > 1.5 * area(0.01)); // saturated red counts where it is dimmer
});

test("a lamp beyond the edge lays the veil that it would have laid from within", () => {
  const far = new Float32Array(100 * 60), pixelDeg = 0.05, shares = levelShares(pixelDeg, table);
  layFar(far, 100, 60, [{ at: [-40, 30], light: 1000 }], pixelDeg, table);
  const whole = new Float32Array(200 * 60);
  whole[30 * 200 + 59] = whole[30 * 200 + 60] = whole[29 * 200 + 59] = whole[29 * 200 + 60] = 250;
  spread(whole, 200, 60, shares);
  for (const [x, y] of [[1, 30], [20, 10], [50, 55], [98, 2]]) {
    const [is, was] = [far[y * 100 + x], whole[y * 200 + 100 + x]];
    assert.ok(Math.abs(is / was - 1) < 0.15, `${x} ${y}: ${is} ${was}`);
  }
});

test("the ground shows in the room's own colour, and a picture under the lamps as it is", () => {
  for (const light of [0, 0.3, 0.7, 0.96]) {
    const code = roomColours(light).sheet, half = halfOf(light, 5000), out = new Uint8ClampedArray(16), none = planes(2, 2);
    toned(out, none, groundLight(code.map(linearOf), half), half);
    code.forEach((value, n) => assert.ok(Math.abs(out[n] - value) <= 1));
    const under = Uint8ClampedArray.from({ length: 16 }, (_, n) => 40 + 13 * n);
    toned(out, none, [0, 0, 0], half, under);
    under.forEach((value, n) => assert.ok(n % 4 === 3 || Math.abs(out[n] - value) <= 1));
  }
});

test("exposure goes from the lamps' own by night to a lit room by day", () => {
  assert.equal(halfOf(0, 5000), 5000);
  const lux = [0, 0.25, 0.5, 0.75, 1].map(light => groundLx(roomColours(light), halfOf(light, 5000)));
  lux.slice(1).forEach((value, n) => assert.ok(value > lux[n]));
  assert.ok(lux[0] < 3 && lux[4] > 100 && lux[4] < 400, String(lux));
  assert.ok(tone(5000, 5000) === 0.5);
});
