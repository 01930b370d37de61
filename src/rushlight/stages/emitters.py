"""Emitters that need no fibre: an LED at a lamp, an LED in a room, a run of strip."""

from __future__ import annotations

import math

from rushlight.geometry.layout import RouteMap
from rushlight.model.design import Aim, Circuit, Emitter, PlacedLamp, Source, Unrouted
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Plan, Strip
from rushlight.stages.lamps import points_along
from rushlight.stages.layouts import settled


def led_emitters(
    lamps: tuple[PlacedLamp, ...], sources: tuple[Source, ...], *, aims: tuple[Aim, ...],
    circuits: tuple[Circuit, ...], route_map: RouteMap,
) -> tuple[tuple[Emitter, ...], tuple[Unrouted, ...]]:
    """One emitter for each lit lamp that is an LED in a hole or in a room; those that have no place are told."""
    source_of = {source.lamp: source for source in sources}
    aim_of = {aim.lamp: aim for aim in aims}
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    made, lost = [], []
    for lamp in lamps:
        source = source_of[lamp.name]
        if source.kind not in ("led", "room") or not lamp.states or lamp.spot is None:
            continue
        fit = settled(route_map, lamp.spot)
        if fit is None:
            lost.append(Unrouted(item=lamp.name, part=lamp.spot.part, why="no free space is left on the part"))
            continue
        made.append(
            Emitter(
                name=lamp.name, kind=source.kind, part_row=source.led, spot=fit.spot,
                circuit=circuit_of[lamp.name], lamps=(lamp.name,), aim_current_a=aim_of[lamp.name].current_a,
            )
        )
    return tuple(made), tuple(lost)


def strip_emitters(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    circuits: tuple[Circuit, ...], route_map: RouteMap,
) -> tuple[tuple[Emitter, ...], tuple[Unrouted, ...]]:
    """One emitter for each run of strip that lights at least one lamp of this version."""
    source_of = {source.lamp: source for source in sources}
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    made, lost = [], []
    for strip in plan.strips:
        own = tuple(lamp for lamp in lamps if lamp.group == strip.name and lamp.states)
        if not own:
            continue
        fit = settled(route_map, Spot(strip.part, *strip.along_mm[0]))
        if fit is None:
            lost.append(Unrouted(item=strip.name, part=strip.part, why="no free space is left on the part"))
            continue
        row = source_of[own[0].name].led
        made.append(_strip_emitter(drawer, strip, row=row, spot=fit.spot, circuit=circuit_of[own[0].name], lamps=own))
    return tuple(made), tuple(lost)


def _strip_emitter(
    drawer: Drawer, strip: Strip, *, row: str, spot: Spot, circuit: str, lamps: tuple[PlacedLamp, ...]
) -> Emitter:
    part = drawer.strip(row)
    length = sum(math.dist(a, b) for a, b in zip(strip.along_mm, strip.along_mm[1:], strict=False))
    segments = max(1, round(length / part.segment_mm))
    return Emitter(
        name=strip.name, kind="strip", part_row=row, spot=spot, circuit=circuit,
        lamps=tuple(lamp.name for lamp in lamps), aim_current_a=segments * part.segment_ma / 1000,
        segments=segments, strip_points_mm=strip_points(strip, segments * part.leds_per_segment, part.pitch_mm),
    )


def strip_points(strip: Strip, count: int, pitch_mm: float) -> tuple[Point, ...]:
    """Where a strip's LEDs lie: the first half a pitch in, the others a pitch apart, past the end straight on."""
    return points_along(strip.along_mm, [pitch_mm * (number + 0.5) for number in range(count)])
