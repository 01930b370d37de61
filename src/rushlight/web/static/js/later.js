// A screen whose modules are fetched when it is first shown; a small piece of a leaf says nothing meanwhile.
import { html, useEffect, useState } from "../vendor/preact-htm.js";

export function Later({ load, of, says = "Fetching it ...", ...rest }) {
  const [Inside, setInside] = useState(null), [trouble, setTrouble] = useState("");
  useEffect(() => { load().then(found => setInside(() => found[of]), () => setTrouble("It did not load; is the app's server still there?")); }, []);
  return Inside ? html`<${Inside} ...${rest} />` : (trouble || says) && html`<p class="quiet" role="status">${trouble || says}</p>`;
}
