// Numbers that the modeller knows better: what the plan keeps of them, and what a phone's lux readings come to. Pure.

const JOINT = "practice";

export const isSpan = reading => reading.table === JOINT;

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
  return [...values, ...habits];
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

// A reading goes where its guess stands: a value of a part, or a habit with the span of what was found.
export function withReading(plan, reading, value, to = null) {
  return reading.table === JOINT ? withHabit(plan, reading.row, value, to) : withValue(plan, reading, value, true);
}

const kept = row => Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null && value !== "" && value !== false));

// --- from lux readings --------------------------------------------------------------------------------------------

const WAYS = {
  intensity_mcd: { fields: [["lux", "The meter shows, lux"], ["away", "Distance, mm"], ["at_ma", "Current through it, mA"]], of: ({ lux, away, at_ma, test_ma }) => lux * (away / 1000) ** 2 * 1000 * (test_ma / at_ma) },
  transmittance: { fields: [["bare", "Without the sheet, lux"], ["covered", "With the sheet, lux"]], of: ({ bare, covered }) => covered / bare },
  density: { fields: [["bare", "Without a coat, lux"], ["covered", "With coats, lux"], ["coats", "Coats"]], of: ({ bare, covered, coats }) => Math.log10(bare / covered) / coats },
};
WAYS.transmittance_1mm = { fields: [["bare", "Without it, lux"], ["covered", "Through a piece 1 mm thick, lux"]], of: WAYS.transmittance.of };

// The boxes for readings of a column, or nothing where no such way is known.
export const luxFields = column => (WAYS[column] || { fields: [] }).fields;

// What the readings come to, or null while one is missing or makes no sense.
export function fromLux(column, typed) {
  const way = WAYS[column];
  if (!way || way.fields.some(([key]) => !(typed[key] > 0))) return null;
  const value = way.of(typed);
  return Number.isFinite(value) && value > 0 ? tidy(value) : null;
}

const tidy = value => Number(value.toPrecision(3));
