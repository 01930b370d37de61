// Points of a picture and what is known of them: from a few clicks to what the plan keeps, and back. Pure.
// A draft is {how, sheet, wide, high, cells, cell, apart, pixels, typed, mirrored, turned, shift, checks, held}. Its points' places:
// base (a rectangle, a line, typed millimetres), left and right changed if mirrored, then shifted so that the zero is
// where it was put. The turn comes after, by the server.

export const SHEETS = [
  { key: "a4", word: "a sheet of A4", size: [297, 210] }, { key: "letter", word: "a sheet of Letter", size: [279.4, 215.9] },
  { key: "a5", word: "a sheet of A5", size: [210, 148] },
  { key: "mat10", word: "squares of 10 mm on a cutting mat", cell: 10 }, { key: "mat12", word: "squares of 1/2 inch on a mat", cell: 12.7 },
  { key: "mat25", word: "squares of 1 inch on a mat", cell: 25.4 }, { key: "typed", word: "another rectangle, typed" },
];

export const NEW_DRAFT = {
  how: "sheet", sheet: "a4", wide: 297, high: 210, cells: [20, 10], apart: 100, pixels: [], typed: [],
  mirrored: false, turned: 0, shift: [0, 0], checks: [],
};

export const wanted = draft => draft.how === "two" ? 2 : draft.how === "sheet" ? 4 : Infinity;
export const isPlaced = draft => draft.how === "points" ? draft.pixels.length >= 4 : draft.pixels.length === wanted(draft);

export function cornerWords(draft, n) {
  if (draft.how === "two") return ["first end", "second end"][n];
  if (draft.how === "points") return `point ${n + 1}`;
  return ["lower left", "lower right", "upper right", "upper left"][n];
}

export function base(draft) {
  if (draft.how === "two") return [[0, 0], [draft.apart, 0]];
  if (draft.how === "points") return draft.typed;
  return [[0, 0], [draft.wide, 0], [draft.wide, draft.high], [0, draft.high]];
}

const mirroredAt = (draft, [x, y]) => [draft.mirrored ? -x : x, y];

export function places(draft) {
  return base(draft).map(at => mirroredAt(draft, at)).map(([x, y]) => [x - draft.shift[0], y - draft.shift[1]]);
}

// What is typed for a point in the part's own millimetres (before the turn), as a base.
export const asBase = (draft, [x, y]) => mirroredAt(draft, [x + draft.shift[0], y + draft.shift[1]]);

// --- placing ------------------------------------------------------------------------------------------------------

export function withPoint(draft, pixel) {
  if (draft.pixels.length >= wanted(draft)) return draft;
  const pixels = [...draft.pixels, pixel];
  if (draft.how === "points") return { ...draft, pixels, typed: [...draft.typed, [0, 0]] };
  return draft.how === "sheet" && pixels.length === 4 ? laidSheet({ ...draft, pixels: ringed(pixels) }) : { ...draft, pixels };
}

export const movedPoint = (draft, n, pixel) => ({ ...draft, pixels: draft.pixels.map((held, m) => m === n ? pixel : held) });

export function withoutPoint(draft, n) {
  return { ...draft, pixels: draft.pixels.filter((_, m) => m !== n), typed: draft.typed.filter((_, m) => m !== n) };
}

// Corners in the order lower left, lower right, upper right, upper left as they are seen (y down), whatever the order of the clicks.
export function ringed(pixels) {
  const [x, y] = [0, 1].map(n => pixels.reduce((sum, pixel) => sum + pixel[n], 0) / pixels.length);
  const ring = [...pixels].sort((a, b) => Math.atan2(y - a[1], a[0] - x) - Math.atan2(y - b[1], b[0] - x));
  const first = ring.reduce((best, pixel, n) => pixel[1] - pixel[0] > ring[best][1] - ring[best][0] ? n : best, 0);
  return [...ring.slice(first), ...ring.slice(0, first)];
}

const apartOf = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

// The sheet lies as its long side is seen; shown, and changed by one button.
function laidSheet(draft) {
  const [a, b, c, d] = draft.pixels, across = apartOf(a, b) + apartOf(d, c), up = apartOf(a, d) + apartOf(b, c);
  return (across > up) === (draft.wide > draft.high) || draft.wide === draft.high ? draft : swapped(draft);
}

export const swapped = draft => ({ ...draft, wide: draft.high, high: draft.wide, cells: [draft.cells[1], draft.cells[0]] });

export function sheetChosen(draft, key, cells = draft.cells) {
  const row = SHEETS.find(sheet => sheet.key === key), lying = draft.wide >= draft.high;
  if (row.size) { const [long, short] = row.size; return { ...draft, sheet: key, wide: lying ? long : short, high: lying ? short : long }; }
  if (row.cell) return { ...draft, sheet: key, cells, wide: clean(cells[0] * row.cell), high: clean(cells[1] * row.cell) };
  return { ...draft, sheet: key };
}

export function howChosen(draft, how) {
  if (how === draft.how) return draft;
  const pixels = draft.pixels.slice(0, how === "two" ? 2 : how === "sheet" ? 4 : undefined);
  if (how === "points") return { ...draft, how, pixels, typed: base(draft).slice(0, pixels.length) };
  const fresh = { ...draft, how, typed: [] };
  return how === "sheet" ? { ...fresh, pixels: pixels.length === 4 ? ringed(pixels) : pixels } : { ...fresh, pixels };
}

export function nudged(pixel, key, { shiftKey, altKey }, turn, size) {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  if (!way) return null;
  const step = shiftKey ? 10 : altKey ? 0.1 : 1, [x, y] = turn(way);
  return within([pixel[0] + x * step, pixel[1] + y * step], size);
}

export const within = ([x, y], [width, height]) => [hundredth(Math.min(width, Math.max(0, x))), hundredth(Math.min(height, Math.max(0, y)))];
const hundredth = value => Math.round(value * 100) / 100;
const clean = value => Math.round(value * 1e6) / 1e6;

// --- how it lies --------------------------------------------------------------------------------------------------

export const degrees = value => { const turn = ((value + 180) % 360 + 360) % 360 - 180; return Math.round((turn === -180 ? 180 : turn) * 1000) / 1000; };

export const turnedBy = (draft, by) => ({ ...draft, turned: degrees(draft.turned + by) });

// A quarter turn of what was not given a zero by hand: the lower left corner of its points stays where it was.
export function quarterTurned(draft, by, zeroed) {
  const turned = turnedBy(draft, by);
  if (zeroed || !isPlaced(draft)) return turned;
  const low = now => { const all = places(now).map(at => spun(at, now.turned)); return [Math.min(...all.map(p => p[0])), Math.min(...all.map(p => p[1]))]; };
  const was = low(draft), is = low(turned);
  return zeroAt(turned, [is[0] - was[0], is[1] - was[1]]);
}

export const mirroredDraft = draft => ({ ...draft, mirrored: !draft.mirrored, shift: [-draft.shift[0], draft.shift[1]], turned: degrees(-draft.turned) });

export function spun([x, y], deg) {
  const a = deg * Math.PI / 180;
  return [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
}

// The place that is to be the zero, in turned millimetres.
export function zeroAt(draft, at) {
  const [x, y] = spun(at, -draft.turned);
  return { ...draft, shift: [draft.shift[0] + x, draft.shift[1] + y] };
}

// A line between two places (turned millimetres) is laid level: the nearest way, or so that x runs along it.
export function levelled(draft, a, b, { along = false } = {}) {
  const seen = Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI;
  return turnedBy(draft, along ? -seen : -(seen - 180 * Math.round(seen / 180)));
}

export function mapped(matrix, [x, y]) {
  const [a, b, c] = matrix.map(row => row[0] * x + row[1] * y + row[2]);
  return [a / c, b / c];
}

export function inverse([[a, b, c], [d, e, f], [g, h, i]]) {
  const all = [[e * i - f * h, c * h - b * i, b * f - c * e], [f * g - d * i, a * i - c * g, c * d - a * f], [d * h - e * g, b * g - a * h, a * e - b * d]];
  const size = a * all[0][0] + b * all[1][0] + c * all[2][0];
  return all.map(row => row.map(value => value / size));
}

// --- the plan -----------------------------------------------------------------------------------------------------

const thousandth = value => Math.round(value * 1000) / 1000 + 0;

// The picture as plan.yaml keeps it; what is as when left out is left out.
export function planPicture(draft, file, note = "") {
  const at = places(draft);
  const picture = { file, points: draft.pixels.map((pixel, n) => ({ pixel, at_mm: at[n].map(thousandth) })) };
  if (draft.mirrored) picture.mirrored = true;
  if (draft.turned) picture.turned_deg = draft.turned;
  const checks = draft.checks.filter(isWhole).map(({ from, to, length }) => ({ from_px: from, to_px: to, length_mm: length }));
  if (checks.length) picture.checks = checks;
  if (note) picture.note = note;
  return picture;
}

export const isWhole = check => Boolean(check.from && check.to && check.length > 0 && apartOf(check.from, check.to) > 0);

// A draft of what the plan keeps; a rectangle and a line are found again, whatever else stays as points.
export function draftOf(picture) {
  const checks = (picture.checks || []).map(({ from_px, to_px, length_mm }) => ({ from: from_px, to: to_px, length: length_mm }));
  const pixels = picture.points.map(point => point.pixel), at = picture.points.map(point => point.at_mm);
  const draft = { ...NEW_DRAFT, pixels, checks, mirrored: Boolean(picture.mirrored), turned: degrees(picture.turned_deg || 0) };
  if (pixels.length === 2) return laidBack({ ...draft, how: "two", apart: thousandth(apartOf(...at)) }, at);
  if (pixels.length === 4) {
    const [a, b, c, d] = at, wide = thousandth(apartOf(a, b)), high = thousandth(apartOf(a, d));
    const turn = (b[0] - a[0]) * (d[1] - a[1]) - (b[1] - a[1]) * (d[0] - a[0]);
    const known = SHEETS.find(row => row.size && near(Math.max(wide, high), row.size[0]) && near(Math.min(wide, high), row.size[1]));
    const sheet = { ...draft, how: "sheet", wide, high, sheet: known ? known.key : "typed", mirrored: turn < 0 };
    const laid = laidBack(sheet, at), back = places(laid).map(place => spun(place, laid.turned - draft.turned));
    if (back.every((place, n) => apartOf(place, at[n]) < 0.01 + 1e-4 * (wide + high))) return laid;
  }
  const all = pixels.length > 2 ? { ...draft, how: "points" } : draft;
  return { ...all, typed: at.map(place => asBase(all, place)) };
}

const near = (a, b) => Math.abs(a - b) < 0.01;

// The base of a draft laid on known places by a turn and a shift: the turn joins the draft's own.
function laidBack(draft, at) {
  const [a, b] = base(draft).map(place => mirroredAt(draft, place)), [p, q] = at;
  const by = (Math.atan2(q[1] - p[1], q[0] - p[0]) - Math.atan2(b[1] - a[1], b[0] - a[0])) * 180 / Math.PI;
  const [x, y] = spun(p, -by);
  return { ...draft, turned: degrees(draft.turned + by), shift: [thousandth(a[0] - x), thousandth(a[1] - y)] };
}

// --- the frame of a new part --------------------------------------------------------------------------------------

export const frameCorners = ({ left, right, low, top }) => [[left, low], [right, low], [right, top], [left, top]];

// What to begin with: the whole picture if it is not wild, else what its points span and a little more.
export function firstFrame(matrix, size, pixels) {
  const whole = boxed([[0, 0], [size[0], 0], size, [0, size[1]]].map(pixel => mapped(matrix, pixel)));
  const known = boxed(pixels.map(pixel => mapped(matrix, pixel)));
  const wide = known.right - known.left, high = Math.max(known.top - known.low, wide * 0.2), share = 0.15;
  const depth = [[0, 0], [size[0], 0], size, [0, size[1]]].map(([x, y]) => matrix[2][0] * x + matrix[2][1] * y + matrix[2][2]);
  const tame = depth.every(value => value * depth[0] > 0) && whole.right - whole.left < 6 * wide && whole.top - whole.low < 6 * Math.max(high, wide);
  const box = tame ? shrunk(whole, 0.12) : shrunk({ ...known, top: known.low + high }, -share);
  return Object.fromEntries(Object.entries(box).map(([key, value]) => [key, Math.round(value)]));
}

function shrunk(box, share) {
  const x = (box.right - box.left) * share, y = (box.top - box.low) * share;
  return { left: box.left + x, right: box.right - x, low: box.low + y, top: box.top - y };
}

function boxed(points) {
  const xs = points.map(point => point[0]), ys = points.map(point => point[1]);
  return { left: Math.min(...xs), right: Math.max(...xs), low: Math.min(...ys), top: Math.max(...ys) };
}

// A corner of the frame was put to a place; it never turns inside out.
export function framed(frame, n, [x, y], least = 1) {
  const left = n === 0 || n === 3, low = n < 2, place = { ...frame };
  if (left) place.left = Math.min(x, frame.right - least); else place.right = Math.max(x, frame.left + least);
  if (low) place.low = Math.min(y, frame.top - least); else place.top = Math.max(y, frame.low + least);
  return Object.fromEntries(Object.entries(place).map(([key, value]) => [key, Math.round(value * 10) / 10]));
}
