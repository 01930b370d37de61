// A change of an item inside a part (an opening, a keep-out, a bay), as it will look when the server has taken it. Pure.
import { cornersOf } from "./shapes.js";

const SIDES = 24;

// Corners of an opening or keep-out, whichever way it was given.
export function shapeOf(item) {
  if (item.rect_mm) return cornersOf(item.rect_mm);
  if (item.centre_mm && item.radius_mm) {
    const turn = 2 * Math.PI / SIDES, [x, y] = item.centre_mm;
    return Array.from({ length: SIDES }, (_, n) => [x + item.radius_mm * Math.cos(n * turn), y + item.radius_mm * Math.sin(n * turn)]);
  }
  return item.outline_mm || [];
}

const EMPTY = { outline_mm: [], rect_mm: null, clear: true, diffusers: [], posts_mm: [], why: "other", centre_mm: null, radius_mm: null, note: "" };

function merged(item, values) {
  const given = Object.fromEntries(Object.entries(values).map(([key, value]) => [key, value === null && key === "outline_mm" ? [] : value]));
  const now = { ...item, ...given };
  return { ...now, shape: shapeOf(now) };
}

export function changedInside(part, { action, list, item, values }) {
  const rows = part[list] || [];
  if (action === "add") return { ...part, [list]: [...rows, merged({ ...EMPTY, name: item }, values)] };
  if (action === "remove") return { ...part, [list]: rows.filter(row => row.name !== item) };
  return { ...part, [list]: rows.map(row => row.name === item ? merged(row, values) : row) };
}

const DRAWN = ["openings", "keep_outs", "obstacles", "bays"];

// Values of a part with its whole lists of openings and the like: each with what the server adds to it, from the one that it takes the place of.
export function withShapes(part, values) {
  const given = DRAWN.filter(key => key in values && Array.isArray(part[key]));
  return { ...values, ...Object.fromEntries(given.map(key => [key, (values[key] || []).map(row => merged(part[key].find(old => old.name === row.name) || EMPTY, row))])) };
}
