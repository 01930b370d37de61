// Laying out chosen lamps: along a curve, on the other side, on another part, in line.
import { html, useEffect, useRef, useState } from "../vendor/preact-htm.js";
import { handColour, line } from "./brush.js";
import { Choice, Typed } from "./fields.js";
import { alongEdge, insetOf, lengthOf, pointsOf, pointsText, spacingWords } from "./curves.js";
import { itemAt, keyOf, parted, round, spread } from "./items.js";
import { copyChanges, fitOf, lined, madeKeys, mirrorChanges, toldOf } from "./sides.js";

export function Arrange({ desk, state, sheet }) {
  const { plan, chosen } = state, items = chosen.map(key => itemAt(plan, key)).filter(Boolean);
  const [open, setOpen] = useState(false), one = chosen.length === 1 && parted(chosen[0]).kind !== "strips" ? chosen[0] : null;
  if (!items.length) return null;
  return html`<details class="arrange" open=${open} onToggle=${event => setOpen(event.target.open)}><summary>Lay out: along a curve, other side, other part${chosen.length > 1 ? ", in line" : ""}</summary>
    ${open && one && itemAt(plan, one).part && html`<${Curve} key=${one} desk=${desk} state=${state} sheet=${sheet} of=${one} />`}
    ${open && html`<${Across} desk=${desk} state=${state} items=${items} />`}
    ${open && chosen.filter(key => parted(key).kind === "lamps").length > 1 && html`<fieldset><legend>In line, each among the lamps of its part</legend><div class="tools">
      ${[["level", "Level"], ["upright", "Upright"], ["even", "Equal distances"]].map(([how, word]) => html`<button disabled=${!lined(plan, chosen, how).length} onClick=${() => desk.change(lined(plan, chosen, how), `${chosen.length} of the lamps: ${word.toLowerCase()}`)}>${word}</button>`)}</div></fieldset>`}
  </details>`;
}

const EDGE = "edge", BACK = "back", RING = "ring", DRAWN = "drawn";

function Curve({ desk, state, sheet, of }) {
  const { plan } = state, { kind } = parted(of), item = itemAt(plan, of), part = plan.parts.find(row => row.name === item.part);
  const start = kind === "lamps" ? item.at_mm : item.along_mm[0];
  const [way, setWay] = useState(EDGE), [inset, setInset] = useState(insetOf(part.outline_mm, start)), [length, setLength] = useState(kind === "lamps" ? 60 : round(lengthOf(item.along_mm)));
  const [drawn, setDrawn] = useState(kind === "lamps" ? [start] : item.along_mm), [how, setHow] = useState(item.pitch_mm ? { pitch_mm: item.pitch_mm } : { count: item.count || 5 }), [drawing, setDrawing] = useState(false);
  const put = useRef(null), latest = useRef(null);
  const along = way === DRAWN ? (drawn.length > 1 ? drawn : null) : alongEdge(part.outline_mm, start, { inset, length: way === RING ? 1e9 : way === BACK ? -length : length });
  latest.current = { along, drawn };
  const stop = () => { if (put.current) put.current(); put.current = null; setDrawing(false); };
  useEffect(() => {
    const down = sheet.hands.takeUp({ paint: (own, room) => { if (latest.current.along) line(own, latest.current.along, part.name, { width: 1.6, colour: handColour(room), dash: [2, 3] }); } });
    return () => { down(); stop(); };
  }, []);
  useEffect(() => sheet.draw());
  const draw = () => {
    if (drawing) { stop(); return; }
    setWay(DRAWN);
    setDrawing(true);
    sheet.canvas.scrollIntoView({ block: "nearest" });
    put.current = sheet.hands.takeUp({ alone: true, hover: () => "crosshair", doubled: () => (stop(), true), key: (_, event) => ["Enter", "Escape"].includes(event.key) && (stop(), true),
      tapped: (own, at) => { const where = own.placeOf(part.name, at); setDrawn(held => [...held, where]); return true; } });
  };
  const done = () => {
    stop();
    const values = { along_mm: along, count: how.count || null, pitch_mm: how.count ? null : how.pitch_mm };
    const changes = kind === "rows" ? [{ action: "set", kind, name: item.name, values }] : spread(item, null, how).map(change => change.action === "add" ? { ...change, values: { ...change.values, along_mm: along } } : change);
    desk.change(changes, `${item.name} laid along a curve`).then(made => made && desk.set({ chosen: [keyOf("rows", item.name)] }));
  };
  return html`<fieldset><legend>Along a curve</legend>
    <${Choice} label="Along" value=${way} choices=${[[EDGE, `the edge of ${part.name}, from here on`], [BACK, `the edge of ${part.name}, the other way`], [RING, `the whole edge of ${part.name}`], [DRAWN, "a curve of points"]]} onValue=${setWay} />
    ${way !== DRAWN ? html`<div class="pair"><${Typed} label="Inward from the edge" unit="mm" number value=${inset} onValue=${value => value !== null && value >= 0 && setInset(value)} />
      ${way !== RING && html`<${Typed} label="Length along it" unit="mm" number value=${length} onValue=${value => value > 0 && setLength(value)} />`}</div>`
    : html`<${Typed} label="Points, x and y in mm, parted by ;" value=${pointsText(drawn)} onValue=${text => { const points = text && pointsOf(text); if (points) setDrawn(points); }} />
      <div class="tools"><button aria-pressed=${drawing} class=${drawing ? "on" : ""} onClick=${draw}>${drawing ? "Done drawing" : "Press points on the sheet"}</button>${drawn.length > 1 && html`<button class="plain" onClick=${() => setDrawn([start])}>Begin anew</button>`}</div>`}
    <div class="pair"><${Typed} label="How many" number value=${how.count || ""} onValue=${value => value >= 1 && setHow({ count: Math.round(value) })} />
      <${Typed} label="or one every" unit="mm" number value=${how.count ? "" : how.pitch_mm} onValue=${value => value > 0 && setHow({ pitch_mm: value })} /></div>
    <p class="quiet" role="status">${along ? `${spacingWords(along, how)}, measured along the curve.` : way === DRAWN ? "Two points or more make a curve." : "So far inward nothing of the part is left."}</p>
    <div class="tools"><button disabled=${!along} onClick=${done}>${kind === "rows" ? "Lay the row so" : "Make it a row along this"}</button></div></fieldset>`;
}

const OWN_X = "own middle, left and right", OWN_Y = "own middle, up and down";

function Across({ desk, state, items }) {
  const { plan, chosen } = state, parts = plan.parts.map(part => part.name), home = items[0].part, from = plan.parts.find(part => part.name === home);
  const other = from && parts.find(name => name !== home && fits(from, plan.parts.find(part => part.name === name)));
  const [mirror, setMirror] = useState(null), [copy, setCopy] = useState(null);
  const choices = [[OWN_X, "its own middle line, left and right exchanged"], [OWN_Y, "its own middle line, up and down exchanged"], ...parts.filter(name => name !== home || items.some(item => item.part !== name)).map(name => [`on ${name}`, name])];
  const toMirror = mirror || (other ? `on ${other}` : OWN_X), toCopy = copy || parts.find(name => name !== home) || "";
  const mirrored = toMirror.startsWith("on ") ? mirrorChanges(plan, chosen, toMirror.slice(3)) : mirrorChanges(plan, chosen, null, toMirror === OWN_Y ? "along" : "across");
  const copied = toCopy ? copyChanges(plan, chosen, toCopy) : null;
  const make = (made, what) => desk.change(made.changes, what).then(done => done && desk.set({ chosen: madeKeys(made) }));
  const who = chosen.length === 1 ? items[0].name : `${chosen.length} of the lamps`;
  return html`<fieldset><legend>On the other side</legend>
      <${Choice} label="Mirrored onto" value=${toMirror} choices=${choices} onValue=${setMirror} />
      <p class="quiet">Port and starboard are exchanged, and red and green where they tell the side. ${mirrored.rows.length ? `${mirrored.rows.join(", ")} will mirror ${mirrored.rows.length === 1 ? "itself" : "themselves"}: one row, both sides.` : ""}</p>
      <${Told} made=${mirrored} />
      <div class="tools"><button disabled=${!mirrored.changes.length} onClick=${() => make(mirrored, `${who} mirrored`)}>Mirror ${mirrored.changes.length} of ${chosen.length}</button></div></fieldset>
    ${copied && html`<fieldset><legend>On another part, at the same mm from its zero</legend>
      <${Choice} label="Copied to" value=${toCopy} choices=${parts} onValue=${setCopy} /><${Told} made=${copied} />
      <div class="tools"><button disabled=${!copied.changes.length} onClick=${() => make(copied, `${who} copied to ${toCopy}`)}>Copy ${copied.changes.length} of ${chosen.length}</button></div></fieldset>`}`;
}

function Told({ made }) {
  const words = toldOf(made);
  return words.length > 0 && html`<div class="caution" role="status">${words.slice(0, 4).map(word => html`<p>${word}.</p>`)}${words.length > 4 && html`<p>And ${words.length - 4} more.</p>`}</div>`;
}

// A part that looks like the mirror of another: of one size, its outline mirrored within a tenth.
function fits(a, b) {
  const size = part => { const xs = part.outline_mm.map(at => at[0]), ys = part.outline_mm.map(at => at[1]); return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)]; };
  const [p, q] = [size(a), size(b)];
  return fitOf(a, b).flip && p.every((value, n) => Math.abs(value - q[n]) < 0.02 * Math.max(value, q[n]));
}
