"""Where a plan's lights of the rule stand to each other: spacing of lights that hang in a vertical line."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.design import PlacedLamp
from rushlight.model.plan import Plan, State
from rushlight.model.subject_light import PlacementRule, SubjectLights
from rushlight.stages.rule_check import RULED, required_of

IN_LINE_MM = 1.0
"""Lights no further apart sideways hang in one line (project proposal)."""

BELOW = {"towing": "stern"}
"""A light whose vertical line takes in another: the towing light hangs over the sternlight (Rule 24)."""


@dataclass(frozen=True, slots=True)
class Gap:
    """Two neighbours in a vertical line, their distance on the subject [m] and the least that the rule allows."""

    state: str
    upper: str
    lower: str
    gap_m: float
    least_m: float
    source: str


def vertical_gaps(plan: Plan, lamps: tuple[PlacedLamp, ...]) -> tuple[Gap, ...]:
    """Gaps between neighbours of every vertical line that a state's rule lays down.

    Parameters
    ----------
    plan : Plan
        The checked plan.
    lamps : tuple of PlacedLamp
        Its lamps, placed.
    Returns
    -------
    tuple of Gap
        Lights on one part, above each other within IN_LINE_MM; the part is taken to be drawn upright.
    """
    if plan.subject.kind not in RULED:
        return ()
    return tuple(gap for state in plan.states if state.rule for gap in _of_state(plan, state, lamps))


def _of_state(plan: Plan, state: State, lamps: tuple[PlacedLamp, ...]) -> list[Gap]:
    try:
        required = required_of(plan, state)
    except (UnknownName, OutOfRange):
        return []
    rule = _rule(required)
    if rule is None or rule.minimum is None:
        return []
    scale, found = plan.subject.scale, []
    for line in _lines(state, lamps, _hung(required)):
        for low, high in pairwise(line):
            apart_mm = (high.spot.y_mm if high.spot else 0.0) - (low.spot.y_mm if low.spot else 0.0)
            found.append(Gap(state.name, high.name, low.name, apart_mm * scale / 1000, rule.minimum, rule.source))
    return found


def _rule(required: SubjectLights) -> PlacementRule | None:
    rules = [rule for lamp in required.lamps for rule in lamp.placement]
    return next((rule for rule in rules if rule.key.startswith("vertical_gap")), None)


def _hung(required: SubjectLights) -> set[str]:
    """Keys of the lights that hang in a vertical line in this state."""
    own = {lamp.light for lamp in required.lamps if any(r.key.startswith("vertical_gap") for r in lamp.placement)}
    return own | {BELOW[light] for light in own if light in BELOW}


def _lines(state: State, lamps: tuple[PlacedLamp, ...], hung: set[str]) -> list[list[PlacedLamp]]:
    """Lit lights of those keys, in lines of one part and one place across, each from the lowest up."""
    lines: list[list[PlacedLamp]] = []
    own = [lamp for lamp in lamps if lamp.spot and lamp.rule and lamp.rule.split("/")[0] in hung
           and state.name in lamp.states]
    for lamp in sorted(own, key=lambda lamp: lamp.spot.y_mm if lamp.spot else 0.0):
        line = next((line for line in lines if _in_line(line[0], lamp)), None)
        if line is None:
            lines.append([lamp])
        else:
            line.append(lamp)
    return lines


def _in_line(first: PlacedLamp, second: PlacedLamp) -> bool:
    a, b = first.spot, second.spot
    return a is not None and b is not None and a.part == b.part and abs(a.x_mm - b.x_mm) <= IN_LINE_MM
