// Parts as a whole: a new one, its name, a copy for the other side, taking one out with what stands on it.
import { html, useState } from "../vendor/preact-htm.js";
import { Length } from "./keys-form.js";
import { Later } from "./later.js";
import { Moves } from "./leaf-moves.js";
import { mirroredPart, otherSide } from "./mirror.js";
import { renamedPart, standingWords, withoutPart } from "./standing.js";

const names = plan => new Set(plan.parts.map(part => part.name));

export function NewPart({ desk, state, sheet }) {
  const [name, setName] = useState(""), [size, setSize] = useState({ length: 200, height: 60 });
  const free = name.trim() && !names(state.plan).has(name.trim());
  const add = async () => {
    const { length, height } = size, values = { outline_mm: [[0, 0], [length, 0], [length, height], [0, height]] };
    if (!await desk.change([{ action: "add", kind: "parts", name: name.trim(), values }], `${name.trim()} begun`)) return;
    desk.drawing.goTo(name.trim());
    requestAnimationFrame(() => sheet.fit(name.trim()));
    setName("");
  };
  return html`<details><summary>A new part</summary><div class="form">
    <label class="field"><span>Name of the part</span><input value=${name} onInput=${event => setName(event.target.value)} /></label>
    <div class="pair"><${Length} label="Length" mm=${size.length} unit=${state.unit} low=${1} high=${10000} onValue=${length => length && setSize({ ...size, length })} />
    <${Length} label="Height" mm=${size.height} unit=${state.unit} low=${1} high=${10000} onValue=${height => height && setSize({ ...size, height })} /></div>
    ${name.trim() && !free && html`<p class="wrong">There is a part of that name.</p>`}
    <div class="tools"><button disabled=${!free} onClick=${add}>Begin it as a rectangle</button></div></div></details>`;
}

export function PartDoings({ desk, state, sheet, part }) {
  return html`<${Rename} key=${part.name} desk=${desk} state=${state} part=${part} /><${Moves} key=${`moves ${part.name}`} desk=${desk} state=${state} part=${part} /><${Later} key=${`s ${part.name}`} load=${() => import("./later/stand.js")} of="Stand" says="" desk=${desk} state=${state} part=${part} /><${Mirrored} key=${`m ${part.name}`} desk=${desk} state=${state} sheet=${sheet} part=${part} /><${TakeOut} key=${`t ${part.name}`} desk=${desk} state=${state} part=${part} />`;
}

function Rename({ desk, state, part }) {
  const [name, setName] = useState(part.name);
  const done = async () => {
    const now = name.trim();
    if (!now || now === part.name || desk.drawing.part !== part) return;
    if (names(state.plan).has(now)) { setName(part.name); return; }
    if (await desk.change(renamedPart(state.plan, part.name, now), `${part.name} named ${now}`)) desk.drawing.goTo(now);
  };
  return html`<label class="field"><span>Name of this part</span><input value=${name} onInput=${event => setName(event.target.value)} onBlur=${done} onKeyDown=${event => { if (event.key === "Enter") done(); if (event.key === "Escape") setName(part.name); }} /></label>`;
}

const ALONG = [["openings", "openings"], ["keep_outs", "keep-outs"], ["bays", "bays"], ["seams", "seams"], ["relief", "what is known of its depth"]];

function Mirrored({ desk, state, sheet, part }) {
  const [name, setName] = useState(() => otherSide(part.name, names(state.plan)));
  const [take, setTake] = useState({ openings: true, keep_outs: true, bays: false, seams: true, relief: true });
  const free = name.trim() && !names(state.plan).has(name.trim());
  const copy = async () => {
    const now = name.trim();
    if (!await desk.change([{ action: "add", kind: "parts", name: now, values: mirroredPart(state.plan, part, take) }], `${part.name} copied mirrored as ${now}`)) return;
    desk.drawing.goTo(now);
    requestAnimationFrame(() => sheet.fit(now));
  };
  return html`<details><summary>A mirrored copy for the other side</summary><div class="form">
    <label class="field"><span>Name of the copy</span><input value=${name} onInput=${event => setName(event.target.value)} /></label>
    <fieldset><legend>Comes along; lamps and the picture do not</legend>${ALONG.map(([key, words]) => html`<label class="tick"><input type="checkbox" checked=${take[key]} onChange=${event => setTake({ ...take, [key]: event.target.checked })} /> ${words}</label>`)}</fieldset>
    ${!free && html`<p class="wrong">It needs a name that no other part has.</p>`}
    <div class="tools"><button disabled=${!free} onClick=${copy}>Copy it mirrored</button></div></div></details>`;
}

function TakeOut({ desk, state, part }) {
  const [lamps, setLamps] = useState("unplaced"), standing = standingWords(state.plan, part.name), last = state.plan.parts.length === 1;
  const has = state.plan.lamps.some(row => row.part === part.name);
  const out = async () => { if (await desk.change(withoutPart(state.plan, part.name, lamps), `${part.name} taken out`)) desk.drawing.goTo(null); };
  return html`<details><summary>Take this part out</summary><div class="form">
    <p>${last ? "It is the only part; a plan has one at least." : standing.length ? `On it: ${standing.join(", ")}. Rows, strips and crossings cannot be without their part and go with it.` : "Nothing stands on it."}</p>
    ${has && !last && html`<fieldset><legend>Its single lamps</legend>
      <label class="tick"><input type="radio" name="lamps-of-part" checked=${lamps === "unplaced"} onChange=${() => setLamps("unplaced")} /> stay in the plan, not placed yet</label>
      <label class="tick"><input type="radio" name="lamps-of-part" checked=${lamps === "remove"} onChange=${() => setLamps("remove")} /> go with it</label></fieldset>`}
    <div class="tools"><button disabled=${last} onClick=${out}>Take ${part.name} out</button></div></div></details>`;
}
