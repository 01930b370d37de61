// Which lamps, rows and strips are meant: filters, groups and counts of big plans. Pure.
import { itemsOf } from "./items.js";

export const ANY = { words: "", part: "", colour: "", state: "", made: "", version: "", worth: "", circuit: "", evidence: "" };

export const MADE = { led: "LED at the hole", fibre: "fibre", strip: "LED strip", room: "LED in a room" };
export const UNMADE = "not built now";
export const UNPLACED = "not placed yet";
export const EVERY_VERSION = "every version";

// What is known of each item beside what the plan says: what makes it, its circuits, how many lamps it is.
export function factsOf(plan, look) {
  const lamps = new Map();
  for (const lamp of look.lamps) {
    if (!lamps.has(lamp.group)) lamps.set(lamp.group, []);
    lamps.get(lamp.group).push(lamp);
  }
  return itemsOf(plan).map(entry => {
    const own = lamps.get(entry.item.name) || [], { item } = entry;
    return {
      ...entry, lamps: own, parts: [...new Set([item.part, item.mirror && item.mirror.part].filter(Boolean))],
      made: own.length && own[0].kind ? MADE[own[0].kind] : own.length ? UNPLACED : UNMADE,
      circuits: [...new Set(own.map(lamp => lamp.circuit).filter(Boolean))],
      versions: item.versions && item.versions.length ? item.versions : [EVERY_VERSION],
      evidence: (item.evidence || []).length,
    };
  });
}

const TESTS = {
  words: (fact, text) => {
    const all = `${fact.item.name} ${fact.parts.join(" ")} ${fact.item.colour} ${fact.kind} ${fact.made} ${fact.item.states.join(" ")} ${fact.item.note || ""}`.toLowerCase();
    return text.toLowerCase().split(/\s+/).every(word => all.includes(word));
  },
  part: (fact, part) => part === UNPLACED ? !fact.parts.length : fact.parts.includes(part),
  colour: (fact, colour) => fact.item.colour === colour,
  state: (fact, state) => fact.item.states.includes(state),
  made: (fact, made) => fact.made === made,
  version: (fact, version) => fact.versions.includes(version) || fact.versions.includes(EVERY_VERSION),
  worth: (fact, worth) => fact.item.worth === worth,
  circuit: (fact, circuit) => fact.circuits.includes(circuit),
  evidence: (fact, word) => (word === "without") === (fact.evidence === 0),
};

export function picked(facts, filter) {
  const asked = Object.entries(filter).filter(([key, value]) => value && TESTS[key]);
  return facts.filter(fact => asked.every(([key, value]) => TESTS[key](fact, value)));
}

export const narrowed = filter => Object.values(filter).some(Boolean);

const sorted = words => [...new Set(words)].sort((a, b) => a.localeCompare(b, undefined, { numeric: true }));

// What each filter may be set to: only what is there.
export function choicesFor(facts, plan) {
  return {
    part: [...plan.parts.map(part => part.name).filter(name => facts.some(fact => fact.parts.includes(name))), ...(facts.some(fact => !fact.parts.length) ? [UNPLACED] : [])],
    colour: sorted(facts.map(fact => fact.item.colour)),
    state: plan.states.map(state => state.name),
    made: sorted(facts.map(fact => fact.made)),
    version: plan.versions.map(version => version.name),
    worth: sorted(facts.map(fact => fact.item.worth)),
    circuit: sorted(facts.flatMap(fact => fact.circuits)),
    evidence: facts.length ? ["without", "with"] : [],
  };
}

export const GROUPS = { "": "as in the plan", part: "by part", circuit: "by circuit", made: "by what makes them", version: "by version", colour: "by colour", worth: "by worth" };

const HEADS = {
  part: fact => fact.parts.length ? fact.parts : [UNPLACED],
  circuit: fact => fact.circuits.length ? fact.circuits.map(name => `circuit ${name}`) : ["in no circuit"],
  made: fact => [fact.made],
  version: fact => fact.versions,
  colour: fact => [fact.item.colour],
  worth: fact => [fact.item.worth],
};

// Groups in order, each with its head and what belongs to it; what belongs to two stands in both.
export function grouped(facts, by) {
  if (!HEADS[by]) return [{ head: "", facts }];
  const groups = new Map();
  for (const fact of facts) for (const head of HEADS[by](fact)) {
    if (!groups.has(head)) groups.set(head, []);
    groups.get(head).push(fact);
  }
  const heads = by === "part" ? [...groups.keys()] : sorted([...groups.keys()]);
  return heads.map(head => ({ head, facts: groups.get(head) }));
}

export const lampsIn = facts => facts.reduce((sum, fact) => sum + fact.lamps.length, 0);

// The part of a list that is in sight: rows of one height each, `extra` of them higher.
export function windowOf({ count, height, top, bottom, spare = 6, tall = -1, tallBy = 0 }) {
  const at = n => n * height + (tall >= 0 && n > tall ? tallBy : 0);
  const total = at(count);
  const nearest = place => {
    if (tall < 0 || place <= (tall + 1) * height) return Math.floor(place / height);
    return Math.max(tall, Math.floor((place - tallBy) / height));
  };
  const first = Math.max(0, Math.min(count, nearest(Math.max(0, top))) - spare);
  const last = Math.min(count, nearest(Math.max(0, bottom)) + 1 + spare);
  return { first, last: Math.max(first, last), before: at(first), after: Math.max(0, total - at(Math.max(first, last))), at };
}

// Columns in pages of like length, each [first, last), of no more than go side by side.
export function columnPages(count, fit) {
  const side = Math.ceil(count / Math.ceil(count / Math.max(1, fit))) || 1;
  return Array.from({ length: Math.max(1, Math.ceil(count / side)) }, (_, n) => [n * side, Math.min(count, (n + 1) * side)]);
}

// Of each version: what belongs to it alone, to it and others, to all; and what it leaves out.
export function versionTable(plan, facts) {
  return plan.versions.map(({ name, note }) => {
    const belongs = facts.filter(fact => fact.versions.includes(name)), all = facts.filter(fact => fact.versions.includes(EVERY_VERSION));
    const wanted = [...belongs, ...all].filter(fact => fact.item.worth !== "left out");
    return { name, note, chosen: plan.version === name, own: belongs, all: all.length, built: wanted.length,
      without: facts.filter(fact => !fact.versions.includes(name) && !fact.versions.includes(EVERY_VERSION)) };
  });
}

export function worthTable(facts) {
  return ["must", "wished", "left out"].map(worth => ({ worth, facts: facts.filter(fact => fact.item.worth === worth) }));
}

// Where an arrow key goes in a grid of rows and columns; null for another key.
export function cellAfter([row, column], key, rows, columns) {
  const to = {
    ArrowUp: [row - 1, column], ArrowDown: [row + 1, column], ArrowLeft: [row, column - 1], ArrowRight: [row, column + 1],
    PageUp: [row - 12, column], PageDown: [row + 12, column], Home: [row, 0], End: [row, columns - 1],
  }[key];
  return to ? [Math.max(0, Math.min(rows - 1, to[0])), Math.max(0, Math.min(columns - 1, to[1]))] : null;
}
