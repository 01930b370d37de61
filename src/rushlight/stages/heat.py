"""Heat: the closed model's inside temperature, the hottest junction, the wall under a strip."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange
from rushlight.model.design_light import Heat, HeatPoint, LedEvening, LedHeat, SpaceEvening, SpaceHeat
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent, StatePower
from rushlight.model.drawer import WallPart
from rushlight.model.plan import Plan, Space
from rushlight.stages.build import Build
from rushlight.stages.burnt import total
from rushlight.stages.evening import stages_of
from rushlight.stages.layouts import find_bay
from rushlight.stages.led_heat import CHIP_K_PER_W, MOUNT_SPREAD
from rushlight.stages.network import emitter_law
from rushlight.stages.spaces import MOST_W, TOO_HOT_C, rises_over_k, room_c, space_box
from rushlight.stages.supplies import FEED_POWER, in_cells
from rushlight.thermal.enclosure import Box
from rushlight.thermal.led_rise import junction_c, limit_of, strip_wall_rise_k
from rushlight.thermal.vents import vents_for_mm2
from rushlight.thermal.warming import SETTLED_H, box_laws, settling_h, stores_of, wall_j_per_k, warmed
from rushlight.units import Range

MOST_STRIP_W_PER_M, MOST_LED_W = 50.0, 20.0
"""Limits of the laws of a strip and of a junction: what passes them is far past any limit already."""

MOMENTS = 24
"""Moments of each stretch of the evening that are kept."""


def heat_of(build: Build) -> Heat:
    """Spaces and emitters, each in its hottest state.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    Returns
    -------
    Heat
        All electrical power is taken to end as heat inside. Typical: typical LEDs on the nominal supply; high end: a
        supply that stays fresh and the LEDs that then burn most; low end: a flat one and those that burn least.
    Source
    ------
    See `thermal.enclosure` and `thermal.led_rise`.
    """
    spaces = tuple(
        hottest for space in build.plan.spaces if (hottest := _space(build, space)) is not None
    )
    rise = {part: row.air_rise_k for row in spaces for part in _parts(build, row.space)}
    evening = _evening(build, spaces)
    return Heat(room_c=room_c(build.plan), spaces=spaces, leds=_leds(build, rise, evening), evening=evening)


def _parts(build: Build, space: str) -> tuple[str, ...]:
    return next(row.parts for row in build.plan.spaces if row.name == space)


def power_inside_w(build: Build, state: StatePower, parts: Collection[str]) -> Range:
    """Mean power on some parts: of all emitters there, and of what feeds them where the bay is among them.

    Parameters
    ----------
    build : Build
        Plan and loom.
    state : StatePower
        What is lit.
    parts : collection of str
        Names of parts.
    Returns
    -------
    Range
        Over ages of the supply and spread of LEDs [W].
    """
    lamps = [row.power_w for row in state.lit if build.loom.emitter(row.emitter).spot.part in parts]
    reckoned = total([*lamps, feed_inside_w(build.plan, state, parts)])
    read = build.drawer.measured(FEED_POWER, state.state)
    return reckoned if read is None else as_fed_w(build.plan, state, reckoned, read)


def as_fed_w(plan: Plan, state: StatePower, reckoned: Range, read: Range) -> Range:
    """Power of some parts in a state whose whole feed was read, in proportion to what is reckoned of all [W].

    An adapter's or a bank's reading holds for as long as it runs. Cells are read fresh: each end goes with what the
    reading is over that end of what the meter was reckoned to show, so that what LEDs differ by falls out of it.
    """
    whole, meter = feed_power_w(state), state.meter_w
    if not in_cells(plan):
        return read.times(reckoned.typical / whole.typical) if whole.typical > 0 else reckoned
    if meter.low <= 0:
        return reckoned
    low, typical, high = (one * of / at for one, of, at in zip(_ends(reckoned), _ends(read), _ends(meter), strict=True))
    return Range(min(low, typical), typical, max(typical, high))


def feed_power_w(state: StatePower) -> Range:
    """What all lamps of a state and what feeds them are reckoned to take [W]."""
    return total([*(row.power_w for row in state.lit), state.feed_w])


def shown_w(plan: Plan, state: StatePower) -> Range:
    """What a reading of a state's power is reckoned to come to [W]: of cells fresh, what they lose inside left out."""
    return state.meter_w if in_cells(plan) else feed_power_w(state)


def feed_inside_w(plan: Plan, state: StatePower, parts: Collection[str]) -> Range:
    """What feeds the lamps, where the bay that it sits in is on one of some parts; nothing else [W]."""
    bay = find_bay(plan)
    return state.feed_w if bay is not None and bay[0].name in parts else Range.exactly(0.0)


def _space(build: Build, space: Space) -> SpaceHeat | None:
    powers = [(power_inside_w(build, state, space.parts), state) for state in build.power.states]
    if not powers:
        return None
    watts, state = max(powers, key=lambda pair: pair[0].high)
    wall = build.drawer.wall(build.plan.part(space.parts[0]).wall)
    box, room = space_box(build.plan, space, build.drawer), room_c(build.plan)
    air, skin = rises_over_k(box, watts, room)
    return SpaceHeat(
        space=space.name, state=state.state, power_w=watts, feed_w=feed_inside_w(build.plan, state, space.parts),
        air_rise_k=air, wall_c=skin.plus(room), advise_c=wall.advise_c, stop_c=wall.stop_c,
        hold_h=_hold_h(box, watts.high, wall, room.high), vents_for_mm2=_vents(box, watts.high, wall, room.high),
    )


def _hold_h(box: Box, watts: float, wall: WallPart, at_c: float) -> float | None:
    """How long a power may stay on; None for ever, and where the box law ends."""
    if not 0 < watts <= MOST_W:
        return None
    try:
        _, high = box_laws(box, watts, room_c=at_c)
    except OutOfRange:
        return None
    if high.wall_k[-1] <= wall.advise_c - at_c:
        return None
    made = warmed(high, wall_j_per_k(box, stores_of(wall.name)), [(watts, SETTLED_H)])
    return _passes(made.hours, at_c + made.wall_k, wall.advise_c)


def _vents(box: Box, watts: float, wall: WallPart, at_c: float) -> float | None:
    if watts > MOST_W or at_c >= wall.advise_c:
        return None
    try:
        needed = vents_for_mm2(box, watts, wall.advise_c - at_c, room_c=at_c)
    except OutOfRange:
        return None
    return None if needed is None or needed <= box.vents_mm2 else needed


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
        most = max(each.high for each in watts)
        if 0 < row.power_w.high <= MOST_W and most > 0 and row.wall_c.high < TOO_HOT_C:
            found.append(_warming(build, row, [(w, hours) for w, (_, hours) in zip(watts, stages, strict=True)]))
    return tuple(found)


def _warming(build: Build, row: SpaceHeat, stretches: list[tuple[Range, float]]) -> SpaceEvening:
    """Typical power by the typical law; for the safe end a supply that stays fresh, by the law's safe end."""
    space = next(space for space in build.plan.spaces if space.name == row.space)
    box, room = space_box(build.plan, space, build.drawer), room_c(build.plan)
    typical, _ = box_laws(box, row.power_w.high, room_c=room.typical)
    _, high = box_laws(box, row.power_w.high, room_c=room.high)
    first = build.plan.part(_parts(build, row.space)[0])
    store = wall_j_per_k(box, stores_of(first.wall))
    mid = warmed(typical, store, [(watts.typical, hours) for watts, hours in stretches])
    top = warmed(high, store, [(watts.high, hours) for watts, hours in stretches])
    names = [name for name, _ in stages_of(build.plan)]
    points = tuple(
        HeatPoint(hour_h=float(mid.hours[k]), state=names[mid.stretch[k]], wall_c=room.typical + float(mid.wall_k[k]),
                  wall_high_c=room.high + float(top.wall_k[k]), air_c=room.typical + float(mid.air_k[k]),
                  air_high_c=room.high + float(top.air_k[k]))
        for k in _shown(mid.stretch)
    )
    walls = room.high + top.wall_k
    return SpaceEvening(
        space=row.space, points=points, settles_h=settling_h(typical, store, row.power_w.typical),
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


# --- emitters -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Rises:
    """How much warmer than the air round it an emitter gets: the wall under a strip, and the junction above that."""

    under_k: Range | None
    junction_k: Range

    def junction(self, air_c: Range) -> Range:
        return air_c.plus(self.junction_k) if self.under_k is None else air_c.plus(self.under_k).plus(self.junction_k)

    def wall(self, air_c: Range) -> Range | None:
        return None if self.under_k is None else air_c.plus(self.under_k)


def _leds(build: Build, rise: Mapping[str, Range], evening: tuple[SpaceEvening, ...]) -> tuple[LedHeat, ...]:
    lit: dict[str, dict[str, EmitterCurrent]] = {}
    for state in build.power.states:
        for current in state.lit:
            lit.setdefault(current.emitter, {})[state.state] = current
    air = {part: row.points for row in evening for part in _parts(build, row.space)}
    limit = limit_of("LED junction").stop_c
    found = []
    for name, states in lit.items():
        emitter = build.loom.emitter(name)
        hottest = max(states, key=lambda state: states[state].led_w.high)
        rises = {state: _rises(build, emitter, current) for state, current in states.items()}
        round_c = rise.get(emitter.spot.part, Range.exactly(0.0)).plus(room_c(build.plan))
        found.append(LedHeat(
            emitter=name, state=hottest, junction_limit_c=limit, junction_c=rises[hottest].junction(round_c),
            wall_under_c=rises[hottest].wall(round_c),
            evening=_hottest_moment(rises, air.get(emitter.spot.part) or _open_air(build)),
        ))
    return tuple(found)


def _open_air(build: Build) -> tuple[HeatPoint, ...]:
    """The evening of a part in no closed space: the room's air."""
    room = room_c(build.plan)
    hours = np.cumsum([0.0, *(hours for _, hours in stages_of(build.plan))])
    return tuple(
        HeatPoint(hour_h=float(hour), state=name, wall_c=room.typical, wall_high_c=room.high, air_c=room.typical,
                  air_high_c=room.high)
        for (name, _), hour in zip(stages_of(build.plan), hours, strict=False)
    )


def _hottest_moment(rises: Mapping[str, _Rises], air: tuple[HeatPoint, ...]) -> LedEvening | None:
    """The evening's hottest moment. A lamp and the wall under a strip follow the air within a minute or two
    (a millimetre of styrene between films of 16 W/m2 K in all: rho c t / h = 85 s), so they count as settled."""
    moments = [_moment(point, rises[point.state]) for point in air if point.state in rises]
    return max(moments, key=lambda moment: moment.junction_c, default=None)


def _moment(point: HeatPoint, rises: _Rises) -> LedEvening:
    air = Range.exactly(point.air_high_c)
    wall = rises.wall(air)
    return LedEvening(
        hour_h=point.hour_h, state=point.state, junction_c=rises.junction(air).high,
        wall_under_c=None if wall is None else wall.high,
    )


def _rises(build: Build, emitter: Emitter, current: EmitterCurrent) -> _Rises:
    if emitter.kind == "strip":
        leds = max(emitter.segments, 1) * build.drawer.strip(emitter.part_row).leds_per_segment
        return _Rises(_under_k(build, emitter, current), _junction_k(current.led_w.times(1.0 / leds), CHIP_K_PER_W))
    led = build.drawer.led(emitter.part_row)
    return _Rises(None, _junction_k(current.led_w, Range.spread(led.r_th_ja_k_per_w, *MOUNT_SPREAD)))


def _junction_k(watts: Range, k_per_w: Range) -> Range:
    """How much warmer than what it sits on a junction gets: both ends of the power at both ends of the mounting."""
    ends = [junction_c(Range.exactly(0.0), min(each, MOST_LED_W), resistance_k_per_w=k_per_w) for each in _ends(watts)]
    return Range(ends[0].low, ends[1].typical, ends[2].high)


def _under_k(build: Build, emitter: Emitter, current: EmitterCurrent) -> Range:
    """How much warmer than the air the wall under a strip gets: diodes and the resistors on it, not what dims it."""
    strip = build.drawer.strip(emitter.part_row)
    ohm, segments = emitter_law(build.drawer, emitter).built_in_ohm, max(emitter.segments, 1)
    amps = (current.flat_spread_a.low, current.current_a.typical, current.bench_a.high)
    watts = [led_w / segments + ohm * each**2 * current.on_share
             for led_w, each in zip(_ends(current.led_w), amps, strict=True)]
    wall_mm = build.plan.part(emitter.spot.part).wall_mm
    rises = [strip_wall_rise_k(min(each / (strip.segment_mm / 1000), MOST_STRIP_W_PER_M), width_mm=strip.width_mm,
                               wall_mm=wall_mm) for each in watts]
    return Range(rises[0].low, rises[1].typical, rises[2].high)


def _ends(value: Range) -> tuple[float, float, float]:
    return value.low, value.typical, value.high
