// What is known of the plan and how fresh it is. Pure.

// An answer is kept only if it belongs to the plan as it stands; an older one stays in sight as old.
export function received(state, answer) {
  if (!state.plan || answer.revision !== state.revision) return state;
  return { ...state, answer, stage: "", failed: "" };
}

export function isFresh(state) {
  return Boolean(state.answer) && state.answer.revision === state.revision;
}

// A plan that comes from the server takes the place of the old one; nothing that was worked out is fresh then.
export function planTaken(state, fresh) {
  return {
    ...state, revision: fresh.revision, plan: fresh.plan, look: fresh.look, steps: fresh.steps,
    pictures: fresh.pictures, outside: fresh.outside, failed: "",
    chosen: state.chosen.filter(key => hasItem(fresh.plan, key)),
    state: fresh.plan.states.some(row => row.name === state.state) ? state.state : fresh.plan.states[0].name,
  };
}

// A state as the server tells it: whole, or as what changed since the one that is held. Null: the held one is not that.
export function wholeState(held, told) {
  if (!told.since) return told;
  if (!held || held.revision !== told.since) return null;
  const { plan_now, look_now, since, ...rest } = told;
  return { ...rest, plan: renewed(held.plan, plan_now), look: renewed(held.look, look_now) };
}

// Lists come as pieces: [first, end] of the old list, or a new item.
function renewed(old, now) {
  const next = { ...old };
  for (const [key, value] of Object.entries(now)) {
    const list = Array.isArray(value) && Array.isArray(old[key]) && key !== "circuits";
    next[key] = list ? value.flatMap(piece => Array.isArray(piece) ? old[key].slice(piece[0], piece[1]) : [piece]) : value;
  }
  return next;
}

function hasItem(plan, key) {
  const at = key.indexOf("/");
  return (plan[key.slice(0, at)] || []).some(item => item.name === key.slice(at + 1));
}

const STAGES = ["reading the plan", "lamps", "sources", "circuits", "aim", "loom", "strings", "power", "light", "heat", "order",
  "shopping", "findings"];

export function stageWords(stage) {
  const at = STAGES.indexOf(stage);
  return at < 0 ? stage || "starting" : `${stage} (${at + 1} of ${STAGES.length})`;
}

export const count = (number, one, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;

export const amount = (value, unit) => `${Number(value.toPrecision(value >= 100 ? 3 : 2))} ${unit}`;
