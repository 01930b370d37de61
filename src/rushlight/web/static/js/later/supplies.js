// Other supplies worked out beside the plan's own, when they are asked for: what each comes to, and one press to take it.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { isFresh } from "../answers.js";
import { stepName } from "../cure.js";
import { askAfter } from "../talk.js";

// Run time, room, weight and price in one line.
export function factsOf(row) {
  const room = row.fits === "outside" ? "stays outside the model" : `${weight(row.weight_g)}, ${row.fits === "yes" ? "fits the bay" : row.fits === "no" ? "does not fit the bay" : "no bay is known"}`;
  return `${row.state ? `'${row.state}' runs ${row.runs}` : "nothing is lit"}; ${room}; ${Number(row.price_eur.toPrecision(3))} euro.`;
}

const weight = grams => `${Number(grams.toPrecision(2))} g`;

// How bright the dimmest lamp is when the supply is fresh and when it is flat.
export const lightOf = row => !row.dim_lamp ? "" : `Dimmest: ${row.dim_lamp}, ${Math.round(row.flat_percent)}% of its light on the flat supply; no lamp under ${Math.round(row.fresh_percent)}% on the fresh one.`;

export function OtherSupplies({ desk, state }) {
  const [open, setOpen] = useState(false);
  if (!state.plan.supply) return null;
  return html`<details class="feed" onToggle=${event => setOpen(event.target.open)}><summary>Other supplies: the lightest, the cheapest</summary>
    ${open && html`<${Inside} desk=${desk} state=${state} />`}</details>`;
}

function Inside({ desk, state }) {
  const [trouble, setTrouble] = useState(""), fresh = isFresh(state), known = state.supplies;
  const current = known && known.revision === state.revision;
  useEffect(() => {
    if (!fresh || current) return undefined;
    let wanted = true;
    setTrouble("");
    askAfter(`${desk.path}/supplies`).then(body => wanted && body && desk.set({ supplies: body }), error => wanted && setTrouble(error.message));
    return () => { wanted = false; };
  }, [fresh, state.revision]);
  if (trouble) return html`<p class="caution">${trouble}</p>`;
  const says = current ? known.best : "Being worked out: the whole loom with each of up to six other supplies. It takes some seconds.";
  if (!known) return html`<p class="quiet" role="status">${says}</p>`;
  return html`<p class=${current ? "" : "quiet"} role="status">${says}</p>
    <div class=${current ? "" : "old"} aria-busy=${!current}>${known.rows.map(row => html`<${Supply} key=${row.name} desk=${desk} row=${row} ready=${current && fresh} />`)}
    ${known.out.length > 0 && html`<figure class="table"><figcaption>What cannot feed it</figcaption><div class="scroll"><table>
      <thead><tr><th scope="col">Supply</th><th scope="col">Why it cannot</th></tr></thead>
      <tbody>${known.out.map(row => html`<tr><th scope="row">${row.supply}</th><td>${row.why}</td></tr>`)}</tbody></table></div></figure>`}</div>
    <p class="quiet">Weights and prices are usual ones, from memory. Mains is never wired: an adapter is a finished, approved unit that stays at the wall.</p>`;
}

function Supply({ desk, row, ready }) {
  const take = () => {
    const what = stepName(row);
    desk.change(row.edit.changes, what).then(done => done && desk.set({ note: null, cured: { what, says: row.edit.says, item: "the supply" } }));
  };
  return html`<fieldset class="form"><legend><h3>${row.name}</h3></legend><p><b>${row.verdict}.</b> ${factsOf(row)}</p><p class="quiet">${lightOf(row)}${row.own ? "" : ` To be built or bought otherwise: ${row.changes}.`}</p>
    ${row.edit && html`<div class="tools"><button class=${row.does ? "" : "plain small"} disabled=${!ready} aria-label=${`Take this one: ${row.name}`} onClick=${take}>${row.does ? "Take this one" : "Take it all the same"}</button></div>`}</fieldset>`;
}
