// An outline offered from the picture's contrast: seen on the sheet, thinned, taken or left.
import { html } from "../vendor/preact-htm.js";
import { count } from "./answers.js";
import { Length } from "./keys-form.js";

const fine = mm => mm < 0.01 ? "less than 0.01 mm" : `${Number(mm.toPrecision(2))} mm`;

export function Offer({ desk, state, part }) {
  const { drawing } = desk, offer = drawing.now.offer && drawing.now.offer.part === part.name ? drawing.now.offer : null;
  if (!part.picture) return html`<p class="quiet">With a picture whose scale is known, an outline can be offered from it.</p>`;
  if (!offer) return html`<div class="tools"><button onClick=${() => drawing.ask()}>Offer an outline from the picture</button></div>`;
  if (offer.working) return html`<p role="status" class="quiet">Looking for the part in its picture ...</p>`;
  if (!offer.offered) return html`<p class="caution" role="status"><strong>No outline can be offered.</strong> ${offer.text}</p><div class="tools"><button onClick=${() => drawing.ask()}>Look again</button><button onClick=${() => drawing.set({ offer: null })}>Leave it</button></div>`;
  return html`<div class="form chosen"><p role="status"><strong>An outline of ${count(offer.outline_mm.length, "point")}</strong> is drawn on the sheet as a broken line. What the picture shows lies up to ${fine(offer.residual_mm)} from it, ${fine(offer.mean_residual_mm)} as a rule; a pixel is ${Number(offer.pixel_mm.toFixed(2))} mm.</p>
    <${Length} label="Corners thinned by up to" mm=${offer.tolerance_mm} unit=${state.unit} low=${0.05} high=${50} says="More gives fewer points." onValue=${mm => mm && drawing.ask(mm)} />
    ${offer.openings_mm.length > 0 && html`<fieldset><legend>Holes in it, as openings</legend>${offer.openings_mm.map((points, n) => html`<label class="tick"><input type="checkbox" checked=${offer.taken[n]} onChange=${event => drawing.set({ offer: { ...offer, taken: offer.taken.map((old, m) => m === n ? event.target.checked : old) } })} /> hole ${n + 1}, ${count(points.length, "point")}</label>`)}</fieldset>`}
    <div class="tools"><button onClick=${() => drawing.takeOffer()}>Take it</button><button onClick=${() => drawing.set({ offer: null })}>Leave it</button></div>
    <p class="quiet">Once taken, its points can be dragged and typed like any other.</p></div>`;
}
