"""A flash so short that the eye takes it for a much dimmer lamp."""

from __future__ import annotations

from rushlight.findings._brighter import brighter_words
from rushlight.findings._lights import brightest, current_for_a, emitters_of, mcd, mcd_ends
from rushlight.findings._words import plain
from rushlight.findings.electric.supply_low import starved, volts_words
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.aim import flash_share
from rushlight.stages.led_currents import DERATE
from rushlight.stages.parts_law import most_apart
from rushlight.stages.wanted_look import TOO_DIM, over_words


def _look(design: Design) -> tuple[Trouble, ...]:
    even = most_apart(design.drawer)
    told: dict[str, Trouble] = {}
    lights = brightest(design)
    for lamp in design.lamps:
        light = lights.get(lamp.name)
        share = flash_share(lamp.rhythm)
        if light is None or lamp.group in told or share >= 1.0 or light.intensity_cd.typical <= 0:
            continue
        wanted = light.wanted_cd * share
        if light.effective_cd < wanted / even * (1 - 1e-9):
            seen = light.looked_at
            told[lamp.group] = _trouble(design, lamp.group, seen, wanted=wanted * light.seen_share, even=even)
    return tuple(told.values())


def _trouble(design: Design, group: str, light: LampLight, *, wanted: float, even: float) -> Trouble:
    times = wanted / light.effective_cd if light.effective_cd > 0 else 0.0
    share = light.effective_cd / light.intensity_cd.typical
    outer, likely = light.intensity_cd.times(share), light.likely_cd.times(share)
    more = _cure(design, light.lamp, times) if times else "Make its flashes longer."
    return Trouble(
        item=group, spot=design.lamp(light.lamp).spot, number=1000 * light.effective_cd,
        limit=1000 * wanted / even, cure=more,
        says=f"The flashes of '{group}' look like a steady {mcd(light.effective_cd)} ({mcd_ends(likely, outer)}); "
             f"{mcd(wanted)} are wanted: {over_words(outer, likely, wanted / even, too=TOO_DIM)}.",
    )


def _cure(design: Design, lamp: str, times: float) -> str:
    """More volts where the supply holds it back, more current where the LED bears it, longer flashes where a steady
    light would be enough; else another LED."""
    emitter = emitters_of(design)[lamp]
    longer = ", or make its flashes longer" if times * flash_share(design.lamp(lamp).rhythm) <= 1.0 else ""
    if emitter in starved(design):
        return f"More volts, not a held current: {volts_words(design, emitter)}."
    if emitter.kind in ("strip", "room"):
        return f"Give it {plain(times)} times the light{longer}."
    wanted_ma, led = 1000 * current_for_a(design, emitter, times), design.drawer.led(emitter.part_row)
    if wanted_ma <= led.max_ma * DERATE:
        return f"Give '{emitter.name}' {plain(wanted_ma)} mA, held (plan file: current_ma under pinned){longer}."
    if emitter.kind == "led":
        return f"{brighter_words(design, lamp, wanted_ma, times)}{longer}."
    return (f"The LED cannot bear {plain(wanted_ma)} mA. It needs {plain(times)} times the light: take a thicker fibre "
            f"or a brighter LED{longer}.")


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
