// LED strips behind openings, as forms have them. Pure.
import { boxOf } from "../view.js";

const mm = value => Math.round(value * 100) / 100;

// The run along the middle of some openings, the longer way of them all.
export function runBehind(part, names) {
  const points = part.openings.filter(row => names.includes(row.name)).flatMap(row => row.shape);
  if (!points.length) return [];
  const { left, right, low, top } = boxOf(points), [x, y] = [mm((left + right) / 2), mm((low + top) / 2)];
  return right - left >= top - low ? [[mm(left), y], [mm(right), y]] : [[x, mm(low)], [x, mm(top)]];
}

// A point more behind the nth: half way to the next, or as far again behind the last.
export function withPoint(points, n) {
  const [here, next] = [points[n], points[n + 1] || points[n].map((value, k) => 2 * value - points[n - 1][k])];
  const at = points[n + 1] ? here.map((value, k) => mm((value + next[k]) / 2)) : next.map(mm);
  return [...points.slice(0, n + 1), at, ...points.slice(n + 1)];
}

export const missingOf = ({ name, openings, gap_mm }) => [...(name.trim() ? [] : ["its name"]), ...(openings.length ? [] : ["the openings that it lights"]), ...(gap_mm ? [] : ["the gap before it"])];
