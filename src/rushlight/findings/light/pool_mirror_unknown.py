"""The mirrored half of a row of floodlights, of which nobody said where its feet lie."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.floods import mirror_known, mirrored_ground


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for row in design.plan.rows:
        lamps = [lamp for lamp in design.lamps if lamp.group == row.name and lamp.name.startswith(f"{row.name} m")]
        lit = [lamp for lamp in lamps if lamp.states]
        if row.lights_mm is None or not lit or mirror_known(row):
            continue
        found.append(Trouble(
            item=row.name, spot=lit[0].spot,
            says=f"Not known where on '{mirrored_ground(row)}' the feet of {listed([lamp.name for lamp in lit])} lie, "
                 "so their light on it is not computed.",
            cure=f"Say for the mirrored '{row.name}' two points of the middle line of '{mirrored_ground(row)}', and "
                 "the part that they light if it is another (plan file: lights_line_mm, lights_part under mirror).",
        ))
    return tuple(found)


RULE = Rule(
    key="light.pool-mirror-unknown",
    grade=Grade.DOUBTFUL,
    title="Ground of mirrored floodlights not known",
    unit="",
    why="Half of the light is missing from the ground's map and from the picture by night.",
    cure="Say about which line of the lit part the feet are mirrored.",
    source="the plan's own mirror",
    look=_look,
)
