// What is drawn on a part, as figures: its outline, openings, keep-outs, bays, seams, crossings, marks of its depth.
// A figure is {key, kind, name, form, points, item}; forms are ring, line, rect (four corners), disc (centre, rim),
// dot and pair. Pure: what a figure's new shape changes in the plan is a list for the API.
import { cornersOf } from "./shapes.js";
import { round } from "./items.js";

export const WORDS = {
  outline: "outline", openings: "opening", keep_outs: "keep-out", obstacles: "obstacle", bays: "bay", seams: "seam", crossings: "crossing",
  posts: "foot of a post", heights: "depth", strings: "string", folds: "fold",
};

export const NESTED = new Set(["openings", "keep_outs", "obstacles", "bays"]);
const RELIEF = new Set(["heights", "strings", "folds"]);

const LEAST = { ring: 3, line: 2 };

export function figuresOf(plan, part) {
  return [
    { key: "outline", kind: "outline", name: "outline", form: "ring", points: part.outline_mm, item: part },
    ...["openings", "keep_outs", "obstacles", "bays"].flatMap(kind => (part[kind] || []).map(item => ({ key: `${kind}/${item.name}`, kind, name: item.name, item, ...formOf(item) }))),
    ...part.openings.flatMap(item => item.posts_mm.map((at, n) => (
      { key: `posts/${n}/${item.name}`, kind: "posts", n, of: item.name, name: `post ${n + 1} behind ${item.name}`, form: "dot", points: [at], item }))),
    ...part.seams_mm.map((points, n) => ({ key: `seams/${n}`, kind: "seams", n, name: `seam ${n + 1}`, form: "line", points, item: null })),
    ...plan.crossings.flatMap(item => item.ends.flatMap((end, n) => end.part !== part.name ? [] : [
      { key: `crossings/${n}/${item.name}`, kind: "crossings", n, name: item.name, form: "dot", points: [end.at_mm], item }])),
    ...part.relief.heights.map((item, n) => ({ key: `heights/${n}`, kind: "heights", n, name: `depth ${n + 1}`, form: "dot", points: [item.at_mm], item })),
    ...["strings", "folds"].flatMap(kind => part.relief[kind].map((item, n) => (
      { key: `${kind}/${n}`, kind, n, name: `${WORDS[kind]} ${n + 1}`, form: "pair", points: [item.from_mm, item.to_mm], item }))),
  ];
}

function formOf(item) {
  if (item.rect_mm) return { form: "rect", points: cornersOf(item.rect_mm) };
  if (item.centre_mm) return { form: "disc", points: [item.centre_mm, [round(item.centre_mm[0] + item.radius_mm), item.centre_mm[1]]] };
  return { form: "ring", points: item.outline_mm };
}

export const figureAt = (plan, part, key) => figuresOf(plan, part).find(figure => figure.key === key) || null;

// --- new shapes of a figure ----------------------------------------------------------------------------------------

const shift = ([x, y], [dx, dy]) => [round(x + dx), round(y + dy)];

export const shifted = (figure, by) => ({ ...figure, points: figure.points.map(point => shift(point, by)) });

// A corner of a rectangle takes its neighbours along, a disc's centre its rim.
export function bent(figure, n, at) {
  const { form, points } = figure;
  if (form === "rect") return { ...figure, points: rectangle(points[(n + 2) % 4], at, n) };
  if (form === "disc" && n === 0) return shifted(figure, [at[0] - points[0][0], at[1] - points[0][1]]);
  return { ...figure, points: points.map((point, m) => m === n ? at : point) };
}

// The rectangle with one corner fixed, corner n at `at`. Corners run round from the lower left: 0 and 3 share x, 0 and 1 y.
function rectangle(fixed, at, n) {
  const left = m => m === 0 || m === 3, low = m => m < 2;
  return [0, 1, 2, 3].map(m => [left(m) === left(n) ? at[0] : fixed[0], low(m) === low(n) ? at[1] : fixed[1]]);
}

// A point put in after point n, halfway to the next one unless a place is given.
export function inserted(figure, n, at = null) {
  const { points } = figure, next = points[(n + 1) % points.length];
  const middle = [round((points[n][0] + next[0]) / 2), round((points[n][1] + next[1]) / 2)];
  return { ...figure, points: [...points.slice(0, n + 1), at || middle, ...points.slice(n + 1)] };
}

export const canInsert = figure => figure.form === "ring" || figure.form === "line";
export const canTake = figure => canInsert(figure) && figure.points.length > LEAST[figure.form];

export const without = (figure, n) => ({ ...figure, points: figure.points.filter((_, m) => m !== n) });

// The edges of a figure as pairs of point numbers.
export function edgesOf({ form, points }) {
  if (form === "dot" || form === "disc") return [];
  const open = form === "line" || form === "pair";
  return points.slice(0, open ? -1 : undefined).map((_, n) => [n, (n + 1) % points.length]);
}

// --- what it changes in the plan -----------------------------------------------------------------------------------

export const boxed = points => {
  const xs = points.map(point => point[0]), ys = points.map(point => point[1]);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, round(Math.max(...xs) - x), round(Math.max(...ys) - y)];
};

export const radiusOf = ([centre, rim]) => round(Math.hypot(rim[0] - centre[0], rim[1] - centre[1]));

// The plan's keys for a shape; those of the other forms are emptied, so that an item has one form only.
export function shapeValues(kind, form, points) {
  if (kind === "bays") return { rect_mm: boxed(points) };
  const none = { outline_mm: null, rect_mm: null, centre_mm: null, radius_mm: null };
  if (form === "rect") return { ...none, rect_mm: boxed(points) };
  if (form === "disc") return { ...none, centre_mm: points[0], radius_mm: radiusOf(points) };
  return { ...none, outline_mm: points };
}

const put = (list, n, value) => list.map((old, m) => m === n ? value : old);
const cut = (list, n) => list.filter((_, m) => m !== n);

const setPart = (part, values) => ({ action: "set", kind: "parts", name: part.name, values });
const setRelief = (part, kind, rows) => setPart(part, { relief: { ...part.relief, [kind]: rows } });
const inner = (action, part, list, item, values = {}) => ({ action, kind: "parts", name: part.name, list, item, values });

// The changes that write a figure's points into the plan.
export function written(part, figure) {
  const { kind, n, name, points, item, form } = figure;
  if (kind === "outline") return [setPart(part, { outline_mm: points })];
  if (NESTED.has(kind)) return [inner("set", part, kind, name, shapeValues(kind, form, points))];
  if (kind === "posts") return [inner("set", part, "openings", figure.of, { posts_mm: put(item.posts_mm, n, points[0]) })];
  if (kind === "seams") return [setPart(part, { seams_mm: put(part.seams_mm, n, points) })];
  if (kind === "crossings") return [{ action: "set", kind: "crossings", name, values: { ends: put(item.ends, n, { ...item.ends[n], at_mm: points[0] }) } }];
  return [setRelief(part, kind, put(part.relief[kind], n, { ...item, ...markValues(kind, points) }))];
}

export const markValues = (kind, points) => kind === "heights" ? { at_mm: points[0] } : { from_mm: points[0], to_mm: points[1] };

// The changes that put a new figure into the plan, with what else is known of it.
export function added(part, figure, values = {}) {
  const { kind, name, form, points } = figure;
  if (kind === "outline") return [setPart(part, { outline_mm: points })];
  if (NESTED.has(kind)) {
    const shape = Object.fromEntries(Object.entries(shapeValues(kind, form, points)).filter(([, value]) => value !== null));
    return [inner("add", part, kind, name, { ...shape, ...values })];
  }
  if (kind === "posts") return [inner("set", part, "openings", figure.of, { posts_mm: [...figure.item.posts_mm, points[0]] })];
  if (kind === "seams") return [setPart(part, { seams_mm: [...part.seams_mm, points] })];
  if (kind === "crossings") return [{ action: "add", kind: "crossings", name, values: { ends: figure.ends, ...values } }];
  return [setRelief(part, kind, [...part.relief[kind], { ...markValues(kind, points), ...values }])];
}

// The changes that take a figure out of the plan. An outline stays: a part has one.
export function removed(part, figure) {
  const { kind, n, name, item } = figure;
  if (kind === "outline") return [];
  if (NESTED.has(kind)) return [inner("remove", part, kind, name)];
  if (kind === "posts") return [inner("set", part, "openings", figure.of, { posts_mm: cut(item.posts_mm, n) })];
  if (kind === "seams") return [setPart(part, { seams_mm: cut(part.seams_mm, n) })];
  if (kind === "crossings") return [{ action: "remove", kind, name, values: {} }];
  return [setRelief(part, kind, cut(part.relief[kind], n))];
}

// The changes that set other keys of a figure's item.
export function edited(part, figure, values) {
  const { kind, n, name, item } = figure;
  if (kind === "outline") return [setPart(part, values)];
  if (NESTED.has(kind)) return [inner("set", part, kind, name, values)];
  if (kind === "crossings") return [{ action: "set", kind, name, values }];
  if (RELIEF.has(kind)) return [setRelief(part, kind, put(part.relief[kind], n, { ...item, ...values }))];
  return [];
}

// A name that no other of its kind has: on the part, or in the whole plan where it must be unique there.
export function freeFigureName(plan, part, kind) {
  const stem = WORDS[kind];
  const all = kind === "crossings" ? plan.crossings : kind === "bays" ? plan.parts.flatMap(row => row.bays) : part[kind] || [];
  const taken = new Set(all.map(item => item.name));
  let number = 1;
  while (taken.has(number === 1 ? stem : `${stem} ${number}`)) number += 1;
  return number === 1 ? stem : `${stem} ${number}`;
}
