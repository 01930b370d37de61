// A resistor out of its bag: choose the colours of its bands, and its value is said.
import { html, useState } from "../../vendor/preact-htm.js";
import { bandsRead, placesOf } from "./band-value.js";

export function Bands({ code }) {
  const [count, setCount] = useState("4"), [picked, setPicked] = useState([]);
  const places = placesOf(code.colours, Number(count)), words = places.map((place, n) => picked[n] && place.colours.includes(picked[n]) ? picked[n] : "");
  const read = words.every(Boolean) ? bandsRead(code, words) : null;
  return html`<div class="form b-bands">
    <p class="quiet">Turn it so that the bands crowd at the left; the one that stands apart, often gold, is the last.</p>
    <${Pick} label="How many bands" value=${count} choices=${["4", "5"]} onValue=${setCount} />
    ${places.map((place, n) => html`<${Pick} key=${`${count}-${n}`} label=${place.label} value=${words[n]} choices=${["", ...place.colours]} onValue=${colour => setPicked(Object.assign([...words], { [n]: colour }))} />`)}
    <p aria-live="polite">${read ? html`<strong>${read.says}</strong><br />${read.mind}` : "Its value stands here when all bands are chosen."}</p></div>`;
}

const Pick = ({ label, value, choices, onValue }) => html`<label class="field b-field"><span>${label}</span>
  <select value=${value} onChange=${event => onValue(event.target.value)}>${choices.map(word => html`<option key=${word} value=${word}>${word || "choose"}</option>`)}</select></label>`;
