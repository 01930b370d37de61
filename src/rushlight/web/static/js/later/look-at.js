// A picture in a frame: moved by hand, brought nearer, its marks as buttons on it.
import { html, useEffect, useLayoutEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { fittedPicture, toFrame, toPicture, zoomedPicture } from "../marks.js";

const STILL_PX = 4, CROSS_PX = 8, REACH_PX = 18;
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

// `marks` hold {name, at_px, placed, says}; `adding` marks where it is pressed.
export function LookAt({ src, size, label, marks, chosen, adding, onChoose, onAdd, onMove }) {
  const frame = useRef(null), touches = useRef(new Map()), grip = useRef(null);
  const [view, setView] = useState(null), [box, setBox] = useState(null), [cross, setCross] = useState(null), [held, setHeld] = useState(null);
  useLayoutEffect(() => {
    const measured = () => { const { clientWidth: width, clientHeight: height } = frame.current; setBox({ width, height }); };
    const observer = new ResizeObserver(measured);
    observer.observe(frame.current);
    measured();
    return () => observer.disconnect();
  }, []);
  useEffect(() => { if (box && size) setView(fittedPicture(size, box)); }, [src, size && size.width, box && box.width, box && box.height]);
  useEffect(() => { setHeld(null); }, [marks]);
  useEffect(() => {
    const wheel = event => { event.preventDefault(); setView(now => now && zoomedPicture(now, spot(event), Math.exp(-event.deltaY * 0.0016), least())); };
    frame.current.addEventListener("wheel", wheel, { passive: false });
    return () => frame.current && frame.current.removeEventListener("wheel", wheel);
  }, [size && size.width, box && box.width]);
  const least = () => size && box ? fittedPicture(size, box).scale * 0.5 : 0.05;
  const spot = event => { const edge = frame.current.getBoundingClientRect(); return [event.clientX - edge.left, event.clientY - edge.top]; };
  const zoom = factor => setView(now => zoomedPicture(now, [box.width / 2, box.height / 2], factor, least()));
  const inside = at => size && at[0] >= 0 && at[1] >= 0 && at[0] <= size.width && at[1] <= size.height;
  const span = () => { const [a, b] = [...touches.current.values()]; return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.hypot(a[0] - b[0], a[1] - b[1]) }; };
  // Marks may lie on each other where the picture is small: the one that is nearest is meant.
  const nearest = at => {
    const away = mark => { const [x, y] = toFrame(view, mark.at_px); return Math.hypot(x - at[0], y - at[1]); };
    const best = marks.reduce((held, mark) => !held || away(mark) < away(held) ? mark : held, null);
    return best && away(best) <= REACH_PX ? best : null;
  };
  const down = event => {
    if (!view || event.button > 0) return;
    const at = spot(event), mark = nearest(at);
    frame.current.setPointerCapture(event.pointerId);
    touches.current.set(event.pointerId, at);
    if (touches.current.size === 2) { grip.current = { kind: "pinch", ...span() }; return; }
    grip.current = { kind: mark ? "mark" : "paper", name: mark && mark.name, from: at, last: at, still: true };
    if (event.target.closest(".lookzoom")) { grip.current = null; touches.current.clear(); frame.current.releasePointerCapture(event.pointerId); return; }
    if (!mark) frame.current.focus();
  };
  const moved = event => {
    const hand = grip.current, at = spot(event);
    if (!hand) return;
    touches.current.set(event.pointerId, at);
    if (hand.kind === "pinch") {
      if (touches.current.size !== 2) return;
      const now = span();
      setView(old => zoomedPicture({ ...old, x: old.x + now.middle[0] - hand.middle[0], y: old.y + now.middle[1] - hand.middle[1] }, now.middle, now.apart / Math.max(1, hand.apart), least()));
      Object.assign(hand, now);
      return;
    }
    if (hand.still && Math.hypot(at[0] - hand.from[0], at[1] - hand.from[1]) < STILL_PX) return;
    hand.still = false;
    if (hand.kind === "paper") { const by = [at[0] - hand.last[0], at[1] - hand.last[1]]; setView(old => ({ ...old, x: old.x + by[0], y: old.y + by[1] })); }
    else setHeld({ name: hand.name, at: toPicture(view, at) });
    hand.last = at;
  };
  const up = event => {
    const hand = grip.current;
    touches.current.delete(event.pointerId);
    if (!hand || touches.current.size) return;
    grip.current = null;
    const at = toPicture(view, spot(event));
    if (hand.kind === "mark" && hand.still) onChoose(hand.name);
    else if (hand.kind === "mark" && inside(at)) onMove(hand.name, at);
    else if (hand.kind === "mark") setHeld(null);
    else if (hand.kind === "paper" && hand.still && adding && inside(at)) onAdd(at);
    else if (hand.kind === "paper" && hand.still) onChoose(null);
  };
  const keyed = event => {
    const way = WAYS[event.key], far = event.shiftKey ? 10 : 1, name = event.target.dataset.mark;
    if (name !== undefined && way) {
      const mark = marks.find(row => row.name === name);
      onMove(name, [mark.at_px[0] + way[0] * far, mark.at_px[1] + way[1] * far]);
    } else if (way && adding) {
      const [x, y] = cross || toPicture(view, [box.width / 2, box.height / 2]), by = CROSS_PX * far / view.scale / (far > 1 ? 2 : 1);
      setCross([Math.max(0, Math.min(size.width, x + way[0] * by)), Math.max(0, Math.min(size.height, y + way[1] * by))]);
    } else if (way) setView(old => ({ ...old, x: old.x - way[0] * 40, y: old.y - way[1] * 40 }));
    else if (event.key === "Enter" && adding && name === undefined) onAdd(cross || toPicture(view, [box.width / 2, box.height / 2]));
    else if (event.key === "+" || event.key === "=") zoom(1.25);
    else if (event.key === "-") zoom(0.8);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const at = mark => toFrame(view, held && held.name === mark.name ? held.at : mark.at_px);
  const place = ([x, y]) => ({ left: `${x}px`, top: `${y}px` });
  return html`<div class=${adding ? "lookat adding" : "lookat"} ref=${frame} tabindex="0" role="group" aria-label=${label} style=${{ aspectRatio: size ? `${size.width} / ${size.height}` : "3 / 2" }} onPointerDown=${down} onPointerMove=${moved} onPointerUp=${up} onPointerCancel=${event => { touches.current.delete(event.pointerId); grip.current = null; setHeld(null); }} onKeyDown=${keyed}>
    ${src && view && html`<img src=${src} alt="" draggable="false" style=${{ left: `${view.x}px`, top: `${view.y}px`, width: `${size.width * view.scale}px`, height: `${size.height * view.scale}px` }} />`}
    ${view && marks.map(mark => html`<button key=${mark.name} data-mark=${mark.name} class=${`mark-at${mark.placed ? "" : " open"}${chosen === mark.name ? " on" : ""}`} aria-pressed=${chosen === mark.name} aria-label=${mark.says} style=${place(at(mark))} onClick=${event => event.detail === 0 && onChoose(mark.name)}></button>`)}
    ${view && chosen && marks.filter(mark => mark.name === chosen).map(mark => html`<span class="mark-name plate" style=${place(at(mark))}>${mark.name}</span>`)}
    ${view && adding && html`<span class="cross" style=${place(toFrame(view, cross || toPicture(view, [box.width / 2, box.height / 2])))}></span>`}
    <span class="lookzoom plate"><button class="plain" aria-label="Picture smaller" onClick=${() => zoom(0.8)}>−</button><button class="plain" aria-label="Whole picture" onClick=${() => setView(fittedPicture(size, box))}>Whole</button><button class="plain" aria-label="Picture larger" onClick=${() => zoom(1.25)}>+</button></span>
  </div>`;
}
