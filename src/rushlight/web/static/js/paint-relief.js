// Marks on a part that are not edges: crossings as two rings; while it is drawn on, what is known of its depth.
import { label, line } from "./brush.js";
import { css } from "./room.js";
import { lengthWords } from "./ruler.js";

export function paintCrossings(sheet, room) {
  const { pen } = sheet;
  for (const crossing of sheet.shown.plan.crossings) for (const end of crossing.ends) {
    const at = sheet.screenOf(end.part, end.at_mm);
    if (!at) continue;
    const radius = Math.max(5, (crossing.hole_mm || 0) * sheet.view.scale / 2);
    pen.strokeStyle = css(room.ink);
    pen.lineWidth = 1.1 * room.thin;
    for (const size of [radius, radius / 2]) {
      pen.beginPath();
      pen.arc(at[0], at[1], size, 0, 7);
      pen.stroke();
    }
  }
}

export function paintRelief(sheet, part, room) {
  const { unit } = sheet.shown, colour = css(room.ink), { heights, strings, folds } = part.relief;
  for (const row of strings) {
    line(sheet, [row.from_mm, row.to_mm], part.name, { width: 0.7, colour, dash: [1, 4] });
    for (const end of [row.from_mm, row.to_mm]) mark(sheet, part.name, end, colour);
    middle(sheet, part.name, row, `string ${lengthWords(row.length_mm, unit)}`, room);
  }
  for (const row of folds) {
    line(sheet, [row.from_mm, row.to_mm], part.name, { width: 1.1, colour, dash: [12, 4] });
    middle(sheet, part.name, row, `folds up ${row.angle_deg}°`, room);
  }
  for (const row of heights) {
    const at = mark(sheet, part.name, row.at_mm, colour);
    label(sheet, lengthWords(row.height_mm, unit), at[0] + 10, at[1], room);
  }
  for (const opening of part.openings) for (const post of opening.posts_mm) mark(sheet, part.name, post, colour);
}

// An upright stroke on a level one, as a ruler stands on a rim.
function mark(sheet, part, place, colour) {
  const at = sheet.screenOf(part, place), { pen } = sheet;
  pen.beginPath();
  pen.moveTo(at[0], at[1] - 7);
  pen.lineTo(at[0], at[1]);
  pen.moveTo(at[0] - 4, at[1]);
  pen.lineTo(at[0] + 4, at[1]);
  pen.lineWidth = 1.1;
  pen.strokeStyle = colour;
  pen.stroke();
  return at;
}

function middle(sheet, part, { from_mm, to_mm }, words, room) {
  const [x, y] = sheet.screenOf(part, [(from_mm[0] + to_mm[0]) / 2, (from_mm[1] + to_mm[1]) / 2]);
  label(sheet, words, x, y - 12, room, { align: "middle" });
}
