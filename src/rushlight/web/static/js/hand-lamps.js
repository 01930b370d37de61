// The hand that is there when no other is: it chooses lamps, drags them, bends rows, draws a frame round many.
import { handColour, line } from "./brush.js";
import { hit, inFrame, itemAt, parted, round } from "./items.js";
import { hidden } from "./paint-lamps.js";
import { css } from "./room.js";
import { toWorld } from "./view.js";

const REACH_PX = 14;
const STILL_PX = 4;

export class LampsHand {
  constructor(sheet) {
    this.sheet = sheet;
    this.held = null;
  }

  // --- the pointer -----------------------------------------------------------------------------------------------

  grab(sheet, at, event) {
    const handle = this.handles().find(row => {
      const [x, y] = sheet.screenOf(row.part, row.point);
      return Math.hypot(x - at[0], y - at[1]) < REACH_PX;
    });
    if (handle) return this.bends(handle, at);
    const lamp = this.under(at, true);
    if (lamp) return this.carries(lamp, at, event.shiftKey || event.ctrlKey || event.metaKey);
    return event.shiftKey ? this.frames(at) : null;
  }

  tapped(sheet) {
    sheet.on.choose(null, false);
    return true;
  }

  doubled(sheet, at) {
    sheet.on.place(sheet.partUnder(at));
    return true;
  }

  hover(sheet, at) {
    const lamp = this.under(at, false);
    if (lamp) sheet.on.hover(lamp.lamp, at);
    return lamp ? "pointer" : null;
  }

  under(at, shownOnly) {
    const { sheet } = this, placed = shownOnly ? sheet.placed.filter(row => !hidden(sheet, row.lamp)) : sheet.placed;
    return hit(placed, toWorld(sheet.view, sheet.size, at), REACH_PX / sheet.view.scale);
  }

  // --- grips -----------------------------------------------------------------------------------------------------

  carries({ lamp, key }, from, more) {
    const { sheet } = this, held = { kind: "move", keys: new Set(sheet.on.choose(key, more)), by: [0, 0] };
    return this.drags(from, held, at => {
      held.by = [round((at[0] - from[0]) / sheet.view.scale), round(-(at[1] - from[1]) / sheet.view.scale)];
      sheet.on.hover({ ...lamp, at_mm: [round(lamp.at_mm[0] + held.by[0]), round(lamp.at_mm[1] + held.by[1])] }, at);
    }, () => sheet.on.dragged([...held.keys], held.by));
  }

  bends({ key, n, part, point }, from) {
    const { sheet } = this, held = { kind: "bend", n, at: point };
    return this.drags(from, held, at => { held.at = sheet.placeOf(part, at); }, () => sheet.on.bent(key, n, held.at));
  }

  // What was dragged stays where it was put until the server has answered.
  drags(from, held, follow, done) {
    let moved = false;
    return {
      moved: at => {
        if (!moved && Math.hypot(at[0] - from[0], at[1] - from[1]) < STILL_PX) return;
        moved = true;
        this.held = held;
        follow(at);
        this.sheet.draw();
      },
      dropped: () => { if (moved) done(); },
      cancelled: () => { this.held = null; },
    };
  }

  frames(from) {
    const { sheet } = this, held = { kind: "frame", from, to: from };
    this.held = held;
    return {
      moved: at => { held.to = at; sheet.draw(); },
      dropped: () => {
        this.held = null;
        sheet.on.framed(inFrame(sheet.placed, toWorld(sheet.view, sheet.size, held.from), toWorld(sheet.view, sheet.size, held.to)));
      },
      cancelled: () => { this.held = null; },
    };
  }

  settled() {
    this.held = null;
  }

  is(kind) {
    return this.held && this.held.kind === kind ? this.held : null;
  }

  // A lamp under the hand goes along with it.
  carried(key, at) {
    const held = this.is("move");
    return held && held.keys.has(key) ? [at[0] + held.by[0], at[1] + held.by[1]] : at;
  }

  // --- what it draws ---------------------------------------------------------------------------------------------

  // Ends and corners of the line of a chosen row or strip.
  handles() {
    const { shown, places } = this.sheet;
    if (!shown || shown.chosen.length !== 1) return [];
    const [key] = shown.chosen, { kind } = parted(key), item = itemAt(shown.plan, key);
    if (!item || kind === "lamps" || !places[item.part]) return [];
    const bent = this.is("bend"), moved = this.is("move"), by = moved ? moved.by : [0, 0];
    return item.along_mm.map((point, n) => ({
      key, n, part: item.part, point: bent && bent.n === n ? bent.at : [point[0] + by[0], point[1] + by[1]],
    }));
  }

  paint(sheet, room) {
    this.paintHandles(sheet, room);
    const frame = this.is("frame");
    if (!frame) return;
    const { pen } = sheet, { from: a, to: b } = frame;
    pen.strokeStyle = handColour(room);
    pen.setLineDash([4, 4]);
    pen.lineWidth = 1;
    pen.strokeRect(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1]));
    pen.setLineDash([]);
  }

  paintHandles(sheet, room) {
    const handles = this.handles();
    if (!handles.length) return;
    const { pen } = sheet, colour = handColour(room);
    line(sheet, handles.map(handle => handle.point), handles[0].part, { width: 0.9, colour, dash: [3, 4] });
    for (const handle of handles) {
      const [x, y] = sheet.screenOf(handle.part, handle.point);
      pen.fillStyle = css(room.sheet);
      pen.strokeStyle = colour;
      pen.lineWidth = 1.4;
      pen.beginPath();
      pen.moveTo(x, y - 7); pen.lineTo(x + 7, y); pen.lineTo(x, y + 7); pen.lineTo(x - 7, y);
      pen.closePath();
      pen.fill();
      pen.stroke();
    }
  }
}
