// What is wrong? What you see and what the meter shows; likely faults with their places; what to measure next.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { ask } from "../talk.js";
import { typedReading } from "./amounts.js";
import { digits, entryOf } from "./log.js";
import { Look } from "./look.js";
import { Mind } from "./meter.js";
import { Svg } from "./svg.js";

const STEP = { key: "find_fault", part: null, title: "find the fault" };
const OF = { step: STEP.key, part: null, title: STEP.title };

export function Fault({ top, state }) {
  const [found, setFound] = useState(top.fault || null), [says, setSays] = useState(""), [at, setAt] = useState(""), [marks, setMarks] = useState({});
  const seeing = useRef(null), likely = useRef(null);
  const revision = state.bench && state.bench.of;
  useEffect(() => {
    let wanted = true;
    const take = ({ status, body }) => {
      if (!wanted) return;
      if (status === 200) { top.fault = body; setFound(body); }
      setSays(status === 200 ? "" : body.failed || "The plan is being worked out ...");
    };
    ask(`${top.path}/fault`).then(take, () => { if (wanted) setSays("The computer does not answer. What you note is kept and sent; the answer comes then."); });
    return () => { wanted = false; };
  }, [revision, state.away, state.log]);
  if (!found) return html`<p class="quiet" role="status">${says || "Fetching it ..."}</p>`;
  if (found.none) return html`<p role="status">${found.none}</p>${found.evidence && html`<${Evidence} top=${top} state=${state} found=${found} />`}`;
  const now = at || (found.states[0] && found.states[0].state) || "";
  const seen = marks[now] || lastLook(state.log, now);
  const noted = (place, said) => {
    top.act("look", OF, { what: place, ...said });
    if (seeing.current) seeing.current.open = false;
    if (likely.current) likely.current.scrollIntoView({ block: "start" });
  };
  const look = place => { setAt(place); seeing.current.open = true; seeing.current.scrollIntoView({ block: "start" }); };
  const fresh = found.now && !state.waiting.length;
  return html`<div class="b-fault">
    <details class="b-group" ref=${seeing} open=${found.verdict.kind === "nothing yet"}><summary><h3>What do you see?</h3><span>${found.verdict.counted ? "look again" : "begin here"}</span></summary>
      <${Look} found=${found} state=${now} setState=${setAt} marks=${seen} setMarks=${changed => setMarks({ ...marks, [now]: changed })} onNote=${noted} />
      <${SupplyCurrent} top=${top} states=${found.states} log=${state.log} /></details>
    <div ref=${likely} class="b-likely">
      <p role="status" class="quiet">${says || (fresh ? "" : state.waiting.length ? "What you noted waits to be sent; this is the answer before it." : "Being worked in ...")}</p>
      <${Verdict} top=${top} verdict=${found.verdict} />
      ${found.next && found.verdict.kind !== "sound" && html`<${Next} top=${top} state=${state} next=${found.next} look=${look} nothing=${found.verdict.kind === "nothing yet"} />`}
    </div>
    <${Evidence} top=${top} state=${state} found=${found} />
    ${found.by_eye && found.by_eye.rows.length > 0 && html`<${ByEye} test=${found.by_eye} />`}
    <details class="b-group"><summary><h3>Plus, a good joint, no meter</h3></summary>${(found.how || []).map(text => html`<p>${text}</p>`)}</details>
  </div>`;
}

// Every look that a single fault gives, by its kind: each kind is opened by itself.
function ByEye({ test }) {
  const kinds = [...new Set(test.rows.map(row => row.kind))].map(kind => [kind, test.rows.filter(row => row.kind === kind)]);
  return html`<details class="b-group"><summary><h3>The whole test without a meter</h3><span>${test.rows.length}</span></summary>
    <p>Switch each state on in turn and look which lamps are dark, much dimmer than their like, or lit though they should be dark. ${test.says} ${test.hidden}</p>
    ${kinds.map(([kind, rows]) => html`<details class="b-group" key=${kind}><summary><h4>${kind}</h4><span>${rows.length}</span></summary>
      <dl class="b-how b-outcomes">${rows.map((row, n) => html`<div key=${n}><dt>${row.see}</dt><dd>${row.is}${row.left && html` <small>left: ${row.left}</small>`}</dd></div>`)}</dl></details>`)}</details>`;
}

function lastLook(log, state) {
  const entry = entryOf(log, STEP), look = entry && (entry.looks || []).find(row => row.state === state);
  return look ? Object.fromEntries([...look.dark.map(name => [name, "dark"]), ...look.dim.map(name => [name, "dim"]), ...(look.lit || []).map(name => [name, "on"])]) : {};
}

// --- what is likely -----------------------------------------------------------------------------------------------

function Verdict({ top, verdict }) {
  if (verdict.kind === "nothing yet") return html`<h3>What is likely</h3><p>Nothing was seen or read yet.</p>`;
  const list = verdict.kind === "two" ? "Two faults at once" : "What is likely, the most usual first";
  if (verdict.kind === "sound") return html`<h3>What is likely</h3><p><strong>Nothing is wrong</strong> as far as ${verdict.counted === 1 ? "one finding shows" : `${verdict.counted} findings show`}.</p>${verdict.hidden && html`<p>${verdict.hidden}</p>`}<${Odd} odd=${verdict.odd} />`;
  if (verdict.kind === "no fit") return html`<h3>What is likely</h3><p><strong>No fault that is known fits all that was seen and read.</strong> Look and read again, slowly. Then think of a joint that holds and lets go as it is moved, or of more things wrong at once.</p><${Odd} odd=${verdict.odd} />`;
  return html`<h3>${list}</h3>
    ${verdict.kind === "two" && html`<p>No single fault fits all that was seen and read. These pairs would.</p>`}
    ${verdict.caution && html`<p class="caution">${verdict.caution}</p>`}
    <ol class="b-suspects">${verdict.suspects.map((row, n) => html`<li key=${n}><span class="b-number">${n + 1}</span><div><strong>${row.says}</strong> <small>${row.sure}</small>
      ${row.alike.map(text => html`<p class="quiet">or, which reads alike: ${text}</p>`)}
      <button class="b-quiet" aria-label=${`I mended it: still wrong, number ${n + 1}`} onClick=${() => top.act("read", OF, { what: row.mend, value: 1, seen: [], note: "" })}>I mended it: still wrong</button></div></li>`)}</ol>
    ${verdict.more > 0 && html`<p class="quiet">and ${verdict.more} more; the next measurement leaves fewer.</p>`}
    <${Odd} odd=${verdict.odd} />
    ${verdict.drawings.map(row => html`<figure key=${row.title}><${Svg} svg=${row.svg} label=${`${row.title}: the numbers of the likely faults at their places`} /><figcaption class="quiet">${row.caption}; the numbers are those of the list.</figcaption></figure>`)}`;
}

const Odd = ({ odd }) => odd.map(text => html`<p class="caution">${text}</p>`);

// --- what next ----------------------------------------------------------------------------------------------------

function Next({ top, state, next, look, nothing }) {
  if (next.kind === "look") return html`<h3>${nothing ? "Begin" : "Next"}: look</h3><p>Set the switch to <strong>${next.state}</strong>. Which lamps are dark, or much too dim beside their like?</p>
    ${!nothing && html`<${Outcomes} outcomes=${next.outcomes} />`}<button class="b-main" onClick=${() => look(next.state)}>Note what you see at ${next.state}</button>`;
  if (next.kind === "beside") return html`<h3>Next: compare two lamps</h3><p>${next.says}</p>
    <div class="b-tools">${next.outcomes.map(row => html`<p class="quiet">${row.shows}: number ${row.means.join(", ")}</p>`)}</div>
    ${next.drawings.map(row => html`<figure key=${row.title}><${Svg} svg=${row.svg} label=${`${row.title}: the two lamps`} /><figcaption class="quiet">${row.caption}</figcaption></figure>`)}
    <div class="b-tools">${BESIDE.map(([value, text]) => html`<button onClick=${() => top.act("read", OF, { what: next.what, value, seen: seenOf(state.log, next.what), note: "" })}>${text}</button>`)}</div>`;
  return html`<h3>Measure next</h3>
    <dl class="b-how"><div><dt>Switch at</dt><dd>${next.state}</dd></div><div><dt>Dial</dt><dd>${next.dial}</dd></div><div><dt>Red probe</dt><dd>${next.red}</dd></div><div><dt>Black probe</dt><dd>${next.black}</dd></div></dl>
    <${Svg} svg=${next.meter} label=${`The meter: dial at ${next.dial}, red probe on ${next.red}, black probe on ${next.black}`} />
    <${Mind} mind=${next.mind} />
    ${next.drawings.map(row => html`<figure key=${row.title}><${Svg} svg=${row.svg} label=${`${row.title}: where the red and the black probe go`} /><figcaption class="quiet">${row.caption}</figcaption></figure>`)}
    <${Outcomes} outcomes=${next.outcomes} />
    ${next.why && html`<p class="quiet">${next.why}</p>`}
    <${Typed} key=${next.what} top=${top} log=${state.log} what=${next.what} unit=${next.unit} off=${next.kind === "ohms" || next.kind === "diode"} />`;
}

const BESIDE = [[-1, "dimmer"], [0, "as bright"], [1, "brighter"]];

function seenOf(log, what) {
  const entry = entryOf(log, STEP);
  return entry ? entry.readings.filter(row => row.what === what).map(row => row.value) : [];
}

const Outcomes = ({ outcomes }) => html`<dl class="b-how b-outcomes">${outcomes.map(row => html`<div><dt>${row.shows}</dt><dd>number ${row.means.length > 6 ? `${row.means.slice(0, 6).join(", ")} and ${row.means.length - 6} more` : row.means.join(", ")}</dd></div>`)}</dl>`;

function Typed({ top, log, what, unit, off, label = "It shows" }) {
  const [text, setText] = useState(""), [wrong, setWrong] = useState("");
  const seen = seenOf(log, what);
  const note = () => {
    const typed = typedReading(text, unit, off);
    if (!typed) return;
    setWrong(typed.wrong || "");
    if (typed.wrong) return;
    top.act("read", OF, { what, value: typed.value, seen, note: "" });
    setText("");
  };
  return html`<form class="b-type" onSubmit=${event => { event.preventDefault(); note(); }}>
    <label><span class="quiet">${label}</span><input inputmode="decimal" autocomplete="off" value=${text} aria-invalid=${wrong ? "true" : "false"} onInput=${event => setText(event.target.value)} /></label>
    <span class="b-unit" aria-hidden="true">${unit}</span><button disabled=${!text.trim()} aria-label=${`Note ${what}`}>Note</button></form>
    ${wrong && html`<p class="caution" role="alert">${wrong}</p>`}`;
}

function SupplyCurrent({ top, states, log }) {
  const [at, setAt] = useState(""), now = at || states[0].state;
  return html`<details class="b-group"><summary><h4>What the supply gives, if you read it</h4></summary>
    <label class="b-field"><span>The switch is at</span><select value=${now} onChange=${event => setAt(event.target.value)}>${states.map(row => html`<option value=${row.state} selected=${row.state === now}>${row.state}</option>`)}</select></label>
    <${Typed} key=${now} top=${top} log=${log} what=${`supply current, ${now}`} unit="mA" label="The meter in the plus lead shows (mA, or with its unit: 0,085 A)" /></details>`;
}

// --- what counts --------------------------------------------------------------------------------------------------

function Evidence({ top, state, found }) {
  const waiting = state.waiting.filter(act => act.step === STEP.key), gone = new Set(waiting.map(act => act.what));
  const rows = found.evidence.filter(row => !(row.step === STEP.key && gone.has(row.what)));
  const own = found.evidence.some(row => row.step === STEP.key) || waiting.length > 0;
  if (!rows.length && !waiting.length) return null;
  return html`<details class="b-group"><summary><h3>What it rests on</h3><span>${rows.filter(row => row.counts).length + waiting.length}</span></summary>
    <ul class="b-evidence">${rows.map(row => html`<li key=${row.what + row.value}><span>${row.what}: <strong>${shownOf(row)}</strong>${row.counts ? "" : html` <small>does not count: ${row.why}</small>`}</span>
      ${row.step === STEP.key && html`<button class="b-quiet" aria-label=${`Take out: ${row.what}`} onClick=${() => takeOut(top, row)}>Take out</button>`}</li>`)}
    ${waiting.filter(act => act.kind !== "mended").map(act => html`<li key=${act.id}><span>${act.what} <small>waits to be sent</small></span></li>`)}</ul>
    ${own && html`<button onClick=${() => top.act("mended", OF)}>It is mended: begin anew</button><p class="quiet">Readings of a gate stay in the log: take them again at the gate.</p>`}
  </details>`;
}

// A look that does not count has neither value nor words; why it does not count stands beside it.
const shownOf = row => row.says || (row.value === null ? "seen" : `${digits(row.value)} ${row.unit}`);

function takeOut(top, row) {
  if (row.value === null) top.act("unlook", OF, { what: row.what.replace(/^look, /, "") });
  else top.act("read", OF, { what: row.what, value: null, seen: [row.value], note: "" });
}
