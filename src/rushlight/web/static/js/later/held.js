// "I want it so": choices of the design that the modeller holds fast, beside what it chose by itself.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { isFresh } from "../answers.js";
import { askAfter } from "../talk.js";
import { Line, Pick, tried, useForms } from "./at-field.js";
import { withHeld } from "./feed-rows.js";
import { canTake, CHOICES, madeOf, ofsOf, ofWords, pinOf, pinWords, tookWords, valuesOf, WAY_WORDS } from "./held-rows.js";

// What the design chose last; asked for again when it has been worked out anew.
function useChosen(desk, state, wanted) {
  const [known, setKnown] = useState(null), fresh = isFresh(state);
  useEffect(() => {
    if (!fresh || !wanted) return undefined;
    let here = true;
    askAfter(`${desk.path}/held`).then(body => here && body && setKnown(body), () => {});
    return () => { here = false; };
  }, [fresh, wanted, state.revision]);
  return known;
}

const put = (desk, choice, of, value) => tried(desk, now => [{ action: "set", kind: "plan", name: "", values: { pinned: withHeld(now.pinned, choice, of, value) } }],
  value ? `${CHOICES[choice].label} of ${of} held` : `${CHOICES[choice].label} of ${of} chosen by the design again`);

// All that can be held for one name.
function For({ desk, plan, known, of }) {
  const forms = useForms(desk), rows = known.rows.filter(row => row.of === of);
  const ways = (known.ways || {})[of] || [], pick = (known.picks || {})[of];
  const take = way => tried(desk, now => madeOf(now, way), `${way.of.join(", ")}: ${WAY_WORDS[way.kind]}`);
  return html`${ways.length > 0 && html`<h4>What could make it</h4>${pick && html`<p class=${pick.built ? "quiet" : ""}>${pick.says}</p>`}<ul class="list">${ways.map(way => html`<li key=${way.says} class="evidence-row"><span>${way.says}. <strong>${way.verdict}</strong></span>${canTake(plan, way) && html` <button class="plain small" aria-label=${`Hold it: ${WAY_WORDS[way.kind]} for ${way.of.join(", ")}`} onClick=${() => take(way)}>Hold it</button>`}</li>`)}</ul>`}
    ${forms && rows.map(row => html`<${Choice} key=${`${row.choice} ${of}`} desk=${desk} plan=${plan} forms=${forms} row=${row} />`)}
    ${rows.length === 0 && html`<p class="quiet">Nothing of it can be held: it is not built, or never lit.</p>`}`;
}

function Choice({ desk, plan, forms, row }) {
  const { choice, of } = row, pin = pinOf(plan, choice, of), values = valuesOf(choice, forms, plan), { label, unit, says, kind = "number" } = CHOICES[choice], words = `${tookWords(row, pin)}${says ? ` ${says}` : ""}`;
  return html`${values ? html`<${Pick} label=${label} value=${pin ? pin.value : ""} choices=${[["", "as the design chooses"], ...values]} says=${words} onValue=${value => put(desk, choice, of, value)} />`
    : html`<${Line} label=${label} unit=${unit} kind=${kind} value=${pin ? pin.value : null} says=${words} onValue=${value => put(desk, choice, of, value === null ? "" : `${value}`)} />`}
    ${pin && html`<div class="tools"><button class="small" aria-label=${`Let the tool choose again: ${label} of ${of}`} onClick=${() => put(desk, choice, of, "")}>Let the tool choose again</button></div>`}`;
}

const Waiting = () => html`<p class="quiet" role="status">Being worked out: what the design chooses by itself.</p>`;

// In the form of one lamp, row or strip.
export function HeldOf({ desk, state, item }) {
  const [open, setOpen] = useState(false), pins = state.plan.pinned.filter(pin => pin.of === item.name), known = useChosen(desk, state, open);
  return html`<details class="held" onToggle=${event => setOpen(event.target.open)}><summary>I want it so: ${pins.length ? pins.map(pin => `${CHOICES[pin.choice].label.toLowerCase()} ${pin.value}`).join(", ") : "all as the design chooses"}</summary>
    ${open && html`<div class="form">${known ? html`<${For} desk=${desk} plan=${state.plan} known=${known} of=${item.name} />` : html`<${Waiting} />`}</div>`}</details>`;
}

// For circuits, illuminators and wire too, and all that is held at a glance.
export function Held({ desk, state }) {
  const { plan } = state, [open, setOpen] = useState(false), [of, setOf] = useState(null), known = useChosen(desk, state, open), names = known ? ofsOf(known) : [];
  const out = pin => put(desk, pin.choice, pin.of, "");
  return html`<details class="held" onToggle=${event => setOpen(event.target.open)}><summary>Choices that you hold: ${plan.pinned.length || "none"}</summary>
    <p class="quiet">The design chooses LEDs, currents, resistors, fibres and wire by itself. What you hold here it takes as you say, and tells what that does.</p>
    ${plan.pinned.length > 0 && html`<ul class="list">${plan.pinned.map(pin => html`<li class="evidence-row"><span>${pinWords(pin)}</span><button class="plain small" aria-label=${`let the tool choose again: ${pinWords(pin)}`} onClick=${() => out(pin)}>let the tool choose again</button></li>`)}</ul>`}
    ${open && (known ? html`<div class="form"><${Pick} label="Hold something of" value=${names.includes(of) ? of : null} choices=${names.map(name => [name, ofWords(name)])} onValue=${name => { setOf(name); return ""; }} />
      ${names.includes(of) && html`<${For} key=${of} desk=${desk} plan=${plan} known=${known} of=${of} />`}</div>` : html`<${Waiting} />`)}</details>`;
}
