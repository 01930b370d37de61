// Where the outer face of a part looks, so that pictures by night know from where its lamps are seen.
import { html } from "../../vendor/preact-htm.js";
import { Choice, Typed } from "../fields.js";

const WAYS = ["ahead", "starboard", "astern", "port", "up", "down"], NONE = { faces: null, faces_deg: null, leans_deg: null, top_edge: null };
const AXIS = { ahead: 0, astern: 0, starboard: 1, port: 1, up: 2, down: 2 };

// What changes when the word does: what no longer fits goes.
export function facedTo(part, word) {
  if (!word) return NONE;
  const bearing = word === "bearing", level = word === "up" || word === "down", fits = part.top_edge && (bearing || AXIS[part.top_edge] !== AXIS[word]);
  return { faces: bearing ? null : word, faces_deg: bearing ? part.faces_deg ?? 45 : null, ...(level && { leans_deg: null }), ...(!fits && { top_edge: null }) };
}

export function Faces({ desk, part }) {
  const set = (values, says) => desk.change([{ action: "set", kind: "parts", name: part.name, values }], `${part.name}: ${says}`);
  const bearing = Number.isFinite(part.faces_deg), now = bearing ? "bearing" : part.faces || "", level = now === "up" || now === "down";
  const tops = WAYS.filter(word => bearing || AXIS[word] !== AXIS[now]);
  return html`<details open=${Boolean(now)}><summary>Faces: ${bearing ? `${part.faces_deg} degrees` : now || "nobody said"}</summary><div class="form">
    <p class="quiet">Its outer face, at pose value 0. Pictures by night then know from where its lamps are seen. What stands on it need not say it again.</p>
    <${Choice} label="Its outer face looks" value=${now} choices=${[["", "nobody said"], ...WAYS, ["bearing", "at a bearing"]]} onValue=${word => set(facedTo(part, word), word ? "faces another way" : "faces nowhere")} />
    ${bearing && html`<${Typed} label="Bearing, clockwise, 0 is ahead" unit="deg" number value=${part.faces_deg} onValue=${faces_deg => faces_deg !== null && set({ faces_deg }, "faces another way")} />`}
    ${now && !level && html`<${Typed} label="Leans up by" unit="deg" number value=${part.leans_deg ?? 0} onValue=${leans_deg => set({ leans_deg }, "leans")} />`}
    ${now && html`<${Choice} label="The top of its drawing points" value=${part.top_edge || ""} choices=${[["", level ? "ahead" : "up"], ...tops]} onValue=${top_edge => set({ top_edge: top_edge || null }, "its top")} />`}
  </div></details>`;
}
