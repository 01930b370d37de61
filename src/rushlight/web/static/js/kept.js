// The sheet as it was painted, a good hand wider than the screen: while it is only pushed about, it is laid down again.
import { roomColours } from "./room.js";

const MARGIN = 256;

export class Kept {
  constructor() {
    this.canvas = null;
    this.held = null;
  }

  // Lays what is kept where the view has it, painted anew first where it does not reach; false if the sheet must be painted.
  lay(sheet) {
    const { size, view, sharp } = sheet;
    if (!this.held || !reaches(this.held, view, size)) {
      if (!this.seenMoving(sheet)) return false;
      this.keep(sheet);
    }
    const [x, y] = offset(this.held.view, view).map(way => Math.round(way * sharp) / sharp); // sharp, not between pixels
    const { pen } = sheet;
    pen.globalAlpha = 1;
    pen.globalCompositeOperation = "copy";
    pen.drawImage(this.canvas, x - MARGIN, y - MARGIN, this.canvas.width / sharp, this.canvas.height / sharp);
    pen.globalCompositeOperation = "source-over";
    pen.lineJoin = pen.lineCap = "round";
    return true;
  }

  // Something on the sheet is not as it was.
  drop() {
    this.held = this.last = null;
  }

  // Only a view that goes on moving at one scale is worth a wider picture.
  seenMoving(sheet) {
    const last = this.last;
    this.last = sheet.view.scale;
    return last === sheet.view.scale;
  }

  keep(sheet) {
    const { size, view, sharp, pen } = sheet;
    this.canvas = this.canvas || document.createElement("canvas");
    const wide = { width: size.width + 2 * MARGIN, height: size.height + 2 * MARGIN };
    this.canvas.width = Math.round(wide.width * sharp);
    this.canvas.height = Math.round(wide.height * sharp);
    const own = this.canvas.getContext("2d");
    own.setTransform(sharp, 0, 0, sharp, 0, 0);
    sheet.pen = own;
    sheet.size = wide;
    try {
      sheet.paintSheet(roomColours(sheet.shown.light), own);
    } finally {
      sheet.pen = pen;
      sheet.size = size;
    }
    this.held = { view: { ...view }, width: size.width, height: size.height };
  }
}

const offset = (from, to) => [(from.x - to.x) * to.scale, (to.y - from.y) * to.scale];

// Whether what was kept of a sheet still covers the screen at another view. Pure.
export function reaches(held, view, size, margin = MARGIN) {
  if (held.view.scale !== view.scale || held.width !== size.width || held.height !== size.height) return false;
  return offset(held.view, view).every(way => Math.abs(way) <= margin);
}
