// What is done, as the log tells it: ticks, readings, pieces. Pure.

const same = (a, b) => `${a || ""}`.toLowerCase() === `${b || ""}`.toLowerCase();

// The entry of a step; the log may call it by its key or its title.
export function entryOf(log, step) {
  return log.find(row => (same(row.step, step.key) || same(row.step, step.title)) && (row.part || null) === (step.part || null)) || null;
}

export const pieceOf = (log, piece) => log.find(row => same(row.step, piece.piece) && !row.part) || null;

export const isDone = entry => Boolean(entry) && entry.how !== "begun";

export function readingsOf(log, step, name) {
  const entry = entryOf(log, step);
  return entry ? entry.readings.filter(row => same(row.what, name)) : [];
}

// Below, within or above what was foretold.
export function verdict(reading, value) {
  if (value < reading.low) return "below";
  if (reading.high !== null && value > reading.high) return "above";
  return "within";
}

export function verdictWords(reading, value) {
  const found = verdict(reading, value);
  if (found === "within") return `Within: ${reading.expect} expected.`;
  return `Stop: ${found} what was expected, ${reading.expect}. Look before you go on.`;
}

// How a gate stands: readings that are missing, outside, or read twice differently.
export function gateStanding(step, log) {
  const standing = { missing: [], outside: [], twice: [] };
  for (const reading of step.readings) {
    const found = readingsOf(log, step, reading.name);
    if (!found.length) standing.missing.push(reading.name);
    if (found.length > 1) standing.twice.push(reading.name);
    if (found.some(row => verdict(reading, row.value) !== "within")) standing.outside.push(reading.name);
  }
  return standing;
}

export function progress(steps, log) {
  const done = steps.filter(step => isDone(entryOf(log, step))).length;
  return { done, of: steps.length, next: steps.find(step => !isDone(entryOf(log, step))) || null };
}

// Steps that should come before one and are not ticked.
export function waitsFor(step, steps, log) {
  const before = new Set(step.after);
  return steps.filter(row => before.has(row.number) && !isDone(entryOf(log, row)));
}

// A number as people type it: a comma or a point; null for none, NaN for what is no number.
export function typedNumber(text) {
  const plain = `${text}`.trim().replace(",", ".");
  if (!plain) return null;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

export const digits = value => `${Number(value.toPrecision(5))}`;

export function readWords(reading, row) {
  if (/^more than the dial/.test(row.note || "")) return "more than the dial shows";
  return `${digits(row.value / reading.per_shown)} ${reading.shown}`;
}

// The clock time of an entry, with the day if it was another one.
export function whenWords(when, today) {
  const found = /^(\d{4}-\d\d-\d\d) (\d\d:\d\d)/.exec(when || "");
  if (!found) return when || "";
  return found[1] === today ? found[2] : `${found[1]} ${found[2]}`;
}

// --- acts that were not sent yet, shown as if they had been -------------------------------------------------------

export function withActs(log, acts) {
  return acts.reduce(withAct, log);
}

function withAct(log, act) {
  const held = log.find(row => same(row.step, act.step) && (row.part || null) === (act.part || null))
    || log.find(row => same(row.step, act.title) && (row.part || null) === (act.part || null));
  const row = held || { step: act.step, part: act.part || null, how: "begun", readings: [], when: null, by: null };
  const after = changed(row, act);
  if (!held) return after && after !== row ? [...log, after] : log;
  return after ? log.map(one => one === held ? after : one) : log.filter(one => one !== held);
}

function changed(row, act) {
  if (act.kind === "tick") return isDone(row) ? row : { ...row, how: act.how || "done", unsent: true };
  if (act.kind === "untick") return row.readings.length || row.photo || row.note ? { ...row, how: "begun" } : null;
  if (act.kind === "look" || act.kind === "unlook") {
    if (act.kind === "unlook" && !row.looks) return row;
    const kept = (row.looks || []).filter(old => !same(old.state, act.what));
    return { ...row, looks: act.kind === "look" ? [...kept, { state: act.what, dark: act.dark, dim: act.dim, lit: act.lit || [], unsent: true }] : kept };
  }
  if (act.kind === "mended") return null;
  if (act.kind === "cut") return { ...row, how: "done", length_mm: act.length_mm, unsent: true };
  if (act.kind === "uncut") return null;
  if (act.kind === "read") {
    const kept = row.readings.filter(old => !same(old.what, act.what) || !(act.seen || []).includes(old.value));
    if (act.value === null) return { ...row, readings: kept };
    return { ...row, readings: [...kept, { what: act.what, value: act.value, note: act.note || "", unsent: true }] };
  }
  return row;
}
