// What is drawn over a part while it is drawn on: the chosen figure with its points, what holds, what is wrong.
import { emberOf, handColour, label, line } from "./brush.js";
import { canInsert, edgesOf, radiusOf } from "./figures.js";
import { shapeOf } from "./inside.js";
import { lengthWords } from "./ruler.js";
import { apart } from "./shapes.js";
import { css } from "./room.js";

export const DRAWS_LONG_PX = 46;
const EDGE = 2, INNER = 1.1, DIMENSION = 0.7;

export function paintDrawing(sheet, room, hand) {
  const { drawing, held, over } = hand, { now, part } = drawing;
  const about = { sheet, room, part: part.name, colour: handColour(room), unit: sheet.shown.unit };
  if (now.tool || held) paintMiddle(about, drawing.middle(), part);
  if (now.tool) paintTrace(about, now, over);
  if (now.offer && now.offer.offered && now.offer.part === part.name) paintOffer(about, now.offer);
  const figure = held ? held.figure : drawing.figure();
  if (figure) {
    const loose = Boolean(held) || Boolean(now.proposal && now.proposal.figure.key === figure.key);
    paintFigure(about, figure, loose, held ? held.n : now.point, over);
  } else if (over && over.figure) paintName(about, over.figure, over.at);
  if (held) paintHeld(about, held);
  else if (now.proposal && now.proposal.fault) paintFault(about, now.proposal.fault);
}

function paintOffer({ sheet, part, colour, room }, { outline_mm, openings_mm, taken }) {
  const how = { width: EDGE, colour, closed: true, dash: [7, 5] };
  line(sheet, outline_mm, part, how);
  openings_mm.forEach((points, n) => { if (taken[n]) line(sheet, points, part, how); });
  for (const point of outline_mm) ring(sheet, sheet.screenOf(part, point), 3, css(room.sheet), colour, INNER);
}

// Points of the line that is seen: a disc as its round.
function seen(figure) {
  return figure.form === "disc" ? shapeOf({ centre_mm: figure.points[0], radius_mm: radiusOf(figure.points) }) : figure.points;
}

const isClosed = figure => figure.form === "ring" || figure.form === "rect" || figure.form === "disc";

function paintFigure(about, figure, loose, chosen, over) {
  const { sheet, part, colour, room } = about;
  if (figure.form !== "dot") line(sheet, seen(figure), part, { width: EDGE, colour, closed: isClosed(figure), dash: loose ? [7, 5] : [] });
  if (canInsert(figure)) for (const [a, b] of edgesOf(figure)) middleTick(about, figure.points[a], figure.points[b], over && over.edge === a);
  figure.points.forEach((point, n) => {
    const at = sheet.screenOf(part, point), marked = n === chosen || (over && over.n === n);
    ring(sheet, at, 5, css(room.sheet), colour, 1.5);
    if (marked) ring(sheet, at, 9, null, colour, 1.5);
  });
  if (Number.isInteger(chosen) && figure.points[chosen]) paintLengths(about, figure, chosen);
}

function ring({ pen }, [x, y], radius, fill, stroke, width) {
  pen.beginPath();
  pen.arc(x, y, radius, 0, 7);
  if (fill) { pen.fillStyle = fill; pen.fill(); }
  pen.lineWidth = width;
  pen.strokeStyle = stroke;
  pen.stroke();
}

// A tick across the middle of an edge: a new point begins there.
function middleTick({ sheet, part, colour }, a, b, marked) {
  const [p, q] = [sheet.screenOf(part, a), sheet.screenOf(part, b)], long = apart(p, q);
  if (long < DRAWS_LONG_PX) return;
  const [x, y] = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2], half = marked ? 9 : 5;
  const [dx, dy] = [-(q[1] - p[1]) / long * half, (q[0] - p[0]) / long * half], { pen } = sheet;
  pen.beginPath();
  pen.moveTo(x - dx, y - dy);
  pen.lineTo(x + dx, y + dy);
  pen.lineWidth = marked ? EDGE : INNER;
  pen.strokeStyle = colour;
  pen.stroke();
}

// Lengths of the edges at the point that is held.
function paintLengths({ sheet, part, room, unit }, figure, n) {
  if (figure.form === "disc") {
    const [x, y] = sheet.screenOf(part, figure.points[1]);
    label(sheet, `radius ${lengthWords(radiusOf(figure.points), unit)}`, x + 12, y, room);
    return;
  }
  let told = null;
  for (const [a, b] of edgesOf(figure).filter(edge => edge.includes(n))) {
    const [p, q] = [figure.points[a], figure.points[b]].map(point => sheet.screenOf(part, point)), middle = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    if (apart(p, q) < 60 || (told && apart(told, middle) < 70)) continue;
    told = middle;
    label(sheet, lengthWords(apart(figure.points[a], figure.points[b]), unit), (p[0] + q[0]) / 2, (p[1] + q[1]) / 2 - 16, room, { align: "middle" });
  }
}

function paintHeld(about, held) {
  const { sheet, part, room, unit } = about;
  for (const guide of held.guides) line(sheet, guide, part, { width: DIMENSION, colour: about.colour, dash: [2, 4] });
  if (held.fault) paintFault(about, held.fault);
  const point = held.n === null ? null : held.figure.points[held.n];
  const words = [point ? point.map(value => lengthWords(value, unit)).join(", ") : "", held.words].filter(Boolean).join("; ");
  beside(sheet, words, held.at, room, held.touch);
}

// Words near the pointer, above a finger.
function beside(sheet, words, [x, y], room, touch = false) {
  if (!words) return;
  const { pen, size } = sheet;
  pen.font = '400 13px "Atkinson Hyperlegible Next", sans-serif';
  const width = pen.measureText(words).width, { left: least, right } = sheet.insets();
  const left = Math.max(least + 6, Math.min(x + (touch ? -width / 2 : 16), size.width - right - width));
  label(sheet, words, left, Math.max(14, y + (touch ? -54 : 24)), room);
}

export function paintFault({ sheet, part, room }, fault) {
  const at = sheet.screenOf(part, fault.at);
  ring(sheet, at, 13, null, emberOf(sheet.shown.light), EDGE);
  beside(sheet, fault.says, [at[0] + 4, at[1] - 44], room);
}

function paintName(about, figure, at) {
  const { sheet, part, colour, room } = about;
  if (figure.form !== "dot") line(sheet, seen(figure), part, { width: INNER, colour, closed: isClosed(figure) });
  beside(sheet, figure.kind === "outline" ? `outline of ${part}` : figure.name, at, room);
}

function paintTrace(about, { tool, trace }, over) {
  const { sheet, part, colour, room, unit } = about, next = over && over.next;
  const points = next ? [...trace, next.at] : trace;
  if (points.length > 1) line(sheet, points, part, { width: EDGE, colour, dash: [7, 5] });
  if (tool.form === "ring" && points.length > 2) line(sheet, [points[points.length - 1], points[0]], part, { width: DIMENSION, colour, dash: [2, 4] });
  trace.forEach((point, n) => ring(sheet, sheet.screenOf(part, point), n === 0 && trace.length > 2 ? 8 : 5, css(room.sheet), colour, 1.5));
  if (!next) return;
  for (const guide of next.guides) line(sheet, guide, part, { width: DIMENSION, colour, dash: [2, 4] });
  const last = trace[trace.length - 1], long = last && apart(last, next.at) > 0.01 ? `; ${lengthWords(apart(last, next.at), unit)} long` : "";
  beside(sheet, `${next.at.map(value => lengthWords(value, unit)).join(", ")}${long}${next.words ? `; ${next.words}` : ""}`, over.at, room);
}

// The middle lines, as long as the part and a little more.
function paintMiddle({ sheet, part, colour }, middle, { outline_mm }) {
  const xs = outline_mm.map(point => point[0]), ys = outline_mm.map(point => point[1]);
  const more = 0.06 * (Math.max(...xs) - Math.min(...xs)), dash = [12, 3, 2, 3], width = DIMENSION;
  if (Number.isFinite(middle.x)) line(sheet, [[middle.x, Math.min(...ys) - more], [middle.x, Math.max(...ys) + more]], part, { width, colour, dash });
  if (Number.isFinite(middle.y)) line(sheet, [[Math.min(...xs) - more, middle.y], [Math.max(...xs) + more, middle.y]], part, { width, colour, dash });
}
