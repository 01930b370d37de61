// Lights seen on reference pictures: marks, the lamps that they are tied to, and the evidence that this makes. Pure.
import { itemAt, itemsOf, keyOf } from "./items.js";

const EVIDENCE = ["kind", "of", "mark", "says", "certainty", "count", "note"];

const inner = (action, picture, name, values) => ({ action, kind: "references", name: picture, list: "marks", item: name, values });

export const referenceOf = (plan, name) => plan.references.find(row => row.name === name) || null;

export function markOf(plan, picture, name) {
  const held = referenceOf(plan, picture);
  return (held && held.marks.find(mark => mark.name === name)) || null;
}

export function freeMark(reference, stem = "light") {
  const taken = new Set(reference.marks.map(mark => mark.name));
  for (let n = 1; ; n += 1) if (!taken.has(`${stem} ${n}`)) return `${stem} ${n}`;
}

const whole = ([x, y]) => [Math.max(0, Math.round(x)), Math.max(0, Math.round(y))];

export const newMark = (reference, at) => inner("add", reference.name, freeMark(reference), { at_px: whole(at) });
export const movedMark = (picture, name, at) => inner("set", picture, name, { at_px: whole(at) });
export const setMark = (picture, name, values) => inner("set", picture, name, values);

const speaksOf = (row, picture, mark) => row.of === picture && row.mark === mark;
const kept = row => Object.fromEntries(EVIDENCE.filter(key => row[key] !== null && row[key] !== undefined && row[key] !== "").map(key => [key, row[key]]));

// Evidence of all items with one mark's rows made other ones; only items that this changes.
function evidenceChanges(plan, renew) {
  return itemsOf(plan).flatMap(({ kind, item }) => {
    const was = item.evidence || [], now = renew(item, was);
    return now === was ? [] : [{ action: "set", kind, name: item.name, values: { evidence: now.map(kept) } }];
  });
}

const without = (picture, mark) => (item, rows) => rows.some(row => speaksOf(row, picture, mark)) ? rows.filter(row => !speaksOf(row, picture, mark)) : rows;

// A mark tied to an item (or to none): the mark names it, the item has it as evidence, another one has it no longer.
export function tied(plan, picture, name, to) {
  const mark = markOf(plan, picture, name);
  if (!mark) return [];
  const target = to ? itemAt(plan, to) : null, none = without(picture, name);
  const evidence = evidenceChanges(plan, (item, rows) => {
    if (!target || item !== target) return none(item, rows);
    return rows.some(row => speaksOf(row, picture, name)) ? rows : [...rows, evidenceOf(picture, mark)];
  });
  return [inner("set", picture, name, { lamp: target ? target.name : null }), ...evidence];
}

export function evidenceOf(picture, mark) {
  return { kind: "picture", of: picture, mark: mark.name, says: "for", certainty: mark.certainty };
}

// A lamp that is not there yet, for a mark: placed or not, with its evidence, in one step.
export function lampFor(plan, picture, mark, name, { where = null, states }) {
  const place = where ? { part: where.part, at_mm: where.at } : {};
  return [
    { action: "add", kind: "lamps", name, values: { ...place, colour: mark.colour || "warm white", states, evidence: [kept(evidenceOf(picture, mark))] } },
    ...evidenceChanges(plan, without(picture, mark.name)), inner("set", picture, mark.name, { lamp: name }),
  ];
}

export function renamedMark(plan, picture, name, fresh) {
  return [inner("set", picture, name, { name: fresh }), ...evidenceChanges(plan, (item, rows) => rows.some(row => speaksOf(row, picture, name)) ? rows.map(row => speaksOf(row, picture, name) ? { ...row, mark: fresh } : row) : rows)];
}

// How sure the mark is, is how sure its evidence is.
export function surenessSet(plan, picture, name, certainty) {
  return [inner("set", picture, name, { certainty }), ...evidenceChanges(plan, (item, rows) => rows.some(row => speaksOf(row, picture, name)) ? rows.map(row => speaksOf(row, picture, name) ? { ...row, certainty } : row) : rows)];
}

export const removedMark = (plan, picture, name) => [inner("remove", picture, name, {}), ...evidenceChanges(plan, without(picture, name))];

export function removedPicture(plan, picture) {
  return [...evidenceChanges(plan, (item, rows) => rows.some(row => row.of === picture && row.kind === "picture") ? rows.filter(row => row.of !== picture || row.kind !== "picture") : rows),
    { action: "remove", kind: "references", name: picture, values: {} }];
}

// What of each mark: tied to nothing, tied to something without a place, or placed.
export function standingOf(plan, picture, mark) {
  const entry = itemsOf(plan).find(({ item }) => mark.lamp ? item.name === mark.lamp : (item.evidence || []).some(row => speaksOf(row, picture, mark.name)));
  if (!entry) return { word: "not a lamp yet", key: null, placed: false };
  const placed = Boolean(entry.item.part);
  return { word: entry.item.worth === "left out" ? "left out" : placed ? "placed" : "not placed yet", key: keyOf(entry.kind, entry.item.name), placed: placed || entry.item.worth === "left out" };
}

export function marksToPlace(plan) {
  return plan.references.flatMap(picture => picture.marks.filter(mark => !standingOf(plan, picture.name, mark).placed).map(mark => ({ picture: picture.name, mark })));
}

export function lampsWithoutMark(plan) {
  const named = new Set(plan.references.flatMap(picture => picture.marks.map(mark => mark.lamp)).filter(Boolean));
  return itemsOf(plan).filter(({ item }) => !named.has(item.name) && !(item.evidence || []).some(row => row.mark));
}

// --- looking at a picture: pixels of the picture to pixels of its frame -----------------------------------------------

export function fittedPicture(picture, frame) {
  const scale = Math.min(frame.width / picture.width, frame.height / picture.height);
  return { scale, x: (frame.width - picture.width * scale) / 2, y: (frame.height - picture.height * scale) / 2 };
}

export const toFrame = (view, [x, y]) => [view.x + x * view.scale, view.y + y * view.scale];
export const toPicture = (view, [x, y]) => [(x - view.x) / view.scale, (y - view.y) / view.scale];

export function zoomedPicture(view, at, factor, least) {
  const scale = Math.min(20, Math.max(least, view.scale * factor)), [x, y] = toPicture(view, at);
  return { scale, x: at[0] - x * scale, y: at[1] - y * scale };
}

// --- other witnesses ------------------------------------------------------------------------------------------------

export const withEvidence = (item, row) => ({ evidence: [...(item.evidence || []), row].map(kept) });
export const withoutEvidence = (item, n) => ({ evidence: item.evidence.filter((_, m) => m !== n).map(kept) });

export function evidenceWords(row) {
  const what = [row.of && `'${row.of}'`, row.mark && `mark '${row.mark}'`].filter(Boolean).join(", ");
  const count = row.count ? `, shows ${row.count[0] === row.count[1] ? row.count[0] : row.count.join(" to ")}` : "";
  return `${row.kind}${what ? ` ${what}` : ""}${row.says === "against" ? " against it" : ""}, ${Math.round(row.certainty * 100)} % sure${count}`;
}
