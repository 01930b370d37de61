// The picture by night on the sheet: worked out coarsely at once, finely beside the page once it rests; the room light
// moves only the curve at its end, a rhythm only the weights of its own raster.
import { label } from "./brush.js";
import { onSheet } from "./lay.js";
import { FAR_PX, flashPx, groundLight, layers, linearOf, summed, thinned, toned } from "./night.js";
import { freeShape } from "./stands.js";
import { hidden, openingOf } from "./paint-lamps.js";
import { levelAt } from "./rhythm.js";
import { Past } from "./later/past.js";
import { Sharp } from "./later/sharp.js";
import { darkWords, outlookOf, seenAslant, wayWords } from "./later/seen-round.js";
import { halfOf, termsWords } from "./room.js";
import { toScreen } from "./view.js";

const MOST_PX = 1.3e6, MOVING_PX = 1.2e5, SOON_PX = 4e4; // the last: for the blink until the sharp one is there
const REST_MS = 60, QUIET_MS = 400; // a new state is made sharp at once; what goes on moving once it rests

export class NightPicture {
  constructor() {
    this.canvas = document.createElement("canvas");
    this.under = document.createElement("canvas");
    this.held = this.laid = "";
    this.made = [];
    this.past = new Past();
  }

  // Over the sheet's ground and pictures, under its ink. `fine`: at once as sharp as it gets.
  paint(sheet, room, fine) {
    const { seen, light } = sheet.shown, half = halfOf(light, seen.half_cd_m2), ground = groundLight(room.sheet.map(linearOf), half);
    this.lay(sheet, seen, fine);
    const seconds = sheet.clock.seconds, weights = this.made.map(({ rhythm }) => rhythm ? levelAt(sheet.shown.rhythms[rhythm], seconds) : 1);
    const pictures = sheet.shown.plan.parts.map((_, n) => sheet.pictures.get(n)).filter(held => held && held.ready), { shown, view } = sheet;
    const on = pictures.length ? [view.x, view.y, room.picture, shown.strength, shown.wholePictures, shown.part, ...pictures.map(held => held.key)] : [];
    const how = [this.laid, half, room.sheet, weights, ...on].join(" ");
    if (how !== this.how) {
      const under = pictures.length ? this.below(sheet, room, [...on, room.sheet, view.scale, this.wide, this.high, sheet.sharp].join(" ")) : null;
      if (this.summedAs !== `${this.laid} ${weights}`) { this.summedAs = `${this.laid} ${weights}`; this.light = lightOf(this.made, weights, this.sum); }
      toned(this.image.data, this.light, ground, half, under);
      this.canvas.getContext("2d").putImageData(this.image, 0, 0);
      this.how = how;
    }
    this.tellFlashes(sheet, ground, half);
    const { pen } = sheet, grain = this.grain;
    pen.globalAlpha = 1;
    pen.drawImage(this.canvas, -FAR_PX * grain, -FAR_PX * grain, this.wide * grain, this.high * grain);
  }

  lay(sheet, seen, fine) {
    const lamps = lampsOf(sheet, seen), pools = poolsOf(sheet, seen);
    const look = `${sheet.size.width} ${sheet.size.height} ${sheet.view.scale} ${JSON.stringify([lamps, pools.map(pool => [pool.origin, pool.rhythm, pool.sum])])}`;
    const past = this.past.get(seen, look), alone = look === this.alone; // alone: no worker makes it
    if (look === this.held && (this.isFine || !(fine || past || alone))) return;
    const { width, height } = sheet.size, now = performance.now(), still = this.view === sheet.view && this.width === width && now - this.last > QUIET_MS;
    const soon = !this.held || still, most = fine || past || alone ? MOST_PX : soon && width * height > MOVING_PX ? SOON_PX : MOVING_PX;
    this.grain = Math.max(1, Math.sqrt(width * height / most));
    this.isFine = most === MOST_PX || this.grain === 1;
    Object.assign(this, { view: sheet.view, width, last: now });
    const given = grain => givenAt(grain, sheet, lamps, pools);
    const asked = given(this.grain);
    [, this.wide, this.high] = asked;
    this.made = past || layers(...asked);
    if (this.isFine) this.past.put(look, this.made);
    if (!this.image || this.image.width !== this.wide || this.image.height !== this.high) {
      this.canvas.width = this.wide;
      this.canvas.height = this.high;
      this.image = new ImageData(this.wide, this.high);
      this.sum = [0, 1, 2].map(() => new Float32Array(this.wide * this.high));
    }
    this.held = look;
    sheet.canvas.dataset.light = this.isFine ? "sharp" : "moving";
    this.laid = String((this.count = (this.count || 0) + 1));
    clearTimeout(this.timer);
    if (this.isFine) return;
    this.want = () => this.askSharp(sheet, look, given(Math.max(1, Math.sqrt(width * height / MOST_PX))), seen);
    if (soon) this.want(); else this.waitForRest(sheet);
  }

  askSharp(sheet, look, given, seen) {
    this.sharp = this.sharp || new Sharp((of, made, answer) => this.came(of, made, answer));
    this.onSheet = sheet;
    this.sharp.ask(look, given, seen);
  }

  came(look, made, answer) {
    if (made && this.past.of === answer) this.past.put(look, made);
    if (!made) this.alone = look;
    if (look === this.held) this.onSheet.draw();
  }

  // Sharp once the view has rested; while it is still pushed about, what is kept of the sheet will do.
  waitForRest(sheet) {
    clearTimeout(this.timer);
    const { view } = sheet;
    this.timer = setTimeout(() => {
      if (sheet.view !== view) this.waitForRest(sheet);
      else this.want();
    }, REST_MS);
  }

  // Code values of the ground with the parts' pictures on it, at the raster's pixels; no state changes them, and to read them back is
  // slow: those of the last two rasters, a coarse and a sharp one, are kept.
  below(sheet, room, of) {
    if (this.parts !== sheet.shown.plan.parts) Object.assign(this, { parts: sheet.shown.plan.parts, read: [] });
    const found = this.read.find(one => one.of === of);
    if (found) return found.data;
    const { under, wide, high, grain } = this;
    if (under.width !== wide || under.height !== high) { under.width = wide; under.height = high; }
    const pen = under.getContext("2d", { willReadFrequently: true }), [r, g, b] = room.sheet, { canvas } = sheet.pen;
    pen.fillStyle = `rgb(${r} ${g} ${b})`;
    pen.fillRect(0, 0, wide, high);
    pen.drawImage(canvas, FAR_PX, FAR_PX, canvas.width / sheet.sharp / grain, canvas.height / sheet.sharp / grain);
    const { data } = pen.getImageData(0, 0, wide, high);
    this.read = [{ of, data }, ...this.read.slice(0, 1)];
    return data;
  }

  // What each rhythm changes by a tenth of white, in pixels of the screen: the clock keeps all of it within the flash limits.
  tellFlashes(sheet, ground, half) {
    if (!sheet.shown.playing) return;
    const known = `${this.laid} ${half} ${ground}`;
    if (this.known !== known) {
      const steady = [0, 1, 2].map(() => new Float32Array(this.wide * this.high));
      summed(steady, this.made, this.made.map(({ rhythm }) => rhythm ? 0 : 1));
      this.flashes = this.made.filter(({ rhythm }) => rhythm).map(layer => [layer.rhythm, flashPx(layer, steady, ground, half) * this.grain ** 2]);
      this.known = known;
    }
    sheet.clock.flashing.push(...this.flashes.map(([rhythm, px2]) => [sheet.shown.rhythms[rhythm], px2]));
  }
}

// Red, green and blue of all layers: one steady layer in these colours is that already.
function lightOf(made, weights, sum) {
  const [{ planes } = { planes: [] }] = made;
  if (made.length === 1 && weights[0] === 1 && planes.length === 3) return planes.map(({ plane }) => plane);
  summed(sum, made, weights);
  return sum;
}

// What `layers` wants for the sheet at so many of its pixels to one of the raster.
function givenAt(grain, sheet, lamps, pools) {
  const { seen } = sheet.shown, [wide, high] = [sheet.size.width, sheet.size.height].map(side => Math.ceil(side / grain) + 2 * FAR_PX);
  const inside = ([x, y]) => [x / grain + FAR_PX, y / grain + FAR_PX];
  return [
    lamps.map(lamp => ({ ...lamp, at: inside(lamp.at), radius: lamp.radius / grain, shape: lamp.shape && lamp.shape.map(inside), ends: lamp.ends && lamp.ends.map(inside) })),
    wide, high, { pixelMm: grain / sheet.view.scale, distanceMm: seen.distance_mm, table: seen.spread },
    pools.map(pool => ({ ...pool, origin: inside(pool.origin), step: pool.step.map(step => step / grain), edge: grain > 1.5 ? thinned(pool.edge.map(inside)) : pool.edge.map(inside) })),
  ];
}

const placeOf = ({ turned, seen }) => turned ?? (seen.seen_from && { bearing: seen.seen_from[0], height: seen.seen_from[1] });

// What reaches the viewer's own place round the model, or else the plan's.
const lookedAt = shown => placeOf(shown) ? outlookOf(shown.seen.round, shown.state, placeOf(shown)) : { shares: {}, leans: {}, behind: [] };

// Every lit lamp on the screen: place, size and shape in its pixels, strength and colour.
function lampsOf(sheet, seen) {
  const { shown, view, size } = sheet, { shares, leans } = lookedAt(shown);
  return sheet.placed.flatMap(({ lamp, at, key }) => {
    const light = shown.glow[lamp.name], share = shares[lamp.name] ?? 1, lean = leans[lamp.name];
    if (!light || !(light.mcd * share > 0) || hidden(sheet, lamp) || (lamp.facing === "inward" && !openingOf(sheet, lamp))) return []; // nothing of it comes out
    const opening = openingOf(sheet, lamp), banded = opening && seen.bands[lamp.name], on = point => toScreen(view, size, onSheet(sheet.places, lamp.part, point));
    const free = opening && freeShape(shown.plan, opening, shown.state), rhythm = shown.playing && shown.rhythms[lamp.rhythm] ? lamp.rhythm : "";
    if (free && !free.length) return []; // behind a shut door
    return [{
      at: toScreen(view, size, sheet.lamps.carried(key, at)), radius: lamp.seen_mm * view.scale / 2, cd: light.mcd * share / 1000, xy: seen.own_hues[lamp.name] ?? seen.hues[lamp.colour], rhythm,
      shape: free && seenAslant(free, lean).map(on), bands: banded ? banded.values : null, ends: banded ? seenAslant(banded.ends_mm, lean, free).map(on) : null,
      lean: lean && [lean[0], -lean[1]],
    }];
  });
}

// Grounds that floodlights light in the state and walls that light comes through; one with a lamp that is filtered out is left out with it.
function poolsOf(sheet, seen) {
  const { shown, view, size } = sheet, { behind } = lookedAt(shown), off = new Set(sheet.placed.filter(({ lamp }) => hidden(sheet, lamp)).map(({ lamp }) => lamp.name));
  return seen.pools.filter(pool => pool.states.includes(shown.state) && !behind.includes(pool.part) && sheet.places[pool.part] && !pool.lamps.some(name => off.has(name))).map(pool => {
    const on = point => toScreen(view, size, onSheet(sheet.places, pool.part, point)), step = pool.step_mm * view.scale;
    return {
      origin: on(pool.corner_mm), step: [step, -step], grid: pool.cd_m2, xy: pool.xy, rhythm: shown.playing && shown.rhythms[pool.rhythm] ? pool.rhythm : "",
      edge: (pool.edge_mm.length ? pool.edge_mm : shown.plan.parts.find(part => part.name === pool.part).outline_mm).map(on), sum: pool.cd_m2.flat().reduce((sum, value) => sum + value, 0),
    };
  });
}

// From where one looks, and how many lamps are dark there.
function fromWords(shown) {
  const from = placeOf(shown), lit = Object.keys(shown.glow).filter(name => shown.glow[name].mcd > 0);
  return from ? `From ${wayWords(from)}; ${darkWords(lit, lookedAt(shown).shares)}` : "Each part square on";
}

// What the picture takes for granted, on the picture.
export function paintTerms(sheet, room) {
  const { seen, light } = sheet.shown, insets = sheet.insets();
  const words = termsWords(seen, light), from = fromWords(sheet.shown), narrow = sheet.size.width < 700;
  const lines = narrow || sheet.size.width - insets.left - insets.right < 600 ? `${words}; ${from}`.split("; ").reverse() : [words, from];
  if (narrow && !sheet.fine) return; // there the page says it under the sheet
  lines.forEach((line, n) => label(sheet, line, insets.left + 4, sheet.size.height - insets.rule - 40 - 18 * n, room));
}
