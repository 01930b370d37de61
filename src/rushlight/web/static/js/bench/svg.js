// A drawing of the book in the page; its colours are those of the plate that it stands on.
import { html, useEffect, useRef } from "../../vendor/preact-htm.js";

export function Svg({ svg, label }) {
  const frame = useRef(null);
  useEffect(() => {
    const drawn = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
    drawn.removeAttribute("width");
    drawn.removeAttribute("height");
    drawn.setAttribute("role", "img");
    drawn.setAttribute("aria-label", label);
    frame.current.replaceChildren(document.importNode(drawn, true));
  }, [svg, label]);
  return html`<div class="b-drawing b-svg" ref=${frame}></div>`;
}
