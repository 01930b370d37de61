"""A flash so short that the eye takes it for a much dimmer lamp."""

from __future__ import annotations

from rushlight.findings._lights import brightest, mcd, rhythm_of
from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    even = design.drawer.habit("equal").high or 1.5
    told: dict[str, Trouble] = {}
    lights = brightest(design)
    for lamp in design.lamps:
        light = lights.get(lamp.name)
        if light is None or lamp.group in told or lamp.rhythm in ("steady", "flicker", "random windows"):
            continue
        rhythm = rhythm_of(lamp.rhythm)
        bright_enough = light.intensity_cd.typical >= light.wanted_cd / even
        if rhythm and rhythm.repeats and bright_enough and light.effective_cd < light.wanted_cd / even:
            told[lamp.group] = _trouble(design, lamp.group, light, even=even)
    return tuple(told.values())


def _trouble(design: Design, group: str, light: LampLight, *, even: float) -> Trouble:
    times = light.wanted_cd / light.effective_cd if light.effective_cd > 0 else 0.0
    more = f"Give it {plain(times)} times the current, or longer flashes." if times else "Make its flashes longer."
    return Trouble(
        item=group, spot=design.lamp(light.lamp).spot, number=1000 * light.effective_cd,
        limit=1000 * light.wanted_cd / even, cure=more,
        says=f"The flashes of '{group}' look like a steady {mcd(light.effective_cd)}; {mcd(light.wanted_cd)} are "
             "wanted.",
    )


RULE = Rule(
    key="light.flash-too-dim",
    grade=Grade.COULD_BE_BETTER,
    title="Flash looks too dim",
    unit="mcd",
    why="The eye needs about a fifth of a second to take in a light; shorter flashes look dimmer than they are.",
    cure="Give it more current or longer flashes.",
    source="effective intensity of Blondel and Rey, see timing; habit equal",
    look=_look,
)
