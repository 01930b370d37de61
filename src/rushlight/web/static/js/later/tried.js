// A finding's edit tried before it is pressed: what it takes away, what it brings, and one that brings nothing.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { press } from "../cure.js";
import { askAfter } from "../talk.js";

export function Tried({ desk, finding, fresh, revision }) {
  const [known, setKnown] = useState(null);
  useEffect(() => {
    setKnown(null);
    if (!fresh) return undefined;
    let wanted = true;
    const asked = new URLSearchParams({ key: finding.key, item: finding.item });
    askAfter(`${desk.path}/tried?${asked}`).then(body => wanted && body && setKnown(body), () => wanted && setKnown({ says: "It could not be tried just now; it can be pressed all the same, and taken back.", brings: [], other: null }));
    return () => { wanted = false; };
  }, [finding.key, finding.item, fresh, revision]);
  if (!fresh) return null;
  if (!known) return html`<p class="quiet" role="status">Being tried on the plan ...</p>`;
  return html`<p class=${known.brings.length ? "caution" : "quiet"} role="status">${known.says}</p>
    ${known.other && html`<p class="tools"><button class="cure" onClick=${() => press(desk, finding, known.other)}>Instead: ${known.other.says.replace(/\.$/, "")}</button></p><p class="quiet">${known.other.tried}</p>`}`;
}
