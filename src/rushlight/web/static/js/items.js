// Lamps, rows and strips: finding, choosing and changing them. Pure: changes are lists for the API.
import { changedInside, withShapes } from "./inside.js";

export const KINDS = ["lamps", "rows", "strips"];

export const keyOf = (kind, name) => `${kind}/${name}`;

export function parted(key) {
  const at = key.indexOf("/");
  return { kind: key.slice(0, at), name: key.slice(at + 1) };
}

export function itemsOf(plan) {
  return KINDS.flatMap(kind => plan[kind].map(item => ({ kind, key: keyOf(kind, item.name), item })));
}

export function itemAt(plan, key) {
  const { kind, name } = parted(key);
  return (plan[kind] || []).find(item => item.name === name) || null;
}

export const round = value => Math.round(value * 100) / 100;
const shifted = ([x, y], [dx, dy]) => [round(x + dx), round(y + dy)];

// What a move of an item changes: a lamp its place, a row or strip its line.
export function movedValues(kind, item, by) {
  if (kind === "lamps") return item.at_mm ? { at_mm: shifted(item.at_mm, by) } : null;
  return { along_mm: item.along_mm.map(point => shifted(point, by)) };
}

export function moves(plan, keys, by) {
  return keys.flatMap(key => {
    const { kind, name } = parted(key);
    const item = itemAt(plan, key);
    const values = item && movedValues(kind, item, by);
    return values ? [{ action: "set", kind, name, values }] : [];
  });
}

// The plan as it will be when the server takes these changes: shown at once, replaced by what the server says.
export function applied(plan, changes) {
  const values = new Map();
  for (const { action, kind, name, values: own, list } of changes) {
    if (action !== "set" || list || !Array.isArray(plan[kind])) continue;
    if (!values.has(kind)) values.set(kind, new Map());
    values.get(kind).set(name, { ...(values.get(kind).get(name) || {}), ...own });
  }
  const top = changes.filter(({ action, kind }) => action === "set" && kind === "plan").map(change => change.values);
  const lists = [...values].map(([kind, items]) => [kind, plan[kind].map(item => items.has(item.name) ? { ...item, ...(kind === "parts" ? withShapes(item, items.get(item.name)) : items.get(item.name)) } : item)]);
  const now = lists.length + top.length ? Object.assign({ ...plan }, Object.fromEntries(lists), ...top) : plan;
  return changes.filter(({ list, kind }) => list && Array.isArray(plan[kind])).reduce(withInside, now);
}

function withInside(plan, change) {
  return { ...plan, [change.kind]: plan[change.kind].map(item => item.name === change.name ? changedInside(item, change) : item) };
}

export function freeName(plan, name) {
  const taken = new Set(itemsOf(plan).map(({ item }) => item.name));
  if (!taken.has(name)) return name;
  const stem = name.replace(/ \d+$/, "");
  let number = 2;
  while (taken.has(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}

const SHOWN_ONLY = new Set(["name"]);

// Values of an item as the API takes them: what is empty is left out.
export function valuesOf(item) {
  return Object.fromEntries(Object.entries(item).filter(([key, value]) => !SHOWN_ONLY.has(key) && value !== null));
}

export function duplicates(plan, keys, by) {
  let grown = plan;
  return keys.flatMap(key => {
    const { kind } = parted(key);
    const item = itemAt(plan, key);
    if (!item) return [];
    const name = freeName(grown, item.name);
    grown = { ...grown, [kind]: [...grown[kind], { ...item, name }] };
    return [{ action: "add", kind, name, values: { ...valuesOf(item), ...(movedValues(kind, item, by) || {}) } }];
  });
}

const ROW_KEYS = ["part", "facing", "colour", "rule", "size_mm", "model_mm", "brightness", "states", "rhythm",
  "evidence", "versions", "worth", "source", "note"];

// One lamp becomes a row that starts where it stood; by a count or by a pitch.
export function spread(lamp, to, { count = null, pitch_mm = null }) {
  const values = Object.fromEntries(ROW_KEYS.filter(key => lamp[key] !== null && lamp[key] !== undefined)
    .map(key => [key, lamp[key]]));
  const how = count ? { count } : { pitch_mm };
  return [
    { action: "remove", kind: "lamps", name: lamp.name, values: {} },
    { action: "add", kind: "rows", name: lamp.name, values: { ...values, along_mm: [lamp.at_mm, to], ...how } },
  ];
}

export function ticked(item, kind, state, on, order) {
  const now = new Set(item.states);
  if (on) now.add(state); else now.delete(state);
  return { action: "set", kind, name: item.name, values: { states: order.filter(name => now.has(name)) } };
}

// The same states for items below.
export function sameBelow(rows, from, order) {
  return rows.slice(from + 1).map(({ kind, item }) => (
    { action: "set", kind, name: item.name, values: { states: order.filter(name => rows[from].item.states.includes(name)) } }));
}

// The nearest lamp within reach of a point of the sheet; `placed` holds {key, at, radius} in sheet mm.
export function hit(placed, [x, y], reach) {
  let best = null, least = Infinity;
  for (const lamp of placed) {
    const away = Math.hypot(lamp.at[0] - x, lamp.at[1] - y);
    if (away <= Math.max(reach, lamp.radius) && away < least) { best = lamp; least = away; }
  }
  return best;
}

export function inFrame(placed, a, b) {
  const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [low, top] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  const within = placed.filter(({ at }) => at[0] >= left && at[0] <= right && at[1] >= low && at[1] <= top);
  return [...new Set(within.map(lamp => lamp.key))];
}

export function named(keys) {
  if (keys.length === 1) return parted(keys[0]).name;
  return `${keys.length} of the lamps`;
}
