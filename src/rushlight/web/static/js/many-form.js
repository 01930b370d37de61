// The form for many chosen items.
import { html, useEffect, useRef } from "../vendor/preact-htm.js";
import { Choice, Tick, Typed, choicesOf } from "./fields.js";
import { itemAt } from "./items.js";
import { madeAll, setAll, shareOf, shared, sharedMade, tickAll } from "./many.js";

const FREE = "as the design chooses";
const MADE = [[FREE, FREE], ["led", "LED at the hole"], ["fibre", "fibre"], ["room", "LED in a room"], ["strip", "strip"]];

export function Many({ desk, state, children }) {
  const { plan, chosen, words } = state, items = chosen.map(key => itemAt(plan, key)).filter(Boolean);
  const all = (values, what) => desk.change(setAll(plan, chosen, values), `${items.length} of the lamps: ${what}`);
  const field = (key, label, what, more = {}) => {
    const value = shared(items, key);
    return value.missing ? null : html`<${Typed} label=${label} value=${value.differs ? "" : value.same} differs=${Boolean(value.differs)} onValue=${typed => typed !== null && all({ [key]: typed }, what(typed))} ...${more} />`;
  };
  const choice = (key, label, choices) => {
    const value = shared(items, key);
    return value.missing ? null : html`<${Choice} label=${label} value=${value.same} differs=${Boolean(value.differs)} choices=${choices} onValue=${word => all({ [key]: word }, word)} />`;
  };
  const ticks = (key, legend, order) => order.length > 0 && html`<fieldset><legend>${legend}</legend>${order.map(word => html`<${Tick} key=${word} label=${word} share=${shareOf(items, key, word)}
    onValue=${on => desk.change(tickAll(plan, chosen, key, word, on, order), `${items.length} of the lamps: ${legend.toLowerCase()} ${on ? "" : "not "}${word}`)} />`)}</fieldset>`;
  const made = sharedMade(items), form = useRef(null);
  useEffect(() => { if (form.current) form.current.scrollIntoView({ block: "nearest" }); }, [chosen.length > 1]);
  return html`<section class="form chosen" ref=${form} aria-label="All chosen at once"><p><strong>${items.length} chosen.</strong> What differs stays as it is unless you type or tick it.</p>
    <div class="pair">${field("colour", "Colour", typed => `made ${typed}`, { list: "colours" })}${choice("facing", "Shines", choicesOf(words, "lamps", "facing"))}</div>
    <datalist id="colours">${words.colours.map(name => html`<option value=${name}></option>`)}</datalist>
    <div class="pair">${field("size_mm", "Size on the subject", () => "size changed", { number: true, unit: "mm" })}${field("rhythm", "Rhythm", typed => `rhythm ${typed}`)}</div>
    <div class="pair">${choice("worth", "Worth", choicesOf(words, "lamps", "worth"))}
      ${!made.missing && html`<${Choice} label="Made of" value=${made.same || FREE} differs=${Boolean(made.differs)} choices=${MADE} onValue=${word => desk.change(madeAll(plan, chosen, word === FREE ? null : word), `${items.length} of the lamps made of ${word}`)} />`}</div>
    ${ticks("states", "Lit when", plan.states.map(row => row.name))}
    ${ticks("versions", "Only in version", plan.versions.map(row => row.name))}
    ${children}
    <div class="tools"><button onClick=${() => desk.duplicate()}>Duplicate all</button><button onClick=${() => desk.remove()}>Remove all</button><button class="plain" onClick=${() => desk.set({ chosen: [] })}>Let go</button></div>
  </section>`;
}
