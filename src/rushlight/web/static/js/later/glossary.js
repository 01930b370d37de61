// Words of the trade that a leaf uses, told once in its head: opened by finger, key or mouse.
import { html } from "../../vendor/preact-htm.js";

const MEANS = {
  "bundle": "Several fibres in one tube on one LED. Each is numbered I1, I2 and so on.",
  "branch": "A lead from one splice to the next.",
  "candela (cd), mcd": "How strongly a lamp shines in one direction; 1 cd is 1000 mcd, about a candle.",
  "cd/m2": "How bright a surface looks: a lit window some 100, a screen some 200, paper in a dim room about 1.",
  "circuit": "Lamps that always go on and off together; it has a letter.",
  "controller": "A small board with a program that makes rhythms or steps through the states.",
  "feed": "The plus side of a circuit, where it leaves the switch; feed of A goes to the lamps of circuit A.",
  "fuse": "Breaks the circuit when too much current runs, before a wire gets hot.",
  "gate": "A test in the build order. Go on only when it is passed: what lies before it cannot be reached later.",
  "lead": "One piece of wire, cut to the length in the list.",
  "loom": "All wires and fibres of the model together.",
  "lux (lx)": "How much light falls on a surface; a phone can read it.",
  "master": "The on-off switch of the whole model.",
  "regulator": "A small part in the place of a resistor that keeps an LED's current the same as the cells run down.",
  "resistor": "Limits the current through its LED. Its coloured rings say how much.",
  "return": "The minus side, back to the supply; one for all circuits.",
  "selector": "The switch that chooses the state.",
  "splice": "A joint where one wire becomes several: twisted, soldered, covered by a tube.",
  "steering diode": "Lets current pass one way only, so that one circuit can be lit in several states without lighting others.",
  "tail": "One fibre, from its LED to its lamp.",
  "trunk": "The first lead of a circuit, from the supply's bay to its first splice.",
};
const OF = {
  light: ["bundle", "candela (cd), mcd", "cd/m2", "lux (lx)", "tail"],
  loom: ["branch", "bundle", "circuit", "feed", "lead", "loom", "return", "splice", "tail", "trunk"],
  power: ["circuit", "controller", "feed", "fuse", "master", "regulator", "resistor", "return", "selector", "steering diode"],
  order: ["bundle", "circuit", "gate", "lead", "loom", "return", "splice", "tail", "trunk"],
};

export const Glossary = ({ leaf }) => OF[leaf] && html`<details class="glossary"><summary>Words used here: ${OF[leaf].slice(0, 3).join("; ")} ...</summary>
  <dl>${OF[leaf].map(word => html`<dt>${word}</dt><dd>${MEANS[word]}</dd>`)}</dl></details>`;
