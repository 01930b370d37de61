// The cure as a button: the one edit that takes a finding away, and the way back.
import { html } from "../vendor/preact-htm.js";
import { Later } from "./later.js";

const MOST_WORDS = 110;

// The step's name in the history: what is cured, and how.
export function stepName({ edit }) {
  const words = edit.says.replace(/\.$/, "");
  return words.length > MOST_WORDS ? `${words.slice(0, MOST_WORDS - 4)} ...` : words;
}

// Make an edit for a finding: its own, or another that was tried.
export function press(desk, finding, edit = finding.edit) {
  const what = stepName({ edit });
  desk.change(edit.changes, what).then(done => done && desk.set({ note: null, cured: { what, says: edit.says, item: finding.item } }));
}

export function Cure({ desk, state, finding, fresh }) {
  if (!finding.edit) return null;
  return html`<p class="tools"><button class="cure" disabled=${!fresh} onClick=${() => press(desk, finding)}>${finding.edit.says.replace(/\.$/, "")}</button></p>
    ${fresh ? html`<${Later} load=${() => import("./later/tried.js")} of="Tried" says="" desk=${desk} finding=${finding} fresh=${fresh} revision=${state.revision} />` : html`<p class="quiet">It can be pressed once the last edit is worked out.</p>`}`;
}

// What was cured last, until another step is taken; the step's name tells whether it is still the last one.
export function CureDone({ desk, state }) {
  const { cured } = state;
  if (!cured || state.steps.undo !== cured.what) return null;
  return html`<div class="plate cured"><p role="status"><b>Done for ${cured.item}:</b> ${cured.says}</p>
    <button class="plain" onClick=${() => { desk.set({ cured: null }); desk.undo(); }}>Take it back</button><button class="plain" onClick=${() => desk.set({ cured: null })}>Keep it</button></div>`;
}
