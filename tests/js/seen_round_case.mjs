// What is seen from each place of a file, as JSON on standard output: for the comparison with the book's engine.
import { readFileSync } from "node:fs";
import { JS } from "./here.mjs";

const { outlookOf, seenAslant, wayWords } = await import(`${JS}later/seen-round.js`);
const { round, state, places } = JSON.parse(readFileSync(process.argv[2], "utf8"));
process.stdout.write(JSON.stringify(places.map(place => {
  const seen = outlookOf(round, state, place), aslant = Object.entries(seen.leans).map(([name, lean]) => [name, seenAslant([[2, 3], [9, 4], [7, 11]], lean)]);
  return { ...seen, aslant: Object.fromEntries(aslant), words: wayWords(place) };
})));
