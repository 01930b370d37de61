// A drawing of the book on the screen: as wide as its place, and large, to be moved about, when it is pressed.
import { html, useEffect, useLayoutEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { Pane } from "../bench/drawing.js";
import { laidFor } from "./laid-for.js";

// Its colours are those of the plate that it stands on.
export function Drawing({ drawing }) {
  const figure = useRef(null), frame = useRef(null), room = useRoom(figure), [at, setAt] = useState(null);
  const { shown, width, letters } = laidFor(drawing, room);
  useEffect(() => {
    const svg = new DOMParser().parseFromString(shown.svg, "image/svg+xml").documentElement;
    svg.removeAttribute("height");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", drawing.title);
    frame.current.replaceChildren(document.importNode(svg, true));
  }, [shown.svg]);
  useEffect(() => {
    const svg = frame.current.firstElementChild;
    svg.setAttribute("width", width);
    for (const text of svg.querySelectorAll("text")) {
      text.dataset.at ||= text.getAttribute("transform");
      text.setAttribute("transform", letters > 1 ? `${text.dataset.at} scale(${letters})` : text.dataset.at);
    }
  }, [shown.svg, width, letters]);
  const pressed = event => {
    const box = frame.current.getBoundingClientRect(), keyed = event.detail === 0;
    setAt(keyed ? [0, 0] : [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height]);
  };
  return html`<figure class="drawing" ref=${figure}><div class="drawn"><div ref=${frame}></div><button class="enlarge" aria-label=${`Larger: ${drawing.title}`} title="Press to see it larger" onClick=${pressed}></button></div>
    <figcaption>${GLASS} ${drawing.title}${drawing.caption && html`<br /><small>${drawing.caption}</small>`}</figcaption>
    ${at && html`<${Large} drawing=${{ svg: shown.svg, title: drawing.title, caption: "" }} at=${at} close=${() => setAt(null)} />`}
  </figure>`;
}

// That it can be pressed is seen without pointing at it.
const GLASS = html`<svg class="glass" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true"><path d="M10.5 10.5 15 15M4 6.5h5M6.5 4v5" stroke="currentColor" stroke-width="1.4" /><circle cx="6.5" cy="6.5" r="5" fill="none" stroke="currentColor" stroke-width="1.4" /></svg>`;

// How wide the figure's place is, told anew whenever that changes.
function useRoom(figure) {
  const [room, setRoom] = useState(Infinity);
  useLayoutEffect(() => {
    const look = () => { if (figure.current.clientWidth) setRoom(figure.current.clientWidth); }, watch = new ResizeObserver(look);
    look();
    watch.observe(figure.current);
    return () => watch.disconnect();
  }, []);
  return room;
}

// Over everything, with letters to be read at arm's length; focus goes back to the drawing when it closes.
function Large({ drawing, at, close }) {
  const box = useRef(null);
  useLayoutEffect(() => { box.current.showModal(); }, []);
  return html`<dialog class="large plate" ref=${box} aria-label=${drawing.title} onClose=${close} onKeyDown=${event => event.stopPropagation()}>
    <header><strong>${drawing.title}</strong><button onClick=${() => box.current.close()}>Close</button></header>
    <${Pane} drawing=${drawing} at=${at} /></dialog>`;
}
