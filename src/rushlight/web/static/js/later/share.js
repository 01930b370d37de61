// The page for showing: made on the computer, with its progress told.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { tell } from "../talk.js";

export function Share({ desk, fresh }) {
  const [pictures, setPictures] = useState(false), [made, setMade] = useState(null), [stage, setStage] = useState(""), [says, setSays] = useState("");
  useEffect(() => {
    const heard = event => { if (event.event === "stage" && event.kind === "share") setStage(event.stage); };
    desk.ears.add(heard);
    return () => desk.ears.delete(heard);
  }, []);
  const make = async () => {
    setStage("starting");
    setSays("");
    try { setMade((await tell(`${desk.path}/share`, { pictures })).body); } catch (error) { setMade(null); setSays(error.message); }
    setStage("");
  };
  return html`<h3>Show it to others</h3>
    <p>One file that opens in any browser, without internet: the drawings, every state, the room light, the lamps.</p>
    <label class="tick"><input type="checkbox" checked=${pictures} onChange=${event => setPictures(event.target.checked)} /> with the pictures of the parts</label>
    <p class="quiet">${pictures ? "They are drawn anew: no place, camera or other tag goes with them. What is seen on them does." : "Drawings only; no picture leaves the computer."}</p>
    <div class="tools"><button disabled=${!fresh || Boolean(stage)} onClick=${make}>${stage ? "Making the page ..." : "Make the page for showing"}</button></div>
    <p role="status" class="quiet">${stage ? `Now: ${stage}.` : ""}</p>
    ${says && html`<p class="caution" role="alert">${says}</p>`}
    ${made && html`<p><a href=${`${desk.path}/share.html`} download="share.html">Save the page</a> (${Math.round(made.size_bytes / 1000)} kB${made.pictures ? `, with ${made.pictures} pictures` : ", drawings only"}).${made.revision === desk.state.revision ? "" : " It belongs to the plan before your last edit."}</p>
      <p class="quiet">It lies in the plan's folder as 'share.html'.</p>`}`;
}
