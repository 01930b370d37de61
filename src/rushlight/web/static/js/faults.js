// Why a shape cannot be written, said at once and at its place. Pure. The server judges again; it has the last word.
import { apart, areaOf, awayFrom, cornersOf, inside, selfCrossing } from "./shapes.js";
import { WORDS, boxed, radiusOf } from "./figures.js";

const ROUNDING_MM = 1e-3;
const LEAST_MM2 = 1e-4;
const FARTHEST_MM = 100000;

const placed = at => at.map(value => Number(value.toFixed(1))).join(", ");

// {says, at} for the first thing that is wrong with a figure on its part, or null.
export function faultOf(plan, part, figure) {
  const far = figure.points.find(point => point.some(value => !Number.isFinite(value) || Math.abs(value) > FARTHEST_MM));
  if (far) return { says: "It lies more than 100 m away.", at: figure.points[0] };
  return shapeFault(figure) || (figure.kind === "outline" ? leftOutside(plan, part, figure.points) : outsideFault(part, figure));
}

function shapeFault({ kind, form, points }) {
  const word = WORDS[kind];
  if (form === "ring") return ringFault(word, points);
  if (form === "rect" && (boxed(points)[2] < 0.01 || boxed(points)[3] < 0.01)) return { says: `The ${word} has no area.`, at: points[0] };
  if (form === "disc" && radiusOf(points) < 0.01) return { says: `The ${word} has no radius.`, at: points[0] };
  if (form === "line" && points.length < 2) return { says: `A ${word} needs two points at least.`, at: points[0] || [0, 0] };
  if ((form === "line" || form === "pair") && points.every(point => apart(point, points[0]) < 0.01)) return { says: `The ${word} has no length.`, at: points[0] };
  return null;
}

function ringFault(word, points) {
  const kept = points.filter((point, n) => apart(point, points[(n + 1) % points.length]) > 1e-9);
  if (kept.length < 3) return { says: `The ${word} has ${kept.length} different points; it needs three at least.`, at: points[0] || [0, 0] };
  const crossing = selfCrossing(kept);
  if (crossing) return { says: `The ${word} would cross itself near ${placed(crossing.at)} mm.`, at: crossing.at };
  if (Math.abs(areaOf(kept)) < LEAST_MM2) return { says: `The ${word} has no area.`, at: kept[0] };
  return null;
}

const INSIDE = new Set(["openings", "bays", "crossings"]);

function outsideFault(part, { kind, points }) {
  if (!INSIDE.has(kind)) return null;
  const at = firstOutside(points, part.outline_mm);
  if (!at) return null;
  const away = awayFrom(at, part.outline_mm);
  return { says: `The ${WORDS[kind]} would reach ${Number(away.toPrecision(2))} mm outside the part near ${placed(at)} mm.`, at };
}

function firstOutside(points, outline) {
  return points.find(point => !inside(point, outline) && awayFrom(point, outline) > ROUNDING_MM) || null;
}

// What a new outline would leave outside: openings, bays, crossings, lamps.
function leftOutside(plan, part, outline) {
  const rows = [
    ...part.openings.map(row => [`opening '${row.name}'`, row.shape]),
    ...part.bays.map(row => [`bay '${row.name}'`, cornersOf(row.rect_mm)]),
    ...plan.crossings.flatMap(row => row.ends.filter(end => end.part === part.name).map(end => [`crossing '${row.name}'`, [end.at_mm]])),
    ...plan.lamps.filter(row => row.part === part.name && row.at_mm).map(row => [`lamp '${row.name}'`, [row.at_mm]]),
    ...["rows", "strips"].flatMap(kind => plan[kind].filter(row => row.part === part.name).map(row => [`${kind === "rows" ? "row" : "strip"} '${row.name}'`, row.along_mm])),
  ];
  for (const [what, points] of rows) {
    const at = firstOutside(points, outline);
    if (at) return { says: `The outline would leave the ${what} outside, near ${placed(at)} mm.`, at };
  }
  return null;
}


