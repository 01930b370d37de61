// What is seen from each place of a file, as JSON on standard output: for the comparison with the book's engine.
import { readFileSync } from "node:fs";
import { JS } from "./here.mjs";

const { outlookOf, wayWords } = await import(`${JS}later/seen-round.js`);
const { round, state, places } = JSON.parse(readFileSync(process.argv[2], "utf8"));
process.stdout.write(JSON.stringify(places.map(place => ({ ...outlookOf(round, state, place), words: wayWords(place) }))));
