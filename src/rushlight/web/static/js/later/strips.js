// LED strips behind openings: a new one, and what there is to say of one.
import { html, useRef, useState } from "../../vendor/preact-htm.js";
import { freeName, keyOf } from "../items.js";
import { Line, Pick, Ticks, tried, useForms } from "./at-field.js";
import { missingOf, runBehind, withPoint } from "./strip-rows.js";

const GAP = "From its LEDs to the first sheet behind the openings, or to the openings where there is none.";

export function NewStrip({ desk, state }) {
  const { plan, unit } = state, parts = plan.parts.filter(part => part.openings.length), first = parts.find(part => part.name === state.part) || parts[0];
  const fresh = () => ({ part: first ? first.name : "", name: freeName(plan, "strip"), openings: [], gap_mm: null });
  const [draft, setDraft] = useState(fresh), [wrong, setWrong] = useState(""), latest = useRef(draft), part = parts.find(row => row.name === draft.part) || first;
  const put = values => { setWrong(""); latest.current = { ...latest.current, ...values }; setDraft(latest.current); return ""; };
  // A field gives its value as it loses the focus to the button; so what is there is asked for when that is done.
  const make = () => setTimeout(async () => {
    const { openings, gap_mm, ...now } = latest.current, name = now.name.trim(), missing = missingOf(latest.current);
    if (missing.length) { setWrong(`Still to be said: ${missing.join(", ")}.`); return; }
    const values = { part: part.name, openings, gap_mm, along_mm: runBehind(part, openings), states: [desk.state.state] };
    const refused = await tried(desk, [{ action: "add", kind: "strips", name, values }], `strip ${name} put behind ${openings.length === 1 ? openings[0] : `${openings.length} openings`}`);
    setWrong(refused);
    if (refused) return;
    desk.set({ chosen: [keyOf("strips", name)] });
    latest.current = { part: part.name, name: freeName(desk.state.plan, "strip"), openings: [], gap_mm: null };
    setDraft(latest.current);
  });
  if (!part) return html`<details class="newstrip"><summary>An LED strip behind openings</summary><p class="quiet">A strip lights windows, and no opening is drawn yet: draw one in the leaf Parts.</p></details>`;
  return html`<details class="newstrip"><summary>An LED strip behind openings</summary><div class="form">
    ${parts.length > 1 && html`<${Pick} label="On the part" value=${part.name} choices=${parts.map(row => row.name)} onValue=${name => put({ part: name, openings: [] })} />`}
    <${Line} label="Name of the strip" value=${draft.name} onValue=${name => put({ name: name || "" })} />
    <${Ticks} legend="Openings that it lights" value=${draft.openings} choices=${part.openings.map(row => row.name)} onValue=${openings => put({ openings })} />
    <${Line} label="Gap before it" kind="length" lengths=${unit} value=${draft.gap_mm} says=${GAP} onValue=${gap_mm => put({ gap_mm })} />
    <p class="quiet">It is laid along the middle of the openings, lit when ${state.state}; both can be changed then.</p>
    ${wrong && html`<p class="wrong" role="alert">${wrong}</p>`}
    <div class="tools"><button onClick=${make}>Put it there</button></div></div></details>`;
}

export function StripForm({ desk, state, item }) {
  const { plan, unit } = state, forms = useForms(desk), part = plan.parts.find(row => row.name === item.part);
  const put = (values, what) => [[{ action: "set", kind: "strips", name: item.name, values }], `${item.name}: ${what}`], set = (values, what) => tried(desk, ...put(values, what));
  const share = value => set({ walls_reflect: value === null ? null : Math.round(value * 100) / 10000 }, "walls of its channel");
  return html`<${Ticks} legend=${`Openings of ${item.part} that it lights`} value=${item.openings} choices=${part.openings.map(row => row.name)} onValue=${openings => openings.length ? set({ openings }, "its openings") : "It lights one opening at least; or remove it."} />
    <${Line} label="Gap before it" kind="length" lengths=${unit} value=${item.gap_mm} says=${GAP} onValue=${gap_mm => gap_mm === null ? "It needs a length." : set({ gap_mm }, "its gap")} />
    <${Line} label="Free depth behind its openings" kind="length" lengths=${unit} value=${item.depth_mm} says="For strip, gap and sheets. Left empty: that of the room behind." onValue=${depth_mm => set({ depth_mm }, "depth behind its openings")} />
    ${forms && html`<${Pick} label="Kind of strip" value=${item.strip || ""} choices=${[["", "as the design chooses"], ...forms.strips]} onValue=${strip => set({ strip: strip || null }, strip ? `is ${strip}` : "its kind as the design chooses")} />`}
    <${Line} label="Walls of its channel throw back" unit="%" kind="number" value=${Math.round(item.walls_reflect * 1e4) / 100} says="Of the light that falls on them: white paint most, black next to nothing. Left empty: 50." onValue=${share} />
    <${Line} label="Width of its channel" kind="length" lengths=${unit} value=${item.channel_width_mm} says="From wall to wall inside, the strip in its middle. Left empty: the walls stand 1 mm beside the openings." onValue=${channel_width_mm => set({ channel_width_mm }, "width of its channel")} />
    <${Pick} label="Walls of its channel are" value=${item.channel_walls || ""} choices=${[["", "not said"], ["matt", "matt: paint, card, plastic"], ["foil", "shiny: foil"]]} onValue=${channel_walls => set({ channel_walls: channel_walls || null }, "walls of its channel")} />
    <${Pick} label="Ends of its channel" value=${item.channel_ends || ""} choices=${[["", "not said"], ["walled", "walls like its own"], ["open", "open, or it runs on"]]} onValue=${channel_ends => set({ channel_ends: channel_ends || null }, "ends of its channel")} />
    <${Line} label="The strip's board throws back" unit="%" kind="number" value=${item.board_reflects === null ? null : Math.round(item.board_reflects * 1e4) / 100} says="Left empty: a white board, about 60." onValue=${board => set({ board_reflects: board === null ? null : Math.round(board * 100) / 10000 }, "board of the strip")} />
    <details class="run"><summary>Where it runs: ${item.along_mm.length} points</summary>
      ${item.along_mm.map((point, n) => html`<${Point} key=${n} n=${n} points=${item.along_mm} unit=${unit} onPoints=${along_mm => set({ along_mm }, "laid anew")} />`)}
      <div class="tools"><button class="small" onClick=${() => set({ along_mm: runBehind(part, item.openings) }, "laid along the middle of its openings")}>Along the middle of its openings</button></div>
      <p class="quiet">Its points can be dragged on the sheet as well.</p></details>`;
}

function Point({ n, points, unit, onPoints }) {
  const end = k => html`<${Line} label=${`${"xy"[k]} of point ${n + 1}`} kind="length" lengths=${unit} value=${points[n][k]} onValue=${mm => mm === null ? "It needs a length." : onPoints(points.map((old, m) => m === n ? old.map((value, i) => i === k ? mm : value) : old))} />`;
  return html`<div class="pair">${end(0)}${end(1)}</div><div class="tools"><button class="plain small" aria-label=${`add after point ${n + 1}`} onClick=${() => onPoints(withPoint(points, n))}>add after</button>
    ${points.length > 2 && html`<button class="plain small" aria-label=${`take out point ${n + 1} of the run`} onClick=${() => onPoints(points.filter((_, m) => m !== n))}>take out</button>`}</div>`;
}
