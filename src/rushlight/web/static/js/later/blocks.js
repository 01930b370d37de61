// Sheets of the book on the screen: tables, notes, steps, drawings. Where a leaf has several, each folds; the first is open.
import { html, useLayoutEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { Drawing } from "./book-drawing.js";
import { cardsOf } from "./cards.js";
import { entryOf } from "./entries.js";
import { Glossary } from "./glossary.js";

const LONG_ROWS = 12;
const kept = () => JSON.parse(localStorage.getItem("folds") || "{}");

export function Sheets({ sheets, leaf }) {
  const [folds, setFolds] = useState(kept);
  const turn = (key, open) => {
    const now = { ...kept(), [key]: open };
    localStorage.setItem("folds", JSON.stringify(now));
    setFolds(now);
  };
  const folded = sheets.map((sheet, n) => {
    const id = `sheet-${n}`;
    const blocks = sheet.blocks.map((block, m) => html`<div class="piece" id=${`${id}-${m}`} tabindex="-1"><${Block} block=${block} /></div>`);
    if (sheets.length === 1) return html`<section class="topic"><h3 id=${id} tabindex="-1">${sheet.title}</h3>${blocks}</section>`;
    const key = `${leaf}/${sheet.title}`, open = folds[key] ?? n === 0;
    const turned = event => { if (event.currentTarget.open !== open) turn(key, event.currentTarget.open); };
    return html`<details class="topic" key=${key} open=${open} onToggle=${turned}><summary id=${id}><h3>${sheet.title}</h3></summary>${blocks}</details>`;
  });
  return html`<${Glossary} leaf=${leaf} />${folded}`;
}

// What a sheet holds, by its titles: drawings only where there is nothing else to name it by.
function piecesOf(sheet) {
  const titled = sheet.blocks.map((block, m) => ({ m, title: block.title, drawn: block.block === "drawing" })).filter(piece => piece.title);
  const named = titled.filter(piece => !piece.drawn);
  return (named.length ? named : titled).filter(piece => piece.title !== sheet.title);
}

// The list of all that is on a leaf, in its head, so that it is at hand wherever one has scrolled to.
export function Contents({ sheets }) {
  const box = useRef(null);
  const go = id => {
    const place = document.getElementById(id), folded = place.closest("details");
    if (folded) folded.open = true;
    box.current.open = false;
    place.scrollIntoView();
    place.focus({ preventScroll: true });
  };
  const all = open => document.querySelectorAll("details.topic").forEach(folded => { folded.open = open; });
  const keyed = event => {
    if (event.key !== "Escape" || !box.current.open) return;
    event.stopPropagation();
    box.current.open = false;
    box.current.firstElementChild.focus();
  };
  const line = (id, title) => html`<li><button class="plain" onClick=${() => go(id)}>${title}</button></li>`;
  return html`<details class="contents" ref=${box} onKeyDown=${keyed}><summary>On this leaf</summary><nav class="plate" aria-label="On this leaf">
    ${sheets.length > 1 && html`<div class="tools"><button onClick=${() => all(true)}>Open all</button><button onClick=${() => all(false)}>Fold all</button></div>`}
    <ul>${sheets.map((sheet, n) => html`${line(`sheet-${n}`, html`<strong>${sheet.title}</strong>`)}${piecesOf(sheet).map(piece => line(`sheet-${n}-${piece.m}`, piece.title))}`)}</ul>
  </nav></details>`;
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
  const text = column.decimals === null ? `${Number(value.toPrecision(3))}` : value.toFixed(column.decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

function Table({ table }) {
  const entry = entryOf(table.columns), cards = entry ? null : cardsOf(table.columns, table.rows.map(row => row.map((value, n) => String(cell(value, table.columns[n])))));
  return html`<figure class="table">
    <figcaption>${table.title}${table.rows.length > LONG_ROWS && html` <small>${table.rows.length} rows</small>`}</figcaption>
    ${table.rows.length === 0 ? html`<p class="quiet">Nothing here yet.</p>` : html`
    <div class="scroll" tabindex="0" role="region" aria-label=${table.title}>${entry ? html`<${Entries} table=${table} entry=${entry} />` : cards ? html`<${Cards} table=${table} cards=${cards} />` : html`<table>
      <thead><tr>${table.columns.map(c => html`<th scope="col" class=${c.align}><${Heading} column=${c} /></th>`)}</tr></thead>
      <tbody>${table.rows.map(row => html`<tr>${row.map((value, n) => html`<td class=${table.columns[n].align}>${cell(value, table.columns[n])}</td>`)}</tr>`)}</tbody>
    </table>`}</div>`}
    ${table.caption && html`<p class="quiet">${table.caption}</p>`}
  </figure>`;
}

function Heading({ column }) {
  return html`${column.heading}${column.unit && html` <small>${column.unit}</small>`}`;
}

// Such a table as the style lays out in entries where it is narrow: what a row is of in one line, its figures in a line of their own, remarks below.
// The style takes the table's own display away, and with it what a screen reader knows of it; so the roles are written out.
function Entries({ table, entry }) {
  const looks = table.columns.map((c, n) => [c.align, ...entry[n].names].join(" "));
  return html`<table class="entries" role="table" aria-label=${table.title} style=${{ "--figures": entry.filter(one => one.names[0] === "figure").length }}>
    <thead role="rowgroup"><tr role="row">${table.columns.map((c, n) => html`<th scope="col" role="columnheader" class=${looks[n]} style=${{ "--span": entry[n].span }}><${Heading} column=${c} /></th>`)}</tr></thead>
    <tbody role="rowgroup">${table.rows.map(row => html`<tr role="row">${row.map((value, n) => html`<td role="cell" class=${looks[n]} style=${{ "--span": entry[n].span }}><span class="above"><${Heading} column=${table.columns[n]} /></span> ${html`<span>${cell(value, table.columns[n])}</span>`}</td>`)}</tr>`)}</tbody>
  </table>`;
}

// Whether a box has less room than that, told anew whenever its figure's width changes.
function useLess(box, px) {
  const [less, setLess] = useState(false);
  useLayoutEffect(() => {
    const figure = box.current.closest("figure"), look = () => setLess(figure.clientWidth <= px), watch = new ResizeObserver(look);
    look();
    watch.observe(figure);
    return () => watch.disconnect();
  }, [px]);
  return less;
}

// The same for tables of words, or with words between their figures. An empty cell is left out there.
function Cards({ table, cards }) {
  const looks = table.columns.map((c, n) => `${c.align} ${cards.kinds[n]}`), box = useRef(null), narrow = useLess(box, cards.below_px);
  return html`<table ref=${box} class=${narrow ? "cards narrow" : "cards"} role="table" aria-label=${table.title}>
    <thead role="rowgroup"><tr role="row">${table.columns.map((c, n) => html`<th scope="col" role="columnheader" class=${looks[n]}><${Heading} column=${c} /></th>`)}</tr></thead>
    <tbody role="rowgroup">${table.rows.map(row => html`<tr role="row">${row.map((value, n) => { const text = cell(value, table.columns[n]);
      return html`<td role="cell" class=${`${looks[n]}${String(text).trim() === "" ? " empty" : ""}`}><span class="above"><${Heading} column=${table.columns[n]} /></span> <span>${text}</span></td>`; })}</tr>`)}</tbody>
  </table>`;
}

function Steps({ steps }) {
  return html`${steps.title && html`<h4>${steps.title}</h4>`}
  <ol class="steps">${steps.steps.map((step, n) => html`<li data-step=${step.label || n + 1} class=${step.gate ? "gate" : ""}>
    <strong>${step.text}</strong>${step.gate && html` <em>gate: pass it before you go on</em>`}
    ${step.detail && html`<p>${step.detail}</p>`}
    ${step.readings.length > 0 && html`<dl>${step.readings.map(([what, expect]) => html`<dt>${what}</dt><dd>${expect}</dd>`)}</dl>`}
    ${step.cautions.map(item => html`<${Caution} item=${item} />`)}
  </li>`)}</ol>`;
}
