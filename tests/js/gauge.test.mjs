import assert from "node:assert/strict";
import { test } from "node:test";
import { JS } from "./here.mjs";

const points = await import(`${JS}gauge/points.js`), look = await import(`${JS}gauge/view.js`);
const { NEW_DRAFT, draftOf, framed, firstFrame, howChosen, inverse, isPlaced, levelled, mapped, mirroredDraft, nudged, places, planPicture, ringed, sheetChosen, spun, swapped, turnedBy, withPoint, zeroAt } = points;

const near = (a, b, by = 1e-9) => a.forEach((value, n) => assert.ok(Math.abs(value - b[n]) < by, `${a} is not ${b}`));
const all = (draft, pixels) => pixels.reduce((now, pixel) => withPoint(now, pixel), draft);
const SEEN = [[100, 800], [1100, 780], [1000, 120], [180, 90]];

test("corners are put in order whatever the order of the clicks", () => {
  for (const order of [[0, 1, 2, 3], [2, 0, 3, 1], [3, 2, 1, 0]]) assert.deepEqual(ringed(order.map(n => SEEN[n])), SEEN);
});

test("a sheet lies as its long side is seen, and a button swaps it", () => {
  const lying = all(NEW_DRAFT, SEEN);
  assert.ok(isPlaced(lying));
  assert.deepEqual([lying.wide, lying.high], [297, 210]);
  const standing = all(NEW_DRAFT, SEEN.map(([x, y]) => [x * 0.3, y]));
  assert.deepEqual([standing.wide, standing.high], [210, 297]);
  assert.deepEqual(places(swapped(standing))[2], [297, 210]);
  assert.equal(withPoint(lying, [5, 5]), lying);
});

test("sizes of sheets and of squares of a mat", () => {
  assert.deepEqual(places(sheetChosen(NEW_DRAFT, "letter"))[2], [279.4, 215.9]);
  const mat = sheetChosen(NEW_DRAFT, "mat12", [12, 7]);
  near(places(mat)[2], [152.4, 88.9]);
  assert.deepEqual(swapped(mat).cells, [7, 12]);
  near(places(sheetChosen(NEW_DRAFT, "mat25", [4, 3]))[2], [101.6, 76.2]);
});

// The map that four points fix, for a view square on: enough to try what turns, mirrors and zeros do.
function mapOf(draft) {
  const [a, b] = draft.pixels, [p, q] = places(draft).map(place => spun(place, draft.turned));
  const sign = draft.mirrored ? 1 : -1, [bx, by] = [b[0] - a[0], sign * (b[1] - a[1])], size = bx * bx + by * by;
  const re = ((q[0] - p[0]) * bx + (q[1] - p[1]) * by) / size, im = ((q[1] - p[1]) * bx - (q[0] - p[0]) * by) / size;
  return pixel => { const x = pixel[0] - a[0], y = sign * (pixel[1] - a[1]); return [p[0] + re * x - im * y, p[1] + im * x + re * y]; };
}
const two = all({ ...NEW_DRAFT, how: "two", apart: 50 }, [[100, 400], [600, 400]]);

test("a zero goes where it is put, and stays there through turn and mirror", () => {
  const pixel = [350, 150];
  let draft = turnedBy(two, 30);
  draft = zeroAt(draft, mapOf(draft)(pixel));
  for (const now of [draft, turnedBy(draft, 75), mirroredDraft(draft), mirroredDraft(turnedBy(draft, -40))]) near(mapOf(now)(pixel), [0, 0], 1e-9);
});

test("mirrored: left and right change, up stays up", () => {
  const draft = zeroAt(two, mapOf(two)([350, 400]));
  near(mapOf(draft)([450, 300]), [10, 10]);
  near(mapOf(mirroredDraft(draft))([450, 300]), [-10, 10]);
  near(mapOf(mirroredDraft(mirroredDraft(draft)))([450, 300]), [10, 10]);
});

test("a line is laid level the nearest way, or along x", () => {
  const a = [100, 400], b = [100, 150];
  const seen = mapOf(two), upright = levelled(two, seen([100, 400]), seen([90, 100]), { along: true });
  near([mapOf(upright)([90, 100])[1] - mapOf(upright)([100, 400])[1]], [0], 1e-3); // a turn is kept to a thousandth of a degree
  assert.ok(mapOf(upright)([90, 100])[0] > mapOf(upright)([100, 400])[0]);
  const tilted = levelled(two, seen([600, 380]), seen([100, 400]));
  near([mapOf(tilted)([600, 380])[1] - mapOf(tilted)([100, 400])[1]], [0], 1e-3);
  assert.ok(Math.abs(tilted.turned) < 5 && a && b);
});

test("turns stay within half a turn either way", () => {
  assert.equal(turnedBy({ ...two, turned: 135 }, 90).turned, -135);
  assert.equal(turnedBy({ ...two, turned: 90 }, 90).turned, 180);
  assert.equal(turnedBy({ ...two, turned: -90 }, -90).turned, 180);
});

test("arrows move by 1, by 10 with Shift, by a tenth with Alt, and stay on the picture", () => {
  const keep = way => way, keys = { shiftKey: false, altKey: false };
  assert.deepEqual(nudged([5, 5], "ArrowLeft", keys, keep, [10, 10]), [4, 5]);
  assert.deepEqual(nudged([5, 5], "ArrowUp", { ...keys, altKey: true }, keep, [10, 10]), [5, 4.9]);
  assert.deepEqual(nudged([5, 5], "ArrowDown", { ...keys, shiftKey: true }, keep, [10, 10]), [5, 10]);
  assert.equal(nudged([5, 5], "a", keys, keep, [10, 10]), null);
});

test("what the plan keeps comes back as it was", () => {
  const sheet = zeroAt(turnedBy(all(sheetChosen(NEW_DRAFT, "letter"), SEEN), 90), [20, -35]);
  const typed = { ...howChosen(sheet, "points"), checks: [{ from: [1, 2], to: [30, 4], length: 12 }, { from: [1, 1], to: null, length: 3 }] };
  typed.typed = [...typed.typed, [7, 9]];
  typed.pixels = [...typed.pixels, [500, 500]];
  for (const draft of [two, zeroAt(turnedBy(two, -12.5), [3, 4]), mirroredDraft(two), sheet, mirroredDraft(sheet), typed]) {
    const kept = planPicture(draft, "a.jpg", "mine"), back = draftOf(kept);
    assert.equal(back.how, draft.how);
    assert.deepEqual([back.mirrored, back.sheet], [draft.mirrored, draft.how === "sheet" ? "letter" : "a4"]);
    assert.ok(Math.abs(back.turned - draft.turned) < 1e-6);
    const again = planPicture(back, "a.jpg", "mine");
    again.points.forEach((point, n) => near(point.at_mm, kept.points[n].at_mm, 2e-3));
    assert.deepEqual(again.checks, kept.checks);
  }
  assert.deepEqual(planPicture(typed, "a").checks, [{ from_px: [1, 2], to_px: [30, 4], length_mm: 12 }]);
});

test("points that lie askew come back with their turn", () => {
  const picture = { file: "a", points: [{ pixel: [0, 0], at_mm: [10, 10] }, { pixel: [100, 0], at_mm: [10, 60] }] };
  const back = draftOf(picture);
  assert.deepEqual([back.how, back.apart, back.turned], ["two", 50, 90]);
  places(back).map(place => spun(place, back.turned)).forEach((place, n) => near(place, picture.points[n].at_mm, 2e-3));
  const odd = draftOf({ file: "a", points: SEEN.map((pixel, n) => ({ pixel, at_mm: [[0, 0], [90, 0], [100, 50], [0, 60]][n] })) });
  assert.equal(odd.how, "points");
});

test("a map and its inverse", () => {
  const matrix = [[0.1, 0.02, -3], [-0.01, 0.12, 4], [1e-5, -2e-5, 1]];
  near(mapped(inverse(matrix), mapped(matrix, [700, 300])), [700, 300], 1e-6);
});

test("a frame begins tame and never turns inside out", () => {
  const square = [[0.5, 0, 0], [0, -0.5, 400], [0, 0, 1]];
  assert.deepEqual(firstFrame(square, [1000, 800], [[100, 700], [900, 700]]), { left: 60, right: 440, low: 48, top: 352 });
  const wild = [[0.5, 0, 0], [0, -0.5, 400], [0, -0.002, 1]];
  const frame = firstFrame(wild, [1000, 800], [[100, 100], [200, 100], [200, 50], [100, 50]]);
  assert.ok(frame.right - frame.left < 200);
  assert.deepEqual(framed({ left: 0, right: 10, low: 0, top: 10 }, 2, [-50, 30]), { left: 0, right: 1, low: 0, top: 30 });
});

test("the picture on the screen: there and back, turned and mirrored; what is under the pointer stays", () => {
  const size = { width: 800, height: 600 };
  for (const [turned, mirrored] of [[0, false], [90, false], [33, true], [-90, true]]) {
    const view = look.fittedPicture([1000, 700], size, turned, mirrored), at = [120, 480];
    near(look.pixelToScreen(view, size, look.screenToPixel(view, size, at)), at, 1e-9);
    near(look.screenToPixel(look.zoomedPicture(view, size, at, 3), size, at), look.screenToPixel(view, size, at), 1e-9);
    const moved = look.pannedPicture(view, 30, -20);
    near(look.pixelToScreen(moved, size, look.screenToPixel(view, size, at)), [150, 460], 1e-9);
    for (const corner of [[0, 0], [1000, 700]]) { const [x, y] = look.pixelToScreen(view, size, corner); assert.ok(x > 0 && x < 800 && y > 0 && y < 600); }
  }
});

test("a quarter turn anticlockwise brings the right side up, a mirror the right side left", () => {
  const size = { width: 100, height: 100 }, view = turned => ({ x: 0, y: 0, scale: 1, ways: look.ways(turned, false) });
  near(look.pixelToScreen(view(90), size, [10, 0]), [50, 40]);
  near(look.pixelToScreen({ ...view(0), ways: look.ways(0, true) }, size, [10, 5]), [40, 55]);
  near(look.wayOnPicture(view(90), [0, -1]), [1, 0]);
});

test("the lines of the grid keep apart", () => {
  assert.equal(look.gridStep(0.1, 1), 5);
  assert.equal(look.gridStep(0.1, 10), 0.5);
});
