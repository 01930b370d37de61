"""A lit part with seams and nothing that stops light at them."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.step_details import BLOCKING


def _look(design: Design) -> tuple[Trouble, ...]:
    lit = {leak.part for leak in design.light.leaks if leak.inside_lx.typical > 0}
    return tuple(
        Trouble(item=part.name, spot=Spot(part.name, *part.seams_mm[0][0]),
                says=f"'{part.name}' is lit inside and has seams, and no black coat or foil is planned on it.")
        for part in design.plan.parts
        if part.name in lit and part.seams_closed == "open" and part.seams_mm and part.seams_mm[0]
        and not any(design.drawer.coat(name).kind in BLOCKING for name in part.coats)
    )


RULE = Rule(
    key="build.seam-block",
    grade=Grade.DOUBTFUL,
    title="Seams without a light block",
    unit="",
    why="A seam is a slit, and locating pins are thin: light comes out of both in a line that draws the eye.",
    cure="Line the seam inside with black paint, tape or foil, and enter the coat, or how its seams are "
         "closed (plan file: seams_closed), on the part.",
    source=PRACTICE,
    practice="seam_block",
    look=_look,
)
