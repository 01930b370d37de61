// How long the browser's picture by night takes, in milliseconds: once for a state and a zoom, and for each move of the slider.
import { JS } from "./here.mjs";

const { flashPx, groundLight, layers, linearOf, summed, thinned, toned } = await import(`${JS}night.js`);
const [wide, high, count, table] = JSON.parse(process.argv[2]);
let seed = 1;
const random = () => { seed = seed * 16807 % 2147483647; return seed / 2147483647; };
const hues = [[0.4366, 0.4042], [0.7006, 0.2994], [0.1523, 0.7404], [0.3325, 0.3476]];
const lamps = Array.from({ length: count }, (_, n) => ({ at: [random() * wide, random() * high], radius: 0.5 + 2 * random(), cd: 0.002 + 0.02 * random(), xy: hues[n % 4], rhythm: n % 20 ? "" : "Fl 4s" }));
const sum = [0, 1, 2].map(() => new Float32Array(wide * high)), out = new Uint8ClampedArray(4 * wide * high), ground = groundLight([20, 17, 15].map(linearOf), 5000);
const best = task => Math.min(...Array.from({ length: 5 }, () => { const start = performance.now(); task(); return performance.now() - start; }));
let made = [];
const once = best(() => { made = layers(lamps, wide, high, { pixelMm: 0.25, distanceMm: 400, table }); });
const edge = [[0, 0], [wide, 0], [wide, high / 2], [0, high / 2]], wall = { origin: [0, 0], step: [1, 1], grid: [[2, 2], [2, 2]], edge, xy: hues[0], rhythm: "" };
const walls = best(() => { made = layers(lamps, wide, high, { pixelMm: 0.25, distanceMm: 400, table }, [wall]); });
// The first frame of a state: a coarse raster, with walls of many corners as spots leave them.
const grain = Math.max(1, Math.sqrt(wide * high / 4e4)), less = [wide, high].map(side => Math.ceil(side / grain)), coarse = new Uint8ClampedArray(4 * less[0] * less[1]);
const jagged = Array.from({ length: 20 }, (_, k) => Array.from({ length: 1300 }, (_, n) => { const far = (n % 40 ? 0.06 : 0.05) * high, turn = n / 1300 * 2 * Math.PI; return [wide * (k + 0.5) / 20 + far * Math.cos(turn), high / 2 + far * Math.sin(turn)]; }));
const rough = lamps.map(lamp => ({ ...lamp, at: lamp.at.map(value => value / grain), radius: lamp.radius / grain }));
const soon = best(() => {
  const grounds = jagged.map(corners => ({ ...wall, edge: thinned(corners.map(at => at.map(value => value / grain))) }));
  const some = layers(rough, ...less, { pixelMm: 0.25 * grain, distanceMm: 400, table }, grounds), small = [0, 1, 2].map(() => new Float32Array(less[0] * less[1]));
  summed(small, some, some.map(() => 1));
  toned(coarse, small, ground, 5000);
});
const weights = best(() => summed(sum, made, made.map(() => 1)));
const slider = best(() => toned(out, sum, ground, 5000));
const flash = best(() => flashPx(made[made.length - 1], sum, ground, 5000));
process.stdout.write(JSON.stringify({ once, walls, soon, weights, slider, flash }));
