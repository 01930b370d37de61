// Lamps as what will be seen; their light is the picture by night's.
import { path } from "./brush.js";
import { keyOf } from "./items.js";
import { css, plate } from "./room.js";
import { toScreen } from "./view.js";

const LEAST_LAMP_PX = 4.5;
const LETTERS_FROM = 2.2;
const TICKS = { up: [0, 1], down: [0, -1], ahead: [1, 0], astern: [-1, 0], port: [-0.7, 0.7], starboard: [0.7, -0.7] };

// The opening that a lamp fills with light, if it lies behind one.
export function openingOf(sheet, lamp) {
  if (!lamp.opening || (lamp.kind !== "strip" && lamp.kind !== "room")) return null;
  const part = sheet.shown.plan.parts.find(row => row.name === lamp.part);
  return (part && part.openings.find(row => row.name === lamp.opening)) || null;
}

export function hidden(sheet, lamp) {
  const only = sheet.shown.only;
  return only && !only.has(keyOf(lamp.made_of, lamp.group));
}

export function paintLamps(sheet, room) {
  const { pen } = sheet, chosen = new Set(sheet.shown.chosen), state = sheet.shown.state;
  const least = Math.min(LEAST_LAMP_PX, Math.max(2.2, 3.4 * sheet.view.scale)), quiet = 1 - 0.75 * room.glow, letters = sheet.view.scale > LETTERS_FROM;
  for (const { lamp, at, key } of sheet.placed) {
    if (hidden(sheet, lamp)) continue;
    const [x, y] = toScreen(sheet.view, sheet.size, sheet.lamps.carried(key, at));
    if (x < -40 || y < -40 || x > sheet.size.width + 40 || y > sheet.size.height + 40) continue;
    const radius = Math.max(least, (lamp.hole_mm || lamp.seen_mm || 1) * sheet.view.scale / 2);
    const lit = lamp.states.includes(state) && !lamp.dark;
    const picked = chosen.has(key), opening = openingOf(sheet, lamp);
    pen.globalAlpha = picked ? 1 : lit ? quiet : 0.55 * (0.5 + 0.5 * quiet);
    pen.strokeStyle = css(picked && room.glow > 0.3 ? [236, 227, 212] : room.ink);
    pen.lineWidth = lit ? 1.7 : 1;
    pen.setLineDash(lit ? [] : [2, 2.5]);
    if (opening) path(sheet, opening.shape, lamp.part, true);
    else { pen.beginPath(); pen.arc(x, y, radius, 0, 7); }
    if (room.glow < 0.5) {
      pen.fillStyle = css([247, 241, 229], lit ? 0.92 * (1 - room.glow) : 0.4 * (1 - room.glow));
      pen.fill();
    }
    pen.stroke();
    pen.setLineDash([]);
    const tick = TICKS[lamp.facing];
    if (tick && !opening) {
      pen.beginPath();
      pen.moveTo(x + tick[0] * radius, y - tick[1] * radius);
      pen.lineTo(x + tick[0] * (radius + 7), y - tick[1] * (radius + 7));
      pen.stroke();
    }
    if (picked) {
      pen.lineWidth = 1.4;
      pen.beginPath();
      pen.arc(x, y, radius + 4.5, 0, 7);
      pen.stroke();
    }
    if ((letters || picked) && (room.glow < 0.5 || picked)) letter(sheet, lamp, x, y, radius, picked);
  }
  pen.globalAlpha = 1;
}

function letter(sheet, lamp, x, y, radius, picked) {
  const { pen } = sheet, alone = lamp.made_of === "lamps" || sheet.view.scale > 5;
  if (!alone && !(picked && lamp.name === `${lamp.group} 1`)) return;
  const words = lamp.rhythm !== "steady" ? `${lamp.letter} ${lamp.rhythm}` : lamp.letter;
  pen.font = '700 11.5px "Atkinson Hyperlegible Next", sans-serif';
  pen.textBaseline = "middle";
  pen.textAlign = "left";
  const day = plate(sheet.shown.light) === "day", left = x + radius + (picked ? 8 : 4), width = pen.measureText(words).width;
  pen.fillStyle = day ? "rgb(247 241 229 / 0.85)" : "rgb(20 17 15 / 0.85)";
  pen.fillRect(left - 1.5, y - radius - 8, width + 3, 13);
  pen.fillStyle = day ? "#2a2520" : "#ece3d4";
  pen.fillText(words, left, y - radius - 1);
}
