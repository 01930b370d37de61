// The model as it stands in the dark, in the state and from the side that are looked at; drawn on the computer, one at a time.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { isFresh } from "../answers.js";
import { Svg } from "../bench/svg.js";
import { askAfter } from "../talk.js";
import { NARROW } from "../view.js";
import { Turn } from "./turn.js";

// Where one looks from; without a place of one's own the plan's. Square on there is no such picture: then the plan's too.
export function stoodPath({ state, turned }) {
  const place = turned ? `&bearing_deg=${turned.bearing}&height_deg=${turned.height || 0}` : "";
  return `/stood?state=${encodeURIComponent(state)}${place}`;
}

export function Stood({ desk, state }) {
  const [shown, setShown] = useState(null), [trouble, setTrouble] = useState(""), busy = useRef(false), newest = useRef("");
  const fresh = isFresh(state), path = stoodPath(state), wanted = fresh && !state.switchedOff ? `${state.revision} ${path}` : "";
  newest.current = wanted;
  const fetchIt = async () => {
    if (busy.current || !newest.current) return;
    const now = newest.current;
    busy.current = true;
    try {
      const body = await askAfter(desk.path + now.slice(now.indexOf(" ") + 1));
      if (body) { setShown({ of: now, picture: body.picture }); setTrouble(""); }
    } catch (error) { setTrouble(error.message); }
    busy.current = false;
    if (newest.current !== now) fetchIt();
  };
  useEffect(() => { fetchIt(); return undefined; }, [wanted]);
  useEffect(() => () => { newest.current = ""; }, []);
  if (trouble) return html`<p class="caution">${trouble}</p>`;
  if (!shown || !shown.picture || state.switchedOff) return null;
  const { picture } = shown, old = shown.of !== wanted;
  return html`<figure class=${old ? "drawing stood old" : "drawing stood"} aria-busy=${old}>
    <${Svg} svg=${picture.svg} label=${`${picture.title}. ${picture.caption}`} />
    <figcaption>${picture.title}</figcaption>
    ${matchMedia(NARROW).matches && html`<${Turn} desk=${desk} state=${state} />`}
    <p class="quiet" role="status">${old ? "Being drawn anew ..." : picture.caption}${state.turned === false ? " Square on there is no one side: seen as the plan has it." : ""}</p></figure>`;
}
