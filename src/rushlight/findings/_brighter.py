"""The LED of the drawer that gives a lamp the light that its own cannot, for the findings on what is too dim."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.findings._words import plain, times_words
from rushlight.model.design import Design
from rushlight.model.plan import MadeBy
from rushlight.stages.aim import weighing_of
from rushlight.stages.source_choice import EVEN, times
from rushlight.stages.sources import led
from rushlight.stages.sources.common import matching_leds


@dataclass(frozen=True, slots=True)
class Brighter:
    """An LED by its name; what it gives at most over the wanted light, and its width over the lamp's (0: not known)."""

    led: str
    enough: float
    wide: float

    @property
    def words(self) -> str:
        """What it gives, in words."""
        wide = f", {plain(self.wide)} times as wide as at scale" if self.wide > 1.05 else ""
        return f"take the {self.led} LED instead (up to {times(self.enough)} times the wanted light{wide})"


def brighter_led(design: Design, name: str) -> Brighter | None:
    """The LED of a lamp's colour that gives what is wanted without being far too wide.

    Parameters
    ----------
    design : Design
        The whole design.
    name : str
        A lamp that is an LED in its hole.
    Returns
    -------
    Brighter or None
        The narrowest that does, of those the one with the broadest beam; None where none in the drawer does.
    Source
    ------
    The LEDs' data, weighed as the design weighs them; width by the habit `oversize`.
    """
    sources = {row.lamp: row for row in design.sources}
    weighing = weighing_of(design.plan, design.drawer, design.lamps, sources)
    lamp, own = design.lamp(name), sources[name].led
    found = []
    for part in matching_leds(design.drawer, lamp.colour):
        made = led.choose(design.plan, design.drawer, lamp, MadeBy(kind="led", led=part.name))
        way = weighing.by_led((lamp,), made)
        if part.name != own and way.enough * EVEN >= 1 and way.oversize <= weighing.most_oversize:
            found.append((part.face_mm, -part.half_angle_deg, Brighter(part.name, way.enough, way.oversize)))
    return min(found, key=lambda row: row[:2])[2] if found else None


def brighter_words(design: Design, name: str, wanted_ma: float, lacks: float) -> str:
    """That an LED cannot bear the current, and which one of the drawer would do."""
    best = brighter_led(design, name)
    bears = f"The LED cannot bear {plain(wanted_ma)} mA. It needs {times_words(lacks)} times the light"
    if best:
        return f"{bears}: {best.words}"
    return f"{bears}, and no LED of its colour and size in the drawer gives that: find a brighter one, or ask for less"
