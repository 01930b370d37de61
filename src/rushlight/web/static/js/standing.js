// What stands on a part, and what becomes of it when the part is renamed or taken out. Pure: lists for the API.

const of = (kind, item, values) => ({ action: "set", kind, name: item.name, values });
const gone = (kind, item) => ({ action: "remove", kind, name: item.name, values: {} });

const inside = (action, part, list, item, values = {}) => ({ action, kind: "parts", name: part.name, list, item: item.name, values });

// Openings of other parts that this part shuts, and obstacles on them that move with it.
function moved(plan, part) {
  const others = plan.parts.filter(row => row.name !== part);
  return {
    doors: others.flatMap(row => row.openings.filter(item => item.door && item.door.part === part).map(item => [row, item])),
    stands: others.filter(row => row.stands && row.stands.over === part),
    obstacles: others.flatMap(row => (row.obstacles || []).filter(item => item.moves_with === part).map(item => [row, item])),
  };
}

// Lamps and rows that light this part, and rows whose mirrored half does.
const litBy = (plan, part) => ({
  lamps: plan.lamps.filter(row => row.lights_part === part), rows: plan.rows.filter(row => row.lights_part === part),
  mirrors: plan.rows.filter(row => row.mirror && row.mirror.lights_part === part && row.lights_part !== part),
});
const bare = ({ lights_part, lights_line_mm, ...mirror }) => mirror;
const dark = { lights_mm: null, lights_part: null };

export function standingOn(plan, part) {
  const on = rows => rows.filter(row => row.part === part);
  return {
    lamps: on(plan.lamps), rows: plan.rows.filter(row => row.part === part || (row.mirror && row.mirror.part === part)), strips: on(plan.strips),
    crossings: plan.crossings.filter(row => row.ends.some(end => end.part === part)),
    spaces: plan.spaces.filter(row => row.parts.includes(part)),
    states: plan.states.filter(row => row.poses.some(pose => pose.part === part)),
    done: on(plan.as_built || []).map(row => ({ ...row, name: `${row.step} on ${row.part}` })), // an entry of the log has no other name
    supply: Boolean(plan.supply && plan.supply.bay && plan.parts.some(row => row.name === part && row.bays.some(bay => bay.name === plan.supply.bay))),
  };
}

export function standingWords(plan, part) {
  const rows = standingOn(plan, part), words = [];
  const say = (list, one, many = `${one}s`) => { if (list.length) words.push(`${list.length} ${list.length === 1 ? one : many}`); };
  say(rows.lamps, "lamp");
  say(rows.rows, "row of lamps", "rows of lamps");
  say(rows.strips, "strip");
  say(rows.crossings, "crossing");
  if (rows.supply) words.push("the bay of the supply");
  say(rows.done, "entry of the log", "entries of the log");
  return words;
}

// The changes that take a part out. `lamps`: "unplaced" keeps single lamps, without a place; "remove" takes them too.
// Rows, strips and crossings cannot be without their part and go with it.
export function withoutPart(plan, part, lamps) {
  const rows = standingOn(plan, part), lit = litBy(plan, part);
  return [
    ...lit.lamps.map(item => of("lamps", item, { ...dark, foot_mm: null, aim_mm: null })),
    ...lit.rows.map(item => of("rows", item, { ...dark, feet_mm: null, aim_by_mm: null, ...(item.mirror ? { mirror: bare(item.mirror) } : {}) })),
    ...lit.mirrors.map(item => of("rows", item, { mirror: bare(item.mirror) })),
    ...rows.lamps.map(item => lamps === "unplaced" ? of("lamps", item, { part: null, at_mm: null, opening: null }) : gone("lamps", item)),
    ...rows.rows.map(item => item.part === part ? gone("rows", item) : of("rows", item, { mirror: null })),
    ...rows.strips.map(item => gone("strips", item)),
    ...rows.crossings.map(item => gone("crossings", item)),
    ...rows.spaces.map(item => item.parts.length > 1 ? of("spaces", item, { parts: item.parts.filter(name => name !== part) }) : gone("spaces", item)),
    ...rows.states.map(item => of("states", item, { poses: item.poses.filter(pose => pose.part !== part) })),
    ...rows.done.map(item => gone("as_built", item)),
    ...(rows.supply ? [{ action: "set", kind: "supply", name: "", values: { bay: null } }] : []),
    ...moved(plan, part).doors.map(([row, item]) => inside("set", row, "openings", item, { door: null })),
    ...moved(plan, part).stands.map(row => of("parts", row, { stands: null })),
    ...moved(plan, part).obstacles.map(([row, item]) => inside("remove", row, "obstacles", item)),
    { action: "remove", kind: "parts", name: part, values: {} },
  ];
}

const mirrorNow = (mirror, now) => ({ ...mirror, part: now(mirror.part), ...(mirror.lights_part ? { lights_part: now(mirror.lights_part) } : {}) });

// The changes that give a part another name, everywhere.
export function renamedPart(plan, part, name) {
  const rows = standingOn(plan, part), lit = litBy(plan, part), now = old => old === part ? name : old;
  return [
    { action: "set", kind: "parts", name: part, values: { name } },
    ...[["lamps", lit.lamps], ["rows", lit.rows]].flatMap(([kind, list]) => list.map(item => of(kind, item, { lights_part: name }))),
    ...rows.lamps.map(item => of("lamps", item, { part: name })),
    ...rows.rows.map(item => of("rows", item, { part: now(item.part), ...(item.mirror ? { mirror: mirrorNow(item.mirror, now) } : {}) })),
    ...lit.mirrors.filter(item => !rows.rows.includes(item)).map(item => of("rows", item, { mirror: mirrorNow(item.mirror, now) })),
    ...rows.strips.map(item => of("strips", item, { part: name })),
    ...rows.crossings.map(item => of("crossings", item, { ends: item.ends.map(end => ({ ...end, part: now(end.part) })) })),
    ...rows.spaces.map(item => of("spaces", item, { parts: item.parts.map(now) })),
    ...rows.states.map(item => of("states", item, { poses: item.poses.map(pose => ({ ...pose, part: now(pose.part) })) })),
    ...moved(plan, part).doors.map(([row, item]) => inside("set", row, "openings", item, { door: { ...item.door, part: name } })),
    ...moved(plan, part).stands.map(row => of("parts", row, { stands: { ...row.stands, over: name } })),
    ...moved(plan, part).obstacles.map(([row, item]) => inside("set", row, "obstacles", item, { moves_with: name })),
    ...rows.done.map(item => of("as_built", item, { part: name })),
  ];
}

// What else changes when an opening is renamed (to null: taken out): strips and lamps name it, a bay the supply.
export function followers(plan, part, kind, old, name) {
  if (kind === "bays" && plan.supply && plan.supply.bay === old) return [{ action: "set", kind: "supply", name: "", values: { bay: name } }];
  if (kind !== "openings") return [];
  const strips = plan.strips.filter(row => row.part === part && row.openings.includes(old)).map(row => {
    const openings = row.openings.map(word => word === old ? name : word).filter(Boolean);
    return openings.length ? of("strips", row, { openings }) : gone("strips", row);
  });
  return [...strips, ...plan.lamps.filter(row => row.part === part && row.opening === old).map(row => of("lamps", row, { opening: name }))];
}
