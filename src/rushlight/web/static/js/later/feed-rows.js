// Which fields a supply has, which rhythms want a maker, and who makes them. Pure.

export const MAKERS = [["nothing yet", "nothing yet"], ["controller", "a small controller"], ["flasher", "a ready-made flasher"], ["self-timed led", "LEDs that time themselves"]];

const OF_KIND = { cell: ["cells"], in_series: ["cells"], in_parallel: ["cells"], adapter_v: ["adapter"], limit_a: ["adapter", "usb adapter", "usb power bank"], bank_mah: ["usb power bank"] };

const LABELS = { kind: "It is", in_series: "Cells in series", in_parallel: "Strings of cells in parallel", adapter_v: "Its voltage", limit_a: "Its rated current", bank_mah: "Its capacity",
  run_h: "It should run for", fuse_a: "Fuse", master: "A master switch", idle_ma: "It takes by itself", least_v: "Lowest voltage that it bears", most_v: "Highest voltage that it bears", pwm_hz: "Pulses a second with which it dims",
  states_by: "What brings up the states", button_pin: "Its pin for the button or reed" };
const UNITS = { v: "V", a: "A", ma: "mA", mah: "mAh" };

const said = row => ({ ...row, label: LABELS[row.key] || "", unit: UNITS[row.unit] || row.unit });

// The rows of a supply's form: only what its kind has; its bay is one that some part has.
export function supplyRows(rows, plan) {
  const { kind } = plan.supply, bays = plan.parts.flatMap(part => part.bays.map(bay => bay.name));
  return rows.filter(row => row.key !== "note" && (!OF_KIND[row.key] || OF_KIND[row.key].includes(kind)))
    .map(row => said(row.key === "bay" ? { ...row, kind: "choice", choices: bays } : row));
}

// The rows of a board's form; a pin for the button only where one steps the states.
export const boardRows = (rows, board) => rows.filter(row => !["note", "pins", ...(board.states_by === "switch" ? ["button_pin"] : [])].includes(row.key)).map(said);

// Every rhythm that a lamp, row or strip has, once, in the order of the plan.
export function drivenRhythms(plan) {
  const all = ["lamps", "rows", "strips"].flatMap(kind => plan[kind]).filter(item => item.worth !== "left out").map(item => item.rhythm);
  return [...new Set(all)].filter(rhythm => rhythm !== "steady");
}

export const madeBy = (plan, rhythm) => (plan.rhythms || []).find(row => row.rhythm === rhythm) || null;

// The plan's makers with one rhythm's put in, changed, or (values null) taken out; the others stay as they are.
export function withMaker(makers, rhythm, values) {
  const held = (makers || []).map(kept), at = held.findIndex(row => row.rhythm === rhythm);
  if (values === null) return held.filter(row => row.rhythm !== rhythm);
  if (at < 0) return [...held, { rhythm, by: "controller", ...values }];
  return held.map((row, n) => n === at ? { ...row, ...values } : row);
}

// As the plan keeps it: what is as when left out is left out.
function kept(row) {
  const own = { rhythm: row.rhythm, by: row.by };
  if (row.drift_share) own.drift_share = row.drift_share;
  if (row.note) own.note = row.note;
  return own;
}

// The evening as the plan says it; else its states with their minutes, as the design takes them.
export function eveningOf(plan) {
  if (plan.evening && plan.evening.length) return plan.evening.map(row => ({ state: row.state, minutes: row.minutes, ...(row.note ? { note: row.note } : {}) }));
  return plan.states.filter(row => row.minutes).map(row => ({ state: row.name, minutes: row.minutes }));
}

// Circuits with like LEDs that may stand in series: the choices of each, and which is held ("" where none is).
export function seriesRows(series, plan) {
  const found = new Map();
  for (const row of series) if (row.in_series > 1) found.set(row.circuit, [...(found.get(row.circuit) || []), row]);
  return [...found].map(([circuit, rows]) => {
    const pin = (plan.pinned || []).findLast(held => held.choice === IN_SERIES && held.of === circuit), longest = [...new Set(rows.map(row => row.in_series))].sort((a, b) => a - b);
    const each = `a ${rows[0].by || "resistor"} each`, best = rows.filter(row => row.best), rule = best.length ? `at most ${Math.max(...best.map(row => row.in_series))} in series` : each;
    const said = most => `at most ${most} in series`, all = heldForAll(plan, IN_SERIES);
    const why = (series.filter(row => row.circuit === circuit && row.best)).map(row => `${row.leds} LEDs: ${row.in_series > 1 ? `${row.in_series} in series` : each}, as ${row.why}.`).join(" ");
    return { circuit, why, value: pin ? pin.value : "", choices: [["", all ? `as held for all: ${all === "1" ? each : said(all)}` : `by the rule: ${rule}`], ["1", `always ${each}`], ...longest.map(most => [String(most), said(most)]),
      ...(pin && pin.value !== "1" && !longest.includes(Number(pin.value)) ? [[pin.value, said(Number(pin.value))]] : [])] };
  });
}

// What is held of one choice for all circuits; a circuit's own goes before it.
const heldForAll = (plan, kind) => ((plan.pinned || []).findLast(held => held.choice === kind && held.of === "all") || {}).value;

const IN_SERIES = "leds_in_series";

// The plan's held choices with one circuit's strings put in, or ("") taken out; the others stay as they are.
export const withSeries = (pins, circuit, most) => withHeld(pins, IN_SERIES, circuit, most);

// What sets the current in each circuit of bare LEDs: the choices, which is held, and a resistor beside a regulator in words.
export function regulatorRows({ feeds, regulators }, plan) {
  return [...new Set(feeds.map(row => row.circuit))].map(circuit => {
    const pin = (plan.pinned || []).findLast(held => held.choice === REGULATOR && held.of === circuit);
    const all = heldForAll(plan, REGULATOR), usual = !all || all === "none" ? "as it comes: a resistor" : `as held for all: ${all === "nearest" ? "the nearest regulator" : all}`;
    const says = feeds.filter(row => row.circuit === circuit).map(row => `With ${row.kind === "resistor" ? "a resistor" : row.count > 1 ? `${row.count} x ${row.part}` : row.part}: ${ma(row.fresh_ma)} fresh, ${ma(row.flat_ma)} flat, up to ${Math.round(row.heat_mw)} mW of heat.`).join(" ");
    return { circuit, says, value: pin ? pin.value : "", choices: [["", usual], ["nearest", "the nearest regulator"], ["none", "always a resistor"], ...regulators.map(name => [name, name])] };
  });
}

const REGULATOR = "regulator", ma = value => `${Number(value.toPrecision(2))} mA`;

export const withRegulator = (pins, circuit, name) => withHeld(pins, REGULATOR, circuit, name);

export function withHeld(pins, kind, circuit, held) {
  const others = (pins || []).filter(pin => pin.choice !== kind || pin.of !== circuit).map(({ of, choice, value, note }) => note ? { of, choice, value, note } : { of, choice, value });
  return held ? [...others, { of: circuit, choice: kind, value: held }] : others;
}

// What is at hand of switches, regulators and resistors, and what may be added: rows of the drawer that are not in the list yet.
export function handRows({ switches, regulators, assortments = [] }, plan) {
  const rows = plan.at_hand || [], has = (table, name) => rows.some(row => row.table === table && row.row === name);
  const more = [["switches", switches], ["regulators", regulators], ["resistors", assortments]].flatMap(([table, names]) => names.filter(name => !has(table, name)).map(name => [`${table}:${name}`, name]));
  return { rows, more };
}

const told = held => (held || []).map(({ table, row, count, values_ohm: ohm, note }) => ({ table, ...(row ? { row } : {}), ...(count > 1 ? { count } : {}), ...(ohm?.length ? { values_ohm: ohm } : {}), ...(note ? { note } : {}) }));

export const ohmList = values => (values || []).map(ohm => ohm >= 1e6 ? `${ohm / 1e6}M` : ohm >= 1000 ? `${ohm / 1000}k` : `${ohm}`).join(", ");

// A typed list of resistances, "470, 4k7, 4,7 kohm", as the plan has them; or what is wrong with it.
export function typedOhms(text) {
  const words = (text || "").replace(/\s*(k|M)(ohm|Ω)/g, "$1").replace(/\s*(ohms?|Ω)/g, "").split(/[;\s]+|,(?=\s|$)/).filter(Boolean);
  const values = words.map(word => word.replace(/^(\d+),(\d+)([RrKkM])$/, "$1.$2$3"));
  const odd = values.filter(word => !OHMS.test(word));
  if (!odd.length) return { values: values.map(word => /^[\d.]+$/.test(word) ? Number(word) : word) };
  const each = odd.map(word => meantOhm(word)).map((meant, n) => `'${odd[n]}'${meant ? ` (${meant}, perhaps)` : ""}`);
  return { wrong: `${each.join(", ")} ${odd.length > 1 ? "are no resistances" : "is no resistance"}. Write 470, 4k7 or 4.7k${odd.some(word => word.includes(",")) ? ", with a space after each comma" : ""}.` };
}

const OHMS = /^(\d+(\.\d+)?[RrKkM]?|\d*[RrKkM]\d+)$/;

// What a word that is no resistance was meant as: without its dash, letters in place of digits, a small m, a letter too many.
function meantOhm(word) {
  const small = /^(\d+(?:\.\d+)?)m$/.exec(word), mega = small && Number(small[1]) <= 10;
  const meant = [word.replace(/^[-\u2212\u2013]+/, ""), word.replace(/[Oo]/g, "0").replace(/[lI]/g, "1"), small ? mega ? `${small[1]}M` : `${Number(small[1]) / 1000}` : "", (/^\d*[RrKkM]\d*/.exec(word) || [""])[0]];
  return meant.find(one => OHMS.test(one));
}

// The plan's parts at hand with the single values of one row of resistors ("": the usual ones) in place of those that stood there.
export function withValues(held, row, values) {
  const rows = told(held), at = rows.findIndex(one => one.table === "resistors" && (one.row || "") === row);
  if (at < 0) return values.length ? [...rows, { table: "resistors", ...(row ? { row } : {}), values_ohm: values }] : rows;
  const { values_ohm: _, ...rest } = rows[at];
  if (!values.length && !row) return rows.filter((_, n) => n !== at);
  return rows.map((one, n) => n !== at ? one : values.length ? { ...rest, values_ohm: values } : rest);
}

// The plan's parts at hand with one row's pieces changed, put in, or (count 0) taken out; the others stay as they are.
export function withPieces(held, table, row, count) {
  const rows = told(held);
  const at = rows.findIndex(one => one.table === table && one.row === row), pieces = count > 1 ? { count } : {};
  if (count < 1) return rows.filter((_, n) => n !== at);
  if (at < 0) return [...rows, { table, row, ...pieces }];
  return rows.map((one, n) => { if (n !== at) return one; const { count: _, ...rest } = one; return { ...rest, ...pieces }; });
}
