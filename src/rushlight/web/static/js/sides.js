// Lamps on another part or on the other side: places mirrored, red and green, port and starboard exchanged. Pure.
import { freeName, itemAt, keyOf, parted, round, valuesOf } from "./items.js";
import { rowPlaces } from "./curves.js";
import { otherSide } from "./mirror.js";
import { apart, inside, nearestOnEdge } from "./shapes.js";
import { boxOf } from "./view.js";

const EDGE_MM = 0.05;
const FACING = { port: "starboard", starboard: "port" };
const RULES = [["port", "starboard"], ["left", "right"]];

const partOf = (plan, name) => plan.parts.find(part => part.name === name) || null;

export function lies(part, at) {
  const ring = part.outline_mm;
  return inside(at, ring) || ring.some((from, n) => apart(nearestOnEdge(at, [from, ring[(n + 1) % ring.length]]), at) <= EDGE_MM);
}

export const placesOf = (kind, item) => kind === "lamps" ? (item.at_mm ? [item.at_mm] : []) : kind === "rows" ? rowPlaces(item.along_mm, item) : item.along_mm;

// The rule's light of the other side, if the rule has sides.
export function otherRule(rule) {
  for (const [one, two] of RULES) for (const [a, b] of [[one, two], [two, one]]) {
    const found = new RegExp(`(^|[_ -])${a}($|[_ -])`);
    if (rule && found.test(rule)) return rule.replace(found, `$1${b}$2`);
  }
  return null;
}

const COLOURS = { red: "green", green: "red" };
const sided = name => /\b(port|starboard|left|right)\b/i.test(name);

// A light whose colour tells the side: by its rule, or by its name where no rule is named.
export const tellsSide = item => Boolean(COLOURS[item.colour]) && (item.rule ? Boolean(otherRule(item.rule)) : sided(item.name) || item.facing in FACING);

// How one part lies on another: mirrored left to right, or kept, whichever brings its outline nearer.
export function fitOf(from, to) {
  const a = boxOf(from.outline_mm), b = boxOf(to.outline_mm), away = points => points.reduce((sum, at) => sum + Math.min(...to.outline_mm.map(other => apart(at, other))), 0);
  const axis = round((a.left + b.right) / 2), by = [round(b.left - a.left), round(b.low - a.low)];
  const mirrored = from.outline_mm.map(([x, y]) => [2 * axis - x, y + by[1]]), kept = from.outline_mm.map(([x, y]) => [x + by[0], y + by[1]]);
  return { flip: away(mirrored) <= away(kept) + 1e-6, axis };
}

// How places are carried: onto the mirror part, or about a part's own middle (across: left and right, along: up and down).
export function carriage(from, to, how) {
  const box = boxOf(from.outline_mm);
  if (from === to) {
    const axis = how === "along" ? (box.low + box.top) / 2 : (box.left + box.right) / 2;
    return how === "along" ? ([x, y]) => [round(x), round(2 * axis - y)] : ([x, y]) => [round(2 * axis - x), round(y)];
  }
  const { axis, flip } = fitOf(from, to);
  return ([x, y]) => [round(flip ? 2 * axis - x : x), round(y)];
}

const exchanged = item => {
  const rule = otherRule(item.rule), values = {};
  if (rule) values.rule = rule;
  if (tellsSide(item)) values.colour = COLOURS[item.colour];
  if (FACING[item.facing]) values.facing = FACING[item.facing];
  if (item.arc_deg) values.arc_deg = item.arc_deg.map(deg => (360 - deg) % 360).reverse().map((deg, n) => n === 1 && deg === 0 ? 360 : deg);
  return values;
};

// Chosen lamps and rows on the other side. A row that nothing tells apart mirrors itself; others become copies.
export function mirrorChanges(plan, keys, toName, how = "across") {
  const changes = [], outside = [], left = [], rows = [];
  let grown = plan;
  for (const key of keys) {
    const { kind, name } = parted(key), item = itemAt(plan, key), from = item && partOf(plan, item.part), to = toName ? partOf(plan, toName) : from;
    if (!item || kind === "strips" || !from || !to || item.mirror) { if (item) left.push(name); continue; }
    const carried = carriage(from, to, how), off = placesOf(kind, item).map(carried).filter(at => !lies(to, at));
    if (off.length) { outside.push({ name, part: to.name, at: off[0] }); continue; }
    const values = exchanged(item), fit = from === to ? { flip: true, axis: round((boxOf(from.outline_mm).left + boxOf(from.outline_mm).right) / 2) } : fitOf(from, to);
    if (kind === "rows" && how === "across" && !Object.keys(values).length && !item.mirror) {
      rows.push(name);
      changes.push({ action: "set", kind, name, values: { mirror: { part: to.name, axis_x_mm: fit.axis, flip: fit.flip } } });
      continue;
    }
    const fresh = freeName(grown, otherSide(name, new Set())), place = kind === "lamps" ? { at_mm: carried(item.at_mm) } : { along_mm: item.along_mm.map(carried), mirror: undefined };
    grown = { ...grown, [kind]: [...grown[kind], { ...item, name: fresh }] };
    changes.push({ action: "add", kind, name: fresh, values: clean({ ...valuesOf(item), ...proved(item), ...values, ...place, part: to.name }) });
  }
  return { changes, outside, left, rows };
}

// What a rule says holds on both sides; a picture of the one side shows nothing of the other.
const proved = item => ({ evidence: (item.evidence || []).filter(row => row.kind === "rule") });

const clean = values => Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));

// Chosen lamps and rows on another part, at the same millimetres from its zero.
export function copyChanges(plan, keys, toName) {
  const changes = [], outside = [], left = [], to = partOf(plan, toName);
  let grown = plan;
  for (const key of keys) {
    const { kind, name } = parted(key), item = itemAt(plan, key);
    if (!item || !to || kind === "strips" || !placesOf(kind, item).length) { if (item) left.push(name); continue; }
    const off = placesOf(kind, item).find(at => !lies(to, at));
    if (off) { outside.push({ name, part: to.name, at: off }); continue; }
    const fresh = freeName(grown, name);
    grown = { ...grown, [kind]: [...grown[kind], { ...item, name: fresh }] };
    changes.push({ action: "add", kind, name: fresh, values: clean({ ...valuesOf(item), ...proved(item), part: to.name, mirror: undefined }) });
  }
  return { changes, outside, left, rows: [] };
}

export const madeKeys = ({ changes }) => changes.map(change => keyOf(change.kind, change.name));

export function toldOf({ outside, left }) {
  const words = outside.map(row => `${row.name} would fall outside ${row.part} (at ${row.at[0]}, ${row.at[1]} mm)`);
  if (left.length) words.push(`${left.join(", ")} cannot go there: strips stay with their openings, a row that mirrors has its other side already, and what has no place has none to carry`);
  return words;
}

// --- in line --------------------------------------------------------------------------------------------------------

// Chosen lamps level, upright, or at equal distances between the two that are farthest apart; each only among its part's.
export function lined(plan, keys, how) {
  const lamps = keys.map(key => ({ key, item: itemAt(plan, key) })).filter(({ key, item }) => item && parted(key).kind === "lamps" && item.at_mm);
  const parts = [...new Set(lamps.map(({ item }) => item.part))];
  return parts.flatMap(part => {
    const own = lamps.filter(({ item }) => item.part === part), places = placed(own.map(({ item }) => item.at_mm), how);
    return own.flatMap(({ item }, n) => apart(places[n], item.at_mm) < 1e-6 ? [] : [{ action: "set", kind: "lamps", name: item.name, values: { at_mm: places[n] } }]);
  });
}

function placed(points, how) {
  if (points.length < 2) return points;
  const mean = n => round(points.reduce((sum, at) => sum + at[n], 0) / points.length);
  if (how === "level") return points.map(([x]) => [x, mean(1)]);
  if (how === "upright") return points.map(([, y]) => [mean(0), y]);
  let ends = [0, 1];
  points.forEach((a, n) => points.forEach((b, m) => { if (apart(a, b) > apart(points[ends[0]], points[ends[1]])) ends = [n, m]; }));
  const [a, b] = ends.map(n => points[n]), long = apart(a, b) || 1;
  const order = points.map((at, n) => [((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / long, n]).sort((p, q) => p[0] - q[0]);
  const out = [...points];
  order.forEach(([, n], rank) => { const share = rank / (points.length - 1); out[n] = [round(a[0] + share * (b[0] - a[0])), round(a[1] + share * (b[1] - a[1]))]; });
  return out;
}
