// Numbers that the modeller knows better, and readings at the bench: what the plan keeps of them. Pure.

const UNITS = [["_lm_per_m", "lm/m"], ["_w_per_m", "W/m"], ["_k_per_w", "K/W"], ["_mah", "mAh"], ["_mcd", "mcd"], ["_deg", "degrees"], ["_mm", "mm"], ["_ma", "mA"], ["_nm", "nm"], ["_k", "K"], ["_v", "V"], ["_a", "A"], ["_m", "m"], ["_c", "deg C"], ["_eur", "euro"]];

// A column's name as people say it: "power_w_per_m" is "power, W/m".
export function columnWords(column) {
  const [end, unit] = UNITS.find(([word]) => column.endsWith(word) && column.length > word.length) || ["", ""];
  const words = column.slice(0, column.length - end.length).replaceAll("_", " ");
  return unit ? `${words}, ${unit}` : words;
}

// The plan's own values and habits as one list, in the order of the plan.
export function ownRows(plan) {
  const values = (plan.drawer || []).map((row, n) => ({ list: "drawer", n, what: `${row.row}: ${columnWords(row.column)}`, value: `${row.value}`, how: row.measured ? "measured" : "known better" }));
  const habits = (plan.practice || []).map((row, n) => ({ list: "practice", n, what: row.habit.replaceAll("_", " "), value: row.to === null ? `${row.value}` : `${row.value} to ${row.to}`, how: "habit" }));
  const measured = (plan.measured || []).map((row, n) => ({ list: "measured", n, what: `${row.what}: ${row.of}`, value: row.readings.join(", "), how: "measured" }));
  return [...measured, ...values, ...habits];
}

// The plan's list without one of its rows.
export const without = (plan, list, n) => ({ [list]: plan[list].filter((_, place) => place !== n).map(kept) });

// The plan's lists with a value of a part put in; an older one of the same place gives way.
export function withValue(plan, { table, row, column }, value, measured) {
  const others = (plan.drawer || []).filter(own => own.table !== table || own.row !== row || own.column !== column).map(kept);
  return { drawer: [...others, { table, row, column, value, ...(measured ? { measured } : {}) }] };
}

export function withHabit(plan, habit, value, to = null) {
  const others = (plan.practice || []).filter(own => own.habit !== habit).map(kept);
  return { practice: [...others, { habit, value, ...(to === null ? {} : { to }) }] };
}

// The plan's readings with one put in; an older one of the same thing by the same method gives way.
export function withMeasured(plan, entry) {
  const others = (plan.measured || []).filter(one => one.what !== entry.what || one.of !== entry.of || (one.led || "") !== (entry.led || "") || (one.what === "bundle width" && one.count !== entry.count)).map(kept);
  return { measured: [...others, entry] };
}

const kept = row => Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null && value !== "" && value !== false && !(Array.isArray(value) && !value.length)));

// --- boxes of a bench method --------------------------------------------------------------------------------------

export const BOXES = { distance_mm: "Distance to the meter, mm", at_ma: "Current that flows, mA", fibre_mm: "Width of the test piece, mm", length_mm: "Length of the piece, mm", thickness_mm: "Thickness of the piece, mm", printed_mah: "Printed on it, mAh", printed_v: "Printed on it, V", count: "How many (coats, fibres)", pulse_hz: "Pulses of the lamp that it saw, Hz", readout_ms: "If bands were counted: the camera's time for them, ms", radius_mm: "Radius of the bend, mm", power_w: "Burnt inside, W (volts times amperes)", turn_deg: "How far it turns, degrees", off_share: "Your meter may be off by, as a share (0.1 is a tenth)" };

// "12, 14 and 13" as numbers; nothing where one is no number above 0.
export function numbersOf(text) {
  const words = String(text ?? "").split(/[\s,;]+|and/).filter(Boolean), found = words.map(Number);
  return found.length && found.every(value => value > 0) ? found : null;
}

// What was typed as an entry of the plan's readings, or null while something that the method needs is missing.
export function asMeasured(method, typed) {
  const lists = method.lists.map(([key]) => [key, numbersOf(typed[key])]);
  const single = [...method.needs, ...method.may].map(key => [key, typed[key]]);
  const missing = lists.some(([key, value]) => !value && (!(method.spare || []).includes(key) || String(typed[key] ?? "").trim())) || method.needs.some(key => key === "led" || key === "state" ? !typed[key] : !(typed[key] > 0));
  return missing || !typed.of ? null : kept({ what: method.what, of: typed.of, ...Object.fromEntries([...lists, ...single].map(([key, value]) => [key, value ?? null])) });
}
