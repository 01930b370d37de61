// Which of a drawing's two layouts a place takes, how wide it is drawn there, and how its letters grow. Pure.

export const PX_PER_MM = 3.4;
// A broad drawing shrinks so far before the layout for a phone is taken; that one grows so far.
const LEAST = 0.85, MOST = 1.25;

export function laidFor(drawing, room) {
  const natural = drawing.width_mm * PX_PER_MM;
  if (drawing.narrow && room < LEAST * natural) {
    return { shown: drawing.narrow, width: Math.min(room, MOST * drawing.narrow.width_mm * PX_PER_MM), letters: 1 };
  }
  const width = Math.min(room, natural);
  // Without a layout of its own for a phone it shrinks whole, but for its letters.
  return { shown: drawing, width, letters: natural / width };
}
