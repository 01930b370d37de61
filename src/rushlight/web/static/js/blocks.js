// Sheets of the book on the screen: tables, notes, steps, drawings.
import { html, useEffect, useRef } from "../vendor/preact-htm.js";

export function Sheets({ sheets }) {
  return sheets.map(sheet => html`<section class="topic"><h3>${sheet.title}</h3>${sheet.blocks.map(block => html`<${Block} block=${block} />`)}</section>`);
}

function Block({ block }) {
  if (block.block === "table") return html`<${Table} table=${block} />`;
  if (block.block === "drawing") return html`<${Drawing} drawing=${block} />`;
  if (block.block === "note") return html`<div class="words">${block.title && html`<h4>${block.title}</h4>`}${block.text.split("\n\n").map(text => html`<p>${text}</p>`)}</div>`;
  if (block.block === "cautions") return block.items.map(item => html`<${Caution} item=${item} />`);
  if (block.block === "listing") return html`<details class="listing"><summary>${block.title}: ${block.path}</summary><pre tabindex="0" aria-label=${block.title}>${block.text}</pre></details>`;
  if (block.block === "steps") return html`<${Steps} steps=${block} />`;
  return null;
}

function Caution({ item }) {
  return html`<p class="caution"><strong>${item.hazard}.</strong> ${item.text} ${item.standard && html`<small>${item.standard}</small>`}</p>`;
}

function cell(value, column) {
  if (value === null) return "";
  if (typeof value !== "number") return value;
  return column.decimals === null ? `${Number(value.toPrecision(3))}` : value.toFixed(column.decimals);
}

function Table({ table }) {
  return html`<figure class="table">
    <figcaption>${table.title}</figcaption>
    ${table.rows.length === 0 ? html`<p class="quiet">Nothing here yet.</p>` : html`
    <div class="scroll" tabindex="0" role="region" aria-label=${table.title}><table>
      <thead><tr>${table.columns.map(c => html`<th scope="col" class=${c.align}>${c.heading}${c.unit && html` <small>${c.unit}</small>`}</th>`)}</tr></thead>
      <tbody>${table.rows.map(row => html`<tr>${row.map((value, n) => html`<td class=${table.columns[n].align}>${cell(value, table.columns[n])}</td>`)}</tr>`)}</tbody>
    </table></div>`}
    ${table.caption && html`<p class="quiet">${table.caption}</p>`}
  </figure>`;
}

const PX_PER_MM = 3.4;

// The book's own drawing; its colours are those of the plate that it stands on.
function Drawing({ drawing }) {
  const frame = useRef(null);
  useEffect(() => {
    const svg = new DOMParser().parseFromString(drawing.svg, "image/svg+xml").documentElement;
    svg.setAttribute("width", drawing.width_mm * PX_PER_MM);
    svg.removeAttribute("height");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", drawing.title);
    frame.current.replaceChildren(document.importNode(svg, true));
  }, [drawing.svg]);
  return html`<figure class="drawing"><div ref=${frame} class="scroll" tabindex="0" role="group" aria-label=${drawing.title}></div>
    <figcaption>${drawing.title}${drawing.caption && html`<br /><small>${drawing.caption}</small>`}</figcaption>
  </figure>`;
}

function Steps({ steps }) {
  return html`${steps.title && html`<h4>${steps.title}</h4>`}
  <ol class="steps">${steps.steps.map(step => html`<li class=${step.gate ? "gate" : ""}>
    <strong>${step.text}</strong>${step.gate && html` <em>gate: pass it before you go on</em>`}
    ${step.detail && html`<p>${step.detail}</p>`}
    ${step.readings.length > 0 && html`<dl>${step.readings.map(([what, expect]) => html`<dt>${what}</dt><dd>${expect}</dd>`)}</dl>`}
    ${step.cautions.map(item => html`<${Caution} item=${item} />`)}
  </li>`)}</ol>`;
}
