"""A ring of light at the foot of a post."""

from __future__ import annotations

from rushlight.findings._ways_out import SOURCE, names_of, seen_parts, trouble
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble(rows, f"the foot of {names_of(rows)}") if len(rows) == 1
        else trouble(rows, f"the feet of posts (brightest first: {names_of(rows)})", shows="show up to")
        for rows in seen_parts(design, ("post", "post root")).values()
    )


RULE = Rule(
    key="light.post-glows",
    grade=Grade.COULD_BE_BETTER,
    title="Light shows at the foot of a post",
    unit="cd/m2",
    why="Spray does not reach the corner at the root of a post; a post that goes through the wall stands in a slit. "
        "The number is that of a wide patch which is noticed as easily.",
    cure="Go round its root with a brush, black, then white; fill the gap round one that goes through; enter "
         "that the holes are sealed (plan file: holes_sealed: yes).",
    source=SOURCE,
    look=_look,
)
