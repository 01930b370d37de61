// What speaks for a chosen lamp and against it: read, added to, taken out.
import { html, useState } from "../vendor/preact-htm.js";
import { Choice, Typed } from "./fields.js";
import { evidenceWords, withEvidence, withoutEvidence } from "./marks.js";

const KINDS = ["text", "drawing", "rule", "guess"];

export function EvidenceOf({ desk, of, item }) {
  const [fresh, setFresh] = useState({ kind: "text", what: "", certainty: 80, says: "for" }), rows = item.evidence || [];
  const add = () => {
    const row = { kind: fresh.kind, of: fresh.kind === "guess" ? null : fresh.what || null, says: fresh.says, certainty: fresh.certainty / 100 };
    desk.edit(of, withEvidence(item, row), `${item.name}: ${fresh.kind} speaks ${fresh.says} it`).then(done => done && setFresh({ ...fresh, what: "" }));
  };
  return html`<details class="evidence"><summary>Evidence: ${rows.length === 0 ? "none yet" : `${rows.length}`}</summary>
    <ul class="list">${rows.map((row, n) => html`<li class="evidence-row"><span>${evidenceWords(row)}</span><button class="plain small" aria-label=${`take out: ${evidenceWords(row)}`} onClick=${() => desk.edit(of, withoutEvidence(item, n), `${item.name}: evidence taken out`)}>take out</button></li>`)}</ul>
    <div class="pair"><${Choice} label="Another witness" value=${fresh.kind} choices=${KINDS} onValue=${kind => setFresh({ ...fresh, kind })} />
      <${Choice} label="It speaks" value=${fresh.says} choices=${[["for", "for the lamp"], ["against", "against it"]]} onValue=${says => setFresh({ ...fresh, says })} /></div>
    <div class="pair">${fresh.kind !== "guess" ? html`<${Typed} label="Which one" value=${fresh.what} onValue=${what => setFresh({ ...fresh, what: what || "" })} />` : html`<p class="quiet">A guess, said to be one, is evidence too.</p>`}
      <${Typed} label="How sure, 0 to 100" unit="%" number value=${fresh.certainty} onValue=${value => value !== null && value >= 0 && value <= 100 && setFresh({ ...fresh, certainty: Math.round(value) })} /></div>
    <div class="tools"><button onClick=${add}>Add it</button></div>
    <p class="quiet">Pictures are witnesses by their marks: see the leaf Evidence.</p></details>`;
}
