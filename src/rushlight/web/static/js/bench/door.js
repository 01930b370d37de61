// The door to the network, on the computer: let a phone in, who is in, send one away, close.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { ask, tell } from "../talk.js";

const LOOK_MS = 3000;

export function DoorPlate({ desk }) {
  const [door, setDoor] = useState(null), [trouble, setTrouble] = useState(""), [address, setAddress] = useState("");
  const look = () => ask("/api/door").then(({ body }) => setDoor(body), () => {});
  useEffect(() => {
    look();
    const heard = event => { if (event.event === "door") look(); };
    desk.ears.add(heard);
    return () => desk.ears.delete(heard);
  }, []);
  useEffect(() => {
    if (!door || !door.open) return undefined;
    const again = setInterval(look, LOOK_MS);
    return () => clearInterval(again);
  }, [door && door.open]);
  const act = async (path, body) => {
    setTrouble("");
    try { setDoor((await tell(path, body)).body); } catch (error) { setTrouble(error.message); look(); }
  };
  if (!door) return html`<section class="b-door" aria-label="A phone at the bench"></section>`;
  const here = door.open && door.plan === desk.state.id;
  return html`<section class="b-door" aria-label="A phone at the bench">
    ${here ? html`<${Open} door=${door} act=${act} />` : html`<${Closed} door=${door} address=${address || door.addresses?.[0] || ""} setAddress=${setAddress} onLook=${look} onOpen=${at => act(`${desk.path}/door`, { address: at })} />`}
    ${trouble && html`<p class="caution" role="alert">${trouble}</p>`}
  </section>`;
}

function Closed({ door, address, setAddress, onOpen, onLook }) {
  const { addresses } = door;
  return html`<h3>A phone beside the computer</h3>
    ${door.open && html`<p class="caution">The door is open for '${door.title}' now. Opened here, it closes there.</p>`}
    ${door.why && html`<p class="caution" role="status">${door.why}</p>`}
    ${addresses.length === 0 ? html`<p>This computer is in no local network now. Join your own network (or let the phone make one).</p><div class="b-tools"><button onClick=${onLook}>Look again</button></div>`
    : html`<p>This plan's bench, and nothing else, is then to be seen in your local network by phones that have the code. It goes over plain HTTP: whoever is in the same network could read along. Use your own.</p>
      ${addresses.length > 1 && html`<label class="field"><span>In which network?</span><select value=${address} onChange=${event => setAddress(event.target.value)}>${addresses.map(row => html`<option value=${row} selected=${row === address}>${row}</option>`)}</select></label>`}
      <div class="b-tools"><button class="b-main" onClick=${() => onOpen(address)}>Let a phone in</button></div>`}`;
}

function Open({ door, act }) {
  return html`<h3>The door is open</h3>
    ${door.code ? html`<p>With the phone in the same network, photograph this, or open <strong>${door.link}</strong> and type</p>
      <p class="b-code" aria-label=${`Code ${[...door.code].join(" ")}`}>${door.code}</p>
      <${Qr} rows=${door.qr} label=${`QR of ${door.link} with the code`} />
      <p class="quiet">Good for one phone and ${Math.ceil(door.code_left_s / 60)} more minutes.</p>`
    : html`<p role="status">${door.shut ? `${door.most_wrong} wrong codes were typed: the door is shut to new phones. Somebody may be trying; ask for a new code only if it was you.` : "The code was used or is too old."}</p>
      <div class="b-tools"><button onClick=${() => act("/api/door/code", {})}>A new code, for one more phone</button></div>`}
    ${door.phones.length > 0 ? html`<ul>${door.phones.map(phone => html`<li key=${phone.key}><span><strong>${phone.name}</strong> <small>${phone.silent_s < 60 ? "here" : `silent for ${Math.round(phone.silent_s / 60)} min`}</small></span>
      <button class="b-quiet" aria-label=${`Send away ${phone.name}`} onClick=${() => act("/api/door/send-away", { key: phone.key })}>Send away</button></li>`)}</ul>` : html`<p class="quiet">No phone is in yet.</p>`}
    <div class="b-tools"><button onClick=${() => act("/api/door/close", {})}>Close the door</button></div>
    <p class="quiet">It closes with the app, and by itself ${door.idle_minutes} minutes after the last phone was heard.</p>`;
}

// Dark on white by day and by night: many phones cannot read it the other way round.
function Qr({ rows, label }) {
  const size = rows.length, path = rows.map((row, y) => [...row].map((cell, x) => cell === "1" ? `M${x} ${y}h1v1h-1z` : "").join("")).join("");
  return html`<div class="b-qr"><svg viewBox=${`-2 -2 ${size + 4} ${size + 4}`} role="img" aria-label=${label} shape-rendering="crispEdges"><path d=${path} fill="#000" /></svg></div>`;
}
