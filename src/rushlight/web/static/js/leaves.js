// Leaves that open beside the thumb index, in the order of the job.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { amount, count, hoursWords, isFresh, stageWords } from "./answers.js";
import { Sheets } from "./blocks.js";
import { freeName, itemsOf, keyOf, matches, parted, round, sameBelow, spread, ticked } from "./items.js";
import { lengthWords } from "./ruler.js";

export const LEAVES = [
  ["subject", "Subject"], ["parts", "Parts"], ["lamps", "Lamps"], ["light", "Light"], ["loom", "Loom"], ["power", "Power"],
  ["order", "Order"], ["bench", "Bench"], ["book", "Book"],
];

export function Leaf({ desk, state, sheet }) {
  const Inside = { subject: Subject, parts: Parts, lamps: Lamps, light: Light, loom: Loom, power: Power, order: FromBook, bench: FromBook, book: Book }[state.leaf];
  const title = LEAVES.find(([key]) => key === state.leaf)[1];
  return html`<section class="leaf plate ${state.leaf}" id="leaf" aria-label=${title}>
    <header><h2>${title}</h2><button class="plain" onClick=${() => desk.set({ leaf: "" })} aria-label="Close this leaf">Close</button></header>
    <${Inside} desk=${desk} state=${state} sheet=${sheet} leaf=${state.leaf} />
  </section>`;
}

// Sheets of the book that belong to a leaf; asked for when the answer is there.
function FromBook({ desk, state, leaf }) {
  const fresh = isFresh(state), held = state.sheets[leaf];
  useEffect(() => { if (fresh) desk.leafSheets(leaf); }, [fresh, state.revision, leaf]);
  if (held && held.revision === state.revision) return html`<${Sheets} sheets=${held.sheets} />`;
  return html`<p class="quiet" role="status">${fresh ? "Fetching it ..." : `Being worked out: ${stageWords(state.stage)}.`}</p>`;
}

function Field({ label, says, children }) {
  return html`<label class="field"><span>${label}</span>${children}${says && html`<small>${says}</small>`}</label>`;
}

export function Typed({ label, value, unit = "", says = "", onValue, number = false, ...rest }) {
  const [text, setText] = useState(value ?? "");
  useEffect(() => setText(value ?? ""), [value]);
  const done = () => {
    if (`${text}` === `${value ?? ""}`) return;
    if (!number) onValue(`${text}`.trim() || null);
    else if (`${text}`.trim() === "") onValue(null);
    else if (Number.isFinite(Number(text))) onValue(Number(text));
    else setText(value ?? "");
  };
  return html`<${Field} label=${unit ? `${label}, ${unit}` : label} says=${says}>
    <input value=${text} inputmode=${number ? "decimal" : "text"} onInput=${event => setText(event.target.value)} onBlur=${done}
      onKeyDown=${event => { if (event.key === "Enter") done(); if (event.key === "Escape") setText(value ?? ""); }} ...${rest} />
  </${Field}>`;
}

function Choice({ label, value, choices, onValue, says = "" }) {
  return html`<${Field} label=${label} says=${says}><select value=${value} onChange=${event => onValue(event.target.value)}>
    ${choices.map(word => html`<option value=${word} selected=${word === value}>${word}</option>`)}
  </select></${Field}>`;
}

const choicesOf = (words, kind, key) => words.keys[kind].find(row => row.key === key).choices;

// --- subject ------------------------------------------------------------------------------------------------------

function Subject({ desk, state }) {
  const { subject } = state.plan, set = (values, what) => desk.change([{ action: "set", kind: "subject", name: "", values }], what);
  return html`<div class="form">
    <${Typed} label="Title" value=${subject.title} onValue=${title => set({ title }, "title changed")} />
    <${Typed} label="Scale, 1 to" number value=${subject.scale} onValue=${scale => set({ scale }, "scale changed")} />
    <${Choice} label="Kind" value=${subject.kind} choices=${choicesOf(state.words, "subject", "kind")} onValue=${kind => set({ kind }, "kind of subject changed")} />
    <${Typed} label="Looked at from" unit="mm" number value=${subject.viewing_distance_mm} onValue=${mm => set({ viewing_distance_mm: mm }, "viewing distance changed")} />
    <${Choice} label="The room it is seen in" value=${subject.viewing_room} choices=${choicesOf(state.words, "subject", "viewing_room")} onValue=${room => set({ viewing_room: room }, "viewing room changed")} />
    ${subject.invented && html`<p class="quiet">This subject is invented.</p>`}
    <${Choice} label="Lengths in" value=${state.unit} choices=${["mm", "inch"]} onValue=${unit => { localStorage.setItem("unit", unit); desk.set({ unit }); }} />
  </div>
  <${FromBook} desk=${desk} state=${state} leaf="subject" />`;
}

// --- parts --------------------------------------------------------------------------------------------------------

function Parts({ desk, state, sheet }) {
  const lamps = name => state.look.lamps.filter(lamp => lamp.part === name).length;
  const size = part => {
    const xs = part.outline_mm.map(p => p[0]), ys = part.outline_mm.map(p => p[1]);
    return `${lengthWords(Math.max(...xs) - Math.min(...xs), state.unit)} by ${lengthWords(Math.max(...ys) - Math.min(...ys), state.unit)}`;
  };
  const go = name => { desk.set({ part: name }); sheet.fit(name); };
  return html`<ul class="list">
    <li><button class=${state.part ? "row" : "row on"} onClick=${() => go(null)}><strong>The whole model</strong><small>${count(state.plan.parts.length, "part")}</small></button></li>
    ${state.plan.parts.map(part => html`<li><button class=${state.part === part.name ? "row on" : "row"} aria-pressed=${state.part === part.name} onClick=${() => go(part.name)}>
      <strong>${part.name}</strong><small>${size(part)}; ${part.wall_mm} mm ${part.wall}; ${count(lamps(part.name), "lamp")}${part.picture ? "" : "; no picture yet"}</small>
    </button></li>`)}
  </ul>
  ${state.pictures.map(problem => html`<p class="caution">${problem.says}</p>`)}`;
}

// --- lamps --------------------------------------------------------------------------------------------------------

function Lamps({ desk, state, sheet }) {
  const all = itemsOf(state.plan), shown = all.filter(entry => matches(entry, state.search));
  const add = () => {
    const part = state.part || sheet.middlePart() || state.plan.parts[0].name, name = freeName(state.plan, "lamp");
    placeLamp(desk, state, { part, at: sheet.centreOf(part) }, name);
  };
  return html`<div class="tools">
    <label class="field wide"><span>Find a lamp</span><input type="search" value=${state.search} onInput=${event => desk.set({ search: event.target.value })} /></label>
    <label class="tick"><input type="checkbox" checked=${state.only} onChange=${event => desk.set({ only: event.target.checked })} /> show only these on the sheet</label>
    <button onClick=${add}>Add a lamp</button>
  </div>
  ${state.chosen.length > 1 && html`<${Many} desk=${desk} state=${state} />`}
  ${all.length === 0 && html`<p>No lamps yet. Double-click the place on a part where a light should be seen, or press "Add a lamp".</p>`}
  <ul class="list lamps" aria-label="Lamps, rows and strips">${shown.map(entry => html`<${LampRow} key=${entry.key} entry=${entry} desk=${desk} state=${state} sheet=${sheet} />`)}</ul>`;
}

export function placeLamp(desk, state, where, name = freeName(state.plan, "lamp")) {
  if (!where) return;
  const states = [state.state];
  desk.change([{ action: "add", kind: "lamps", name, values: { part: where.part, at_mm: where.at, colour: "warm white", states } }], `${name} placed`)
    .then(done => done && desk.set({ chosen: [keyOf("lamps", name)], leaf: "lamps" }));
}

const KIND_WORDS = { lamps: "", rows: "row", strips: "strip" };

function LampRow({ entry, desk, state, sheet }) {
  const { item, kind, key } = entry, on = state.chosen.includes(key);
  const lamp = state.look.lamps.find(row => row.group === item.name);
  const choose = event => {
    const chosen = desk.choose(key, event.shiftKey || event.ctrlKey || event.metaKey || (on && state.chosen.length > 1));
    if (!on && chosen.length === 1 && lamp && lamp.part) sheet.lookAt(lamp.part, lamp.at_mm);
  };
  const number = kind === "lamps" ? "" : `${state.look.lamps.filter(row => row.group === item.name).length} `;
  return html`<li><button class=${on ? "row on" : "row"} aria-pressed=${on} onClick=${choose}>
    <span class="dot" style=${{ background: lamp ? lamp.rgb : "transparent" }}></span><strong>${item.name}</strong>
    <small>${number}${KIND_WORDS[kind]} ${lamp ? lamp.letter : ""}${item.rhythm === "steady" ? "" : ` ${item.rhythm}`}; ${!lamp ? "not in this version" : item.part || "not placed yet"}</small>
  </button>${on && state.chosen.length === 1 && html`<${Chosen} desk=${desk} state=${state} of=${key} />`}</li>`;
}

function Chosen({ desk, state, of }) {
  const { kind } = parted(of), item = desk.item(of), words = state.words, form = useRef(null);
  useEffect(() => { if (form.current) form.current.scrollIntoView({ block: "nearest" }); }, [of]);
  if (!item) return null;
  const set = (values, what) => desk.edit(of, values, `${item.name}: ${what}`);
  const lamp = state.look.lamps.find(row => row.group === item.name);
  const glow = state.answer && isFresh(state) && lamp && state.answer.glow[state.state] && state.answer.glow[state.state][lamp.name];
  const rename = name => name && desk.edit(of, { name }, `${item.name} named ${name}`).then(done => done && desk.set({ chosen: [keyOf(kind, name)] }));
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
    <${Typed} label="Note" value=${item.note || ""} onValue=${note => set({ note: note || null }, "note changed")} />
    ${lamp && html`<p class="facts">${lamp.kind ? `${{ led: "LED at the hole", fibre: "fibre", strip: "strip behind openings", room: "LED in a room" }[lamp.kind]}: ${lamp.led}. ` : ""}${lamp.hole_mm ? `Drill ${lamp.drill || lengthWords(lamp.hole_mm, state.unit)}. ` : ""}${lamp.why ? `Chosen because ${lamp.why}. ` : ""}${glow ? `In '${state.state}': ${amount(glow.mcd, "mcd")} (${amount(glow.low_mcd, "")}to ${amount(glow.high_mcd, "mcd")}).` : ""}</p>`}
    <div class="tools">
      <button onClick=${() => desk.duplicate()}>Duplicate</button>
      ${kind === "lamps" && item.at_mm && html`<button onClick=${() => desk.change(spread(item, [round(item.at_mm[0] + 20), item.at_mm[1]], { count: 5 }), `${item.name} spread into a row`).then(done => done && desk.set({ chosen: [keyOf("rows", item.name)] }))}>Spread into a row</button>`}
      <button onClick=${() => desk.remove()}>Remove</button>
    </div>
  </div>`;
}

function States({ desk, state, kind, item }) {
  const order = state.plan.states.map(row => row.name);
  return html`<fieldset><legend>Lit when</legend>${order.map(name => html`<label class="tick"><input type="checkbox" checked=${item.states.includes(name)}
    onChange=${event => desk.change([ticked(item, kind, name, event.target.checked, order)], `${item.name} ${event.target.checked ? "lit" : "dark"} when ${name}`)} /> ${name}</label>`)}</fieldset>`;
}

function Many({ desk, state }) {
  return html`<div class="form chosen"><p><strong>${state.chosen.length} chosen.</strong> Drag them or move them by the arrow keys.</p>
    <div class="tools"><button onClick=${() => desk.duplicate()}>Duplicate all</button><button onClick=${() => desk.remove()}>Remove all</button></div></div>`;
}

// --- light: the grid of lamps by states ----------------------------------------------------------------------------

function Light({ desk, state }) {
  const rows = itemsOf(state.plan).filter(entry => matches(entry, state.search)), order = state.plan.states.map(row => row.name);
  return html`<label class="field wide"><span>Find a lamp</span><input type="search" value=${state.search} onInput=${event => desk.set({ search: event.target.value })} /></label>
  <figure class="table"><figcaption>Which lamps are lit in which state</figcaption>
  <div class="scroll grid" tabindex="0" role="region" aria-label="Lamps by states"><table>
    <thead><tr><th scope="col">Lamp</th>${order.map(name => html`<th scope="col" class="slant"><span>${name}</span></th>`)}<th scope="col"><span class="unseen">Copy down</span></th></tr></thead>
    <tbody>${rows.map((entry, n) => html`<tr key=${entry.key}><th scope="row">${entry.item.name}</th>
      ${order.map(name => html`<td><label class="cell"><input type="checkbox" checked=${entry.item.states.includes(name)} aria-label=${`${entry.item.name} lit when ${name}`}
        onChange=${event => desk.change([ticked(entry.item, entry.kind, name, event.target.checked, order)], `${entry.item.name} ${event.target.checked ? "lit" : "dark"} when ${name}`)} /></label></td>`)}
      <td>${n < rows.length - 1 && html`<button class="plain small" title="The same states for all rows below" aria-label=${`same below: the states of ${entry.item.name} for the rows below`}
        onClick=${() => desk.change(sameBelow(rows, n, order), `states of ${entry.item.name} for the rows below`)}>same below</button>`}</td></tr>`)}</tbody>
  </table></div></figure>
  <${FromBook} desk=${desk} state=${state} leaf="light" />`;
}

// --- loom, power --------------------------------------------------------------------------------------------------

function Loom({ desk, state }) {
  const loom = state.answer && state.answer.loom, fresh = isFresh(state);
  return html`<label class="tick"><input type="checkbox" checked=${state.loomShown} onChange=${event => desk.set({ loomShown: event.target.checked })} /> draw the loom on the parts</label>
  ${loom && html`<p class=${fresh ? "" : "old"}>${count(loom.leads.length, "lead")} of ${lengthWords(loom.lead_mm, state.unit)} in all, ${count(loom.splices.length, "splice")}, ${count(loom.tails.length, "fibre tail")} of ${lengthWords(loom.tail_mm, state.unit)}. A whole line is plus, a broken one return.</p>
    ${loom.unrouted.map(row => html`<p class="caution"><strong>${row.item}</strong> has no way on ${row.part}: ${row.why}</p>`)}`}
  <${FromBook} desk=${desk} state=${state} leaf="loom" />`;
}

function Power({ desk, state }) {
  const power = state.answer && state.answer.power, fresh = isFresh(state);
  return html`${power && html`<div class=${fresh ? "" : "old"}>
    ${power.faults.map(fault => html`<p class="caution">${fault}</p>`)}
    <figure class="table"><figcaption>${power.supply || "No supply yet"}</figcaption><div class="scroll"><table>
      <thead><tr><th scope="col">State</th><th scope="col" class="right">Draws <small>mA</small></th><th scope="col" class="right">Runs</th></tr></thead>
      <tbody>${power.states.map(row => html`<tr><th scope="row">${row.state}</th><td class="right">${amount(row.supply_ma, "")}</td><td class="right">${hoursWords(row.run_time_h)}</td></tr>`)}</tbody>
    </table></div></figure></div>`}
  <${FromBook} desk=${desk} state=${state} leaf="power" />`;
}

// --- the book -----------------------------------------------------------------------------------------------------

function Book({ desk, state }) {
  const [paper, setPaper] = useState("a4"), book = state.book, working = book && book.working;
  return html`<p>Everything for the bench: drawings at true size, cut list, circuit, build order, what to buy.</p>
    <${Choice} label="Paper" value=${paper} choices=${["a4", "letter"]} onValue=${setPaper} />
    <div class="tools"><button disabled=${working || !isFresh(state)} onClick=${() => desk.makeBook(paper)}>${working ? "Writing the book ..." : "Write the book"}</button></div>
    <p role="status" class="quiet">${working ? `Now: ${book.stage}.` : !isFresh(state) ? `First the design is worked out: ${stageWords(state.stage)}.` : ""}</p>
    ${book && book.says && html`<p class="caution">${book.says}</p>`}
    ${book && book.pdf && html`<p><a href=${`${desk.path}/book/${book.paper}.pdf?of=${book.revision.slice(0, 8)}`} target="_blank" rel="noopener">Open the book (PDF)</a>${book.revision === state.revision ? "" : " It belongs to the plan before your last edit."}</p>
    <p class="quiet">${book.files} files lie in the plan's folder, in 'book'.</p>`}`;
}
