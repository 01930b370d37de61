"""A floodlight whose foot lies elsewhere than below the place where its part holds it."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.floods import hung_floods, stands_at_mm

MOST_MM = 10.0
"""So far a lamp may stand out from its place on the part, on a bracket (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    hung = hung_floods(design.plan)
    worst: dict[str, Trouble] = {}
    for lamp in design.lamps:
        how = hung.get(lamp.name)
        there = stands_at_mm(design.plan, how, lamp.spot) if how and lamp.states else None
        if how is None or there is None:
            continue
        x, y, height = there
        off = math.dist((*how.foot_mm, how.height_mm), there)
        if off > MOST_MM + 1e-6 and (lamp.group not in worst or off > (worst[lamp.group].number or 0.0)):
            worst[lamp.group] = Trouble(
                item=lamp.group, spot=lamp.spot, number=off, limit=MOST_MM,
                says=f"'{lamp.name}' sits {plain(height, 3)} mm over [{plain(x, 3)}, {plain(y, 3)}] of '{how.ground}' "
                     f"as its part stands, {plain(off)} mm from where its foot and height put it.",
                cure="Correct its foot and height, its place on the part, or where the part stands; they are those of "
                     "pose value 0.",
            )
    return tuple(worst.values())


RULE = Rule(
    key="light.pool-foot-off",
    grade=Grade.DOUBTFUL,
    title="Floodlight not above its foot",
    unit="mm",
    why="The pool is drawn where the lamp is not, and its shadows fall the wrong way.",
    cure="Let foot, height and stand agree.",
    source="the plan's own stands; 10 mm for a bracket (project proposal)",
    look=_look,
)
