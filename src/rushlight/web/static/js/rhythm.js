// Rhythms as the server gives them: steps of level and seconds. Pure.

export function levelAt(rhythm, seconds) {
  if (!rhythm) return 1;
  let at = rhythm.repeats ? seconds % rhythm.period_s : Math.min(seconds, rhythm.period_s - 1e-9);
  for (const [level, lasts] of rhythm.steps) {
    if (at < lasts) return level;
    at -= lasts;
  }
  return rhythm.steps.length ? rhythm.steps[rhythm.steps.length - 1][0] : 1;
}

// --- all that flashes together (WCAG 2.2, success criterion 2.3.1, general flash threshold) ---------------------------

export const MOST_FLASHES = 3; // in any one second
export const LARGE_PX2 = 341 * 256 / 4; // a quarter of a 10 degree field, as WCAG has it for 1024 x 768 pixels
const SWING = 0.1; // of the brightest
const PACES = Array.from({ length: 20 }, (_, n) => 1 - n / 20);

// The seconds at which a rhythm has risen by a swing after it had fallen by one, over the time given.
export function flashTimes(rhythm, over_s) {
  const times = [];
  let seconds = 0, low = 1, high = 0, risen = true; // a rise counts only after a fall
  for (let round = 0; seconds < over_s && (rhythm.repeats || round === 0) && rhythm.period_s > 0; round += 1) {
    for (const [level, lasts] of rhythm.steps) {
      if (risen) {
        high = Math.max(high, level);
        if (level <= high - SWING) { risen = false; low = level; }
      } else {
        low = Math.min(low, level);
        if (level >= low + SWING) { risen = true; high = level; times.push(seconds); }
      }
      seconds += lasts;
    }
  }
  return times;
}

// Most flashes of one rhythm within any stretch of its own time.
export function mostFlashes(rhythm, within_s) {
  const times = flashTimes(rhythm, 2 * rhythm.period_s + within_s + 1);
  return times.reduce((most, from) => Math.max(most, times.filter(time => time >= from && time <= from + within_s).length), 0);
}

// How fast rhythms that play together may run, 0 to 1: at full pace while what flashes is small; else so slowly that all of
// them together keep the limit; 0, held still, where even one flash of each would be too many. `lit`: [rhythm, area in px2].
export function safePace(lit) {
  const flashing = lit.filter(([rhythm]) => mostFlashes(rhythm, rhythm.period_s) > 0 && rhythm.repeats);
  const area = flashing.reduce((sum, [, px2]) => sum + px2, 0);
  if (area <= LARGE_PX2) return 1;
  const rhythms = [...new Set(flashing.map(([rhythm]) => rhythm))];
  return PACES.find(pace => rhythms.reduce((sum, rhythm) => sum + mostFlashes(rhythm, pace), 0) <= MOST_FLASHES) || 0;
}

export function paceWords(pace) {
  if (pace === 1) return "";
  return pace > 0 ? `At ${Math.round(100 * pace)} % of their speed: so large, they would flash too often together.`
    : "Held still: so many rhythms flash at this size that they are not safe to look at. Make the sheet smaller.";
}
