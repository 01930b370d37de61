// What a lamp, row or strip is wanted to look like, what makes it, where it is seen from: beside its plain form.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { Line, Pick, tried, useForms } from "./at-field.js";
import { HeldOf } from "./held.js";
import { StripForm } from "./strips.js";
import { CARRIES, insisted, MADE, madeWords, othersOf, ROOMS, sectorOf, TIPS, wayOf, WAYS, wished, wishWords } from "./lamp-rows.js";

export function LampMore({ desk, state, kind, item }) {
  const set = (values, what) => tried(desk, () => [{ action: "set", kind, name: item.name, values }], `${item.name}: ${what}`); // shown once it is taken: a refused wish does not close its field
  return html`${kind === "strips" && html`<${StripForm} desk=${desk} state=${state} item=${item} />`}<${Bright} plan=${state.plan} item=${item} set=${set} />${kind !== "strips" && html`<${Made} desk=${desk} state=${state} kind=${kind} item=${item} set=${set} />`}
    <${HeldOf} key=${`held ${item.name}`} desk=${desk} state=${state} item=${item} />`;
}

// Nothing is written until the number or the name is there.
function Bright({ plan, item, set }) {
  const wish = item.brightness, now = wayOf(wish), [way, setWay] = useState(now);
  useEffect(() => setWay(now), [now, item.name]);
  const put = values => set({ brightness: wished(wish, values) }, "how bright it should look");
  const turn = word => { setWay(word); return word === "room" && now !== "room" ? put({}) : ""; };
  const number = (key, values = {}) => value => value === null ? turn("room") : put({ ...values, [key]: value });
  const open = way !== now && way !== "room" && html`<p class="quiet" role="status">Say the rest below; until then it is ${wishWords(wish, plan.subject)}.</p>`;
  return html`<details class="bright" open=${now !== "room"}><summary>How bright: ${wishWords(wish, plan.subject)}</summary><div class="form">
    <${Pick} label="It should be" value=${way} choices=${WAYS} onValue=${turn} />${open}
    ${way === "like" && html`<${Pick} label="As bright as" value=${wish.like} choices=${othersOf(plan, item)} onValue=${like => put({ like, ratio: now === "like" ? wish.ratio : 1 })} />
      ${now === "like" && html`<${Line} label="Times as bright" kind="number" value=${wish.ratio} says="1 is the same, 0.5 half, 2 twice." onValue=${ratio => put({ like: wish.like, ratio: ratio ?? 1 })} />`}`}
    ${way === "mcd" && html`<${Line} label="Intensity on the model" unit="mcd" kind="number" value=${wish.intensity_mcd} says="Millicandela straight ahead of it. A marker on a small model is some 1 to 20, a window less." onValue=${number("intensity_mcd")} />`}
    ${way === "cd" && html`<${Line} label="The subject's own intensity" unit="cd" kind="number" value=${wish.subject_intensity_cd} says="Candela, as a light list or a rule gives it." onValue=${number("subject_intensity_cd", { carry: now === "cd" ? wish.carry : "equal illuminance" })} />
      ${now === "cd" && html`<${Pick} label="Carried to the scale" value=${wish.carry} choices=${CARRIES} onValue=${carry => put({ subject_intensity_cd: wish.subject_intensity_cd, carry })}
        says="Equal illuminance: at the scaled distance as much light reaches the eye. Equal luminance: each square millimetre of it glows as in truth." />`}`}
    ${way === "seen" && html`<${Pick} label="Plain to see in" value=${wish.seen_in} choices=${ROOMS} onValue=${seen_in => put({ seen_in })} />`}
  </div></details>`;
}

function Made({ desk, state, kind, item, set }) {
  const forms = useForms(desk), { source } = item, part = state.plan.parts.find(row => row.name === item.part), openings = part ? part.openings.map(row => row.name) : [];
  const put = (values, what) => set({ source: insisted(source, values) }, what);
  const any = [["", "as the design chooses"]];
  return html`<details class="made" open=${Boolean(source || item.opening || item.arc_deg || item.rule)}><summary>Made and seen: ${madeWords(item, state.plan, kind)}</summary><div class="form">
    <${Pick} label="Made of" value=${source ? source.kind : ""} choices=${MADE} onValue=${word => word ? put({ kind: word }, `made of ${word}`) : set({ source: null }, "made as the design chooses")} />
    ${source && source.kind !== "strip" && forms && html`<${Pick} label=${source.kind === "fibre" ? "LED that feeds it" : "LED"} value=${source.led || ""} choices=${[...any, ...forms.leds]} onValue=${led => put({ led }, led ? `made with ${led}` : "its LED as the design chooses")} />`}
    ${source && source.kind === "fibre" && forms && html`<${Pick} label="Fibre, diameter in mm" value=${source.fibre_mm ? `${source.fibre_mm}` : ""} choices=${[...any, ...new Set([...forms.fibres_mm, ...(source.fibre_mm ? [source.fibre_mm] : [])].map(mm => [`${mm}`, `${mm} mm`]))]}
      onValue=${mm => put({ fibre_mm: Number(mm) }, mm ? `fibre of ${mm} mm` : "its fibre as the design chooses")} />
      <${Pick} label="Its end at the lamp" value=${source.tip || "polished"} choices=${TIPS} onValue=${tip => put({ tip }, `a ${tip} end`)} />`}
    ${kind === "lamps" && part && html`<${Pick} label="Seen through the opening" value=${item.opening || ""} choices=${[["", "none: it is seen itself"], ...openings]} onValue=${opening => set({ opening: opening || null }, opening ? `lights ${opening}` : "seen itself")}
      says=${openings.length ? "It then lights the room behind that window. A closed room of the same name, in the leaf Parts, tells how large that is." : `No opening is drawn on ${part.name} yet.`} />`}
    <${Line} label="Light of the rules that it is" value=${item.rule} list="light-rules" onValue=${rule => set({ rule }, rule ? `is ${rule}` : "no light of the rules")} says="Left empty: none. Its place and arc are then held against the rule." />
    <datalist id="light-rules">${forms && forms.rules.map(row => html`<option value=${row.key}>${row.name}</option>`)}</datalist>
    ${kind === "lamps" && html`<${Sector} key=${`sector ${item.name}`} item=${item} forms=${forms} set=${set} />`}
  </div></details>`;
}

// Both ends are needed; the first is kept here until the other is there.
function Sector({ item, forms, set }) {
  const [begun, setBegun] = useState([null, null]), shown = item.arc_deg || begun, rule = forms && item.rule && forms.rules.find(row => row.key === item.rule && row.arc_deg);
  const put = n => value => {
    const now = sectorOf(item.arc_deg || begun, n, value);
    if (value === null && item.arc_deg) { setBegun(now); return set({ arc_deg: null }, "shows all round"); }
    setBegun(now);
    return now.includes(null) ? "" : set({ arc_deg: now }, "its sector");
  };
  return html`<div class="pair"><${Line} label="Shows from bearing" unit="deg" kind="number" value=${shown[0]} onValue=${put(0)} /><${Line} label="to bearing" unit="deg" kind="number" value=${shown[1]} onValue=${put(1)} /></div>
    <p class="quiet">Clockwise, 0 is ahead, 90 to starboard. Both empty: all round.${!item.arc_deg && begun.some(end => end !== null) ? " The other end is still wanted." : ""}</p>
    ${rule && String(rule.arc_deg) !== String(item.arc_deg || "") && html`<div class="tools"><button class="small" onClick=${() => set({ arc_deg: rule.arc_deg }, "the sector of its rule")}>As its rule has it: ${rule.arc_deg[0]} to ${rule.arc_deg[1]} deg</button></div>`}`;
}
