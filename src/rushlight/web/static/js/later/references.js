// The leaf of reference pictures: lights seen on them, tied to lamps beside the part.
import { html, useEffect, useRef, useState } from "../../vendor/preact-htm.js";
import { count } from "../answers.js";
import { Choice, Typed } from "../fields.js";
import { freeName, hit, itemsOf, keyOf, parted } from "../items.js";
import { LookAt } from "./look-at.js";
import { lampFor, lampsWithoutMark, markOf, marksToPlace, movedMark, newMark, referenceOf, removedMark, removedPicture, renamedMark, setMark, standingOf, surenessSet, tied } from "../marks.js";
import { ask, hand } from "../talk.js";
import { toWorld } from "../view.js";

const NONE = "nothing yet", REACH_PX = 16, MOST = 40;

export function References({ desk, state, sheet }) {
  const { plan } = state, shown = referenceOf(plan, state.reference) || plan.references[0] || null;
  const [adding, setAdding] = useState(false), [size, setSize] = useState(null);
  const name = shown && shown.name, file = shown && shown.file, mark = shown && markOf(plan, name, state.mark);
  useEffect(() => {
    let gone = false;
    setSize(null);
    if (file) ask(`${desk.path}/photo-facts/${encodeURIComponent(file)}`).then(({ body }) => gone || setSize({ width: body.width_px, height: body.height_px, of: body.stamp }), () => gone || setSize({ width: 0, height: 0 }));
    return () => { gone = true; };
  }, [file]);
  const choose = word => {
    const held = word && markOf(plan, name, word), standing = held && standingOf(plan, name, held);
    desk.set({ mark: word, chosen: standing && standing.key ? [standing.key] : state.chosen });
    const lamp = standing && standing.key && state.look.lamps.find(row => row.group === parted(standing.key).name && row.part);
    if (lamp) sheet.lookAt(lamp.part, lamp.at_mm);
  };
  const add = at => { const change = newMark(shown, at); desk.change([change], `${change.item} marked on ${name}`).then(done => done && desk.set({ mark: change.item })); };
  const marks = shown ? shown.marks.map(row => ({ ...row, ...markWords(plan, name, row) })) : [];
  return html`<div class="tools">
      ${plan.references.length > 0 && html`<${Choice} label="Picture" value=${name} choices=${plan.references.map(row => [row.name, `${row.name} (${count(row.marks.length, "mark")})`])} onValue=${word => desk.set({ reference: word, mark: null })} />`}
      <${HandIn} desk=${desk} label=${shown && !file ? `Hand in the picture of '${name}'` : "Hand in another picture"} of=${shown && !file ? name : null} />
    </div>
    ${!shown && html`<p>No pictures of the subject yet. Hand in a photograph or drawing of it; then mark each light that you can point at, and tie it to a lamp.</p>`}
    ${shown && shown.versions.length > 0 && html`<p class="quiet">It shows the version ${shown.versions.join(", ")}.</p>`}
    ${file && size && size.width === 0 && html`<p class="caution">The picture ${file} cannot be read.</p>`}
    ${file && size && size.width > 0 && html`<${LookAt} src=${`${desk.path}/photos/${encodeURIComponent(file)}?of=${size.of}`} size=${size} label=${`${name}: ${count(marks.length, "light")} marked. ${adding ? "Arrow keys move the cross, Enter marks a light there." : "Arrow keys move the picture, plus and minus bring it nearer."}`}
      marks=${marks} chosen=${mark ? mark.name : null} adding=${adding} onChoose=${choose} onAdd=${add} onMove=${(word, at) => desk.change([movedMark(name, word, at)], `${word} moved on ${name}`)} />`}
    ${shown && html`<div class="tools">${file && html`<button aria-pressed=${adding} class=${adding ? "on" : ""} onClick=${() => setAdding(!adding)}>${adding ? "Done marking" : "Mark lights"}</button>`}
      <span class="quiet">${adding ? "Press each light on the picture." : "A round mark is placed on the model, a square one not yet."}</span></div>`}
    ${mark && html`<${MarkForm} key=${`${name}/${mark.name}`} desk=${desk} state=${state} sheet=${sheet} picture=${name} mark=${mark} />`}
    ${shown && html`<${Overview} desk=${desk} state=${state} sheet=${sheet} marks=${marks} name=${name} choose=${choose} />`}`;
}

function markWords(plan, picture, mark) {
  const { word, placed, key } = standingOf(plan, picture, mark);
  return { placed, says: `${mark.name}${mark.colour ? `, ${mark.colour}` : ""}, ${Math.round(mark.certainty * 100)} % sure: ${key ? `${parted(key).name}, ` : ""}${word}` };
}

function MarkForm({ desk, state, sheet, picture, mark }) {
  const { plan } = state, standing = standingOf(plan, picture, mark), [waits, setWaits] = useState("");
  const put = useRef(null);
  const done = () => { if (put.current) put.current(); put.current = null; setWaits(""); };
  useEffect(() => done, []);
  const wait = (word, hand) => {
    done();
    if (waits === word) return;
    const escape = (_, event) => event.key === "Escape" && (done(), true);
    put.current = sheet.hands.takeUp({ key: escape, ...hand });
    setWaits(word);
    sheet.canvas.scrollIntoView({ block: "nearest" });
  };
  const tie = key => desk.change(tied(plan, picture, mark.name, key), key ? `${mark.name} tied to ${parted(key).name}` : `${mark.name} tied to nothing`).then(made => made && key && desk.set({ chosen: [key] }));
  const fresh = where => {
    const name = freeName(plan, mark.name);
    desk.change(lampFor(plan, picture, mark, name, { where, states: [state.state] }), `${name} placed for the mark ${mark.name}`).then(made => made && desk.set({ chosen: [keyOf("lamps", name)] }));
  };
  const under = (own, at) => hit(own.placed, toWorld(own.view, own.size, at), REACH_PX / own.view.scale);
  const press = { hover: (own, at) => under(own, at) ? "pointer" : "crosshair", grab: (own, at) => { const found = under(own, at); return found ? { dropped: () => { done(); tie(found.key); } } : null; } };
  const lay = { hover: () => "crosshair", tapped: (own, at) => { const where = own.partUnder(at); if (where) { done(); fresh(where); } return true; }, grab: () => null, alone: true };
  const rename = word => word && desk.change(renamedMark(plan, picture, mark.name, word), `${mark.name} named ${word}`).then(made => made && desk.set({ mark: word }));
  return html`<section class="form chosen" aria-label=${`The mark ${mark.name}`}>
    <div class="pair"><${Typed} label="Seen there" value=${mark.name} onValue=${rename} />
      <${Typed} label="Its colour" value=${mark.colour || ""} list="colours" onValue=${colour => desk.change([setMark(picture, mark.name, { colour })], `${mark.name}: colour ${colour || "not told"}`)} /></div>
    <datalist id="colours">${state.words.colours.map(word => html`<option value=${word}></option>`)}</datalist>
    <${Typed} label="How sure that it is a light, 0 to 100" unit="%" number value=${Math.round(mark.certainty * 100)} onValue=${value => value !== null && value >= 0 && value <= 100 && desk.change(surenessSet(plan, picture, mark.name, Math.round(value) / 100), `${mark.name}: ${Math.round(value)} % sure`)} />
    <${Choice} label="It is the lamp, row or strip" value=${standing.key || NONE} choices=${[NONE, ...itemsOf(plan).map(({ key, item }) => [key, item.part ? `${item.name} (${item.part})` : `${item.name} (not placed yet)`])]} onValue=${word => tie(word === NONE ? null : word)} />
    <p class="facts">${standing.key ? `${parted(standing.key).name} is ${standing.word}; this mark is evidence for it.` : "Not a lamp yet: tie it to one, or place a new one for it."}</p>
    <div class="tools">
      <button aria-pressed=${waits === "tie"} onClick=${() => wait("tie", press)}>${waits === "tie" ? "Press the lamp on the sheet ..." : "Tie: press the lamp on the sheet"}</button>
      ${!standing.key && html`<button aria-pressed=${waits === "lay"} onClick=${() => wait("lay", lay)}>${waits === "lay" ? "Press its place on the sheet ..." : "New lamp: press its place on the sheet"}</button>
        <button onClick=${() => fresh(null)}>New lamp, to be placed later</button>`}
      <button onClick=${() => desk.change(removedMark(plan, picture, mark.name), `${mark.name} taken off ${picture}`)}>Remove this mark</button>
    </div></section>`;
}

function Overview({ desk, state, sheet, marks, name, choose }) {
  const open = marksToPlace(state.plan), bare = lampsWithoutMark(state.plan);
  const to = ({ picture, mark }) => desk.set({ reference: picture, mark: mark.name });
  const show = ({ key, item }) => { const lamp = state.look.lamps.find(row => row.group === item.name && row.part); desk.set({ chosen: [key] }); if (lamp) sheet.lookAt(lamp.part, lamp.at_mm); };
  return html`<details open><summary>Marked on this picture: ${marks.length}</summary>
      <ul class="list">${marks.map(mark => html`<li><button class=${state.mark === mark.name ? "row on" : "row"} aria-pressed=${state.mark === mark.name} onClick=${() => choose(mark.name)}><strong>${mark.name}</strong><small>${mark.says.slice(mark.name.length).replace(/^[,:] /, "")}</small></button></li>`)}</ul></details>
    <details><summary>Marked but not placed, on all pictures: ${open.length}</summary>${open.length === 0 && html`<p class="quiet">Every light that is marked is placed, or left out.</p>`}
      <ul class="list">${open.slice(0, MOST).map(row => html`<li><button class="row" onClick=${() => to(row)}><strong>${row.mark.name}</strong><small>on ${row.picture}</small></button></li>`)}</ul></details>
    <details><summary>Lamps that no picture shows: ${bare.length}</summary>
      <ul class="list">${bare.slice(0, MOST).map(row => html`<li><button class="row" onClick=${() => show(row)}><strong>${row.item.name}</strong><small>${row.item.part || "not placed yet"}</small></button></li>`)}</ul>
      ${bare.length > MOST && html`<p class="quiet">And ${bare.length - MOST} more.</p>`}</details>
    <div class="tools"><button class="plain" onClick=${() => desk.change(removedPicture(state.plan, name), `${name} taken off the references`)}>Take this picture off the references</button></div>`;
}

// The file goes to the server as it is; what it makes of it is a step like any other.
function HandIn({ desk, label, of }) {
  const [says, setSays] = useState(""), sent = async event => {
    const [file] = event.target.files;
    event.target.value = "";
    if (!file) return;
    setSays(`Handing in ${file.name} ...`);
    const made = await desk.sent(() => hand(`${desk.path}/pictures?as=${of ? "keep" : "reference"}&name=${encodeURIComponent(file.name)}&revision=${desk.state.revision}`, file)
      .then(answer => { setSays(""); desk.handed = answer.body.kept; return answer; }));
    setSays("");
    if (!made) return;
    if (of) await desk.change([{ action: "set", kind: "references", name: of, values: { file: desk.handed.file } }], `picture given to ${of}`);
    const row = desk.state.plan.references.find(one => one.file === desk.handed.file);
    desk.set({ reference: row ? row.name : of, mark: null });
  };
  return html`<label class="filebutton"><input type="file" class="unseen" accept="image/*,.heic,.heif" onChange=${sent} /><span>${label}</span></label><span class="quiet" role="status">${says}</span>`;
}
