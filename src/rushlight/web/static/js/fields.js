// Fields of forms: typed values, choices, ticks. A value that differs among many says so, and stays unless it is typed.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";

export const DIFFERS = "differs";

export function Field({ label, says, children }) {
  return html`<label class="field"><span>${label}</span>${children}${says && html`<small>${says}</small>`}</label>`;
}

// A decimal comma is as good as a point.
const numberOf = text => Number(`${text}`.trim().replace(",", "."));

// What may be longer than its line: whole where there is little room, and one line still.
export const oneLine = text => text.replace(/\s*\n\s*/g, " ");

export function Typed({ label, value, unit = "", says = "", onValue, number = false, differs = false, long = false, ...rest }) {
  const [text, setText] = useState(value ?? ""), told = useRef(null);
  useEffect(() => { setText(value ?? ""); told.current = null; }, [value, differs]);
  const done = () => {
    // Once: where what Enter told takes the field away, it is left as well.
    if (`${text}` === `${value ?? ""}` || told.current === text) return;
    told.current = text;
    if (!number) onValue(`${text}`.trim() || null);
    else if (`${text}`.trim() === "") onValue(null);
    else if (Number.isFinite(numberOf(text))) onValue(numberOf(text));
    else setText(value ?? "");
  };
  return html`<${Field} label=${unit ? `${label}, ${unit}` : label} says=${says}>
    <${long ? "textarea" : "input"} rows=${long ? 2 : undefined} value=${text} placeholder=${differs ? DIFFERS : undefined} inputmode=${number ? "decimal" : "text"} onInput=${event => { told.current = null; setText(oneLine(event.target.value)); }} onBlur=${done}
      onKeyDown=${event => { if (event.key === "Enter") { event.preventDefault(); done(); } if (event.key === "Escape") setText(value ?? ""); }} ...${rest} />
  </${Field}>`;
}

// `choices` are words, or pairs of a value and its words.
export function Choice({ label, value, choices, onValue, says = "", differs = false }) {
  const pairs = choices.map(choice => Array.isArray(choice) ? choice : [choice, choice]);
  return html`<${Field} label=${label} says=${says}><select value=${differs ? DIFFERS : value} onChange=${event => event.target.value !== DIFFERS && onValue(event.target.value)}>
    ${differs && html`<option value=${DIFFERS} selected>${DIFFERS}</option>`}
    ${pairs.map(([word, shown]) => html`<option value=${word} selected=${!differs && word === value}>${shown}</option>`)}
  </select></${Field}>`;
}

// A tick that may stand between: some of many have it.
export function Tick({ label, share, onValue, ...rest }) {
  const box = useRef(null);
  useEffect(() => { if (box.current) box.current.indeterminate = share === "some"; });
  return html`<label class="tick"><input type="checkbox" ref=${box} checked=${share === "all"} onChange=${event => onValue(event.target.checked)} ...${rest} /> ${label}${share === "some" && html` <small>${DIFFERS}</small>`}</label>`;
}

export const choicesOf = (words, kind, key) => words.keys[kind].find(row => row.key === key).choices;
