"""A rhythm that is not what its class says."""

from __future__ import annotations

from rushlight.findings._lights import rhythm_groups, rhythm_of
from rushlight.findings._words import listed, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.timing.classes import Breach, class_breaches


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for text, groups in rhythm_groups(design).items():
        rhythm = rhythm_of(text)
        if rhythm is not None and (breaches := class_breaches(rhythm)):
            found.append(_trouble(design, text, groups, breaches))
    return tuple(found)


def _trouble(design: Design, text: str, groups: list[str], breaches: tuple[Breach, ...]) -> Trouble:
    names = [f"'{name}'" for name in groups]
    wrong = "; ".join(f"{row.found}, where {row.rule} means {row.expected}" for row in breaches)
    return Trouble(
        item=groups[0], spot=spot_of(design, groups[0]), says=f"{listed(names)} with {text} has {wrong}.",
        cure=f"Make it {breaches[0].expected}, or give the rhythm the name of the class that it is.",
    )


RULE = Rule(
    key="light.rhythm-class",
    grade=Grade.DOUBTFUL,
    title="Rhythm breaks its class",
    unit="",
    why="A sailor knows a light by its class; one that flashes otherwise is another light.",
    cure="Correct the lengths or the class.",
    source="definitions of light characters (IHO S-57, Chart 1 section P), see timing",
    look=_look,
)
