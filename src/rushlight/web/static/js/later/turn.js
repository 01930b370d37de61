// Turning round the model by night: from which bearing, and how high, one looks; kept in the plan only when it is asked for.
import { html } from "../../vendor/preact-htm.js";
import { darkWords, outlookOf, wayWords } from "./seen-round.js";

// `turned` of the desk: a place, false for each part square on, else what the plan says.
export function Turn({ desk, state }) {
  const { answer, turned } = state, seen = answer.picture, own = seen.seen_from && { bearing: seen.seen_from[0], height: seen.seen_from[1] };
  if (!seen.round.beams.length) return null;
  const now = turned === false ? null : turned || own, at = now || { bearing: 0, height: 0 };
  const lit = state.switchedOff ? [] : Object.keys(answer.glow[state.state] || {}), dark = now && darkWords(lit, outlookOf(seen.round, state.state, now).shares);
  const said = now ? wayWords(now) : "each part square on";
  const look = values => desk.set({ turned: { ...at, ...values } });
  const keep = () => desk.change([{ action: "set", kind: "subject", name: "", values: { viewing_bearing_deg: now ? now.bearing : null, viewing_height_deg: now ? now.height : null } }], now ? `looked at from ${wayWords(now)}` : "looked at square on").then(() => desk.set({ turned: null }));
  const slide = (label, key, low, high, words) => html`<label><span>${label}</span><input type="range" min=${low} max=${high} step="5" value=${at[key]} aria-valuetext=${words} onInput=${event => look({ [key]: Number(event.target.value) })} /></label>`;
  return html`<div class="roomlight turn" role="group" aria-label="Seen from">
    ${slide("Seen from", "bearing", 0, 360, said)}${slide("Height", "height", -90, 90, `${at.height} degrees`)}
    <span class="now" role="status">${said}${dark && html`<span class="unseen">: ${dark}</span>`}</span>
    ${now && html`<button class="plain" onClick=${() => desk.set({ turned: false })}>Square on</button>`}
    ${own && turned != null && html`<button class="plain" onClick=${() => desk.set({ turned: null })}>As the plan has it</button>`}
    ${turned != null && Boolean(now || own) && html`<button class="plain" onClick=${keep}>Keep in the plan</button>`}
  </div>`;
}
