// What to cut: each piece ticked with its length as cut.
import { html, useState } from "../../vendor/preact-htm.js";
import { pieceOf, typedNumber } from "./log.js";
import { By, Context, Mark, lengthOf } from "./parts.js";

const KINDS = [["lead", "Leads"], ["tail", "Fibre tails"], ["tube", "Tubes, in the order in which they are slid on"]];

export function Pieces({ top, state }) {
  const { pieces } = state.bench;
  if (!pieces.length) return html`<p class="quiet">Nothing to cut yet: place lamps and a supply first.</p>`;
  return html`<p class="quiet">Cut one of each first and lay it in. A blade towards the mat, fingers behind it; label both ends.</p>
    ${KINDS.map(([kind, title]) => html`<${Group} key=${kind} top=${top} state=${state} title=${title} pieces=${pieces.filter(piece => piece.kind === kind)} />`)}`;
}

function Group({ top, state, title, pieces }) {
  if (!pieces.length) return null;
  const done = pieces.filter(piece => pieceOf(state.log, piece)).length;
  return html`<details class="b-group" open=${done < pieces.length}><summary><h3>${title}</h3><span>${done} of ${pieces.length} cut</span></summary>
    <ul>${pieces.map(piece => html`<${Piece} key=${piece.piece} top=${top} piece=${piece} row=${pieceOf(state.log, piece)} />`)}</ul></details>`;
}

const inches = () => Context.unit() === "inch";
const shown = mm => inches() ? (mm / 25.4).toFixed(2) : `${Number(mm.toFixed(1))}`;

function Piece({ top, piece, row }) {
  const held = row && row.length_mm ? row.length_mm : piece.cut_mm;
  const [text, setText] = useState(null), value = text ?? shown(held), typed = typedNumber(value);
  const good = Number.isFinite(typed) && typed > 0 && typed < 1e5;
  const mm = text === null ? held : Number((typed * (inches() ? 25.4 : 1)).toFixed(2));
  const cut = () => { if (good) { top.cut(piece, mm); setText(null); } };
  const changed = row && text !== null && good && mm !== held;
  return html`<li class=${row ? "b-piece b-done" : "b-piece"}>
    <div class="b-of"><strong>${piece.label}</strong> <b>${lengthOf(piece.cut_mm)}</b><br /><small>${piece.of}; ${piece.ends}</small> ${row && html`<${By} row=${row} />`}
      ${row && row.length_mm && row.length_mm < piece.cut_mm - 0.05 && html`<p class="caution">${lengthOf(piece.cut_mm - row.length_mm)} shorter than the list says; see the findings.</p>`}</div>
    <form class="b-type" onSubmit=${event => { event.preventDefault(); cut(); }}>
      <label><span class="unseen">${`${piece.piece} as cut, ${inches() ? "inches" : "mm"}`}</span><input inputmode="decimal" autocomplete="off" value=${value} onInput=${event => setText(event.target.value)} /></label>
      <span class="b-unit" aria-hidden="true">${inches() ? "in" : "mm"}</span>
      ${!row || changed ? html`<button disabled=${!good} aria-label=${`${row ? "Mend" : "Cut"} ${piece.piece}`}>${row ? "Mend" : "Cut"}</button>`
    : html`<button type="button" class="b-tick on" aria-pressed="true" aria-label=${`${piece.piece} is cut; take it back`} onClick=${() => top.uncut(piece)}><${Mark} of="done" /></button>`}
    </form></li>`;
}
