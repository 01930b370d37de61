// The room light, 1 for day and 0 for night: what it does to paper, ink and lamps. Pure.

export const PAPER = [247, 241, 229], INK = [42, 37, 32], SOOT = [20, 17, 15], FAINT = [122, 110, 96], DUSK = [150, 124, 98];
export const SWITCH_AT = 0.5;

export const clamp = value => Math.min(1, Math.max(0, value));
export const mixed = (a, b, share) => a.map((value, n) => Math.round(value + (b[n] - value) * share));
export const css = ([r, g, b], alpha = 1) => alpha >= 1 ? `rgb(${r} ${g} ${b})` : `rgb(${r} ${g} ${b} / ${alpha})`;

// Plates switch once, so that words on them keep their contrast at every position.
export const plate = light => light >= SWITCH_AT ? "day" : "night";

export function roomColours(light) {
  const dark = 1 - clamp(light);
  return {
    sheet: dark < 0.5 ? mixed(PAPER, DUSK, dark / 0.5) : mixed(DUSK, SOOT, ((dark - 0.5) / 0.5) ** 0.7),
    ink: mixed(INK, FAINT, dark ** 3),
    thin: 1 - 0.45 * dark,
    picture: 0.05 + 0.95 * clamp(light) ** 1.3, // by night little more than its ground, as a part in a dark room
    glow: dark ** 1.6,
  };
}

const linear = code => code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4;
const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);

export function contrast(a, b) {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

// --- the picture by night: what shows at half of white, and the light on the ground that makes it show as it does ------

export const LAMPS_SEEN_BELOW = 0.97; // by full day the sheet is a drawing
const DAY_HALF_CD_M2 = 0.6, GROUND_REFLECTANCE = 0.5;

export const halfOf = (light, night) => night ** (1 - clamp(light)) * Math.min(night, DAY_HALF_CD_M2) ** clamp(light);

export function groundLx(room, half) {
  const shown = luminance(room.sheet);
  return Math.PI * half * (shown / (1 - shown)) ** 2 / GROUND_REFLECTANCE;
}

export function termsWords(seen, light) {
  const half = halfOf(light, seen.half_cd_m2), lux = groundLx(roomColours(light), half), said = value => Number(value.toPrecision(2));
  return `Seen from ${seen.distance_mm} mm by an eye of ${seen.age_years} years; ${said(half)} cd/m2 at half of white; room about ${said(lux)} lx`;
}

export const roomWords = light =>
  light > 0.85 ? "day" : light > 0.6 ? "late afternoon" : light > 0.35 ? "dusk" : light > 0.1 ? "lamps lit" : "night";
