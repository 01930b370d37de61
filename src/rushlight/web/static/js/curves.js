// Lamps along a line: true lengths, counts and pitches as the engine rounds them, the edge of a part set inward. Pure.
import { round } from "./items.js";
import { apart, areaOf, inside } from "./shapes.js";

export const lengthOf = line => line.slice(1).reduce((sum, point, n) => sum + apart(line[n], point), 0);

// A point at a length along a line; beyond its end on its last piece drawn out.
export function pointAt(line, length) {
  let left = length;
  for (let n = 1; n < line.length; n += 1) {
    const step = apart(line[n - 1], line[n]);
    if (step > 0 && (left <= step || n === line.length - 1)) {
      const share = left / step;
      return [line[n - 1][0] + share * (line[n][0] - line[n - 1][0]), line[n - 1][1] + share * (line[n][1] - line[n - 1][1])];
    }
    left -= step;
  }
  return line[0];
}

// Places of a row: by a count from end to end, by a pitch from the start as often as it goes.
export function rowLengths(line, { count = null, pitch_mm = null }) {
  const total = lengthOf(line);
  if (count) return Array.from({ length: count }, (_, n) => Math.min(total, total * n / Math.max(count - 1, 1)));
  const pitch = pitch_mm || total || 1;
  return Array.from({ length: Math.floor(total / pitch + 1e-9) + 1 }, (_, n) => Math.min(total, pitch * n));
}

export const rowPlaces = (line, how) => rowLengths(line, how).map(length => pointAt(line, length));

export function spacingWords(line, how) {
  const at = rowLengths(line, how), step = at.length > 1 ? at[1] - at[0] : 0;
  return at.length === 1 ? "one lamp, at the start" : `${at.length} lamps, ${round(step)} mm apart along ${round(lengthOf(line))} mm`;
}

// An outline set inward: every edge moved, met with its neighbours; an edge that would turn round is dropped.
export function insetRing(points, by) {
  const sign = areaOf(points) >= 0 ? 1 : -1;
  let edges = points.map((at, n) => {
    const next = points[(n + 1) % points.length], long = apart(at, next) || 1;
    const normal = [-(next[1] - at[1]) / long * sign, (next[0] - at[0]) / long * sign];
    return { way: [next[0] - at[0], next[1] - at[1]], a: [at[0] + normal[0] * by, at[1] + normal[1] * by], b: [next[0] + normal[0] * by, next[1] + normal[1] * by] };
  }).filter(edge => Math.hypot(...edge.way) > 1e-9);
  for (let tries = edges.length; tries > 2; tries -= 1) {
    const ring = edges.map((edge, n) => corner(edges[(n - 1 + edges.length) % edges.length], edge));
    const turned = edges.findIndex((edge, n) => { const end = ring[(n + 1) % ring.length]; return (end[0] - ring[n][0]) * edge.way[0] + (end[1] - ring[n][1]) * edge.way[1] < 0; });
    if (turned < 0) return ring;
    edges = edges.filter((_, n) => n !== turned);
  }
  return [];
}

function corner(before, edge) {
  const cross = before.way[0] * edge.way[1] - before.way[1] * edge.way[0];
  if (Math.abs(cross) < 1e-9) return edge.a;
  const share = ((edge.a[0] - before.a[0]) * edge.way[1] - (edge.a[1] - before.a[1]) * edge.way[0]) / cross;
  return [before.a[0] + share * before.way[0], before.a[1] + share * before.way[1]];
}

// Where on a ring a point lies nearest: the length from the ring's first corner, and how far away.
export function nearestAlong(ring, at) {
  let best = { length: 0, away: Infinity }, sum = 0;
  ring.forEach((from, n) => {
    const to = ring[(n + 1) % ring.length], long = apart(from, to);
    const share = long ? Math.max(0, Math.min(1, ((at[0] - from[0]) * (to[0] - from[0]) + (at[1] - from[1]) * (to[1] - from[1])) / (long * long))) : 0;
    const away = apart(at, [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]);
    if (away < best.away - 1e-9) best = { length: sum + share * long, away };
    sum += long;
  });
  return best;
}

// A stretch of a ring from a length on, its corners kept; the other way round if the length asked for is below zero.
export function stretchOf(ring, start, length) {
  const way = length >= 0 ? ring : [...ring].reverse(), total = lengthOf([...way, way[0]]);
  const closed = [...way, way[0]], from = nearestAlong(way, pointAt([...ring, ring[0]], start)).length, long = Math.min(Math.abs(length), total);
  const line = [pointAt(closed, from)];
  let sum = 0;
  for (let n = 1; n <= 2 * way.length; n += 1) {
    sum += apart(way[(n - 1) % way.length], way[n % way.length]);
    if (sum > from + 1e-6 && sum < from + long - 1e-6) line.push(way[n % way.length]);
  }
  const end = from + long;
  line.push(pointAt(closed, end > total ? end - total : end));
  return line.map(point => point.map(round));
}

// The edge of a part as a line for lamps, from where a lamp stands: so far inward as asked, so long as asked.
export function alongEdge(outline, at, { inset, length }) {
  const ring = insetRing(outline, inset);
  if (ring.length < 3) return null;
  return stretchOf(ring, nearestAlong(ring, at).length, length);
}

export const insetOf = (outline, at) => round(inside(at, outline) ? nearestAlong(outline, at).away : 0);

export const pointsText = line => line.map(([x, y]) => `${round(x)}, ${round(y)}`).join("; ");

// Points as typed: "10, 20; 30, 25"; null if they cannot be read.
export function pointsOf(text) {
  const points = text.split(";").map(word => word.trim()).filter(Boolean).map(word => word.split(/[\s,]+/).map(Number));
  return points.length >= 2 && points.every(point => point.length === 2 && point.every(Number.isFinite)) ? points : null;
}

