// Parts: their picture, outline, openings, keep-outs, bays, seams and name.
import { cornersOf, fontOf, label, line, path } from "./brush.js";
import { onSheet } from "./lay.js";
import { css } from "./room.js";
import { boxOf, toScreen } from "./view.js";

const CLOSE_PX = 22;

export function paintPicture(sheet, part, number, room) {
  const { pen } = sheet;
  const held = sheet.pictures.get(number), box = part.laid && part.laid.box_mm;
  if (held && held.ready && box) {
    const [left, top] = toScreen(sheet.view, sheet.size, onSheet(sheet.places, part.name, [box[0], box[3]]));
    pen.save();
    path(sheet, part.outline_mm, part.name, true);
    if (!sheet.shown.wholePictures) pen.clip();
    pen.globalAlpha = room.picture * sheet.shown.strength;
    pen.drawImage(held.image, left, top, (box[2] - box[0]) * sheet.view.scale, (box[3] - box[1]) * sheet.view.scale);
    pen.restore();
  }
}

export function paintPart(sheet, part, room) {
  const ink = css(room.ink);
  const width = (key, usual) => isLifted(sheet, part.name, key) ? 0.7 : usual;
  for (const region of part.keep_outs) paintKeepOut(sheet, region, part.name, room);
  for (const bay of part.bays) line(sheet, cornersOf(bay.rect_mm), part.name, { width: width(`bays/${bay.name}`, 1), colour: ink, dash: [7, 4], closed: true });
  for (const opening of part.openings) line(sheet, opening.shape, part.name, { width: width(`openings/${opening.name}`, 1.1 * room.thin), colour: ink, closed: true });
  for (const seam of part.seams_mm) line(sheet, seam, part.name, { width: 0.7, colour: ink, dash: [9, 3, 2, 3] });
  line(sheet, part.outline_mm, part.name, { width: width("outline", 2 * room.thin), colour: ink, closed: true });
  paintName(sheet, part, room);
}

// What the hand holds stays where it was as a thin line.
const isLifted = ({ lifted }, part, key) => Boolean(lifted) && lifted.part === part && lifted.key === key;

function paintKeepOut(sheet, { shape }, part, room) {
  if (shape.length < 3) return;
  const { pen } = sheet, box = boxOf(shape);
  pen.save();
  path(sheet, shape, part, true);
  pen.clip();
  pen.beginPath();
  const [left, low] = toScreen(sheet.view, sheet.size, onSheet(sheet.places, part, [box.left, box.low]));
  const [right, top] = toScreen(sheet.view, sheet.size, onSheet(sheet.places, part, [box.right, box.top]));
  for (let x = Math.floor((left - (low - top)) / 6) * 6; x < right; x += 6) {
    pen.moveTo(x, low);
    pen.lineTo(x + (low - top), top);
  }
  pen.lineWidth = 0.6;
  pen.strokeStyle = css(room.ink, 0.55);
  pen.stroke();
  pen.restore();
  line(sheet, shape, part, { width: 0.8, colour: css(room.ink, 0.8), dash: [1, 3], closed: true });
}

const nameAt = (sheet, name) => toScreen(sheet.view, sheet.size, onSheet(sheet.places, name, [sheet.places[name].box.left, sheet.places[name].box.top]));

// How far names of parts hang over an upright edge of the screen: a short part may have a long name.
export function namesOver(sheet, edge) {
  sheet.pen.font = fontOf(true);
  return Math.max(0, ...Object.keys(sheet.places).map(name => nameAt(sheet, name)[0] + sheet.pen.measureText(name).width + 3 - edge));
}

// Between its part and the one above it: where parts lie close on a small sheet, the name is smaller and in the middle.
function paintName(sheet, part, room) {
  const [left, top] = nameAt(sheet, part.name), gap = 2 * sheet.places[part.name].margin * sheet.view.scale, close = gap < CLOSE_PX;
  label(sheet, part.name, left, close ? top - Math.max(gap / 2, 6) : top - 12, room, { bold: sheet.shown.part === part.name, px: close ? 11 : 13 });
}
