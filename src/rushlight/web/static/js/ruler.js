// The rule along the sheet's edge: real millimetres or inches at the present zoom. Pure.

export const MM_PER_INCH = 25.4;
const STEPS_MM = [0.1, 0.5, 1, 5, 10, 50, 100, 500, 1000, 5000];
const STEPS_INCH = [1 / 64, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 60].map(step => step * MM_PER_INCH);

// Numbers at least `apart` pixels from each other, with finer ticks between.
export function stepsFor(scale, unit, apart = 64) {
  const steps = unit === "inch" ? STEPS_INCH : STEPS_MM;
  const at = steps.findIndex(step => step * scale >= apart);
  const long = at < 0 ? steps.length - 1 : at;
  const short = steps.findIndex(step => step * scale >= 7);
  return { long: steps[long], short: steps[Math.min(long, Math.max(0, short))] };
}

export function ticks(from, to, { long, short }) {
  const found = [];
  for (let n = Math.ceil(from / short); n * short <= to; n += 1) {
    const place = n * short;
    found.push({ place, long: Math.abs(place / long - Math.round(place / long)) < 1e-6 });
  }
  return found;
}

export function placeWords(mm, unit) {
  if (unit !== "inch") return `${Number(mm.toFixed(1))}`;
  const sign = mm < -1e-9 ? "−" : "", all = Math.round(Math.abs(mm) / MM_PER_INCH * 64);
  const whole = Math.floor(all / 64);
  let top = all % 64, below = 64;
  while (top && top % 2 === 0) { top /= 2; below /= 2; }
  const share = top ? `${top}/${below}` : "";
  return sign + ([whole || (!share && "0") || "", share].filter(Boolean).join(" "));
}

export function lengthWords(mm, unit) {
  return unit === "inch" ? `${(mm / MM_PER_INCH).toFixed(2)} in` : `${Number(mm.toFixed(1))} mm`;
}
