// A resistor out of its bag: choose the colours of its bands, and its value is said.
import { html, useState } from "../../vendor/preact-htm.js";
import { Choice } from "../fields.js";
import { bandsRead, placesOf } from "./band-value.js";

export function Bands({ colours }) {
  const [count, setCount] = useState("4"), [picked, setPicked] = useState([]);
  const places = placesOf(colours, Number(count)), words = places.map((place, n) => picked[n] && place.colours.includes(picked[n]) ? picked[n] : "");
  const read = words.every(Boolean) ? bandsRead(colours, words) : null;
  return html`<details><summary>Read a resistor by its bands</summary><div class="form">
    <p class="quiet">Turn it so that the bands crowd at the left; the one that stands apart, often gold, is the last.</p>
    <${Choice} label="How many bands" value=${count} choices=${["4", "5"]} onValue=${setCount} />
    ${places.map((place, n) => html`<${Choice} key=${`${count}-${n}`} label=${place.label} value=${words[n]} choices=${[["", "choose"], ...place.colours.map(colour => [colour, colour])]} onValue=${colour => setPicked(Object.assign([...words], { [n]: colour }))} />`)}
    <p aria-live="polite">${read ? html`<strong>${read.says}</strong>` : "Its value stands here when all bands are chosen."}</p></div></details>`;
}
