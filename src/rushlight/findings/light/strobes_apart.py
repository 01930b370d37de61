"""Strobes that do not flash together, or a beacon that flashes with them."""

from __future__ import annotations

from itertools import combinations

from rushlight.findings._lights import rhythm_groups, rhythm_of
from rushlight.findings._words import entries, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.timing.classes import NamedRhythm, apart_s

STROBES = ("strobe", "double strobe")
TOGETHER_S = 0.02
"""What the eye takes as together (from memory)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    states = {entry.name: set(entry.states) for entry in entries(design)}
    lights = [
        NamedRhythm(name=name, rhythm=rhythm)
        for text, groups in rhythm_groups(design).items() if (rhythm := rhythm_of(text))
        for name in groups if rhythm.kind in (*STROBES, "beacon")
    ]
    return tuple(
        trouble
        for first, second in combinations(lights, 2)
        if states.get(first.name, set()) & states.get(second.name, set())
        and (trouble := _trouble(design, first, second))
    )


def _trouble(design: Design, first: NamedRhythm, second: NamedRhythm) -> Trouble | None:
    strobes = [light.rhythm.kind in STROBES for light in (first, second)]
    apart = apart_s(first, second)
    spot = spot_of(design, second.name)
    if all(strobes) and apart > TOGETHER_S:
        return Trouble(
            item=second.name, spot=spot,
            says=f"The strobes '{first.name}' ({first.rhythm.text}) and '{second.name}' ({second.rhythm.text}) do not "
                 "flash together.",
        )
    if any(strobes) and not all(strobes) and apart <= TOGETHER_S:
        return Trouble(
            item=second.name, spot=spot,
            says=f"'{first.name}' and '{second.name}' flash at the same time ({first.rhythm.text}; "
                 f"{second.rhythm.text}).",
            cure="Give the beacon another period than the strobes.",
        )
    return None


RULE = Rule(
    key="light.strobes-apart",
    grade=Grade.COULD_BE_BETTER,
    title="Strobes and beacon out of step",
    unit="",
    why="Left and right strobes hang on one controller and flash together; the beacon goes its own way.",
    cure="Give both strobes the same rhythm.",
    source="habit two_strobes: common practice, no source",
    practice="two_strobes",
    look=_look,
)
