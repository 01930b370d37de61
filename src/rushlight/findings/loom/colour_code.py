"""Two lines in wire of one colour."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    lines: dict[str, list[str]] = {}
    for lead in design.loom.leads:
        name = "the return" if lead.net == "return" else f"circuit {lead.circuit}"
        if name not in lines.setdefault(lead.colour, []):
            lines[lead.colour].append(name)
    found = []
    for colour, names in lines.items():
        if len(names) > 1:
            with_return = "the return" in names
            found.append(Trouble(
                item=colour, grade=Grade.WILL_FAIL if with_return else None,
                says=capital(f"{colour} wire is used for {listed(sorted(names))}.")))
    return tuple(found)


RULE = Rule(
    key="loom.colour-code",
    grade=Grade.COULD_BE_BETTER,
    title="Wire colours clash",
    unit="",
    why="Once bundled, only its colour tells one lead from another.",
    cure="Mark one of the lines with a band of paint or a second colour at both ends of each of its leads.",
    source=PRACTICE,
    practice="colour_code",
    look=_look,
)
