// An LED without a data sheet: what it is put on, and the meter at each of its four readings.
import { html } from "../../vendor/preact-htm.js";
import { MeterOf } from "./meter.js";

export function Trials({ top, trials }) {
  const first = trials.map((_, n) => trials.slice(0, n).reduce((sum, one) => sum + one.readings.length, 0));
  return html`<p>One LED of the bag behind a resistor on ${trials[0].on}, then behind the other. Write the four readings down: with them the app's <strong>Your own numbers</strong> reckons its resistors. What is expected is that of its colour; yours may lie outside.</p>
    ${trials.map((trial, n) => html`<details class="b-dial" key=${trial.led}><summary>${trial.led}</summary><${Drawn} top=${top} trial=${trial} first=${first[n]} /></details>`)}`;
}

const Drawn = ({ top, trial, first }) => html`<ol class="b-readings">${trial.readings.map((reading, n) => html`<li class="b-reading" key=${reading.name}>
  <h4>${reading.says}</h4><p>Should show <strong>${reading.expect}</strong></p>
  <${MeterOf} top=${top} step=${{ key: "led_trial" }} number=${first + n} says=${reading.says} /></li>`)}</ol>`;
