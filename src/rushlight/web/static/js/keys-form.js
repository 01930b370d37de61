// Forms made from the plan's own words: one field for each key of an item, with what it means.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { lengthOf, lengthText } from "./measure.js";

const LABELS = { wall_mm: "Wall thickness", drawn_from: "Drawn from the", clear: "A clear part sits in it", why: "What is there", angle_deg: "Stands up by", towards: "Folded towards the",
  height_mm: "Depth here", length_mm: "Length along the inside", depth_mm: "Free depth behind it", access: "Reached by", removable: "Comes off after close-up",
  room_for_illuminators: "LEDs that feed fibres may sit on it", slack_mm: "Loop between the ends", hinge_distance_mm: "Distance from the hinge edge",
  opening_deg: "Opens by", travel_mm: "Goes by", hole_mm: "Pass hole", carries: "May pass", flat: "The inner side is flat", coats: "Coats inside" };

// "room_for_illuminators" as people say it; the unit has its own place.
export const labelOf = row => row.label || LABELS[row.key] || plainWord(row.key, row.unit);

function plainWord(key, unit) {
  const words = key.replace(new RegExp(`_${unit}$`), "").replaceAll("_", " ");
  return words[0].toUpperCase() + words.slice(1);
}

let ids = 0;

// A field with its label, and apart from it (so that it is not read out as its name) what it means or what is wrong.
function Said({ label, hidden = false, says, wrong, children }) {
  const [id] = useState(() => `said-${ids += 1}`);
  return html`<div class="said"><label class="field"><span class=${hidden ? "unseen" : ""}>${label}</span>${children(id)}</label>
    ${wrong ? html`<small class="wrong" role="alert" id=${id}>${wrong}</small>` : says && html`<small id=${id}>${says}</small>`}</div>`;
}

// Text under the fingers: what comes from the plan meanwhile does not take it away.
function useTyped(shown) {
  const [text, setText] = useState(shown), [wrong, setWrong] = useState(""), typing = useRef(false);
  useEffect(() => { if (!typing.current) { setText(shown); setWrong(""); } }, [shown]);
  return {
    text, wrong, setWrong, type: event => { typing.current = true; setText(event.target.value); },
    rest: () => { typing.current = false; }, back: () => { typing.current = false; setText(shown); setWrong(""); },
  };
}

// A length that can be typed in mm or inches, whichever is the choice; a slip is told and goes back.
export function Length({ label, mm, unit, says = "", low = -Infinity, high = Infinity, onValue, short = false, ...rest }) {
  const shown = lengthText(mm, unit), { text, wrong, setWrong, type, rest: still, back } = useTyped(shown);
  const done = () => {
    still();
    if (text === shown) { setWrong(""); return; }
    const value = text.trim() === "" ? null : lengthOf(text, unit);
    if (value === null && text.trim() !== "") setWrong(`'${text}' is no length; type ${unit === "inch" ? "1.25 or 1 1/4" : "12.5"}.`);
    else if (value !== null && (value < low || value > high)) setWrong(`It must be from ${lengthText(low, unit)} to ${lengthText(high, unit)}.`);
    else { setWrong(""); onValue(value === null ? null : Math.round(value * 1000) / 1000); }
  };
  const words = `${label}, ${unit === "inch" ? "in" : "mm"}`;
  return html`<${Said} label=${words} hidden=${short} says=${says} wrong=${wrong}>${id => html`<input value=${text} inputmode="decimal" aria-describedby=${says || wrong ? id : null} aria-invalid=${wrong ? "true" : "false"} onInput=${type} onBlur=${done}
    onKeyDown=${event => { if (event.key === "Enter") done(); if (event.key === "Escape") back(); }} ...${rest} />`}</${Said}>`;
}

function Words({ row, value, onValue, number = false }) {
  const { text, wrong, setWrong, type, rest: still, back } = useTyped(`${value ?? ""}`);
  const done = () => {
    still();
    if (text === `${value ?? ""}`) return;
    const typed = text.trim().replace(",", number ? "." : ",");
    if (typed === "") onValue(null);
    else if (!number) onValue(typed);
    else if (!Number.isFinite(Number(typed)) || (row.low !== null && Number(typed) < row.low) || (row.high !== null && Number(typed) > row.high)) setWrong(`A number from ${row.low} to ${row.high}.`);
    else { setWrong(""); onValue(Number(typed)); }
  };
  return html`<${Said} label=${`${labelOf(row)}${row.unit ? `, ${row.unit}` : ""}`} says=${row.says} wrong=${wrong}>${id => html`<input value=${text} inputmode=${number ? "decimal" : "text"} aria-describedby=${id} onInput=${type} onBlur=${done}
    onKeyDown=${event => { if (event.key === "Enter") done(); if (event.key === "Escape") back(); }} />`}</${Said}>`;
}

function Choices({ row, value, choices, onValue }) {
  const known = choices.includes(value) || value === undefined || value === null ? choices : [value, ...choices];
  return html`<${Said} label=${labelOf(row)} says=${row.says}>${id => html`<select value=${value ?? ""} aria-describedby=${id} onChange=${event => onValue(event.target.value || null)}>
    ${(value === undefined || value === null) && html`<option value="">choose one</option>`}
    ${known.map(word => html`<option value=${word} selected=${word === value}>${word}</option>`)}</select>`}</${Said}>`;
}

function Ticks({ row, value, choices, onValue }) {
  const now = value || [];
  return html`<fieldset><legend>${labelOf(row)}</legend>${choices.map(word => html`<label class="tick"><input type="checkbox" checked=${now.includes(word)}
    onChange=${event => onValue(event.target.checked ? [...now, word] : now.filter(old => old !== word))} /> ${word}</label>`)}<small>${row.says}</small></fieldset>`;
}

// The field of one key. Kinds that a form cannot hold are left out.
export function KeyField({ row, value, unit, words, onValue }) {
  const drawer = row.target && row.target.startsWith("drawer.") ? words.drawer[row.target.slice(7)] : null;
  if (row.kind === "flag") return html`<label class="tick"><input type="checkbox" checked=${Boolean(value)} onChange=${event => onValue(event.target.checked)} /> ${labelOf(row)}</label>`;
  if (row.kind === "choice") return html`<${Choices} row=${row} value=${value} choices=${row.choices} onValue=${onValue} />`;
  if (row.kind === "ref" && drawer) return html`<${Choices} row=${row} value=${value} choices=${drawer} onValue=${onValue} />`;
  if (row.kind === "refs" && drawer) return html`<${Ticks} row=${row} value=${value} choices=${drawer} onValue=${onValue} />`;
  if (row.kind === "quantity" && row.unit === "mm") return html`<${Length} label=${labelOf(row)} mm=${value ?? null} unit=${unit} says=${row.says} low=${row.low ?? undefined} high=${row.high ?? undefined} onValue=${onValue} />`;
  if (row.kind === "quantity" || row.kind === "number" || row.kind === "count") return html`<${Words} row=${row} value=${value} number onValue=${onValue} />`;
  if (row.kind === "text") return html`<${Words} row=${row} value=${value} onValue=${onValue} />`;
  return null;
}

export function KeysForm({ rows, item, unit, words, onValue }) {
  return html`<div class="form">${rows.map(row => html`<${KeyField} key=${row.key} row=${row} value=${item[row.key]} unit=${unit} words=${words} onValue=${value => onValue(row, value)} />`)}</div>`;
}
