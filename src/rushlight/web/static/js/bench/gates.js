// A gate: what to set, where the probes go, what it should show, what it showed.
import { html, useState } from "../../vendor/preact-htm.js";
import { Later } from "../later.js";
import { digits, entryOf, gateStanding, isDone, readWords, readingsOf, typedNumber, verdict, verdictWords } from "./log.js";
import { By, Mark } from "./parts.js";

export function Gate({ top, state, step }) {
  const standing = gateStanding(step, state.log), entry = entryOf(state.log, step), done = isDone(entry);
  const left = standing.missing.length;
  const says = done ? "" : left ? `${left} of ${step.readings.length} readings are still to be taken.`
    : standing.outside.length ? `${standing.outside.length} outside what was expected: find out why before you go on.`
      : step.readings.length ? "All readings are there and within." : "Judged by eye and hand; no meter is needed.";
  return html`<div class="b-gate">
    ${step.readings.length > 0 && html`<ol class="b-readings">${step.readings.map((reading, n) => html`<${Reading} key=${reading.name} top=${top} state=${state} step=${step} reading=${reading} number=${n + 1} next=${reading.name === standing.missing[0]} />`)}</ol>`}
    ${step.key === "test_parts" && state.bench.trials?.length > 0 && html`<${Trial} top=${top} trials=${state.bench.trials} />`}
    ${step.key === "test_parts" && state.bench.measure && html`<p>${state.bench.measure} How, and where it goes: <strong>Your own numbers</strong> in the app.</p>`}
    <p class="quiet" role="status">${says}</p>
    ${!done && html`<${Pass} top=${top} step=${step} left=${left} outside=${standing.outside.length} />`}
  </div>`;
}

function Pass({ top, step, left, outside }) {
  const [note, setNote] = useState("");
  const needs = step.readings.length > 0;
  const more = note.trim() ? { note: note.trim() } : {};
  return html`<div class="b-pass">
    <label class="b-field"><span>What you saw (if it is worth a word)</span><input value=${note} maxlength="200" onInput=${event => setNote(event.target.value)} /></label>
    <button class="b-main" disabled=${left > 0} onClick=${() => top.tick(step, { how: needs ? "done" : "by eye", ...more })}>${outside ? "Pass it all the same" : "Gate passed"}</button>
    ${needs && left > 0 && html`<button onClick=${() => top.tick(step, { how: "by eye", ...more })}>Passed by eye, without these readings</button>`}
  </div>`;
}

function Reading({ top, state, step, reading, number, next }) {
  const found = readingsOf(state.log, step, reading.name), [text, setText] = useState(""), [wrong, setWrong] = useState("");
  const seen = found.map(row => row.value);
  const noted = () => {
    const typed = typedNumber(text);
    if (typed === null) return;
    if (!Number.isFinite(typed) || Math.abs(typed * reading.per_shown) > 1e9) { setWrong("Type a number, as the meter shows it."); return; }
    top.read(step, reading, Number((typed * reading.per_shown).toPrecision(12)), seen);
    setText("");
    setWrong("");
  };
  const over = reading.high === null;
  const label = `${reading.says}, ${reading.shown}`;
  return html`<li class="b-reading">
    <h4>${number}. ${reading.says}</h4>
    <dl>
      <div><dt>Switch at</dt><dd>${reading.state || "off"}</dd></div>
      <div><dt>Dial</dt><dd>${reading.dial}</dd></div>
      <div><dt>Red probe</dt><dd>${reading.red}</dd></div>
      <div><dt>Black probe</dt><dd>${reading.black}</dd></div>
      <div><dt>Should show</dt><dd><strong>${reading.expect}</strong></dd></div>
    </dl>
    <${Dial} top=${top} step=${step} reading=${reading} number=${number} next=${next} />
    ${found.length > 1 && html`<p class="caution">Read twice, and not alike. Both are kept until you say which one counts.</p>`}
    ${found.map(row => html`<${Found} key=${row.value} top=${top} step=${step} reading=${reading} row=${row} seen=${seen} />`)}
    <form class="b-type" onSubmit=${event => { event.preventDefault(); noted(); }}>
      <label><span class="unseen">${label}</span><input inputmode="decimal" autocomplete="off" value=${text} placeholder=${found.length ? "again" : "it showed"} aria-invalid=${wrong ? "true" : "false"} onInput=${event => setText(event.target.value)} /></label>
      <span class="b-unit" aria-hidden="true">${reading.shown}</span>
      <button disabled=${!text.trim()} aria-label=${`Note ${reading.says}`}>Note</button>
    </form>
    ${wrong && html`<p class="caution" role="alert">${wrong}</p>`}
    ${over && !found.length && html`<button class="b-over" onClick=${() => top.read(step, reading, reading.low, seen, "more than the dial shows")}>It shows OL, or 1 alone: more than the dial</button>`}
  </li>`;
}

// The meter as it is set: open at the reading that comes next, drawn when it is first opened.
function Dial({ top, step, reading, number, next }) {
  const [open, setOpen] = useState(next);
  return html`<details class="b-dial" open=${next} onToggle=${event => setOpen(event.target.open)}><summary>The dial and the probes, drawn</summary>
    ${open && html`<${Later} load=${() => import("./meter.js")} of="MeterOf" top=${top} step=${step} number=${number - 1} says=${reading.says} />`}</details>`;
}

// Four readings of an LED that has no data sheet: fetched and drawn when it is opened.
function Trial({ top, trials }) {
  const [open, setOpen] = useState(false);
  return html`<details class="b-dial" onToggle=${event => setOpen(event.target.open)}><summary>An LED without a data sheet</summary>
    ${open && html`<${Later} load=${() => import("./trial.js")} of="Trials" top=${top} trials=${trials} />`}</details>`;
}

function Found({ top, step, reading, row, seen }) {
  const within = verdict(reading, row.value) === "within";
  return html`<div class=${within ? "b-found" : "b-found b-out"}>
    <p role="status"><${Mark} of=${within ? "within" : "stop"} /> <strong>${readWords(reading, row)}</strong> <${By} row=${row} /><br />${verdictWords(reading, row.value)}</p>
    <div class="b-tools">${seen.length > 1 && html`<button onClick=${() => top.read(step, reading, row.value, seen)}>This one counts</button>`}
    <button class="b-quiet" aria-label=${`Take it out: ${digits(row.value / reading.per_shown)} of ${reading.says}`} onClick=${() => top.read(step, reading, null, [row.value])}>Take it out</button></div>
  </div>`;
}
