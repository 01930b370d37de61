// A reading as people type it: with or without its unit, a comma or a point. Pure.

const PREFIX = { m: 1e-3, u: 1e-6, "µ": 1e-6, "μ": 1e-6, k: 1e3, M: 1e6, "": 1 };
const BASE = { mA: ["A", 1e-3], V: ["V", 1], ohm: ["ohm", 1] };
export const OL_OHM = 1e7;  // what stands for OL in the log

// With the supply off (ohms, the diode test) OL is a reading. {value} in the unit that is asked for, or {wrong} in words; null for nothing typed.
export function typedReading(text, unit, off = unit === "ohm") {
  const plain = `${text}`.trim().replace(",", ".");
  if (!plain) return null;
  if (/^(OL|O\.L\.?)$/i.test(plain)) return off ? { value: OL_OHM } : { wrong: "OL means more than the range holds: turn the dial to the next higher range and read again." };
  const found = /^([-+−]?)\s*(\d+\.?\d*|\.\d+)\s*([muµμkM]?)(A|V|ohm)?$/.exec(plain.replace(/volts?$/i, "V").replace(/v$/, "V").replace(/a$/, "A").replace(/[\u03a9\u2126]$|ohms?$/i, "ohm"));
  if (!found) return { wrong: `Type a number, as the meter shows it, in ${unit}.` };
  const [, sign, digits, prefix, letter] = found, [base, one] = BASE[unit];
  if (prefix && !letter) return { wrong: `Is it ${prefix}${base}? Write the whole unit.` };
  if (letter && letter !== base) return { wrong: `That is in ${prefix}${letter}; this reading is in ${unit}.` };
  const size = Number(digits) * (letter ? PREFIX[prefix] / one : 1);
  const value = Number((sign && sign !== "+" ? -size : size).toPrecision(12));
  return Math.abs(value) > 1e9 ? { wrong: "That is more than any meter shows." } : { value };
}

// Lamps by the row or name that they belong to, in the order given.
export function grouped(names, lamps) {
  const found = new Map();
  for (const name of names) {
    const group = lamps[name] ? lamps[name].group || name : name;
    if (!found.has(group)) found.set(group, []);
    found.get(group).push(name);
  }
  return [...found];
}

export const AFTER = { lit: "dark", dark: "dim", dim: "lit" };

// The marks with one lamp, or all of a group, turned to what comes next; a group follows its first lamp.
export function turned(marks, names) {
  const next = AFTER[marks[names[0]] || "lit"], after = { ...marks };
  for (const name of names) if (next === "lit") delete after[name]; else after[name] = next;
  return after;
}

// Lamps that should be dark: lit or not.
export function lighted(marks, names) {
  const after = { ...marks }, on = marks[names[0]] !== "on";
  for (const name of names) if (on) after[name] = "on"; else delete after[name];
  return after;
}

export const marked = (marks, kind, names) => names.filter(name => marks[name] === kind);

// The nearest lamp to a tap, if it is near enough.
export function nearest(at, places, most) {
  let best = null, least = most;
  for (const [name, [x, y]] of places) {
    const away = Math.hypot(x - at[0], y - at[1]);
    if (away <= least) { best = name; least = away; }
  }
  return best;
}
