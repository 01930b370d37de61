// The meter drawn for one reading of a gate: fetched when it is first opened, kept while the plan stays.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { ask } from "../talk.js";
import { Svg } from "./svg.js";

export function MeterOf({ top, step, number, says }) {
  const [drawn, setDrawn] = useState(null), [away, setAway] = useState(false);
  useEffect(() => {
    let wanted = true;
    drawnMeter(top, step.key, number).then(found => { if (wanted) setDrawn(found); }, () => { if (wanted) setAway(true); });
    return () => { wanted = false; };
  }, [step.key, number, top.state.bench.of]);
  if (!drawn) return html`<p class="quiet" role="status">${away ? "The drawing did not come; open it again when the computer answers." : "Fetching it ..."}</p>`;
  return html`<${Svg} svg=${drawn.svg} label=${`The meter for: ${says}`} /><${Mind} mind=${drawn.mind} />`;
}

async function drawnMeter(top, key, number) {
  const name = `meter ${key} ${number}`;
  if (!top.drawings.has(name)) top.drawings.set(name, (await ask(`${top.path}/meters/${encodeURIComponent(key)}/${number}`)).body);
  return top.drawings.get(name);
}

export const Mind = ({ mind }) => html`<ul class="b-mind">${mind.map(text => html`<li>${text}</li>`)}</ul>`;
