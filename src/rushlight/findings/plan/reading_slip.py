"""A reading with a nought too many or too few, or from too near: unseen in itself, seen beside the rest of the plan."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rushlight.findings._words import plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_bench import Measured
from rushlight.stages.at_hand import resistors_at_hand
from rushlight.stages.measured_found import LED_VOLTAGE
from rushlight.stages.rooms import opening_named

THICKER = 5.0
"""A spare piece is so many times as thick or as thin as the plan's own walls at the most (project rule)."""

OVERDRIVEN = 1.5
"""Nobody reads an LED at so many times the most that it bears (project rule)."""

NOUGHT = 10.0

WIDTHS = 5.0
"""From so many times a lamp's width away a meter sees it as a point, within 1 % (the five-times rule)."""

NEARLY = 1.2
"""By so much nearer nobody is blamed: the error is still under 2 %."""

WHOLE_TURN_DEG = 360.0

RESISTORS = "Look at the bands, or read both resistors at ohm, out of the circuit; then put the entry right."


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(trouble for one in design.plan.measured for trouble in _of(design, one))


def _of(design: Design, one: Measured) -> Iterator[Trouble]:
    if one.what == "wall":
        yield from _wall(design, one)
    if one.what == "fibre bend":
        yield from _bend(design, one)
    if one.what == "lamp":
        yield from _near(design, one)
    if one.what == LED_VOLTAGE:
        yield from _not_at_hand(design, one)
        yield from _overdriven(design, one)


def _wall(design: Design, one: Measured) -> Iterator[Trouble]:
    own = [part.wall_mm for part in design.plan.parts if part.wall == one.of]
    piece = one.thickness_mm or 0.0
    if not own or piece <= 0.0:
        return
    times = max(piece / max(own), min(own) / piece)
    if times > THICKER:
        walls = f"{plain(min(own))} mm" if min(own) == max(own) else f"{plain(min(own))} to {plain(max(own))} mm"
        yield Trouble(
            item=one.of, spot=spot_of(design, one.of), number=times, limit=THICKER,
            says=f"A piece of '{one.of}' of {plain(piece)} mm was read; walls of it are {walls} thick here.",
            cure="Calliper the piece again: thickness_mm is in millimetres. If it is so, read a piece as thick as the "
                 "wall: taken so far from its own thickness the law is a guess.",
        )


def _bend(design: Design, one: Measured) -> Iterator[Trouble]:
    tails = [tail for tail in design.loom.tails if design.drawer.fibre(tail.fibre_mm).name == one.of]
    radius, turn = one.radius_mm or 0.0, one.turn_deg or 0.0
    if not tails:
        return
    long_mm = max(tail.cut_mm for tail in tails)
    turned = max(WHOLE_TURN_DEG, *(sum(bend.angle_deg for bend in tail.bends) for tail in tails))
    arc_mm = radius * math.radians(turn)
    times = max(arc_mm / long_mm, turn / turned)
    if times > 1.0:
        yield Trouble(
            item=one.of, spot=spot_of(design, one.of), number=times, limit=1.0,
            says=f"A bend of '{one.of}' of {plain(turn, 3)} degrees, {plain(turn / WHOLE_TURN_DEG)} turns, round "
                 f"{plain(radius)} mm was read: it takes {plain(arc_mm)} mm. The longest tail here is "
                 f"{plain(long_mm, 3)} mm, and the bends of none turn by more than {plain(turned, 3)} degrees.",
            cure="Say turn_deg in degrees, 90 for a quarter turn, and radius_mm to the fibre's middle. A quarter turn "
                 "tells most.",
        )


def _near(design: Design, one: Measured) -> Iterator[Trouble]:
    """A lamp that was read from so near that its edges are plainly farther off than its middle."""
    lamp = next((row for row in design.lamps if row.name == one.of), None)
    if lamp is None or not one.distance_mm:
        return
    opening = opening_named(design.plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    seen = next((row.seen_mm for row in design.sources if row.lamp == lamp.name), 0.0)
    wide = seen if opening is None else max(max(axis) - min(axis) for axis in zip(*opening.shape_mm, strict=True))
    if WIDTHS * wide > one.distance_mm * NEARLY:
        yield Trouble(
            item=one.of, spot=lamp.spot, number=WIDTHS * wide / one.distance_mm, limit=1.0,
            says=f"'{one.of}' is {plain(wide)} mm wide and was read from {plain(one.distance_mm)} mm: its edges are "
                 "farther off than its middle, so that it comes out dimmer than it is.",
            cure=f"Read it once more from {plain(WIDTHS * wide, 3)} mm or more, five times its width, or say the "
                 "distance_mm that it was.",
        )


def _not_at_hand(design: Design, one: Measured) -> Iterator[Trouble]:
    """A resistor that is not at hand, where one ten times less or greater is."""
    offered = resistors_at_hand(design.plan, design.drawer)
    for ohm in dict.fromkeys(one.series_ohm):
        if not offered or any(row.has(ohm) for row in offered):
            continue
        other = next((each for each in (ohm / NOUGHT, ohm * NOUGHT) if any(row.has(each) for row in offered)), None)
        if other is not None:
            yield Trouble(
                item=one.of, spot=spot_of(design, one.of), number=NOUGHT, limit=1.0,
                says=f"'{one.of}' was read behind {plain(ohm, 3)} ohm; at hand is {plain(other, 3)} ohm, and none of "
                     f"{plain(ohm, 3)}.", cure=RESISTORS,
            )


def _overdriven(design: Design, one: Measured) -> Iterator[Trouble]:
    most_ma = design.drawer.led(one.of).max_ma
    read = max((1000.0 * volts / ohm, ohm) for volts, ohm in zip(one.against, one.series_ohm, strict=True))
    if read[0] > OVERDRIVEN * most_ma:
        yield Trouble(
            item=one.of, spot=spot_of(design, one.of), number=read[0] / most_ma, limit=OVERDRIVEN,
            says=f"Behind {plain(read[1], 3)} ohm '{one.of}' would have taken {plain(read[0], 3)} mA; it bears "
                 f"{plain(most_ma)} mA.", cure=RESISTORS,
        )


RULE = Rule(
    key="plan.reading-slip",
    grade=Grade.DOUBTFUL,
    title="Reading that slipped, perhaps",
    unit="times",
    why="What it comes to lies within what such things may have, so it is reckoned with; beside the rest of the plan "
        "it can hardly be.",
    cure="Read it once more, and the numbers of the entry against your notes.",
    source="walls, tails, lamps and resistors at hand of the plan, the LED's rating, the five-times rule; how far is a "
           "project rule",
    look=_look,
)
