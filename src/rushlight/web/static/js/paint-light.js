// What light meets on its way: sheets behind openings, doors as they stand, obstacles; and pools of floodlight as lines.
import { emberOf, label, line, path } from "./brush.js";
import { css } from "./room.js";
import { doorAt, standsAt } from "./stands.js";
import { boxOf } from "./view.js";

const SHEET_PX = 2.5;
const DASHES = { 0.1: [1, 3], 0.25: [5, 3] };

export function paintStanding(sheet, part, room) {
  const { plan, state } = sheet.shown, ink = css(room.ink);
  for (const opening of part.openings) {
    paintSheets(sheet, part, opening, room);
    const door = doorAt(plan, opening, state || plan.states[0].name);
    if (door) paintDoor(sheet, part, door, room);
  }
  for (const obstacle of part.obstacles || []) {
    const corners = standsAt(plan, obstacle, state || plan.states[0].name);
    line(sheet, corners, part.name, { width: 1.2 * room.thin, colour: ink, dash: obstacle.above_mm > 0 ? [6, 4] : [], closed: true });
    if (sheet.view.scale > 2) nameAt(sheet, part, obstacle.name, corners, room);
  }
}

// One dotted line inside the opening for each sheet behind it.
function paintSheets(sheet, part, opening, room) {
  const box = boxOf(opening.shape), middle = [(box.left + box.right) / 2, (box.low + box.top) / 2];
  const half = Math.min(box.right - box.left, box.top - box.low) / 2;
  opening.diffusers.slice(0, 3).forEach((_, n) => {
    const share = 1 - (n + 1) * SHEET_PX / sheet.view.scale / half;
    if (share < 0.3) return;
    const inner = opening.shape.map(at => at.map((value, k) => middle[k] + (value - middle[k]) * share));
    line(sheet, inner, part.name, { width: 0.7 * room.thin, colour: css(room.ink, 0.7), dash: [1, 2.5], closed: true });
  });
}

function paintDoor(sheet, part, { covers, leaf }, room) {
  const { pen } = sheet;
  if (covers) {
    path(sheet, covers, part.name, true);
    pen.fillStyle = css(room.sheet);
    pen.fill();
    line(sheet, [covers[0], covers[2]], part.name, { width: 0.7, colour: css(room.ink, 0.8) });
    line(sheet, [covers[1], covers[3]], part.name, { width: 0.7, colour: css(room.ink, 0.8) });
  }
  if (leaf) line(sheet, leaf, part.name, { width: 1.1 * room.thin, colour: css(room.ink), closed: true });
}

function nameAt(sheet, part, words, corners, room) {
  const at = sheet.screenOf(part.name, [Math.min(...corners.map(c => c[0])), Math.max(...corners.map(c => c[1]))]);
  if (at) label(sheet, words, at[0], at[1] - 9, room);
}

// No number over another one, and none cut by the edge of the free sheet.
const isFree = (named, [x, y]) => !named.some(([u, v]) => Math.abs(u - x) < 54 && Math.abs(v - y) < 20) && named.push([x, y]);
function clear(sheet, [x, y]) {
  const { left, right } = sheet.insets();
  return [Math.min(Math.max(x, left + 26), sheet.size.width - right - 26), y];
}

// Lines of equal light on the parts that floodlights light in this state; the outermost and the half are named in lux.
// With them the model's own parts that stand over the ground, seen from above, and the lamps' feet, as the pose has them.
export function paintPools(sheet, pools, room) {
  const named = [];
  for (const pool of pools) {
    for (const { corners, hangs } of pool.walls) line(sheet, corners, pool.part, { width: 1.2 * room.thin, colour: css(room.ink), dash: hangs ? [6, 4] : [], closed: corners.length > 2 });
    for (const [x, y] of pool.feet) line(sheet, [[x - 1, y], [x, y + 1], [x + 1, y], [x, y - 1]], pool.part, { width: 0.9, colour: css(room.ink), closed: true });
    for (const { share, lx, lines } of pool.levels) {
      for (const points of lines) line(sheet, points, pool.part, { width: share === 0.5 ? 1.4 : 0.9, colour: emberOf(sheet.shown.light), dash: DASHES[share] || [] });
      const longest = lines.reduce((held, points) => points.length > held.length ? points : held, []);
      const at = longest.length && (share === 0.1 || share === 0.5) && sheet.screenOf(pool.part, longest[Math.floor(longest.length / 4)]);
      if (at && isFree(named, at)) label(sheet, `${lx} lx`, ...clear(sheet, at), room, { align: "middle" });
    }
  }
}
