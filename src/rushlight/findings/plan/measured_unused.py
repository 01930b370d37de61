"""A reading of a lamp that gives no light in the state that was named."""

from __future__ import annotations

from rushlight.findings._words import spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    read = [one for one in design.plan.measured if one.what == "lamp"]
    if not read:
        return ()
    lit = {(light.lamp, light.state) for light in design.light.lamps if light.intensity_cd.typical > 0}
    return tuple(
        Trouble(item=one.of, spot=spot_of(design, one.of),
                says=f"A reading of '{one.of}' in '{one.state}' stands in the plan; this build gives no light there.")
        for one in read if (one.of, one.state) not in lit
    )


RULE = Rule(
    key="plan.measured-unused",
    grade=Grade.DOUBTFUL,
    title="Reading of a lamp that is not lit",
    unit="",
    why="What the meter showed changes nothing: you believe the lamp to be known, and it is still guessed.",
    cure="Name a state that lights it, and the lamp as the book names it (of a row: 'row 3').",
    source="what the light stage has for each lamp and state",
    look=_look,
)
