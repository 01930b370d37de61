// What lies behind and before an opening (sheets, a door), and the named stands of a part that moves.
import { html, useState } from "../vendor/preact-htm.js";
import { Choice, Typed } from "./fields.js";
import { edited } from "./figures.js";
import { Length } from "./keys-form.js";
import { poseIn, posesChanged, stoodIn } from "./stands.js";

const EDGES = [["left", "its left edge"], ["right", "its right edge"], ["bottom", "its lower edge"], ["top", "its upper edge"]];

export function Behind({ desk, state, part, figure }) {
  const { item } = figure, set = (values, says) => desk.change(edited(part, figure, values), `${figure.name}: ${says}`);
  return html`<${Sheets} state=${state} sheets=${item.diffusers || []} set=${diffusers => set({ diffusers }, "sheets behind it changed")} />
    <${Door} state=${state} part=${part} door=${item.door} set=${(door, says) => set({ door }, says)} />`;
}

// An obstacle that is a moving part, or sits on one.
export function MovesWith({ desk, state, part, figure }) {
  const { item, points } = figure, moving = state.plan.parts.filter(row => row.name !== part.name && row.poses.length).map(row => row.name);
  const set = (values, says) => desk.change(edited(part, figure, values), `${figure.name}: ${says}`);
  const taken = name => set(name ? { moves_with: name, ...(item.pivot_mm || item.slide_deg !== null ? {} : { pivot_mm: points[0] }) } : { moves_with: null, pivot_mm: null, slide_deg: null }, name ? `moves with ${name}` : "stands still");
  const way = word => set(word === "turns" ? { pivot_mm: points[0], slide_deg: null } : { pivot_mm: null, slide_deg: 0 }, `it ${word}`);
  const at = n => value => value !== null && set({ pivot_mm: item.pivot_mm.map((old, k) => k === n ? value : old) }, "its pivot moved");
  return (moving.length > 0 || item.moves_with) && html`<div class="form"><${Choice} label="Moves with" value=${item.moves_with || ""} choices=${[["", "nothing"], ...moving]} onValue=${taken} />
    ${item.moves_with && html`<${Choice} label="Turns or slides" value=${item.pivot_mm ? "turns" : "slides"} choices=${["turns", "slides"]} onValue=${way} />`}
    ${item.pivot_mm && html`<div class="pair">${[0, 1].map(n => html`<${Length} label=${`Pivot ${"xy"[n]}`} mm=${item.pivot_mm[n]} unit=${state.unit} onValue=${at(n)} />`)}</div>`}
    ${item.moves_with && !item.pivot_mm && html`<${Typed} label="Slides towards, 0 is right, 90 up" unit="deg" number value=${item.slide_deg} onValue=${slide_deg => slide_deg !== null && set({ slide_deg }, "its way changed")} />`}</div>`;
}

// From the outside inward, as they are laid.
function Sheets({ state, sheets, set }) {
  const kinds = state.words.drawer.diffusers, put = (n, values) => set(sheets.map((row, k) => k === n ? { ...row, ...values } : row));
  return html`<details><summary>Sheets behind it: ${sheets.length || "none"}</summary><div class="form">
    ${sheets.map((row, n) => html`<div class="pair"><${Choice} label=${`Sheet ${n + 1}`} value=${row.sheet} choices=${kinds.includes(row.sheet) ? kinds : [row.sheet, ...kinds]} onValue=${sheet => put(n, { sheet })} />
      <${Length} label="Gap before it" mm=${row.gap_mm} unit=${state.unit} low=${0} high=${1000} onValue=${gap_mm => put(n, { gap_mm: gap_mm ?? 0 })} /></div>
      <div class="tools"><button class="small" onClick=${() => set(sheets.filter((_, k) => k !== n))}>Take sheet ${n + 1} out</button></div>`)}
    <div class="tools"><button class="small" onClick=${() => set([...sheets, { sheet: kinds[0], gap_mm: 1 }])}>Another sheet, further in</button></div></div></details>`;
}

function Door({ state, part, door, set }) {
  const moving = state.plan.parts.filter(row => row.name !== part.name && row.poses.length).map(row => row.name);
  const taken = name => name ? set({ moves: "turns", edge: "left", ...door, part: name }, `shut by ${name}`) : set(null, "no door");
  return html`<details open=${Boolean(door)}><summary>Door: ${door ? door.part : "none"}</summary><div class="form">
    ${!moving.length && html`<p class="quiet">A door, hatch or shutter is a part of its own that moves: say its stands in that part's form first.</p>`}
    ${moving.length > 0 && html`<${Choice} label="Shut by" value=${door ? door.part : ""} choices=${[["", "nothing"], ...moving]} onValue=${taken} />`}
    ${door && html`<div class="pair"><${Choice} label="Turns or slides" value=${door.moves} choices=${["turns", "slides"]} onValue=${moves => set({ ...door, moves }, `its door ${moves}`)} />
      <${Choice} label=${door.moves === "turns" ? "Hangs on" : "Slides towards"} value=${door.edge} choices=${EDGES} onValue=${edge => set({ ...door, edge }, "its door moved")} /></div>
      <p class="quiet">In a pose of value 0 it is shut; ${door.moves === "turns" ? "the value says how many degrees it stands open" : "the value says how many mm it is slid"}.</p>`}</div></details>`;
}

export function Moves({ desk, state, part }) {
  const [name, setName] = useState(""), { plan } = state, { poses } = part, now = state.state, stands = poseIn(plan, part.name, now);
  const change = (next, says, renamed = {}) => desk.change(posesChanged(plan, part.name, next, renamed), `${part.name}: ${says}`);
  const put = (n, values) => poses.map((row, k) => k === n ? { ...row, ...values } : row);
  const free = name.trim() && !poses.some(row => row.name === name.trim());
  const add = async () => { if (await change([...poses, { name: name.trim(), value: poses.length ? 90 : 0 }], `stands '${name.trim()}'`)) setName(""); };
  const called = (row, n, word) => word && !poses.some(other => other.name === word) && change(put(n, { name: word }), `'${row.name}' called '${word}'`, { [row.name]: word });
  return html`<details open=${poses.length > 0}><summary>It moves: ${poses.length ? poses.map(row => row.name).join(", ") : "no"}</summary><div class="form">
    <p class="quiet">Name how it can stand: shut, ajar, wide. Degrees if it turns, mm if it slides; 0 is shut, or as it is drawn.</p>
    ${poses.map((row, n) => html`<div class="pair"><${Typed} label=${`Stand ${n + 1}`} value=${row.name} onValue=${word => called(row, n, word)} />
      <${Typed} label="Degrees or mm" number value=${row.value} onValue=${value => value !== null && change(put(n, { value }), `'${row.name}' is ${value}`)} /></div>
      <div class="tools"><button class="small" onClick=${() => change(poses.filter((_, k) => k !== n), `no longer '${row.name}'`)}>Take '${row.name}' out</button></div>`)}
    <label class="field"><span>Another stand</span><input value=${name} onInput=${event => setName(event.target.value)} /></label>
    <div class="tools"><button class="small" disabled=${!free} onClick=${add}>Add it</button></div>
    ${poses.length > 1 && stands && html`<${Choice} label=${`When ${now} it stands`} value=${stands.name} choices=${poses.map(row => row.name)} onValue=${at => desk.change(stoodIn(plan, part.name, now, at), `${part.name} ${at} when ${now}`)} />`}
  </div></details>`;
}
