// The grid of lamps by states: ticks for cells, whole rows and whole columns; arrow keys go from cell to cell.
// As many states stand side by side as there is room for; the others are turned to, so that nothing scrolls aside.
import { html, useEffect, useLayoutEffect, useMemo, useRef, useState } from "../vendor/preact-htm.js";
import { Choice } from "./fields.js";
import { Filters } from "./filters.js";
import { sameBelow, ticked } from "./items.js";
import { shareOf, tickAll } from "./many.js";
import { cellAfter, columnPages, factsOf, picked, windowOf } from "./pick.js";
import { useSight } from "./roll.js";
import { NARROW } from "./view.js";

const FINGERS = matchMedia(`(pointer: coarse), ${NARROW}`); // as in the style: what a finger has to hit is larger there
const rowPx = () => FINGERS.matches ? 44 : 36;
const BROAD_PX = 480, COLUMNS_PX = { little: { name: 84, state: 56, other: 50 }, broad: { name: 128, state: 58, other: 52 } };

export function Grid({ desk, state }) {
  const facts = useMemo(() => factsOf(state.plan, state.look), [state.plan, state.look]);
  const shown = useMemo(() => picked(facts, state.filter), [facts, state.filter]);
  return html`<${Filters} desk=${desk} state=${state} facts=${facts} shown=${shown} />
    <figure class="table"><figcaption>Which lamps are lit in which state</figcaption>
    ${shown.length === 0 ? html`<p class="quiet">${facts.length ? "No lamp answers to these filters." : "No lamps yet; place some first."}</p>` : html`<${Cells} desk=${desk} plan=${state.plan} rows=${shown} showing=${state.state} />`}
    <p class="quiet">Arrow keys go from cell to cell, Space ticks. The first row ticks a whole column of what is listed, the first column a whole row.</p></figure>`;
}

// The pages of states for the width that there is; `page` is the one shown, at first with the state on the sheet.
function usePages(box, names, showing) {
  const [wide, setWide] = useState(0), [page, setPage] = useState(null), px = COLUMNS_PX[wide < BROAD_PX ? "little" : "broad"];
  useLayoutEffect(() => {
    const look = () => setWide(box.current.clientWidth), watch = new ResizeObserver(look);
    look();
    watch.observe(box.current);
    return () => watch.disconnect();
  }, []);
  const pages = columnPages(names.length, Math.floor((wide - px.name - 2 * px.other) / px.state)), of = column => pages.findIndex(([first, last]) => column >= first && column < last);
  const at = Math.max(0, Math.min(page ?? of(names.indexOf(showing)), pages.length - 1));
  return { pages, px, page: at, first: pages[at][0], last: pages[at][1], turn: setPage, turnTo: column => setPage(of(column)) };
}

function Cells({ desk, plan, rows, showing }) {
  const order = plan.states.map(row => row.name), keys = rows.map(row => row.key), body = useRef(null), table = useRef(null), frame = useRef(null);
  const [cell, setCell] = useState([1, 1]), wanted = useRef(null), sight = useSight(body, rows.length), paged = usePages(frame, order, showing);
  const seen = windowOf({ count: rows.length, height: rowPx(), ...sight }), columns = order.length + 2;
  const hidden = column => column > 0 && column < columns - 1 && (column <= paged.first || column > paged.last);
  const at = [Math.min(cell[0], rows.length), hidden(cell[1]) ? paged.first + 1 : Math.min(cell[1], columns - 1)];
  useLayoutEffect(() => { if (wanted.current) focus(); });
  const focus = () => {
    const box = table.current.querySelector(`[data-cell="${wanted.current.join(" ")}"]`);
    if (box) { wanted.current = null; box.focus(); }
  };
  const keyed = event => {
    const from = event.target.dataset.cell, to = from && cellAfter(from.split(" ").map(Number), event.key, rows.length + 1, columns);
    if (!to) return;
    event.preventDefault();
    event.stopPropagation();
    wanted.current = to;
    setCell(to);
    if (hidden(to[1])) paged.turnTo(to[1] - 1);
    if (to[0] > 0 && (to[0] - 1 < seen.first || to[0] > seen.last)) frame.current.scrollTop = Math.max(0, (to[0] - 6) * rowPx());
    if (table.current.querySelector(`[data-cell="${to.join(" ")}"]`)) focus();
  };
  const many = (which, name, on) => desk.change(tickAll(plan, which, "states", name, on, order), `${which.length} of the lamps ${on ? "lit" : "dark"} when ${name}`);
  const whole = (row, on) => desk.change([{ action: "set", kind: row.kind, name: row.item.name, values: { states: on ? order : [] } }], `${row.item.name} ${on ? "lit in every state" : "always dark"}`);
  const box = (row, column, props) => html`<${Box} row=${row} column=${column} stop=${at[0] === row && at[1] === column} onFocus=${() => setCell([row, column])} ...${props} />`;
  const side = order.slice(paged.first, paged.last).map((name, n) => ({ name, n: paged.first + n }));
  return html`${paged.pages.length > 1 && html`<${Pages} paged=${paged} order=${order} />`}
    <div class="scroll grid" ref=${frame}><table role="grid" aria-label="Lamps by states" aria-rowcount=${rows.length + 1} aria-colcount=${columns + 1} ref=${table} onKeyDown=${keyed}>
    <colgroup><col /><col style=${{ width: `${paged.px.other}px` }} />${side.map(() => html`<col style=${{ width: `${paged.px.state}px` }} />`)}<col style=${{ width: `${paged.px.other}px` }} /></colgroup>
    <thead><tr aria-rowindex="1"><th scope="col" aria-colindex="1">Lamp</th><th scope="col" aria-colindex="2" class="slant"><span>every state</span></th>
      ${side.map(({ name, n }) => html`<th scope="col" key=${name} aria-colindex=${n + 3} class="slant"><span>${name}</span>${box(0, n + 1, { share: shareOf(rows.map(row => row.item), "states", name), label: `all ${rows.length} listed lit when ${name}`, onValue: on => many(keys, name, on) })}</th>`)}
      <th scope="col" aria-colindex=${columns + 1}><span class="unseen">Copy down</span></th></tr></thead>
    <tbody ref=${body}>
      ${seen.before > 0 && html`<tr class="gap" aria-hidden="true"><td colspan=${side.length + 3} style=${{ height: `${seen.before}px` }}></td></tr>`}
      ${rows.slice(seen.first, seen.last).map((row, index) => {
        const n = seen.first + index, { item, kind } = row, share = order.every(name => item.states.includes(name)) ? "all" : item.states.length ? "some" : "none";
        return html`<tr key=${row.key} aria-rowindex=${n + 2}><th scope="row" aria-colindex="1" title=${item.name}><span>${item.name}</span></th>
          <td aria-colindex="2">${box(n + 1, 0, { share, label: `${item.name} lit in every state`, onValue: on => whole(row, on) })}</td>
          ${side.map(({ name, n: m }) => html`<td key=${name} aria-colindex=${m + 3}>${box(n + 1, m + 1, { share: item.states.includes(name) ? "all" : "none", label: `${item.name} lit when ${name}`,
            onValue: on => desk.change([ticked(item, kind, name, on, order)], `${item.name} ${on ? "lit" : "dark"} when ${name}`) })}</td>`)}
          <td aria-colindex=${columns + 1}>${n < rows.length - 1 && html`<button class="plain small" data-cell=${`${n + 1} ${columns - 1}`} tabindex=${at[0] === n + 1 && at[1] === columns - 1 ? 0 : -1} onFocus=${() => setCell([n + 1, columns - 1])} title="The same states for all rows below"
            aria-label=${`same below: the states of ${item.name} for the rows below`} onClick=${() => desk.change(sameBelow(rows, n, order), `states of ${item.name} for the rows below`)}>same below</button>`}</td></tr>`;
      })}
      ${seen.after > 0 && html`<tr class="gap" aria-hidden="true"><td colspan=${side.length + 3} style=${{ height: `${seen.after}px` }}></td></tr>`}
    </tbody></table></div>`;
}

// Which states stand side by side: by their names, or one page on or back.
function Pages({ paged, order }) {
  const words = paged.pages.map(([first, last], n) => [String(n), `${first + 1}${last - first > 1 ? ` to ${last}` : ""} of ${order.length}: ${order.slice(first, last).join(", ")}`]);
  return html`<div class="pages"><button aria-label="The states before these" disabled=${paged.page === 0} onClick=${() => paged.turn(paged.page - 1)}>Back</button>
    <${Choice} label="States side by side" value=${String(paged.page)} choices=${words} onValue=${word => paged.turn(Number(word))} />
    <button aria-label="The states after these" disabled=${paged.page === paged.pages.length - 1} onClick=${() => paged.turn(paged.page + 1)}>On</button></div>`;
}

function Box({ row, column, share, label, stop, onValue, onFocus }) {
  const box = useRef(null);
  useEffect(() => { box.current.indeterminate = share === "some"; });
  return html`<label class="cell"><input type="checkbox" ref=${box} data-cell=${`${row} ${column}`} tabindex=${stop ? 0 : -1} checked=${share === "all"} aria-label=${label} onFocus=${onFocus} onChange=${event => onValue(event.target.checked)} /></label>`;
}
