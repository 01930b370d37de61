// Closed rooms inside the model: what heat and stray light are reckoned for.
import { html, useRef, useState } from "../../vendor/preact-htm.js";
import { count } from "../answers.js";
import { lengthWords } from "../ruler.js";
import { Line, Pick, Ticks, tried } from "./at-field.js";
import { bareParts, freeSpace, isBehind, missingOf, sizeOfParts, sizeWords, windowChoices, windowsOf } from "./space-rows.js";

export function Spaces({ desk, state }) {
  const { plan } = state, bare = bareParts(plan, state.look);
  return html`<details class="spaces"><summary>Closed rooms inside: ${plan.spaces.length ? plan.spaces.map(row => row.name).join(", ") : "none said yet"}</summary>
    <p class="quiet">How warm it gets inside, and how much light strays through walls and seams, is reckoned for each closed room. ${bare.length ? `In none yet: ${bare.join(", ")}. There stray light is reckoned as in a cube of 30 mm, and heat not at all.` : ""}</p>
    <${Line} label="Air where the model stands" unit="°C" kind="number" value=${plan.subject.room_c} says="At its warmest, as on a hot day; empty for a usual room, 20 to 26." onValue=${room => tried(desk, [{ action: "set", kind: "subject", name: "", values: { room_c: room } }], "how warm the room is")} />
    ${plan.spaces.map(space => html`<${Space} key=${space.name} desk=${desk} state=${state} space=${space} />`)}
    <${NewSpace} desk=${desk} state=${state} /></details>`;
}

function Space({ desk, state, space }) {
  const { plan, unit } = state, sizes = space.size_mm.map(mm => lengthWords(mm, unit)).join(" by "), walls = plan.parts.filter(part => space.parts.includes(part.name));
  const set = (values, what) => tried(desk, [{ action: "set", kind: "spaces", name: space.name, values }], `${space.name}: ${what}`);
  const lamps = state.look.lamps.filter(lamp => space.parts.includes(lamp.part)).length;
  const out = () => tried(desk, [{ action: "remove", kind: "spaces", name: space.name, values: {} }], `room ${space.name} taken out`);
  return html`<details class="space"><summary><strong>${space.name}</strong> <small>${sizes}; ${space.sealed ? "closed for good" : "can be opened"}</small></summary><div class="form">
    <${Line} label="Name of the room" value=${space.name} onValue=${name => name ? tried(desk, [{ action: "set", kind: "spaces", name: space.name, values: { name } }], `${space.name} named ${name}`) : "It needs a name."} />
    <${Size} plan=${plan} name=${space.name} windows=${space.windows} unit=${unit} size=${space.size_mm} must onSize=${size_mm => set({ size_mm }, "its size")} />
    <${Ticks} legend="Parts that form it" value=${space.parts} choices=${plan.parts.map(part => part.name)} onValue=${parts => set({ parts }, "its parts")} />
    ${windowChoices(plan, space).length > 0 && html`<${Ticks} legend="Windows of one LED" value=${space.windows} choices=${windowChoices(plan, space)} says="One LED in this room is seen through all that are ticked, each with a lamp of its own kind room." onValue=${windows => set({ windows }, "its windows")} />`}
    ${space.windows.length > 0 && html`<div class="pair">${["left", "front"].map((side, n) => html`<${Line} key=${side} label=${`LED from the ${side}`} kind="length" lengths=${unit} value=${space.led_mm && space.led_mm[n]} says="As one stands before the first window. Both left empty: in the middle of the ceiling." onValue=${mm => set({ led_mm: mm === null ? null : (space.led_mm || [space.size_mm[0] / 2, space.size_mm[1] / 2]).map((old, k) => k === n ? mm : old) }, "where its LED hangs")} />`)}</div>`}
    <p class="facts">Its walls: ${walls.map(part => `${part.name}, ${lengthWords(part.wall_mm, unit)} ${part.wall}${part.coats.length ? ` with ${part.coats.join(", ")} inside` : ""}`).join("; ")}. ${count(lamps, "lamp")} on them. Walls and coats are said of each part.</p>
    <label class="tick"><input type="checkbox" checked=${space.sealed} onChange=${event => set({ sealed: event.target.checked }, event.target.checked ? "closed for good" : "can be opened")} /> Shut for good at close-up</label>
    <${Line} label="Free area of vents" unit="mm²" kind="number" value=${space.vents_mm2} says="All holes that air goes through, together; 0 for none." onValue=${vents => set({ vents_mm2: vents ?? 0 }, "its vents")} />
    <${Line} label="Note" long value=${space.note} onValue=${note => set({ note }, "note changed")} />
    <div class="tools"><button class="small" onClick=${out}>Take this room out</button></div></div></details>`;
}

function Size({ plan, name, windows = [], unit, size, onSize, must = false }) {
  return html`<div class="thirds">${sizeWords(plan, name, windows).map((word, n) => html`<${Line} key=${word} label=${word} kind="length" lengths=${unit} value=${size[n]}
    onValue=${mm => mm === null && must ? "It needs a length." : onSize(size.map((old, k) => k === n ? mm : old))} />`)}</div>`;
}

const EMPTY = { of: "", name: "", parts: [], size_mm: [null, null, null] };

function NewSpace({ desk, state }) {
  const { plan, unit } = state, [draft, setDraft] = useState(EMPTY), [wrong, setWrong] = useState(""), latest = useRef(draft);
  latest.current = draft;
  const put = values => { setWrong(""); latest.current = { ...latest.current, ...values }; setDraft(latest.current); return ""; };
  const kinds = [["", "the inside of the model, or of a part of it"], ...windowsOf(plan).map(row => [JSON.stringify(row), `the room behind ${row.opening} on ${row.part}`])];
  const turn = of => { if (!of) return put(EMPTY); const { part, opening } = JSON.parse(of); return put({ of, name: opening, parts: [part], size_mm: [null, null, null] }); };
  const tick = parts => put({ parts, ...(draft.of || draft.size_mm[1] ? {} : { size_mm: sizeOfParts(plan, parts) }) });
  // A field gives its value as it loses the focus to the button; so what is there is asked for when that is done.
  const make = () => setTimeout(async () => {
    const { of, ...now } = latest.current, name = now.name.trim(), missing = missingOf(plan, now);
    if (missing.length) { setWrong(`Still to be said: ${missing.join(", ")}.`); return; }
    if (!freeSpace(plan, name)) { setWrong("There is a room of that name."); return; }
    const refused = await tried(desk, [{ action: "add", kind: "spaces", name, values: { parts: now.parts, size_mm: now.size_mm } }], `room ${name} made`);
    setWrong(refused);
    if (!refused) setDraft(EMPTY);
  });
  return html`<details class="newspace" open=${plan.spaces.length === 0}><summary>Another closed room</summary><div class="form">
    ${kinds.length > 1 && html`<${Pick} label="It is" value=${draft.of} choices=${kinds} onValue=${turn} />`}
    <${Line} label="Name of the new room" value=${draft.name} onValue=${name => put({ name: name || "" })} />
    <${Ticks} legend="Parts that form it" value=${draft.parts} choices=${plan.parts.map(part => part.name)} onValue=${tick} />
    <${Size} plan=${plan} name=${draft.name} unit=${unit} size=${draft.size_mm} onSize=${size_mm => put({ size_mm })} />
    <p class="quiet">${isBehind(plan, draft.name) ? "As one stands before the window." : "Measured inside. Length and height are taken from the outlines of the parts that you tick; the width only you know."}</p>
    ${wrong && html`<p class="wrong" role="alert">${wrong}</p>`}
    <div class="tools"><button onClick=${make}>Make this room</button></div></div></details>`;
}
