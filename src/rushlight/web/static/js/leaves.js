// Leaves that open beside the thumb index, in the order of the job.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { amount, count, isFresh, stageWords } from "./answers.js";
import { Choice, Typed, choicesOf } from "./fields.js";
import { Grid } from "./grid.js";
import { Lamps } from "./lamps.js";
import { DrawPart } from "./leaf-draw.js";
import { ANY } from "./pick.js";
import { MorePictures, PartPicture } from "./pictures.js";
import { NewPart } from "./leaf-parts.js";
import { Later } from "./later.js";
import { lengthWords } from "./ruler.js";

export const LEAVES = [
  ["subject", "Subject"], ["references", "Evidence"], ["parts", "Parts"], ["lamps", "Lamps"], ["light", "Light"], ["loom", "Loom"], ["power", "Power"],
  ["order", "Order"], ["bench", "Bench"], ["book", "Book"],
];

export function Leaf({ desk, state, sheet }) {
  const leaf = useRef(null);
  useEffect(() => { if (getComputedStyle(leaf.current).position === "static") leaf.current.scrollIntoView(); }, [state.leaf]); // narrow: it lies below the sheet
  const Inside = { subject: Subject, references: References, parts: Parts, lamps: Lamps, light: Light, loom: Loom, power: Power, order: FromBook, bench: Bench, book: Book }[state.leaf];
  const title = LEAVES.find(([key]) => key === state.leaf)[1], held = state.sheets[state.leaf];
  return html`<section class="leaf plate ${state.leaf}" id="leaf" ref=${leaf} aria-label=${title}>
    <header><h2>${title}</h2>${held && html`<${OfSheets} of="Contents" says="" sheets=${held.sheets} />`}<button class="plain" onClick=${() => desk.set({ leaf: "" })} aria-label="Close this leaf">Close</button></header>
    <${Inside} desk=${desk} state=${state} sheet=${sheet} leaf=${state.leaf} />
  </section>`;
}

const OfSheets = given => html`<${Later} load=${() => import("./later/blocks.js")} ...${given} />`;

// Sheets of the book that belong to a leaf; asked for when the answer is there.
function FromBook({ desk, state, leaf }) {
  const fresh = isFresh(state), held = state.sheets[leaf];
  useEffect(() => { if (fresh) desk.leafSheets(leaf); }, [fresh, state.revision, leaf]);
  if (held && held.revision === state.revision) return html`<${OfSheets} of="Sheets" sheets=${held.sheets} leaf=${leaf} />`;
  return html`<p class="quiet" role="status">${fresh ? "Fetching it ..." : `Being worked out: ${stageWords(state.stage)}.`}</p>`;
}

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
  const go = name => { desk.drawing.goTo(name); sheet.fit(name); };
  const part = state.plan.parts.find(row => row.name === state.part);
  return html`<ul class="list">
    <li><button class=${state.part ? "row" : "row on"} onClick=${() => go(null)}><strong>The whole model</strong><small>${count(state.plan.parts.length, "part")}</small></button></li>
    ${state.plan.parts.map(part => html`<li><button class=${state.part === part.name ? "row on" : "row"} aria-pressed=${state.part === part.name} onClick=${() => go(part.name)}>
      <strong>${part.name}</strong><small>${size(part)}; ${part.wall_mm} mm ${part.wall}; ${count(lamps(part.name), "lamp")}${part.picture ? "" : "; no picture yet"}</small>
    </button>${state.part === part.name && html`<${PartPicture} desk=${desk} part=${part} />`}</li>`)}
  </ul>
  <${MorePictures} desk=${desk} state=${state} />
  <${NewPart} desk=${desk} state=${state} sheet=${sheet} />
  <${Later} load=${() => import("./later/spaces.js")} of="Spaces" says="" desk=${desk} state=${state} />
  ${part && html`<${DrawPart} desk=${desk} state=${state} sheet=${sheet} part=${part} />`}
  ${state.pictures.map(problem => html`<p class="caution">${problem.says}</p>`)}`;
}

// --- light: the grid of lamps by states ----------------------------------------------------------------------------

function Light({ desk, state }) {
  const said = state.answer && state.answer.picture.words[state.state];
  return html`<${Grid} desk=${desk} state=${state} /><${Later} load=${() => import("./later/states.js")} of="States" says="" desk=${desk} state=${state} />${said && html`<p class="quiet">By night: ${said}</p>`}<${Later} load=${() => import("./later/stood.js")} of="Stood" says="" desk=${desk} state=${state} /><${Own} desk=${desk} state=${state} /><${Camera} desk=${desk} state=${state} /><${FromBook} desk=${desk} state=${state} leaf="light" />`;
}

// --- loom, power --------------------------------------------------------------------------------------------------

function Loom({ desk, state }) {
  const loom = state.answer && state.answer.loom, fresh = isFresh(state);
  return html`<label class="tick"><input type="checkbox" checked=${state.loomShown} onChange=${event => desk.set({ loomShown: event.target.checked })} /> draw the loom on the parts</label>
  ${loom && html`<p class=${fresh ? "" : "old"}>${count(loom.leads.length, "lead")} of ${lengthWords(loom.lead_mm, state.unit)} in all, ${count(loom.splices.length, "splice")}, ${count(loom.tails.length, "fibre tail")} of ${lengthWords(loom.tail_mm, state.unit)}. A whole line is plus, a broken one return, a dotted one a link from LED to LED in series.</p>
    ${loom.unrouted.map(row => html`<p class="caution"><strong>${row.item}</strong> has no way on ${row.part}: ${row.why}</p>`)}`}
  <${FromBook} desk=${desk} state=${state} leaf="loom" />`;
}

function Power({ desk, state }) {
  const power = state.answer && state.answer.power, fresh = isFresh(state);
  return html`<${Feed} desk=${desk} state=${state} /><${Later} load=${() => import("./later/held.js")} of="Held" says="" desk=${desk} state=${state} />${power && html`<div class=${fresh ? "" : "old"}>
    ${power.faults.map(fault => html`<p class="caution">${fault}</p>`)}
    <figure class="table"><figcaption>${power.supply || "No supply yet"}</figcaption><div class="scroll"><table>
      <thead><tr><th scope="col">State</th><th scope="col" class="right">Draws <small>mA</small></th><th scope="col" class="right">Runs</th></tr></thead>
      <tbody>${power.states.map(row => html`<tr><th scope="row">${row.state}</th><td class="right">${row.supply_ma < 0.001 ? "under 0.001" : amount(row.supply_ma, "")}</td><td class="right">${row.runs}</td></tr>`)}</tbody>
    </table></div></figure></div>`}
  <${Circuits} desk=${desk} state=${state} />
  <${FromBook} desk=${desk} state=${state} leaf="power" />`;
}

// --- the bench: the phone's own pages, fetched when the leaf is first opened ------------------------------------------

const Feed = given => html`<${Later} load=${() => import("./later/feed.js")} of="Feed" says="" ...${given} />`;

const Camera = given => html`<${Later} load=${() => import("./later/camera.js")} of="Camera" says="" ...${given} />`;
const Own = given => html`<${Later} load=${() => import("./later/own.js")} of="Own" says="" ...${given} />`;

const References = given => html`<${Later} load=${() => import("./later/references.js")} of="References" ...${given} />`;

const Bench = ({ desk }) => html`<${Later} load=${() => import("./bench/leaf.js")} of="BenchLeaf" desk=${desk} />`;

// A part of a leaf that is fetched when it is first wanted.
// Known at once, with the plan itself.
function Circuits({ desk, state }) {
  const { circuits } = state.look;
  return circuits && circuits.length > 0 && html`<figure class="table"><figcaption>Circuits: what always switches together</figcaption><div class="scroll"><table>
    <thead><tr><th scope="col">Circuit</th><th scope="col" class="right">Lamps</th><th scope="col">Lit when</th><th scope="col">Rhythm</th></tr></thead>
    <tbody>${circuits.map(row => html`<tr><th scope="row"><button class="plain" aria-label=${`List the lamps of circuit ${row.name}`} onClick=${() => desk.set({ leaf: "lamps", filter: { ...ANY, circuit: row.name } })}>${row.name}</button></th><td class="right">${row.lamps.length}</td><td>${row.states.join(", ")}</td><td>${row.rhythm}</td></tr>`)}</tbody>
  </table></div></figure>`;
}

// --- the book -----------------------------------------------------------------------------------------------------

function Book({ desk, state }) {
  const [paper, setPaper] = useState("a4"), book = state.book, working = book && book.working;
  return html`<p>Everything for the bench: drawings at true size, cut list, circuit, build order, what to buy.</p>
    <${Choice} label="Paper" value=${paper} choices=${["a4", "letter"]} onValue=${setPaper} />
    <div class="tools"><button disabled=${working || !isFresh(state)} onClick=${() => desk.makeBook(paper)}>${working ? "Writing the book ..." : "Write the book"}</button>${working && html`<button onClick=${() => desk.stopBook()}>Stop</button>`}</div>
    <p role="status" class="quiet">${working ? `Now: ${book.stage}.` : !isFresh(state) ? `First the design is worked out: ${stageWords(state.stage)}.` : ""}</p>
    ${book && book.says && html`<p class="caution">${book.says}</p>`}
    ${book && book.pdf && html`<p><a href=${`${desk.path}/book/${book.paper}.pdf?of=${book.revision.slice(0, 8)}`} target="_blank" rel="noopener">Open the book (PDF)</a>${book.revision === state.revision ? "" : " It belongs to the plan before your last edit."}</p>
    <p class="quiet">${book.files} files lie in the plan's folder, in 'book'.</p>`}
    <${Later} load=${() => import("./later/share.js")} of="Share" desk=${desk} fresh=${isFresh(state)} />`;
}
