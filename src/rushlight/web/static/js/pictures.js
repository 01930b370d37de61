// Pictures come in: by a button or dropped; onto a part, as a part of their own, or among the references.
import { html, useLayoutEffect, useState } from "../vendor/preact-htm.js";
import { Later } from "./later.js";
import { hand } from "./talk.js";

const TAKES = "image/jpeg,image/png,image/webp,image/tiff,image/bmp,image/gif,image/heic,image/heif,.heic,.heif";
const MOST_BYTES = 100_000_000;

// Keeps a picture in the plan; on a part it is one step. True if it was kept; then the gauge opens.
export async function handIn(desk, file, { as = "keep", item = "" } = {}) {
  if (file.size > MOST_BYTES) { desk.set({ trouble: { says: `${file.name} is larger than 100 MB.`, problems: [] } }); return false; }
  desk.set({ keeping: file.name });
  let kept = null;
  const query = new URLSearchParams({ name: file.name, as, item });
  const done = await desk.sent(async () => {
    const answer = await hand(`${desk.path}/pictures?${query}&revision=${desk.state.revision}`, file);
    kept = answer.body.kept;
    return answer;
  });
  desk.set({ keeping: "" });
  if (!done) return false;
  if (as === "part") desk.set({ gauge: { part: item, file: kept.file } });
  else if (as === "keep") desk.set({ gauge: { part: null, file: kept.file } });
  return true;
}

export function FileButton({ desk, to, children }) {
  const picked = event => { const [file] = event.target.files; event.target.value = ""; if (file) handIn(desk, file, to); };
  return html`<label class="filebutton"><input type="file" class="unseen" accept=${TAKES} onChange=${picked} /><span>${children}</span></label>`;
}

// What can be done with the picture of one part.
export function PartPicture({ desk, part }) {
  const { picture } = part;
  return html`<div class="form chosen"><p class="quiet">${!picture ? "No picture yet. Put a photograph or drawing under it, or drop one on the part." : part.laid ? `Drawn on ${picture.file}.` : `${picture.file} has no size yet, so it is not shown.`}</p>
    <div class="tools">
      ${picture && html`<button onClick=${() => desk.set({ gauge: { part: part.name, file: picture.file } })}>${part.laid ? "Size and place of its picture" : "Give the picture its size"}</button>`}
      <${FileButton} desk=${desk} to=${{ as: "part", item: part.name }}>${picture ? "Another picture" : "Put a picture on it"}</${FileButton}>
      ${picture && html`<button onClick=${() => desk.change(() => [{ action: "set", kind: "parts", name: part.name, values: { picture: null } }], `picture taken off ${part.name}`)}>Take it off</button>`}
    </div></div>`;
}

// At the end of the leaf of parts.
export function MorePictures({ desk, state }) {
  return html`<div class="tools"><${FileButton} desk=${desk} to=${{ as: "keep" }}>A new part from a picture</${FileButton}></div>
    <p class="quiet" role="status">${state.keeping ? `Keeping ${state.keeping} ...` : ""}</p>
    ${state.plan.parts.some(part => part.laid) && html`<label class="field"><span>How strongly pictures show</span><input type="range" min="0" max="1" step="0.05" value=${state.strength} aria-valuetext=${`${Math.round(100 * state.strength)} %`}
      onInput=${event => { const strength = Number(event.target.value); localStorage.setItem("strength", strength); desk.set({ strength }); }} /></label>`}`;
}

// Over everything: the gauge, and where a dropped picture belongs.
export function Pictures({ desk, state, sheet }) {
  const [over, setOver] = useState(false), [dropped, setDropped] = useState(null);
  useLayoutEffect(() => { // at once: a file let go over a page that does not listen yet would be opened in its place
    if (!sheet) return () => {};
    const carries = event => event.dataTransfer && [...event.dataTransfer.types].includes("Files");
    const told = {
      dragover: event => { if (carries(event)) { event.preventDefault(); setOver(!desk.state.gauge); } },
      dragleave: event => { if (!event.relatedTarget) setOver(false); },
      drop: event => {
        if (!carries(event)) return;
        event.preventDefault();
        setOver(false);
        const [file] = event.dataTransfer.files, onSheet = event.target === sheet.canvas;
        if (!file || desk.state.gauge) return;
        const under = onSheet && sheet.partUnder(sheet.point(event));
        if (under) handIn(desk, file, { as: "part", item: under.part }); else setDropped(file);
      },
    };
    for (const [name, act] of Object.entries(told)) window.addEventListener(name, act);
    return () => { for (const [name, act] of Object.entries(told)) window.removeEventListener(name, act); };
  }, [sheet]);
  const give = to => { setDropped(null); handIn(desk, dropped, to); };
  return html`
    ${over && html`<p class="dropping plate">Let go over a part to put the picture under it; beside the parts for something else.</p>`}
    ${state.keeping && html`<p class="dropping plate" role="status">Keeping ${state.keeping} ...</p>`}
    ${dropped && html`<div class="asking plate" role="dialog" aria-label="Where does the picture belong?"><p><strong>Where does ${dropped.name} belong?</strong></p>
      <div class="tools">${state.plan.parts.slice(0, 12).map(part => html`<button onClick=${() => give({ as: "part", item: part.name })}>Under ${part.name}</button>`)}
        <button onClick=${() => give({ as: "keep" })}>A new part</button><button onClick=${() => give({ as: "reference" })}>A picture of the subject</button><button class="plain" onClick=${() => setDropped(null)}>Nowhere</button></div></div>`}
    ${state.gauge && html`<${Later} load=${() => import("./gauge/gauge.js")} of="Gauge" key=${state.gauge.file + state.gauge.part} desk=${desk} state=${state} sheet=${sheet} />`}`;
}
