// What stands over the drawing: the rule at the edge, and hairlines to the notes in the margin.
import { emberOf } from "./brush.js";
import { placeWords, stepsFor, ticks } from "./ruler.js";
import { plate } from "./room.js";
import { toScreen, toWorld } from "./view.js";

const RULE_PX = 26;
const WORDS = '400 11px "Atkinson Hyperlegible Next", sans-serif';

// The rule: millimetres of the part that is looked at, from its own zero.
export function paintRule(sheet) {
  const { pen, size } = sheet, day = plate(sheet.shown.light) === "day", insets = sheet.insets();
  const base = size.height - insets.rule, name = sheet.shown.part || sheet.middlePart();
  const place = sheet.places[name];
  if (!place) return;
  pen.fillStyle = day ? "rgb(247 241 229 / 0.94)" : "rgb(20 17 15 / 0.94)";
  pen.fillRect(0, base - RULE_PX, size.width, RULE_PX);
  pen.strokeStyle = pen.fillStyle = day ? "#2a2520" : "#d9cfbf";
  pen.lineWidth = 0.8;
  pen.beginPath();
  pen.moveTo(0, base - RULE_PX);
  pen.lineTo(size.width, base - RULE_PX);
  const left = toWorld(sheet.view, size, [insets.left, 0])[0] - place.dx, right = toWorld(sheet.view, size, [size.width, 0])[0] - place.dx;
  const words = `${sheet.shown.unit === "inch" ? "inches" : "mm"} on ${name}`;
  pen.font = WORDS;
  const taken = insets.left + pen.measureText(words).width + 10; // a number half under the words would read as another
  pen.font = '400 11px "Atkinson Hyperlegible Mono", monospace';
  pen.textBaseline = "middle";
  pen.textAlign = "center";
  const steps = stepsFor(sheet.view.scale, sheet.shown.unit);
  for (const tick of ticks(left, right, steps)) {
    const x = toScreen(sheet.view, size, [tick.place + place.dx, 0])[0];
    pen.moveTo(x, base - RULE_PX);
    pen.lineTo(x, base - RULE_PX + (tick.long ? 9 : 4));
    const number = tick.long && placeWords(tick.place, sheet.shown.unit);
    if (number && x - pen.measureText(number).width / 2 > taken) pen.fillText(number, x, base - RULE_PX + 17);
  }
  pen.stroke();
  pen.font = WORDS;
  pen.fillStyle = day ? "#2a2520" : "#d9cfbf";
  pen.textAlign = "left";
  pen.fillText(words, insets.left + 2, base - RULE_PX + 17);
}

// Hairlines from the notes in the margin to the places they speak of.
export function paintThreads(sheet, room) {
  const { pen } = sheet;
  for (const thread of sheet.on.threads()) {
    const at = sheet.screenOf(thread.part, thread.at);
    if (!at) continue;
    const day = plate(sheet.shown.light) === "day";
    if (!thread.chosen && room.glow > 0.5) continue;
    pen.strokeStyle = thread.chosen ? emberOf(sheet.shown.light) : day ? "rgb(42 37 32 / 0.45)" : "rgb(236 227 212 / 0.4)";
    pen.lineWidth = thread.chosen ? 1.3 : 0.6;
    pen.beginPath();
    pen.moveTo(thread.from[0], thread.from[1]);
    pen.lineTo(thread.from[0] - 18, thread.from[1]);
    pen.lineTo(at[0], at[1]);
    pen.stroke();
    if (thread.chosen) {
      pen.beginPath();
      pen.arc(at[0], at[1], 13, 0, 7);
      pen.stroke();
    }
  }
}
