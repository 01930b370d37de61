"""Aim: how bright each lamp should be, and the LED current meant to make it so, before the loom is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from rushlight.model.design import Aim, Circuit, FibreClass, PlacedLamp, Source
from rushlight.model.drawer import Drawer, LedPart
from rushlight.model.plan import Brightness, Lamp, Plan, Row, Strip
from rushlight.stages.bundle_choice import feed_for, insisted_led, tail_cd_per_a
from rushlight.stages.parts_law import disc_mm2, led_peak_cd
from rushlight.stages.rooms import opening_named, room_light
from rushlight.tables import row_by
from rushlight.units import Range

EVEN_CLASS = 1.5
"""Lamps whose wanted intensities differ by no more than this may share one LED (habit `equal`)."""

MOST_A = 0.02
"""Rated current of the usual small LED (data sheets); dearer ones bear more, which their own row then allows."""

DERATE = 0.75
"""Share of an LED's rated current that is used at most (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Aims:
    """Result of this stage."""

    aims: tuple[Aim, ...]
    classes: tuple[FibreClass, ...]
    sources: tuple[Source, ...]
    """The sources with the LED of each fibre settled by its class."""


@dataclass(frozen=True, slots=True)
class _Wanted:
    intensity_cd: float
    why: str


def take_aim(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    circuits: tuple[Circuit, ...],
) -> Aims:
    """Wanted intensity of every lit lamp, fibre classes, and currents.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    lamps, sources, circuits
        Results of the stages before.
    Returns
    -------
    Aims
        One aim a lit lamp that is not made by a strip; classes of fibre lamps that may share an LED.
    """
    source_of = {source.lamp: source for source in sources}
    wanted = wanted_intensities(plan, lamps, source_of)
    lit = [lamp for lamp in lamps if lamp.states]
    classes = _classes(plan, drawer, lit, sources=source_of, circuits=circuits, wanted=wanted)
    led_of = {lamp: row for row in classes for lamp in row.lamps}
    settled = tuple(
        replace(source, led=led_of[source.lamp].led) if source.lamp in led_of else source for source in sources
    )
    aims = [
        _fibre_aim(drawer, source_of[lamp.name], led_of[lamp.name], wanted[lamp.name])
        if lamp.name in led_of
        else _led_aim(plan, drawer, lamp, source=source_of[lamp.name], wanted=wanted[lamp.name])
        for lamp in lit
        if source_of[lamp.name].kind != "strip"
    ]
    return Aims(tuple(aims), classes, settled)


# --- wanted intensity ---------------------------------------------------------------------------------------------


def wanted_intensities(
    plan: Plan, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source]
) -> dict[str, _Wanted]:
    """Wanted axial intensity of every lamp, chains of equal-to followed to their end."""
    written: tuple[Lamp | Row | Strip, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    entries = {entry.name: entry.brightness for entry in written}
    first = {lamp.group: lamp for lamp in reversed(lamps)}
    groups: dict[str, _Wanted] = {}
    for name in first:
        _resolve(plan, name, entries=entries, first=first, sources=sources, done=groups)
    return {lamp.name: groups[lamp.group] for lamp in lamps}


def _resolve(
    plan: Plan, name: str, *, entries: Mapping[str, Brightness], first: Mapping[str, PlacedLamp],
    sources: Mapping[str, Source], done: dict[str, _Wanted],
) -> None:
    """Fill `done` for one group and for all that it hangs on; the reader has refused circles."""
    chain = [name]
    while (like := entries[chain[-1]].like) is not None and like in first and like not in done:
        chain.append(like)
    for group in reversed(chain):
        if group in done:
            continue
        brightness = entries[group]
        if brightness.like in done:
            base = done[brightness.like]
            done[group] = _Wanted(base.intensity_cd * brightness.ratio, f"{brightness.ratio:g} x {brightness.like}")
        else:
            done[group] = _own_intensity(plan, brightness, sources[first[group].name])


def _own_intensity(plan: Plan, brightness: Brightness, source: Source) -> _Wanted:
    if brightness.intensity_mcd is not None:
        return _Wanted(brightness.intensity_mcd / 1000, "as the plan says")
    if brightness.subject_intensity_cd is not None:
        return _carried(plan, brightness, source)
    room = brightness.seen_in or plan.subject.viewing_room
    level = row_by("seen_levels", "room", room)
    column = "window_cd_m2" if source.kind in ("room", "strip") else "luminance_cd_m2"
    by_luminance = float(level[column]) * disc_mm2(source.seen_mm) * 1e-6
    by_point = float(level["point_lx"]) * (plan.subject.viewing_distance_mm / 1000) ** 2
    return _Wanted(max(by_luminance, by_point), f"to be seen: {room}")


def _carried(plan: Plan, brightness: Brightness, source: Source) -> _Wanted:
    """Equal illuminance at the eye from the scaled distance, or equal luminance on the lamp as it is built."""
    subject_cd = brightness.subject_intensity_cd or 0.0
    scale = plan.subject.scale
    if brightness.carry == "equal illuminance":
        return _Wanted(subject_cd / scale**2, f"{subject_cd:g} cd of the subject, equal illuminance")
    share = disc_mm2(source.seen_mm) / disc_mm2(source.seen_subject_mm)
    return _Wanted(subject_cd * share, f"{subject_cd:g} cd of the subject, equal luminance")


# --- fibre classes ------------------------------------------------------------------------------------------------


def _classes(
    plan: Plan, drawer: Drawer, lit: list[PlacedLamp], *, sources: Mapping[str, Source],
    circuits: tuple[Circuit, ...], wanted: Mapping[str, _Wanted],
) -> tuple[FibreClass, ...]:
    """Fibre lamps that may share an LED: same circuit, colour and fibre, wanted alike within EVEN_CLASS."""
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}
    heaps: dict[tuple[str, str, float, bool], list[PlacedLamp]] = {}
    for lamp in lit:
        source = sources[lamp.name]
        if source.kind == "fibre":
            own = insisted_led(plan, lamp) or ""
            key = (circuit_of[lamp.name], lamp.colour.name + own, source.fibre_mm or 0.0, source.insisted)
            heaps.setdefault(key, []).append(lamp)
    classes: list[FibreClass] = []
    for (circuit, _, fibre_mm, _), heap in heaps.items():
        for group in _alike(heap, wanted):
            classes.append(
                _class(plan, drawer, group, number=len(classes) + 1, circuit=circuit, fibre_mm=fibre_mm,
                       wanted=wanted)
            )
    return tuple(classes)


def _alike(lamps: list[PlacedLamp], wanted: Mapping[str, _Wanted]) -> list[list[PlacedLamp]]:
    """Cut a heap where the wanted intensity rises by more than EVEN_CLASS over the group's least."""
    groups: list[list[PlacedLamp]] = []
    for lamp in sorted(lamps, key=lambda lamp: wanted[lamp.name].intensity_cd):
        least = wanted[groups[-1][0].name].intensity_cd if groups else 0.0
        if groups and wanted[lamp.name].intensity_cd <= least * EVEN_CLASS:
            groups[-1].append(lamp)
        else:
            groups.append([lamp])
    order = {lamp.name: number for number, lamp in enumerate(lamps)}
    return [sorted(group, key=lambda lamp: order[lamp.name]) for group in groups]


def _class(
    plan: Plan, drawer: Drawer, group: list[PlacedLamp], *, number: int, circuit: str, fibre_mm: float,
    wanted: Mapping[str, _Wanted],
) -> FibreClass:
    target = max(wanted[lamp.name].intensity_cd for lamp in group)
    feed = feed_for(plan, drawer, group, fibre_mm=fibre_mm, target_cd=target, most_a=MOST_A * DERATE)
    current = _current(drawer, feed.led, target / feed.tail_cd_per_a.typical)
    return FibreClass(
        name=f"class {number}", lamps=tuple(lamp.name for lamp in group), fibre_mm=fibre_mm, led=feed.led.name,
        capacity=feed.capacity, current_a=_pinned_current(plan, group[0].group, current), circuit=circuit,
    )


# --- currents -----------------------------------------------------------------------------------------------------


def _current(drawer: Drawer, led: LedPart, wanted_a: float) -> float:
    """The wanted current, held between the least of the habit and the derated most of the LED."""
    least_a = (drawer.habit("dim").low or 1.0) / 1000
    return min(max(wanted_a, least_a), led.max_ma * DERATE / 1000)


def _pinned_current(plan: Plan, group: str, current_a: float) -> float:
    pins = [pin for pin in plan.pinned if pin.of == group and pin.choice == "current_ma"]
    return float(pins[-1].value) / 1000 if pins else current_a


def _led_aim(plan: Plan, drawer: Drawer, lamp: PlacedLamp, *, source: Source, wanted: _Wanted) -> Aim:
    led = drawer.led(source.led)
    if source.kind == "room":
        opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
        _, per_a, _ = room_light(plan, drawer, led, opening=opening, current_a=1.0)
    else:
        per_a = led_peak_cd(led, 1.0)
    current = _pinned_current(plan, source.lamp, _current(drawer, led, wanted.intensity_cd / per_a.typical))
    return _aim(source.lamp, wanted, current, expected=per_a.times(current))


def _fibre_aim(drawer: Drawer, source: Source, row: FibreClass, wanted: _Wanted) -> Aim:
    led = drawer.led(row.led)
    expected = tail_cd_per_a(drawer, led, row.fibre_mm).times(row.current_a)
    return _aim(source.lamp, wanted, row.current_a, expected=expected)


def _aim(lamp: str, wanted: _Wanted, current_a: float, *, expected: Range) -> Aim:
    ratio = expected.typical / wanted.intensity_cd if wanted.intensity_cd > 0 else math.inf
    return Aim(
        lamp=lamp, wanted_cd=wanted.intensity_cd, wanted_why=wanted.why, current_a=current_a, expected_cd=expected,
        floor=ratio > EVEN_CLASS, short=ratio < 1 / EVEN_CLASS,
    )
