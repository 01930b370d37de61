// The leaf of lamps: find them, list them, change one or many.
import { html, useEffect, useMemo, useRef } from "../vendor/preact-htm.js";
import { count, isFresh } from "./answers.js";
import { Arrange } from "./arrange.js";
import { Choice, Typed, choicesOf } from "./fields.js";
import { EvidenceOf } from "./evidence-of.js";
import { Filters } from "./filters.js";
import { Later } from "./later.js";
import { freeName, keyOf, parted, round, spread, ticked } from "./items.js";
import { Many } from "./many-form.js";
import { renamed } from "./named.js";
import { factsOf, grouped, lampsIn, picked } from "./pick.js";
import { Roll } from "./roll.js";
import { lengthWords } from "./ruler.js";
import { Versions } from "./versions.js";

const ROW_PX = 47;

export function Lamps({ desk, state, sheet }) {
  const facts = useMemo(() => factsOf(state.plan, state.look), [state.plan, state.look]);
  const shown = useMemo(() => picked(facts, state.filter), [facts, state.filter]);
  const rows = useMemo(() => grouped(shown, state.groupBy).flatMap(group => [
    ...(group.head ? [{ key: `head ${group.head}`, head: group.head, facts: group.facts }] : []),
    ...group.facts.map(fact => ({ ...fact, entry: fact.key, key: `${group.head}/${fact.key}` })),
  ]), [shown, state.groupBy]);
  const add = () => {
    const part = state.part || sheet.middlePart() || state.plan.parts[0].name;
    placeLamp(desk, state, { part, at: sheet.centreOf(part) });
  };
  const one = state.chosen.length === 1 ? state.chosen[0] : null;
  const tall = one ? rows.findIndex(row => row.entry === one) : -1;
  return html`<div class="tools"><button onClick=${add}>Add a lamp</button></div>
  <${Later} load=${() => import("./later/strips.js")} of="NewStrip" says="" desk=${desk} state=${state} />
  <${Filters} desk=${desk} state=${state} facts=${facts} shown=${shown} groups />
  ${facts.length + state.plan.versions.length > 0 && html`<${Versions} desk=${desk} state=${state} facts=${facts} />`}
  ${state.chosen.length > 1 && html`<${Many} desk=${desk} state=${state}><${Arrange} desk=${desk} state=${state} sheet=${sheet} /></${Many}>`}
  ${one && tall < 0 && html`<${Chosen} desk=${desk} state=${state} of=${one} sheet=${sheet} />`}
  ${facts.length === 0 && html`<p>No lamps yet. Click or tap twice on the place of a part where a light should be seen, or press "Add a lamp".</p>`}
  ${shown.length > 1 && html`<div class="tools"><button class="plain" onClick=${() => desk.set({ chosen: shown.map(fact => fact.key) })}>Choose all ${shown.length}</button></div>`}
  <${Roll} rows=${rows} height=${ROW_PX} tall=${tall} label="Lamps, rows and strips" draw=${(row, props) => row.head !== undefined
    ? html`<button class="row titled" ...${props} onClick=${() => desk.set({ chosen: row.facts.map(fact => fact.key) })} title="Choose all of them"><strong>${row.head}</strong><small>${row.facts.length} with ${count(lampsIn(row.facts), "lamp")}</small></button>`
    : html`<${LampRow} row=${row} props=${props} desk=${desk} state=${state} sheet=${sheet} />`} />`;
}

export function placeLamp(desk, state, where) {
  if (!where) return;
  const values = { part: where.part, at_mm: where.at, colour: "warm white", states: [state.state] };
  desk.added(plan => [{ action: "add", kind: "lamps", name: freeName(plan, "lamp"), values }], ([lamp]) => `${lamp.name} placed`)
    .then(done => done && desk.set({ leaf: "lamps" }));
}

const KIND_WORDS = { lamps: "", rows: "row", strips: "strip" };

function LampRow({ row, props, desk, state, sheet }) {
  const { item, kind, entry: key } = row, on = state.chosen.includes(key), lamp = row.lamps[0];
  const choose = event => {
    const chosen = desk.choose(key, event.shiftKey || event.ctrlKey || event.metaKey || (on && state.chosen.length > 1));
    if (!on && chosen.length === 1 && lamp && lamp.part) sheet.lookAt(lamp.part, lamp.at_mm);
  };
  const number = kind === "lamps" ? "" : `${row.lamps.length} `;
  const worth = item.worth === "must" ? "" : `; ${item.worth}`;
  const left = item.worth === "left out" ? item.worth : "not in this version";
  const said = [number + KIND_WORDS[kind], lamp && lamp.letter, item.rhythm !== "steady" && item.rhythm].filter(Boolean).join(" ");
  return html`<button class=${on ? "row on" : "row"} aria-pressed=${on} onClick=${choose} ...${props}>
    <span class="dot" style=${{ background: lamp ? lamp.rgb : "transparent" }}></span><strong>${item.name}</strong>
    <small>${said && `${said}; `}${lamp ? `${item.part || "not placed yet"}${worth}` : left}</small>
  </button>${on && state.chosen.length === 1 && html`<${Chosen} desk=${desk} state=${state} of=${key} sheet=${sheet} />`}`;
}

function Chosen({ desk, state, sheet, of }) {
  const { kind } = parted(of), item = desk.item(of), words = state.words, form = useRef(null);
  useEffect(() => { if (form.current) form.current.scrollIntoView({ block: "nearest" }); }, [of]);
  if (!item) return null;
  const set = (values, what) => desk.edit(of, values, `${item.name}: ${what}`);
  const lamp = state.look.lamps.find(row => row.group === item.name);
  const glow = state.answer && isFresh(state) && lamp && state.answer.glow[state.state] && state.answer.glow[state.state][lamp.name];
  const rename = name => name && desk.change(renamed(state.plan, of, name), `${item.name} named ${name}`).then(done => done && desk.set({ chosen: [keyOf(kind, name)] }));
  const place = (n, value) => { const at = [...item.at_mm]; at[n] = round(value); set({ at_mm: at }, "moved"); };
  return html`<div class="form chosen" ref=${form}>
    <${Typed} label="Name" value=${item.name} onValue=${rename} />
    ${kind === "lamps" && html`<${Choice} label="Part" value=${item.part || "not placed yet"} choices=${[...(item.part ? [] : ["not placed yet"]), ...state.plan.parts.map(part => part.name)]} onValue=${part => set({ part, at_mm: item.at_mm || [0, 0] }, `put on ${part}`)} />`}
    ${kind === "lamps" && item.at_mm && html`<div class="pair">
      <${Typed} label="x" unit="mm" number value=${item.at_mm[0]} onValue=${value => value !== null && place(0, value)} />
      <${Typed} label="y" unit="mm" number value=${item.at_mm[1]} onValue=${value => value !== null && place(1, value)} />
    </div>`}
    ${kind === "rows" && html`<div class="pair">
      <${Typed} label="How many" number value=${item.count} onValue=${value => set(value ? { count: Math.round(value), pitch_mm: null } : { count: null, pitch_mm: item.pitch_mm || 10 }, "count changed")} />
      <${Typed} label="or one every" unit="mm" number value=${item.pitch_mm} onValue=${value => set(value ? { pitch_mm: value, count: null } : { pitch_mm: null, count: item.count || 5 }, "pitch changed")} />
    </div>`}
    <div class="pair">
      <${Typed} label="Colour" value=${item.colour} list="colours" onValue=${colour => colour && set({ colour }, `made ${colour}`)} />
      ${kind !== "strips" && html`<${Choice} label="Shines" value=${item.facing} choices=${choicesOf(words, kind, "facing")} onValue=${facing => set({ facing }, `turned ${facing}`)} />`}
    </div>
    <datalist id="colours">${words.colours.map(name => html`<option value=${name}></option>`)}</datalist>
    ${kind !== "strips" && html`<div class="pair">
      <${Typed} label="Size on the subject" unit="mm" number value=${item.size_mm} onValue=${size_mm => set({ size_mm }, "size changed")} />
      <${Typed} label="Rhythm" value=${item.rhythm} onValue=${rhythm => set({ rhythm }, "rhythm changed")} />
    </div>`}
    <${Choice} label="Worth" value=${item.worth} choices=${choicesOf(words, kind, "worth")} onValue=${worth => set({ worth }, worth)} />
    <${States} desk=${desk} state=${state} kind=${kind} item=${item} />
    <${Later} key=${`more ${of}`} load=${() => import("./later/lamp-more.js")} of="LampMore" says="" desk=${desk} state=${state} kind=${kind} item=${item} />
    ${state.plan.versions.length > 0 && html`<fieldset><legend>Only in version (none ticked: in all)</legend>${state.plan.versions.map(({ name }) => html`<label class="tick"><input type="checkbox" checked=${item.versions.includes(name)}
      onChange=${event => set({ versions: state.plan.versions.map(row => row.name).filter(one => one === name ? event.target.checked : item.versions.includes(one)) }, `${event.target.checked ? "in" : "not in"} version ${name}`)} /> ${name}</label>`)}</fieldset>`}
    ${kind === "rows" && html`<${FloodRow} key=${`flood ${of}`} item=${item} plan=${state.plan} set=${set} />`}
    ${kind === "lamps" && html`<${Flood} key=${`flood ${of}`} item=${item} plan=${state.plan} set=${set} />`}
    <${EvidenceOf} key=${`evidence ${of}`} desk=${desk} of=${of} item=${item} />
    <${Typed} label="Note" long value=${item.note || ""} onValue=${note => set({ note: note || null }, "note changed")} />
    ${lamp && html`<p class="facts">${lamp.kind ? `${{ led: "LED at the hole", fibre: "fibre", strip: "strip behind openings", room: "LED in a room" }[lamp.kind]}: ${lamp.led}. ` : ""}${lamp.hole_mm ? `Drill ${lamp.drill || lengthWords(lamp.hole_mm, state.unit)}. ` : ""}${lamp.why ? `Chosen because ${lamp.why}. ` : ""}${glow ? `In '${state.state}': ${glow.told}.` : ""}</p>`}
    <${Arrange} desk=${desk} state=${state} sheet=${sheet} />
    <div class="tools">
      <button onClick=${() => desk.duplicate()}>Duplicate</button>
      ${kind === "lamps" && item.at_mm && html`<button onClick=${() => desk.change(spread(item, [round(item.at_mm[0] + 20), item.at_mm[1]], { count: 5 }), `${item.name} spread into a row`).then(done => done && desk.set({ chosen: [keyOf("rows", item.name)] }))}>Spread into a row</button>`}
      <button onClick=${() => desk.remove()}>Remove</button>
    </div>
  </div>`;
}

// A lamp that throws a pool on a deck or the ground: how high it hangs, what it lights, where it is aimed.
function Flood({ item, plan, set }) {
  const none = { lights_part: null, foot_mm: null, aim_mm: null };
  const lights = name => {
    if (!name) { set(none, "lights no part named"); return; }
    const corners = plan.parts.find(part => part.name === name).outline_mm;
    const middle = [0, 1].map(n => round((Math.min(...corners.map(at => at[n])) + Math.max(...corners.map(at => at[n]))) / 2));
    set({ lights_part: name, foot_mm: middle, aim_mm: null, tilt_deg: null }, `lights ${name}`);
  };
  const end = (key, label, at) => [0, 1].map(n => html`<${Typed} label=${`${label} ${"xy"[n]}`} unit="mm" number value=${at[n]}
    onValue=${value => value !== null && set({ [key]: Object.assign([...at], { [n]: round(value) }) }, `${label.toLowerCase()} moved`)} />`);
  return html`<details open=${item.lights_mm !== null}><summary>Floodlight</summary>
    <div class="pair">
      <${Typed} label="Hangs above it" unit="mm" number value=${item.lights_mm} onValue=${lights_mm => set(lights_mm === null ? { lights_mm, tilt_deg: null, ...none } : { lights_mm }, "height of the floodlight changed")} />
      ${item.lights_mm !== null && !item.lights_part && html`<${Typed} label="Tilt" unit="deg" number value=${item.tilt_deg} onValue=${tilt_deg => set({ tilt_deg }, "tilted")} />`}
    </div>
    ${item.lights_mm !== null && html`<${Choice} label="Lights the outside of" value=${item.lights_part || ""} choices=${[["", "no part named"], ...plan.parts.map(part => part.name)]} onValue=${lights} />`}
    ${item.lights_part && html`<div class="pair">${end("foot_mm", "Foot", item.foot_mm)}</div><div class="pair">${end("aim_mm", "Aimed at", item.aim_mm || item.foot_mm)}</div>`}
  </details>`;
}

// A row of floodlights over one ground: their feet lie along a line, all aimed the same way.
function FloodRow({ item, plan, set }) {
  const lights = name => {
    if (!name) { set({ lights_mm: null, lights_part: null, feet_mm: null, aim_by_mm: null }, "no floodlights"); return; }
    const corners = plan.parts.find(part => part.name === name).outline_mm, side = n => corners.map(at => at[n]);
    const [left, right] = [Math.min(...side(0)), Math.max(...side(0))], middle = round((Math.min(...side(1)) + Math.max(...side(1))) / 2);
    set({ lights_part: name, lights_mm: item.lights_mm || 40, feet_mm: [0.25, 0.75].map(share => [round(left + share * (right - left)), middle]), aim_by_mm: null }, `light ${name}`);
  };
  const pair = (label, at, put) => html`<div class="pair">${[0, 1].map(n => html`<${Typed} label=${`${label} ${"xy"[n]}`} unit="mm" number value=${at[n]}
    onValue=${value => value !== null && put(Object.assign([...at], { [n]: round(value) }))} />`)}</div>`;
  const foot = index => at => set({ feet_mm: item.feet_mm.map((old, k) => k === index ? at : old) }, "feet moved");
  return html`<details open=${item.lights_mm !== null}><summary>Floodlights</summary>
    <${Choice} label="Light the outside of" value=${item.lights_part || ""} choices=${[["", "nothing"], ...plan.parts.map(part => part.name)]} onValue=${lights} />
    ${item.lights_part && html`<${Typed} label="Hang above it" unit="mm" number value=${item.lights_mm} onValue=${lights_mm => lights_mm !== null && set({ lights_mm }, "height of the floodlights changed")} />
      ${pair("First foot", item.feet_mm[0], foot(0))}${pair("Last foot", item.feet_mm.at(-1), foot(item.feet_mm.length - 1))}
      ${pair("Aimed beyond the foot by", item.aim_by_mm || [0, 0], aim_by_mm => set({ aim_by_mm: aim_by_mm.some(Boolean) ? aim_by_mm : null }, "aimed"))}
      ${item.mirror && html`<${FloodMirror} item=${item} plan=${plan} set=${set} pair=${pair} />`}`}
  </details>`;
}

// What the mirrored half lights, and the middle line of it about which the feet are mirrored.
function FloodMirror({ item, plan, set, pair }) {
  const { lights_part, lights_line_mm: line = [], ...mirror } = item.mirror;
  const put = (part, next, says) => set({ mirror: { ...mirror, ...(part && { lights_part: part }), ...(next.length && { lights_line_mm: next }) } }, says);
  const middle = () => {
    const corners = plan.parts.find(part => part.name === (lights_part || item.lights_part)).outline_mm, side = n => corners.map(at => at[n]);
    const [left, right] = [Math.min(...side(0)), Math.max(...side(0))], y = round((Math.min(...side(1)) + Math.max(...side(1))) / 2);
    return [[left, y], [right, y]];
  };
  return html`<${Choice} label="Its other side lights" value=${lights_part || ""} choices=${[["", "the same, or its own part"], ...plan.parts.map(part => part.name)]} onValue=${part => put(part, line, "other side lights")} />
    <label class="tick"><input type="checkbox" checked=${line.length > 0} onChange=${event => put(lights_part, event.target.checked ? middle() : [], "feet mirrored")} /> Feet mirrored about a line of it</label>
    ${line.length > 0 && ["First", "Last"].map((word, k) => pair(`${word} point of that line`, line[k], at => put(lights_part, line.map((old, n) => n === k ? at : old), "line moved")))}`;
}

function States({ desk, state, kind, item }) {
  const order = state.plan.states.map(row => row.name);
  return html`<fieldset><legend>Lit when</legend>${order.map(name => html`<label class="tick"><input type="checkbox" checked=${item.states.includes(name)}
    onChange=${event => desk.change([ticked(item, kind, name, event.target.checked, order)], `${item.name} ${event.target.checked ? "lit" : "dark"} when ${name}`)} /> ${name}</label>`)}</fieldset>`;
}
