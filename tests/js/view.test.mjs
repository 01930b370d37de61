import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { fitted, panned, toScreen, toWorld, zoomAt, MOST_SCALE } = await import(`${JS}view.js`);
const { layOut, onSheet, partAt, sheetBox, wholeBox } = await import(`${JS}lay.js`);

const size = { width: 1000, height: 600 };
const near = (a, b, by = 1e-9) => a.forEach((value, n) => assert.ok(Math.abs(value - b[n]) < by, `${a} is not ${b}`));

test("screen and world are inverse, y up in the world", () => {
  const view = { x: 30, y: -20, scale: 3 };
  near(toWorld(view, size, toScreen(view, size, [7, 9])), [7, 9]);
  assert.ok(toScreen(view, size, [0, 10])[1] < toScreen(view, size, [0, 0])[1]);
});

test("zooming keeps what is under the pointer", () => {
  const view = { x: 30, y: -20, scale: 3 }, at = [120, 480];
  near(toWorld(zoomAt(view, size, at, 1.7), size, at), toWorld(view, size, at));
  assert.equal(zoomAt(view, size, at, 1e9).scale, MOST_SCALE);
});

test("panning moves the world with the hand", () => {
  const view = { x: 0, y: 0, scale: 2 };
  near(toScreen(panned(view, 40, -10), size, [5, 5]), [toScreen(view, size, [5, 5])[0] + 40, toScreen(view, size, [5, 5])[1] - 10]);
});

test("a fitted box lies inside the free sheet and touches it", () => {
  const insets = { left: 100, right: 300, top: 50, bottom: 90 }, box = { left: -10, right: 190, low: 0, top: 40 };
  const view = fitted(box, size, insets);
  const [left, low] = toScreen(view, size, [box.left, box.low]), [right, top] = toScreen(view, size, [box.right, box.top]);
  assert.ok(left >= 100 - 1e-6 && right <= 700 + 1e-6 && top >= 50 - 1e-6 && low <= 510 + 1e-6);
  assert.ok(Math.abs(right - left - 600) < 1e-6);
});

const part = (name, width, height) => ({ name, outline_mm: [[0, 0], [width, 0], [width, height], [0, height]] });
const parts = [part("a", 300, 70), part("b", 300, 70), part("c", 296, 86), part("d", 20, 100), part("e", 63, 11)];

test("parts on the sheet do not overlap and keep their millimetres", () => {
  const places = layOut(parts), boxes = parts.map(row => sheetBox(places[row.name], places[row.name].margin - 1e-6));
  for (let i = 0; i < boxes.length; i += 1) for (let j = i + 1; j < boxes.length; j += 1) {
    const [p, q] = [boxes[i], boxes[j]];
    assert.ok(p.right <= q.left || q.right <= p.left || p.top <= q.low || q.top <= p.low, `${i} over ${j}`);
  }
  near([onSheet(places, "c", [296, 0])[0] - onSheet(places, "c", [0, 0])[0]], [296]);
  const whole = wholeBox(places);
  assert.ok((whole.right - whole.left) / (whole.top - whole.low) < 4);
});

test("a point of the sheet is found on its part", () => {
  const places = layOut(parts), found = partAt(places, onSheet(places, "d", [5, 90]));
  assert.equal(found.name, "d");
  near(found.at, [5, 90]);
  assert.equal(partAt(places, [1e6, 0]), null);
});

test("what is kept of the sheet covers a view that was pushed about, not one that was zoomed or sized", async () => {
  const { reaches } = await import(`${JS}kept.js`);
  const held = { view: { x: 0, y: 0, scale: 2 }, width: 1000, height: 600 };
  assert.ok(reaches(held, { x: 100, y: -128, scale: 2 }, size));
  assert.ok(!reaches(held, { x: 129, y: 0, scale: 2 }, size));
  assert.ok(!reaches(held, { x: 0, y: 0, scale: 2.1 }, size));
  assert.ok(!reaches(held, { x: 0, y: 0, scale: 2 }, { width: 900, height: 600 }));
});
