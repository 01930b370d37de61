// What feeds the lamps, what makes each rhythm, and the small board that may do it.
import { html, useState } from "../../vendor/preact-htm.js";
import { Choice, Typed } from "../fields.js";
import { KeysForm } from "../keys-form.js";
import { Bands } from "../bench/bands.js";
import { OtherSupplies } from "./supplies.js";
import { boardRows, drivenRhythms, eveningOf, handRows, MAKERS, madeBy, regulatorRows, ohmList, seriesRows, supplyRows, typedOhms, withMaker, withPieces, withRegulator, withSeries, withValues } from "./feed-rows.js";

export function Feed({ desk, state }) {
  return html`<details class="feed"><summary>${summaryOf(state.plan)}</summary>
    <${Supply} desk=${desk} state=${state} /><${Series} desk=${desk} state=${state} /><${Regulators} desk=${desk} state=${state} /><${AtHand} desk=${desk} state=${state} /><${Evening} desk=${desk} state=${state} /><${Rhythms} desk=${desk} state=${state} /><${Board} desk=${desk} state=${state} /></details><${OtherSupplies} desk=${desk} state=${state} />`;
}

function summaryOf({ supply }) {
  if (!supply) return "What feeds it: nothing yet";
  return `What feeds it: ${supply.kind === "cells" ? `${supply.in_series} x ${supply.cell}` : supply.kind === "adapter" ? `an adapter of ${supply.adapter_v} V` : supply.kind}`;
}

function Supply({ desk, state }) {
  const { plan, words } = state, [kind, setKind] = useState("cells");
  const kinds = words.keys.supply.find(row => row.key === "kind").choices;
  const set = (row, value) => desk.change([{ action: "set", kind: "supply", name: "", values: { [row.key]: value } }], "supply changed");
  if (!plan.supply) {
    return html`<div class="form"><${Choice} label="It is fed by" value=${kind} choices=${kinds} onValue=${setKind} />
      <div class="tools"><button onClick=${() => desk.change([{ action: "set", kind: "supply", name: "", values: { kind } }], "supply chosen")}>Take it as the supply</button></div></div>`;
  }
  return html`<${KeysForm} rows=${supplyRows(words.keys.supply, plan)} item=${plan.supply} unit=${state.unit} words=${words} onValue=${set} />
    <p class="quiet">24 V at most, from cells or a finished unit. Nothing here is ever wired to the mains.</p>`;
}

// The evening in its order; each stretch is one state for a while.
function Evening({ desk, state }) {
  const { plan } = state, stretches = eveningOf(plan), names = plan.states.map(row => row.name);
  const put = (made, what) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: { evening: made(eveningOf(now)) } }], what);
  return html`<fieldset class="form"><legend><h3>An evening</h3></legend><p class="quiet">${stretches.length ? "What is shown, in its order; the sheets below tell what that does to the supply and the lamps." : "Say what you will show and for how long, and the design tells what that does to the supply and the lamps."}</p>
    ${stretches.map((row, n) => html`<div class="pair stretch" key=${n}><${Choice} label=${`Stretch ${n + 1}`} value=${row.state} choices=${names} onValue=${word => put(held => held.map((one, m) => m === n ? { ...one, state: word } : one), "evening changed")} />
      <${Typed} label="Minutes" number value=${row.minutes} onValue=${minutes => minutes > 0 && put(held => held.map((one, m) => m === n ? { ...one, minutes } : one), "evening changed")} />
      <button class="plain small" aria-label=${`Take out stretch ${n + 1}`} onClick=${() => put(held => held.filter((_, m) => m !== n), "stretch taken out of the evening")}>take out</button></div>`)}
    <div class="tools"><button onClick=${() => put(held => [...held, { state: names[held.length % names.length], minutes: 30 }], "stretch put into the evening")}>Another stretch</button></div></fieldset>`;
}

// What each length of string takes and risks stands in the table below, on the sheet of resistors.
function Series({ desk, state }) {
  const rows = state.answer ? seriesRows(state.answer.power.series, state.plan) : [];
  const put = (circuit, most) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: { pinned: withSeries(now.pinned, circuit, most) } }], `LEDs of circuit ${circuit} in series`);
  return rows.length > 0 && html`<fieldset class="form"><legend><h3>LEDs in series</h3></legend>
    <p class="quiet">One resistor or regulator for several LEDs spares the cells; one fault then darkens them all. Where it clearly pays and may be risked they are put in series; what you choose here overrules that. The sheet of resistors has what each choice takes.</p>
    ${rows.map(row => html`<${Choice} key=${row.circuit} label=${`Circuit ${row.circuit}`} value=${row.value} choices=${row.choices} onValue=${most => put(row.circuit, most)} />
      <p class="quiet">By the rule, ${row.why}</p>`)}</fieldset>`;
}

function Regulators({ desk, state }) {
  const rows = state.answer ? regulatorRows(state.answer.power, state.plan) : [];
  const put = (circuit, name) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: { pinned: withRegulator(now.pinned, circuit, name) } }], `what sets the current in circuit ${circuit}`);
  return rows.length > 0 && html`<fieldset class="form"><legend><h3>What sets the current</h3></legend>
    <p class="quiet">A resistor lets the light fade as cells run down. A constant-current regulator, one small part with two leads, holds it until they leave it too little; it gets warmer and has a way round.</p>
    ${rows.map(row => html`<${Choice} key=${row.circuit} label=${`Current in circuit ${row.circuit}`} value=${row.value} choices=${row.choices} onValue=${name => put(row.circuit, name)} />
      <p class="quiet">${row.says}</p>`)}</fieldset>`;
}

// Switches, regulators and assortments of resistors that lie in the modeller's own drawer.
function AtHand({ desk, state }) {
  if (!state.answer) return null;
  const { rows, more } = handRows(state.answer.power, state.plan), [wrong, setWrong] = useState("");
  const hold = (row, text) => {
    const { values, wrong: said } = typedOhms(text);
    setWrong(said || "");
    if (!said) desk.change(now => [{ action: "set", kind: "plan", name: "", values: { at_hand: withValues(now.at_hand, row, values) } }], "resistors that you have");
  };
  const single = rows.find(row => row.table === "resistors" && !row.row);
  const put = (table, row, count, what) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: { at_hand: withPieces(now.at_hand, table, row, count) } }], what);
  return html`<fieldset class="form"><legend><h3>Switches, regulators and resistors that you have</h3></legend>
    <p class="quiet">Name what lies in your own drawer, and the design chooses among that. Of a kind that you leave out, anything on sale may be taken; of resistors those of E24. An assortment counts as having every value of its series, unless you list the values that you have. The notes say what to buy, or which state to leave out, where it does not do.</p>
    ${rows.filter(row => row.row).map(row => html`<div class="pair stretch" key=${`${row.table}:${row.row}`}>${row.table === "resistors" ? html`<${Typed} label=${`${row.row}: only these values, ohm`} value=${ohmList(row.values_ohm)} placeholder="every value of its series" onValue=${text => hold(row.row, text)} />` : html`<${Typed} label=${`Pieces: ${row.row}`} number value=${row.count} onValue=${count => count >= 1 && put(row.table, row.row, Math.round(count), `pieces of ${row.row}`)} />`}
      <button class="plain small" aria-label=${`Take out ${row.row}`} onClick=${() => put(row.table, row.row, 0, `${row.row} no longer at hand`)}>take out</button></div>`)}
    <${Choice} label="Another one that you have" value="" choices=${[["", "choose"], ...more]} onValue=${word => { const at = word.indexOf(":"); if (at > 0) put(word.slice(0, at), word.slice(at + 1), 1, `${word.slice(at + 1)} at hand`); }} />
    <${Typed} label="Single resistors of 0.25 W that you have, ohm" value=${ohmList(single?.values_ohm)} placeholder="100, 470, 4k7" onValue=${text => hold("", text)} />
    ${wrong && html`<p class="caution" role="alert">${wrong}</p>`}
    <details><summary>Read a resistor by its bands</summary><${Bands} code=${state.answer.power.bands} /></details></fieldset>`;
}

function Rhythms({ desk, state }) {
  const { plan } = state, rhythms = drivenRhythms(plan);
  const put = (rhythm, values) => desk.change(now => [{ action: "set", kind: "plan", name: "", values: { rhythms: withMaker(now.rhythms, rhythm, values) } }], `what makes ${rhythm}`);
  if (!rhythms.length) return html`<p class="quiet">No lamp has a rhythm; nothing has to make one.</p>`;
  return html`<fieldset class="form"><legend><h3>What makes the rhythms</h3></legend>${rhythms.map(rhythm => {
    const maker = madeBy(plan, rhythm);
    return html`<div class="pair" key=${rhythm}><${Choice} label=${rhythm} value=${maker ? maker.by : MAKERS[0][0]} choices=${MAKERS} onValue=${by => put(rhythm, by === MAKERS[0][0] ? null : { by })} />
      ${maker && html`<${Typed} label="Circuits stray by, %" number value=${Math.round(maker.drift_share * 1e4) / 100} onValue=${share => put(rhythm, { drift_share: (share || 0) / 100 })} />`}</div>`;
  })}</fieldset>`;
}

function Board({ desk, state }) {
  const { plan, words } = state, board = plan.controller, wanted = (plan.rhythms || []).some(row => row.by === "controller");
  const set = values => desk.change([{ action: "set", kind: "controller", name: "", values }], "controller changed");
  if (!wanted && !board) {
    return html`<fieldset class="form"><legend><h3>A controller</h3></legend><p class="quiet">A small board can bring up the states in place of a switch, at each press of a button: it needs a driver for each circuit, no poles and no steering diodes, and takes current by itself.</p>
      <div class="tools"><button onClick=${() => set({ states_by: "button" })}>Let a controller step the states</button></div></fieldset>`;
  }
  if (!board) {
    return html`<fieldset class="form"><legend><h3>The controller</h3></legend><p class="quiet">A usual small board for 2.5 to 5.5 V is assumed.</p>
      <div class="tools"><button onClick=${() => set({ idle_ma: words.keys.controller.find(row => row.key === "idle_ma").usual })}>Say what yours is</button></div></fieldset>`;
  }
  return html`<fieldset class="form"><legend><h3>The controller</h3></legend>
    <${Typed} label="Its pins, one for each circuit" value=${board.pins.join(", ")} says="As its maker numbers them, parted by commas." onValue=${text => { const pins = pinsOf(text); if (pins) set({ pins }); }} />
    <${KeysForm} rows=${boardRows(words.keys.controller, board)} item=${board} unit=${state.unit} words=${words} onValue=${(row, value) => set({ [row.key]: value })} /></fieldset>`;
}

function pinsOf(text) {
  const pins = `${text ?? ""}`.split(/[,;\s]+/).filter(Boolean).map(Number);
  return pins.length && pins.every(pin => Number.isInteger(pin) && pin >= 0) ? pins : null;
}
