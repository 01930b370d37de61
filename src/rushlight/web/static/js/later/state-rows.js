// The states of a plan: added, renamed with all that names them, taken out, in another order. Pure: lists for the API.
import { itemsOf } from "../items.js";

const set = (kind, name, values) => ({ action: "set", kind, name, values });
const filled = values => Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null && value !== "" && !(Array.isArray(value) && !value.length)));

export const litIn = (plan, name) => itemsOf(plan).filter(({ item }) => item.states.includes(name));

// The evening as the plan keeps it, with `now` of each state's name; null takes the stretch out.
function eveningWith(plan, now) {
  if (!plan.evening.length) return [];
  const evening = plan.evening.map(row => filled({ ...row, state: now(row.state) })).filter(row => row.state);
  return [set("plan", "", { evening: evening.length ? evening : null })];
}

// Readings that are told apart by their state end with its name; of two names that fit the longer one counts.
function readingNamed(plan, what, old, fresh) {
  const fits = plan.states.map(row => row.name).filter(name => what.endsWith(`, ${name}`)).sort((a, b) => b.length - a.length)[0];
  return fits === old ? `${what.slice(0, -old.length)}${fresh}` : what;
}

// What was seen and read at the bench in that state, by its new name.
function logRenamed(plan, old, fresh) {
  return (plan.as_built || []).flatMap(row => {
    const looks = row.looks.map(look => filled({ ...look, state: look.state === old ? fresh : look.state }));
    const readings = row.readings.map(one => filled({ ...one, what: readingNamed(plan, one.what, old, fresh) }));
    const changed = row.looks.some(look => look.state === old) || row.readings.some((one, n) => one.what !== readings[n].what);
    return changed ? [set("as_built", row.part ? `${row.step} on ${row.part}` : row.step, { ...(looks.length ? { looks } : {}), ...(readings.length ? { readings } : {}) })] : [];
  });
}

export function renamedState(plan, old, fresh) {
  const now = name => name === old ? fresh : name;
  return [set("states", old, { name: fresh }), ...litIn(plan, old).map(({ kind, item }) => set(kind, item.name, { states: item.states.map(now) })),
    ...(plan.evening.some(row => row.state === old) ? eveningWith(plan, now) : []), ...logRenamed(plan, old, fresh)];
}

export function withoutState(plan, name) {
  return [...litIn(plan, name).map(({ kind, item }) => set(kind, item.name, { states: item.states.filter(one => one !== name) })),
    ...(plan.evening.some(row => row.state === name) ? eveningWith(plan, one => one === name ? null : one) : []), { action: "remove", kind: "states", name, values: {} }];
}

// A new state, last of all; lit in it is what is lit in another one.
export function addedState(plan, name, like) {
  return [{ action: "add", kind: "states", name, values: {} }, ...(like ? litIn(plan, like).map(({ kind, item }) => set(kind, item.name, { states: [...item.states, name] })) : [])];
}

// One place up (-1) or down (1): the lower of the two is put before the other.
export function movedState(plan, name, by) {
  const at = plan.states.findIndex(row => row.name === name), upper = plan.states[Math.min(at, at + by)], lower = plan.states[Math.max(at, at + by)];
  if (!upper || !lower) return [];
  const { name: own, ...values } = filled(lower);
  return [{ action: "remove", kind: "states", name: own, values: {} }, { action: "add", kind: "states", name: own, before: upper.name, values: { ...values, ...(values.poses ? { poses: values.poses.map(filled) } : {}) } }];
}
