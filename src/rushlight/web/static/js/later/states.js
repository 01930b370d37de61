// The states of the subject: each a condition in which some lamps are lit.
import { html, useRef, useState } from "../../vendor/preact-htm.js";
import { count } from "../answers.js";
import { Line, Pick, tried, useForms } from "./at-field.js";
import { addedState, litIn, movedState, renamedState, withoutState } from "./state-rows.js";

export function States({ desk, state }) {
  const { plan } = state, forms = useForms(desk), ids = useRef(new Map());
  // A state under another name is the same still: its box stays open.
  const idOf = name => { if (!ids.current.has(name)) ids.current.set(name, `${name} ${performance.now()}`); return ids.current.get(name); };
  return html`<details class="statesform"><summary>States: ${plan.states.map(row => row.name).join(", ")}</summary>
    <p class="quiet">Each is a condition of the subject in which some lamps are lit: under way, moored, landing. The switch brings them up in this order. Which lamps are lit in which is ticked in the table above.</p>
    <datalist id="rule-states">${forms && forms.states.map(name => html`<option value=${name}></option>`)}</datalist>
    ${plan.states.map((row, n) => html`<${One} key=${idOf(row.name)} ids=${ids.current} desk=${desk} state=${state} row=${row} n=${n} />`)}
    <${NewState} desk=${desk} plan=${plan} /></details>`;
}

function One({ desk, state, row, n, ids }) {
  const { plan } = state, { name } = row, lit = litIn(plan, name), [wrong, setWrong] = useState("");
  const set = (values, what) => tried(desk, () => [{ action: "set", kind: "states", name, values }], `${name}: ${what}`);
  const rename = async fresh => {
    if (!fresh) return "It needs a name.";
    if (plan.states.some(one => one.name === fresh)) return "There is a state of that name.";
    ids.set(fresh, ids.get(name));
    const here = desk.state.state === name, refused = await tried(desk, now => renamedState(now, name, fresh), `${name} named ${fresh}`);
    ids.delete(refused ? fresh : name);
    if (!refused && here) desk.set({ state: fresh });
    return refused;
  };
  const act = async (changes, what) => setWrong(await tried(desk, changes, what));
  return html`<details class="state-of"><summary><strong>${name}</strong> <small>${count(lit.length, "entry", "entries")} lit${row.minutes ? `; shown ${row.minutes} min` : ""}</small></summary><div class="form">
    <${Line} label="Name of the state" value=${name} onValue=${rename} />
    <${Line} label="In the rules it is called" value=${row.rule} list="rule-states" says="Its lamps are then held against the rule. Left empty: no rule." onValue=${rule => set({ rule }, rule ? `is '${rule}' of the rules` : "no state of the rules")} />
    <${Line} label="Shown on a usual evening" unit="minutes" kind="number" value=${row.minutes} onValue=${minutes => set({ minutes }, "how long it is shown")} />
    <${Line} label="Note" long value=${row.note} onValue=${note => set({ note }, "note changed")} />
    ${lit.length > 0 && html`<p class="facts">Lit: ${lit.map(({ item }) => item.name).join(", ")}.</p>`}
    ${row.poses.length > 0 && html`<p class="facts">Stands then: ${row.poses.map(pose => `${pose.part} ${pose.at}`).join(", ")}.</p>`}
    ${wrong && html`<p class="wrong" role="alert">${wrong}</p>`}
    <div class="tools"><button class="small" disabled=${n === 0} aria-label=${`Earlier: ${name}`} onClick=${() => act(now => movedState(now, name, -1), `${name} earlier among the states`)}>Earlier</button>
      <button class="small" disabled=${n === plan.states.length - 1} aria-label=${`Later: ${name}`} onClick=${() => act(now => movedState(now, name, 1), `${name} later among the states`)}>Later</button>
      <button class="small" disabled=${plan.states.length === 1} aria-label=${`Take ${name} out`} onClick=${() => act(now => withoutState(now, name), `state ${name} taken out`)}>Take ${name} out</button></div></div></details>`;
}

function NewState({ desk, plan }) {
  const [name, setName] = useState(""), [like, setLike] = useState(""), [wrong, setWrong] = useState("");
  const add = async event => {
    event.preventDefault();
    const word = name.trim(), taken = plan.states.some(row => row.name === word);
    const refused = !word ? "It needs a name." : taken ? "There is a state of that name." : await tried(desk, now => addedState(now, word, like), `state ${word} added`);
    setWrong(refused);
    if (!refused) { setName(""); desk.set({ state: word, switchedOff: false }); }
  };
  return html`<form class="form" onSubmit=${add}><label class="field"><span>Another state</span><input value=${name} onInput=${event => setName(event.target.value)} aria-invalid=${wrong ? "true" : null} aria-describedby=${wrong ? "new-state-wrong" : null} /></label>
    <${Pick} label="Lit in it at first" value=${like} choices=${[["", "nothing yet"], ...plan.states.map(row => [row.name, `what is lit when ${row.name}`])]} onValue=${word => { setLike(word); return ""; }} />
    ${wrong && html`<p class="wrong" role="alert" id="new-state-wrong">${wrong}</p>`}
    <div class="tools"><button>Add this state</button></div></form>`;
}
