"""A fibre that loses much of its light in its bends."""

from __future__ import annotations

from rushlight.findings._lights import brightest, emitters_of
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.fibre_loss import decibels, transmittance
from rushlight.stages.parts_law import most_apart
from rushlight.units import Range

EASY_BEND = 20.0
"""Radius over diameter at which even a full cone loses little (bend_loss_raytrace.csv)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = decibels(1 / most_apart(design.drawer))
    feeds = emitters_of(design)
    bundles: dict[str, list[tuple[float, str]]] = {}
    for name, light in brightest(design).items():
        lost = next((loss.loss_db for loss in light.losses if loss.name == "bends"), 0.0)
        if lost > limit:
            bundles.setdefault(feeds[name].name, []).append((lost, name))
    return tuple(_trouble(design, emitter, lost, limit) for emitter, lost in bundles.items())


def _trouble(design: Design, emitter: str, lost: list[tuple[float, str]], limit: float) -> Trouble:
    worst, name = max(lost)
    tail = next(row for row in design.loom.tails if row.lamp == name)
    least = tail.least_bend_mm or 0.0
    names = [f"'{lamp}'" for _, lamp in lost]
    share = 100 * (1 - transmittance(Range.exactly(worst)).typical)
    wanted = max(design.drawer.habit("fibre_bend").low or 0.0, EASY_BEND) * tail.fibre_mm
    return Trouble(
        item=name, spot=design.lamp(name).spot, number=worst, limit=limit,
        says=f"Bends cost {listed(names)} (from '{emitter}') up to {plain(worst)} dB, {plain(share)} % of the light; "
             f"the tightest has a radius of {plain(least)} mm.",
        cure=f"Lead it in wider bends, {plain(wanted)} mm and more, or give it more room between keep-outs.",
    )


RULE = Rule(
    key="light.bend-loss",
    grade=Grade.COULD_BE_BETTER,
    title="Light lost in bends",
    unit="dB",
    why="A tail that loses so much looks dimmer than its neighbours.",
    cure="Wider bends.",
    source="own ray trace of bent fibres; the limit is the habit equal in decibels",
    look=_look,
)
