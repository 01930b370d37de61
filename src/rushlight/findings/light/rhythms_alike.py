"""Sea lights that cannot be told apart, or whose flashes mislead."""

from __future__ import annotations

from rushlight.findings._lights import rhythm_of
from rushlight.findings._words import listed, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.subjects.check import colour_family
from rushlight.timing.chart_notation import is_chart_text
from rushlight.timing.classes import NamedRhythm, rules_broken

WORDS = {
    "ratio": "Hard to tell apart", "yellow_white": "Yellow taken for white",
    "long_short": "Long and short flashes too alike", "green_short": "Green flashes too short",
}
"""What each rule of aton_rules.csv says goes wrong."""


def _look(design: Design) -> tuple[Trouble, ...]:
    found: list[Trouble] = []
    for state in design.plan.states:
        for breach in rules_broken(_lights(design, state.name)):
            says = f"{WORDS[breach.rule]}: {breach.found}. The rule: {breach.expected}."
            if says not in [trouble.says for trouble in found]:
                found.append(_trouble(design, breach.found, says))
    return tuple(found)


def _lights(design: Design, state: str) -> tuple[NamedRhythm, ...]:
    """Rhythms of the light lists that are lit in a state, each once with all its lights: equal ones are meant so."""
    named: dict[tuple[str, str], list[str]] = {}
    for lamp in design.lamps:
        rhythm = rhythm_of(lamp.rhythm) if state in lamp.states and is_chart_text(lamp.rhythm) else None
        if rhythm is not None and rhythm.on_share < 1:
            own = named.setdefault((lamp.rhythm, colour_family(lamp.colour.name)), [])
            if lamp.group not in own:
                own.append(lamp.group)
    return tuple(
        NamedRhythm(listed(names), rhythm, colour=colour)
        for (text, colour), names in named.items() if (rhythm := rhythm_of(text))
    )


def _trouble(design: Design, told: str, says: str) -> Trouble:
    name = next((lamp.group for lamp in design.lamps if told.startswith(lamp.group)), told.split(":", maxsplit=1)[0])
    return Trouble(item=name, spot=spot_of(design, name), says=says)


RULE = Rule(
    key="light.rhythms-alike",
    grade=Grade.DOUBTFUL,
    title="Sea lights not told apart",
    unit="",
    why="Lights of one coast are made so that nobody mistakes one for another.",
    cure="Give one of them another group or a rate three times as fast, or correct the lengths of its flashes.",
    source="a national translation of the recommendation on rhythmic characters",
    look=_look,
)
