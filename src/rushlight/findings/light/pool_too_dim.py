"""A floodlight whose pool on the ground is lost in the light of the room."""

from __future__ import annotations

import math

from rushlight.findings._lights import current_a, emitters_of, times_current
from rushlight.findings._words import capital, likely_ends, plain
from rushlight.model.design import Design
from rushlight.model.design_light import Pool
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.leaks import room_here
from rushlight.stages.led_currents import DERATE
from rushlight.stages.wanted_look import TOO_DIM, over_words

PLAINLY = 5.0
"""Ordinary looking needs three to ten times the contrast that is just seen (physics of contrast, from memory)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    room = room_here(design.drawer, design.plan.subject.viewing_room)
    limit = PLAINLY * room.least_contrast * room.illuminance_lx
    dimmest: dict[str, Pool] = {}
    for pool in sorted(design.light.pools, key=lambda pool: pool.centre_lx.typical):
        if pool.centre_lx.typical < limit * (1 - 1e-9):
            dimmest.setdefault(design.lamp(pool.lamp).group, pool)
    return tuple(_trouble(design, pool, limit=limit, room_lx=room.illuminance_lx) for pool in dimmest.values())


def _trouble(design: Design, pool: Pool, *, limit: float, room_lx: float) -> Trouble:
    centre = pool.centre_lx.typical
    sure = over_words(pool.centre_lx, pool.likely_lx, limit, too=TOO_DIM)
    return Trouble(
        item=design.lamp(pool.lamp).group, spot=design.lamp(pool.lamp).spot, number=centre, limit=limit,
        says=f"'{pool.lamp}' throws about {plain(centre)} lx ({likely_ends(pool.likely_lx, pool.centre_lx, plain)}) on "
             f"what lies {plain(pool.height_mm)} mm below it; against the {plain(room_lx)} lx of the room "
             f"{plain(limit)} lx are plainly seen: {sure}.",
        cure=f"{', '.join(_ways(design, pool, limit))}, or show the model in a darker room.",
    )


def _ways(design: Design, pool: Pool, limit: float) -> list[str]:
    """More current where the LED bears it, a nearer aim or another height where that is enough; else a brighter LED."""
    if pool.centre_lx.typical <= 0:
        return ["Light it"]
    lacks = limit / pool.centre_lx.typical
    emitter = emitters_of(design).get(pool.lamp)
    times = times_current(design, pool.lamp, lacks)
    bears = emitter is not None and (1000 * times * current_a(design, emitter.name)
                                     <= design.drawer.led(emitter.part_row).max_ma * DERATE)
    ways = [f"give it {plain(times)} times the current"] if bears else []
    aim_mm, high_mm = _enough_aim_mm(pool, lacks), _enough_height_mm(pool, lacks)
    if aim_mm is not None:
        ways.append(f"aim it {plain(aim_mm)} mm from the point below it or nearer")
    if high_mm is not None:
        ways.append(f"hang it {plain(high_mm)} mm over what it lights")
    if not ways:
        ways = ["take a brighter LED: its own does not bear the current that this takes"]
    return [capital(ways[0]), *ways[1:]]


def _enough_aim_mm(pool: Pool, lacks: float) -> float | None:
    """How far from the point below it a floodlight may be aimed to give so many times the light there.

    At the tilt t the point that is aimed at gets I cos^3 t / h^2.
    """
    cosine = math.cos(math.radians(pool.tilt_deg)) * math.cbrt(lacks)
    return pool.height_mm * math.tan(math.acos(cosine)) if cosine < 1.0 else None


def _enough_height_mm(pool: Pool, lacks: float) -> float | None:
    """The nearest height that gives so many times the light at the same aim, None where none does.

    I h / (h^2 + a^2)^1.5 is greatest at h = a / sqrt(2): from steeper than that a lamp is hung lower, else higher.
    """
    now_mm, away_mm = pool.height_mm, pool.height_mm * math.tan(math.radians(pool.tilt_deg))

    def over(high_mm: float) -> float:
        return high_mm / now_mm * (math.hypot(now_mm, away_mm) / math.hypot(high_mm, away_mm)) ** 3 - lacks

    best_mm = max(away_mm / math.sqrt(2.0), 1e-3 * now_mm)
    if over(best_mm) < 0.0:
        return None
    from scipy.optimize import brentq

    low_mm, high_mm = sorted((now_mm, best_mm))
    return float(brentq(over, low_mm, high_mm))


RULE = Rule(
    key="light.pool-too-dim",
    grade=Grade.COULD_BE_BETTER,
    title="Floodlight lost in the room's light",
    unit="lx",
    why="A floodlight is known by the pool that it throws; without it there is only a bright dot.",
    cure="More light, or less of the room's.",
    source="distance law; five times the least contrast that the viewing room lets one see (project proposal)",
    look=_look,
)
