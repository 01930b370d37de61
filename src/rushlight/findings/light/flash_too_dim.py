"""A flash so short that the eye takes it for a much dimmer lamp."""

from __future__ import annotations

from rushlight.findings._lights import brightest, mcd
from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.aim import seen_share
from rushlight.stages.parts_law import most_apart


def _look(design: Design) -> tuple[Trouble, ...]:
    even = most_apart(design.drawer)
    told: dict[str, Trouble] = {}
    lights = brightest(design)
    for lamp in design.lamps:
        light = lights.get(lamp.name)
        share = seen_share(lamp.rhythm)
        if light is None or lamp.group in told or share >= 1.0 or light.intensity_cd.typical <= 0:
            continue
        wanted = light.wanted_cd * share
        if light.effective_cd < wanted / even * (1 - 1e-9):
            told[lamp.group] = _trouble(design, lamp.group, light, wanted=wanted, even=even)
    return tuple(told.values())


def _trouble(design: Design, group: str, light: LampLight, *, wanted: float, even: float) -> Trouble:
    times = wanted / light.effective_cd if light.effective_cd > 0 else 0.0
    more = f"Give it {plain(times)} times the current, or longer flashes." if times else "Make its flashes longer."
    return Trouble(
        item=group, spot=design.lamp(light.lamp).spot, number=1000 * light.effective_cd,
        limit=1000 * wanted / even, cure=more,
        says=f"The flashes of '{group}' look like a steady {mcd(light.effective_cd)}; {mcd(wanted)} are "
             "wanted.",
    )


RULE = Rule(
    key="light.flash-too-dim",
    grade=Grade.COULD_BE_BETTER,
    title="Flash looks too dim",
    unit="mcd",
    why="The eye needs about a fifth of a second to take in a light; shorter flashes look dimmer than they are.",
    cure="Give it more current or longer flashes.",
    source="effective intensity of Blondel and Rey; habit equal",
    look=_look,
)
