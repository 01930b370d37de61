// What the modeller measured or knows better: first the readings that narrow the answers most, then any other number.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { isFresh } from "../answers.js";
import { Choice, Typed } from "../fields.js";
import { asMeasured, BOXES, columnWords, ownRows, withHabit, withMeasured, without, withValue } from "./own-rows.js";
import { Svg } from "../bench/svg.js";
import { askAfter } from "../talk.js";

export function Own({ desk, state }) {
  const rows = ownRows(state.plan), [open, setOpen] = useState(false);
  return html`<details class="own" onToggle=${event => setOpen(event.target.open)}><summary>Your own numbers: ${rows.length ? `${rows.length} of them` : "none yet, all are guesses"}</summary>
    ${open && html`<${Inside} desk=${desk} state=${state} rows=${rows} />`}</details>`;
}

function Inside({ desk, state, rows }) {
  const [known, setKnown] = useState(null), fresh = isFresh(state);
  useEffect(() => {
    if (!fresh) return undefined;
    let wanted = true;
    askAfter(`${desk.path}/own`).then(body => wanted && body && setKnown(body), () => {});
    return () => { wanted = false; };
  }, [fresh, state.revision]);
  const put = (values, what) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: values(now) }], what);
  return html`${rows.length > 0 && html`<figure class="table"><figcaption>What you know better</figcaption><div class="scroll"><table>
      <thead><tr><th scope="col">What</th><th scope="col" class="right">Is</th><th scope="col">How</th><th scope="col"><span class="unseen">Take out</span></th></tr></thead>
      <tbody>${rows.map(row => html`<tr><th scope="row">${row.what}</th><td class="right">${row.value}</td><td>${row.list === "measured" && known?.measured[row.n] ? known.measured[row.n].comes.join("; ") : row.how}</td>
        <td><button class="plain small" aria-label=${`Take out: ${row.what}`} onClick=${() => put(now => without(now, row.list, row.n), `${row.what}: guessed again`)}>take out</button></td></tr>`)}</tbody></table></div></figure>`}
    ${known ? html`<${Best} known=${known} put=${put} /><${Methods} known=${known} put=${put} /><${Other} known=${known} put=${put} /><${Habits} known=${known} put=${put} />`
      : html`<p class="quiet" role="status">Being worked out: what to measure first.</p>`}`;
}

function Best({ known, put }) {
  if (!known.readings.length) return html`<p class="quiet">No guess is left that would change an answer.</p>`;
  return html`<h3>Measure first</h3><p>${known.first}</p><p class="quiet">The uppermost may be expected to settle most. A phone that measures lux will do; work in the dark, with the same phone at the same place. What your readings come to stands above once they are in, and all is worked out anew.</p>
    ${known.readings.map(row => html`<${Reading} key=${`${row.table} ${row.row} ${row.column}`} row=${row} known=${known} put=${put} />`)}
    ${known.asked.length > 1 && html`<h4>For each question</h4><dl>${known.asked.map(one => html`<dt class="quiet">${one.question}</dt><dd>${one.what}</dd>`)}</dl>`}`;
}

function Reading({ row, known, put }) {
  const method = known.methods.find(one => one.what === row.method);
  const now = `Believed today: ${row.now[0] === row.now[1] ? said(row.now[0]) : `${said(row.now[0])} to ${said(row.now[1])}`}${row.unit ? ` ${row.unit}` : ""}.`;
  return html`<details class="reading"><summary><strong>${row.what}</strong> <small>${row.open ? `settles ${row.settles} of ${row.open} open` : `narrows by ${row.stops} stops`}${row.at_once ? "" : ", once it is lit"}</small></summary>
    <${Bench} method=${method} of=${method.of.includes(row.of) ? row.of : null} now=${now} usual=${row.usual} put=${put} /></details>`;
}

// Boxes for one bench method: what the meter showed, several readings side by side, and what its law needs besides.
function Bench({ method, of = null, now = "", usual = {}, drawn = {}, put }) {
  const [typed, setTyped] = useState({ of: of || method.of[0], led: method.leds[0], state: method.states[0], ...usual }), entry = asMeasured(method, typed);
  const set = key => value => setTyped({ ...typed, [key]: value });
  return html`<div class="form"><p>${method.how} <small>${method.error}. ${now}</small></p>
    ${drawn[typed.of] && method.what === "led voltage" && html`<${Svg} svg=${drawn[typed.of]} label=${`The meter at the four readings of ${typed.of}`} />`}
    ${of === null && html`<${Choice} label="Of" value=${typed.of} choices=${method.of} onValue=${set("of")} />`}
    ${method.leds.length > 0 && html`<${Choice} label="The LED that lit it" value=${typed.led} choices=${method.leds} onValue=${set("led")} />`}
    ${method.states.length > 0 && html`<${Choice} label="In the state" value=${typed.state} choices=${method.states} onValue=${set("state")} />`}
    ${method.lists.map(([key, label]) => html`<${Typed} key=${key} label=${label} value=${typed[key] ?? ""} says="several with commas between" onValue=${set(key)} />`)}
    ${[...method.needs, ...method.may].filter(key => key !== "led" && key !== "state").map(key => html`<${Typed} key=${key} label=${BOXES[key] || columnWords(key)} number value=${typed[key] ?? ""} onValue=${set(key)} />`)}
    <div class="tools"><button disabled=${!entry} onClick=${() => put(now => withMeasured(now, entry), `${method.what} of ${entry.of}: measured`)}>Reckon with it</button></div></div>`;
}

function Methods({ known, put }) {
  const [what, setWhat] = useState(known.methods[0].what), method = known.methods.find(one => one.what === what);
  return html`<details class="reading"><summary>Another measurement at the bench</summary>
    <div class="form"><${Choice} label="What you measured" value=${what} choices=${known.methods.map(one => one.what)} onValue=${setWhat} /></div>
    <${Bench} key=${what} method=${method} drawn=${known.drawn} put=${put} /></details>`;
}

const said = value => Number(value.toPrecision(3));

function Other({ known, put }) {
  const tables = Object.keys(known.tables), [pick, setPick] = useState({ table: tables[0], row: "", column: "", value: null, measured: true });
  const { rows, columns } = known.tables[pick.table], row = rows.includes(pick.row) ? pick.row : rows[0];
  const column = columns.find(one => one.key === pick.column) || columns[0];
  const span = column.low === null ? "" : `${column.low} to ${column.high}${column.unit ? ` ${column.unit}` : ""}`;
  const fits = pick.value !== null && (column.low === null || (pick.value >= column.low && pick.value <= column.high));
  return html`<details><summary>Another value of a part</summary><div class="form">
    <${Choice} label="Of the drawer's" value=${pick.table} choices=${tables} onValue=${table => setPick({ ...pick, table, value: null })} />
    <${Choice} label="Part" value=${row} choices=${rows} onValue=${word => setPick({ ...pick, row: word })} />
    <${Choice} label="Which number" value=${column.key} choices=${columns.map(one => [one.key, columnWords(one.key)])} onValue=${word => setPick({ ...pick, column: word, value: null })} />
    <${Typed} label="It is" number value=${pick.value ?? ""} says=${span} onValue=${value => setPick({ ...pick, value })} />
    ${pick.value !== null && !fits && html`<p class="wrong" role="alert">It must be from ${span}.</p>`}
    <label class="tick"><input type="checkbox" checked=${pick.measured} onChange=${event => setPick({ ...pick, measured: event.target.checked })} /> I measured it: it has no range any more</label>
    <div class="tools"><button disabled=${!fits} onClick=${() => put(now => withValue(now, { table: pick.table, row, column: column.key }, pick.value, pick.measured), `${row}: ${columnWords(column.key)} of your own`)}>Reckon with it</button></div></div></details>`;
}

function Habits({ known, put }) {
  const [pick, setPick] = useState({ key: known.habits[0].key, value: null, to: null }), habit = known.habits.find(row => row.key === pick.key), span = habit.low !== null && habit.high !== null;
  const whole = pick.value !== null && (!span || (pick.to !== null && pick.to >= pick.value));
  return html`<details><summary>A habit of your own</summary><div class="form">
    <${Choice} label="Habit" value=${habit.key} choices=${known.habits.map(row => [row.key, row.says || row.key.replaceAll("_", " ")])} onValue=${key => setPick({ key, value: null, to: null })} />
    <p class="quiet">Usual: ${[habit.low, habit.high].filter(value => value !== null).join(" to ")}.</p>
    <div class="pair"><${Typed} label=${span ? "From" : "Yours"} number value=${pick.value ?? ""} onValue=${value => setPick({ ...pick, value })} />${span && html`<${Typed} label="To" number value=${pick.to ?? ""} onValue=${to => setPick({ ...pick, to })} />`}</div>
    <div class="tools"><button disabled=${!whole} onClick=${() => put(now => withHabit(now, habit.key, pick.value, span ? pick.to : null), `habit ${habit.key.replaceAll("_", " ")} of your own`)}>Reckon with it</button></div></div></details>`;
}
