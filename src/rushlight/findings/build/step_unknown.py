"""An entry of the log that is no step of this build."""

from __future__ import annotations

from rushlight.errors import nearest_word
from rushlight.findings._as_built import cut_piece, is_tube, log
from rushlight.findings._words import capital
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.tables import rows


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(item=row.done.step,
                says=capital(f"'{row.done.step}' in the log is neither a step nor a lead or tail of this build"
                             f"{_near(row.done.step)}."))
        for row in log(design) if not row.key and cut_piece(design, row.done) is None and not is_tube(design, row.done)
    )


def _near(step: str) -> str:
    near = nearest_word(step, [row["key"] for row in rows("build_steps")])
    return f"; '{near}' is" if near else ""


RULE = Rule(
    key="build.step-unknown",
    grade=Grade.COULD_BE_BETTER,
    title="Log entry that is no step",
    unit="",
    why="An entry that cannot be placed does not count for the order of work.",
    cure="Name the step as the book does, by its key or its title.",
    source="the tool's own list of steps",
    look=_look,
)
