"""A fibre bent tighter than lasts, with the light that the bend costs."""

from __future__ import annotations

from rushlight.errors import OutOfRange
from rushlight.findings._words import capital, listed, plain, spot_of
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Tail
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.fibre_loss import bend_loss_db

CRAZE_SHARE = 0.5
"""Under half the lasting radius PMMA crazes in months (from memory: makers give 10 diameters for a short time)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    times = design.drawer.habit("fibre_bend").low or 20.0
    tight: dict[str, list[Tail]] = {}
    for tail in design.loom.tails:
        if tail.least_bend_mm is not None and tail.least_bend_mm < times * tail.fibre_mm * (1 - 1e-6):
            tight.setdefault(design.lamp(tail.lamp).group, []).append(tail)
    return tuple(_trouble(design, group, tails, times) for group, tails in tight.items())


def _trouble(design: Design, group: str, tails: list[Tail], times: float) -> Trouble:
    worst = min(tails, key=lambda tail: (tail.least_bend_mm or 0.0) / tail.fibre_mm)
    radius, limit = worst.least_bend_mm or 0.0, times * worst.fibre_mm
    return Trouble(
        item=worst.lamp, spot=design.lamp(worst.lamp).spot or spot_of(design, group), number=radius, limit=limit,
        grade=None if radius < CRAZE_SHARE * limit else Grade.COULD_BE_BETTER,
        says=capital(f"{listed([tail.lamp for tail in tails])}: the {plain(worst.fibre_mm)} mm fibre bends to "
                     f"{plain(radius)} mm; {plain(limit)} mm ({plain(times)} diameters) last{_loss(design, worst)}."),
        cure="Let the lamp's fibre come in slanting, give it more room from the next post or edge, or use thinner "
             "fibre.",
    )


def _loss(design: Design, tail: Tail) -> str:
    """What the tightest bend costs, where the ray trace reaches so far."""
    na = design.drawer.fibre(tail.fibre_mm).numerical_aperture
    try:
        loss = bend_loss_db((tail.least_bend_mm or 0.0) / tail.fibre_mm, na=na, launch_na=na)
    except OutOfRange:
        return "; so tight a bend loses most of the light"
    return f"; a quarter turn of it loses about {plain(loss.typical)} dB"


RULE = Rule(
    key="loom.fibre-bend",
    grade=Grade.DOUBTFUL,
    title="Fibre bent too tightly",
    unit="mm",
    why="A tight bend sheds light at once, and stressed acrylic cracks with the years and with any solvent.",
    cure="Give the fibre a wider bend.",
    source=PRACTICE + "; own ray trace of bent fibres",
    practice="fibre_bend",
    look=_look,
)
