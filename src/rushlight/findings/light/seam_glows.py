"""A seam through which the light inside shows as a line."""

from __future__ import annotations

from rushlight.findings._ways_out import SOURCE, seen_parts, trouble
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble(rows, rows[0].name.replace("its", "the"), shows="shows" if rows[0].count == 1 else "show")
        for rows in seen_parts(design, ("seam",)).values()
    )


RULE = Rule(
    key="light.seam-glows",
    grade=Grade.DOUBTFUL,
    title="Light shows in a seam",
    unit="cd/m2",
    why="A seam is a slit: it shows the bright inside as a line that draws the eye, however dark the wall is. The "
        "number is that of a wide patch which is noticed as easily.",
    cure="Fill it with cement or putty all through, glue a lip behind it, or lay black tape over it inside, and enter "
         "that (plan file: seams_closed). Black as the last coat inside dims every way out.",
    source=SOURCE,
    look=_look,
)
