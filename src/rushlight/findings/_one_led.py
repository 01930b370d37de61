"""What findings on light share about an LED that feeds several lamps: whom a current would spoil, what else helps.

A held current moves all lamps of a bundle together. Where it would leave another one too dim or too bright, only an LED
of its own helps; where an LED cannot be run weaker, a thinner fibre or a sanded end does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.findings._lights import brightest, emitters_of
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.optics.fibre_loss import finish_db, scatters
from rushlight.stages.parts_law import most_apart

MOST_WIDER = 1.5
"""A lamp so much wider than what lights it looks like a spot (limit of light.lamp-wider-than-source)."""

SANDED = "sanded"

FEEDS_OTHERS = "Its LED feeds "
"""Begins the cure that wants an LED of its own."""


@dataclass(frozen=True, slots=True)
class Softer:
    """One way to make a tail dimmer that leaves its LED as it is: in words, and what it then gives over the wanted."""

    words: str
    left: float
    fibre_mm: float | None = None
    tip: str | None = None


def spoilt(design: Design, emitter: Emitter, group: str, times: float) -> tuple[str, ...]:
    """The other lamps and rows on an LED that so many times its light would leave too dim or too bright.

    Parameters
    ----------
    design : Design
        The whole design.
    emitter : Emitter
        The LED.
    group : str
        The lamp or row that the change is for.
    times : float
        How many times its light it would give [-].
    Returns
    -------
    tuple of str
        Names in the order of the plan; those that are as far off now, on the same side, are left out.
    Source
    ------
    Habit `equal`: so many times off what is wanted is let pass.
    """
    even, lights = most_apart(design.drawer) * (1 + 1e-9), brightest(design)
    others = [lamp for lamp in design.lamps if lamp.name in emitter.lamps and lamp.group != group]
    bad = [lamp.group for lamp in others
           if (light := lights.get(lamp.name)) and light.wanted_cd > 0 and _worse(_given(light), times, even)]
    return tuple(dict.fromkeys(bad))


def _given(light: LampLight) -> float:
    return light.intensity_cd.typical / light.wanted_cd


def _worse(given: float, times: float, even: float) -> bool:
    """Whether a lamp that gives so many times the wanted is put off by so many times the light."""
    after = given * times
    return after > max(even, given) if times > 1 else after < min(1 / even, given)


def spoilt_words(names: tuple[str, ...], wanted_ma: float, *, too: str) -> str:
    """Why a current is no cure, and what is."""
    others = listed([f"'{name}'" for name in names])
    return (f"{FEEDS_OTHERS}{others} too, which {plain(wanted_ma)} mA would make {too}: give it an LED of its own "
            "(plan file: bundle under pinned)")


def softer_tail(design: Design, light: LampLight) -> Softer | None:
    """What makes a tail dimmer without less current: a thinner fibre that still fits its lamp, or a sanded end.

    Parameters
    ----------
    design : Design
        The whole design.
    light : LampLight
        The brightest of the lamps that are too bright, at the end of a fibre.
    Returns
    -------
    Softer or None
        The least change that leaves it as wanted; where none does, the one that comes nearest from above; None where
        none makes it dimmer without making it too dim.
    Source
    ------
    At one luminance a tail's light goes with its core's area; a sanded end spreads it over the half space, Phi / pi.
    """
    even, given = most_apart(design.drawer), _given(light) if light.wanted_cd > 0 else 0.0
    ways = [*_thinner(design, light, given), *_sanded(design, light, given)]
    ways = [way for way in ways if 1 / even <= way.left < given]
    right = [way for way in ways if way.left <= even]
    if right:
        return max(right, key=lambda way: (way.tip is None, way.left))
    return min(ways, key=lambda way: way.left, default=None)


def _thinner(design: Design, light: LampLight, given: float) -> list[Softer]:
    source, lamp = design.source(light.lamp), design.lamp(light.lamp)
    if not source.fibre_mm:
        return []
    core_mm = design.drawer.fibre(source.fibre_mm).core_mm
    least_mm = (lamp.model_mm or 0.0) / MOST_WIDER
    fits = [row for row in design.drawer.fibres if least_mm - 1e-9 <= row.core_mm < core_mm]
    return [Softer(f"take fibre of {row.diameter_mm:g} mm", given * (row.core_mm / core_mm) ** 2,
                   fibre_mm=row.diameter_mm) for row in fits]


def _sanded(design: Design, light: LampLight, given: float) -> list[Softer]:
    """A polished end sends its cone; a sanded one as much to all sides before it."""
    tip = design.source(light.lamp).tip
    if scatters(tip):
        return []
    m, edge = light.beam_order, math.radians(light.beam_edge_deg)
    ahead = 2.0 * (1.0 - math.cos(edge) ** (m + 1.0)) / (m + 1.0)
    lost_db = finish_db(SANDED).typical - finish_db(tip).typical
    return [Softer("sand its end", given * ahead * 10 ** (-lost_db / 10), tip=SANDED)]


def softer_of(design: Design, group: str) -> Softer | None:
    """The same for a lamp or row by its name; None where no fibre makes it."""
    feeds = emitters_of(design)
    own = {lamp.name for lamp in design.lamps if lamp.group == group}
    lights = [light for name, light in brightest(design).items()
              if name in own and name in feeds and feeds[name].kind == "illuminator" and light.wanted_cd > 0]
    worst = max(lights, key=_given, default=None)
    return softer_tail(design, worst) if worst else None
