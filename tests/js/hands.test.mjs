import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const { Hands } = await import(`${JS}hands.js`);

function table() {
  const heard = {}, canvas = {
    addEventListener: (name, act) => { heard[name] = act; }, setPointerCapture() {}, focus() {}, style: {},
    classList: { add() {}, remove() {} },
  };
  const sheet = {
    canvas, shown: {}, view: { x: 0, y: 0, scale: 1 }, size: { width: 100, height: 100 }, on: { hover() {} },
    draw() {}, point: event => event.at, look(view) { this.view = view; },
  };
  sheet.hands = new Hands(sheet);
  const press = (name, at, more = {}) => heard[name]({ at, button: 0, pointerId: 1, preventDefault() {}, ...more });
  return { sheet, press };
}

test("the hand on top is asked first; one that is alone hides those below", () => {
  const { sheet, press } = table(), asked = [];
  const low = { grab: () => { asked.push("low"); return {}; } }, high = { grab: () => { asked.push("high"); return null; } };
  sheet.hands.takeUp(low);
  const putDown = sheet.hands.takeUp(high);
  press("pointerdown", [5, 5]);
  press("pointerup", [5, 5]);
  high.alone = true;
  press("pointerdown", [5, 5]);
  press("pointerup", [5, 5]);
  putDown();
  press("pointerdown", [5, 5]);
  assert.deepEqual(asked, ["high", "low", "high", "low"]);
});

test("what no hand takes hold of is the paper: dragged it pans, let go in place it was a tap", () => {
  const { sheet, press } = table();
  let taps = 0;
  sheet.hands.takeUp({ tapped: () => { taps += 1; return true; } });
  press("pointerdown", [50, 50]);
  press("pointermove", [60, 50]);
  press("pointerup", [60, 50]);
  assert.deepEqual([sheet.view.x, taps], [-10, 0]);
  press("pointerdown", [50, 50]);
  press("pointerup", [50, 50]);
  assert.equal(taps, 1);
});

test("a second finger takes the grip away and zooms", () => {
  const { sheet, press } = table();
  let cancelled = 0;
  sheet.hands.takeUp({ grab: () => ({ cancelled: () => { cancelled += 1; } }) });
  press("pointerdown", [40, 50]);
  press("pointerdown", [60, 50], { pointerId: 2 });
  press("pointermove", [80, 50], { pointerId: 2 });
  assert.equal(cancelled, 1);
  assert.equal(sheet.view.scale, 2);
});

test("a hand put down lets go of what it held", () => {
  const { sheet, press } = table();
  let cancelled = 0;
  const putDown = sheet.hands.takeUp({ grab: () => ({ cancelled: () => { cancelled += 1; } }) });
  press("pointerdown", [40, 50]);
  putDown();
  assert.equal(cancelled, 1);
  assert.equal(sheet.hands.grip, null);
});
