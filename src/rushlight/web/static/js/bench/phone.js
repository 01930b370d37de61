// Where the phone's page starts.
import { html, render, useEffect, useState } from "../../vendor/preact-htm.js";
import { useTop } from "./parts.js";
import { Bench } from "./screens.js";
import { Worktop } from "./worktop.js";

const dark = matchMedia("(prefers-color-scheme: dark)").matches;

function Phone({ top }) {
  const state = useTop(top), [plate, setPlate] = useState(localStorage.getItem("plate") || (dark ? "night" : "day"));
  const [unit, setUnit] = useState(localStorage.getItem("unit") || "mm");
  useEffect(() => { document.documentElement.dataset.plate = plate; localStorage.setItem("plate", plate); }, [plate]);
  useEffect(() => { if (state.bench) document.title = `${state.bench.title} - at the bench`; }, [state.bench]);
  const turn = () => { const next = unit === "mm" ? "inch" : "mm"; localStorage.setItem("unit", next); setUnit(next); };
  return html`<main class="b-phone">
    <header><h1>${state.bench ? state.bench.title : "At the bench"}</h1>
      <div class="b-tools"><button class="b-quiet" onClick=${() => setPlate(plate === "day" ? "night" : "day")}>${plate === "day" ? "Darker" : "Lighter"}</button>
      <button class="b-quiet" aria-label=${`Lengths in ${unit}; change`} onClick=${turn}>${unit === "mm" ? "mm" : "inch"}</button></div></header>
    <${Bench} top=${top} key=${unit} />
    <footer class="quiet">${state.name ? `This is ${state.name}. ` : ""}The computer keeps what you enter; it can be taken back there.</footer>
  </main>`;
}

const top = new Worktop("/bench");
render(html`<${Phone} top=${top} />`, document.getElementById("bench"));
top.listen("/events");
window.worktop = top;
