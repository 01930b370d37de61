// The canvas of the gauge: a picture in its own pixels, the points on it, a glass over the one at hand, and the hand.
// What was done is said through `on`: {chosen(hold), moved(hold, pixel), placed(pixel), zoomed()}.
import { paintGauge } from "./paint.js";
import { fittedPicture, pannedPicture, pixelToScreen, screenToPixel, wayOnPicture, ways, zoomedPicture } from "./view.js";
import { nudged, within } from "./points.js";

const REACH_PX = 15;
const FINGER_PX = 26;
const PAN_PX = 24;

export const sameHold = (a, b) => Boolean(a && b && a.kind === b.kind && a.n === b.n && a.end === b.end);

export class GaugeCanvas {
  constructor(canvas, on) {
    Object.assign(this, { canvas, on, pen: canvas.getContext("2d"), size: { width: 1, height: 1 }, view: null, shown: null, waiting: false, grip: null, touches: new Map() });
    this.watch = new ResizeObserver(() => this.measured());
    this.watch.observe(canvas);
    this.listen();
    this.measured();
  }

  close() { this.watch.disconnect(); }

  // `shown` is {draft, seen, image, picture: [width, height], holds: [{hold, pixel, word}], chosen, awaiting, frame, outline, light, unit}.
  show(shown) {
    const before = this.shown, { draft } = shown;
    this.shown = shown;
    if (!before || !this.view || (this.fits && (before.draft.turned !== draft.turned || before.draft.mirrored !== draft.mirrored))) this.fit();
    else this.view = { ...this.view, ways: ways(draft.turned, draft.mirrored) };
    this.draw();
  }

  fit() {
    if (!this.shown) return;
    const { picture, draft } = this.shown;
    this.fits = true;
    this.view = fittedPicture(picture, this.size, draft.turned, draft.mirrored);
    this.draw();
  }

  zoom(factor, at = [this.size.width / 2, this.size.height / 2]) {
    this.fits = false;
    this.view = zoomedPicture(this.view, this.size, at, factor);
    this.draw();
  }

  // The point at hand comes into the middle if it is out of sight.
  reveal(pixel) {
    const [x, y] = pixelToScreen(this.view, this.size, pixel);
    if (x > 20 && y > 20 && x < this.size.width - 20 && y < this.size.height - 20) return;
    this.fits = false;
    this.view = { ...this.view, x: pixel[0], y: pixel[1] };
    this.draw();
  }

  middle() {
    return within(screenToPixel(this.view, this.size, [this.size.width / 2, this.size.height / 2]), this.shown.picture);
  }

  measured() {
    const box = this.canvas.getBoundingClientRect(), sharp = window.devicePixelRatio || 1;
    this.size = { width: Math.max(1, box.width), height: Math.max(1, box.height) };
    this.canvas.width = Math.round(box.width * sharp);
    this.canvas.height = Math.round(box.height * sharp);
    this.sharp = sharp;
    if (this.fits) this.fit();
    this.draw();
  }

  draw() {
    if (this.waiting || !this.shown) return;
    this.waiting = true;
    requestAnimationFrame(() => { this.waiting = false; if (this.view) paintGauge(this); });
  }

  screenOf(pixel) { return pixelToScreen(this.view, this.size, pixel); }

  // --- the hand --------------------------------------------------------------------------------------------------

  listen() {
    const told = (name, act) => this.canvas.addEventListener(name, act);
    told("pointerdown", event => this.down(event));
    told("pointermove", event => this.move(event));
    told("pointerup", event => this.up(event));
    told("pointercancel", event => { this.touches.delete(event.pointerId); this.grip = null; this.draw(); });
    told("keydown", event => { this.byKeys = true; this.key(event); });
    told("focus", () => this.draw());
    told("blur", () => { this.byKeys = false; this.draw(); });
    this.canvas.addEventListener("wheel", event => {
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016)), this.point(event));
    }, { passive: false });
  }

  point(event) {
    const box = this.canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  holdAt(at, reach) {
    let best = null, least = reach;
    for (const row of this.shown.holds) {
      const [x, y] = this.screenOf(row.pixel), away = Math.hypot(x - at[0], y - at[1]);
      if (away < least) { best = row; least = away; }
    }
    return best;
  }

  down(event) {
    if (!this.shown || event.button > 1) return;
    this.canvas.setPointerCapture(event.pointerId);
    this.byKeys = false;
    const at = this.point(event), row = event.button === 0 && this.holdAt(at, event.pointerType === "touch" ? FINGER_PX : REACH_PX);
    this.touches.set(event.pointerId, at);
    if (this.touches.size === 2) { this.grip = { kind: "pinch", ...this.span() }; return; }
    if (row) {
      const [x, y] = this.screenOf(row.pixel);
      this.grip = { kind: "hold", hold: row.hold, off: [x - at[0], y - at[1]], from: at, moved: false };
      this.on.chosen(row.hold);
    } else this.grip = { kind: "paper", from: at, last: at, still: true, taps: event.button === 0 };
    this.canvas.focus({ preventScroll: true });
  }

  span() {
    const [a, b] = [...this.touches.values()];
    return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.hypot(a[0] - b[0], a[1] - b[1]) };
  }

  move(event) {
    const at = this.point(event), { grip } = this;
    if (!grip) {
      if (this.shown) this.canvas.style.cursor = this.holdAt(at, REACH_PX) ? "grab" : this.shown.awaiting ? "crosshair" : "default";
      return;
    }
    if (this.touches.has(event.pointerId)) this.touches.set(event.pointerId, at);
    if (grip.kind === "pinch" && this.touches.size === 2) {
      const now = this.span();
      this.view = pannedPicture(this.view, now.middle[0] - grip.middle[0], now.middle[1] - grip.middle[1]);
      this.zoom(now.apart / Math.max(1, grip.apart), now.middle);
      Object.assign(grip, now);
    } else if (grip.kind === "hold") {
      grip.moved = grip.moved || Math.hypot(at[0] - grip.from[0], at[1] - grip.from[1]) > 2;
      if (grip.moved) this.on.moved(grip.hold, within(screenToPixel(this.view, this.size, [at[0] + grip.off[0], at[1] + grip.off[1]]), this.shown.picture));
    } else if (grip.kind === "paper") {
      grip.still = grip.still && Math.hypot(at[0] - grip.from[0], at[1] - grip.from[1]) <= 3;
      this.fits = false;
      this.view = pannedPicture(this.view, at[0] - grip.last[0], at[1] - grip.last[1]);
      grip.last = at;
      this.draw();
    }
  }

  up(event) {
    const { grip } = this;
    this.touches.delete(event.pointerId);
    this.grip = null;
    if (grip && grip.kind === "paper" && grip.still && grip.taps && this.shown.awaiting) this.on.placed(within(screenToPixel(this.view, this.size, this.point(event)), this.shown.picture));
    this.draw();
  }

  key(event) {
    const { shown } = this, handled = act => { event.preventDefault(); event.stopPropagation(); act(); };
    const way = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (event.ctrlKey || event.metaKey) return;
    if (way && shown.awaiting) handled(() => { this.fits = false; const far = event.shiftKey ? 4 * PAN_PX : event.altKey ? 1 : PAN_PX; this.view = pannedPicture(this.view, way[0] * far, way[1] * far); this.draw(); });
    else if (event.key === "Enter" && shown.awaiting) handled(() => this.on.placed(this.middle()));
    else if (way && shown.chosen) {
      const row = shown.holds.find(one => sameHold(one.hold, shown.chosen));
      const pixel = row && nudged(row.pixel, event.key, event, step => wayOnPicture(this.view, step), shown.picture);
      if (pixel) handled(() => this.on.moved(row.hold, pixel));
    } else if (event.key === "+" || event.key === "=") handled(() => this.zoom(1.3));
    else if (event.key === "-") handled(() => this.zoom(1 / 1.3));
    else if (event.key === "0") handled(() => this.fit());
  }
}
