// Closed rooms inside the model, as forms have them. Pure.
import { boxOf } from "../view.js";

export const windowsOf = plan => plan.parts.flatMap(part => part.openings.map(row => ({ part: part.name, opening: row.name })));

// A room that has the name of an opening is the one behind that window: its size is told as one stands before it.
export const isBehind = (plan, name) => windowsOf(plan).some(row => row.opening === name);

export const sizeWords = (plan, name, windows = []) => isBehind(plan, name) || windows.length ? ["Width along the wall", "Depth behind it", "Height"] : ["Length", "Width", "Height"];

// Openings of its parts: one LED in the room may be seen through several. Those of another room are left out.
export function windowChoices(plan, space) {
  const taken = new Set(plan.spaces.filter(row => row.name !== space.name).flatMap(row => row.windows));
  return [...new Set(windowsOf(plan).filter(row => space.parts.includes(row.part)).map(row => row.opening))].filter(name => !taken.has(name));
}

// The outlines of its parts tell how long and how high it is at most, never how wide.
export function sizeOfParts(plan, names) {
  const boxes = plan.parts.filter(part => names.includes(part.name)).map(part => boxOf(part.outline_mm)), mm = value => Math.round(value * 10) / 10;
  if (!boxes.length) return [null, null, null];
  return [mm(Math.max(...boxes.map(box => box.right - box.left))), null, mm(Math.max(...boxes.map(box => box.top - box.low)))];
}

export const freeSpace = (plan, name) => Boolean(name) && !plan.spaces.some(row => row.name === name);

// What is still to be said of a new room, in words; nothing where it can be written.
export function missingOf(plan, { name, parts, size_mm }) {
  const sizes = sizeWords(plan, name).filter((_, n) => !size_mm[n]).map(word => word.toLowerCase());
  return [...(name.trim() ? [] : ["its name"]), ...(parts.length ? [] : ["the parts that form it"]), ...sizes];
}

// Parts that lamps sit on and that no room holds: reckoned as small cubes.
export function bareParts(plan, look) {
  const known = new Set(plan.spaces.flatMap(row => row.parts));
  return [...new Set(look.lamps.map(lamp => lamp.part).filter(Boolean))].filter(name => !known.has(name));
}
