// Versions and worth at a glance: which lamps belong to which version, what is built, what a version leaves out.
import { html, useState } from "../vendor/preact-htm.js";
import { count } from "./answers.js";
import { lampsIn, versionTable, worthTable } from "./pick.js";

export function Versions({ desk, state, facts }) {
  const [name, setName] = useState(""), { plan } = state, rows = versionTable(plan, facts);
  const build = version => desk.change([{ action: "set", kind: "plan", name: "", values: { version } }], version ? `version ${version} is built` : "lamps of all versions are built");
  const add = event => {
    event.preventDefault();
    const word = name.trim();
    if (word) desk.change([{ action: "add", kind: "versions", name: word, values: {} }], `version ${word} added`).then(done => done && setName(""));
  };
  const only = filter => desk.set({ filter: { ...state.filter, version: "", worth: "", ...filter } });
  const names = list => list.slice(0, 4).map(fact => fact.item.name).join(", ") + (list.length > 4 ? ` and ${list.length - 4} more` : "");
  return html`<details class="versions"><summary>Versions and worth: ${plan.version ? `'${plan.version}' is built` : plan.versions.length ? "no version chosen" : "one version"}; ${worthTable(facts).filter(row => row.facts.length).map(row => `${row.facts.length} ${row.worth}`).join(", ") || "no lamps yet"}</summary>
    ${rows.length > 0 && html`<fieldset><legend>The version that is built and shown</legend>
      ${rows.map(row => html`<div class="version"><label class="tick"><input type="radio" name="version" checked=${row.chosen} onChange=${() => build(row.name)} /> <b>${row.name}</b>${row.note && html` <small>${row.note}</small>`}</label>
        <p class="quiet">${count(row.built, "entry", "entries")} built: ${row.all} of every version${row.own.length ? `, and its own ${names(row.own)}` : ""}. ${row.without.length ? `It leaves out ${names(row.without)}.` : "It leaves out nothing."}
          ${row.without.length > 0 && html` <button class="plain small" onClick=${() => desk.set({ chosen: row.without.map(fact => fact.key) })}>Choose what it leaves out</button>`}</p></div>`)}
      <label class="tick"><input type="radio" name="version" checked=${plan.version === null} onChange=${() => build(null)} /> none chosen: lamps of all versions together</label></fieldset>`}
    <table class="worths"><caption class="unseen">Lamps by worth</caption><thead><tr><th scope="col">Worth</th><th scope="col" class="right">Entries</th><th scope="col" class="right">Lamps built</th><th scope="col"><span class="unseen">Show them</span></th></tr></thead>
      <tbody>${worthTable(facts).map(row => html`<tr><th scope="row">${row.worth}</th><td class="right">${row.facts.length}</td><td class="right">${lampsIn(row.facts)}</td><td>${row.facts.length > 0 && html`<button class="plain small" aria-label=${`list them: those that are ${row.worth}`} onClick=${() => only({ worth: row.worth })}>list them</button>`}</td></tr>`)}</tbody></table>
    <form class="tools level" onSubmit=${add}><label class="field"><span>Another version of the subject</span><input value=${name} onInput=${event => setName(event.target.value)} /></label><button disabled=${!name.trim()}>Add it</button></form>
  </details>`;
}
