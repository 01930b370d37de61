"""A shopping list without spare LEDs."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.shopping import spare_count


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for line in design.shopping.lines:
        wanted = spare_count(design.drawer, int(line.needed)) if line.group == "LEDs" else 0
        if line.spare < wanted:
            found.append(Trouble(
                item=line.name, number=line.spare, limit=wanted,
                says=capital(f"{line.name}: {plain(line.needed)} are needed and {plain(line.spare)} are spare; "
                             f"{wanted} spare ones are right.")))
    return tuple(found)


RULE = Rule(
    key="build.spare-leds",
    grade=Grade.COULD_BE_BETTER,
    title="Too few spare LEDs",
    unit="pieces",
    why="One in ten is lost to static, heat or a broken leg, and the next order may be another bin.",
    cure="Buy a tenth more than needed, two at least.",
    source=PRACTICE,
    practice="spare_leds",
    look=_look,
)
