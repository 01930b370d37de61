// Parts laid out on one sheet, each at its own millimetres: shelves from the top down, in the plan's order. Pure.
import { boxOf } from "./view.js";

const SHAPE = 1.7;
const TRIES = 24;

// Of several widths of the sheet the one that wastes least of a window of the usual shape.
export function layOut(parts) {
  const boxes = parts.map(part => boxOf(part.outline_mm));
  const longest = Math.max(...boxes.map(box => Math.max(box.right - box.left, box.top - box.low)));
  const margin = 0.045 * longest;
  const sizes = boxes.map(box => ({ width: box.right - box.left + 2 * margin, height: box.top - box.low + 2 * margin }));
  const widest = Math.max(...sizes.map(size => size.width)), all = sizes.reduce((sum, size) => sum + size.width, 0);
  let best = null;
  for (let n = 0; n <= TRIES; n += 1) {
    const laid = shelved(sizes, widest + (all - widest) * n / TRIES);
    const waste = Math.max(laid.width / SHAPE, laid.height);
    if (!best || waste < best.waste - 1e-9) best = { ...laid, waste };
  }
  const places = {};
  best.corners.forEach(([x, y], n) => {
    places[parts[n].name] = { dx: x + margin - boxes[n].left, dy: y - margin - boxes[n].top, box: boxes[n], margin, number: n };
  });
  return places;
}

// Upper left corners in rows from the top down, in order.
function shelved(sizes, room) {
  let x = 0, y = 0, shelf = 0, width = 0;
  const corners = sizes.map(size => {
    if (x > 0 && x + size.width > room + 1e-9) { x = 0; y -= shelf; shelf = 0; }
    const corner = [x, y];
    x += size.width;
    shelf = Math.max(shelf, size.height);
    width = Math.max(width, x);
    return corner;
  });
  return { corners, width, height: shelf - y };
}

export function onSheet(places, part, [x, y]) {
  const place = places[part];
  return place ? [x + place.dx, y + place.dy] : null;
}

export function sheetBox(place, margin = place.margin / 2) {
  const { box, dx, dy } = place;
  return { left: box.left + dx - margin, right: box.right + dx + margin, low: box.low + dy - margin, top: box.top + dy + margin };
}

export function wholeBox(places) {
  const boxes = Object.values(places).map(place => sheetBox(place));
  return {
    left: Math.min(...boxes.map(b => b.left)), right: Math.max(...boxes.map(b => b.right)),
    low: Math.min(...boxes.map(b => b.low)), top: Math.max(...boxes.map(b => b.top)),
  };
}

// The part whose outline box a point of the sheet lies in, with the point in the part's own millimetres.
export function partAt(places, [x, y]) {
  for (const [name, place] of Object.entries(places)) {
    const box = sheetBox(place, place.margin);
    if (x >= box.left && x <= box.right && y >= box.low && y <= box.top) return { name, at: [x - place.dx, y - place.dy] };
  }
  return null;
}
