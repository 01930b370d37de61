// The bench: order of work with its gates, what to cut, the loom, the lamps.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { Later } from "../later.js";
import { Loom } from "./drawing.js";
import { Gate } from "./gates.js";
import { entryOf, gateStanding, isDone, progress, waitsFor } from "./log.js";
import { By, Caution, Mark, useTop } from "./parts.js";
import { Pieces } from "./pieces.js";

const TABS = [["order", "Order"], ["cut", "Cut"], ["loom", "Loom"], ["lamps", "Lamps"], ["fault", "Fault"]];
const INSIDE = { order: Order, cut: Pieces, loom: Loom, lamps: Lamps, fault: Fault };
const SOON_MS = 3000;

export function Bench({ top }) {
  const state = useTop(top), [tab, setTab] = useState("order"), main = useRef(null);
  const Inside = INSIDE[tab];
  useEffect(() => {
    const soon = setTimeout(() => { fetchFault().catch(() => {}); }, SOON_MS);  // while the computer still answers
    return () => clearTimeout(soon);
  }, []);
  const choose = key => { setTab(key); if (main.current) main.current.scrollIntoView({ block: "start" }); };
  return html`<div class="bench" ref=${main}>
    <${Standing} top=${top} state=${state} />
    <nav class="b-tabs" aria-label="At the bench">${TABS.map(([key, word]) => html`<button aria-current=${tab === key ? "page" : "false"} class=${tab === key ? "on" : ""} onClick=${() => choose(key)}>${word}</button>`)}</nav>
    <div class="b-inside"><h2 class="unseen">${TABS.find(([key]) => key === tab)[1]}</h2>${state.bench ? html`<${Inside} top=${top} state=${state} />` : html`<p role="status">${waitWords(state)}</p>`}</div>
  </div>`;
}

// Fetched when it is first wanted, or soon after the page stands.
const fetchFault = () => import("./fault.js");

function Fault(given) {
  return html`<${Later} load=${fetchFault} of="Fault" ...${given} />`;
}

const waitWords = state => state.failed ? `It could not be worked out: ${state.failed}` : state.away ? "" : `The plan is being worked out${state.stage ? `: ${state.stage}` : ""} ...`;

// What is not as it should be: unsent acts, refused ones, a computer that does not answer.
function Standing({ top, state }) {
  const waiting = state.waiting.length;
  return html`<div class="b-standing" role="status">
    ${state.ended && html`<p class="caution">${state.ended} ${waiting > 0 && "What was not sent is kept on this phone and sent when it is in again."} <a href="/">Come in again</a></p>`}
    ${state.away && html`<p class="caution">${state.away}</p>`}
    ${waiting > 0 && html`<p class="quiet b-waiting">${waiting === 1 ? "1 entry waits" : `${waiting} entries wait`} to be sent.</p>`}
    ${state.refused.map(({ act, says }, n) => html`<p class="caution" key=${n}><strong>Not taken: ${act.title || act.step}${act.what ? `, ${act.what} ${act.value}` : ""}.</strong> ${says} <button class="b-quiet" onClick=${() => top.set({ refused: state.refused.filter((_, m) => m !== n) })}>Understood</button></p>`)}
  </div>`;
}

// --- the order of work --------------------------------------------------------------------------------------------

function Order({ top, state }) {
  const { steps } = state.bench, [open, setOpen] = useState(null), { done, of, next } = progress(steps, state.log);
  const sittings = [...new Set(steps.map(step => step.sitting))], now = next ? next.sitting : 0;
  const list = useRef(null);
  const goNext = () => {
    setOpen(next.number);
    const row = list.current.querySelector(`[data-step="${next.number}"]`);
    row.closest("details").open = true;
    row.scrollIntoView({ block: "start" });
    row.querySelector("button").focus({ preventScroll: true });
  };
  return html`<div class="b-next"><p><strong>${done} of ${of}</strong> steps done.</p>
    ${next ? html`<button class="b-main" onClick=${goNext}>Next: ${next.says}${next.part ? `, ${next.part}` : ""}</button>` : html`<p>All is done. Live with it for a night before you glue anything more.</p>`}</div>
    <div ref=${list}>${sittings.map(number => html`<${Sitting} key=${number} top=${top} state=${state} number=${number} now=${now} open=${open} setOpen=${setOpen} />`)}</div>
    <${Resistor} code=${state.bench.bands} />`;
}

// A resistor out of its bag, for whoever has it in hand: fetched when it is opened.
function Resistor({ code }) {
  const [open, setOpen] = useState(false);
  return html`<details class="b-group" onToggle=${event => setOpen(event.target.open)}><summary><h3>Read a resistor by its bands</h3></summary>
    ${open && html`<${Later} load=${() => import("./bands.js")} of="Bands" code=${code} />`}</details>`;
}

function Sitting({ top, state, number, now, open, setOpen }) {
  const steps = state.bench.steps.filter(step => step.sitting === number), { done } = progress(steps, state.log), frame = useRef(null);
  useEffect(() => { if (number === now) frame.current.open = true; }, [now]);
  return html`<details class="b-group" ref=${frame}><summary><h3>Sitting ${number}</h3><span>${done} of ${steps.length} done</span></summary>
    <ol>${steps.map(step => html`<${Step} key=${`${step.key} ${step.part}`} top=${top} state=${state} step=${step} open=${open === step.number} setOpen=${setOpen} />`)}</ol></details>`;
}

function Step({ top, state, step, open, setOpen }) {
  const entry = entryOf(state.log, step), done = isDone(entry), gate = step.kind === "gate";
  const needs = gate && step.readings.length > 0, missing = needs ? gateStanding(step, state.log).missing.length : 0;
  const ticks = () => done ? top.untick(step) : needs ? setOpen(open ? null : step.number) : top.tick(step, { how: gate ? "by eye" : "done" });
  const word = done ? `Step ${step.number} is done; take the tick back` : needs ? `Step ${step.number}: take the readings` : `Tick step ${step.number}`;
  return html`<li class=${`b-step${done ? " b-done" : ""}${gate ? " b-isgate" : ""}`} data-step=${step.number}>
    <button class="b-name" aria-expanded=${open} onClick=${() => setOpen(open ? null : step.number)}>
      <span class="b-number">${step.number}</span><span>${gate && html`<em><${Mark} of="gate" /> gate </em>`}<strong>${step.says}</strong>${step.part && html` <span class="b-part">${step.part}</span>`}
      ${done && html` <small>${entry.how === "by eye" ? "by eye" : ""}</small> <${By} row=${entry} />`}${!done && missing > 0 && html`<small class="b-left">${missing} reading${missing === 1 ? "" : "s"} to take</small>`}</span></button>
    <button class=${done ? "b-tick on" : "b-tick"} aria-pressed=${done} aria-label=${word} onClick=${ticks}><${Mark} of=${done ? "done" : needs ? "gate" : "open"} /></button>
    ${open && html`<${Details} top=${top} state=${state} step=${step} entry=${entry} />`}
  </li>`;
}

function Details({ top, state, step, entry }) {
  const early = waitsFor(step, state.bench.steps, state.log);
  return html`<div class="b-details">
    ${early.length > 0 && !isDone(entry) && html`<p class="quiet">Comes after ${early.slice(0, 3).map(row => `step ${row.number}`).join(", ")}${early.length > 3 ? ` and ${early.length - 3} more` : ""}, not ticked yet.</p>`}
    ${step.cautions.map(item => html`<${Caution} item=${item} />`)}
    ${step.cautions.length === 0 && step.all_cautions.length > 0 && html`<p class="caution">Mind: ${step.all_cautions.join("; ")}.</p>`}
    ${step.details.map(text => html`<p>${text}.</p>`)}
    ${step.items && html`<p><span class="quiet">For</span> ${step.items}.</p>`}
    ${step.photograph && html`<p><strong>Photograph this before you go on:</strong> it will be hidden.</p>`}
    ${step.undo !== "can be undone" && html`<p><strong>${step.undo[0].toUpperCase() + step.undo.slice(1)}.</strong> ${step.after_close ? `After close-up: ${step.after_close}.` : ""}</p>`}
    ${step.wait_h > 0 && html`<p>Wait ${step.wait_h} h.</p>`}
    ${entry && entry.note && html`<p><span class="quiet">Noted</span> ${entry.note}</p>`}
    ${step.kind === "gate" && html`<${Gate} top=${top} state=${state} step=${step} />`}
    <${Photo} top=${top} step=${step} entry=${entry} />
  </div>`;
}

function Photo({ top, step, entry }) {
  const [says, setSays] = useState(""), [busy, setBusy] = useState(false);
  const chosen = async event => {
    const [file] = event.target.files;
    if (!file) return;
    setBusy(true);
    setSays("Sending the photograph ...");
    try { await top.photograph(step, file); setSays(""); } catch (error) { setSays(`Not sent: ${error.message} It is still on this device; choose it again.`); }
    setBusy(false);
    event.target.value = "";
  };
  return html`<div class="b-photo">
    ${entry && entry.photo && html`<img src=${`${top.path}/photo/${encodeURIComponent(entry.photo)}`} alt=${`Photograph of step ${step.number}`} loading="lazy" />`}
    <label class="b-file"><input type="file" accept="image/*" disabled=${busy} onChange=${chosen} /><span>${entry && entry.photo ? "Another photograph in its place" : "Add a photograph"}</span></label>
    <p role="status" class="quiet">${says}</p></div>`;
}

// --- lamps --------------------------------------------------------------------------------------------------------

function Lamps({ state }) {
  const [words, setWords] = useState(""), { lamps } = state.bench;
  const found = lamps.filter(lamp => `${lamp.number} ${lamp.name} ${lamp.part} ${lamp.colour} ${lamp.states.join(" ")}`.toLowerCase().includes(words.trim().toLowerCase()));
  if (!lamps.length) return html`<p class="quiet">No lamps yet.</p>`;
  return html`<label class="b-field"><span>Find a lamp</span><input type="search" value=${words} onInput=${event => setWords(event.target.value)} /></label>
    <p class="quiet" role="status">${found.length} of ${lamps.length}</p>
    <ul class="b-lamps">${found.map(lamp => html`<li key=${lamp.number}><span class="b-number">${lamp.number}</span><div>
      <strong>${lamp.name}</strong> <span class="b-colour"><svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true"><circle cx="8" cy="8" r="6.5" fill=${lamp.rgb} stroke="currentColor" stroke-width="1.5" /></svg> ${lamp.colour}</span>
      <br />${lamp.part || "not placed"}${lamp.drill ? `; drill ${lamp.drill}` : ""}; ${lamp.made_by}${lamp.rhythm === "steady" ? "" : `; ${lamp.rhythm}`}
      <br /><small>${lamp.dark ? "stays dark" : lamp.states.join(", ")}</small></div></li>`)}</ul>`;
}
