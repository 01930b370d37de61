// The sheet: parts, loom, lamps and their glow on one canvas, and the hand on it. Says what was done through `on`.
import { CORE, sprite } from "./glow.js";
import { hit, inFrame, itemAt, keyOf, parted, round } from "./items.js";
import { layOut, onSheet, sheetBox, wholeBox } from "./lay.js";
import { levelAt } from "./rhythm.js";
import { css, plate, roomColours } from "./room.js";
import { placeWords, stepsFor, ticks } from "./ruler.js";
import { boxOf, fitted, panned, toScreen, toWorld, zoomAt } from "./view.js";

const LEAST_LAMP_PX = 4.5;
const REACH_PX = 14;
const RULE_PX = 26;
const LETTERS_FROM = 2.2;
const TICKS = { up: [0, 1], down: [0, -1], ahead: [1, 0], astern: [-1, 0], port: [-0.7, 0.7], starboard: [0.7, -0.7] };

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
    this.touches = new Map();
    this.hand = null;
    this.rest = null;
    this.waiting = false;
    this.started = performance.now();
    this.frames = 0;
    new ResizeObserver(() => this.measured()).observe(canvas);
    this.listen();
    this.measured();
  }

  // --- what is shown ---------------------------------------------------------------------------------------------

  show(shown) {
    const first = !this.shown, plan = shown.plan;
    const parts = plan !== (this.shown && this.shown.plan);
    this.shown = shown;
    if (parts) {
      this.places = layOut(plan.parts);
      this.takePictures();
    }
    this.placeLamps();
    if (first) this.fit();
    this.draw();
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
      if (!part.picture || !this.shown.boxes || !this.shown.boxes[number]) return;
      const key = JSON.stringify([part.picture, part.outline_mm]);
      const held = this.pictures.get(number);
      if (held && held.key === key) return;
      const image = new Image();
      const entry = { key, image, ready: false };
      image.onload = () => { entry.ready = true; this.draw(); };
      image.src = `/api/plans/${this.shown.id}/parts/${number}/picture?of=${hashed(key)}`;
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
    this.view = fitted(place ? sheetBox(place, place.margin * 0.4) : wholeBox(this.places), this.size, this.insets());
    this.moved();
  }

  lookAt(part, at) {
    const point = onSheet(this.places, part, at);
    if (!point) return;
    const insets = this.insets(), place = this.places[part];
    this.fits = false;
    const near = fitted(sheetBox(place, 0), this.size, insets).scale * 1.8;
    const scale = Math.max(this.view.scale, near);
    const middle = [(insets.left + this.size.width - insets.right) / 2, (insets.top + this.size.height - insets.bottom) / 2];
    this.view = {
      scale, x: point[0] - (middle[0] - this.size.width / 2) / scale, y: point[1] + (middle[1] - this.size.height / 2) / scale,
    };
    this.moved();
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
    this.draw();
    this.on.moved();
  }

  zoom(factor) {
    this.fits = false;
    this.view = zoomAt(this.view, this.size, [this.size.width / 2, this.size.height / 2], factor);
    this.moved();
  }

  // --- drawing ---------------------------------------------------------------------------------------------------

  draw() {
    if (this.waiting || !this.shown) return;
    this.waiting = true;
    requestAnimationFrame(() => { this.waiting = false; this.paint(); });
  }

  paint() {
    const { pen, size } = this, room = roomColours(this.shown.light);
    this.frames += 1;
    pen.setTransform(this.sharp, 0, 0, this.sharp, 0, 0);
    pen.globalAlpha = 1;
    pen.globalCompositeOperation = "source-over";
    pen.fillStyle = css(room.sheet);
    pen.fillRect(0, 0, size.width, size.height);
    pen.lineJoin = pen.lineCap = "round";
    this.shown.plan.parts.forEach((part, number) => this.paintPart(part, number, room));
    if (this.shown.loom) this.paintLoom(room);
    this.paintGlow(room);
    this.paintLamps(room);
    this.paintHandles(room);
    this.paintThreads(room);
    this.paintFrame(room);
    this.paintRule(room);
    if (this.shown.playing) this.draw();
  }

  path(points, part, closed = false, by = [0, 0]) {
    const { pen } = this;
    pen.beginPath();
    points.forEach((point, n) => {
      const at = toScreen(this.view, this.size, onSheet(this.places, part, [point[0] + by[0], point[1] + by[1]]));
      if (n) pen.lineTo(at[0], at[1]); else pen.moveTo(at[0], at[1]);
    });
    if (closed) pen.closePath();
  }

  line(points, part, { width, colour, dash = [], closed = false, by }) {
    const { pen } = this;
    this.path(points, part, closed, by);
    pen.setLineDash(dash);
    pen.lineWidth = width;
    pen.strokeStyle = colour;
    pen.stroke();
    pen.setLineDash([]);
  }

  paintPart(part, number, room) {
    const { pen } = this, ink = css(room.ink);
    const held = this.pictures.get(number), box = this.shown.boxes && this.shown.boxes[number];
    if (held && held.ready && box) {
      const [left, top] = toScreen(this.view, this.size, onSheet(this.places, part.name, [box[0], box[3]]));
      pen.save();
      this.path(part.outline_mm, part.name, true);
      if (!this.shown.wholePictures) pen.clip();
      pen.globalAlpha = room.picture;
      pen.drawImage(held.image, left, top, (box[2] - box[0]) * this.view.scale, (box[3] - box[1]) * this.view.scale);
      pen.restore();
    }
    for (const region of part.keep_outs) this.paintKeepOut(region, part.name, room);
    for (const bay of part.bays) this.line(cornersOf(bay.rect_mm), part.name, { width: 1, colour: ink, dash: [7, 4], closed: true });
    for (const opening of part.openings) this.line(opening.shape, part.name, { width: 1.1 * room.thin, colour: ink, closed: true });
    for (const seam of part.seams_mm) this.line(seam, part.name, { width: 0.7, colour: ink, dash: [9, 3, 2, 3] });
    this.line(part.outline_mm, part.name, { width: 2 * room.thin, colour: ink, closed: true });
    this.paintName(part, room);
  }

  paintKeepOut({ shape }, part, room) {
    if (shape.length < 3) return;
    const { pen } = this, box = boxOf(shape);
    pen.save();
    this.path(shape, part, true);
    pen.clip();
    pen.beginPath();
    const [left, low] = toScreen(this.view, this.size, onSheet(this.places, part, [box.left, box.low]));
    const [right, top] = toScreen(this.view, this.size, onSheet(this.places, part, [box.right, box.top]));
    for (let x = Math.floor((left - (low - top)) / 6) * 6; x < right; x += 6) {
      pen.moveTo(x, low);
      pen.lineTo(x + (low - top), top);
    }
    pen.lineWidth = 0.6;
    pen.strokeStyle = css(room.ink, 0.55);
    pen.stroke();
    pen.restore();
    this.line(shape, part, { width: 0.8, colour: css(room.ink, 0.8), dash: [1, 3], closed: true });
  }

  paintName(part, room) {
    const place = this.places[part.name];
    const [left, top] = toScreen(this.view, this.size, onSheet(this.places, part.name, [place.box.left, place.box.top]));
    this.label(part.name, left, top - 12, room, { bold: this.shown.part === part.name });
  }

  label(words, x, y, room, { bold = false, align = "left" } = {}) {
    const { pen } = this, day = plate(this.shown.light) === "day";
    pen.font = `${bold ? "700" : "400"} 13px "Atkinson Hyperlegible Next", sans-serif`;
    const width = pen.measureText(words).width, left = align === "left" ? x : x - width / 2;
    pen.fillStyle = day ? "rgb(247 241 229 / 0.9)" : "rgb(20 17 15 / 0.9)";
    pen.fillRect(left - 3, y - 9, width + 6, 18);
    pen.fillStyle = day ? "#2a2520" : "#ece3d4";
    pen.textBaseline = "middle";
    pen.textAlign = "left";
    pen.fillText(words, left, y + 1);
  }

  paintLoom(room) {
    const { loom } = this.shown, fresh = this.shown.fresh ? 1 : 0.35;
    const { pen } = this;
    pen.globalAlpha = fresh;
    const pale = css(room.sheet), ink = css(room.ink), px = this.view.scale;
    for (const tail of loom.tails) for (const leg of tail.legs) {
      if (this.places[leg.part]) this.line(leg.points, leg.part, { width: 0.6, colour: css(room.ink, 0.8) });
    }
    for (const lead of loom.leads) {
      const width = Math.max(1.8, lead.outer_mm * px), plus = lead.net === "plus";
      for (const leg of lead.legs) {
        if (!this.places[leg.part]) continue;
        this.line(leg.points, leg.part, { width: width + 1.6, colour: pale });
        this.line(leg.points, leg.part, { width, colour: plus ? emberOf(this.shown.light) : ink });
        this.line(leg.points, leg.part, { width: Math.max(0.6, width - 1.8), colour: pale, dash: plus ? [] : [5, 5] });
      }
    }
    for (const splice of loom.splices) this.mark(splice, (x, y) => {
      const half = Math.max(3.5, splice.length_mm * px / 2);
      pen.fillStyle = pale;
      pen.strokeStyle = ink;
      pen.lineWidth = 1.2;
      pen.beginPath();
      pen.roundRect(x - half, y - 3, 2 * half, 6, 3);
      pen.fill();
      pen.stroke();
    });
    for (const emitter of loom.emitters) if (emitter.kind === "illuminator") this.mark(emitter, (x, y) => {
      pen.fillStyle = ink;
      pen.beginPath();
      pen.arc(x, y, Math.max(3.2, 1.4 * px), 0, 7);
      pen.fill();
    });
    pen.globalAlpha = 1;
  }

  mark({ part, at_mm }, draw) {
    const at = this.screenOf(part, at_mm);
    if (at) draw(at[0], at[1]);
  }

  paintGlow(room) {
    const glow = this.shown.glow;
    if (!glow || room.glow < 0.01) return;
    const { pen } = this, seconds = (performance.now() - this.started) / 1000;
    pen.globalCompositeOperation = "lighter";
    for (const { lamp, at } of this.placed) {
      const light = glow[lamp.name];
      if (!light || this.hidden(lamp)) continue;
      const rhythm = this.shown.playing && this.shown.rhythms[lamp.rhythm];
      const alpha = room.glow * (rhythm ? levelAt(rhythm, seconds) : 1);
      if (alpha < 0.01) continue;
      pen.globalAlpha = alpha;
      const [x, y] = toScreen(this.view, this.size, this.carried(lamp, at));
      const opening = this.behind(lamp);
      if (opening) {
        this.path(opening.shape, lamp.part, true);
        pen.fillStyle = pen.shadowColor = light.rgb;
        pen.shadowBlur = (6 + 14 * light.level) * Math.min(2, Math.max(0.5, this.view.scale / 2)) * this.sharp;
        pen.fill();
        pen.shadowBlur = 0;
        continue;
      }
      const core = Math.max(lamp.seen_mm * this.view.scale / 2, 1.4);
      const reach = core / CORE * (0.45 + 0.75 * light.level) + 4 * this.view.scale * light.level;
      pen.drawImage(sprite(light.rgb), x - reach, y - reach, 2 * reach, 2 * reach);
      pen.fillStyle = light.rgb;
      pen.beginPath();
      pen.arc(x, y, core, 0, 7);
      pen.fill();
    }
    pen.globalAlpha = 1;
    pen.globalCompositeOperation = "source-over";
  }

  // The opening that a lamp fills with light, if it lies behind one.
  behind(lamp) {
    if (!lamp.opening || (lamp.kind !== "strip" && lamp.kind !== "room")) return null;
    const part = this.shown.plan.parts.find(row => row.name === lamp.part);
    return (part && part.openings.find(row => row.name === lamp.opening)) || null;
  }

  hidden(lamp) {
    const only = this.shown.only;
    return only && !only.has(keyOf(lamp.made_of, lamp.group));
  }

  // A lamp under the hand goes along with it.
  carried(lamp, at) {
    const hand = this.held("move");
    if (!hand || !hand.keys.has(keyOf(lamp.made_of, lamp.group))) return at;
    return [at[0] + hand.by[0], at[1] + hand.by[1]];
  }

  paintLamps(room) {
    const { pen } = this, chosen = new Set(this.shown.chosen), state = this.shown.state;
    const least = Math.min(LEAST_LAMP_PX, Math.max(2.2, 3.4 * this.view.scale)), quiet = 1 - 0.75 * room.glow, letters = this.view.scale > LETTERS_FROM;
    for (const { lamp, at, key } of this.placed) {
      if (this.hidden(lamp)) continue;
      const [x, y] = toScreen(this.view, this.size, this.carried(lamp, at));
      if (x < -40 || y < -40 || x > this.size.width + 40 || y > this.size.height + 40) continue;
      const radius = Math.max(least, (lamp.hole_mm || lamp.seen_mm || 1) * this.view.scale / 2);
      const lit = lamp.states.includes(state) && !lamp.dark;
      const picked = chosen.has(key), behind = this.behind(lamp);
      pen.globalAlpha = picked ? 1 : lit ? quiet : 0.55 * (0.5 + 0.5 * quiet);
      pen.strokeStyle = css(picked && room.glow > 0.3 ? [236, 227, 212] : room.ink);
      pen.lineWidth = lit ? 1.7 : 1;
      pen.setLineDash(lit ? [] : [2, 2.5]);
      if (behind) this.path(behind.shape, lamp.part, true);
      else { pen.beginPath(); pen.arc(x, y, radius, 0, 7); }
      if (room.glow < 0.5) {
        pen.fillStyle = css([247, 241, 229], lit ? 0.92 * (1 - room.glow) : 0.4 * (1 - room.glow));
        pen.fill();
      }
      pen.stroke();
      pen.setLineDash([]);
      const tick = TICKS[lamp.facing];
      if (tick && !behind) {
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
      if ((letters || picked) && (room.glow < 0.5 || picked)) this.letter(lamp, x, y, radius, picked);
    }
    pen.globalAlpha = 1;
  }

  letter(lamp, x, y, radius, picked) {
    const { pen } = this, alone = lamp.made_of === "lamps" || this.view.scale > 5;
    if (!alone && !(picked && lamp.name === `${lamp.group} 1`)) return;
    const words = lamp.rhythm !== "steady" ? `${lamp.letter} ${lamp.rhythm}` : lamp.letter;
    pen.font = '700 11.5px "Atkinson Hyperlegible Next", sans-serif';
    pen.textBaseline = "middle";
    pen.textAlign = "left";
    const day = plate(this.shown.light) === "day", left = x + radius + (picked ? 8 : 4), width = pen.measureText(words).width;
    pen.fillStyle = day ? "rgb(247 241 229 / 0.85)" : "rgb(20 17 15 / 0.85)";
    pen.fillRect(left - 1.5, y - radius - 8, width + 3, 13);
    pen.fillStyle = day ? "#2a2520" : "#ece3d4";
    pen.fillText(words, left, y - radius - 1);
  }

  // What the hand holds, or what it put down and the server has not answered yet.
  held(kind) {
    return [this.hand, this.rest].find(hand => hand && hand.kind === kind) || null;
  }

  // Ends and corners of the line of a chosen row or strip.
  handles() {
    if (!this.shown || this.shown.chosen.length !== 1) return [];
    const [key] = this.shown.chosen, { kind } = parted(key), item = itemAt(this.shown.plan, key);
    if (!item || kind === "lamps" || !this.places[item.part]) return [];
    const held = this.held("bend"), move = this.held("move"), by = move ? move.by : [0, 0];
    return item.along_mm.map((point, n) => ({
      key, n, part: item.part, point: held && held.n === n ? held.at : [point[0] + by[0], point[1] + by[1]],
    }));
  }

  paintHandles(room) {
    const handles = this.handles();
    if (!handles.length) return;
    const { pen } = this, colour = css(room.glow > 0.3 ? [236, 227, 212] : room.ink);
    this.line(handles.map(h => h.point), handles[0].part, { width: 0.9, colour, dash: [3, 4] });
    for (const handle of handles) {
      const [x, y] = this.screenOf(handle.part, handle.point);
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

  // Hairlines from the notes in the margin to the places they speak of.
  paintThreads(room) {
    const { pen } = this;
    for (const thread of this.on.threads()) {
      const at = this.screenOf(thread.part, thread.at);
      if (!at) continue;
      const day = plate(this.shown.light) === "day";
      if (!thread.chosen && room.glow > 0.5) continue;
      pen.strokeStyle = thread.chosen ? emberOf(this.shown.light) : day ? "rgb(42 37 32 / 0.45)" : "rgb(236 227 212 / 0.4)";
      pen.lineWidth = thread.chosen ? 1.3 : 0.6;
      pen.beginPath();
      pen.moveTo(thread.from[0], thread.from[1]);
      pen.lineTo(thread.from[0] - 18, thread.from[1]);
      pen.lineTo(at[0], at[1]);
      pen.stroke();
      if (thread.chosen) {
        pen.beginPath();
        pen.arc(at[0], at[1], 13, 0, 7);
        pen.stroke();
      }
    }
  }

  paintFrame(room) {
    const hand = this.hand;
    if (!hand || hand.kind !== "frame") return;
    const { pen } = this, [a, b] = [hand.from, hand.to];
    pen.strokeStyle = css(room.glow > 0.3 ? [236, 227, 212] : room.ink);
    pen.setLineDash([4, 4]);
    pen.lineWidth = 1;
    pen.strokeRect(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1]));
    pen.setLineDash([]);
  }

  // The rule: millimetres of the part that is looked at, from its own zero.
  paintRule() {
    const { pen, size } = this, day = plate(this.shown.light) === "day", insets = this.insets();
    const base = size.height - insets.rule, name = this.shown.part || this.middlePart();
    const place = this.places[name];
    if (!place) return;
    pen.fillStyle = day ? "rgb(247 241 229 / 0.94)" : "rgb(20 17 15 / 0.94)";
    pen.fillRect(0, base - RULE_PX, size.width, RULE_PX);
    pen.strokeStyle = pen.fillStyle = day ? "#2a2520" : "#d9cfbf";
    pen.lineWidth = 0.8;
    pen.beginPath();
    pen.moveTo(0, base - RULE_PX);
    pen.lineTo(size.width, base - RULE_PX);
    const left = toWorld(this.view, size, [insets.left, 0])[0] - place.dx, right = toWorld(this.view, size, [size.width, 0])[0] - place.dx;
    pen.font = '400 11px "Atkinson Hyperlegible Mono", monospace';
    pen.textBaseline = "middle";
    pen.textAlign = "center";
    const steps = stepsFor(this.view.scale, this.shown.unit);
    for (const tick of ticks(left, right, steps)) {
      const x = toScreen(this.view, size, [tick.place + place.dx, 0])[0];
      pen.moveTo(x, base - RULE_PX);
      pen.lineTo(x, base - RULE_PX + (tick.long ? 9 : 4));
      if (tick.long) pen.fillText(placeWords(tick.place, this.shown.unit), x, base - RULE_PX + 17);
    }
    pen.stroke();
    const words = `${this.shown.unit === "inch" ? "inches" : "mm"} on ${name}`;
    pen.font = '400 11px "Atkinson Hyperlegible Next", sans-serif';
    const width = pen.measureText(words).width;
    pen.fillStyle = day ? "#f7f1e5" : "#14110f";
    pen.fillRect(insets.left - 4, base - RULE_PX + 10, width + 12, 15);
    pen.fillStyle = day ? "#2a2520" : "#d9cfbf";
    pen.textAlign = "left";
    pen.fillText(words, insets.left + 2, base - RULE_PX + 17);
  }

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

  // --- the hand --------------------------------------------------------------------------------------------------

  listen() {
    const { canvas } = this;
    canvas.addEventListener("pointerdown", event => this.down(event));
    canvas.addEventListener("pointermove", event => this.move(event));
    canvas.addEventListener("pointerleave", () => this.on.hover(null));
    canvas.addEventListener("keydown", () => canvas.classList.remove("byhand"));
    canvas.addEventListener("blur", () => canvas.classList.remove("byhand"));
    canvas.addEventListener("pointerup", event => this.up(event));
    canvas.addEventListener("pointercancel", event => { this.touches.delete(event.pointerId); this.hand = null; this.draw(); });
    canvas.addEventListener("dblclick", event => this.on.place(this.partUnder(this.point(event))));
    canvas.addEventListener("wheel", event => {
      event.preventDefault();
      this.fits = false;
      this.view = zoomAt(this.view, this.size, this.point(event), Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016)));
      this.moved();
    }, { passive: false });
  }

  point(event) {
    const box = this.canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  partUnder(at) {
    const [x, y] = toWorld(this.view, this.size, at);
    for (const [name, place] of Object.entries(this.places)) {
      const box = sheetBox(place, place.margin * 0.2);
      if (x >= box.left && x <= box.right && y >= box.low && y <= box.top) return { part: name, at: [round(x - place.dx), round(y - place.dy)] };
    }
    return null;
  }

  down(event) {
    if (!this.shown || event.button > 1) return;
    this.canvas.setPointerCapture(event.pointerId);
    this.canvas.classList.add("byhand");
    this.on.hover(null);
    const at = this.point(event);
    this.touches.set(event.pointerId, at);
    if (this.touches.size === 2) { this.hand = { kind: "pinch", ...this.span() }; return; }
    const handle = this.handles().find(row => {
      const [x, y] = this.screenOf(row.part, row.point);
      return Math.hypot(x - at[0], y - at[1]) < REACH_PX;
    });
    const lamp = hit(this.placed.filter(row => !this.hidden(row.lamp)), toWorld(this.view, this.size, at), REACH_PX / this.view.scale);
    if (event.button === 1) this.hand = { kind: "pan", last: at };
    else if (handle) this.hand = { kind: "bend", key: handle.key, n: handle.n, part: handle.part, at: handle.point, from: at, moved: false };
    else if (lamp) {
      const more = event.shiftKey || event.ctrlKey || event.metaKey;
      const chosen = this.on.choose(lamp.key, more);
      this.hand = { kind: "move", keys: new Set(chosen), lamp: lamp.lamp, from: at, by: [0, 0], moved: false };
    } else if (event.shiftKey) this.hand = { kind: "frame", from: at, to: at };
    else this.hand = { kind: "pan", last: at, from: at, moved: false };
    this.canvas.focus({ preventScroll: true });
  }

  span() {
    const [a, b] = [...this.touches.values()];
    return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.hypot(a[0] - b[0], a[1] - b[1]) };
  }

  move(event) {
    const at = this.point(event), hand = this.hand;
    if (!hand) { this.hover(at); return; }
    this.touches.set(event.pointerId, at);
    if (hand.kind === "pinch" && this.touches.size === 2) {
      const now = this.span();
      this.view = zoomAt(panned(this.view, now.middle[0] - hand.middle[0], now.middle[1] - hand.middle[1]), this.size, now.middle, now.apart / Math.max(1, hand.apart));
      Object.assign(hand, now);
      this.moved();
    } else if (hand.kind === "pan") {
      hand.moved = hand.moved || !hand.from || Math.hypot(at[0] - hand.from[0], at[1] - hand.from[1]) > 3;
      this.fits = false;
      this.view = panned(this.view, at[0] - hand.last[0], at[1] - hand.last[1]);
      hand.last = at;
      this.moved();
    } else if (hand.kind === "frame") { hand.to = at; this.draw(); }
    else this.drag(at, hand);
  }

  drag(at, hand) {
    if (!hand.moved && Math.hypot(at[0] - hand.from[0], at[1] - hand.from[1]) < 4) return;
    hand.moved = true;
    const by = [round((at[0] - hand.from[0]) / this.view.scale), round(-(at[1] - hand.from[1]) / this.view.scale)];
    if (hand.kind === "move") {
      hand.by = by;
      const [x, y] = hand.lamp.at_mm;
      this.on.hover({ ...hand.lamp, at_mm: [round(x + by[0]), round(y + by[1])] }, at);
    }
    else { const place = this.places[hand.part], [x, y] = toWorld(this.view, this.size, at); hand.at = [round(x - place.dx), round(y - place.dy)]; }
    this.draw();
  }

  hover(at) {
    const lamp = this.shown && hit(this.placed, toWorld(this.view, this.size, at), REACH_PX / this.view.scale);
    this.canvas.style.cursor = lamp ? "pointer" : "default";
    this.on.hover(lamp ? lamp.lamp : null, at);
  }

  up(event) {
    const hand = this.hand;
    this.touches.delete(event.pointerId);
    this.hand = null;
    this.on.hover(null);
    if (!hand) return;
    if (hand.kind === "move" && hand.moved) { this.settling(hand); this.on.dragged([...hand.keys], hand.by); }
    else if (hand.kind === "bend" && hand.moved) { this.settling(hand); this.on.bent(hand.key, hand.n, hand.at); }
    else if (hand.kind === "frame") {
      this.on.framed(inFrame(this.placed, toWorld(this.view, this.size, hand.from), toWorld(this.view, this.size, hand.to)));
    } else if (hand.kind === "pan" && !hand.moved && hand.from) this.on.choose(null, false);
    this.draw();
  }

  // What was dragged stays where it was put until the server has answered.
  settling(hand) {
    this.rest = hand;
  }

  settled() {
    this.rest = null;
    this.draw();
  }

  picture() {
    return new Promise(done => this.canvas.toBlob(done, "image/png"));
  }
}

const emberOf = light => plate(light) === "day" ? "#b4491a" : "#f0935c";
const cornersOf = ([x, y, width, height]) => [[x, y], [x + width, y], [x + width, y + height], [x, y + height]];

function hashed(text) {
  let sum = 5381;
  for (let n = 0; n < text.length; n += 1) sum = (sum * 33 + text.charCodeAt(n)) >>> 0;
  return sum.toString(36);
}
