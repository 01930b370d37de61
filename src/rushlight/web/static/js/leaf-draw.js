// The leaf of one part: what is drawn on it as a list, each with its points to be typed, and what can be added.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { count } from "./answers.js";
import { boxed, radiusOf, WORDS } from "./figures.js";
import { FigureForm } from "./leaf-figure.js";
import { Offer } from "./leaf-offer.js";
import { PartDoings } from "./leaf-parts.js";
import { KeysForm, Length } from "./keys-form.js";
import { lengthWords } from "./ruler.js";
import { HOLDS } from "./snap.js";

const SHAPES = [["ring", "by its corners"], ["rect", "a rectangle"], ["disc", "round"]];
const ADDS = [
  ["openings", SHAPES], ["keep_outs", SHAPES], ["obstacles", SHAPES],
  ["bays", [["rect", "a rectangle"]]], ["seams", [["line", "a line"]]], ["crossings", [["dot", "two ends"]]],
  ["heights", [["dot", "at a point"]]], ["strings", [["pair", "between two marks"]]], ["folds", [["pair", "a line"]]],
];
const TITLES = { openings: "Opening", keep_outs: "Keep-out", obstacles: "Obstacle outside", bays: "Bay", seams: "Seam", crossings: "Crossing", heights: "Depth", strings: "String", folds: "Fold" };

export function DrawPart({ desk, state, sheet, part }) {
  const { drawing } = desk, figures = drawing.figures(), { now } = drawing;
  const list = useRef(null), said = useRef(null);
  if (drawing.part !== part) return null;
  return html`<div class="drawing">
    <${PartForm} desk=${desk} state=${state} part=${part} sheet=${sheet} />
    <h3>Drawn on ${part.name}</h3>
    <p class="quiet" ref=${said}>Press something on the sheet, or here. Its points can be dragged; the tick in the middle of an edge puts in a new one. Arrow keys move what is chosen by 1 mm, with Shift by 10, with Alt by 0.1.</p>
    <ul class="list drawn" ref=${list} aria-label=${`Drawn on ${part.name}`}>
      ${now.proposal && now.proposal.fresh && html`<li key=${now.proposal.figure.key}><${FigureForm} desk=${desk} state=${state} part=${part} figure=${now.proposal.figure} /></li>`}
      ${figures.map(figure => html`<${FigureRow} key=${figure.key} desk=${desk} state=${state} part=${part} sheet=${sheet} figure=${now.figure === figure.key ? drawing.figure() : figure} on=${now.figure === figure.key} />`)}
    </ul>
    <${Adds} desk=${desk} part=${part} />
    <${Offer} desk=${desk} state=${state} part=${part} />
    <${Holds} desk=${desk} state=${state} />
    <h3>The part as a whole</h3>
    <${PartDoings} desk=${desk} state=${state} sheet=${sheet} part=${part} />
  </div>`;
}

function FigureRow({ desk, state, part, figure, on }) {
  const row = useRef(null);
  useEffect(() => { if (on && row.current) row.current.scrollIntoView({ block: "nearest" }); }, [on]);
  return html`<li ref=${row}><button class=${on ? "row on" : "row"} aria-pressed=${on} onClick=${() => desk.drawing.choose(on ? null : figure.key)}>
    <strong>${figure.kind === "outline" ? "Outline" : figure.name}</strong><small>${figureWords(figure, state.unit)}</small></button>
    ${on && html`<${FigureForm} desk=${desk} state=${state} part=${part} figure=${figure} />`}</li>`;
}

export function figureWords(figure, unit) {
  const word = figure.kind === "outline" || figure.kind === figure.name ? "" : `${WORDS[figure.kind]}, `, size = mm => lengthWords(mm, unit);
  if (figure.form === "disc") return `${word}round, radius ${size(radiusOf(figure.points))}`;
  if (figure.form === "dot") return `${word}at ${figure.points[0].map(size).join(", ")}${figure.kind === "heights" ? `: ${size(figure.item.height_mm)}` : ""}`;
  if (figure.form === "pair") return `${word}${figure.kind === "strings" ? size(figure.item.length_mm) : `stands up by ${figure.item.angle_deg}°`}`;
  const [, , width, height] = boxed(figure.points);
  return `${word}${size(width)} by ${size(height)}${figure.form === "rect" ? "" : `, ${count(figure.points.length, "point")}`}`;
}

// --- the part itself -------------------------------------------------------------------------------------------------

const PART_KEYS = ["drawn_from", "wall", "wall_mm", "wall_colour", "coats", "seam_gap_mm", "seams_closed", "holes_sealed", "removable", "room_for_illuminators", "note"];

function PartForm({ desk, state, part }) {
  const set = (row, value) => desk.change([{ action: "set", kind: "parts", name: part.name, values: { [row.key]: value } }], `${part.name}: ${row.key.replaceAll("_", " ")} changed`);
  const rows = PART_KEYS.map(key => state.words.keys.parts.find(row => row.key === key));
  const flat = value => desk.change([{ action: "set", kind: "parts", name: part.name, values: { relief: { ...part.relief, flat: value } } }], `${part.name}: ${value ? "flat" : "not flat"}`);
  return html`<details><summary>What ${part.name} is made of</summary>
    <${KeysForm} rows=${rows} item=${part} unit=${state.unit} words=${state.words} onValue=${set} />
    <label class="tick"><input type="checkbox" checked=${part.relief.flat} onChange=${event => flat(event.target.checked)} /> The inner side is flat</label>
  </details>`;
}

// --- adding ----------------------------------------------------------------------------------------------------------

function Adds({ desk, part }) {
  const begin = tool => { desk.drawing.begin(tool); document.getElementById("sheet").focus({ preventScroll: false }); };
  return html`<h3>Draw something</h3>
    <dl class="adds">${ADDS.map(([kind, forms]) => html`<div><dt>${TITLES[kind]}</dt><dd>${forms.map(([form, words]) => html`<button class="small" aria-label=${`${TITLES[kind]}: ${words}`} onClick=${() => begin({ kind, form })}>${words}</button>`)}</dd></div>`)}
      <div><dt>Outline</dt><dd><button class="small" aria-label="Outline: drawn anew, point by point" onClick=${() => begin({ kind: "outline", form: "ring" })}>drawn anew</button></dd></div>
    </dl>`;
}

// What a point takes hold of while it is drawn or dragged.
function Holds({ desk, state }) {
  const { now } = desk.drawing, middle = desk.drawing.middle();
  const put = change => desk.drawing.set(change);
  return html`<details class="holds"><summary>Points take hold of: ${HOLDS.filter(([key]) => now.holds[key]).map(([, words]) => words).join("; ") || "nothing"}</summary>
    <fieldset><legend>With Shift held they go freely.</legend>${HOLDS.map(([key, words]) => html`<label class="tick"><input type="checkbox" checked=${Boolean(now.holds[key])} onChange=${event => put({ holds: { ...now.holds, [key]: event.target.checked } })} /> ${words}</label>`)}</fieldset>
    <div class="form"><${Length} label="Step of the grid" mm=${now.step_mm} unit=${state.unit} low=${0.01} high=${100} onValue=${value => value && put({ step_mm: value })} />
    <div class="pair"><${Length} label="Middle line, upright, at x" mm=${middle.x} unit=${state.unit} onValue=${x => put({ middle: x === null ? null : { ...middle, x } })} />
    <${Length} label="Middle line, level, at y" mm=${middle.y} unit=${state.unit} onValue=${y => put({ middle: y === null ? null : { ...middle, y } })} /></div></div>
  </details>`;
}

// --- over the sheet --------------------------------------------------------------------------------------------------

const HOW = {
  ring: "Press each corner in turn; press the first one again to close it.", line: "Press each point in turn; press the last one again to end it.",
  rect: "Press a corner and drag to the opposite one.", disc: "Press its centre and drag to its rim.",
  dot: "Press the place.", pair: "Press one end, then the other.",
};
const MEASURE = {
  heights: "Lay a ruler across the rim and measure the depth of the inside below it.",
  strings: "Lay a string along the inside between two marks and pull it taut along the surface: its length is asked next.",
  folds: "A wall that is drawn folded flat: the line on which it folds.",
};

// What to do now, while something is being added or is not yet written.
export function ToolWords({ desk, state }) {
  const { now, part } = desk.drawing, { tool, proposal } = now;
  if (!part) return null;
  if (tool) {
    const crossing = tool.kind === "crossings" ? `Press its end on ${part.name}, then its end on another part.` : "";
    return html`<div class="toolwords plate" role="status"><p><strong>${tool.kind === "outline" ? "Outline, drawn anew" : TITLES[tool.kind] || "Foot of a post"}.</strong> ${tool.says || crossing || HOW[tool.form]} ${MEASURE[tool.kind] || ""} ${now.trace.length ? `${count(now.trace.length, "point")} so far.` : ""}</p>
      <div class="tools">${desk.drawing.canFinish() && html`<button onClick=${() => desk.drawing.finish()}>Finish it</button>`}
      ${now.trace.length > 0 && tool.kind !== "crossings" && html`<button onClick=${() => desk.drawing.back()}>One point back</button>`}
      ${!now.trace.length && html`<button onClick=${() => desk.drawing.inTheMiddle()}>Put one in the middle</button>`}
      <button onClick=${() => desk.drawing.giveUp()}>Give it up</button></div></div>`;
  }
  if (proposal && proposal.fault) {
    return html`<div class="toolwords plate" role="alert"><p><strong>Not written.</strong> ${proposal.fault.says} Mend it, or let it go back.</p>
      <div class="tools"><button onClick=${() => desk.drawing.giveUp()}>${proposal.fresh ? "Leave it out" : "As it was"}</button></div></div>`;
  }
  return null;
}
