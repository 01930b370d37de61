// The loom as it lies on the parts: leads over a pale core, fibres as hairlines, splices as sleeves.
import { emberOf, line, mark } from "./brush.js";
import { css } from "./room.js";

export function paintLoom(sheet, room) {
  const { loom } = sheet.shown, fresh = sheet.shown.fresh ? 1 : 0.35;
  const { pen } = sheet;
  pen.globalAlpha = fresh;
  const pale = css(room.sheet), ink = css(room.ink), px = sheet.view.scale;
  for (const tail of loom.tails) for (const leg of tail.legs) {
    if (sheet.places[leg.part]) line(sheet, leg.points, leg.part, { width: 0.6, colour: css(room.ink, 0.8) });
  }
  for (const lead of loom.leads) {
    const width = Math.max(1.8, lead.outer_mm * px), plus = lead.net === "plus";
    for (const leg of lead.legs) {
      if (!sheet.places[leg.part]) continue;
      line(sheet, leg.points, leg.part, { width: width + 1.6, colour: pale });
      line(sheet, leg.points, leg.part, { width, colour: plus ? emberOf(sheet.shown.light) : ink });
      line(sheet, leg.points, leg.part, { width: Math.max(0.6, width - 1.8), colour: pale, dash: plus ? [] : lead.net === "link" ? [1.5, 4] : [5, 5] });
    }
  }
  for (const splice of loom.splices) mark(sheet, splice, (x, y) => {
    const half = Math.max(3.5, splice.length_mm * px / 2);
    pen.fillStyle = pale;
    pen.strokeStyle = ink;
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.roundRect(x - half, y - 3, 2 * half, 6, 3);
    pen.fill();
    pen.stroke();
  });
  for (const emitter of loom.emitters) if (emitter.kind === "illuminator") mark(sheet, emitter, (x, y) => {
    pen.fillStyle = ink;
    pen.beginPath();
    pen.arc(x, y, Math.max(3.2, 1.4 * px), 0, 7);
    pen.fill();
  });
  pen.globalAlpha = 1;
}
