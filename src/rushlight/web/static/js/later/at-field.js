// Fields whose edit is sent at once, and that say themselves why the plan's reader would not take it.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { oneLine } from "../fields.js";
import { lengthOf, lengthText } from "../measure.js";
import { ask } from "../talk.js";

// What the reader says of one problem, without the place in the file and the key that the field stands for.
export function problemWords({ found, expected, nearest }) {
  const plain = text => text.replace(/^[a-z]+(_[a-z]+)* is (?=')/, "found ").replaceAll(/(?<=[a-z])_(?=[a-z])/g, " ");
  const said = plain(found), words = `${said[0].toUpperCase()}${said.slice(1)}; expected ${plain(expected)}.`;
  return nearest ? `${words} Did you mean '${nearest}'?` : words;
}

// Sends a change; answers "" when it is saved, else why it was refused, for the field that asked.
export async function tried(desk, changes, what) {
  if (await desk.change(changes, what)) return "";
  const { trouble, clash } = desk.state;
  if (clash) return "Changed elsewhere meanwhile; see above.";
  if (!trouble) return "";
  desk.set({ trouble: null });
  return trouble.problems.length ? trouble.problems.map(problemWords).join(" ") : trouble.says;
}

const held = new Map();

// What the forms offer beside the plan's own words; asked for once for each kind of subject.
export function useForms(desk) {
  const key = `${desk.path}/forms ${desk.state.plan.subject.kind}`, [, look] = useState(0);
  useEffect(() => { if (!held.has(key)) ask(`${desk.path}/forms`).then(({ body }) => { held.set(key, body); look(n => n + 1); }, () => {}); }, [key]);
  return held.get(key) || null;
}

let ids = 0;

function Said({ label, says, wrong, children }) {
  const [id] = useState(() => `at-field-${ids += 1}`), more = { "aria-describedby": says || wrong ? id : null, "aria-invalid": wrong ? "true" : null };
  return html`<div class="said"><label class="field"><span>${label}</span>${children(more)}</label>
    ${wrong ? html`<small class="wrong" role="alert" id=${id}>${wrong}</small>` : says && html`<small id=${id}>${says}</small>`}</div>`;
}

const READS = {
  text: { shown: value => `${value ?? ""}`, read: text => text, trouble: () => "" },
  number: { shown: value => `${value ?? ""}`, read: text => Number(text.replace(",", ".")), trouble: (text, value) => Number.isFinite(value) ? "" : `'${text}' is no number.` },
  length: { shown: (value, lengths) => lengthText(value, lengths), read: (text, lengths) => { const mm = lengthOf(text, lengths); return mm === null ? NaN : Math.round(mm * 1000) / 1000; },
    trouble: (text, value, lengths) => Number.isFinite(value) ? "" : `'${text}' is no length; type ${lengths === "inch" ? "1.25 or 1 1/4" : "12.5"}.` },
};

// One typed value: `kind` is text, number or length; `onValue` answers with words where it was refused. What was refused stays, to be mended.
export function Line({ label, unit = "", kind = "text", lengths = "mm", value, says = "", onValue, long = false, ...rest }) {
  const { shown: show, read, trouble } = READS[kind], shown = show(value, lengths);
  const [text, setText] = useState(shown), [wrong, setWrong] = useState(""), typing = useRef(false), busy = useRef(false);
  useEffect(() => { if (!typing.current) { setText(shown); setWrong(""); } }, [shown]);
  const back = () => { typing.current = false; setText(shown); setWrong(""); };
  const done = async () => {
    if (busy.current) return;
    if (text === shown) { back(); return; }
    const typed = text.trim(), now = typed === "" ? null : read(typed, lengths), slip = now === null ? "" : trouble(typed, now, lengths);
    if (slip) { setWrong(slip); return; }
    busy.current = true;
    const refused = await onValue(now);
    busy.current = false;
    setWrong(refused || "");
    if (refused) return;
    typing.current = false;
    if (now === null) setText(shown);
  };
  const words = kind === "length" ? `${label}, ${lengths === "inch" ? "in" : "mm"}` : unit ? `${label}, ${unit}` : label;
  return html`<${Said} label=${words} says=${says} wrong=${wrong}>${more => html`<${long ? "textarea" : "input"} rows=${long ? 2 : undefined} value=${text} inputmode=${kind === "text" ? "text" : "decimal"} ...${more} onInput=${event => { typing.current = true; setText(oneLine(event.target.value)); }} onBlur=${done}
    onKeyDown=${event => { if (event.key === "Enter") { event.preventDefault(); done(); } if (event.key === "Escape") back(); }} ...${rest} />`}</${Said}>`;
}

// Why a choice was refused, as long as what stood before it stands.
function useRefused(value) {
  const [refused, setRefused] = useState(["", value]);
  return [refused[1] === value ? refused[0] : "", async answer => setRefused([await answer || "", value])];
}

// One of a few; `choices` are words, or pairs of a value and its words. Without a value it says "choose one".
export function Pick({ label, value, choices, says = "", onValue }) {
  const [wrong, told] = useRefused(value), pairs = choices.map(one => Array.isArray(one) ? one : [one, one]), none = value === null || value === undefined;
  return html`<${Said} label=${label} says=${says} wrong=${wrong}>${more => html`<select value=${none ? "" : value} ...${more} onChange=${event => told(onValue(event.target.value))}>
    ${none && html`<option value="" selected disabled>choose one</option>`}
    ${pairs.map(([word, shown]) => html`<option value=${word} selected=${word === value}>${shown}</option>`)}</select>`}</${Said}>`;
}

// Some of a few, as ticks; what was refused is said below them.
export function Ticks({ legend, value, choices, says = "", onValue }) {
  const [wrong, told] = useRefused(value.join("\n"));
  const put = (word, on) => told(onValue(choices.filter(one => one === word ? on : value.includes(one))));
  return html`<fieldset><legend>${legend}</legend>${choices.map(word => html`<label class="tick"><input type="checkbox" checked=${value.includes(word)} onChange=${event => put(word, event.target.checked)} /> ${word}</label>`)}
    ${says && html`<small>${says}</small>`}${wrong && html`<small class="wrong" role="alert">${wrong}</small>`}</fieldset>`;
}
