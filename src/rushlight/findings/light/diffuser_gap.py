"""A strip that lies too near to its diffuser for its pitch, by the habit of the trade."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.strip_cures import gap_passed_over_mm

MOST = 1.5
"""LEDs lie at most so many times their distance from the sheet apart, where the habit names no number."""


def _look(design: Design) -> tuple[Trouble, ...]:
    most = design.drawer.habit("diffuser").high or MOST
    first = {row.strip: row for row in reversed(design.light.strips)}
    return tuple(
        _trouble(design, row, most) for row in first.values() if row.pitch_mm / row.gap_mm > most * (1 + 1e-9)
    )


def _trouble(design: Design, row: StripLight, most: float) -> Trouble:
    ratio = row.pitch_mm / row.gap_mm
    needed_mm, passed = back_to_mm(design, row)
    return Trouble(
        item=row.strip, spot=design.lamp(row.lamp).spot, number=ratio, limit=most,
        says=f"The LEDs of '{row.strip}' are {plain(row.pitch_mm)} mm apart and {plain(row.gap_mm, 3)} mm from the "
             f"sheet: {plain(ratio, 3)} to 1, and {plain(most)} to 1 is the most.",
        cure=f"Set the strip back to {needed_mm:g} mm ({_then(passed)}){_finer(design, most * row.gap_mm)}.",
    )


def _finer(design: Design, pitch_mm: float) -> str:
    """Where a strip is sold whose LEDs lie so near to each other."""
    if pitch_mm < min(part.pitch_mm for part in design.drawer.strips):
        return ""
    return f", or take one with LEDs {plain(pitch_mm)} mm apart for the habit alone"


def back_to_mm(design: Design, row: StripLight) -> tuple[float, bool]:
    """Gap to set a strip back to [mm], to a tenth and never less; whether ordinary looking then passes over its LEDs.

    Seen from far, or behind two sheets, the eye asks for less than the habit does: the habit then stands.
    """
    least_mm = row.pitch_mm / (design.drawer.habit("diffuser").high or MOST)
    passed_mm = gap_passed_over_mm(design, row.strip, least_mm)
    return math.ceil(10 * (least_mm if passed_mm is None else passed_mm) - 1e-6) / 10, passed_mm is not None


def _then(passed: bool) -> str:
    if not passed:
        return "that keeps the habit; it does not make these windows even"
    return "tried: ordinary looking then passes over the LEDs"


RULE = Rule(
    key="light.diffuser-gap",
    grade=Grade.DOUBTFUL,
    title="Strip too near to its diffuser",
    unit="to 1",
    why="Each LED then shows as a spot of its own behind the window.",
    cure="Set the strip further back, or take one of a finer pitch.",
    source="habit diffuser: common practice; the gap of the cure from the contrast of a row of LEDs",
    practice="diffuser",
    look=_look,
)
