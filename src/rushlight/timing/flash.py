"""How strong a flash looks, and whether flashing on a screen is safe to look at."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from rushlight.errors import OutOfRange
from rushlight.tables import row_by
from rushlight.timing.rhythm import TIME_TOLERANCE_S, Rhythm, slowed

VISUAL_TIME_S = 0.2
"""Time constant of the eye by night (Blondel and Rey 1911; 14 CFR 25.1401(e))."""

LUMINANCE_WEIGHTS = (0.2126, 0.7152, 0.0722)
"""Relative luminance of linear sRGB red, green, blue (IEC 61966-2-1, as WCAG 2.x quotes it)."""

_SRGB_TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))

Rgb = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class ScreenStep:
    """One stretch of a constant screen colour, linear sRGB 0 to 1."""

    rgb: Rgb
    seconds: float


@dataclass(frozen=True, slots=True)
class FlashSafety:
    """Most flashes in any one second, the area they fill, and whether the screen may show it."""

    general_per_s: int
    red_per_s: int
    area_sr: float
    limit_per_s: float
    limit_area_sr: float
    passes: bool
    why: str
    source: str


def effective_intensity_cd(rhythm: Rhythm, peak_cd: float, *, visual_time_s: float = VISUAL_TIME_S) -> float:
    """Intensity of the steady light that is seen as far as this flash.

    Parameters
    ----------
    rhythm : Rhythm
        One period; a steady light keeps its peak.
    peak_cd : float
        Intensity at level 1 [cd], 0 or more.
    visual_time_s : float
        Time constant of the eye [s], over 0.
    Returns
    -------
    float
        Effective intensity [cd], never above the peak.
    Raises
    ------
    OutOfRange
        If the peak is negative or the time constant not over 0.
    Notes
    -----
    I_e = integral of I dt from t1 to t2 over (0.2 s + t2 - t1), with t1 and t2 chosen to make I_e largest. Light of
    constant steps has its largest value at step edges, so these are tried: flashes of one group may count as one,
    wherever the period is cut. Over n periods more the value goes steadily towards the mean of the period, so that a
    repeated flash is never weaker than its mean: flashes too quick to be told apart melt into it.
    Source
    ------
    A. Blondel, J. Rey, 1911; 14 CFR 25.1401(e). The limit of quick flashes is the law of Talbot and Plateau.
    """
    if not 0.0 <= peak_cd < math.inf:
        raise OutOfRange("peak_cd", peak_cd, "0 cd or more")
    if not 0.0 < visual_time_s < math.inf:
        raise OutOfRange("visual_time_s", visual_time_s, "over 0 s")
    return peak_cd * _effective_share(rhythm, visual_time_s)


def peak_for_effective_cd(rhythm: Rhythm, effective_cd: float, *, visual_time_s: float = VISUAL_TIME_S) -> float:
    """Peak intensity [cd] that makes a rhythm as strong as `effective_cd`; the inverse of the law above.

    Raises
    ------
    OutOfRange
        If the rhythm gives no light, or an argument is out of its range.
    Source
    ------
    A. Blondel, J. Rey, 1911; 14 CFR 25.1401(e).
    """
    share = effective_intensity_cd(rhythm, 1.0, visual_time_s=visual_time_s)
    if share == 0.0 or not 0.0 <= effective_cd < math.inf:
        raise OutOfRange("effective_cd", effective_cd, "0 cd or more, of a rhythm that gives light")
    return effective_cd / share


def _effective_share(rhythm: Rhythm, visual_time_s: float) -> float:
    steps, count = rhythm.steps, len(rhythm.steps)
    if len({step.level for step in steps}) == 1:
        return steps[0].level
    best = max(min(step.level for step in steps), rhythm.mean_level if rhythm.repeats else 0.0)
    turned = steps * 2 if rhythm.repeats else steps
    for first in range(count):
        energy = seconds = 0.0
        for step in turned[first:first + count]:
            energy += step.level * step.seconds
            seconds += step.seconds
            best = max(best, energy / (visual_time_s + seconds))
    return best


def relative_luminance(rgb: Rgb) -> float:
    """Relative luminance of a linear sRGB colour [-], 0 to 1.

    Raises
    ------
    OutOfRange
        If a part lies outside 0 to 1.
    Source
    ------
    IEC 61966-2-1 primaries, as WCAG 2.x quotes them.
    """
    if not all(0.0 <= part <= 1.0 for part in rgb):
        raise OutOfRange("rgb", rgb, "three parts of 0 to 1, linear")
    return math.fsum(weight * part for weight, part in zip(LUMINANCE_WEIGHTS, rgb, strict=True))


def is_saturated_red(rgb: Rgb) -> bool:
    """Whether a linear sRGB colour is saturated red: R / (R + G + B) of 0.8 or more.

    Source
    ------
    WCAG 2.x, definition of general and red flash thresholds (table flash_safety, red_ratio).
    """
    total = math.fsum(rgb)
    return total > 0 and rgb[0] / total >= _limit("red_ratio")


def uv_distance(first: Rgb, second: Rgb) -> float:
    """Distance of two linear sRGB colours in the CIE 1976 u'v' diagram [-]; black lies at white.

    Source
    ------
    CIE 15:2004; WCAG 2.2 note on the red flash.
    """
    (u1, v1), (u2, v2) = _uv(first), _uv(second)
    return math.hypot(u1 - u2, v1 - v2)


def _uv(rgb: Rgb) -> tuple[float, float]:
    shade = rgb if sum(rgb) > 0 else (1.0, 1.0, 1.0)
    x, y, z = (math.fsum(a * b for a, b in zip(row, shade, strict=True)) for row in _SRGB_TO_XYZ)
    total = x + 15 * y + 3 * z
    return 4 * x / total, 9 * y / total


def screen_steps(rhythm: Rhythm, rgb: Rgb, *, ambient: float = 0.0) -> tuple[ScreenStep, ...]:
    """One period of a lamp on the screen: its full colour times level, never under the ambient grey."""
    return tuple(
        ScreenStep(_shade(rgb, step.level, ambient), step.seconds) for step in rhythm.steps
    )


def _shade(rgb: Rgb, level: float, ambient: float) -> Rgb:
    red, green, blue = (max(ambient, part * level) for part in rgb)
    return red, green, blue


def general_flashes_per_s(steps: tuple[ScreenStep, ...]) -> int:
    """Most general flashes in any one second of a repeated pattern.

    Parameters
    ----------
    steps : tuple of ScreenStep
        One period of screen colours; it is repeated.
    Returns
    -------
    int
        Flashes: pairs of opposing changes of relative luminance.
    Raises
    ------
    OutOfRange
        If a colour lies outside 0 to 1.
    Notes
    -----
    A change counts from 0.1 of the largest relative luminance where its darker state is under 0.80; gradual rises count
    as one change from trough to crest. The second is half open, so exactly three flashes a second count as three.
    Source
    ------
    WCAG 2.x, definition of general and red flash thresholds (table flash_safety).
    """
    return _most_pairs(_general_changes(_repeated(steps)))


def red_flashes_per_s(steps: tuple[ScreenStep, ...]) -> int:
    """Most red flashes in any one second: pairs of opposing changes to or from a saturated red.

    Notes
    -----
    A change counts where one state is saturated red and u'v' moves by more than 0.2; from or to black it counts too.
    Source
    ------
    WCAG 2.2, definition of general and red flash thresholds (table flash_safety).
    """
    changes: list[float] = []
    start_s = 0.0
    shown = _repeated(steps)
    for was, now in pairwise(shown):
        start_s += was.seconds
        if _red_change(was.rgb, now.rgb):
            changes.append(start_s)
    return _most_pairs(tuple(changes))


def _red_change(was: Rgb, now: Rgb) -> bool:
    if is_saturated_red(was) == is_saturated_red(now):
        return False
    dark = relative_luminance(was) == 0.0 or relative_luminance(now) == 0.0
    return dark or uv_distance(was, now) > _limit("red_uv")


def _general_changes(steps: tuple[ScreenStep, ...]) -> tuple[float, ...]:
    swing, dark = _limit("general_flash_swing"), _limit("dark_state")
    changes: list[float] = []
    start_s = 0.0
    turn = relative_luminance(steps[0].rgb)
    trend = 0
    for step in steps:
        level = relative_luminance(step.rgb)
        move = level - turn
        if move * trend > 0:
            turn = level
        elif abs(move) >= swing - 1e-9 and min(level, turn) < dark:
            changes.append(start_s)
            trend, turn = (1 if move > 0 else -1), level
        start_s += step.seconds
    return tuple(changes)


def _repeated(steps: tuple[ScreenStep, ...]) -> tuple[ScreenStep, ...]:
    period_s = math.fsum(step.seconds for step in steps)
    if not steps or period_s <= 0:
        raise OutOfRange("screen steps", len(steps), "at least one step of some time")
    return steps * (2 + math.ceil(2.0 / period_s))


def _most_pairs(changes: tuple[float, ...]) -> int:
    most = 0
    last = 0
    for first, start_s in enumerate(changes):
        while last < len(changes) and changes[last] < start_s + 1.0 - TIME_TOLERANCE_S:
            last += 1
        most = max(most, last - first)
    return most // 2


def flash_safety(rhythm: Rhythm, rgb: Rgb, *, area_sr: float = 1.0) -> FlashSafety:
    """Whether a rhythm may be shown on a screen: three flashes a second at most, or a small area.

    Parameters
    ----------
    rhythm : Rhythm
        One period of the lamp.
    rgb : tuple of float
        Full colour of the lamp on the screen, linear sRGB [-], 0 to 1.
    area_sr : float
        Area that flashes together within any 10 degree field [sr]; 1 means not known, so large.
    Returns
    -------
    FlashSafety
        Counts, limits and the verdict.
    Raises
    ------
    OutOfRange
        If a colour lies outside 0 to 1 or the area is negative.
    Source
    ------
    WCAG 2.x success criteria 2.3.1, table flash_safety.
    """
    if not 0.0 <= area_sr < math.inf:
        raise OutOfRange("area_sr", area_sr, "0 sr or more")
    steps = screen_steps(rhythm, rgb)
    general, red = general_flashes_per_s(steps), red_flashes_per_s(steps)
    limit, limit_sr = _limit("general_flash_count"), _limit("flash_area")
    small, few = area_sr < limit_sr, general <= limit and red <= _limit("red_flash_count")
    why = "few enough flashes" if few else "a small area" if small else "too many flashes over too large an area"
    return FlashSafety(general, red, area_sr, limit, limit_sr, small or few, why,
                       row_by("flash_safety", "key", "general_flash_count")["source"])


def preview_rhythm(rhythm: Rhythm, rgb: Rgb, *, area_sr: float = 1.0) -> Rhythm:
    """The rhythm as a screen may show it: unchanged where safe, else slowed by the least whole factor that is."""
    for factor in range(1, 101):
        shown = slowed(rhythm, float(factor)) if factor > 1 else rhythm
        if flash_safety(shown, rgb, area_sr=area_sr).passes:
            return shown
    raise OutOfRange("rhythm", rhythm.text, "a rhythm that some slowing makes safe to show")


def flashes_together_per_s(rhythms: tuple[Rhythm, ...], rgb: Rgb) -> int:
    """Most flashes a second of several lights out of step in one field: at worst they add up."""
    return sum(general_flashes_per_s(screen_steps(rhythm, rgb)) for rhythm in rhythms)


def _limit(key: str) -> float:
    return float(row_by("flash_safety", "key", key)["value"])
