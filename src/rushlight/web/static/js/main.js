// Where the pages start.
import { html, render } from "../vendor/preact-htm.js";
import { ask } from "./talk.js";

const root = document.getElementById("app");
const dark = matchMedia("(prefers-color-scheme: dark)").matches;
const light = Number(localStorage.getItem("light") ?? (dark ? 0 : 1));
document.documentElement.dataset.plate = light >= 0.5 ? "day" : "night";

const plan = window.location.pathname.match(/^\/plan\/([0-9a-f]+)$/);
if (plan) await openPlan(plan[1]);
else {
  const { Start } = await import("./start.js");
  document.body.classList.add("page");
  render(html`<${Start} />`, root);
}

async function openPlan(id) {
  const asked = [ask(`/api/plans/${id}`), ask("/api/words")]; // on their way while the scripts come
  for (const one of asked) one.catch(() => {}); // told below
  const [{ App }, { Desk }, { keepPlace }] = await Promise.all([import("./app.js"), import("./desk.js"), import("./kept-place.js")]);
  const desk = new Desk(id, { light, unit: localStorage.getItem("unit") || "mm", strength: Number(localStorage.getItem("strength") ?? 1) });
  desk.listeners.add(state => { if (state.light !== light) localStorage.setItem("light", state.light); });
  keepPlace(root);
  render(html`<${App} desk=${desk} />`, root);
  try {
    await desk.open(asked);
    document.documentElement.dataset.ready = "yes";
    performance.mark("usable");
  } catch (error) {
    document.body.classList.add("page");
    render(html`<main class="start"><h1>This plan cannot be opened</h1><p class="caution">${error.message}</p><ul>${(error.problems || []).map(problem => html`<li>${problem.says}</li>`)}</ul><p><a href="/">All plans</a></p></main>`, root);
  }
}
