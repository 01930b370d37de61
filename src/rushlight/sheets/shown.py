"""What a screen shows of light: levels beside each other, colours, rhythms that are safe to look at."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.optics.display import root_tone
from rushlight.sheets.night_pools import ShownBands, ShownPool, hue_of, shown_bands, shown_pools
from rushlight.sheets.seen_round import SeenRound, seen_round

WHITE = (1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class ShownRhythm:
    """A rhythm as steps of level and seconds; `slowed` is how many times as long as the real one it lasts."""

    period_s: float
    slowed: float
    repeats: bool
    steps: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class ShownPicture:
    """What the pictures by night take for granted.

    `spread` is the eye's table of shares, `hues` x, y by colour, `own_hues` by lamp where its LED is of another colour,
    `pools` floodlit grounds and `bands` uneven openings in the parts' millimetres, `words` what is said of each state
    beside its picture. `seen_from` is the plan's own bearing and height, None for square on; `round` tells what is seen
    from there and from any other place.
    """

    half_cd_m2: float
    distance_mm: float
    age_years: float
    spread: tuple[float, ...]
    hues: dict[str, tuple[float, float]]
    own_hues: dict[str, tuple[float, float]]
    pools: tuple[ShownPool, ...]
    bands: dict[str, ShownBands]
    words: dict[str, str]
    seen_from: tuple[float, float] | None
    round: SeenRound


def shown_levels(design: Design) -> dict[str, dict[str, float]]:
    """For each state the lamps that are lit and how bright their faces show, 0 to 1, by the pictures' curve."""
    from rushlight.sheets.dark import half_cd_m2  # not before it is needed: the first look shows only colours

    half = half_cd_m2(design)
    states: dict[str, dict[str, float]] = {state.name: {} for state in design.plan.states}
    for row in design.light.lamps:
        states[row.state][row.lamp] = round(float(root_tone(row.luminance_cd_m2.typical, half_cd_m2=half)), 4)
    return states


def shown_picture(design: Design) -> ShownPicture:
    """The exposure, the eye and the colours of the plan's pictures by night."""
    from rushlight.optics.glare import AGE_YEARS, share_table
    from rushlight.sheets.dark import half_cd_m2, shown_parts
    from rushlight.sheets.night_words import night_words

    hues = {lamp.colour.name: (round(lamp.colour.x, 6), round(lamp.colour.y, 6)) for lamp in design.lamps}
    own = [(lamp, hue_of(design, lamp)) for lamp in design.lamps]
    own_hues = {lamp.name: (round(x, 6), round(y, 6)) for lamp, (x, y) in own
                if (x, y) != (lamp.colour.x, lamp.colour.y)}
    spread = tuple(round(share, 6) for share in share_table())
    distance = design.plan.subject.viewing_distance_mm
    words = {state.name: night_words(design, state.name, shown_parts(design)) for state in design.plan.states}
    subject = design.plan.subject
    place = None if subject.viewing_bearing_deg is None else (subject.viewing_bearing_deg, subject.viewing_height_deg)
    return ShownPicture(half_cd_m2(design), distance, AGE_YEARS, spread, hues, own_hues, shown_pools(design),
                        shown_bands(design), words, place, seen_round(design))


def shown_rhythms(design: Design) -> dict[str, ShownRhythm]:
    """Rhythms of the plan, slowed where they would flash too often (WCAG 2.2, success criterion 2.3.1)."""
    from rushlight.timing.character import parse_rhythm
    from rushlight.timing.flash import preview_rhythm

    shown = {}
    for text in sorted({lamp.rhythm for lamp in design.lamps} - {"steady"}):
        real = parse_rhythm(text)
        safe = preview_rhythm(real, WHITE)
        steps = tuple((step.level, step.seconds) for step in safe.steps)
        shown[text] = ShownRhythm(safe.period_s, safe.period_s / real.period_s, safe.repeats, steps)
    return shown
