// The sheet: parts, loom, lamps and their glow on one canvas, fitted to what the plates leave free. Painters paint it,
// hands work on it; it says what was done through `on`.
import { Clock } from "./clock.js";
import { Kept } from "./kept.js";
import { LampsHand } from "./hand-lamps.js";
import { Hands } from "./hands.js";
import { keyOf, round } from "./items.js";
import { layOut, onSheet, sheetBox, wholeBox } from "./lay.js";
import { paintRule, paintThreads } from "./paint-edge.js";
import { paintLamps } from "./paint-lamps.js";
import { paintPools, paintStanding } from "./paint-light.js";
import { paintLoom } from "./paint-loom.js";
import { namesOver, paintPart, paintPicture } from "./paint-parts.js";
import { paintCrossings, paintRelief } from "./paint-relief.js";
import { css, LAMPS_SEEN_BELOW, roomColours } from "./room.js";
import { fitted, toScreen, toWorld, zoomAt } from "./view.js";

export class Sheet {
  constructor(canvas, on) {
    this.canvas = canvas;
    this.pen = canvas.getContext("2d");
    this.on = on;
    this.size = { width: 1, height: 1 };
    this.view = { x: 0, y: 0, scale: 1 };
    this.shown = null;
    this.places = {};
    this.placed = [];
    this.pictures = new Map();
    this.waiting = false;
    this.changed = true;
    this.kept = new Kept();
    this.clock = new Clock();
    this.frames = 0;
    new ResizeObserver(() => this.measured()).observe(canvas);
    this.hands = new Hands(this);
    this.lamps = new LampsHand(this);
    this.hands.takeUp(this.lamps);
    this.measured();
  }

  // --- what is shown ---------------------------------------------------------------------------------------------

  show(shown) {
    const first = !this.shown, plan = shown.plan;
    const parts = plan.parts !== (this.shown && this.shown.plan.parts);
    const look = !this.shown || shown.look !== this.shown.look;
    if (shown.playing !== (this.shown && this.shown.playing)) this.clock.begin();
    this.shown = shown;
    if (parts) {
      this.layAnew(plan.parts);
      this.takePictures();
    }
    if (parts || look) this.placeLamps();
    if (first) this.fit();
    else if (parts) this.on.moved();
    this.hands.every("shown");
    this.draw();
  }

  // Parts are laid out anew; the one that is looked at stays where it is on the screen.
  layAnew(parts) {
    const name = this.shown.part || this.middlePart(), was = this.places[name];
    this.places = layOut(parts);
    const now = this.places[name];
    if (was && now) this.view = { ...this.view, x: this.view.x + now.dx - was.dx, y: this.view.y + now.dy - was.dy };
  }

  placeLamps() {
    const kinds = { lamps: "lamps", rows: "rows", strips: "strips" };
    this.placed = this.shown.look.lamps.flatMap(lamp => {
      const at = lamp.part && onSheet(this.places, lamp.part, lamp.at_mm);
      return at ? [{ lamp, at, key: keyOf(kinds[lamp.made_of], lamp.group), radius: (lamp.hole_mm || lamp.seen_mm || 1) / 2 }] : [];
    });
  }

  takePictures() {
    this.shown.plan.parts.forEach((part, number) => {
      if (!part.laid) return;
      const key = part.laid.of;
      const held = this.pictures.get(number);
      if (held && held.key === key) return;
      const image = new Image();
      const entry = { key, image, ready: false };
      image.onload = () => { entry.ready = true; this.draw(); };
      image.src = `/api/plans/${this.shown.id}/parts/${number}/picture?of=${key}`;
      this.pictures.set(number, entry);
    });
  }

  measured() {
    const box = this.canvas.getBoundingClientRect();
    this.size = { width: Math.max(1, box.width), height: Math.max(1, box.height) };
    const sharp = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(box.width * sharp);
    this.canvas.height = Math.round(box.height * sharp);
    this.sharp = sharp;
    this.draw();
  }

  insets() {
    return this.on.insets();
  }

  fit(part = null) {
    if (!this.shown) return;
    const place = part && this.places[part];
    this.fits = true;
    const box = place ? sheetBox(place, place.margin * 0.4) : wholeBox(this.places), insets = this.insets();
    this.view = fitted(box, this.size, insets);
    const over = place ? 0 : namesOver(this, this.size.width - insets.right);
    if (over > 0) this.view = fitted(box, this.size, { ...insets, right: insets.right + over });
    this.moved();
  }

  lookAt(part, at) {
    const point = onSheet(this.places, part, at);
    if (!point) return;
    const insets = this.insets(), place = this.places[part];
    const near = fitted(sheetBox(place, 0), this.size, insets).scale * 1.8;
    const scale = Math.max(this.view.scale, near);
    const middle = [(insets.left + this.size.width - insets.right) / 2, (insets.top + this.size.height - insets.bottom) / 2];
    this.look({
      scale, x: point[0] - (middle[0] - this.size.width / 2) / scale, y: point[1] + (middle[1] - this.size.height / 2) / scale,
    });
  }

  // A plate opened or closed: what filled the free sheet fills it again.
  refit() {
    if (this.fits) this.fit(this.shown && this.shown.part);
  }

  screenOf(part, at) {
    const point = onSheet(this.places, part, at);
    return point && toScreen(this.view, this.size, point);
  }

  moved() {
    this.on.hover(null);
    this.slide();
    this.on.moved();
  }

  // The user's own view, which no plate that opens takes away.
  look(view) {
    this.fits = false;
    this.view = view;
    this.moved();
  }

  zoom(factor) {
    this.look(zoomAt(this.view, this.size, [this.size.width / 2, this.size.height / 2], factor));
  }

  // Whether lamps are seen to shine, and the painter of their light, fetched when first needed.
  get byNight() {
    return Boolean(this.shown.glow && this.shown.seen) && this.shown.light < LAMPS_SEEN_BELOW;
  }

  get night() {
    this.fetched = this.fetched || import("./paint-night.js").then(({ NightPicture, paintTerms }) => { this.terms = paintTerms; return new NightPicture(); });
    return this.fetched;
  }

  // --- drawing ---------------------------------------------------------------------------------------------------

  draw() {
    this.changed = true;
    this.slide();
  }

  // The view alone moved: what is kept of the sheet will do.
  slide() {
    if (this.waiting || !this.shown) return;
    this.waiting = true;
    requestAnimationFrame(() => { this.waiting = false; this.paint(); });
  }

  paint() {
    const { pen } = this, room = roomColours(this.shown.light);
    this.frames += 1;
    pen.setTransform(this.sharp, 0, 0, this.sharp, 0, 0);
    if (this.changed) this.kept.drop();
    if (this.changed || !this.kept.lay(this)) this.paintSheet(room, pen);
    this.changed = false;
    this.hands.every("paint", room);
    paintThreads(this, room);
    paintRule(this);
    if (this.byNight && this.terms) this.terms(this, room);
    if (this.shown.playing) {
      this.clock.tick(this.on.paced);
      this.draw();
    }
  }

  // Parts, loom, lamps and glow, on the canvas itself or on one that is kept.
  paintSheet(room, pen) {
    const { size } = this;
    pen.globalAlpha = 1;
    pen.globalCompositeOperation = "source-over";
    pen.fillStyle = css(room.sheet);
    pen.fillRect(0, 0, size.width, size.height);
    pen.lineJoin = pen.lineCap = "round";
    this.shown.plan.parts.forEach((part, number) => paintPicture(this, part, number, room));
    if (this.byNight && this.painter) this.painter.paint(this, room, this.fine);
    else if (this.byNight) this.night.then(made => { this.painter = made; this.draw(); }, () => {});
    this.shown.plan.parts.forEach(part => paintPart(this, part, room));
    if (this.shown.pools) paintPools(this, this.shown.pools, room);
    paintCrossings(this, room);
    if (this.shown.drawnOn) paintRelief(this, this.shown.drawnOn, room);
    if (this.shown.loom) paintLoom(this, room);
    paintLamps(this, room);
    this.shown.plan.parts.forEach(part => paintStanding(this, part, room));
  }

  // --- places ----------------------------------------------------------------------------------------------------

  middlePart() {
    const [x, y] = toWorld(this.view, this.size, [this.size.width / 2, this.size.height / 2]);
    let best = null, least = Infinity;
    for (const [name, place] of Object.entries(this.places)) {
      const box = sheetBox(place, 0);
      const away = Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.low - y, 0, y - box.top));
      if (away < least) { best = name; least = away; }
    }
    return best;
  }

  centreOf(part) {
    const { box } = this.places[part], [x, y] = toWorld(this.view, this.size, [this.size.width / 2, this.size.height / 2]);
    const at = [x - this.places[part].dx, y - this.places[part].dy];
    return [round(Math.min(box.right, Math.max(box.left, at[0]))), round(Math.min(box.top, Math.max(box.low, at[1])))];
  }

  point(event) {
    const box = this.canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  // The place on a part, in its own millimetres, that lies at a place of the screen.
  placeOf(part, at) {
    const place = this.places[part], [x, y] = toWorld(this.view, this.size, at);
    return [round(x - place.dx), round(y - place.dy)];
  }

  partUnder(at) {
    const [x, y] = toWorld(this.view, this.size, at);
    for (const [name, place] of Object.entries(this.places)) {
      const box = sheetBox(place, place.margin * 0.2);
      if (x >= box.left && x <= box.right && y >= box.low && y <= box.top) return { part: name, at: [round(x - place.dx), round(y - place.dy)] };
    }
    return null;
  }

  // The server has answered what the hand did.
  settled() {
    this.hands.every("settled");
    this.draw();
  }

  // What a picture needs is there.
  async ready() {
    if (this.byNight) this.painter = await this.night;
  }

  // As sharp as it gets, whatever moved a moment ago.
  picture() {
    this.fine = this.changed = true;
    this.paint();
    this.fine = false;
    return new Promise(done => this.canvas.toBlob(done, "image/png"));
  }
}
