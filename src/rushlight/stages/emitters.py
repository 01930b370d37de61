"""Emitters that need no fibre: an LED at a lamp, an LED in a room, a run of strip."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from rushlight.geometry.layout import RouteMap
from rushlight.model.design import Aim, PlacedLamp, Source
from rushlight.model.design_loom import Circuit, Emitter, Unrouted
from rushlight.model.drawer import Drawer
from rushlight.model.place import Spot
from rushlight.model.plan import Plan, Strip
from rushlight.stages.layouts import settled
from rushlight.stages.parts_law import strip_current_a
from rushlight.stages.pins import held_number
from rushlight.stages.rooms import opening_mm2
from rushlight.stages.strip_choice import run_emitter, taken_runs
from rushlight.stages.strips import find_opening, opening_luminance


def led_emitters(
    lamps: tuple[PlacedLamp, ...], sources: tuple[Source, ...], *, aims: tuple[Aim, ...],
    circuits: tuple[Circuit, ...], route_map: RouteMap,
) -> tuple[tuple[Emitter, ...], tuple[Unrouted, ...]]:
    """One emitter for each lit lamp that is an LED in a hole or in a room; those that have no place are told.

    Lamps of one room share its LED, as far as they are switched together and take the same LED: it lies at the first,
    bears its name, and has the current that suits them all, on the mean of their logarithms.
    """
    source_of = {source.lamp: source for source in sources}
    aim_of = {aim.lamp: aim for aim in aims}
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    made, lost = [], []
    for together in _sharing(lamps, source_of, circuit_of):
        lamp, source = together[0], source_of[together[0].name]
        assert lamp.spot is not None
        fit = settled(route_map, lamp.spot)
        if fit is None:
            lost.append(Unrouted(item=lamp.name, part=lamp.spot.part, why="no free space is left on the part"))
            continue
        made.append(
            Emitter(
                name=lamp.name, kind=source.kind, part_row=source.led, spot=fit.spot,
                circuit=circuit_of[lamp.name], lamps=tuple(one.name for one in together),
                aim_current_a=_middle([aim_of[one.name].current_a for one in together]),
            )
        )
    return tuple(made), tuple(lost)


def _sharing(
    lamps: tuple[PlacedLamp, ...], source_of: Mapping[str, Source], circuit_of: Mapping[str, str]
) -> list[list[PlacedLamp]]:
    """Lit lamps with an LED of their own or of their room, those of one LED together."""
    groups: dict[tuple[str, ...], list[PlacedLamp]] = {}
    for lamp in lamps:
        source = source_of[lamp.name]
        if source.kind in ("led", "room") and lamp.states and lamp.spot is not None:
            key = ("room", source.room, circuit_of[lamp.name], source.led) if source.room else ("lamp", lamp.name)
            groups.setdefault(key, []).append(lamp)
    return list(groups.values())


def _middle(currents_a: list[float]) -> float:
    if len(currents_a) == 1 or min(currents_a) <= 0:
        return currents_a[0]
    return math.exp(sum(math.log(one) for one in currents_a) / len(currents_a))


def strip_emitters(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    aims: tuple[Aim, ...], circuits: tuple[Circuit, ...], route_map: RouteMap,
) -> tuple[tuple[Emitter, ...], tuple[Unrouted, ...]]:
    """One emitter for each run of strip that lights at least one lamp of this version, dimmed to what is wanted."""
    source_of = {source.lamp: source for source in sources}
    wanted = {aim.lamp: aim.wanted_cd for aim in aims}
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    made, lost = [], []
    written = [(strip, tuple(lamp for lamp in lamps if lamp.group == strip.name and lamp.states))
               for strip in plan.strips]
    taken = [(row.run, row.lamps) for row in taken_runs(plan, drawer.strips, lamps, source_of)]
    for strip, own in (*written, *taken):
        if not own:
            continue
        fit = settled(route_map, Spot(strip.part, *strip.along_mm[0]))
        if fit is None:
            lost.append(Unrouted(item=strip.name, part=strip.part, why="no free space is left on the part"))
            continue
        row = source_of[own[0].name].led
        bare = _strip_emitter(drawer, strip, row=row, spot=fit.spot, circuit=circuit_of[own[0].name], lamps=own)
        made.append(_dimmed(plan, drawer, bare, wanted))
    return tuple(made), tuple(lost)


def _dimmed(plan: Plan, drawer: Drawer, emitter: Emitter, wanted: Mapping[str, float]) -> Emitter:
    """The strip at the current that makes its openings as bright as wanted, on the mean of their logarithms.

    Never under the least current at which LEDs still look alike (habit `dim`), never over its rating.
    """
    part = drawer.strip(emitter.part_row)
    rated_a = part.segment_ma / 1000
    shares = []
    for lamp in emitter.lamps:
        gives = opening_luminance(plan, drawer, emitter, lamp, rated_a).typical
        area_m2 = opening_mm2(find_opening(plan, emitter, lamp)) * 1e-6
        if gives > 0 and wanted[lamp] > 0:
            shares.append(math.log(wanted[lamp] / area_m2 / gives))
    least = min((drawer.habit("dim").low or 1.0) / 1000, rated_a)
    share = math.exp(sum(shares) / len(shares)) if shares else 1.0
    segment_a = min(max(strip_current_a(part, rated_a * share), least), rated_a)
    held_ma = held_number(plan, "current_ma", emitter.circuit, emitter.name)
    return replace(emitter, aim_current_a=held_ma / 1000 if held_ma else emitter.segments * segment_a)


def _strip_emitter(
    drawer: Drawer, strip: Strip, *, row: str, spot: Spot, circuit: str, lamps: tuple[PlacedLamp, ...]
) -> Emitter:
    part = drawer.strip(row)
    bare = run_emitter(part, strip)
    return replace(
        bare, spot=spot, circuit=circuit, lamps=tuple(lamp.name for lamp in lamps),
        aim_current_a=bare.segments * part.segment_ma / 1000,
        windows=tuple((lamp.name, lamp.opening or "") for lamp in lamps),
    )
