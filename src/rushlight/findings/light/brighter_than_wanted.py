"""A lamp that gives more than was wanted, even at the least current."""

from __future__ import annotations

import math
from collections.abc import Mapping

from rushlight.findings._lights import (
    brightest_of_groups,
    current_a,
    current_for_a,
    emitters_of,
    from_where,
    heaps,
    mcd,
    mcd_ends,
)
from rushlight.findings._one_led import softer_tail, spoilt, spoilt_words
from rushlight.findings._words import LEAST_SHEET_PERCENT, capital, listed, percent_words, plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import most_apart
from rushlight.stages.wanted_look import TOO_BRIGHT, TOO_DIM, over_words

WHITE, MOST_COATS = "white paint", 4
"""The drawer's coat that goes over an LED, and from how many on it is no thin coat any more (project rule)."""

WINDOWS = ("strip", "room")
"""Sources seen through openings: of those with no brightness of their own light.window-too-bright speaks."""


def _look(design: Design) -> tuple[Trouble, ...]:
    feeds, even = emitters_of(design), most_apart(design.drawer)
    return tuple(_trouble(design, lights, feeds, even) for lights in too_bright(design))


def too_bright(design: Design) -> tuple[list[LampLight], ...]:
    """Lamps, rows and strips that give more than is wanted, each by its brightest lamp; alike ones together."""
    even = most_apart(design.drawer)
    feeds = emitters_of(design)
    by_room = {
        aim.lamp for aim in design.aims
        if aim.wanted_why.startswith("to be seen") and aim.lamp in feeds and feeds[aim.lamp].kind in WINDOWS
    }
    bright = [
        light for light in brightest_of_groups(design).values()
        if light.lamp not in by_room and light.intensity_cd.typical > light.wanted_cd * even * (1 + 1e-9)
    ]
    return heaps(bright, lambda light: (feeds[light.lamp].part_row, feeds[light.lamp].kind, light.wanted_cd))


def _trouble(design: Design, lights: list[LampLight], feeds: Mapping[str, Emitter], even: float) -> Trouble:
    light = max(lights, key=lambda light: light.intensity_cd.typical)
    lamp, emitter = design.lamp(light.lamp), feeds[light.lamp]
    seen = light.looked_at
    gives, wanted = seen.intensity_cd.typical, seen.wanted_cd
    names = listed([f"'{light.lamp}'" for light in lights])
    most = "about " if len(lights) == 1 else "up to about "
    sure = over_words(seen.intensity_cd, seen.likely_cd, wanted * even, too=TOO_BRIGHT)
    return Trouble(
        item=lamp.group, spot=lamp.spot, number=1000 * gives, limit=1000 * wanted * even,
        says=f"{names} will give {most}{mcd(gives)} at {plain(1000 * current_a(design, emitter.name))} mA "
             f"({mcd_ends(seen.likely_cd, seen.intensity_cd)}){from_where(light)}; {mcd(wanted)} are wanted: {sure}.",
        cure=_cure(design, light, emitter, times=gives / wanted if wanted > 0 else 0.0),
    )


def _cure(design: Design, light: LampLight, emitter: Emitter, *, times: float) -> str:
    least_ma = design.drawer.habit("dim").low or 1.0
    wanted_ma = 1000 * current_for_a(design, emitter, 1.0 / times) if times > 0 else 0.0
    if wanted_ma >= least_ma:
        others = spoilt(design, emitter, design.lamp(light.lamp).group, 1.0 / times)
        if others and emitter.kind == "illuminator":
            return f"{spoilt_words(others, wanted_ma, too=TOO_DIM)}."
        if others:
            return f"{capital(_softer(design, light, emitter, times))}."
        return f"Give '{emitter.name}' {plain(wanted_ma)} mA, held (plan file: current_ma under pinned)."
    return (f"{plain(wanted_ma)} mA would be under the {plain(least_ma)} mA at which LEDs still look alike: "
            f"{_softer(design, light, emitter, times)}.")


def _softer(design: Design, light: LampLight, emitter: Emitter, times: float) -> str:
    """What takes so many times of its light away without less current."""
    if emitter.kind == "illuminator":
        way = softer_tail(design, light)
        return "no thinner fibre that fits it makes it right, so accept it" if way is None else \
            f"{way.words} ({plain(way.left)} times what is wanted then), or accept it"
    if emitter.kind in WINDOWS:
        if 100 / times < LEAST_SHEET_PERCENT:
            return (f"no sheet takes so much away ({percent_words(100 / times)} is to come through): light it with a "
                    "fibre's end or the smallest chip at its least current")
        return f"hang a sheet behind the window that lets {plain(100 / times)} % of it through, or accept it"
    ways = ["take a diffused LED"] if design.drawer.led(emitter.part_row).lens == "clear" else []
    coats = max(round(math.log10(times) / design.drawer.coat(WHITE).density.typical), 1)
    if coats <= MOST_COATS:
        ways.append(f"put {coats} thin coat{'s' if coats > 1 else ''} of {WHITE} over it ({plain(100 / times)} % is to "
                    "come through)")
    return ", or ".join([*ways, "hold less where no lamp like it stands beside it", "accept it"])


RULE = Rule(
    key="light.brighter-than-wanted",
    grade=Grade.COULD_BE_BETTER,
    title="Lamp brighter than wanted",
    unit="mcd",
    why="Lamps of a model usually look too bright, and one that outshines the rest looks like a toy's.",
    cure="Lower its current.",
    source="wanted intensity of the plan or usual brightness of things in its viewing room; habits equal and dim",
    look=_look,
)
