"""A fibre that is as bright as its LED's own face: nothing but another LED makes it brighter."""

from __future__ import annotations

from rushlight.findings._lights import brightest, emitters_of
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

LEAST_DB = 0.1
"""Under this the limit is only grazed (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    feeds = emitters_of(design)
    bundles: dict[str, list[tuple[float, str]]] = {}
    for name, light in brightest(design).items():
        lost = next((loss.loss_db for loss in light.losses if loss.name == "radiance limit"), 0.0)
        if lost > LEAST_DB:
            bundles.setdefault(feeds[name].name, []).append((lost, name))
    return tuple(_trouble(design, emitter, lost) for emitter, lost in bundles.items())


def _trouble(design: Design, emitter: str, lost: list[tuple[float, str]]) -> Trouble:
    worst, _ = max(lost)
    names = [f"'{lamp}'" for _, lamp in lost]
    return Trouble(
        item=emitter, spot=design.loom.emitter(emitter).spot, number=worst, limit=LEAST_DB,
        says=f"{listed(names)} would take in {plain(worst)} dB more than the face of '{emitter}' can give to a fibre.",
    )


RULE = Rule(
    key="light.radiance-limit",
    grade=Grade.COULD_BE_BETTER,
    title="Fibre as bright as its LED's face",
    unit="dB",
    why="No fibre is brighter than the face that feeds it; a better joint or a lens adds nothing.",
    cure="For more light raise the current, or take an LED of higher brightness.",
    source="conservation of radiance: at most L pi NA^2 A of the core (see optics)",
    look=_look,
)
