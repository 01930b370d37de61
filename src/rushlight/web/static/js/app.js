// The screens of one open plan.
import { html, useEffect, useLayoutEffect, useRef, useState } from "../vendor/preact-htm.js";
import { placeLamp } from "./lamps.js";
import { Leaf, LEAVES } from "./leaves.js";
import { round } from "./items.js";
import { factsOf, narrowed, picked } from "./pick.js";
import { Notes } from "./notes.js";
import { Later } from "./later.js";
import { LAMPS_SEEN_BELOW, plate, roomWords, termsWords } from "./room.js";
import { paceWords } from "./rhythm.js";
import { lengthWords } from "./ruler.js";
import { Sheet } from "./sheet.js";
import { SavePictures, StatesRow } from "./states-row.js";
import { DrawHand } from "./hand-draw.js";
import { ToolWords } from "./leaf-draw.js";
import { isFresh } from "./answers.js";
import { outsideWords } from "./trouble.js";
import { NARROW } from "./view.js";
import { Pictures } from "./pictures.js";

const BROAD = new Set(["references", "light", "loom", "power", "order", "bench", "subject"]);
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export function App({ desk }) {
  const [state, setState] = useState(desk.state), [sheet, setSheet] = useState(null), [hover, setHover] = useState(null);
  const narrow = useNarrow(), canvas = useRef(null), latest = useRef(state);
  latest.current = state;
  // At once: a plan that comes before the first picture on the screen would find nobody that listens.
  useLayoutEffect(() => { desk.listeners.add(setState); return () => desk.listeners.delete(setState); }, []);
  useLayoutEffect(() => {
    const made = new Sheet(canvas.current, hands(desk, latest, setHover, () => made));
    setSheet(made);
    window.rushlight = { desk, sheet: made };
    const keys = event => keyed(event, desk, made);
    window.addEventListener("keydown", keys);
    return () => window.removeEventListener("keydown", keys);
  }, []);
  // In place before the next press: what comes after the next picture on the screen would let a quick hand act on an old plan.
  useLayoutEffect(() => { if (sheet && state.plan) sheet.show(shownOf(state)); });
  useLayoutEffect(() => state.leaf === "parts" && state.part && sheet ? sheet.hands.takeUp(new DrawHand(sheet, desk.drawing)) : undefined, [state.leaf, state.part, sheet]);
  useEffect(() => { if (sheet && state.plan) sheet.refit(); }, [state.leaf, narrow, sheet]);
  useLayoutEffect(() => { document.documentElement.dataset.plate = plate(state.light); }, [state.light]);
  useLayoutEffect(() => { document.documentElement.dataset.fresh = isFresh(state) && !state.saving ? "yes" : state.failed ? "failed" : "no"; });
  useEffect(() => { document.title = state.plan ? `${state.plan.subject.title} - rushlight` : "rushlight"; }, [state.plan]);
  return html`
    <a class="skip" href="#sheet">To the sheet</a>
    <div class=${`room${state.leaf ? " opened" : ""}${BROAD.has(state.leaf) ? " broad" : ""}`} inert=${Boolean(state.gauge)}>
      <main class="bare">
      <canvas id="sheet" ref=${canvas} tabindex="0" role="img" aria-label=${sheetWords(state)} aria-describedby="sheet-keys"></canvas>
      <p id="sheet-keys" class="unseen">Arrow keys move what is chosen by 1 mm, with Shift by 10, with Alt by 0.1. Delete removes it. The leaf Lamps holds the same lamps as a list.</p>
      ${hover && html`<div class="hover plate" style=${{ left: `${hover.at[0] + 14}px`, top: `${hover.at[1] + 16}px` }}>${hover.words}</div>`}
      </main>
      ${state.plan && state.leaf === "parts" && html`<${ToolWords} desk=${desk} state=${state} />`}
      ${state.plan && html`<${Head} desk=${desk} state=${state} sheet=${sheet} />`}
      <nav class="thumbs" aria-label="Leaves, in the order of the job">${LEAVES.map(([key, word]) => html`<button class=${state.leaf === key ? "thumb on" : "thumb"} aria-expanded=${state.leaf === key} aria-controls="leaf" onClick=${() => openLeaf(desk, state, key)}>${word}</button>`)}</nav>
      ${state.plan && state.leaf && html`<${Leaf} desk=${desk} state=${state} sheet=${sheet} />`}
      ${state.plan && html`<${Foot} desk=${desk} state=${state} sheet=${sheet} />`}
      ${state.plan && html`<${Notes} desk=${desk} state=${state} sheet=${sheet} narrow=${narrow} />`}
    </div>
    ${state.plan && html`<${Pictures} desk=${desk} state=${state} sheet=${sheet} />`}
    <${Words} desk=${desk} state=${state} />`;
}

function openLeaf(desk, state, key) {
  const leaf = state.leaf === key ? "" : key;
  desk.set({ leaf, loomShown: leaf === "loom" ? true : state.leaf === "loom" ? false : state.loomShown });
}

function useNarrow() {
  const [narrow, setNarrow] = useState(matchMedia(NARROW).matches);
  useEffect(() => {
    const query = matchMedia(NARROW), heard = () => setNarrow(query.matches);
    query.addEventListener("change", heard);
    return () => query.removeEventListener("change", heard);
  }, []);
  return narrow;
}

// What plates at the edges cover of the sheet.
function insets(state) {
  if (matchMedia(NARROW).matches) return { left: 8, right: 8, top: 12, bottom: 40, rule: 0 };
  const leaf = !state.leaf ? 0 : BROAD.has(state.leaf) ? Math.min(560, window.innerWidth * 0.46) : Math.min(440, window.innerWidth * 0.4);
  return { left: 104 + leaf, right: 312, top: 74, bottom: 108, rule: 54 };
}

function shownOf(state) {
  const only = state.only && narrowed(state.filter) ? new Set(picked(factsOf(state.plan, state.look), state.filter).map(fact => fact.key)) : null;
  const answer = state.answer;
  return {
    id: state.id, plan: state.plan, look: state.look, strength: state.strength, chosen: state.chosen, state: state.switchedOff ? null : state.state,
    light: state.light, unit: state.unit, part: state.part, only, playing: state.playing, fresh: isFresh(state),
    loom: state.loomShown && answer ? answer.loom : null, glow: answer && !state.switchedOff ? answer.glow[state.state] : null, seen: answer ? answer.picture : null,
    rhythms: answer ? answer.rhythms : {}, turned: state.turned, ...drawnOn(state),
    pools: answer && state.leaf === "light" && !state.switchedOff ? answer.pools.filter(pool => pool.states.includes(state.state)) : null,
  };
}

// While a part is drawn on, all of its picture is seen and what is known of its depth.
function drawnOn(state) {
  const part = state.leaf === "parts" && state.part ? state.plan.parts.find(row => row.name === state.part) : null;
  return { drawnOn: part || null, wholePictures: Boolean(part) };
}

function sheetWords(state) {
  if (!state.plan) return "The sheet, still empty";
  if (state.switchedOff) return `${state.part || "The whole model"}, ${roomWords(state.light)}: switched off`;
  const lit = state.look.lamps.filter(lamp => lamp.states.includes(state.state) && !lamp.dark).length;
  return `${state.part || "The whole model"}, ${roomWords(state.light)}: ${lit} of ${state.look.lamps.length} lamps lit when ${state.state}`;
}

function hands(desk, latest, setHover, sheet) {
  return {
    choose: (key, more) => desk.choose(key, more),
    dragged: (keys, by) => { desk.set({ chosen: keys }); desk.nudge(by[0], by[1]).then(() => sheet().settled()); },
    bent: (key, n, at) => {
      const item = desk.item(key), along_mm = item.along_mm.map((point, m) => m === n ? at : point);
      desk.edit(key, { along_mm }, `${item.name} laid anew`).then(() => sheet().settled());
    },
    framed: keys => desk.set({ chosen: keys }),
    place: where => placeLamp(desk, latest.current, where),
    hover: (lamp, at) => setHover(lamp ? { at, words: hoverWords(lamp, latest.current) } : null),
    insets: () => insets(latest.current),
    paced: pace => desk.set({ pace }),
    threads: () => [],
    moved: () => {},
  };
}

function hoverWords(lamp, state) {
  const place = lamp.at_mm.map(value => lengthWords(value, state.unit)).join(", ");
  return `${lamp.name} at ${place}; ${lamp.colour}${lamp.rhythm === "steady" ? "" : `, ${lamp.rhythm}`}${lamp.dark ? "; stays dark" : ""}`;
}

function keyed(event, desk, sheet) {
  if (event.target.closest("input, select, textarea") || desk.state.gauge) return;
  if (sheet.hands.key(event)) { event.preventDefault(); return; }
  const command = event.ctrlKey || event.metaKey, { chosen } = desk.state;
  const step = STEPS[event.key];
  const run = action => { event.preventDefault(); action(); };
  if (step && chosen.length && event.target.closest("#sheet, body") && !event.target.closest(".leaf, .margin, .foot, .thumbs")) {
    const far = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
    run(() => desk.nudge(round(step[0] * far), round(step[1] * far)));
  } else if (command && event.key.toLowerCase() === "z") run(() => event.shiftKey ? desk.redo() : desk.undo());
  else if (command && event.key.toLowerCase() === "y") run(() => desk.redo());
  else if (command && event.key.toLowerCase() === "d" && chosen.length) run(() => desk.duplicate());
  else if (command && event.key.toLowerCase() === "c" && chosen.length && !String(getSelection())) desk.copy();
  else if (command && event.key.toLowerCase() === "v" && desk.state.copied.length) run(() => desk.paste());
  else if ((event.key === "Delete" || event.key === "Backspace") && chosen.length) run(() => desk.remove());
  else if (event.key === "Escape") desk.set({ chosen: [], note: null });
  else if (command) return;
  else if (event.key === "+" || event.key === "=") sheet.zoom(1.25);
  else if (event.key === "-") sheet.zoom(0.8);
  else if (event.key === "0") sheet.fit(desk.state.part);
}

function Head({ desk, state, sheet }) {
  const { undo, redo } = state.steps;
  const saved = state.saving ? "saving ..." : state.saved ? `saved ${state.saved}` : "every edit is saved at once";
  return html`<header class="head">
    <h1 class="plate"><a href="/" title="All plans">${state.plan.subject.title}</a> <small>1:${state.plan.subject.scale}, ${state.part || "the whole model"}</small></h1>
    <p class="doing plate">
      <button class="plain" disabled=${!undo} onClick=${() => desk.undo()}>${undo ? html`Take back: ${undo}` : "Nothing to take back"}</button>
      ${redo && html`<button class="plain" onClick=${() => desk.redo()}>Do again: ${redo}</button>`}
      <span class="quiet" role="status">${saved}</span>
      <span class="zooms"><button class="plain" aria-label="Smaller" onClick=${() => sheet.zoom(0.8)}>−</button><button class="plain" onClick=${() => { desk.set({ part: null }); sheet.fit(null); }}>Whole</button><button class="plain" aria-label="Larger" onClick=${() => sheet.zoom(1.25)}>+</button></span>
    </p>
  </header>`;
}

function Foot({ desk, state, sheet }) {
  const rhythms = new Set(state.look.lamps.map(lamp => lamp.rhythm).filter(rhythm => rhythm !== "steady"));
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const slowed = state.answer && Object.values(state.answer.rhythms).some(rhythm => rhythm.slowed > 1);
  return html`<footer class="foot plate">
    <${StatesRow} desk=${desk} state=${state} />
    ${rhythms.size > 0 && html`<button class="plain" aria-pressed=${state.playing} title=${still ? "You asked your system for reduced motion; rhythms play only when you say so." : ""} onClick=${() => desk.set({ playing: !state.playing })}>${state.playing ? "Stop the rhythms" : "Play the rhythms"}${state.playing && slowed ? " (some slowed to be safe to look at)" : ""}</button>`}
    ${state.playing && state.pace < 1 && html`<p class="quiet" role="status">${paceWords(state.pace)}</p>`}
    <label class="roomlight"><span>Room light</span>
      <input type="range" min="0" max="1" step="0.01" value=${state.light} aria-valuetext=${roomWords(state.light)} onInput=${event => desk.set({ light: Number(event.target.value) })} />
      <span class="now">${roomWords(state.light)}</span></label>
    ${state.answer && state.light < LAMPS_SEEN_BELOW && html`<${Later} load=${() => import("./later/turn.js")} of="Turn" says="" desk=${desk} state=${state} />`}
    ${state.answer && state.light < LAMPS_SEEN_BELOW && matchMedia(NARROW).matches && html`<p class="quiet">${termsWords(state.answer.picture, state.light)}</p>`}
    <${SavePictures} desk=${desk} state=${state} sheet=${sheet} shownOf=${shownOf} />
  </footer>`;
}

// Words over the sheet: trouble, a clash, edits from outside that cannot be read, the server gone.
function Words({ desk, state }) {
  return html`<div class="over" role="alert">
    ${state.gone && html`<div class="plate word">${state.gone}</div>`}
    ${state.clash && html`<div class="plate word"><p><strong>Changed elsewhere meanwhile: ${state.clash.items.join(", ")}.</strong> Your edit (${state.clash.what}) was kept apart; nothing is lost.</p>
      <div class="tools"><button onClick=${() => desk.settle(true)}>Put mine on top</button><button onClick=${() => desk.settle(false)}>Keep theirs</button></div></div>`}
    ${state.trouble && html`<div class="plate word"><p>${state.trouble.says}</p><div class="tools"><button onClick=${() => desk.set({ trouble: null })}>Understood</button></div></div>`}
    ${state.outside.length > 0 && html`<div class="plate word"><p><strong>${outsideWords(state.outside)[0]}</strong> ${outsideWords(state.outside)[1]}</p><ul>${state.outside.slice(0, 5).map(problem => html`<li>${problem.says}</li>`)}</ul></div>`}
  </div>`;
}
