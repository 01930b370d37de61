// The forms of the gauge: how the size is known, how the picture lies, what the fit is worth.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { Typed } from "../fields.js";
import { sameHold } from "./canvas.js";
import { asBase, cornerWords, howChosen, isPlaced, isWhole, mirroredDraft, places, quarterTurned, SHEETS, sheetChosen, swapped, turnedBy, wanted, withoutPoint } from "./points.js";
import { lengthOf, lengthText } from "../measure.js";

const HOWS = [["sheet", "A rectangle of known size lies in the picture"], ["two", "Two points and their distance"], ["points", "Points whose millimetres are known"]];

export function Length({ label, mm, unit, onMm, least = 0, says = "" }) {
  const [text, setText] = useState(lengthText(mm, unit));
  useEffect(() => { if (lengthOf(text, unit) !== mm) setText(lengthText(mm, unit)); }, [mm, unit]);
  const typed = value => { setText(value); const found = lengthOf(value, unit); if (found !== null && found > least) onMm(found); };
  return html`<label class="field"><span>${label}, ${unit === "inch" ? "inches" : "mm"}</span><input inputmode="decimal" value=${text} onInput=${event => typed(event.target.value)} onBlur=${() => setText(lengthText(mm, unit))} />${says && html`<small>${says}</small>`}</label>`;
}

function PointButton({ hold, chosen, choose, children }) {
  return html`<button class=${sameHold(hold, chosen) ? "point on" : "point"} aria-pressed=${sameHold(hold, chosen)} onClick=${() => choose(hold)}>${children}</button>`;
}

const pixelWords = ([x, y]) => `${x.toFixed(1)}, ${y.toFixed(1)} px`;

// --- its size -----------------------------------------------------------------------------------------------------

export function Sizes({ draft, change, unit, chosen, choose, seen, setTool }) {
  return html`<fieldset class="form"><legend><h3>1. How is its size known?</h3></legend>
    ${HOWS.map(([key, word]) => html`<label class="tick"><input type="radio" name="how" checked=${draft.how === key} onChange=${() => { setTool(null); change(howChosen(draft, key)); }} /> ${word}</label>`)}
    ${draft.how === "sheet" && html`<${Rectangle} draft=${draft} change=${change} unit=${unit} />`}
    ${draft.how === "two" && html`<${Length} label="Distance between the two" mm=${draft.apart} unit=${unit} onMm=${apart => change({ ...draft, apart })} says="Measured on the part, as long as can be. The picture must be taken square on." />`}
    <ul class=${draft.how === "points" ? "points" : "points two"}>${draft.pixels.map((pixel, n) => html`<li key=${n}><${PointButton} hold=${{ kind: "point", n }} chosen=${chosen} choose=${choose}><strong>${cornerWords(draft, n)}</strong> <small>${pixelWords(pixel)}</small></${PointButton}>
      ${draft.how === "points" && html`<${Place} draft=${draft} n=${n} change=${change} unit=${unit} />`}
      ${draft.how === "points" && html`<button class="plain small" aria-label=${`Take away point ${n + 1}`} onClick=${() => change(withoutPoint(draft, n))}>take away</button>`}</li>`)}</ul>
    <div class="tools">${draft.how === "points" && isPlaced(draft) && html`<button onClick=${() => setTool({ kind: "point" })}>Add a point</button>`}
      ${draft.pixels.length > 0 && html`<button class="plain" onClick=${() => { setTool(null); change({ ...draft, pixels: [], typed: [] }); }}>Place the points anew</button>`}</div>
    ${seen && !seen.fits && html`<p class="caution" role="status">${seen.why}</p>`}
  </fieldset>`;
}

function Rectangle({ draft, change, unit }) {
  const row = SHEETS.find(sheet => sheet.key === draft.sheet);
  const cells = (n, value) => { const count = Math.round(Number(value)); if (count >= 1 && count <= 500) change(sheetChosen(draft, draft.sheet, draft.cells.map((held, m) => m === n ? count : held))); };
  return html`<label class="field"><span>The rectangle is</span><select value=${draft.sheet} onChange=${event => change(sheetChosen(draft, event.target.value))}>${SHEETS.map(sheet => html`<option value=${sheet.key} selected=${sheet.key === draft.sheet}>${sheet.word}</option>`)}</select></label>
    ${row.cell && html`<div class="pair">${[["Squares along", 0], ["Squares up", 1]].map(([word, n]) => html`<label class="field"><span>${word}</span><input type="number" min="1" max="500" value=${draft.cells[n]} onInput=${event => cells(n, event.target.value)} /></label>`)}</div>`}
    ${draft.sheet === "typed" && html`<div class="pair"><${Length} label="Along" mm=${draft.wide} unit=${unit} onMm=${wide => change({ ...draft, wide })} /><${Length} label="Up" mm=${draft.high} unit=${unit} onMm=${high => change({ ...draft, high })} /></div>`}
    <p class="quiet">It counts ${lengthText(draft.wide, unit)} by ${lengthText(draft.high, unit)} ${unit === "inch" ? "inches" : "mm"}, along by up. <button class="plain small" onClick=${() => change(swapped(draft))}>swap along and up</button></p>`;
}

function Place({ draft, n, change, unit }) {
  const at = places(draft)[n];
  const put = (m, mm) => change({ ...draft, typed: draft.typed.map((held, k) => k === n ? asBase(draft, at.map((value, j) => j === m ? mm : value)) : held) });
  return html`<div class="pair"><${Length} label="x" mm=${at[0]} unit=${unit} least=${-Infinity} onMm=${mm => put(0, mm)} /><${Length} label="y" mm=${at[1]} unit=${unit} least=${-Infinity} onMm=${mm => put(1, mm)} /></div>`;
}

// --- how it lies --------------------------------------------------------------------------------------------------

export function Lies({ draft, change, tool, setTool, fits, zeroed }) {
  const taking = kind => Boolean(tool && tool.kind === kind), take = kind => setTool(taking(kind) ? null : { kind });
  return html`<fieldset class="form"><legend><h3>3. How does it lie?</h3></legend>
    <div class="tools"><button onClick=${() => change(quarterTurned(draft, 90, zeroed))}>Turn left</button><button onClick=${() => change(quarterTurned(draft, -90, zeroed))}>Turn right</button>
      <button aria-pressed=${taking("level")} disabled=${!fits} onClick=${() => take("level")}>Level by a line</button></div>
    <div class="short"><${Typed} label="Turned, degrees to the left" value=${draft.turned} number onValue=${deg => change(turnedBy({ ...draft, turned: 0 }, deg || 0))} /></div>
    <label class="tick"><input type="checkbox" checked=${draft.mirrored} onChange=${() => change(mirroredDraft(draft))} /> it shows the other side: left and right change</label>
    <div class="tools"><button aria-pressed=${taking("zero")} disabled=${!fits} onClick=${() => take("zero")}>Put the zero</button><button aria-pressed=${taking("along")} disabled=${!fits} onClick=${() => take("along")}>Say which way x runs</button></div>
  </fieldset>`;
}

// --- what the fit is worth ----------------------------------------------------------------------------------------

const digits = value => Number(value.toPrecision(2));
const mm = (value, unit) => unit === "inch" ? `${digits(value / 25.4)} in` : `${digits(value)} mm`;

export function Says({ draft, change, seen, unit, tool, setTool, chosen, choose, more, setMore, film }) {
  const fits = Boolean(seen && seen.fits);
  const addCheck = () => { change({ ...draft, checks: [...draft.checks, { from: null, to: null, length: null }] }); setTool({ kind: "check", n: draft.checks.length }); };
  return html`<fieldset class="form"><legend><h3>2. Does it fit?</h3></legend>
    <div role="status" aria-live="polite">${fits ? html`<${Fit} draft=${draft} seen=${seen} unit=${unit} />` : html`<p class="quiet">${draft.how === "points" ? "Four points at least" : `${wanted(draft)} points`} are needed first.</p>`}</div>
    ${draft.checks.map((check, n) => html`<${Check} key=${n} draft=${draft} change=${change} n=${n} seen=${fits ? seen.checks[draft.checks.slice(0, n).filter(isWhole).length] : null} unit=${unit} setTool=${setTool} chosen=${chosen} choose=${choose} />`)}
    <div class="tools"><button disabled=${!fits || Boolean(tool && tool.kind === "check")} onClick=${addCheck}>Check a distance</button></div>
    <details><summary>The part lies higher than what was measured</summary><div class="pair">
      <${Length} label="Its face is above it by" mm=${more.above} unit=${unit} onMm=${above => setMore({ ...more, above })} least=${-1000} />
      <${Length} label="Taken from" mm=${more.away} unit=${unit} onMm=${away => setMore({ ...more, away })} says=${film ? `The photograph notes its lens (${film} mm in terms of 35 mm film), so this may stay empty.` : "From lens to mat."} /></div></details>
  </fieldset>`;
}

function Fit({ draft, seen, unit }) {
  const { residual: left, verdict, mm_per_px: scale, unsure, camera } = seen, even = scale.most / scale.least < 1.02;
  const worst = left && cornerWords(draft, left.worst_point - 1);
  return html`<p class=${`verdict ${verdict.kind}`}><strong>${verdict.word}.</strong> Off by up to about ${mm(verdict.error_mm, unit)} (${verdict.from}).</p>
    ${verdict.unproved && html`<p class="caution">${verdict.unproved}</p>`}
    <p class="facts">One pixel is ${mm(scale.middle, unit)}${even ? "" : ` in the middle, ${digits(scale.least)} to ${mm(scale.most, unit)} over the part`}.</p>
    <p class="facts">${left ? `The points disagree by ${digits(left.rms_px)} px (${mm(left.rms_mm, unit)}) on the whole; the worst is ${worst}, by ${digits(left.worst_px)} px (${mm(left.worst_mm, unit)}).` : `No residual: ${draft.pixels.length === 2 ? "two" : "four"} points leave nothing over.`}</p>
    <p class="facts">If each point is off by ${unsure.click_px} px, the part's far end is off by about ${mm(unsure.mm, unit)}.</p>
    ${camera && html`<p class="facts">The camera was about ${digits(camera.height_mm / 1000)} m away${camera.tilt_deg > 3 ? `, ${Math.round(camera.tilt_deg)} degrees from square on` : ", square on"}.</p>`}
    ${seen.hints.map(hint => html`<p class="caution">${hint}</p>`)}`;
}

function Check({ draft, change, n, seen, unit, setTool, chosen, choose }) {
  const check = draft.checks[n], put = values => change({ ...draft, checks: draft.checks.map((held, m) => m === n ? { ...held, ...values } : held) });
  const off = seen && (Math.abs(seen.off_mm) <= 2 * seen.click_mm ? "it agrees" : `${mm(Math.abs(seen.off_mm), unit)} too ${seen.off_mm > 0 ? "long" : "short"} (${digits(Math.abs(100 * seen.share))} %)`);
  return html`<div class="check"><p><strong>Check ${n + 1}</strong> ${["from", "to"].map((end, m) => check[end] && html`<${PointButton} hold=${{ kind: "check", n, end }} chosen=${chosen} choose=${choose}>${m ? "other end" : "one end"} <small>${pixelWords(check[end])}</small></${PointButton}>`)}
      <button class="plain small" aria-label=${`Take away check ${n + 1}`} onClick=${() => { setTool(null); change({ ...draft, checks: draft.checks.filter((_, m) => m !== n) }); }}>take away</button></p>
    <${Length} label="Measured on the part" mm=${check.length} unit=${unit} onMm=${length => put({ length })} />
    ${isWhole(check) && seen && html`<p class="facts" role="status">On the picture it is ${lengthText(seen.seen_mm, unit)} ${unit === "inch" ? "in" : "mm"}: ${off}.</p>`}</div>`;
}
