// The cure as a button: the one edit that takes a finding away, and the way back.
import { html } from "../vendor/preact-htm.js";

const MOST_WORDS = 110;

// The step's name in the history: what is cured, and how.
export function stepName(finding) {
  const words = finding.edit.says.replace(/\.$/, "");
  return words.length > MOST_WORDS ? `${words.slice(0, MOST_WORDS - 4)} ...` : words;
}

export function Cure({ desk, finding, fresh }) {
  if (!finding.edit) return null;
  const made = () => {
    const what = stepName(finding);
    desk.change(finding.edit.changes, what).then(done => done && desk.set({ note: null, cured: { what, says: finding.edit.says, item: finding.item } }));
  };
  return html`<p class="tools"><button class="cure" disabled=${!fresh} onClick=${made}>${finding.edit.says.replace(/\.$/, "")}</button></p>
    ${!fresh && html`<p class="quiet">It can be pressed once the last edit is worked out.</p>`}`;
}

// What was cured last, until another step is taken; the step's name tells whether it is still the last one.
export function CureDone({ desk, state }) {
  const { cured } = state;
  if (!cured || state.steps.undo !== cured.what) return null;
  return html`<div class="plate cured"><p role="status"><b>Done for ${cured.item}:</b> ${cured.says}</p>
    <button class="plain" onClick=${() => { desk.set({ cured: null }); desk.undo(); }}>Take it back</button><button class="plain" onClick=${() => desk.set({ cured: null })}>Keep it</button></div>`;
}
