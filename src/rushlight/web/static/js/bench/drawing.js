// One drawing of the loom, to be pinched, dragged, and zoomed by buttons and keys.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { held, zoomed } from "./pane.js";

export function Loom({ top, state }) {
  const { drawings } = state.bench, [number, setNumber] = useState(0), [drawn, setDrawn] = useState(null), [says, setSays] = useState("");
  const at = Math.min(number, drawings.length - 1);
  useEffect(() => {
    let wanted = true;
    setSays("");
    top.drawing(at).then(found => { if (wanted) setDrawn(found); }, () => { if (wanted) setSays("The drawing did not come; it is asked for again when the computer answers."); });
    return () => { wanted = false; };
  }, [at, state.bench.of, state.away]);
  if (!drawings.length) return html`<p class="quiet">No part yet.</p>`;
  return html`<label class="b-field"><span>Drawing</span><select value=${at} onChange=${event => setNumber(Number(event.target.value))}>${drawings.map((row, n) => html`<option value=${n} selected=${n === at}>${row.title}</option>`)}</select></label>
    ${says && html`<p class="caution" role="status">${says}</p>`}
    ${drawn && html`<${Pane} drawing=${drawn} />`}`;
}

// Letters of 2 mm are then 12 px high.
const FULL_PX_PER_MM = 6, TAP_PX = 8, TAP_MS = 400;

// Pressed at one place it is seen at full size there, and whole when it is pressed again. `at` is such a place to begin with, in shares of the drawing.
export function Pane({ drawing, at = null }) {
  const frame = useRef(null), view = useRef({ scale: 1, x: 0, y: 0 }), hands = useRef(new Map()), tap = useRef(null);
  // The drawing's own size at scale 1 and the pane's: it never leaves the pane.
  const sizes = () => {
    const pane = frame.current, svg = pane.firstElementChild, [, , width, height] = svg.getAttribute("viewBox").split(/[ ,]+/).map(Number);
    const fit = Math.min(pane.clientWidth / width, pane.clientHeight / height);
    return { pane: [pane.clientWidth, pane.clientHeight], drawn: [width * fit, height * fit], fit };
  };
  const lay = next => {
    const found = sizes(), svg = frame.current.firstElementChild;
    view.current = held(next, found);
    const { scale, x, y } = view.current;
    svg.style.width = `${found.drawn[0]}px`;
    svg.style.height = `${found.drawn[1]}px`;
    svg.style.transform = `translate(${x}px, ${y}px) scale(${scale})`;
  };
  useEffect(() => {
    const svg = new DOMParser().parseFromString(drawing.svg, "image/svg+xml").documentElement;
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", drawing.title);
    frame.current.replaceChildren(document.importNode(svg, true));
    whole();
    if (at) full(at.map((share, k) => view.current[k ? "y" : "x"] + share * sizes().drawn[k]));
    const turned = () => lay(view.current);
    window.addEventListener("resize", turned);
    return () => window.removeEventListener("resize", turned);
  }, [drawing.svg]);
  const zoom = (by, at) => lay(zoomed(view.current, by, at));
  const whole = () => lay({ scale: 1, x: 0, y: 0 });
  const full = place => zoom(Math.max(FULL_PX_PER_MM / sizes().fit, 1.5) / view.current.scale, place);
  const shift = (dx, dy) => lay({ ...view.current, x: view.current.x + dx, y: view.current.y + dy });
  const middle = () => [frame.current.clientWidth / 2, frame.current.clientHeight / 2];
  const place = event => { const box = frame.current.getBoundingClientRect(); return [event.clientX - box.left, event.clientY - box.top]; };
  const down = event => {
    frame.current.setPointerCapture(event.pointerId);
    hands.current.set(event.pointerId, place(event));
    tap.current = hands.current.size === 1 ? { at: place(event), when: event.timeStamp } : null;
  };
  const move = event => {
    const was = hands.current.get(event.pointerId), now = place(event);
    if (!was) return;
    const other = [...hands.current].find(([id]) => id !== event.pointerId);
    if (other) {
      const away = Math.hypot(was[0] - other[1][0], was[1] - other[1][1]), gone = Math.hypot(now[0] - other[1][0], now[1] - other[1][1]);
      if (away > 8) zoom(gone / away, [(now[0] + other[1][0]) / 2, (now[1] + other[1][1]) / 2]);
    } else shift(now[0] - was[0], now[1] - was[1]);
    hands.current.set(event.pointerId, now);
  };
  const up = event => {
    hands.current.delete(event.pointerId);
    const begun = tap.current, now = place(event);
    tap.current = null;
    if (!begun || event.type !== "pointerup" || event.timeStamp - begun.when > TAP_MS || Math.hypot(now[0] - begun.at[0], now[1] - begun.at[1]) > TAP_PX) return;
    if (view.current.scale > 1.05) whole(); else full(now);
  };
  const keyed = event => {
    const step = { ArrowLeft: [40, 0], ArrowRight: [-40, 0], ArrowUp: [0, 40], ArrowDown: [0, -40] }[event.key];
    if (step) { shift(...step); event.preventDefault(); }
    else if (event.key === "+") zoom(1.4, middle());
    else if (event.key === "-") zoom(1 / 1.4, middle());
    else if (event.key === "0") whole();
  };
  return html`<figure class="b-drawing drawing">
    <div class="b-pane" ref=${frame} tabindex="0" role="group" aria-label=${`${drawing.title}: plus and minus zoom, arrows move`}
      onPointerDown=${down} onPointerMove=${move} onPointerUp=${up} onPointerCancel=${up} onKeyDown=${keyed}
      onWheel=${event => { event.preventDefault(); zoom(event.deltaY < 0 ? 1.15 : 1 / 1.15, place(event)); }}></div>
    <div class="b-tools"><button onClick=${() => zoom(1.6, middle())}>Nearer</button><button onClick=${() => zoom(1 / 1.6, middle())}>Farther</button><button onClick=${whole}>Whole</button></div>
    ${drawing.caption && html`<figcaption class="quiet">Press a place to see it large, and again for the whole. ${drawing.caption}</figcaption>`}
  </figure>`;
}
