"""A lamp that gives less than was wanted of it."""

from __future__ import annotations

from rushlight.findings._lights import current_a, dimmest_of_groups, emitters_of, mcd
from rushlight.findings._words import plain
from rushlight.model.design import Design, Emitter, LampLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.aim import DERATE

HARDLY_SEEN = 0.1


def _look(design: Design) -> tuple[Trouble, ...]:
    even = design.drawer.habit("equal").high or 1.5
    feeds = emitters_of(design)
    return tuple(
        _trouble(design, group, light, emitter=feeds[light.lamp], even=even)
        for group, light in dimmest_of_groups(design).items()
        if light.intensity_cd.typical < light.wanted_cd / even * (1 - 1e-9)
    )


def _trouble(design: Design, group: str, light: LampLight, *, emitter: Emitter, even: float) -> Trouble:
    gives, wanted = light.intensity_cd.typical, light.wanted_cd
    hidden = gives < wanted * HARDLY_SEEN
    return Trouble(
        item=group, spot=design.lamp(light.lamp).spot, number=1000 * gives, limit=1000 * wanted / even,
        grade=Grade.WILL_FAIL if hidden else None,
        says=f"'{light.lamp}' will give {mcd(gives)}; {mcd(wanted)} are wanted, {mcd(wanted / even)} at least.",
        cure=_cure(design, emitter, times=wanted / gives if gives > 0 else 0.0),
    )


def _cure(design: Design, emitter: Emitter, *, times: float) -> str:
    """More current where the LED bears it; else what else helps."""
    if times <= 0:
        return "No light reaches it: give its fibre a place nearer to the middle of its bundle."
    if emitter.kind in ("strip", "room"):
        return f"It needs {plain(times)} times the light: a clearer sheet, or more LEDs behind it."
    led = design.drawer.led(emitter.part_row)
    wanted_ma = 1000 * current_a(design, emitter.name) * times
    if wanted_ma <= led.max_ma * DERATE:
        return f"Give '{emitter.name}' {plain(wanted_ma)} mA (current_ma under pinned)."
    instead = "thicker fibre, fewer fibres on the LED" if emitter.kind == "illuminator" else "a clear lens"
    return (f"The LED cannot bear {plain(wanted_ma)} mA. It needs {plain(times)} times the light: {instead}, or a "
            "brighter LED.")


RULE = Rule(
    key="light.too-dim",
    grade=Grade.DOUBTFUL,
    title="Lamp too dim",
    unit="mcd",
    why="It will look weak beside the others, or not be seen in the room that the plan names.",
    cure="Give it more current or a brighter LED.",
    source="wanted intensity of the plan or its viewing room (seen_levels.csv); habit equal",
    look=_look,
)
