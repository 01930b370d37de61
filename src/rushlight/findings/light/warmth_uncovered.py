"""An LED that warmth dims and whose current cannot make up for it."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import SettledAim
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import emitter_light_a

MOST_LOST = 0.1
"""So much of the wanted light may be missing for warmth's sake: a step of E24; an eye tells a sixth at best (project
rule)."""

WHY = {"rating": "bears no more current", "junction": "would pass the limit of its junction with more current"}


def _look(design: Design) -> tuple[Trouble, ...]:
    groups: dict[tuple[str, str, str], list[SettledAim]] = {}
    for aim in design.power.aims:
        if aim.bound in WHY and _lost(design, aim) > MOST_LOST:
            emitter = design.loom.emitter(aim.emitter)
            groups.setdefault((emitter.part_row, emitter.spot.part, aim.bound), []).append(aim)
    return tuple(_trouble(design, aims) for aims in groups.values())


def _lost(design: Design, aim: SettledAim) -> float:
    """Share of the light that the same LED would give at the wanted current if it stayed as its data sheet has it."""
    emitter = design.loom.emitter(aim.emitter)
    each = max(emitter.segments, 1)
    gives_a, wanted_a = (emitter_light_a(design.drawer, emitter, amps / each).typical
                         for amps in (aim.aim_a, aim.unwarmed_a))
    return 1.0 - gives_a * aim.light_share / wanted_a


def _trouble(design: Design, aims: list[SettledAim]) -> Trouble:
    worst = max(aims, key=lambda aim: _lost(design, aim))
    emitter = design.loom.emitter(worst.emitter)
    branches = max(emitter.segments, 1)
    lost_percent, each = 100 * _lost(design, worst), " a segment" if emitter.kind == "strip" else ""
    return Trouble(
        item=worst.emitter, spot=emitter.spot, number=_lost(design, worst), limit=MOST_LOST,
        says=capital(f"{listed([aim.emitter for aim in aims])}: once warm, some {plain(worst.junction_c, 2)} degC at "
                     f"its junction, the {emitter.part_row} LED has lost {lost_percent:.0f} % of its light for good: "
                     f"it {WHY[worst.bound]} than {plain(1000 * worst.aim_a / branches)} mA{each}."),
    )


RULE = Rule(
    key="light.warmth-uncovered",
    grade=Grade.COULD_BE_BETTER,
    title="Warmth takes light that no current brings back",
    unit="share",
    why="In the first minutes the lamp is as bright as wanted; then it fades as its LED warms, red to yellow most.",
    cure="Take a brighter LED, which needs less current; give the space vents; or ask for less light.",
    source="light and warmth of LEDs; the derated rating; the junction's limit in the warmest air, badly mounted",
    look=_look,
)
