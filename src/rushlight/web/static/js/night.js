// The picture by night, as the book makes it (optics/night.py, number for number): lamps laid into a raster of linear
// light, spread as the eye spreads them, toned at the end. Pure; the app and the page for showing use it alike.

const TO_RGB = [[3.2409699419, -1.5373831776, -0.4986107603], [-0.9692436363, 1.8759675015, 0.0415550574], [0.0556300797, -0.2039769590, 1.0569715142]];
const [WR, WG, WB] = [0.2126390059, 0.7151686788, 0.0721923154];
const LEVELS = 9, THIN = 1e-9, FIRST_DEG = 0.001, STEPS = 16384;
export const FAR_PX = 32;
const FAR_STEP = 16;

// Linear sRGB of a chromaticity at unit luminance; may lie out of what a screen shows.
export const unitRgb = ([x, y]) => TO_RGB.map(row => row[0] * x / y + row[1] + row[2] * (1 - x - y) / y);

export const linearOf = code => code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4;
const luminanceOf = ([r, g, b]) => WR * r + WG * g + WB * b;
const CODES = Uint8Array.from({ length: STEPS }, (_, n) => {
  const light = n / (STEPS - 1);
  return Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));
});

const [RED, GREEN, BLUE, OPAQUE] = new Uint8Array(new Uint32Array([1]).buffer)[0] ? [0, 8, 16, 0xff000000] : [24, 16, 8, 255]; // whose bytes lie first

// --- lamps in a raster ---------------------------------------------------------------------------------------------

const areaOf = shape => Math.abs(shape.reduce((sum, a, n) => { const b = shape[(n + 1) % shape.length]; return sum + a[0] * b[1] - b[0] * a[1]; }, 0)) / 2;

// Adds a lamp's light (cd/m2 times pixels) to planes, to each its part: as its shape, or as a disc that keeps its light
// however small. `bands`: luminances along a shape over their mean, from one of its `ends` to the other.
export function lay(planes, parts, wide, high, { at, radius, shape = null, light, bands = null, ends, lean }) {
  const area = shape ? areaOf(shape) : 0, some = planes.map((plane, n) => [plane, parts[n] * light]).filter(([plane, part]) => plane && part);
  if (area >= 1) layShape(some, wide, high, shape, 1 / area, bands && alongOf(bands, ends));
  else layDisc(some, wide, high, at, shape ? Math.sqrt(area / Math.PI) : radius, !shape && lean && Math.hypot(...lean) > 0 && lean);
}

function layDisc(some, wide, high, [x, y], radius, lean) {
  const shown = Math.max(radius, 0.5), reach = Math.ceil(shown + 0.5), left = Math.floor(x) - reach, top = Math.floor(y) - reach, past = lean ? pastEllipse(radius, shown, lean) : (a, b) => Math.sqrt(a * a + b * b) - shown;
  const cover = (column, row) => Math.min(1, Math.max(0, 0.5 - past(column + 0.5 - x, row + 0.5 - y)));
  let sum = 0;
  if (shown > 24 && !lean) sum = Math.PI * (shown * shown + 1 / 12);
  else for (let row = top; row <= top + 2 * reach; row += 1) for (let column = left; column <= left + 2 * reach; column += 1) sum += cover(column, row);
  for (let row = Math.max(top, 0); row < Math.min(top + 2 * reach + 1, high); row += 1) {
    for (let column = Math.max(left, 0); column < Math.min(left + 2 * reach + 1, wide); column += 1) {
      const share = cover(column, row) / sum;
      if (share) for (let n = 0; n < some.length; n += 1) some[n][0][row * wide + column] += some[n][1] * share;
    }
  }
}

// How far a place lies past the edge of a disc that is drawn together along the lean: true near the edge.
function pastEllipse(radius, shown, [x, y]) {
  const sine = Math.hypot(x, y), less = Math.max(radius * Math.sqrt(Math.max(0, 1 - sine * sine)), 0.5);
  return (a, b) => {
    const along = (a * x + b * y) / sine / less, across = (b * x - a * y) / sine / shown, q = Math.hypot(along, across), slope = Math.hypot(along / less, across / shown);
    return slope ? (q * q - q) / slope : -less;
  };
}

function layShape(some, wide, high, shape, each, along) {
  eachCovered(shape, wide, high, (at, share, column, row) => {
    const by = each * share * (along ? along(column + 0.5, row + 0.5) : 1);
    for (let n = 0; n < some.length; n += 1) some[n][0][at] += some[n][1] * by;
  });
}

function alongOf(bands, [[ax, ay], [bx, by]]) {
  const steps = bands.length - 1, long2 = (bx - ax) ** 2 + (by - ay) ** 2;
  return (x, y) => {
    const far = Math.min(Math.max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long2 * steps, 0), steps), n = Math.min(Math.floor(far), steps - 1);
    return bands[n] + (far - n) * (bands[n + 1] - bands[n]);
  };
}

// Every pixel that a shape covers, and by what share of its area, however thin the shape is: slab by slab between its
// corners and the pixels' edges, by the even-odd rule.
function eachCovered(shape, wide, high, put) {
  const ys = shape.map(point => point[1]), top = Math.max(Math.floor(Math.min(...ys)), 0), bottom = Math.min(Math.ceil(Math.max(...ys)), high);
  eachSlab(shape, top, bottom, (low, up, cuts) => {
    const row = Math.floor((low + up) / 2), part = up - low;
    for (let n = 0; n + 1 < cuts.length; n += 2) {
      const [a, b] = cuts[n], [c, d] = cuts[n + 1], end = Math.min(Math.ceil(Math.max(c, d)), wide), solid = Math.max(a, b), full = Math.min(c, d) - 1;
      for (let column = Math.max(Math.floor(Math.min(a, b)), 0); column < end; column += 1) {
        put(row * wide + column, part * (column >= solid && column <= full ? 1 : leftOf(c - column, d - column) - leftOf(a - column, b - column)), column, row);
      }
    }
  });
}

function eachSlab(shape, top, bottom, take) {
  const edges = shape.map((a, n) => { const b = shape[(n + 1) % shape.length]; return a[1] < b[1] ? [a, b] : [b, a]; }).filter(([a, b]) => a[1] !== b[1]).sort((one, other) => one[0][1] - other[0][1]);
  const marks = shape.map(point => point[1]).filter(y => y > top && y < bottom);
  for (let y = top; y <= bottom; y += 1) marks.push(y);
  marks.sort((a, b) => a - b);
  const at = ([[ax, ay], [bx, by]], y) => ax + (y - ay) / (by - ay) * (bx - ax);
  let open = [], begun = 0;
  for (let n = 0; n + 1 < marks.length; n += 1) {
    const low = marks[n], up = marks[n + 1];
    if (up - low <= THIN) continue;
    for (; begun < edges.length && edges[begun][0][1] <= low; begun += 1) open.push(edges[begun]);
    open = open.filter(edge => edge[1][1] > low);
    take(low, up, open.map(edge => [at(edge, low), at(edge, up)]).sort((one, other) => one[0] + one[1] - other[0] - other[1]));
  }
}

// Share of a pixel left of an edge that crosses its line from one place to another, told from the pixel's own left.
const summed01 = far => far <= 0 ? 0 : far < 1 ? far * far / 2 : far - 0.5;
const leftOf = (first, last) => Math.abs(last - first) <= THIN ? Math.min(1, Math.max(0, first)) : (summed01(last) - summed01(first)) / (last - first);

// Ground under floodlights: luminance at the nodes of a grid, straight between them, within the part's edge; in every
// plane at once by its part of the light, as to find what a long edge covers is most of the work.
function layGround(planes, parts, wide, high, { origin, step, grid, edge }) {
  const some = planes.map((plane, n) => [plane, parts[n]]).filter(([plane, part]) => plane && part);
  const rows = grid.length, columns = grid[0].length, held = (at, count) => Math.min(Math.max(at, 0), count - 1), all = grid.flat();
  const lit = (column, row) => {
    const u = held((column + 0.5 - origin[0]) / step[0], columns), v = held((row + 0.5 - origin[1]) / step[1], rows);
    const left = Math.min(Math.floor(u), columns - 2), low = Math.min(Math.floor(v), rows - 2), on = u - left, up = v - low;
    const mix = line => (1 - on) * grid[line][left] + on * grid[line][left + 1];
    return (1 - up) * mix(low) + up * mix(low + 1);
  };
  const lightAt = all.every(light => light === all[0]) ? () => all[0] : lit; // a wall is even
  eachCovered(edge, wide, high, (at, share, column, row) => {
    const by = share * lightAt(column, row);
    for (let n = 0; n < some.length; n += 1) some[n][0][at] += some[n][1] * by;
  });
}

// --- spread --------------------------------------------------------------------------------------------------------

// Share of the light spread no wider than an angle, by the table that the server sends.
function below(deg, table) {
  const at = 2 * Math.log2(deg / FIRST_DEG), n = Math.floor(at);
  return at <= 0 ? table[0] : n >= table.length - 1 ? table[table.length - 1] : table[n] + (at - n) * (table[n + 1] - table[n]);
}

// What stays in its pixel, what each halving spreads, and the even veil of all that is spread wider.
export function levelShares(pixelDeg, table) {
  const widths = Array.from({ length: LEVELS + 1 }, (_, n) => pixelDeg * Math.sqrt((5 * 4 ** n - 2) / 3));
  const bounds = [widths[0] / 2, ...widths.slice(1).map((width, n) => Math.sqrt(width * widths[n]))];
  const shares = bounds.map((bound, n) => below(bound, table) - (n ? below(bounds[n - 1], table) : 0));
  let veil = 0;
  for (let n = 0; n + 1 < table.length; n += 1) {
    const [low, high] = [n, n + 1].map(at => Math.max(FIRST_DEG * 2 ** (at / 2), bounds[LEVELS]));
    veil += (table[n + 1] - table[n]) / (Math.LN2 / 2) * (low ** -2 - high ** -2);
  }
  return [...shares, veil * pixelDeg ** 2 / (4 * Math.PI)];
}

// Rooms for the halved rasters of one size, used again and again.
class Halves {
  constructor(wide, high) {
    Object.assign(this, { wide, high, blocks: wide + 4 + 15 >> 4 });
    [this.row, this.none] = [0, 1].map(() => new Float32Array(wide + 48));
    this.marks = new Uint8Array(this.blocks * high);
    this.joined = new Uint8Array(this.blocks);
    this.lines = Array.from({ length: 5 }, () => new Float32Array(16 * this.blocks));
    this.pairs = Array.from({ length: 3 }, () => new Float32Array(wide + 1));
    this.levels = [null];
    for (let n = 1; n < LEVELS; n += 1) {
      [wide, high] = [wide + 5 >> 1, high + 5 >> 1];
      this.levels.push({ wide, high, source: new Float32Array(wide * high), across: new Float32Array((wide + 4) * high), blurred: new Float32Array((wide + 4) * (high + 4)) });
    }
    this.doubled = new Float32Array((this.levels[1].wide + 4) * (this.levels[2].high + 4));
  }
}

let kept = null;

// The filter 1 4 6 4 1; in single precision, as the rasters are, it takes half the time.
const f = Math.fround, bell = (a, b, c, d, e) => f(0.0625 * f(f(f(a + e) + f(4 * f(b + d))) + f(6 * c)));

// A plane of a raster as the eye spreads it, in place.
export function spread(plane, wide, high, shares) {
  if (!kept || kept.wide !== wide || kept.high !== high) kept = new Halves(wide, high);
  const { levels } = kept, total = marked(plane);
  halved(plane, levels[1].source, levels[1].wide);
  for (let n = 1; n < LEVELS; n += 1) {
    blur(levels[n]);
    if (n + 1 < LEVELS) halve(levels[n], levels[n + 1]);
  }
  const last = levels[LEVELS - 1].blurred;
  for (let n = 0; n < last.length; n += 1) last[n] *= shares[LEVELS];
  for (let n = LEVELS - 2; n > 0; n -= 1) double(levels[n + 1], levels[n], shares[n + 1]);
  finest(plane, shares, shares[LEVELS + 1] * total);
}

// Lamps are small: of the plane itself only blocks of 16 pixels that the filter makes light are filtered, from two pixels before the
// line to two past it. Marks these and gives the sum of all light.
function marked(plane) {
  const { wide, high, marks, blocks } = kept;
  let total = 0;
  marks.fill(0);
  for (let line = 0, at = 0, to = 0; line < high; line += 1, to += blocks) {
    for (let n = 0; n < wide; n += 1, at += 1) {
      const light = plane[at];
      if (light === 0) continue;
      total += light;
      marks[to + (n >> 4)] = marks[to + (n + 4 >> 4)] = 1;
    }
  }
  return total;
}

// The plane, filtered and halved.
function halved(plane, into, half) {
  const { row, wide, high, marks, blocks } = kept;
  into.fill(0);
  for (let line = 0; line < high; line += 1) {
    row.set(plane.subarray(line * wide, (line + 1) * wide), 4);
    for (let k = 0, start = (line + 1 >> 1) * half, mark = line * blocks; k < blocks; k += 1) {
      if (!marks[mark + k]) continue;
      for (let n = 8 * k, at = 16 * k, to = start + n, end = Math.min(n + 8, half); n < end; n += 1, at += 2, to += 1) {
        const part = 0.0625 * bell(row[at], row[at + 1], row[at + 2], row[at + 3], row[at + 4]);
        if (line & 1) { into[to] += 4 * part; into[to + half] += 4 * part; }
        else { into[to] += part; into[to + half] += 6 * part; into[to + 2 * half] += part; }
      }
    }
  }
}

// The plane itself from what stays of it, what its own filter spreads, and the wider rasters, line by line.
function finest(plane, [stays, least], even) {
  const { wide, high, lines, pairs, blocks } = kept;
  lines.forEach(line => line.fill(0));
  [0, 1].forEach(line => take(plane, line));
  [2, 3].forEach(line => pair(line, even));
  for (let line = 0; line < high; line += 1) {
    const first = (line >> 1) + 2, start = line * wide, near = [3, 4, 5, 6, 7].map(on => lines[(line + on) % 5]), far = [0, 1, 2].map(on => pairs[(first + on) % 3]);
    take(plane, line + 2);
    if (line % 2 === 0) pair(first + 2, even);
    const joined = join(line);
    for (let k = 0; k < blocks; k += 1) if (joined[k]) own(plane, start, Math.max(16 * k - 2, 0), Math.min(16 * k + 14, wide), near, f(stays), f(least));
    widen(plane, start, wide, far, line % 2);
  }
}

function own(plane, start, from, to, [a, b, c, d, e], stays, least) {
  for (let n = from, at = from + 2; n < to; n += 1, at += 1) plane[start + n] = f(f(stays * plane[start + n]) + f(least * bell(a[at], b[at], c[at], d[at], e[at])));
}

function widen(plane, start, wide, [a, b, c], odd) {
  if (odd) for (let n = 0, at = start; n < wide; n += 1, at += 1) plane[at] = f(plane[at] + f(4 * f(b[n] + c[n])));
  else for (let n = 0, at = start; n < wide; n += 1, at += 1) plane[at] = f(plane[at] + f(f(a[n] + c[n]) + f(6 * b[n])));
}

// What a line is across once it is filtered, where there is light.
function take(plane, line) {
  const { row, wide, high, lines, marks, blocks } = kept, into = lines[line % 5];
  into.fill(0);
  if (line >= high) return;
  row.set(plane.subarray(line * wide, (line + 1) * wide), 4);
  for (let k = 0, mark = line * blocks; k < blocks; k += 1) {
    if (marks[mark + k]) for (let n = 16 * k; n < 16 * k + 16; n += 1) into[n] = bell(row[n], row[n + 1], row[n + 2], row[n + 3], row[n + 4]);
  }
}

// Which blocks of a line get light from it or from its neighbours.
function join(line) {
  const { joined, marks, blocks, high } = kept;
  joined.fill(0);
  for (let from = Math.max(line - 2, 0); from <= Math.min(line + 2, high - 1); from += 1) for (let k = 0, at = from * blocks; k < blocks; k += 1, at += 1) joined[k] |= marks[at];
  return joined;
}

// A line of the wider raster at twice its columns, an eighth of it, with as much of the veil.
function pair(line, even) {
  const { wide, pairs, levels: [, { wide: half, blurred }] } = kept, into = pairs[line % 3], veil = f(even / 8);
  for (let n = 0, at = line * (half + 4) + 2; n < wide; n += 2, at += 1) {
    into[n] = f(f(0.015625 * f(f(blurred[at] + blurred[at + 2]) + f(6 * blurred[at + 1]))) + veil);
    into[n + 1] = f(f(0.0625 * f(blurred[at + 1] + blurred[at + 2])) + veil);
  }
}

function blur({ wide, high, source, across, blurred }) {
  const { row, none } = kept, more = wide + 4;
  row.fill(0);
  for (let line = 0; line < high; line += 1) {
    row.set(source.subarray(line * wide, (line + 1) * wide), 4);
    for (let n = 0, to = line * more; n < more; n += 1, to += 1) across[to] = bell(row[n], row[n + 1], row[n + 2], row[n + 3], row[n + 4]);
    if (wide < 4) row.fill(0);
  }
  const lineOf = n => n < 0 || n >= high ? none : across.subarray(n * more, (n + 1) * more);
  for (let line = 0; line < high + 4; line += 1) {
    const [a, b, c, d, e] = [4, 3, 2, 1, 0].map(back => lineOf(line - back));
    for (let n = 0, to = line * more; n < more; n += 1, to += 1) blurred[to] = bell(a[n], b[n], c[n], d[n], e[n]);
  }
}

function halve({ wide, blurred }, next) {
  for (let line = 0; line < next.high; line += 1) {
    for (let n = 0, to = line * next.wide, from = 2 * line * (wide + 4); n < next.wide; n += 1, to += 1, from += 2) next.source[to] = blurred[from];
  }
}

// Adds the wider raster, at twice its lines, to a share of the finer one.
function double(from, to, part) {
  const lines = from.high + 4, have = from.wide + 4, wide = to.wide + 4, { doubled } = kept, share = f(part);
  for (let line = 0; line < lines; line += 1) {
    for (let n = 0, at = line * have + 1, into = line * wide; n < wide; n += 2, at += 1, into += 2) {
      doubled[into] = (from.blurred[at] + 6 * from.blurred[at + 1] + from.blurred[at + 2]) / 8;
      if (n + 1 < wide) doubled[into + 1] = (from.blurred[at + 1] + from.blurred[at + 2]) / 2;
    }
  }
  for (let line = 0; line < to.high + 4; line += 1) {
    const first = ((line >> 1) + 1) * wide, second = first + wide, third = second + wide, start = line * wide, fine = to.blurred;
    if (line % 2) for (let n = 0; n < wide; n += 1) fine[start + n] = f(f(share * fine[start + n]) + f(0.5 * f(doubled[second + n] + doubled[third + n])));
    else for (let n = 0; n < wide; n += 1) fine[start + n] = f(f(share * fine[start + n]) + f(0.125 * f(f(doubled[first + n] + doubled[third + n]) + f(6 * doubled[second + n]))));
  }
}

// The veil of lamps beyond the raster's edge, worked out at every 16th pixel and drawn out between.
export function layFar(plane, wide, high, lamps, pixelDeg, table) {
  if (!lamps.length) return;
  const across = Math.ceil(wide / FAR_STEP) + 1, down = Math.ceil(high / FAR_STEP) + 1, grid = new Float32Array(across * down), glare = farGlare(pixelDeg, table);
  for (const { at: [x, y], light } of lamps) {
    for (let row = 0, n = 0; row < down; row += 1) for (let column = 0; column < across; column += 1, n += 1) grid[n] += light * glare((column * FAR_STEP - x) ** 2 + (row * FAR_STEP - y) ** 2);
  }
  for (let row = 0, n = 0; row < high; row += 1) {
    const v = (row + 0.5) / FAR_STEP, up = Math.floor(v), part = v - up;
    for (let column = 0; column < wide; column += 1, n += 1) {
      const u = (column + 0.5) / FAR_STEP, left = Math.floor(u), on = u - left, corner = up * across + left;
      plane[n] += (1 - part) * ((1 - on) * grid[corner] + on * grid[corner + 1]) + part * ((1 - on) * grid[corner + across] + on * grid[corner + across + 1]);
    }
  }
}

function farGlare(pixelDeg, table) {
  const bells = table.slice(1).map((share, n) => [share - table[n], (FIRST_DEG * 2 ** (n / 2 + 0.25) / pixelDeg) ** 2]);
  const each = Array.from({ length: 256 }, (_, n) => bells.reduce((sum, [share, width2]) => sum + share * Math.exp(-(2 ** (n / 8)) / 2 / width2) / (2 * Math.PI * width2), 0));
  return away2 => {
    const at = 8 * Math.log2(Math.max(away2, 1)), n = Math.min(Math.floor(at), 254);
    return each[n] + Math.min(1, at - n) * (each[n + 1] - each[n]);
  };
}

// --- screen --------------------------------------------------------------------------------------------------------

// What the room's light on the ground must be for the screen to show it in this linear colour.
export function groundLight(rgb, half) {
  const shown = Math.min(luminanceOf(rgb), 0.999), scale = half * (shown / (1 - shown)) ** 2 / Math.max(shown, 1e-12);
  return rgb.map(part => part * scale);
}

// The curve of the whole picture, 0 to 1.
export const tone = (luminance, half) => { const root = Math.sqrt(luminance / half); return root / (1 + root); };

// The raster as code values, four to a pixel. `under`, if given: code values that the ground shows, pixel by pixel.
export function toned(out, [reds, greens, blues], ground, half, under = null) {
  let [r0, g0, b0] = ground;
  const decoded = under && Float64Array.from({ length: 256 }, (_, code) => linearOf(code));
  const codes = new Uint32Array(out.buffer, out.byteOffset, reds.length), below = under && new Uint32Array(under.buffer, under.byteOffset, reds.length);
  for (let n = 0; n < reds.length; n += 1) {
    if (under && (n === 0 || below[n] !== below[n - 1])) { // most of a ground is even
      const to = 4 * n;
      r0 = decoded[under[to]]; g0 = decoded[under[to + 1]]; b0 = decoded[under[to + 2]];
      const shown = Math.min(WR * r0 + WG * g0 + WB * b0, 0.999), scale = half * shown / ((1 - shown) * (1 - shown));
      r0 *= scale; g0 *= scale; b0 *= scale;
    }
    let r = reds[n] + r0, g = greens[n] + g0, b = blues[n] + b0;
    const real = WR * r + WG * g + WB * b;
    if (real > 0) {
      const scale = 1 / (Math.sqrt(real * half) + real), grey = scale * real; // of the root r of real / half: r / (1 + r) over real
      r *= scale; g *= scale; b *= scale;
      const most = r > g ? (r > b ? r : b) : g > b ? g : b, least = r < g ? (r < b ? r : b) : g < b ? g : b;
      if (most > 1 || least < 0) {
        let share = most > 1 ? (1 - grey) / (most - grey) : 1;
        if (least < 0 && grey / (grey - least) < share) share = grey / (grey - least);
        r = grey + share * (r - grey); g = grey + share * (g - grey); b = grey + share * (b - grey);
      }
    } else r = g = b = 0;
    codes[n] = OPAQUE | CODES[b * (STEPS - 1) + 0.5 | 0] << BLUE | CODES[g * (STEPS - 1) + 0.5 | 0] << GREEN | CODES[r * (STEPS - 1) + 0.5 | 0] << RED;
  }
}

// --- lamps that play -----------------------------------------------------------------------------------------------

// One raster for each rhythm, so that only weights change while they play: planes of one colour each, or of red, green
// and blue where there are more than two colours. `lamps`: at, radius, shape, cd, xy, rhythm; `eye`: pixelMm, distanceMm, table;
// `grounds`: floodlit, origin, step, grid, edge, xy, rhythm. `mine` of `all`: only every so manyeth plane is made, null for the others.
export function layers(lamps, wide, high, { pixelMm, distanceMm, table }, grounds = [], [mine, all] = [0, 1]) {
  const pixelDeg = pixelMm / distanceMm * 180 / Math.PI, shares = levelShares(pixelDeg, table), made = new Map();
  for (const lamp of [...lamps, ...grounds]) {
    if (!made.has(lamp.rhythm)) made.set(lamp.rhythm, []);
    made.get(lamp.rhythm).push(lamp);
  }
  let count = 0;
  return [...made].map(([rhythm, some]) => {
    const hues = [...new Set(some.map(lamp => String(lamp.xy)))], each = hues.length <= 2;
    const colours = each ? hues.map(hue => unitRgb(hue.split(",").map(Number))) : [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
    const planes = colours.map(() => count++ % all === mine ? new Float32Array(wide * high) : null), far = colours.map(() => []);
    for (const lamp of some) {
      const parts = each ? hues.map(hue => Number(hue === String(lamp.xy))) : unitRgb(lamp.xy);
      if (lamp.grid) { layGround(planes, parts, wide, high, lamp); continue; }
      const light = lamp.cd / (pixelMm / 1000) ** 2;
      if (isFar(lamp, wide, high)) parts.forEach((part, n) => part && far[n].push({ at: lamp.at, light: part * light }));
      else lay(planes, parts, wide, high, { ...lamp, light });
    }
    planes.forEach((plane, n) => {
      if (!plane) return;
      spread(plane, wide, high, shares);
      layFar(plane, wide, high, far[n], pixelDeg, table);
    });
    return { rhythm, planes: planes.map((plane, n) => ({ plane, rgb: colours[n] })) };
  });
}

// An edge for a coarse raster: corners on quarters of a pixel, where many lie on one line, and none within a pixel of the one before.
export function thinned(edge) {
  const kept = [];
  for (const [x, y] of edge) {
    const last = kept[kept.length - 1], point = [Math.round(4 * x) / 4, Math.round(4 * y) / 4];
    if (!last || Math.abs(point[0] - last[0]) + Math.abs(point[1] - last[1]) >= 1) kept.push(point);
  }
  return kept;
}

function isFar({ at: [x, y], radius, shape }, wide, high) {
  const reach = shape ? Math.max(...shape.map(point => Math.hypot(point[0] - x, point[1] - y))) : radius;
  return x + reach < 0 || y + reach < 0 || x - reach > wide || y - reach > high;
}

function scaled(into, plane, by) {
  if (by === 1) into.set(plane);
  else for (let at = 0; at < into.length; at += 1) into[at] = f(by * plane[at]);
}

function added(into, plane, by) {
  for (let at = 0; at < into.length; at += 1) into[at] = f(into[at] + f(by * plane[at]));
}

// The sum of all layers at their weights, as three planes.
export function summed(sum, made, weights) {
  sum.forEach((into, channel) => {
    let begun = false;
    made.forEach(({ planes }, n) => {
      for (const { plane, rgb } of weights[n] > 0 ? planes : []) {
        const by = f(rgb[channel] * weights[n]);
        if (by && begun) added(into, plane, by);
        else if (by) scaled(into, plane, by);
        begun = begun || by !== 0;
      }
    });
    if (!begun) into.fill(0);
  });
}

// --- what flashes (WCAG 2.2, success criterion 2.3.1: general and red flash thresholds) ---------------------------------

const WHITE_SWING = 0.1, RED_SHARE = 0.8, RED_SWING = 20 / 320, LEAST_RED_SWING = WR * RED_SWING;

// How red a colour shows: more red than green and blue together, where it is saturated red; else 0.
function redOf(r, g, b, grey) {
  const least = Math.min(r, g, b), most = Math.max(r, g, b);
  const share = Math.min(1, most > 1 ? (1 - grey) / (most - grey) : 1, least < 0 ? grey / (grey - least) : 1);
  const [red, green, blue] = [r, g, b].map(part => grey + share * (part - grey));
  return red >= RED_SHARE * (red + green + blue) ? Math.max(0, red - green - blue) : 0;
}

// Pixels that one layer changes, beside all that shines steadily, by a tenth of white, or by as much red as counts.
export function flashPx({ planes }, steady, ground, half) {
  const [reds, greens, blues] = steady, under = luminanceOf(ground), by = planes.map(({ rgb }) => luminanceOf(rgb));
  let count = 0;
  for (let n = 0; n < reds.length; n += 1) {
    const still = under + WR * reds[n] + WG * greens[n] + WB * blues[n];
    let lit = still;
    for (let k = 0; k < by.length; k += 1) lit += by[k] * planes[k].plane[n];
    if (!(lit > still)) continue;
    const swing = tone(lit, half) - tone(still, half);
    if (swing >= WHITE_SWING || (swing >= LEAST_RED_SWING && redSwing(n, planes, steady, ground, half) > RED_SWING)) count += 1;
  }
  return count;
}

function redSwing(n, planes, [reds, greens, blues], ground, half) {
  const r0 = ground[0] + reds[n], g0 = ground[1] + greens[n], b0 = ground[2] + blues[n];
  let r = r0, g = g0, b = b0;
  for (let k = 0; k < planes.length; k += 1) {
    const { plane, rgb } = planes[k];
    r += rgb[0] * plane[n]; g += rgb[1] * plane[n]; b += rgb[2] * plane[n];
  }
  if (r < RED_SHARE * (r + Math.max(g, 0) + Math.max(b, 0))) return 0; // grey that is mixed in makes it no redder
  return redShown(r, g, b, half) - redShown(r0, g0, b0, half);
}

function redShown(r, g, b, half) {
  const real = WR * r + WG * g + WB * b;
  if (!(real > 0)) return 0;
  const grey = tone(real, half), by = grey / real;
  return redOf(r * by, g * by, b * by, grey);
}
