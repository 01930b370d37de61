// The states as a row of words, or the positions of the switch that bring them up; and pictures of them to keep.
import { html } from "../vendor/preact-htm.js";
import { isFresh } from "./answers.js";
import { stepRadio } from "./keys.js";
import { fileNames, zipped } from "./zip.js";

// Positions of the switch, each with the state that it brings up; null where there is no switch, or it is not known yet.
export function positionsOf(state) {
  const made = isFresh(state) && state.answer.power.switch;
  if (!made || !made.part_row || !made.positions.length) return null;
  let number = 0;
  return made.positions.map(name => name === "off" && !state.plan.states.some(row => row.name === name) ? { word: "off", state: null } : { word: `${number += 1}`, state: name });
}

export function StatesRow({ desk, state }) {
  const positions = positionsOf(state), bySwitch = state.bySwitch && positions;
  const rows = bySwitch ? positions.map(row => ({ key: row.state, word: row.word, small: row.state })) : state.plan.states.map(row => ({ key: row.name, word: row.name }));
  const on = key => key === null ? state.switchedOff : !state.switchedOff && state.state === key, some = rows.some(row => on(row.key));
  return html`<div class="states" role="radiogroup" aria-label=${bySwitch ? "Position of the switch" : "State shown"} onKeyDown=${stepRadio}>
      ${rows.map((row, n) => html`<button key=${row.key} role="radio" aria-checked=${on(row.key)} tabindex=${on(row.key) || (!some && n === 0) ? 0 : -1} class=${on(row.key) ? "state on" : "state"}
        onClick=${() => desk.set(row.key === null ? { switchedOff: true } : { state: row.key, switchedOff: false })}>${row.word}${row.small && html` <small>${row.small}</small>`}</button>`)}</div>
    ${positions && html`<button class="plain" aria-pressed=${state.bySwitch} title=${state.answer.power.switch.name} onClick=${() => desk.set({ bySwitch: !state.bySwitch, switchedOff: false })}>${state.bySwitch ? "By state" : "By switch"}</button>`}`;
}

const saved = (blob, name) => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
};

// `shownOf` says what the sheet shows of a state of the desk.
export function SavePictures({ desk, state, sheet, shownOf }) {
  const title = state.plan.subject.title, fresh = isFresh(state);
  const one = async () => { await sheet.ready(); saved(await sheet.picture(), `${fileNames([`${title} ${state.state}`])[0]}.png`); };
  const all = async () => {
    await sheet.ready();
    const names = fileNames(state.plan.states.map(row => `${title} ${row.name}`)), files = [];
    for (const [n, row] of state.plan.states.entries()) {
      desk.set({ savingPictures: `${n + 1} of ${names.length}` });
      sheet.show(shownOf({ ...desk.state, state: row.name, switchedOff: false, chosen: [], note: null }));
      sheet.paint();
      files.push({ name: `${names[n]}.png`, bytes: new Uint8Array(await (await sheet.picture()).arrayBuffer()) });
    }
    sheet.show(shownOf(desk.state));
    saved(new Blob(zipped(files), { type: "application/zip" }), `${fileNames([`${title} all states`])[0]}.zip`);
    desk.set({ savingPictures: "" });
  };
  return html`<span class="saves"><button class="plain" onClick=${one}>Save this picture</button>${state.plan.states.length > 1 && html`<button class="plain" disabled=${!fresh || Boolean(state.savingPictures)} title=${fresh ? "One picture of each state, at this view and this room light, in one file" : "When it is worked out"} onClick=${all}>${state.savingPictures ? `Saving ${state.savingPictures} ...` : "Save one of each state"}</button>`}</span>`;
}
