"""Heat: the closed model's inside temperature, the hottest junction, the wall under a strip."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange
from rushlight.model.design_light import Heat, HeatPoint, LedHeat, SpaceEvening, SpaceHeat
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent, StatePower
from rushlight.model.drawer import WallPart
from rushlight.model.plan import Space
from rushlight.model.plan_part import Part
from rushlight.stages.evening import stages_of
from rushlight.stages.network import emitter_law
from rushlight.stages.order import Build
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.thermal.led_rise import junction_c, limit_of, strip_wall_rise_k
from rushlight.thermal.vents import vents_for_mm2
from rushlight.thermal.warming import SETTLED_H, box_laws, settling_h, stores_of, wall_j_per_k, warmed
from rushlight.units import Range

ROOM_C = 22.0
"""A warm evening's room (common practice, no source)."""

MOUNT_SPREAD = (0.8, 1.3)
"""Spread of an LED's thermal resistance with the way it is mounted (from memory, typical)."""

MOST_W = 200.0
"""The box law is asked for no more; a plan that asks for more is told so by its supply."""


MOMENTS = 24
"""Moments of each stretch of the evening that are kept."""

MOST_SIZE_MM = 5000.0
TOO_HOT_C = 150.0
"""Limits of the box law."""


def heat_of(build: Build) -> Heat:
    """Spaces and emitters, each in its hottest state.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    Returns
    -------
    Heat
        All electrical power is taken to end as heat inside.
    Source
    ------
    See `thermal.enclosure` and `thermal.led_rise`.
    """
    spaces = tuple(
        hottest for space in build.plan.spaces if (hottest := _space(build, space)) is not None
    )
    rise = {part: row.air_rise_k for row in spaces for part in _parts(build, row.space)}
    return Heat(spaces=spaces, leds=_leds(build, rise), evening=_evening(build, spaces))


def _parts(build: Build, space: str) -> tuple[str, ...]:
    return next(row.parts for row in build.plan.spaces if row.name == space)


def emitter_w(emitter: Emitter, current: EmitterCurrent) -> float:
    """Mean electrical power of an emitter with its resistor, over its rhythm."""
    return current.terminal_v * current.current_a.typical * max(emitter.segments, 1) * current.on_share


def power_inside_w(build: Build, state: StatePower, parts: tuple[str, ...]) -> float:
    """Mean power of all emitters on some parts."""
    return sum(
        emitter_w(emitter, current)
        for current in state.lit
        if (emitter := build.loom.emitter(current.emitter)).spot.part in parts
    )


def _space(build: Build, space: Space) -> SpaceHeat | None:
    powers = [(power_inside_w(build, state, space.parts), state.state) for state in build.power.states]
    if not powers:
        return None
    watts, state = max(powers, key=lambda pair: pair[0])
    wall = build.drawer.wall(build.plan.part(space.parts[0]).wall)
    box = _box(build, space)
    try:
        heat = box_heat(box, min(watts, MOST_W), room_c=ROOM_C)
        air, skin = heat.inside_air_k, heat.wall_k
    except OutOfRange:  # the wall would pass 150 C: hotter than the law goes, and than any plastic
        air = skin = Range.exactly(TOO_HOT_C - ROOM_C)
    return SpaceHeat(
        space=space.name, state=state, power_w=watts, room_c=ROOM_C, air_rise_k=air,
        wall_c=skin.plus(ROOM_C), advise_c=wall.advise_c, stop_c=wall.stop_c,
        hold_h=_hold_h(box, watts, wall), vents_for_mm2=_vents(box, watts, wall),
    )


def _hold_h(box: Box, watts: float, wall: WallPart) -> float | None:
    """How long a power may stay on; None for ever, and where the box law ends."""
    if not 0 < watts <= MOST_W:
        return None
    try:
        _, high = box_laws(box, watts, room_c=ROOM_C)
    except OutOfRange:
        return None
    if high.wall_k[-1] <= wall.advise_c - ROOM_C:
        return None
    made = warmed(high, wall_j_per_k(box, stores_of(wall.name)), [(watts, SETTLED_H)])
    return _passes(made.hours, ROOM_C + made.wall_k, wall.advise_c)


def _vents(box: Box, watts: float, wall: WallPart) -> float | None:
    if watts > MOST_W:
        return None
    try:
        needed = vents_for_mm2(box, watts, wall.advise_c - ROOM_C, room_c=ROOM_C)
    except OutOfRange:
        return None
    return None if needed is None or needed <= box.vents_mm2 else needed


def _box(build: Build, space: Space) -> Box:
    length, width, height = space.size_mm
    first = build.plan.part(space.parts[0])
    return Box(_size(length, first), _size(width, first), _size(height, first), first.wall_mm,
               vents_mm2=space.vents_mm2)


# --- over the evening ---------------------------------------------------------------------------------------------


def _evening(build: Build, spaces: tuple[SpaceHeat, ...]) -> tuple[SpaceEvening, ...]:
    """Each space that is warmed over the described evening."""
    stages = stages_of(build.plan)
    known = {state.state: state for state in build.power.states}
    if not stages or any(name not in known for name, _ in stages):
        return ()
    found = []
    for row in spaces:
        parts = _parts(build, row.space)
        watts = [power_inside_w(build, known[name], parts) for name, _ in stages]
        if 0 < row.power_w <= MOST_W and max(watts) > 0 and row.wall_c.high < TOO_HOT_C:
            found.append(_warming(build, row, [(w, hours) for w, (_, hours) in zip(watts, stages, strict=True)]))
    return tuple(found)


def _warming(build: Build, row: SpaceHeat, stretches: list[tuple[float, float]]) -> SpaceEvening:
    box = _box(build, next(space for space in build.plan.spaces if space.name == row.space))
    typical, high = box_laws(box, row.power_w, room_c=row.room_c)
    first = build.plan.part(_parts(build, row.space)[0])
    store = wall_j_per_k(box, stores_of(first.wall))
    mid, top = warmed(typical, store, stretches), warmed(high, store, stretches)
    names = [name for name, _ in stages_of(build.plan)]
    points = tuple(
        HeatPoint(hour_h=float(mid.hours[k]), state=names[mid.stretch[k]], wall_c=row.room_c + float(mid.wall_k[k]),
                  wall_high_c=row.room_c + float(top.wall_k[k]), air_c=row.room_c + float(mid.air_k[k]),
                  air_high_c=row.room_c + float(top.air_k[k]))
        for k in _shown(mid.stretch)
    )
    walls = row.room_c + top.wall_k
    return SpaceEvening(
        space=row.space, points=points, settles_h=settling_h(typical, store, row.power_w),
        advise_h=_passes(top.hours, walls, row.advise_c), stop_h=_passes(top.hours, walls, row.stop_c),
    )


def _shown(stretch: NDArray[np.int64]) -> list[int]:
    """At most MOMENTS moments of each stretch, its ends among them."""
    kept: list[int] = []
    for number in np.unique(stretch):
        own = np.flatnonzero(stretch == number)
        places = (len(own) - 1) * np.linspace(0, 1, MOMENTS) ** 2  # close where it changes fast
        kept += own[np.unique(places.astype(int))].tolist()
    return kept


def _passes(hours: NDArray[np.float64], temps_c: NDArray[np.float64], limit_c: float) -> float | None:
    """When temperatures first pass a limit, straight between moments."""
    over = np.flatnonzero(temps_c > limit_c)
    if not len(over):
        return None
    n = int(over[0])
    return float(hours[0]) if n == 0 else float(np.interp(limit_c, temps_c[n - 1 : n + 1], hours[n - 1 : n + 1]))


def _size(size_mm: float, part: Part) -> float:
    """A size within the box law's limits."""
    return min(max(size_mm, 3 * part.wall_mm), MOST_SIZE_MM)


def _leds(build: Build, rise: Mapping[str, Range]) -> tuple[LedHeat, ...]:
    hottest: dict[str, tuple[float, str, EmitterCurrent]] = {}
    for state in build.power.states:
        for current in state.lit:
            load = current.current_a.typical * current.on_share
            if current.emitter not in hottest or load > hottest[current.emitter][0]:
                hottest[current.emitter] = (load, state.state, current)
    return tuple(
        _led(build, build.loom.emitter(name), state, current, rise=rise)
        for name, (_, state, current) in hottest.items()
    )


def _led(
    build: Build, emitter: Emitter, state: str, current: EmitterCurrent, *, rise: Mapping[str, Range]
) -> LedHeat:
    air = rise.get(emitter.spot.part, Range.exactly(0.0)).plus(ROOM_C)
    resistor = build.power.resistor(emitter.name)
    amps = current.current_a.typical * current.on_share
    own = emitter_law(build.drawer, emitter)
    fitted = resistor.value_ohm * own.branches if resistor else 0.0
    strip_v = max(current.terminal_v - fitted * current.current_a.typical, 0.0)
    watts = max(strip_v - own.built_in_ohm * current.current_a.typical, 0.0) * amps
    if emitter.kind == "strip":
        strip = build.drawer.strip(emitter.part_row)
        watts_per_m = strip_v * amps / (strip.segment_mm / 1000)
        part = build.plan.part(emitter.spot.part)
        under = strip_wall_rise_k(watts_per_m, width_mm=strip.width_mm, wall_mm=part.wall_mm)
        chip = Range(100.0, 200.0, 300.0)
        return LedHeat(
            emitter=emitter.name, state=state, junction_limit_c=limit_of("LED junction").stop_c,
            junction_c=junction_c(air.plus(under), watts / strip.leds_per_segment, resistance_k_per_w=chip),
            wall_under_c=air.plus(under),
        )
    led = build.drawer.led(emitter.part_row)
    resistance = Range.spread(led.r_th_ja_k_per_w, *MOUNT_SPREAD)
    return LedHeat(
        emitter=emitter.name, state=state, junction_limit_c=limit_of("LED junction").stop_c,
        junction_c=junction_c(air, watts, resistance_k_per_w=resistance), wall_under_c=None,
    )
