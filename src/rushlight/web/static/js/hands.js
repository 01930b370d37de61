// The hands on the sheet: what pointer and keys mean there. The paper itself is always below them: it pans and zooms.
//
// A hand is an object; it needs only what it cares for. `at` is a place of the screen in pixels.
//   alone                    true: no hand below it is asked
//   grab(sheet, at, event)   what the pointer takes hold of: a grip, or null
//   tapped(sheet, at, event) the paper was pressed and let go in one place; true if that meant something
//   doubled(sheet, at)       pressed twice; true if that meant something
//   hover(sheet, at, event)  the pointer is over the sheet; the name of a cursor, or null
//   left(sheet)              the pointer left the sheet
//   key(sheet, event)        a key was pressed; true if it meant something
//   paint(sheet, room)       what it draws over the parts
//   shown(sheet)             the plan, or what is chosen of it, is another now
//   settled(sheet)           the server has answered what was done
// A grip: moved(at, event), dropped(at, event), and cancelled() where it was taken away; each may be missing.
import { panned, zoomAt } from "./view.js";

const STILL_PX = 3;

export class Hands {
  constructor(sheet) {
    this.sheet = sheet;
    this.all = [];
    this.grip = null;
    this.touches = new Map();
    this.listen(sheet.canvas);
  }

  // The hand lies on top of all others until what this returns is called.
  takeUp(hand) {
    this.all = [hand, ...this.all];
    this.sheet.draw();
    return () => this.putDown(hand);
  }

  putDown(hand) {
    if (!this.all.includes(hand)) return;
    this.letGo();
    this.all = this.all.filter(other => other !== hand);
    this.sheet.draw();
  }

  // What the first hand that cares says.
  first(what, ...about) {
    for (const hand of this.all) {
      const said = hand[what] ? hand[what](this.sheet, ...about) : null;
      if (said || hand.alone) return said || null;
    }
    return null;
  }

  every(what, ...about) {
    for (const hand of [...this.all].reverse()) if (hand[what]) hand[what](this.sheet, ...about);
  }

  key(event) {
    return Boolean(this.first("key", event));
  }

  letGo() {
    if (this.grip && this.grip.cancelled) this.grip.cancelled();
    this.grip = null;
    this.sheet.draw();
  }

  listen(canvas) {
    const { sheet } = this, told = (name, act) => canvas.addEventListener(name, act);
    told("pointerdown", event => this.down(event));
    told("pointermove", event => this.move(event));
    told("pointerup", event => this.up(event));
    told("pointercancel", event => { this.touches.delete(event.pointerId); this.letGo(); });
    told("pointerleave", () => { sheet.on.hover(null); this.every("left"); });
    told("keydown", () => canvas.classList.remove("byhand"));
    told("blur", () => canvas.classList.remove("byhand"));
    told("dblclick", event => this.first("doubled", sheet.point(event)));
    canvas.addEventListener("wheel", event => {
      event.preventDefault();
      sheet.look(zoomAt(sheet.view, sheet.size, sheet.point(event), Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016))));
    }, { passive: false });
  }

  down(event) {
    const { sheet } = this;
    if (!sheet.shown || event.button > 1) return;
    sheet.canvas.setPointerCapture(event.pointerId);
    sheet.canvas.classList.add("byhand");
    sheet.on.hover(null);
    const at = sheet.point(event);
    this.touches.set(event.pointerId, at);
    if (this.touches.size === 2) { this.letGo(); this.grip = this.pinch(); return; }
    this.grip = (event.button === 0 && this.first("grab", at, event)) || this.paper(at, event.button === 0);
    sheet.canvas.focus({ preventScroll: true });
  }

  move(event) {
    const { sheet } = this, at = sheet.point(event);
    if (!this.grip) {
      const cursor = sheet.shown && this.first("hover", at, event);
      sheet.canvas.style.cursor = cursor || "default";
      if (!cursor) sheet.on.hover(null, at);
      return;
    }
    this.touches.set(event.pointerId, at);
    if (this.grip.moved) this.grip.moved(at, event);
  }

  up(event) {
    const { grip } = this;
    this.touches.delete(event.pointerId);
    this.grip = null;
    this.sheet.on.hover(null);
    if (grip && grip.dropped) grip.dropped(this.sheet.point(event), event);
    this.sheet.draw();
  }

  // The paper goes with the hand; let go where it was pressed, it was a tap.
  paper(from, taps) {
    const { sheet } = this;
    let last = from, still = true;
    return {
      moved: at => {
        still = still && Math.hypot(at[0] - from[0], at[1] - from[1]) <= STILL_PX;
        const view = panned(sheet.view, at[0] - last[0], at[1] - last[1]);
        last = at;
        sheet.look(view);
      },
      dropped: (at, event) => { if (still && taps) this.first("tapped", at, event); },
    };
  }

  pinch() {
    const { sheet } = this;
    let held = this.span();
    return {
      moved: () => {
        if (this.touches.size !== 2) return;
        const now = this.span(), view = panned(sheet.view, now.middle[0] - held.middle[0], now.middle[1] - held.middle[1]);
        const factor = now.apart / Math.max(1, held.apart);
        held = now;
        sheet.look(zoomAt(view, sheet.size, now.middle, factor));
      },
    };
  }

  span() {
    const [a, b] = [...this.touches.values()];
    return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.hypot(a[0] - b[0], a[1] - b[1]) };
  }
}
