"""A lamp whose LED is of another colour than the lamp."""

from __future__ import annotations

import math

from rushlight.findings._words import by_group
from rushlight.model.design import Colour, Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.lamps import colour_of
from rushlight.stages.sources.common import SAME_COLOUR_XY


def _look(design: Design) -> tuple[Trouble, ...]:
    made = {source.lamp: source for source in design.sources}
    found = []
    for lamps in by_group(lamp for lamp in design.lamps if lamp.states).values():
        lamp, source = lamps[0], made[lamps[0].name]
        row = design.drawer.strip(source.led) if source.kind == "strip" else design.drawer.led(source.led)
        led = colour_of(row.colour)
        if math.dist((led.x, led.y), (lamp.colour.x, lamp.colour.y)) > SAME_COLOUR_XY:
            found.append(_trouble(lamp, led, row.name))
    return tuple(found)


def _trouble(lamp: PlacedLamp, led: Colour, name: str) -> Trouble:
    says = f"'{lamp.group}' should be {lamp.colour.name}; its LED ({name}) is {led.name}."
    if led.cct_k is None:
        return Trouble(
            item=lamp.group, spot=lamp.spot, says=says,
            cure="A filter over a coloured LED only makes it dark: take an LED of the lamp's own colour, or a white "
                 "one under clear colour.",
        )
    wanted = lamp.colour.cct_k
    paint = "clear colour or gel" if wanted is None else f"pale clear {'orange' if wanted < led.cct_k else 'blue'}"
    return Trouble(
        item=lamp.group, spot=lamp.spot, says=says, grade=Grade.COULD_BE_BETTER,
        cure=f"Put {paint} over the lens until the tint is right, or take an LED of the lamp's own colour; a filter "
             "takes about half the light or more.",
    )


RULE = Rule(
    key="light.tint",
    grade=Grade.WILL_FAIL,
    title="LED of another colour",
    unit="",
    why="The lamp will not look as the plan says: colour comes from the LED or from a filter over white, never from "
        "both.",
    cure="Take an LED of the lamp's colour.",
    source="habit tint: common practice, no source; colours differ by more than 0.05 in CIE x, y (project proposal)",
    practice="tint",
    look=_look,
)
