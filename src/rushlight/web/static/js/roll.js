// A long list of which only what is in sight is drawn; arrow keys go up and down, one row is a stop of the Tab key.
import { html, useEffect, useLayoutEffect, useRef, useState } from "../vendor/preact-htm.js";
import { windowOf } from "./pick.js";

// What of a box can be seen, from its own top.
export function inSight(box) {
  const edge = box.closest(".leaf, .grid"), bounds = edge ? edge.getBoundingClientRect() : null, own = box.getBoundingClientRect();
  const top = Math.max(0, bounds ? bounds.top : 0), bottom = Math.min(window.innerHeight, bounds ? bounds.bottom : Infinity);
  return { top: top - own.top, bottom: bottom - own.top };
}

// Looks again whenever anything rolls or the window changes.
export function useSight(ref, count) {
  const [sight, setSight] = useState({ top: 0, bottom: 900 });
  const look = () => {
    if (!ref.current) return;
    const now = inSight(ref.current);
    setSight(held => Math.abs(held.top - now.top) > 40 || Math.abs(held.bottom - now.bottom) > 40 ? now : held);
  };
  useLayoutEffect(look, [count]);
  useEffect(() => {
    document.addEventListener("scroll", look, { capture: true, passive: true });
    window.addEventListener("resize", look);
    return () => { document.removeEventListener("scroll", look, { capture: true }); window.removeEventListener("resize", look); };
  }, []);
  return sight;
}

// `rows` hold {key, head} or {key, ...}; `draw(row, props)` makes one, with the props of its button; `tall` is the row that holds a form.
export function Roll({ rows, height, draw, label, tall = -1 }) {
  const list = useRef(null), [tallBy, setTallBy] = useState(0), [at, setAt] = useState(0), wanted = useRef(-1);
  const sight = useSight(list, rows.length), stop = Math.min(at, rows.length - 1);
  const seen = windowOf({ count: rows.length, height, ...sight, tall, tallBy });
  useLayoutEffect(() => {
    const open = list.current && list.current.querySelector("[data-tall]"), by = open ? Math.max(0, open.offsetHeight - height) : tall < 0 ? 0 : tallBy;
    if (Math.abs(by - tallBy) > 1) setTallBy(by);
    if (wanted.current >= 0) {
      const row = list.current.querySelector(`[data-row="${wanted.current}"] .row`);
      if (row) { row.focus(); wanted.current = -1; }
    }
  });
  // What is chosen elsewhere comes into sight here.
  useEffect(() => { if (tall >= 0 && (tall < seen.first || tall >= seen.last)) scrollTo(list.current, seen.at(tall)); }, [tall]);
  const go = n => {
    let next = Math.max(0, Math.min(rows.length - 1, n));
    const way = n >= stop ? 1 : -1;
    while (rows[next] && rows[next].head !== undefined && rows[next + way]) next += way;
    wanted.current = next;
    setAt(next);
    const row = list.current.querySelector(`[data-row="${next}"] .row`);
    if (row) { row.focus(); wanted.current = -1; } else list.current.scrollIntoView({ block: "nearest" });
    if (!row) scrollTo(list.current, seen.at(next));
  };
  const keyed = event => {
    if (!event.target.classList.contains("row")) return;
    const to = { ArrowDown: stop + 1, ArrowUp: stop - 1, PageDown: stop + 12, PageUp: stop - 12, Home: 0, End: rows.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    go(to);
  };
  return html`<ul class="list roll" ref=${list} aria-label=${label} onKeyDown=${keyed}>
    <li class="gap" aria-hidden="true" style=${{ height: `${seen.before}px` }}></li>
    ${rows.slice(seen.first, seen.last).map((row, n) => html`<li key=${row.key} data-row=${seen.first + n} data-tall=${seen.first + n === tall ? "" : undefined} aria-setsize=${rows.length} aria-posinset=${seen.first + n + 1}>${draw(row, { tabindex: seen.first + n === stop ? 0 : -1, onFocus: () => setAt(seen.first + n) })}</li>`)}
    <li class="gap" aria-hidden="true" style=${{ height: `${seen.after}px` }}></li>
  </ul>`;
}

function scrollTo(list, place) {
  const edge = list.closest(".leaf"), own = list.getBoundingClientRect();
  if (edge && edge.scrollHeight > edge.clientHeight + 1) edge.scrollTop += own.top - edge.getBoundingClientRect().top + place - edge.clientHeight / 2;
  else window.scrollTo(0, window.scrollY + own.top + place - window.innerHeight / 2);
}
