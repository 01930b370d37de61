// The start page: plans opened lately, demos as copies, a new plan from a few questions.
import { html, useEffect, useState } from "../vendor/preact-htm.js";
import { Lights, RULED } from "./start-lights.js";
import { ask, tell } from "./talk.js";

const DEMOS = {
  tug: ["A harbour tug, 1:96", "Five states of one evening, 125 lamps: fibres, LEDs, lit windows."],
  lighthouse: ["A harbour with its lighthouse", "Rhythms of sea marks, cottages with lit rooms."],
  lantern: ["A lantern board", "Three lamps: the smallest plan that is a plan."],
};

const go = id => { window.location.href = `/plan/${id}`; };

export function Start() {
  const [known, setKnown] = useState(null), [trouble, setTrouble] = useState(""), [busy, setBusy] = useState("");
  useEffect(() => { ask("/api/start").then(({ body }) => setKnown(body), error => setTrouble(error.message)); }, []);
  const begun = async (what, path, body) => {
    setBusy(what);
    setTrouble("");
    try { go((await tell(path, body)).body.id); } catch (error) { setTrouble(error.message); setBusy(""); }
  };
  const forget = async folder => setKnown({ ...known, recent: (await tell("/api/recent/forget", { folder })).body.recent });
  return html`<main class="start">
    <header><svg class="rush" viewBox="0 0 120 150" aria-hidden="true"><circle cx="60" cy="42" r="34" class="halo" /><circle cx="60" cy="42" r="9" class="flame" /><path d="M60 55C58 90 63 110 57 148" class="stem" /><path d="M46 100h30M52 94l18 12" class="clip" /></svg>
      <div><h1>rushlight</h1><p>Plan, check and build the lighting of a scale model before it is closed for good.</p></div></header>
    <p class="caution" role="alert" hidden=${!trouble}>${trouble}</p>
    <p role="status" class="quiet">${busy}</p>
    <section aria-labelledby="recent"><h2 id="recent">Go on with a plan</h2>
      ${known && known.recent.length === 0 && html`<p class="quiet">No plan was opened yet. Look into a demo, or begin one below.</p>`}
      <ul class="list">${known && known.recent.map(plan => html`<li key=${plan.folder}>${plan.missing ? html`<${Gone} plan=${plan} onForget=${() => forget(plan.folder)} />` : html`<a class="row" href=${`/plan/${plan.id}`}><strong>${plan.title}</strong><small>${plan.folder}</small></a>`}</li>`)}</ul>
      <${ByPath} busy=${busy} onDone=${folder => begun("Opening the plan ...", "/api/open", { folder })} />
    </section>
    <section aria-labelledby="demos"><h2 id="demos">Look into a demo</h2><p class="quiet">All invented. A copy is opened, so do with it what you like.</p>
      <ul class="list">${known && known.demos.map(name => html`<li><button class="row" disabled=${Boolean(busy)} onClick=${() => begun(`Copying the demo ${name} ...`, "/api/demos", { name })}><strong>${(DEMOS[name] || [name])[0]}</strong><small>${(DEMOS[name] || ["", ""])[1]}</small></button></li>`)}</ul>
    </section>
    <section aria-labelledby="new"><h2 id="new">Begin a new plan</h2><${Questions} busy=${busy} onDone=${answers => begun("Beginning the plan ...", "/api/plans", answers)} /></section>
  </main>`;
}

function Gone({ plan, onForget }) {
  return html`<div class="row gone"><strong>${plan.title}</strong><small>${plan.folder}</small><p class="caution">${plan.missing}</p><button class="plain" aria-label=${`Take it off this list: ${plan.title}`} onClick=${onForget}>Take it off this list</button></div>`;
}

function ByPath({ busy, onDone }) {
  const [folder, setFolder] = useState("");
  return html`<form class="bypath" onSubmit=${event => { event.preventDefault(); onDone(folder); }}>
    <label class="field"><span>Open a plan by its folder</span><input value=${folder} required spellcheck="false" autocomplete="off" onInput=${event => setFolder(event.target.value)} /><small>Type or paste the whole path of the folder that holds its plan.yaml.</small></label>
    <button disabled=${Boolean(busy)}>Open</button></form>`;
}

const KINDS = ["ship", "aircraft", "road vehicle", "rail vehicle", "mast, tower or chimney", "building", "sea mark", "other"];
const PLAN_KINDS = { "mast, tower or chimney": "building" };

function Questions({ busy, onDone }) {
  const [answers, set] = useState({ title: "", kind: "ship", scale: "72", part: "hull", length_mm: "300", height_mm: "60", states: "under way, at anchor" });
  const [ruled, setRuled] = useState(false), [lights, setLights] = useState(null);
  const field = (key, label, says = "", more = {}) => html`<label class="field"><span>${label}</span>
    <input value=${answers[key]} required onInput=${event => set({ ...answers, [key]: event.target.value })} ...${more} />${says && html`<small>${says}</small>`}</label>`;
  const known = answers.kind in RULED, byRule = ruled && known;
  const done = event => {
    event.preventDefault();
    const states = answers.states.split(",").map(word => word.trim()).filter(Boolean);
    onDone({ ...answers, kind: PLAN_KINDS[answers.kind] || answers.kind, ...(byRule ? { lights } : { states }) });
  };
  return html`<form onSubmit=${done}><div class="form">
    ${field("title", "What does the model show?")}
    <label class="field"><span>What kind of thing is it?</span><select value=${answers.kind} onChange=${event => set({ ...answers, kind: event.target.value })}>${KINDS.map(kind => html`<option value=${kind} selected=${kind === answers.kind}>${kind}</option>`)}</select></label>
    ${field("scale", "Scale, 1 to", "", { inputmode: "decimal" })}
    ${field("part", "Name of its first part")}
    ${field("length_mm", "Length of that part, mm", "Measured on the kit part.", { inputmode: "decimal" })}
    ${field("height_mm", "Height of that part, mm", "", { inputmode: "decimal" })}
    ${!byRule && field("states", "In which states is it lit?", "Parted by commas: under way, at anchor.")}
  </div>
    ${known && html`<label class="tick"><input type="checkbox" checked=${ruled} onChange=${event => setRuled(event.target.checked)} /> begin with the lights that published rules ask for</label>`}
    ${byRule && html`<${Lights} kind=${answers.kind} scale=${answers.scale} onAsked=${setLights} />`}
    <div class="tools"><button disabled=${Boolean(busy) || (byRule && !(lights && lights.states.length))}>Begin</button>${byRule && !(lights && lights.states.length) && html`<span class="quiet">First tick a state.</span>`}</div>
  </form>`;
}
