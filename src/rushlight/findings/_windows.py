"""Windows that a strip lights: how bright each strip's windows are, and how bright windows should be."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.findings._words import likely_ends, plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.stages.wanted_look import over_words
from rushlight.tables import row_by

SPREAD = 3.0
"""Wanted levels are good within a factor of three (seen_levels.csv)."""


@dataclass(frozen=True, slots=True)
class StripWindow:
    """The brightest or dimmest window of a strip, its luminance and the luminance that is wanted [cd/m2]."""

    strip: str
    light: LampLight
    is_cd_m2: float
    wanted_cd_m2: float
    room: str

    def told(self, limit_cd_m2: float, too: str) -> tuple[str, str]:
        """Its luminance with its ranges, and how sure it is that it lies beyond a limit."""
        likely, outer = self.light.likely_cd_m2, self.light.luminance_cd_m2
        return (f"about {plain(self.is_cd_m2)} cd/m2 ({likely_ends(likely, outer, plain)})",
                over_words(outer, likely, limit_cd_m2, too=too))


def strip_windows(design: Design, *, brightest: bool) -> tuple[StripWindow, ...]:
    """One window for each strip whose brightness the plan leaves to the viewing room."""
    rooms = {
        strip.name: strip.brightness.seen_in or design.plan.subject.viewing_room
        for strip in design.plan.strips
        if strip.brightness.like is None and strip.brightness.intensity_mcd is None
        and strip.brightness.subject_intensity_cd is None
    }
    group_of = {lamp.name: lamp.group for lamp in design.lamps if lamp.made_of == "strips"}
    chosen: dict[str, LampLight] = {}
    for light in design.light.lamps:
        strip = group_of.get(light.lamp)
        if strip not in rooms or light.intensity_cd.typical <= 0.0:
            continue
        if strip not in chosen or _before(light, chosen[strip], brightest):
            chosen[strip] = light
    return tuple(
        StripWindow(strip, light, light.luminance_cd_m2.typical, _wanted(rooms[strip]), rooms[strip])
        for strip, light in chosen.items()
    )


def _before(light: LampLight, other: LampLight, brightest: bool) -> bool:
    more = light.luminance_cd_m2.typical > other.luminance_cd_m2.typical
    return more if brightest else light.luminance_cd_m2.typical < other.luminance_cd_m2.typical


def _wanted(room: str) -> float:
    return float(row_by("seen_levels", "room", room)["window_cd_m2"])
