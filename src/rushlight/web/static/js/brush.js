// What every painter of the sheet draws with: lines of a part, words on a plate, marks at a place.
import { onSheet } from "./lay.js";
import { css, plate } from "./room.js";
import { toScreen } from "./view.js";

export function path(sheet, points, part, closed = false, by = [0, 0]) {
  const { pen } = sheet;
  pen.beginPath();
  points.forEach((point, n) => {
    const at = toScreen(sheet.view, sheet.size, onSheet(sheet.places, part, [point[0] + by[0], point[1] + by[1]]));
    if (n) pen.lineTo(at[0], at[1]); else pen.moveTo(at[0], at[1]);
  });
  if (closed) pen.closePath();
}

export function line(sheet, points, part, { width, colour, dash = [], closed = false, by }) {
  const { pen } = sheet;
  path(sheet, points, part, closed, by);
  pen.setLineDash(dash);
  pen.lineWidth = width;
  pen.strokeStyle = colour;
  pen.stroke();
  pen.setLineDash([]);
}

export const fontOf = (bold, px = 13) => `${bold ? "700" : "400"} ${px}px "Atkinson Hyperlegible Next", sans-serif`;

export function label(sheet, words, x, y, room, { bold = false, align = "left", px = 13 } = {}) {
  const { pen } = sheet, day = plate(sheet.shown.light) === "day";
  pen.font = fontOf(bold, px);
  const width = pen.measureText(words).width, left = align === "left" ? x : x - width / 2;
  pen.fillStyle = day ? "rgb(247 241 229 / 0.9)" : "rgb(20 17 15 / 0.9)";
  pen.fillRect(left - 3, y - px / 2 - 2.5, width + 6, px + 5);
  pen.fillStyle = day ? "#2a2520" : "#ece3d4";
  pen.textBaseline = "middle";
  pen.textAlign = "left";
  pen.fillText(words, left, y + 1);
}

export function mark(sheet, { part, at_mm }, draw) {
  const at = sheet.screenOf(part, at_mm);
  if (at) draw(at[0], at[1]);
}

export const emberOf = light => plate(light) === "day" ? "#b4491a" : "#f0935c";
export { cornersOf } from "./shapes.js";

// What the hand has hold of stands out by day and by night.
export const handColour = room => css(room.glow > 0.3 ? [236, 227, 212] : room.ink);
