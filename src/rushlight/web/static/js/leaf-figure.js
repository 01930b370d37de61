// The form of one figure: its name and keys, its points to be typed one by one, what can be done to it.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { boxed, canInsert, canTake, edited, NESTED, radiusOf, WORDS } from "./figures.js";
import { KeysForm, labelOf, Length } from "./keys-form.js";
import { Behind, MovesWith } from "./leaf-moves.js";
import { cornersOf } from "./shapes.js";
import { evened } from "./mirror.js";

const LABELS = { "keep_outs/height_mm": "Stands up outside by", "obstacles/height_mm": "Height of its top", "obstacles/above_mm": "Free height under it" };
const KEYS = { openings: ["clear", "note"], keep_outs: ["why", "height_mm", "note"], obstacles: ["height_mm", "above_mm", "note"], bays: ["depth_mm", "access", "note"], heights: ["height_mm"], strings: ["length_mm"], folds: ["angle_deg", "towards"],
  crossings: ["kind", "slack_mm", "carries", "hole_mm", "hinge_distance_mm", "opening_deg", "travel_mm", "note"], outline: [], seams: [], posts: [] };
const OF_KIND = { hinge_distance_mm: ["hinged"], opening_deg: ["hinged", "pivoting"], travel_mm: ["sliding"] };
const MEASURE = {
  heights: "Lay a ruler across the rim of the part and measure down to the inside. Between such points the depth is taken as straight.",
  strings: "Lay a string along the inside between the two marks, pull it taut along the surface, and measure it. Lay one along and one across; the worst of them counts.",
  folds: "For a box that is drawn folded flat: lengths along it are right as they are drawn.",
  obstacles: "What stands on the outside, or hangs over it: in floodlight it throws a shadow. Drawn as it stands at pose value 0.",
  seams: "Where parts meet. A lead that comes nearer than 2 mm, other than at a crossing, would be pinched.",
  crossings: "Where leads and fibres pass to another part.",
};

export function FigureForm({ desk, state, part, figure }) {
  const { drawing } = desk, { proposal } = drawing.now, mine = proposal && proposal.figure.key === figure.key ? proposal : null;
  if (mine && mine.fresh) return html`<${Asked} desk=${desk} state=${state} part=${part} figure=${figure} proposal=${mine} />`;
  const { unit, words } = state, named = NESTED.has(figure.kind) || figure.kind === "crossings";
  const rows = (KEYS[figure.kind] || []).filter(key => !OF_KIND[key] || OF_KIND[key].includes(figure.item.kind)).map(key => ({ ...words.keys[figure.kind].find(row => row.key === key), label: LABELS[`${figure.kind}/${key}`] }));
  const set = (row, value) => desk.change(edited(part, figure, { [row.key]: value }), `${drawing.title(figure)}: ${row.key.replaceAll("_", " ")} changed`);
  return html`<div class="form chosen">
    ${named && html`<${Name} name=${figure.name} onName=${name => drawing.rename(name)} />`}
    ${MEASURE[figure.kind] && html`<p class="quiet">${MEASURE[figure.kind]}</p>`}
    ${rows.length > 0 && html`<${KeysForm} rows=${rows} item=${figure.item} unit=${unit} words=${words} onValue=${set} />`}
    ${figure.kind === "openings" && html`<${Behind} key=${`behind ${figure.key}`} desk=${desk} state=${state} part=${part} figure=${figure} />`}
    ${figure.kind === "obstacles" && html`<${MovesWith} key=${`moves ${figure.key}`} desk=${desk} state=${state} part=${part} figure=${figure} />`}
    <${Points} desk=${desk} unit=${unit} figure=${figure} />
    <${Doings} desk=${desk} part=${part} figure=${figure} />
  </div>`;
}

function Name({ name, onName }) {
  const [text, setText] = useState(name);
  const done = () => text.trim() ? onName(text.trim()) : setText(name);
  return html`<label class="field"><span>Name</span><input value=${text} onInput=${event => setText(event.target.value)} onBlur=${done} onKeyDown=${event => { if (event.key === "Enter") done(); if (event.key === "Escape") setText(name); }} /></label>`;
}

// What must be known before something new can be written.
function Asked({ desk, state, part, figure, proposal }) {
  const { drawing } = desk, [values, setValues] = useState(proposal.values || {}), [said, setSaid] = useState(""), latest = useRef(values);
  const form = useRef(null);
  latest.current = values;
  // What is asked comes into sight with its first field ready, also where the leaf lies below the sheet.
  useEffect(() => {
    const first = form.current.querySelector("input, select");
    form.current.scrollIntoView({ block: "nearest" });
    if (first && rows.length) first.focus();
  }, [figure.key]);
  const rows = (proposal.asks || []).map(key => state.words.keys[figure.kind].find(row => row.key === key)).filter(Boolean).map(row => ({ ...row, label: LABELS[`${figure.kind}/${row.key}`] }));
  // A field gives its value as it loses the focus to the button; so what is there is asked for when that is done.
  const write = () => setTimeout(() => {
    const missing = rows.filter(row => latest.current[row.key] === undefined);
    if (missing.length) setSaid(`Still to be said: ${missing.map(labelOf).join(", ").toLowerCase()}.`);
    else drawing.propose(figure, latest.current);
  });
  return html`<div class="form chosen" ref=${form}><p><strong>New ${WORDS[figure.kind]}.</strong> ${proposal.fault ? proposal.fault.says : "It is written when this is said:"}</p>
    ${MEASURE[figure.kind] && html`<p class="quiet">${MEASURE[figure.kind]}</p>`}
    <${KeysForm} rows=${rows} item=${values} unit=${state.unit} words=${state.words} onValue=${(row, value) => setValues({ ...values, [row.key]: value === null ? undefined : value })} />
    <${Points} desk=${desk} unit=${state.unit} figure=${figure} />
    ${said && html`<p class="wrong" role="alert">${said}</p>`}
    <div class="tools"><button onClick=${write}>Write it</button><button onClick=${() => { drawing.giveUp(); drawing.choose(null); }}>Leave it out</button></div>
  </div>`;
}

// --- points ----------------------------------------------------------------------------------------------------------

function Points({ desk, unit, figure }) {
  const { form, points } = figure;
  if (form === "rect") return html`<${Box} desk=${desk} unit=${unit} figure=${figure} />`;
  if (form === "disc") return html`<${Disc} desk=${desk} unit=${unit} figure=${figure} />`;
  return html`<table class="points"><caption class="unseen">Points of ${figure.name}</caption>
    <thead><tr><th scope="col">${points.length > 1 ? "Point" : ""}</th><th scope="col">x, ${unit === "inch" ? "in" : "mm"}</th><th scope="col">y, ${unit === "inch" ? "in" : "mm"}</th><th scope="col"><span class="unseen">Do</span></th></tr></thead>
    <tbody>${points.map((point, n) => html`<${PointRow} key=${n} desk=${desk} unit=${unit} figure=${figure} n=${n} point=${point} />`)}</tbody></table>`;
}

function PointRow({ desk, unit, figure, n, point }) {
  const { drawing } = desk, on = drawing.now.point === n, what = figure.points.length > 1 ? ` of point ${n + 1}` : "";
  const put = axis => value => value !== null && drawing.bend(n, point.map((old, m) => m === axis ? value : old));
  const mark = () => { if (!on) drawing.set({ point: n }); };
  return html`<tr class=${on ? "on" : ""}><th scope="row"><button class="small number" aria-pressed=${on} aria-label=${`Point ${n + 1}: choose it, then move it by the arrow keys`} onClick=${() => drawing.set({ point: on ? null : n })}>${n + 1}</button></th>
    <td><${Length} short label=${`x${what}`} mm=${point[0]} unit=${unit} onValue=${put(0)} onFocus=${mark} /></td><td><${Length} short label=${`y${what}`} mm=${point[1]} unit=${unit} onValue=${put(1)} onFocus=${mark} /></td>
    <td>${canInsert(figure) && (figure.form === "ring" || n < figure.points.length - 1) && html`<button class="plain small" aria-label=${`add after point ${n + 1}`} onClick=${() => drawing.insert(n)}>add after</button>`}
    ${canInsert(figure) && html`<button class="plain small" disabled=${!canTake(figure)} aria-label=${`take out point ${n + 1}`} onClick=${() => drawing.take(n)}>take out</button>`}</td></tr>`;
}

function Box({ desk, unit, figure }) {
  const box = boxed(figure.points), put = n => value => value !== null && desk.drawing.put({ ...figure, points: cornersOf(box.map((old, m) => m === n ? value : old)) }, `${desk.drawing.title(figure)} mended`);
  return html`<div class="pair">${["x of its left edge", "y of its lower edge", "Width", "Height"].map((words, n) => html`<${Length} label=${words} mm=${box[n]} unit=${unit} low=${n > 1 ? 0.01 : undefined} high=${n > 1 ? 100000 : undefined} onValue=${put(n)} />`)}</div>`;
}

function Disc({ desk, unit, figure }) {
  const { drawing } = desk, [centre] = figure.points, radius = radiusOf(figure.points);
  const put = (at, mm) => drawing.put({ ...figure, points: [at, [at[0] + mm, at[1]]] }, `${drawing.title(figure)} mended`);
  return html`<div class="pair"><${Length} label="x of its centre" mm=${centre[0]} unit=${unit} onValue=${x => x !== null && put([x, centre[1]], radius)} />
    <${Length} label="y of its centre" mm=${centre[1]} unit=${unit} onValue=${y => y !== null && put([centre[0], y], radius)} />
    <${Length} label="Radius" mm=${radius} unit=${unit} low=${0.01} high=${100000} onValue=${mm => mm && put(centre, mm)} /></div>`;
}

// --- what can be done to it ------------------------------------------------------------------------------------------

function Doings({ desk, part, figure }) {
  const { drawing } = desk, middle = drawing.middle();
  const even = axis => drawing.put({ ...figure, points: evened(figure.points, axis, axis ? middle.y : middle.x) }, `${drawing.title(figure)} made alike on both sides`);
  const corners = () => drawing.put({ ...figure, form: "ring" }, `${drawing.title(figure)} by its corners`);
  return html`<div class="tools">
    ${figure.form === "ring" && html`<button class="small" onClick=${() => even(0)}>Left and right alike</button><button class="small" onClick=${() => even(1)}>Top and bottom alike</button>`}
    ${figure.form === "rect" && figure.kind !== "bays" && html`<button class="small" onClick=${corners}>By its corners instead</button>`}
    ${figure.kind === "openings" && html`<button class="small" onClick=${() => drawing.begin({ kind: "posts", form: "dot", of: figure.name })}>Foot of a post behind it</button>`}
    ${figure.kind !== "outline" && html`<button class="small" onClick=${() => drawing.remove()}>Remove</button>`}
  </div>`;
}
