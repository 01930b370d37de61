// The sharp picture by night is made beside the page.
import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { Sharp } = await import(`${JS}later/sharp.js`);
const { layers, thinned } = await import(`${JS}night.js`);
const lamp = { at: [9, 8], radius: 2, cd: 0.01, xy: [0.44, 0.4], rhythm: "" };
const given = [[lamp], 20, 16, { pixelMm: 0.25, distanceMm: 400, table: Array.from({ length: 40 }, (_, n) => n / 40) }];

test("one at a time, then only the newest; the same look is not asked twice", () => {
  const asked = [], done = [], answer = {}, worker = { postMessage: data => asked.push(data) };
  const sharp = new Sharp((look, made, of) => done.push([look, made, of]), [worker]), made = name => [{ rhythm: name, planes: [name] }];
  sharp.ask("a", [1], answer);
  sharp.ask("a", [1], answer);
  sharp.ask("b", [2], answer);
  sharp.ask("c", [3], answer);
  assert.deepEqual(asked, [[1, [0, 1]]]);
  worker.onmessage({ data: made("made of a") });
  assert.deepEqual(asked, [[1, [0, 1]], [3, [0, 1]]]);
  worker.onmessage({ data: made("made of c") });
  assert.deepEqual(done, [["a", made("made of a"), answer], ["c", made("made of c"), answer]]);
});

test("without such a worker the page is told to make it itself", () => {
  const done = [], worker = { postMessage: () => worker.onerror() };
  const sharp = new Sharp((look, made) => done.push([look, made]), [worker]);
  sharp.ask("a", [1], null);
  sharp.ask("b", [2], null);
  assert.deepEqual(done, [["a", null], ["b", null]]);
});

test("the worker makes what the page would, and hands the planes over", async () => {
  const sent = [];
  globalThis.self = { postMessage: (made, over) => sent.push([made, over]) };
  await import(`${JS}later/sharp-worker.js`);
  globalThis.self.onmessage({ data: given });
  assert.deepEqual(sent[0][0], layers(...given));
  assert.equal(sent[0][1][0], sent[0][0][0].planes[0].plane.buffer);
});

test("workers share the planes, and together they make what one would", () => {
  const hues = [[0.44, 0.4], [0.7, 0.3], [0.15, 0.74]], wall = { origin: [0, 0], step: [1, 1], grid: [[2, 3], [2, 3]], edge: [[1, 1], [18, 2], [9, 14]], xy: hues[0], rhythm: "" };
  const many = [hues.flatMap((xy, n) => [{ ...lamp, xy, at: [4 + 5 * n, 8] }, { ...lamp, xy, at: [5 + 4 * n, 3], rhythm: "Fl 4s" }]), ...given.slice(1, 4), [wall]];
  const workers = [0, 1, 2, 3].map(() => ({ postMessage(data) { setTimeout(() => this.onmessage({ data: layers(...data) })); } }));
  return new Promise(done => new Sharp((look, made) => done(made), workers).ask("a", many, null)).then(made => {
    assert.deepEqual(made, layers(...many));
    assert.equal(made.flatMap(layer => layer.planes).length, 6);
  });
});

test("a coarse raster has corners on quarters of a pixel, none within one of the last", () => {
  assert.deepEqual(thinned([[0, 0.1], [0.3, 0.2], [4.1, 0], [4, 0.5], [4, 4]]), [[0, 0], [4, 0], [4, 4]]);
});
