// The grid of lamps by states: ticks for cells, whole rows and whole columns; arrow keys go from cell to cell.
import { html, useEffect, useLayoutEffect, useMemo, useRef, useState } from "../vendor/preact-htm.js";
import { Filters } from "./filters.js";
import { sameBelow, ticked } from "./items.js";
import { shareOf, tickAll } from "./many.js";
import { cellAfter, factsOf, picked, windowOf } from "./pick.js";
import { useSight } from "./roll.js";

const ROW_PX = 36;

export function Grid({ desk, state }) {
  const facts = useMemo(() => factsOf(state.plan, state.look), [state.plan, state.look]);
  const shown = useMemo(() => picked(facts, state.filter), [facts, state.filter]);
  return html`<${Filters} desk=${desk} state=${state} facts=${facts} shown=${shown} />
    <figure class="table"><figcaption>Which lamps are lit in which state</figcaption>
    ${shown.length === 0 ? html`<p class="quiet">${facts.length ? "No lamp answers to these filters." : "No lamps yet; place some first."}</p>` : html`<${Cells} desk=${desk} plan=${state.plan} rows=${shown} />`}
    <p class="quiet">Arrow keys go from cell to cell, Space ticks. The first row ticks a whole column of what is listed, the first column a whole row.</p></figure>`;
}

function Cells({ desk, plan, rows }) {
  const order = plan.states.map(row => row.name), keys = rows.map(row => row.key), body = useRef(null), table = useRef(null);
  const [cell, setCell] = useState([1, 1]), wanted = useRef(null), sight = useSight(body, rows.length);
  const seen = windowOf({ count: rows.length, height: ROW_PX, ...sight }), columns = order.length + 2;
  const at = [Math.min(cell[0], rows.length), Math.min(cell[1], columns - 1)];
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
    if (to[0] > 0 && (to[0] - 1 < seen.first || to[0] > seen.last)) table.current.parentElement.scrollTop = Math.max(0, (to[0] - 6) * ROW_PX);
    if (table.current.querySelector(`[data-cell="${to.join(" ")}"]`)) focus();
  };
  const many = (which, name, on) => desk.change(tickAll(plan, which, "states", name, on, order), `${which.length} of the lamps ${on ? "lit" : "dark"} when ${name}`);
  const whole = (row, on) => desk.change([{ action: "set", kind: row.kind, name: row.item.name, values: { states: on ? order : [] } }], `${row.item.name} ${on ? "lit in every state" : "always dark"}`);
  const box = (row, column, props) => html`<${Box} row=${row} column=${column} stop=${at[0] === row && at[1] === column} onFocus=${() => setCell([row, column])} ...${props} />`;
  return html`<div class="scroll grid"><table role="grid" aria-label="Lamps by states" aria-rowcount=${rows.length + 1} ref=${table} onKeyDown=${keyed}>
    <thead><tr aria-rowindex="1"><th scope="col">Lamp</th><th scope="col" class="slant"><span>every state</span></th>
      ${order.map((name, n) => html`<th scope="col" class="slant"><span>${name}</span>${box(0, n + 1, { share: shareOf(rows.map(row => row.item), "states", name), label: `all ${rows.length} listed lit when ${name}`, onValue: on => many(keys, name, on) })}</th>`)}
      <th scope="col"><span class="unseen">Copy down</span></th></tr></thead>
    <tbody ref=${body}>
      ${seen.before > 0 && html`<tr class="gap" aria-hidden="true"><td colspan=${columns + 1} style=${{ height: `${seen.before}px` }}></td></tr>`}
      ${rows.slice(seen.first, seen.last).map((row, index) => {
        const n = seen.first + index, { item, kind } = row, share = order.every(name => item.states.includes(name)) ? "all" : item.states.length ? "some" : "none";
        return html`<tr key=${row.key} aria-rowindex=${n + 2}><th scope="row" title=${item.name}>${item.name}</th>
          <td>${box(n + 1, 0, { share, label: `${item.name} lit in every state`, onValue: on => whole(row, on) })}</td>
          ${order.map((name, m) => html`<td>${box(n + 1, m + 1, { share: item.states.includes(name) ? "all" : "none", label: `${item.name} lit when ${name}`,
            onValue: on => desk.change([ticked(item, kind, name, on, order)], `${item.name} ${on ? "lit" : "dark"} when ${name}`) })}</td>`)}
          <td>${n < rows.length - 1 && html`<button class="plain small" data-cell=${`${n + 1} ${columns - 1}`} tabindex=${at[0] === n + 1 && at[1] === columns - 1 ? 0 : -1} onFocus=${() => setCell([n + 1, columns - 1])} title="The same states for all rows below"
            aria-label=${`same below: the states of ${item.name} for the rows below`} onClick=${() => desk.change(sameBelow(rows, n, order), `states of ${item.name} for the rows below`)}>same below</button>`}</td></tr>`;
      })}
      ${seen.after > 0 && html`<tr class="gap" aria-hidden="true"><td colspan=${columns + 1} style=${{ height: `${seen.after}px` }}></td></tr>`}
    </tbody></table></div>`;
}

function Box({ row, column, share, label, stop, onValue, onFocus }) {
  const box = useRef(null);
  useEffect(() => { box.current.indeterminate = share === "some"; });
  return html`<label class="cell"><input type="checkbox" ref=${box} data-cell=${`${row} ${column}`} tabindex=${stop ? 0 : -1} checked=${share === "all"} aria-label=${label} onFocus=${onFocus} onChange=${event => onValue(event.target.checked)} /></label>`;
}
