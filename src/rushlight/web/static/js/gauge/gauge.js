// The gauge: a picture gets its millimetres, its turn and its zero; what is said of the fit comes from the server.
import { html, useEffect, useLayoutEffect, useMemo, useRef, useState } from "../../vendor/preact-htm.js";
import { GaugeCanvas, sameHold } from "./canvas.js";
import { Length, Lies, Says, Sizes } from "./form.js";
import { cornerWords, draftOf, firstFrame, frameCorners, framed, inverse, isPlaced, isWhole, levelled, mapped, movedPoint, NEW_DRAFT, places, planPicture, wanted, withPoint, zeroAt } from "./points.js";
import { ask, tell } from "../talk.js";

const photoPath = (desk, file) => `${desk.path}/photos/${file.split("/").map(encodeURIComponent).join("/")}`;

export function Gauge({ desk, state, sheet }) {
  const { part: name, file } = state.gauge, part = state.plan.parts.find(row => row.name === name) || null;
  const [facts, image] = usePhoto(desk, file), kept = part && part.picture && part.picture.file === file ? part.picture : null;
  const [draft, setDraft] = useState(() => kept && kept.points.length ? draftOf(kept) : NEW_DRAFT);
  const [chosen, setChosen] = useState(null), [tool, setTool] = useState(null), [more, setMore] = useState({ above: null, away: null });
  const [frame, setFrame] = useState(null), [framing, setFraming] = useState(!part), [zeroed, setZeroed] = useState(Boolean(kept && kept.points.length && !fromZero(part)));
  const [title, setTitle] = useState(() => freePart(state.plan)), [opener] = useState(() => document.activeElement), canvas = useRef(null), made = useRef(null), head = useRef(null);
  const outline = part && !framing ? part.outline_mm : null, box = framing ? frame : null;
  const [seen, isNew] = useSeen(desk, facts, draft, box ? frameCorners(box) : outline, more);
  const fits = Boolean(seen && seen.fits), awaiting = awaits(draft, tool, fits), size = facts && [facts.width_px, facts.height_px];

  const change = next => { setDraft(next); if (next.turned !== draft.turned || next.mirrored !== draft.mirrored || next.wide !== draft.wide || next.high !== draft.high || next.apart !== draft.apart) setFrame(null); };
  const hands = {
    chosen: setChosen,
    moved: (hold, pixel) => {
      if (hold.kind === "point") change(movedPoint(draft, hold.n, pixel));
      else if (hold.kind === "check") change({ ...draft, checks: draft.checks.map((check, n) => n === hold.n ? { ...check, [hold.end]: pixel } : check) });
      else if (fits && frame) setFrame(framed(frame, hold.n, mapped(seen.to_mm, pixel)));
    },
    placed: pixel => placed(pixel),
  };
  const latest = useRef(hands);
  latest.current = hands;

  function placed(pixel) {
    if (tool && fits) return used(mapped(seen.to_mm, pixel), pixel);
    const next = withPoint(draft, pixel);
    change(next);
    setChosen({ kind: "point", n: next.pixels.length - 1 });
    return null;
  }

  function used(at, pixel) {
    if (tool.kind === "zero") {
      change(zeroAt(draft, at));
      setZeroed(true);
      if (frame) setFrame({ left: frame.left - at[0], right: frame.right - at[0], low: frame.low - at[1], top: frame.top - at[1] });
      setTool(null);
    } else if (tool.kind === "check") {
      const end = draft.checks[tool.n].from ? "to" : "from";
      change({ ...draft, checks: draft.checks.map((check, n) => n === tool.n ? { ...check, [end]: pixel } : check) });
      setChosen({ kind: "check", n: tool.n, end });
      if (end === "to") setTool(null);
    } else if (!tool.from) setTool({ ...tool, from: at });
    else { change(levelled(draft, tool.from, at, { along: tool.kind === "along" })); setTool(null); }
  }

  // Before the next press or key, not after the next picture on the screen: the canvas acts on what it was last shown.
  useLayoutEffect(() => {
    made.current = new GaugeCanvas(canvas.current, { chosen: hold => latest.current.chosen(hold), moved: (hold, pixel) => latest.current.moved(hold, pixel), placed: pixel => latest.current.placed(pixel) });
    window.rushlight.gauge = made.current;
    head.current.focus();
    return () => { made.current.close(); delete window.rushlight.gauge; setTimeout(() => (opener.isConnected && opener !== document.body ? opener : document.getElementById("sheet")).focus()); };
  }, []);
  useEffect(() => { if (fits && isNew && framing && !frame && size) setFrame(firstFrame(seen.to_mm, size, draft.pixels)); });
  const holds = useMemo(() => holdsOf(draft, fits && box ? frameCorners(box).map(at => mapped(inverse(seen.to_mm), at)) : []), [draft, fits, box, seen]);
  useLayoutEffect(() => {
    if (facts && made.current) made.current.show({ draft, seen, image, picture: size, holds, chosen, awaiting, frame: box, outline, light: state.light, unit: state.unit });
  });
  const choose = hold => { setChosen(hold); const row = holds.find(one => sameHold(one.hold, hold)); if (row && made.current) made.current.reveal(row.pixel); };
  const edged = (key, value) => { const next = { ...frame, [key]: value }; if (next.left < next.right && next.low < next.top) setFrame(next); };
  const keys = event => { if (event.key === "Escape") { event.stopPropagation(); if (tool) setTool(null); else setChosen(null); } };

  const save = () => {
    const ready = framing && !zeroed ? zeroAt(draft, [frame.left, frame.low]) : draft, back = framing && !zeroed ? [frame.left, frame.low] : [0, 0];
    const values = { picture: planPicture(ready, file, kept ? kept.note : "") };
    if (framing) values.outline_mm = frameCorners(frame).map(([x, y]) => [tidy(x - back[0]), tidy(y - back[1])]);
    const step = part ? { action: "set", kind: "parts", name, values } : { action: "add", kind: "parts", name: title.trim(), values };
    desk.change(() => [step], part ? `picture of ${name} given its size` : `${title.trim()} made from a picture`)
      .then(done => { if (done) { desk.set({ gauge: null, part: part ? name : title.trim(), leaf: "parts" }); setTimeout(() => sheet.fit(desk.state.part)); } });
  };
  const taken = !part && state.plan.parts.some(row => row.name === title.trim());
  const canSave = fits && isPlaced(draft) && (!framing || frame) && (part || (title.trim() && !taken)) && !state.saving;
  return html`<section class="gauge" data-shown=${image ? "yes" : "no"} role="dialog" aria-modal="true" aria-labelledby="gauge-title" onKeyDown=${keys}>
    <div class="gauge-picture">
      <canvas ref=${canvas} tabindex="0" role="img" aria-label=${`${file}, ${draft.pixels.length} points placed${fits ? ", to scale" : ""}`} aria-describedby="gauge-keys"></canvas>
      <p id="gauge-keys" class="unseen">Arrow keys move the chosen point by 1 pixel, with Shift by 10, with Alt by a tenth. While a point is awaited they move the picture, and Enter puts the point in its middle. Plus, minus and 0 zoom.</p>
      <p class="gauge-tell plate" role="status">${image ? asks(draft, tool, fits) : state.gauge.says || "Opening the picture ..."}</p>
      <p class="gauge-zooms plate"><button class="plain" aria-label="Smaller" onClick=${() => made.current.zoom(1 / 1.3)}>−</button><button class="plain" aria-label="The whole picture" onClick=${() => made.current.fit()}>Whole</button><button class="plain" aria-label="Larger" onClick=${() => made.current.zoom(1.3)}>+</button>
        ${awaiting && html`<button onClick=${() => placed(made.current.middle())}>Put it in the middle</button>`}</p>
    </div>
    <div class="gauge-form plate">
      <h2 id="gauge-title" tabindex="-1" ref=${head}>${part ? `The picture of ${name}` : "A new part from a picture"}</h2>
      <p class="quiet">${file}${facts ? `, ${facts.width_px} by ${facts.height_px} pixels` : ""}. The file itself is never changed.</p>
      ${facts && facts.says && html`<p class="caution" role="alert">${facts.says}</p>`}
      <${Sizes} draft=${draft} change=${change} unit=${state.unit} chosen=${chosen} choose=${choose} seen=${seen} setTool=${setTool} />
      <${Says} draft=${draft} change=${change} seen=${seen} unit=${state.unit} tool=${tool} setTool=${setTool} chosen=${chosen} choose=${choose} more=${more} setMore=${setMore} film=${facts ? facts.film_mm : 0} />
      <${Lies} draft=${draft} change=${change} tool=${tool} setTool=${setTool} fits=${fits} zeroed=${zeroed} />
      ${part && html`<label class="tick"><input type="checkbox" checked=${framing} onChange=${event => { setFraming(event.target.checked); setFrame(null); }} /> frame the part anew: its outline becomes a box on this picture</label>`}
      ${framing && html`<fieldset class="form"><legend><h3>4. ${part ? "Its frame" : "The part"}</h3></legend>
        ${!part && html`<label class="field"><span>Name of the part</span><input value=${title} onInput=${event => setTitle(event.target.value)} />${taken && html`<small>There is a part of that name.</small>`}</label>`}
        ${frame ? html`<p class="quiet">Drag the frame's corners round the part, or type its edges. ${zeroed ? "" : "Its lower left corner becomes the zero."}</p>
          <div class="four">${[["left", "Left"], ["right", "Right"], ["low", "Low"], ["top", "Top"]].map(([key, word]) => html`<${Length} label=${word} mm=${tidy(frame[key])} unit=${state.unit} least=${-Infinity} onMm=${value => edged(key, value)} />`)}</div>` : html`<p class="quiet">When the picture has its size, a frame can be drawn.</p>`}
      </fieldset>`}
      <div class="tools gauge-end"><button class="main" disabled=${!canSave} onClick=${save}>${part ? `Put it under ${name}` : "Make the part"}</button><button onClick=${() => desk.set({ gauge: null })}>Leave without it</button></div>
    </div>
  </section>`;
}

const tidy = value => Math.round(value * 100) / 100;

// A box that begins at the zero: its zero is its corner, not a place that someone chose.
function fromZero(part) {
  return part.outline_mm.length === 4 && part.outline_mm.every(([x, y]) => x >= 0 && y >= 0) && part.outline_mm.some(([x, y]) => x === 0 && y === 0);
}

function freePart(plan) {
  const taken = new Set(plan.parts.map(part => part.name));
  for (let n = 1; ; n += 1) if (!taken.has(n === 1 ? "part" : `part ${n}`)) return n === 1 ? "part" : `part ${n}`;
}

const awaits = (draft, tool, fits) => Boolean((tool && fits) || (!tool && draft.pixels.length < wanted(draft) && (draft.how !== "points" || !isPlaced(draft))) || (tool && tool.kind === "point"));

function asks(draft, tool, fits) {
  if (tool && fits) {
    if (tool.kind === "zero") return "Press the place on the picture that shall be the part's zero.";
    if (tool.kind === "check") return draft.checks[tool.n].from ? "Now the other end of the measured distance." : "Press one end of a distance that you measured on the part.";
    if (tool.kind === "along") return tool.from ? "Now a second point: x runs there." : "Press the point from which x shall run.";
    return tool.from ? "Now the other end of the level line." : "Press one end of a line that shall lie level.";
  }
  if (draft.pixels.length < wanted(draft) && (draft.how !== "points" || !isPlaced(draft) || tool)) {
    const left = wanted(draft) - draft.pixels.length;
    if (draft.how === "two") return left === 2 ? "Press one end of a distance that you know." : "Now its other end.";
    if (draft.how === "sheet") return left === 4 ? "Press the four corners of the rectangle, in any order." : `Good. ${left} corner${left === 1 ? "" : "s"} to go.`;
    return `Press a point whose place you know (${draft.pixels.length} so far, four at least).`;
  }
  return "Drag the points, or choose one and move it by the arrow keys; the glass shows it larger.";
}

function holdsOf(draft, frame) {
  const rows = draft.pixels.map((pixel, n) => ({ hold: { kind: "point", n }, pixel, word: cornerWords(draft, n) }));
  const checks = draft.checks.flatMap((check, n) => ["from", "to"].filter(end => check[end]).map(end => ({ hold: { kind: "check", n, end }, pixel: check[end], word: "" })));
  return [...rows, ...checks, ...frame.filter(pixel => pixel.every(Number.isFinite)).map((pixel, n) => ({ hold: { kind: "frame", n }, pixel, word: "" }))];
}

// What the file says of itself, and its picture.
function usePhoto(desk, file) {
  const [facts, setFacts] = useState(null), [image, setImage] = useState(null);
  useEffect(() => {
    let wanted = true;
    ask(`${desk.path}/photo-facts/${file.split("/").map(encodeURIComponent).join("/")}`).then(({ body }) => {
      if (!wanted) return;
      setFacts(body);
      const made = new Image();
      made.onload = () => wanted && setImage(made);
      made.src = `${photoPath(desk, file)}?of=${body.stamp}`;
    }, error => desk.set({ trouble: { says: error.message, problems: [] }, gauge: null }));
    return () => { wanted = false; };
  }, [file]);
  return [facts, image];
}

// Asked anew with every change, one question at a time, the newest last.
function useSeen(desk, facts, draft, corners, more) {
  const [held, setSeen] = useState({ seen: null, of: "" }), line = useRef({ busy: false, next: null });
  const ready = facts && isPlaced(draft);
  const body = ready && {
    points: draft.pixels.map((pixel, n) => ({ pixel, at_mm: places(draft)[n] })), mirrored: draft.mirrored, turned_deg: draft.turned,
    width_px: facts.width_px, height_px: facts.height_px, film_mm: facts.film_mm, corners_mm: corners || [],
    checks: draft.checks.filter(isWhole).map(({ from, to, length }) => ({ from_px: from, to_px: to, length_mm: length })),
    above_mm: more.above || 0, camera_mm: more.away || 0,
  };
  const words = ready ? JSON.stringify(body) : "";
  useEffect(() => {
    if (!ready) { setSeen({ seen: null, of: "" }); line.current.next = null; return; }
    line.current.next = words;
    if (line.current.busy) return;
    const go = async () => {
      line.current.busy = true;
      while (line.current.next) {
        const asked = line.current.next;
        line.current.next = null;
        try { setSeen({ seen: (await tell(`${desk.path}/gauge`, JSON.parse(asked))).body, of: asked }); } catch (error) { setSeen({ seen: { fits: false, why: error.message }, of: asked }); }
      }
      line.current.busy = false;
    };
    go();
  }, [words]);
  return [ready ? held.seen : null, held.of === words];
}
