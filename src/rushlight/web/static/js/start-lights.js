// The lights that the rules ask for, as a beginning: kind, size, means of propulsion, states; what the plan will hold.
import { html, useEffect, useState } from "../vendor/preact-htm.js";
import { tell } from "./talk.js";

const WORDS = {
  length_m: ["Its length, m", "Of the subject itself, not of the model."],
  breadth_m: ["Its breadth, m", "Where a rule goes by it."],
  height_m: ["Its height, m", "Of the mast, tower or chimney itself."],
  propulsion: ["What moves it", ""],
  moving: ["How it moves", "Where a rule goes by it."],
  tow_length_m: ["Length of the tow, m", "From its stern to the end of the tow, if it tows."],
  speed_kn: ["Speed, knots", "Only if it is very small."],
  side: ["Turns to", ""],
  scheme: ["Whose rules", ""],
  region: ["Buoyage region", "A: Europe, Africa, most of Asia, Australia. B: the Americas, Japan, Korea, the Philippines."],
};

// The tables' word for what the page calls the subject; null: no rules are known for it.
export const RULED = { ship: "ship", aircraft: "aircraft", "road vehicle": "road", "rail vehicle": "rail", "mast, tower or chimney": "obstruction", "sea mark": "sea mark" };

export function Lights({ kind, scale, onAsked }) {
  const [facts, setFacts] = useState({}), [states, setStates] = useState([]), [may, setMay] = useState(false);
  const [known, setKnown] = useState(null), [answer, setAnswer] = useState(null), [trouble, setTrouble] = useState("");
  const asked = { kind: RULED[kind], states, may, ...facts };
  useEffect(() => { setStates([]); setFacts({}); }, [kind]);
  useEffect(() => later(async () => {
    try {
      const { body } = await tell("/api/lights/known", { kind: RULED[kind], ...facts });
      setKnown(body);
      setStates(now => now.filter(name => body.states.includes(name)));
    } catch (error) { setTrouble(inWords(error.message)); }
  }), [kind, facts.length_m, facts.propulsion]);
  useEffect(() => later(async () => {
    onAsked(asked);
    setTrouble("");
    if (!states.length) { setAnswer(null); return; }
    try { setAnswer((await tell("/api/lights", asked)).body); } catch (error) { setAnswer(null); setTrouble(inWords(error.message)); }
  }), [JSON.stringify(asked)]);
  const fact = ({ key, choices }) => html`<label class="field"><span>${WORDS[key][0]}</span>
    ${choices.length ? html`<select value=${facts[key] ?? choices[0]} onChange=${event => setFacts({ ...facts, [key]: event.target.value })}>${choices.map(word => html`<option value=${word}>${word}</option>`)}</select>`
    : html`<input inputmode="decimal" value=${facts[key] ?? ""} onInput=${event => setFacts({ ...facts, [key]: event.target.value })} />`}
    ${WORDS[key][1] && html`<small>${WORDS[key][1]}${key === "length_m" ? modelWords(facts.length_m, scale) : ""}</small>`}</label>`;
  const tick = (name, on) => setStates(on ? [...states, name] : states.filter(other => other !== name));
  return html`<div class="lights">
    ${known && html`<div class="form">${known.asks.map(fact)}</div>
    <fieldset><legend>In which states is it shown? Tick those that the model should have.</legend><div class="ticks" tabindex="0" role="group" aria-label="States that the rules know">${known.states.map(name => html`<label class="tick"><input type="checkbox" checked=${states.includes(name)} onChange=${event => tick(name, event.target.checked)} /> ${name}</label>`)}</div></fieldset>
    <label class="tick"><input type="checkbox" checked=${may} onChange=${event => setMay(event.target.checked)} /> also lamps that a rule only allows</label>`}
    <div aria-live="polite">${trouble && html`<p class="caution">${trouble}</p>`}${answer && html`<${Preview} answer=${answer} />`}</div>
  </div>`;
}

function Preview({ answer }) {
  const arc = lamp => lamp.arc_deg ? `, ${lamp.arc_deg[0]} to ${lamp.arc_deg[1]} deg` : "";
  return html`<figure class="table"><figcaption>${answer.lamps.length === 1 ? "The plan begins with 1 lamp" : `The plan begins with ${answer.lamps.length} lamps`}; you place ${answer.lamps.length === 1 ? "it" : "them"} on the part.</figcaption>
    <div class="scroll" tabindex="0" role="region" aria-label="Lamps that the rules ask for"><table>
      <thead><tr><th scope="col">Lamp</th><th scope="col">Colour</th><th scope="col">Shown when</th><th scope="col">Rule</th></tr></thead>
      <tbody>${answer.lamps.map(lamp => html`<tr key=${lamp.name}><th scope="row">${lamp.name}${lamp.worth === "must" ? "" : html` <small>wished</small>`}</th>
        <td>${lamp.colour}${arc(lamp)}${lamp.rhythm === "steady" ? "" : `, ${lamp.rhythm}`}</td><td>${lamp.states.join(", ")}</td><td><small>${lamp.evidence[0].of}</small></td></tr>`)}</tbody>
    </table></div>
    ${answer.notes.map(note => html`<p class="quiet">${note}</p>`)}
    <p class="caution"><strong>For models only.</strong> ${answer.statements.join(" ")}</p></figure>`;
}

const inWords = text => text.replace(/^\w+/, key => WORDS[key] ? WORDS[key][0] : key);

function modelWords(length_m, scale) {
  const mm = 1000 * Number(length_m) / Number(scale);
  return mm > 0 && Number.isFinite(mm) ? ` The model is ${Number(mm.toPrecision(3))} mm long at 1:${scale}.` : "";
}

// A moment after the last key, and not at all if a newer one came.
function later(work) {
  const timer = setTimeout(work, 250);
  return () => clearTimeout(timer);
}
