// Findings as notes in the margin, each at the height of its place.
import { html, useEffect, useLayoutEffect, useMemo, useRef } from "../vendor/preact-htm.js";
import { Cure, CureDone } from "./cure.js";
import { count, isFresh, stageWords } from "./answers.js";
import { roomFor, stacked } from "./margin.js";

const GAP = 8;

// A mark of its own shape for each grade; colour is only a third sign.
export function Mark({ grade }) {
  const shape = {
    "dangerous": html`<path d="M9 1 17 16H1Z" fill="currentColor" /><path d="M9 6v5M9 13v1.4" stroke="var(--plate)" stroke-width="1.7" />`,
    "will fail": html`<rect x="2" y="2" width="14" height="14" fill="currentColor" /><path d="M5.5 5.5l7 7m0-7l-7 7" stroke="var(--plate)" stroke-width="1.7" />`,
    "doubtful": html`<circle cx="9" cy="9" r="7" fill="none" stroke="currentColor" stroke-width="1.6" /><path d="M9 2a7 7 0 0 1 0 14Z" fill="currentColor" />`,
    "could be better": html`<circle cx="9" cy="9" r="6" fill="none" stroke="currentColor" stroke-width="1.6" />`,
  }[grade];
  return html`<svg class="mark" viewBox="0 0 18 18" width="16" height="16" aria-hidden="true">${shape}</svg>`;
}

export function Notes({ desk, state, sheet, narrow }) {
  const list = useRef(null), threads = useRef([]), floating = useRef(false);
  const findings = useMemo(() => inOrder(state.answer, sheet), [state.answer, sheet]), fresh = isFresh(state);
  const place = () => {
    const root = list.current;
    if (!root || !sheet) return;
    const cards = [...root.querySelectorAll(".note")], top = 0, bottom = root.clientHeight;
    const offset = root.getBoundingClientRect().top - sheet.canvas.getBoundingClientRect().top;
    const wanted = cards.map((card, n) => {
      const finding = findings[n], at = finding && finding.part && sheet.screenOf(finding.part, finding.at_mm);
      return { wanted: at ? at[1] - offset : Infinity, height: card.offsetHeight };
    });
    const late = Math.max(0, ...wanted.map(note => Number.isFinite(note.wanted) ? note.wanted : 0));
    const notes = wanted.map(note => ({ ...note, wanted: Number.isFinite(note.wanted) ? Math.min(bottom, Math.max(0, note.wanted)) : late + 1e4 }));
    const free = floating.current = !narrow && roomFor(notes, GAP, top, bottom);
    root.classList.toggle("free", free);
    const tops = free ? stacked(notes, GAP, top, bottom) : null;
    cards.forEach((card, n) => { card.style.top = tops ? `${tops[n]}px` : ""; });
    const edge = root.getBoundingClientRect(), page = sheet.canvas.getBoundingClientRect();
    threads.current = narrow ? [] : cards.flatMap((card, n) => {
      const finding = findings[n];
      if (!finding || !finding.part) return [];
      const box = card.getBoundingClientRect(), y = box.top + 15;
      const chosen = state.note === n;
      if (y < edge.top || y > edge.bottom) return [];
      return [{ part: finding.part, at: finding.at_mm, from: [box.left - page.left, y - page.top], chosen }];
    });
    sheet.slide();
  };
  const words = standing(state, findings, fresh), parts = state.plan && state.plan.parts;
  useLayoutEffect(place, [findings, state.note, narrow, sheet, state.leaf, parts, standingKey(state, fresh)]);
  useEffect(() => {
    if (!sheet) return undefined;
    sheet.on.threads = () => threads.current;
    sheet.on.moved = () => { if (floating.current) place(); }; // a list that scrolls stands still when the sheet moves
    window.addEventListener("resize", place);
    return () => window.removeEventListener("resize", place);
  });
  useEffect(() => { // what an edit would bring comes later, into the note that stands open
    const open = list.current && list.current.querySelector(".note.on");
    if (!open) return undefined;
    const grown = new ResizeObserver(place);
    grown.observe(open);
    return () => grown.disconnect();
  }, [findings, state.note, narrow, sheet]);
  const show = (finding, n) => {
    const open = state.note === n;
    desk.set({ note: open ? null : n });
    if (!open && finding.part) sheet.lookAt(finding.part, finding.at_mm);
  };
  // The very same cards while nothing in them changed: of a big plan there are hundreds.
  const cards = useMemo(() => findings.map((finding, n) => html`<li class=${state.note === n ? "note plate on" : "note plate"} key=${`${finding.key}/${finding.item}/${n}`}>
    <button class="row" aria-expanded=${state.note === n} onClick=${() => show(finding, n)}>
      <span class=${`grade g${finding.rank}`}><${Mark} grade=${finding.grade} /> ${finding.grade}</span>
      <strong class="of">${finding.of || finding.item}</strong>
      <span class="says">${finding.says}</span>
    </button>
    ${state.note === n && html`<div class="more"><p><b>Why</b> ${finding.why}</p><p><b>Cure</b> ${aside(finding.cure)}</p><${Cure} desk=${desk} state=${state} finding=${finding} fresh=${fresh} /><p class="quiet">${finding.source}</p></div>`}
  </li>`), [findings, state.note, fresh, sheet, state.note === null ? "" : state.revision]);
  return html`<aside class=${fresh ? "margin" : "margin stale"} aria-label="Findings">
    <p class="standing plate" role="status">${words}</p>
    <${CureDone} desk=${desk} state=${state} />
    <ul class="notes" ref=${list} onScroll=${place}>${cards}</ul>
  </aside>`;
}

// The plan file's own words stand back: they are for who writes it by hand.
const aside = text => text.split(/(\(plan file: [^)]+\))/).map((piece, n) => n % 2 ? html`<small>${piece}</small>` : piece);

// Worst first; of one grade from the top of the sheet down, so that few hairlines cross.
function inOrder(answer, sheet) {
  const height = finding => {
    const place = finding.part && sheet && sheet.places[finding.part];
    return place ? -(finding.at_mm[1] + place.dy) : Infinity;
  };
  return answer ? [...answer.findings].sort((a, b) => b.rank - a.rank || (height(a) === height(b) ? 0 : height(a) - height(b))) : [];
}

// Changes with the words that stand over the notes, and so with their height.
const standingKey = (state, fresh) => `${state.failed}|${fresh}|${state.stage}|${Boolean(state.cured) && state.steps.undo === state.cured.what}`;

function standing(state, findings, fresh) {
  if (state.failed) return html`<strong>It could not be worked out.</strong> ${state.failed}`;
  if (!state.answer) return `Working it out: ${stageWords(state.stage)} ...`;
  if (!fresh) return html`<strong>Working it out:</strong> ${stageWords(state.stage)}. What stands below is of the plan before your last edit.`;
  return findings.length ? `${count(findings.length, "finding")}, the worst named first.` : "No findings: nothing that is known of would go wrong.";
}
