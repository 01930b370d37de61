// A picture by night from the numbers in a file, as code values on standard output: for the comparison with the book's engine.
import { readFileSync } from "node:fs";
import { JS } from "./here.mjs";

const { groundLight, layers, linearOf, summed, toned } = await import(`${JS}night.js`);
const { lamps, wide, high, eye, half, ground, grounds } = JSON.parse(readFileSync(process.argv[2], "utf8"));
const made = layers(lamps, wide, high, eye, grounds), sum = [0, 1, 2].map(() => new Float32Array(wide * high)), out = new Uint8ClampedArray(4 * wide * high);
summed(sum, made, made.map(() => 1));
toned(out, sum, groundLight(ground.map(linearOf), half), half);
process.stdout.write(out);
