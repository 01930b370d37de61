"""One name for two things at the bench."""

from __future__ import annotations

from collections import Counter

from rushlight.findings._words import capital, listed
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    loom = design.loom
    names = [
        *(lead.name for lead in loom.leads), *(splice.name for splice in loom.splices),
        *(tail.name for tail in loom.tails), *(lamp.name for lamp in design.lamps),
        *(emitter.name for emitter in loom.emitters if emitter.kind == "illuminator"),
    ]
    twice = [name for name, count in Counter(names).items() if count > 1]
    if not twice:
        return ()
    stands = "stands" if len(twice) == 1 else "stand"
    return (Trouble(item=twice[0], says=capital(f"{listed(twice)} {stands} for more than one thing."),
                    cure="Rename the lamp in the plan: leads are called A1, A2, LEDs of fibres I1, I2."),)


RULE = Rule(
    key="loom.label",
    grade=Grade.DOUBTFUL,
    title="A label that stands for two things",
    unit="",
    why="Both ends of every lead carry its name; with one name for two things a joint is soldered wrongly.",
    cure="Rename one of them.",
    source=PRACTICE,
    practice="label",
    look=_look,
)
