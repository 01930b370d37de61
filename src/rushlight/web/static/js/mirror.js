// Mirrored shapes: an outline that is the same on both sides, a part copied to the other side. Pure.
import { round } from "./items.js";
import { apart, areaOf } from "./shapes.js";

const flip = (value, middle) => round(2 * middle - value);
export const mirroredPoint = (at, axis, middle) => at.map((value, n) => n === axis ? flip(value, middle) : value);

// The outline with its one half drawn again on the other side of a middle line (axis 0: upright at x = middle).
// The half that is kept is the one with more of the area.
export function evened(points, axis, middle) {
  const low = clipped(points, axis, middle, -1), high = clipped(points, axis, middle, 1);
  const half = Math.abs(areaOf(low)) >= Math.abs(areaOf(high)) ? low : high;
  if (half.length < 3) return points;
  const cut = startOnLine(half, axis, middle), back = [...cut].reverse().map(at => mirroredPoint(at, axis, middle));
  return withoutStraight(withoutRepeats([...cut, ...back]), at => Math.abs(at[axis] - middle) < 1e-6);
}

// The part of a ring on one side of a line (Sutherland and Hodgman 1974, for one edge).
function clipped(points, axis, middle, side) {
  const kept = [], on = at => side * (at[axis] - middle) >= 0;
  points.forEach((at, n) => {
    const next = points[(n + 1) % points.length];
    if (on(at)) kept.push(at);
    if (on(at) !== on(next) && at[axis] !== middle && next[axis] !== middle) {
      const share = (middle - at[axis]) / (next[axis] - at[axis]);
      kept.push([0, 1].map(m => m === axis ? middle : round(at[m] + share * (next[m] - at[m]))));
    }
  });
  return withoutRepeats(kept);
}

// Turned so that it begins just after its stretch on the middle line, which the mirrored half closes.
function startOnLine(half, axis, middle) {
  const on = at => Math.abs(at[axis] - middle) < 1e-6;
  const start = half.findIndex((at, n) => on(at) && on(half[(n - 1 + half.length) % half.length]));
  return start < 0 ? half : [...half.slice(start), ...half.slice(0, start)];
}

const withoutRepeats = points => points.filter((at, n) => apart(at, points[(n + 1) % points.length]) > 1e-6);

// Without points of the middle line at which the outline goes straight on.
function withoutStraight(points, asked) {
  return points.filter((at, n) => {
    const [before, after] = [points[(n - 1 + points.length) % points.length], points[(n + 1) % points.length]];
    const turn = (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0]);
    return !asked(at) || Math.abs(turn) > 1e-6;
  });
}

const SIDES = [["port", "starboard"], ["left", "right"]];

// The other side's name, as the trade says it; nothing is guessed beyond these words.
export function otherSide(name, taken) {
  let other = `${name} mirrored`;
  for (const [one, two] of SIDES) for (const [a, b] of [[one, two], [two, one]]) {
    if (new RegExp(`\\b${a}\\b`, "i").test(name)) other = name.replace(new RegExp(`\\b${a}\\b`, "i"), word => word[0] === word[0].toUpperCase() ? b[0].toUpperCase() + b.slice(1) : b);
  }
  let free = other, number = 2;
  while (taken.has(free)) { free = `${other} ${number}`; number += 1; }
  return free;
}

// The other side looks the other way: ship's sides change, bearings go the other way round.
const OTHER = { port: "starboard", starboard: "port" };
const facedMirrored = ({ faces, faces_deg, leans_deg, top_edge }) => !faces && !Number.isFinite(faces_deg) ? {} : {
  ...(faces ? { faces: OTHER[faces] || faces } : { faces_deg: (360 - faces_deg) % 360 }), leans_deg, ...(top_edge && { top_edge: OTHER[top_edge] || top_edge }),
};

// Values of a part mirrored across the upright middle of its outline, for the API; without picture, poses and note.
export function mirroredPart(plan, part, take = { openings: true, keep_outs: true, bays: true, seams: true, relief: true }) {
  const xs = part.outline_mm.map(at => at[0]), middle = (Math.min(...xs) + Math.max(...xs)) / 2;
  const point = at => mirroredPoint(at, 0, middle), rect = ([x, y, width, height]) => [flip(x + width, middle), y, width, height];
  const shape = item => ({
    ...(item.outline_mm && item.outline_mm.length ? { outline_mm: item.outline_mm.map(point) } : {}), ...(item.rect_mm ? { rect_mm: rect(item.rect_mm) } : {}),
    ...(item.centre_mm ? { centre_mm: point(item.centre_mm), radius_mm: item.radius_mm } : {}),
  });
  const taken = new Set(plan.parts.flatMap(row => row.bays.map(bay => bay.name)));
  const bayName = name => { const free = otherSide(name, taken); taken.add(free); return free; };
  const { relief } = part;
  return {
    outline_mm: part.outline_mm.map(point), drawn_from: part.drawn_from, wall: part.wall, wall_mm: part.wall_mm, coats: part.coats,
    ...facedMirrored(part), removable: part.removable, room_for_illuminators: part.room_for_illuminators,
    ...(take.openings ? { openings: part.openings.map(item => ({ name: item.name, clear: item.clear, diffusers: item.diffusers, posts_mm: item.posts_mm.map(point), note: item.note, ...shape(item) })) } : {}),
    ...(take.keep_outs ? { keep_outs: part.keep_outs.map(item => ({ name: item.name, why: item.why, height_mm: item.height_mm ?? null, note: item.note || "", ...shape(item) })) } : {}),
    ...(take.keep_outs ? { obstacles: (part.obstacles || []).filter(item => !item.moves_with).map(item => ({ name: item.name, height_mm: item.height_mm, above_mm: item.above_mm, note: item.note || "", ...shape(item) })) } : {}),
    ...(take.bays ? { bays: part.bays.map(item => ({ ...item, name: bayName(item.name), rect_mm: rect(item.rect_mm) })) } : {}),
    ...(take.seams ? { seams_mm: part.seams_mm.map(line => line.map(point)) } : {}),
    ...(take.relief ? { relief: {
      flat: relief.flat, heights: relief.heights.map(row => ({ ...row, at_mm: point(row.at_mm) })),
      strings: relief.strings.map(row => ({ ...row, from_mm: point(row.from_mm), to_mm: point(row.to_mm) })),
      folds: relief.folds.map(row => ({ ...row, from_mm: point(row.from_mm), to_mm: point(row.to_mm) })),
    } } : {}),
  };
}
