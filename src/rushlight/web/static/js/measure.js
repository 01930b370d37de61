// Lengths as people type and read them: mm or inches, with fractions. Pure.
import { MM_PER_INCH } from "./ruler.js";

const UNITS = [[/\s*(?:mm|millimetres?)$/i, 1], [/\s*(?:cm)$/i, 10], [/\s*(?:in|inch|inches|"|″)$/i, MM_PER_INCH], [/\s*m$/i, 1000]];

// Millimetres of a text ("12.5", "12,5", "3 1/4", "1/2 in", "8 mm"), by the unit of choice where it names none; null if it is no length.
export function lengthOf(text, unit = "mm") {
  let words = `${text}`.trim(), factor = unit === "inch" ? MM_PER_INCH : 1;
  const named = UNITS.find(([ends]) => ends.test(words));
  if (named) { words = words.replace(named[0], "").trim(); factor = named[1]; }
  const found = words.match(/^([-+−]?)\s*(?:(\d*[.,]?\d+|\d+[.,])|(?:(\d+)[\s-]+)?(\d+)\s*\/\s*(\d+))$/);
  if (!found) return null;
  const [, sign, whole, before, top, below] = found;
  if (below !== undefined && Number(below) === 0) return null;
  const size = whole !== undefined ? Number(whole.replace(",", ".")) : Number(before || 0) + Number(top) / Number(below);
  return (sign === "-" || sign === "−" ? -1 : 1) * size * factor;
}

// A length for a field that can be typed over.
export function lengthText(mm, unit = "mm") {
  if (mm === null || mm === undefined) return "";
  return unit === "inch" ? `${Number((mm / MM_PER_INCH).toFixed(4))}` : `${Number(mm.toFixed(2))}`;
}
