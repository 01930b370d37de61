// What do you see? The lamps that should be lit, to be tapped dark or dim on the part or in the list.
import { html, useState } from "../../vendor/preact-htm.js";
import { grouped, lighted, marked, nearest, turned } from "./amounts.js";

const TAP_PX = 30;

export function Look({ found, state, setState, marks, setMarks, onNote }) {
  const [wrongly, setWrongly] = useState(false);
  const row = found.states.find(one => one.state === state) || found.states[0], due = row.lamps, off = offIn(found, row);
  const names = wrongly ? off : due, turn = some => setMarks(wrongly ? lighted(marks, some) : turned(marks, some));
  const said = { dark: marked(marks, "dark", due), dim: marked(marks, "dim", due), lit: marked(marks, "on", off) };
  const count = [["dark", "dark"], ["dim", "dim"], ["lit", "lit wrongly"]].filter(([key]) => said[key].length).map(([key, word]) => `${said[key].length} ${word}`).join(", ");
  return html`<label class="b-field"><span>The switch is at</span><select value=${row.state} onChange=${event => setState(event.target.value)}>${found.states.map(one => html`<option value=${one.state} selected=${one.state === row.state}>${one.state}</option>`)}</select></label>
    <p class="quiet">${wrongly ? "Every lamp drawn here should be dark. Tap what is lit all the same." : "Every lamp drawn here should be lit. Tap what is not: once for dark, twice for much dimmer than its like, a third time for as it should be."}</p>
    <${Tapped} key=${wrongly} found=${found} names=${names} marks=${marks} turn=${turn} usual=${wrongly ? "off" : "lit"} />
    <details class="b-group"><summary><h4>Or in the list</h4><span>${names.length} lamps</span></summary>
      ${grouped(names, found.lamps).map(([group, some]) => html`<div class="b-taps" key=${group}>
        ${some.length > 1 && html`<button onClick=${() => turn(some)}>all of ${group}</button>`}
        ${some.map(name => html`<button key=${name} class=${`b-tap ${marks[name] || ""}`} onClick=${() => turn([name])}><b>${found.lamps[name] ? found.lamps[name].number : ""}</b> ${name} <em>${word(marks[name], wrongly)}</em></button>`)}</div>`)}
    </details>
    ${(off.length > 0 || wrongly) && html`<button class="b-quiet" onClick=${() => setWrongly(!wrongly)}>${wrongly ? "Back to those that should be lit" : "Is one lit that should be dark?"}</button>`}
    <button class="b-main" onClick=${() => { setWrongly(false); onNote(row.state, said); }}>${count ? `Note: ${count}` : "Note: all as they should be"}</button>`;
}

const word = (mark, wrongly) => wrongly ? mark === "on" ? "lit" : "dark" : mark || "lit";

// Lamps that are lit in another state and should be dark in this one.
function offIn(found, row) {
  const due = new Set(row.lamps);
  return [...new Set(found.states.flatMap(one => one.lamps))].filter(name => !due.has(name) && found.lamps[name]);
}

// The parts that have such lamps, one at a time; nearer and farther by buttons.
function Tapped({ found, names, marks, turn, usual }) {
  const here = found.parts.filter(part => names.some(name => found.lamps[name] && found.lamps[name].part === part.part));
  const [chosen, setChosen] = useState(null), [near, setNear] = useState(1);
  const part = here.find(one => one.part === chosen) || here[0];
  if (!part) return null;
  const lamps = names.filter(name => found.lamps[name] && found.lamps[name].part === part.part);
  const off = one => names.filter(name => found.lamps[name] && found.lamps[name].part === one.part && marks[name]).length;
  return html`${here.length > 1 && html`<label class="b-field"><span>Part</span><select value=${part.part} onChange=${event => setChosen(event.target.value)}>${here.map(one => html`<option value=${one.part} selected=${one === part}>${one.part}${off(one) ? ` (${off(one)} marked)` : ""}</option>`)}</select></label>`}
    <div class="b-scroll" tabindex="0" role="region" aria-label=${`${part.part}, to be tapped; the list below is the same`}><${Part} part=${part} lamps=${lamps} all=${found.lamps} marks=${marks} turn=${turn} near=${near} usual=${usual} /></div>
    <div class="b-tools"><button onClick=${() => setNear(Math.min(near * 2, 8))} disabled=${near >= 8}>Nearer</button><button onClick=${() => setNear(Math.max(near / 2, 1))} disabled=${near <= 1}>Farther</button></div>`;
}

function Part({ part, lamps, all, marks, turn, near, usual }) {
  const xs = part.outline.map(at => at[0]), ys = part.outline.map(at => at[1]), edge = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) * 0.06;
  const [left, low] = [Math.min(...xs) - edge, Math.min(...ys) - edge], wide = Math.max(...xs) + edge - left, tall = Math.max(...ys) + edge - low;
  const path = points => points.map(([x, y], n) => `${n ? "L" : "M"}${x} ${-y}`).join("") + "Z";
  const most = Math.max(wide, tall) * 0.021 / near, alone = spacing(lamps, all), closest = Math.min(...alone.values());
  const r = Math.min(most, Math.max(closest * 0.42, most * 0.35));
  const tapped = event => {
    const box = event.currentTarget.getBoundingClientRect(), px = box.width / wide;
    const at = [left + (event.clientX - box.left) / px, low + tall - (event.clientY - box.top) / px];
    const name = nearest(at, lamps.map(one => [one, all[one].at]), TAP_PX / px);
    if (name) turn([name]);
  };
  const words = `${part.part}: ${lamps.length} lamps that should be ${usual === "off" ? "dark" : "lit"}, ${lamps.filter(name => marks[name]).length} marked`;
  return html`<svg class="b-part-map" role="img" aria-label=${words} viewBox=${`${left} ${-(low + tall)} ${wide} ${tall}`} style=${{ width: `${near * 100}%` }} onClick=${tapped}>
    <path d=${path(part.outline)} fill="none" stroke="currentColor" stroke-width=${r * 0.25} />
    ${part.openings.map(points => html`<path d=${path(points)} fill="none" stroke="currentColor" stroke-width=${r * 0.1} />`)}
    ${lamps.map(name => html`<${Lamp} key=${name} at=${all[name].at} number=${alone.get(name) > most * 2.4 ? all[name].number : ""} size=${most} kind=${marks[name] || usual} r=${r} />`)}
  </svg>`;
}

// How far each lamp is from the nearest other.
function spacing(lamps, all) {
  const away = (a, b) => Math.hypot(all[a].at[0] - all[b].at[0], all[a].at[1] - all[b].at[1]);
  return new Map(lamps.map(name => [name, Math.min(Infinity, ...lamps.filter(other => other !== name).map(other => away(name, other)))]));
}

// Lit: a ring with rays. Dark: filled, crossed. Dim: half of it filled. Off as it should be: a small ring.
function Lamp({ at: [x, y], number, kind, r, size }) {
  const ray = turn => `M${x + r * 1.2 * Math.cos(turn)} ${-y + r * 1.2 * Math.sin(turn)}L${x + r * 1.7 * Math.cos(turn)} ${-y + r * 1.7 * Math.sin(turn)}`;
  const rays = kind === "lit" || kind === "on", usual = kind === "lit" || kind === "off", ring = kind === "off" ? r * 0.6 : r;
  return html`<g>
    <circle cx=${x} cy=${-y} r=${ring} fill=${kind === "dark" ? "currentColor" : "var(--plate)"} stroke=${usual ? "currentColor" : "var(--ember)"} stroke-width=${r * (usual ? 0.2 : 0.4)} />
    ${rays && html`<path d=${[0, 1, 2, 3, 4, 5, 6, 7].map(n => ray(n * Math.PI / 4)).join("")} stroke=${usual ? "currentColor" : "var(--ember)"} stroke-width=${r * (usual ? 0.15 : 0.3)} fill="none" />`}
    ${kind === "dim" && html`<path d=${`M${x} ${-y - r}A${r} ${r} 0 0 0 ${x} ${-y + r}Z`} fill="currentColor" />`}
    ${kind === "dark" && html`<path d=${`M${x - r * 0.6} ${-y - r * 0.6}l${r * 1.2} ${r * 1.2}m0 ${-r * 1.2}l${-r * 1.2} ${r * 1.2}`} stroke="var(--plate)" stroke-width=${r * 0.3} />`}
    ${number !== "" && html`<text x=${x + r * 1.5} y=${-y - r * 1.2} font-size=${size * 1.9} fill="currentColor">${number}</text>`}
  </g>`;
}
