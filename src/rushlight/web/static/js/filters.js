// Which lamps are meant: words, filters and groups, and how many they are.
import { html } from "../vendor/preact-htm.js";
import { count } from "./answers.js";
import { Choice } from "./fields.js";
import { ANY, GROUPS, choicesFor, lampsIn, narrowed } from "./pick.js";

const LABELS = { part: "Part", colour: "Colour", state: "Lit when", made: "Made of", version: "In version", worth: "Worth", circuit: "Circuit", evidence: "Evidence" };
const ALL = "any";

export function Filters({ desk, state, facts, shown, groups = false }) {
  const { filter } = state, choices = choicesFor(facts, state.plan);
  const set = (key, value) => desk.set({ filter: { ...filter, [key]: value } });
  const usable = Object.keys(LABELS).filter(key => choices[key].length > 1 || filter[key]);
  const asked = usable.filter(key => filter[key]).length;
  return html`<div class="tools filters">
    <label class="field wide"><span>Find a lamp</span><input type="search" value=${filter.words} onInput=${event => set("words", event.target.value)} /></label>
    <details class="wide" open=${state.filtersOpen} onToggle=${event => event.target.open !== state.filtersOpen && desk.set({ filtersOpen: event.target.open })}><summary>Filters${asked ? `: ${usable.filter(key => filter[key]).map(key => filter[key]).join(", ")}` : ""}</summary>
      <div class="thirds">${usable.map(key => html`<${Choice} key=${key} label=${LABELS[key]} value=${filter[key] || ALL} choices=${[ALL, ...choices[key]]} onValue=${word => set(key, word === ALL ? "" : word)} />`)}</div>
    </details>
    ${groups && html`<${Choice} label="Listed" value=${state.groupBy} choices=${Object.entries(GROUPS)} onValue=${by => desk.set({ groupBy: by })} />`}
    <label class="tick"><input type="checkbox" checked=${state.only} onChange=${event => desk.set({ only: event.target.checked })} /> show only these on the sheet</label>
    <p class="quiet wide" role="status">${countWords(facts, shown)}${narrowed(filter) ? html` <button class="plain" onClick=${() => desk.set({ filter: ANY })}>Show all again</button>` : ""}</p>
  </div>`;
}

function countWords(facts, shown) {
  const lamps = number => count(number, "lamp");
  if (!facts.length) return "";
  if (shown.length === facts.length) return `${count(facts.length, "entry", "entries")}, ${lamps(lampsIn(facts))} in all.`;
  return `${shown.length} of ${count(facts.length, "entry", "entries")}, ${lampsIn(shown)} of ${lamps(lampsIn(facts))}.`;
}
