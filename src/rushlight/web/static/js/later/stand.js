// Where a part stands over another, so that its shadow and its lamps are known: two points, a direction, how it moves.
import { html } from "../../vendor/preact-htm.js";
import { Choice, Typed } from "../fields.js";
import { round } from "../items.js";
import { Length } from "../keys-form.js";
import { boxOf } from "../view.js";
import { Faces } from "./faces.js";

const WAYS = [["", "does not move it"], ["pivot", "turns it about a point"], ["slide", "slides it"], ["tip", "tips it up about that line"]];

const lengthOf = ([a, b]) => Math.hypot(b[0] - a[0], b[1] - a[1]);
export const wayOf = ([a, b]) => round(Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI);

// The second point lies as far from the first as on the part's own drawing.
export function laidAt(points, start, degrees) {
  const far = lengthOf(points), turn = degrees * Math.PI / 180;
  return [start, [round(start[0] + far * Math.cos(turn)), round(start[1] + far * Math.sin(turn))]];
}

// A part that is newly placed stands with its lower edge in the middle of the other.
export function firstStand(plan, part, over) {
  const own = boxOf(part.outline_mm), below = boxOf(plan.parts.find(row => row.name === over).outline_mm);
  const points_mm = [[own.left, own.low], [own.right, own.low]];
  const start = [round((below.left + below.right - own.right + own.left) / 2), round((below.low + below.top) / 2)];
  return { over, points_mm, at_mm: laidAt(points_mm, start, 0) };
}

export function Stand({ desk, state, part }) {
  const stand = part.stands, set = (values, says) => desk.change([{ action: "set", kind: "parts", name: part.name, values }], `${part.name}: ${says}`);
  const put = (values, says) => set({ stands: { ...stand, ...values } }, says);
  const over = name => set({ stands: name ? firstStand(state.plan, part, name) : null }, name ? `stands on ${name}` : "stands nowhere");
  return html`<${Faces} desk=${desk} part=${part} /><details open=${Boolean(stand)}><summary>Stands on: ${stand ? stand.over : "nobody said"}</summary><div class="form">
    <p class="quiet">For its shadow in floodlight, and for floodlights on it. Nothing is guessed: without it the shadow is missing, and you are told.</p>
    <${Choice} label="Stands on" value=${stand ? stand.over : ""} choices=${[["", "nobody said"], ...state.plan.parts.filter(row => row.name !== part.name).map(row => row.name)]} onValue=${over} />
    ${stand && html`<${Places} stand=${stand} unit=${state.unit} put=${put} />`}
    ${stand && part.poses.length > 0 && html`<${Ways} stand=${stand} unit=${state.unit} put=${put} />`}
    <label class="tick"><input type="checkbox" checked=${part.throws_shadow} onChange=${event => set({ throws_shadow: event.target.checked }, "its shadow")} /> Some of it stands where floodlights shine</label>
  </div></details>`;
}

function Places({ stand, unit, put }) {
  const { points_mm: own, at_mm: at } = stand, way = wayOf(at);
  const pair = (label, point, move) => html`<div class="pair">${[0, 1].map(n => html`<${Length} label=${`${label} ${"xy"[n]}`} mm=${point[n]} unit=${unit}
    onValue=${value => value !== null && move(point.map((old, k) => k === n ? value : old))} />`)}</div>`;
  const mine = k => point => {
    const points_mm = own.map((old, n) => n === k ? point : old);
    if (lengthOf(points_mm) > 0) put({ points_mm, at_mm: laidAt(points_mm, at[0], way) }, "its points moved");
  };
  return html`${pair("First point of its own", own[0], mine(0))}${pair("Second point of its own", own[1], mine(1))}
    ${pair(`First one lies on ${stand.over} at`, at[0], start => put({ at_mm: laidAt(own, start, way) }, "moved"))}
    <div class="pair"><${Typed} label="Towards the second, 0 is right, 90 up" unit="deg" number value=${way} onValue=${value => value !== null && put({ at_mm: laidAt(own, at[0], value) }, "turned")} />
    <${Typed} label="Stands up by" unit="deg" number value=${stand.up_deg ?? 90} onValue=${up_deg => up_deg !== null && put({ up_deg }, "stands up otherwise")} /></div>
    <${Length} label=${`Height of both over ${stand.over}`} mm=${stand.above_mm ?? 0} unit=${unit} onValue=${above_mm => put({ above_mm: above_mm ?? 0 }, "raised")} />`;
}

function Ways({ stand, unit, put }) {
  const none = { pivot_mm: null, slide_deg: null, tips: false }, now = stand.pivot_mm ? "pivot" : stand.tips ? "tip" : Number.isFinite(stand.slide_deg) ? "slide" : "";
  const way = word => put({ ...none, ...(word === "pivot" && { pivot_mm: stand.at_mm[0] }), ...(word === "slide" && { slide_deg: 0 }), ...(word === "tip" && { tips: true }) }, "moves otherwise");
  return html`<${Choice} label="Its pose" value=${now} choices=${WAYS} onValue=${way} />
    ${now === "pivot" && html`<div class="pair">${[0, 1].map(n => html`<${Length} label=${`Turns about ${"xy"[n]}`} mm=${stand.pivot_mm[n]} unit=${unit}
      onValue=${value => value !== null && put({ pivot_mm: stand.pivot_mm.map((old, k) => k === n ? value : old) }, "its pivot moved")} />`)}</div>`}
    ${now === "slide" && html`<${Typed} label="Slides towards, 0 is right, 90 up" unit="deg" number value=${stand.slide_deg} onValue=${slide_deg => slide_deg !== null && put({ slide_deg }, "its way changed")} />`}`;
}
