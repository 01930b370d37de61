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
