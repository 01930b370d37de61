"""A reading that no gate foretells."""

from __future__ import annotations

from rushlight.errors import nearest_word
from rushlight.findings._words import capital
from rushlight.findings.build._readings import MINUTES, names_of, read_at_bench
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.fault_names import FIND_STEP


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        Trouble(
            item=reading.what,
            says=capital(f"{reading.what} at '{reading.gate}' is not a reading of this "
                         f"build{_near(design, gate, reading.what)}."))
        for reading, gate, told in read_at_bench(design)
        if told is None and reading.gate != FIND_STEP and not (gate == "soak" and reading.what.casefold() == MINUTES)
    )


def _near(design: Design, gate: str, what: str) -> str:
    near = nearest_word(what, names_of(design, gate))
    return f"; is '{near}' meant?" if near else ""


RULE = Rule(
    key="build.reading-unknown",
    grade=Grade.COULD_BE_BETTER,
    title="Reading that is not foretold",
    unit="",
    why="A reading helps when it can be compared; this one has no counterpart at that gate.",
    cure="Enter gate and reading as the book names them; minutes of the soak are called 'minutes'.",
    source="the plan",
    look=_look,
)
