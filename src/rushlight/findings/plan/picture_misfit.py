"""A picture whose points do not agree, or that a measured distance disproves: places read off it are off."""

from __future__ import annotations

import math

from rushlight.geometry.gauge import DRILL_MM, PLAN_MM, Gauge, checked, fit_gauge
from rushlight.geometry.homography import NoFit
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Part, Picture

CLICK_PX = 1.0
"""How well a point is placed on a picture by hand (common practice, no source)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    troubles = (_trouble(part, part.picture) for part in design.plan.parts if part.picture and part.picture.points)
    return tuple(trouble for trouble in troubles if trouble is not None)


def _trouble(part: Part, picture: Picture) -> Trouble | None:
    pixels, places = [row.pixel for row in picture.points], [row.at_mm for row in picture.points]
    fit = fit_gauge(pixels, places, mirrored=picture.mirrored, turned_deg=picture.turned_deg)
    spot = Spot(part.name, *part.outline_mm[0])
    if isinstance(fit, NoFit):
        says = f"The known points of the picture '{picture.file}' of '{part.name}' fix no scale: {fit.text}"
        return Trouble(item=part.name, spot=spot, says=says, grade=Grade.DOUBTFUL)
    worst, missed = fit.residual.worst_mm if fit.residual else 0.0, _missed_mm(part, picture, fit)
    off = max(worst, missed)
    if off <= DRILL_MM:
        return None
    why = "its known points disagree" if worst >= missed else "a measured distance does not agree with its scale"
    use = "planning" if off > PLAN_MM else "drilling"
    return Trouble(
        item=part.name, spot=spot, number=off, limit=DRILL_MM, grade=Grade.DOUBTFUL if off > PLAN_MM else None,
        says=f"On the picture '{picture.file}' of '{part.name}' {why}: a place may be {off:.1f} mm off, "
             f"too far for {use}.",
    )


def _missed_mm(part: Part, picture: Picture, fit: Gauge) -> float:
    """How far the far end of the part is off by the worst of the measured distances."""
    xs, ys = zip(*part.outline_mm, strict=True)
    reach = math.hypot(max(xs) - min(xs), max(ys) - min(ys))
    found = [checked(fit, (row.from_px, row.to_px), row.length_mm, click_px=CLICK_PX) for row in picture.checks]
    return max((row.miss_mm(reach) for row in found if row is not None), default=0.0)


RULE = Rule(
    key="plan.picture-misfit",
    grade=Grade.COULD_BE_BETTER,
    title="Picture that fits badly",
    unit="mm",
    why="Holes drilled by places that were read off such a picture sit beside the lamp.",
    cure="Look at the worst point on the leaf Parts and put it right, or take the picture anew from further away, "
         "square on, with the part flat.",
    source="residual of the fitted map; limits of 0.3 mm for drilling and 1 mm for planning are a judgement, no source",
    look=_look,
)
