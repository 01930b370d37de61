"""A lamp that gives less than was wanted of it."""

from __future__ import annotations

import math
from collections.abc import Mapping

from rushlight.findings._brighter import brighter_words
from rushlight.findings._lights import (
    current_a,
    current_for_a,
    dimmest_of_groups,
    emitters_of,
    from_where,
    heaps,
    mcd,
    mcd_ends,
)
from rushlight.findings._one_led import spoilt, spoilt_words
from rushlight.findings._words import VAGUE, listed, plain, times_words
from rushlight.findings.electric.supply_low import starved, volts_words
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.aim import flash_share
from rushlight.stages.coats import WHITE
from rushlight.stages.led_currents import DERATE
from rushlight.stages.parts_law import most_apart
from rushlight.stages.room_ways import RoomWay, clearer_sheet, more_white
from rushlight.stages.wanted_look import TOO_BRIGHT, TOO_DIM, over_words

HARDLY_SEEN = 0.1


def _look(design: Design) -> tuple[Trouble, ...]:
    even = most_apart(design.drawer)
    feeds = emitters_of(design)
    dim = [
        light for light in dimmest_of_groups(design).values()
        if not behind_door(light, feeds) and flash_share(design.lamp(light.lamp).rhythm) >= 1.0
        and light.intensity_cd.typical < light.wanted_cd / even * (1 - 1e-9)
    ]
    alike = heaps(dim, lambda light: (feeds[light.lamp].part_row, feeds[light.lamp].kind, light.wanted_cd))
    return tuple(_trouble(design, lights, feeds, even) for lights in alike)


def behind_door(light: LampLight, feeds: Mapping[str, Emitter]) -> bool:
    """Whether nothing is seen of it because its door is shut in every state: a finding of its own."""
    return light.intensity_cd.typical <= 0.0 and feeds[light.lamp].kind in ("strip", "room")


def _trouble(design: Design, lights: list[LampLight], feeds: Mapping[str, Emitter], even: float) -> Trouble:
    light = min(lights, key=lambda light: light.intensity_cd.typical)
    lamp, emitter = design.lamp(light.lamp), feeds[light.lamp]
    seen = light.looked_at
    gives, wanted = seen.intensity_cd.typical, seen.wanted_cd
    names = listed([f"'{light.lamp}'" for light in lights])
    worst = "" if len(lights) == 1 else " at worst"
    sure = over_words(seen.intensity_cd, seen.likely_cd, wanted / even, too=TOO_DIM)
    hidden = gives < wanted * HARDLY_SEEN and not sure.startswith("perhaps")
    return Trouble(
        item=lamp.group, spot=lamp.spot, number=1000 * gives, limit=1000 * wanted / even,
        grade=Grade.WILL_FAIL if hidden else None,
        says=f"{names} will give about {mcd(gives)}{worst} ({mcd_ends(seen.likely_cd, seen.intensity_cd)})"
             f"{from_where(light)}; {mcd(wanted)} are wanted, {mcd(wanted / even)} at least: {sure}.",
        cure=_cure(design, light, emitter),
    )


def _cure(design: Design, light: LampLight, emitter: Emitter) -> str:
    """More volts where its supply is what keeps it dark, more current where the LED bears it; else what else helps."""
    if emitter in starved(design):
        return (f"More volts, not a held current: {volts_words(design, emitter)}. Of the "
                f"{plain(1000 * emitter.aim_current_a)} mA that its LED is to have it gets "
                f"{plain(1000 * current_a(design, emitter.name))} mA.")
    gives = light.intensity_cd.typical
    if gives <= 0:
        return "No light reaches it: give its fibre a place nearer to the middle of its bundle."
    times = light.wanted_cd / gives
    if emitter.kind == "illuminator" and times > VAGUE:
        return (f"Next to no light reaches it, over {plain(VAGUE)} times too little, and no current makes that up: "
                "give its fibre a place nearer to the middle of its bundle, or an LED of its own (plan file: bundle "
                "under pinned).")
    if emitter.kind in ("strip", "room"):
        return f"It needs {times_words(times)} times the light: {_behind_window(design, light, emitter, times)}."
    led = design.drawer.led(emitter.part_row)
    wanted_ma = 1000 * current_for_a(design, emitter, times)
    if wanted_ma <= led.max_ma * DERATE:
        others = spoilt(design, emitter, design.lamp(light.lamp).group, times)
        if others:
            return f"{spoilt_words(others, wanted_ma, too=TOO_BRIGHT)}."
        return f"Give '{emitter.name}' {plain(wanted_ma)} mA, held (plan file: current_ma under pinned)."
    if emitter.kind == "led":
        return f"{brighter_words(design, light.lamp, wanted_ma, times)}."
    return (f"The LED cannot bear {plain(wanted_ma)} mA. It needs {times_words(times)} times the light: thicker fibre, "
            "fewer fibres on the LED, or a brighter LED.")


def _behind_window(design: Design, light: LampLight, emitter: Emitter, times: float) -> str:
    """What gives a window so many times the light: white inside, a clearer sheet, more LEDs, or a stronger strip."""
    if emitter.kind == "strip":
        return _stronger_strip(design, emitter, times)
    white, ways, least = white_way(design, light, emitter), [], times / most_apart(design.drawer)
    if white:
        coats = f"{white.count} more coat{'s' if white.count > 1 else ''} of {WHITE} in the room"
        ways.append(f"{coats} (tried: {'' if white.times >= least else 'only '}{plain(white.times)} times)")
    sheet = clearer_sheet(design, light, emitter, times) or clearer_sheet(design, light, emitter, least)
    if sheet:
        ways.append(f"{sheet.sheet} for its sheet (tried: {plain(sheet.times)} times)")
    ways.append(f"{math.ceil(times)} LEDs in the room" + (", or a room and an LED of its own" if len(emitter.lamps) > 1
                                                           else ""))
    return ", or ".join(ways)


def white_way(design: Design, light: LampLight, emitter: Emitter) -> RoomWay | None:
    """White coats in a dim window's room: as many as bring the least that is wanted, else the most that they do."""
    least = light.wanted_cd / most_apart(design.drawer) / light.intensity_cd.typical
    return more_white(design, light, emitter, least)


def _stronger_strip(design: Design, emitter: Emitter, times: float) -> str:
    now = design.drawer.strip(emitter.part_row)
    more = [row for row in design.drawer.strips if (row.colour, row.supply_v) == (now.colour, now.supply_v)
            and row.flux_lm_per_m.typical >= times * now.flux_lm_per_m.typical]
    best = min(more, key=lambda row: row.flux_lm_per_m.typical, default=None)
    return f"the strip {best.name}, or a clearer sheet" if best else \
        f"{math.ceil(times)} strips side by side, or a clearer sheet"


RULE = Rule(
    key="light.too-dim",
    grade=Grade.DOUBTFUL,
    title="Lamp too dim",
    unit="mcd",
    why="It will look weak beside the others, or not be seen in the room that the plan names.",
    cure="Give it more current or a brighter LED.",
    source="wanted intensity of the plan or usual brightness of things in its viewing room; habit equal",
    look=_look,
)
