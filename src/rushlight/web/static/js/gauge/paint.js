// What is drawn on the canvas of the gauge. Lines on a photograph are dark in a pale seam, so that they are seen on any.
import { frameCorners, inverse, mapped } from "./points.js";
import { gridStep, screenToPixel } from "./view.js";
import { sameHold } from "./canvas.js";
import { css, roomColours } from "../room.js";
import { lengthWords } from "../ruler.js";

const GLASS_PX = 62;
const GLASS_SCALE = 8, GLASS_TOP = 74;
const EMBER = "#b4491a", DARK = "#14110f", PALE = "#f7f1e5";

export function paintGauge(canvas) {
  const { pen, size, shown, view, sharp } = canvas, room = roomColours(shown.light);
  pen.setTransform(sharp, 0, 0, sharp, 0, 0);
  pen.globalAlpha = 1;
  pen.fillStyle = css(room.sheet);
  pen.fillRect(0, 0, size.width, size.height);
  if (shown.image) paintPicture(canvas, shown.image, view, 0.4 + 0.6 * room.picture);
  pen.lineJoin = pen.lineCap = "round";
  if (shown.seen && shown.seen.fits) paintPlane(canvas);
  paintSpans(canvas);
  for (const row of shown.holds) paintHold(canvas, row);
  if (shown.awaiting && canvas.byKeys) paintCross(canvas);
  paintGlass(canvas);
}

function paintPicture(canvas, image, view, alpha) {
  const { pen, size, shown, sharp } = canvas, [[a, b], [c, d]] = view.ways.forth, scale = view.scale;
  pen.save();
  pen.globalAlpha = alpha;
  pen.imageSmoothingEnabled = scale < 3;
  pen.translate(size.width / 2, size.height / 2);
  pen.transform(a * scale, c * scale, b * scale, d * scale, 0, 0);
  pen.translate(-view.x, -view.y);
  pen.drawImage(image, 0, 0, shown.picture[0], shown.picture[1]);
  pen.restore();
  pen.setTransform(sharp, 0, 0, sharp, 0, 0);
}

// The part's own millimetres over the picture: a grid, its axes, the outline or the frame.
function paintPlane(canvas) {
  const { shown } = canvas, { seen } = shown, back = inverse(seen.to_mm);
  const place = at => { const [x, y] = mapped(back, at); return canvas.screenOf([x, y]); };
  const corners = shown.frame ? frameCorners(shown.frame) : shown.outline && shown.outline.length ? boxOfCorners(shown.outline) : boxOfCorners(shown.draft.pixels.map(pixel => mapped(seen.to_mm, pixel)));
  const [left, right] = [Math.min(...corners.map(p => p[0])), Math.max(...corners.map(p => p[0]))];
  const [low, top] = [Math.min(...corners.map(p => p[1])), Math.max(...corners.map(p => p[1]))];
  const step = Math.max(gridStep(seen.mm_per_px.middle, canvas.view.scale), (right - left) / 60, (top - low) / 60);
  for (let x = Math.ceil(left / step) * step; x <= right; x += step) stroke(canvas, [place([x, low]), place([x, top])], { width: 0.6, dark: 0.5, seam: 0.25 });
  for (let y = Math.ceil(low / step) * step; y <= top; y += step) stroke(canvas, [place([left, y]), place([right, y])], { width: 0.6, dark: 0.5, seam: 0.25 });
  const edge = shown.frame ? frameCorners(shown.frame) : shown.outline;
  if (edge && edge.length) stroke(canvas, edge.map(place), { width: 2, closed: true });
  paintAxes(canvas, place, Math.max(right - left, top - low) * 0.14);
  words(canvas, `${lengthWords(step, shown.unit)} a square`, [10, canvas.size.height - 16]);
}

function boxOfCorners(points) {
  const xs = points.map(p => p[0]), ys = points.map(p => p[1]);
  return [[Math.min(...xs), Math.min(...ys)], [Math.max(...xs), Math.max(...ys)]];
}

function paintAxes(canvas, place, long) {
  const zero = place([0, 0]);
  for (const [word, end] of [["x", [long, 0]], ["y", [0, long]]]) {
    const to = place(end), away = Math.atan2(to[1] - zero[1], to[0] - zero[0]);
    stroke(canvas, [zero, to], { width: 2.4, colour: EMBER });
    stroke(canvas, [2.6, -2.6].map(by => [to[0] + 10 * Math.cos(away + by), to[1] + 10 * Math.sin(away + by)]).flatMap(tip => [tip, to]), { width: 2.4, colour: EMBER });
    words(canvas, word, [to[0] + 12 * Math.cos(away), to[1] + 12 * Math.sin(away)], { bold: true });
  }
  words(canvas, "0", [zero[0] - 16, zero[1] + 12], { bold: true });
}

// Lines between points that belong together: the rectangle, the two ends, a check.
function paintSpans(canvas) {
  const { draft } = canvas.shown, at = draft.pixels.map(pixel => canvas.screenOf(pixel));
  if (draft.how !== "points" && at.length > 1) stroke(canvas, at, { width: 1.6, closed: draft.how === "sheet" && at.length === 4, colour: EMBER });
  draft.checks.forEach((check, n) => {
    if (!check.from || !check.to) return;
    const ends = [check.from, check.to].map(pixel => canvas.screenOf(pixel));
    stroke(canvas, ends, { width: 1.6, dash: [7, 5] });
    words(canvas, `check ${n + 1}`, [(ends[0][0] + ends[1][0]) / 2 + 6, (ends[0][1] + ends[1][1]) / 2 - 10]);
  });
}

function paintHold(canvas, { hold, pixel, word }) {
  const { pen } = canvas, [x, y] = canvas.screenOf(pixel), on = sameHold(hold, canvas.shown.chosen);
  const ring = (radius, width, colour) => { pen.beginPath(); pen.arc(x, y, radius, 0, 7); pen.lineWidth = width; pen.strokeStyle = colour; pen.stroke(); };
  ring(8, 4.5, PALE);
  ring(8, 2, hold.kind === "point" ? EMBER : DARK);
  if (on) { ring(13, 4, PALE); ring(13, 1.8, DARK); }
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) stroke(canvas, [[x + 2 * dx, y + 2 * dy], [x + 6 * dx, y + 6 * dy]], { width: 1.2 });
  if (word) words(canvas, word, [x + 16, y - 14], { bold: on });
}

function paintCross(canvas) {
  const { width, height } = canvas.size, [x, y] = [width / 2, height / 2];
  stroke(canvas, [[x - 16, y], [x + 16, y]], { width: 2, colour: EMBER });
  stroke(canvas, [[x, y - 16], [x, y + 16]], { width: 2, colour: EMBER });
}

// The glass: what lies under the point at hand, several times larger, in the corner that is further away.
function paintGlass(canvas) {
  const { pen, shown, size, view } = canvas;
  const row = shown.holds.find(one => sameHold(one.hold, shown.chosen)), awaiting = shown.awaiting && canvas.byKeys;
  if (!shown.image || (!row && !awaiting)) return;
  const pixel = awaiting ? screenToPixel(view, size, [size.width / 2, size.height / 2]) : row.pixel, [x] = canvas.screenOf(pixel);
  const at = [x < size.width / 2 ? size.width - GLASS_PX - 12 : GLASS_PX + 12, GLASS_PX + GLASS_TOP], scale = Math.max(GLASS_SCALE * Math.min(1, 2 * view.scale), 1.6 * view.scale);
  pen.save();
  pen.beginPath();
  pen.arc(at[0], at[1], GLASS_PX, 0, 7);
  pen.clip();
  pen.fillStyle = PALE;
  pen.fillRect(at[0] - GLASS_PX, at[1] - GLASS_PX, 2 * GLASS_PX, 2 * GLASS_PX);
  const [[a, b], [c, d]] = view.ways.forth;
  pen.imageSmoothingEnabled = false;
  pen.translate(at[0], at[1]);
  pen.transform(a * scale, c * scale, b * scale, d * scale, 0, 0);
  pen.translate(-pixel[0], -pixel[1]);
  pen.drawImage(shown.image, 0, 0, shown.picture[0], shown.picture[1]);
  pen.restore();
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) stroke(canvas, [[at[0] + 4 * dx, at[1] + 4 * dy], [at[0] + 24 * dx, at[1] + 24 * dy]], { width: 1.2 });
  pen.beginPath();
  pen.arc(at[0], at[1], GLASS_PX, 0, 7);
  pen.lineWidth = 3;
  pen.strokeStyle = DARK;
  pen.stroke();
  pen.lineWidth = 1;
  pen.strokeStyle = PALE;
  pen.stroke();
}

function stroke(canvas, points, { width, colour = DARK, dash = [], closed = false, dark = 1, seam = 0.85 }) {
  const { pen } = canvas;
  if (points.some(([x, y]) => !Number.isFinite(x) || !Number.isFinite(y) || Math.abs(x) > 1e5 || Math.abs(y) > 1e5)) return;
  pen.beginPath();
  points.forEach(([x, y], n) => { if (n) pen.lineTo(x, y); else pen.moveTo(x, y); });
  if (closed) pen.closePath();
  pen.setLineDash([]);
  pen.globalAlpha = seam;
  pen.lineWidth = width + 2.2;
  pen.strokeStyle = PALE;
  pen.stroke();
  pen.globalAlpha = dark;
  pen.setLineDash(dash);
  pen.lineWidth = width;
  pen.strokeStyle = colour;
  pen.stroke();
  pen.setLineDash([]);
  pen.globalAlpha = 1;
}

function words(canvas, text, [left, y], { bold = false } = {}) {
  const { pen } = canvas;
  pen.font = `${bold ? "700" : "400"} 13px "Atkinson Hyperlegible Next", sans-serif`;
  pen.textBaseline = "middle";
  pen.textAlign = "left";
  pen.fillStyle = "rgb(247 241 229 / 0.88)";
  const width = pen.measureText(text).width, x = Math.max(4, Math.min(left, canvas.size.width - width - 4));
  pen.fillRect(x - 3, y - 9, width + 6, 18);
  pen.fillStyle = "#2a2520";
  pen.fillText(text, x, y + 1);
}
