// The start page: plans opened lately, demos as copies, a new plan from a few questions.
import { html, useEffect, useState } from "../vendor/preact-htm.js";
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
  return html`<main class="start">
    <header><svg class="rush" viewBox="0 0 120 150" aria-hidden="true"><circle cx="60" cy="42" r="34" class="halo" /><circle cx="60" cy="42" r="9" class="flame" /><path d="M60 55C58 90 63 110 57 148" class="stem" /><path d="M46 100h30M52 94l18 12" class="clip" /></svg>
      <div><h1>rushlight</h1><p>Plan, check and build the lighting of a scale model before it is closed for good.</p></div></header>
    <p class="caution" role="alert" hidden=${!trouble}>${trouble}</p>
    <p role="status" class="quiet">${busy}</p>
    <section aria-labelledby="recent"><h2 id="recent">Go on with a plan</h2>
      ${known && known.recent.length === 0 && html`<p class="quiet">No plan was opened yet. Look into a demo, or begin one below.</p>`}
      <ul class="list">${known && known.recent.map(plan => html`<li><a class="row" href=${`/plan/${plan.id}`}><strong>${plan.title}</strong><small>${plan.folder}</small></a></li>`)}</ul>
    </section>
    <section aria-labelledby="demos"><h2 id="demos">Look into a demo</h2><p class="quiet">All invented. A copy is opened, so do with it what you like.</p>
      <ul class="list">${known && known.demos.map(name => html`<li><button class="row" disabled=${Boolean(busy)} onClick=${() => begun(`Copying the demo ${name} ...`, "/api/demos", { name })}><strong>${(DEMOS[name] || [name])[0]}</strong><small>${(DEMOS[name] || ["", ""])[1]}</small></button></li>`)}</ul>
    </section>
    <section aria-labelledby="new"><h2 id="new">Begin a new plan</h2><${Questions} busy=${busy} onDone=${answers => begun("Beginning the plan ...", "/api/plans", answers)} /></section>
  </main>`;
}

const KINDS = ["ship", "aircraft", "road vehicle", "rail vehicle", "building", "sea mark", "other"];

function Questions({ busy, onDone }) {
  const [answers, set] = useState({ title: "", kind: "ship", scale: "72", part: "hull", length_mm: "300", height_mm: "60", states: "under way, at anchor" });
  const field = (key, label, says = "", more = {}) => html`<label class="field"><span>${label}</span>
    <input value=${answers[key]} required onInput=${event => set({ ...answers, [key]: event.target.value })} ...${more} />${says && html`<small>${says}</small>`}</label>`;
  const done = event => {
    event.preventDefault();
    onDone({ ...answers, states: answers.states.split(",").map(word => word.trim()).filter(Boolean) });
  };
  return html`<form class="form" onSubmit=${done}>
    ${field("title", "What does the model show?")}
    <label class="field"><span>What kind of thing is it?</span><select value=${answers.kind} onChange=${event => set({ ...answers, kind: event.target.value })}>${KINDS.map(kind => html`<option value=${kind} selected=${kind === answers.kind}>${kind}</option>`)}</select></label>
    ${field("scale", "Scale, 1 to", "", { inputmode: "decimal" })}
    ${field("part", "Name of its first part")}
    ${field("length_mm", "Length of that part, mm", "Measured on the kit part.", { inputmode: "decimal" })}
    ${field("height_mm", "Height of that part, mm", "", { inputmode: "decimal" })}
    ${field("states", "In which states is it lit?", "Parted by commas: under way, at anchor.")}
    <div class="tools"><button disabled=${Boolean(busy)}>Begin</button></div>
  </form>`;
}
