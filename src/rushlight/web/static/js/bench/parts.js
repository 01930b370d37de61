// Small things that the bench's pages are made of.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { whenWords } from "./log.js";

export const Context = { unit: () => localStorage.getItem("unit") || "mm" };

export function lengthOf(mm) {
  return Context.unit() === "inch" ? `${(mm / 25.4).toFixed(2)} in` : `${Number(mm.toFixed(1))} mm`;
}

export function today() {
  const now = new Date(), two = value => `${value}`.padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

// A mark of its own shape for each word, so that it does not hang on colour.
export function Mark({ of }) {
  const shape = {
    done: html`<path d="M4 13l6 6L20 6" fill="none" stroke="currentColor" stroke-width="3" />`,
    open: html`<rect x="4" y="4" width="16" height="16" fill="none" stroke="currentColor" stroke-width="2" />`,
    within: html`<circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2" /><path d="M7 12l4 4 6-8" fill="none" stroke="currentColor" stroke-width="2.4" />`,
    stop: html`<path d="M8 2h8l6 6v8l-6 6H8l-6-6V8Z" fill="currentColor" /><path d="M8 8l8 8m0-8l-8 8" stroke="var(--plate)" stroke-width="2.6" />`,
    gate: html`<path d="M4 21V5h16v16M4 9h16M9 9v12M15 9v12" fill="none" stroke="currentColor" stroke-width="2" />`,
  }[of];
  return html`<svg class="b-mark" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">${shape}</svg>`;
}

// Who did it and when; what waits to be sent says so.
export function By({ row }) {
  if (!row) return null;
  if (row.unsent) return html`<small class="b-by">waits to be sent</small>`;
  const words = [whenWords(row.when, today()), row.by].filter(Boolean).join(", ");
  return words ? html`<small class="b-by">${words}</small>` : null;
}

export function Caution({ item }) {
  return html`<p class="caution"><strong>${item.hazard[0].toUpperCase() + item.hazard.slice(1)}.</strong> ${item.text} ${item.standard && html`<small>${item.standard}</small>`}</p>`;
}

export function useTop(top) {
  const [state, setState] = useState(top.state);
  useEffect(() => {
    setState(top.state);
    top.listeners.add(setState);
    return () => top.listeners.delete(setState);
  }, [top]);
  return state;
}
