// Where a point that is drawn or dragged takes hold, and the words for it. Pure.
import { apart, centreOf, nearestOnEdge } from "./shapes.js";
import { round } from "./items.js";

// What a point may hold to: each can be switched off.
export const HOLDS = [
  ["points", "points and edges nearby"], ["straight", "level and upright from the next point"],
  ["middle", "the middle line and its mirror"], ["grid", "a grid"],
];
export const ALL_HOLDS = { points: true, straight: true, middle: true, grid: true };

// `around`: {neighbours: [{at, words}], points: [{at, words}], mirrored: [{at, words}], edges: [{edge, words}],
// middle: {x, y} (either may be null)}. `reach` in mm. Answers {at, words, guides}; guides are lines to draw.
export function snapped(at, around, { holds = ALL_HOLDS, step = 1, reach = 1 } = {}) {
  const corner = nearestPoint(at, around, holds, reach);
  if (corner) return { at: corner.at, words: corner.words, guides: [] };
  const x = holdOn(at, 0, around, holds, reach), y = holdOn(at, 1, around, holds, reach);
  if (x && y) return finished([x.value, y.value], [x, y], at);
  const edge = holds.points ? nearestEdge(at, around.edges || [], reach, x, y) : null;
  if (edge) return { at: edge.at.map(round), words: [x && x.words, y && y.words, edge.words].filter(Boolean).join(", "), guides: guidesOf([x, y], edge.at) };
  const grid = axis => holds.grid && step > 0 ? { value: Math.round(at[axis] / step) * step, words: "" } : null;
  const free = [x || grid(0), y || grid(1)];
  const done = finished(free.map((hold, axis) => hold ? hold.value : at[axis]), [x, y], at);
  return { ...done, words: done.words || (holds.grid && step > 0 ? `on the grid of ${step} mm` : "") };
}

function finished(at, holds) {
  const place = at.map(round);
  return { at: place, words: holds.filter(Boolean).map(hold => hold.words).join(", "), guides: guidesOf(holds, place) };
}

const guidesOf = (holds, at) => holds.filter(hold => hold && hold.from).map(hold => [hold.from, at]);

function nearestPoint(at, around, holds, reach) {
  const rows = [...(holds.points ? around.points || [] : []), ...(holds.middle ? around.mirrored || [] : [])];
  let best = null, least = reach;
  for (const row of rows) {
    const away = apart(row.at, at);
    if (away <= least) { best = row; least = away; }
  }
  return best;
}

// Upright from a neighbour or on the middle line (axis 0), level (axis 1): the nearest within reach.
function holdOn(at, axis, around, holds, reach) {
  const rows = [];
  if (holds.straight) for (const { at: from, words } of around.neighbours || []) {
    rows.push({ value: from[axis], words: `${axis === 0 ? "upright" : "level"} ${axis === 0 ? "over" : "with"} ${words}`, from });
  }
  const middle = around.middle && around.middle[axis === 0 ? "x" : "y"];
  if (holds.middle && Number.isFinite(middle)) rows.push({ value: middle, words: "on the middle line", from: null });
  let best = null, least = reach;
  for (const row of rows) {
    const away = Math.abs(row.value - at[axis]);
    if (away <= least) { best = row; least = away; }
  }
  return best;
}

// The nearest edge within reach; where one axis is held already, the place where the edge meets that line.
function nearestEdge(at, edges, reach, x, y) {
  let best = null, least = reach;
  for (const { edge, words } of edges) {
    const place = x || y ? onLine(edge, x ? 0 : 1, (x || y).value) : nearestOnEdge(at, edge);
    const away = place ? apart(place, at) : Infinity;
    if (away <= least) { best = { at: place, words }; least = away; }
  }
  return best;
}

function onLine([a, b], axis, value) {
  const [low, high] = [Math.min(a[axis], b[axis]), Math.max(a[axis], b[axis])];
  if (value < low || value > high || low === high) return null;
  const share = (value - a[axis]) / (b[axis] - a[axis]);
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

// What is round the point n of a figure (null: a point that is put after the last), for `snapped`.
export function aroundOf(figures, figure, n, middle) {
  const others = figures.filter(row => row.key !== figure.key);
  const { points, form } = figure, open = form === "line" || form === "pair" || n === null;
  const named = m => `point ${m + 1}`;
  const mine = points.map((at, m) => ({ at, words: named(m), m })).filter(row => row.m !== n);
  const beside = n === null ? [points.length - 1, 0] : [n - 1, n + 1].map(m => open ? m : (m + points.length) % points.length);
  const neighbours = [...new Set(beside)].filter(m => m >= 0 && m < points.length && m !== n).map(m => ({ at: points[m], words: named(m) }));
  const dots = others.flatMap(row => row.points.map(at => ({ at, words: row.form === "dot" ? `at ${row.name}` : `at a corner of ${row.name}` })));
  const edges = others.flatMap(row => lines(row).map(edge => ({ edge, words: `on the edge of ${row.name}` })));
  return { neighbours: form === "rect" || form === "disc" ? [] : neighbours, points: dots, edges, mirrored: mirrors(mine, middle), middle };
}

function lines({ form, points }) {
  if (form === "dot" || form === "disc") return [];
  const open = form === "line" || form === "pair";
  return points.slice(0, open ? -1 : undefined).map((point, m) => [point, points[(m + 1) % points.length]]);
}

function mirrors(rows, middle) {
  if (!middle) return [];
  const over = (axis, value) => rows.map(({ at, words }) => ({ at: at.map((old, m) => m === axis ? round(2 * value - old) : old), words: `mirrors ${words}` }));
  return [...(Number.isFinite(middle.x) ? over(0, middle.x) : []), ...(Number.isFinite(middle.y) ? over(1, middle.y) : [])];
}

// How far a whole figure goes: its first point holds as a point does, its middle holds to the middle lines.
export function shiftHeld(figure, by, around, how) {
  const [first] = figure.points, held = snapped([first[0] + by[0], first[1] + by[1]], { ...around, neighbours: [], mirrored: [], middle: null }, how);
  const now = [held.at[0] - first[0], held.at[1] - first[1]], words = held.words ? [held.words] : [];
  const middle = how.holds.middle && around.middle;
  if (middle) centreOf(figure.points).forEach((value, axis) => {
    const line = middle[axis === 0 ? "x" : "y"];
    if (!Number.isFinite(line) || Math.abs(value + by[axis] - line) > how.reach) return;
    now[axis] = line - value;
    words.push("its middle on the middle line");
  });
  return { by: now.map(round), words: [...new Set(words)].join(", ") };
}
