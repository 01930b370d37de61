"""Aim: how bright each lamp should be, and the LED current meant to make it so, before the loom is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.design import Aim, FibreClass, PlacedLamp, Source
from rushlight.model.design_loom import Circuit
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Brightness, Lamp, Plan, Row, Strip
from rushlight.optics.eye import equal_luminance_cd
from rushlight.stages.bundle_choice import tail_cd_per_a
from rushlight.stages.fibre_classes import EVEN_CLASS, Classed, Lit, fibre_classes
from rushlight.stages.fibre_light import LedJoint, led_joint
from rushlight.stages.led_currents import pinned_a, sensible_a
from rushlight.stages.parts_law import disc_mm2, led_peak_cd
from rushlight.stages.rooms import opening_named, room_light
from rushlight.stages.source_choice import Weighing, choose_by_numbers
from rushlight.stages.strip_choice import choose_strips
from rushlight.tables import row_by
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import effective_intensity_cd
from rushlight.units import Range

UNTIMED = ("steady", "flicker", "random windows")
"""Rhythms without a flash of a stated length."""


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
        One aim a lit lamp; classes of fibre lamps that may share an LED.
    """
    source_of = {source.lamp: source for source in sources}
    lit = [lamp for lamp in lamps if lamp.states]
    wanted = _weighed(plan, drawer, lamps, source_of)
    classed = fibre_classes(_lit(plan, drawer, lamps, source_of, wanted), lit, circuits)
    classes = classed.classes
    if classed.changed:
        source_of.update(classed.changed)
        wanted = wanted_intensities(plan, lamps, source_of)
    led_of = {lamp: row for row in classes for lamp in row.lamps}
    circuit_of = {lamp: circuit.name for circuit in circuits for lamp in circuit.lamps}

    def aim_of(lamp: PlacedLamp) -> Aim:
        source = source_of[lamp.name]
        if lamp.name in led_of:
            joint = led_joint(plan, drawer, lamp.group, lamp.name)
            return _fibre_aim(drawer, source, led_of[lamp.name], wanted=wanted[lamp.name], joint=joint)
        if source.kind == "strip":
            return _strip_aim(drawer, source, wanted[lamp.name])
        return _led_aim(
            plan, drawer, lamp, source=source, wanted=wanted[lamp.name], circuit=circuit_of[lamp.name]
        )

    return Aims(tuple(aim_of(lamp) for lamp in lit), classes, _settled(tuple(source_of.values()), classed))


def settled_sources(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    circuits: tuple[Circuit, ...],
) -> tuple[Source, ...]:
    """The sources with the LED of each fibre settled, without the aims; a source that was right is the same value."""
    source_of = {source.lamp: source for source in sources}
    lit = [lamp for lamp in lamps if lamp.states]
    wanted = _weighed(plan, drawer, lamps, source_of)
    classed = fibre_classes(_lit(plan, drawer, lamps, source_of, wanted), lit, circuits)
    return _settled(tuple(source_of.values()), classed)


def _weighed(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], source_of: dict[str, Source]
) -> dict[str, _Wanted]:
    """What is wanted once LED, fibre and strip are weighed; the sources that are chosen anew are put in `source_of`."""
    wanted = wanted_intensities(plan, lamps, source_of)
    lit = [lamp for lamp in lamps if lamp.states]
    chosen = choose_by_numbers(_weighing(plan, drawer, wanted), lit, source_of)
    source_of.update(chosen)
    shared = choose_strips(_weighing(plan, drawer, wanted), lit, source_of)
    source_of.update(shared)
    return wanted_intensities(plan, lamps, source_of) if chosen or shared else wanted


def weighing_of(plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source]) -> Weighing:
    """What the ways to make lamps are weighed with, given what makes them now."""
    return _weighing(plan, drawer, wanted_intensities(plan, lamps, sources))


def _weighing(plan: Plan, drawer: Drawer, wanted: Mapping[str, _Wanted]) -> Weighing:
    written: tuple[Lamp | Row | Strip, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    entries = {entry.name: entry.brightness for entry in written}

    def want_cd(lamp: PlacedLamp, source: Source) -> float:
        brightness = entries[lamp.group]
        if brightness.like is not None:
            return wanted[lamp.name].intensity_cd
        return _at_its_peak(_own_intensity(plan, brightness, lamp, source), lamp.rhythm).intensity_cd

    return Weighing(plan, drawer, want_cd)


def _lit(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source],
    wanted: Mapping[str, _Wanted],
) -> Lit:
    def candelas(wanted: Mapping[str, _Wanted]) -> dict[str, float]:
        return {name: row.intensity_cd for name, row in wanted.items()}

    return Lit(plan, drawer, sources, candelas(wanted), lamps,
               lambda trial: candelas(wanted_intensities(plan, lamps, trial)))


def _settled(sources: tuple[Source, ...], classed: Classed) -> tuple[Source, ...]:
    """With the LED of their class, the fibre where it was chosen anew, and why unlike ones share an LED."""
    class_of = {lamp: row for row in classed.classes for lamp in row.lamps}

    def settled(source: Source) -> Source:
        now, row = classed.changed.get(source.lamp, source), class_of.get(source.lamp)
        if row is None or (now is source and row.led == source.led and not row.why):
            return now
        return replace(now, led=row.led, why=f"{now.why}; {row.why}" if row.why else now.why)

    return tuple(settled(source) for source in sources)


# --- wanted intensity ---------------------------------------------------------------------------------------------


def wanted_intensities(
    plan: Plan, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source]
) -> dict[str, _Wanted]:
    """Wanted axial intensity of every lamp, chains of equal-to followed to their end.

    A lamp that flashes looks dimmer than it is: its peak is wanted so much higher that it looks as bright as was asked.
    """
    written: tuple[Lamp | Row | Strip, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    entries = {entry.name: entry.brightness for entry in written}
    first = {lamp.group: lamp for lamp in reversed(lamps)}
    groups: dict[str, _Wanted] = {}
    for name in first:
        _resolve(plan, name, entries=entries, first=first, sources=sources, done=groups)
    return {lamp.name: _at_its_peak(groups[lamp.group], lamp.rhythm) for lamp in lamps}


def _at_its_peak(wanted: _Wanted, rhythm: str) -> _Wanted:
    share = seen_share(rhythm)
    if share >= 1.0:
        return wanted
    return _Wanted(wanted.intensity_cd / share, f"{wanted.why}; {1 / share:.2g} times that while it flashes")


@lru_cache(maxsize=256)
def seen_share(rhythm: str) -> float:
    """How bright a lamp of a rhythm looks beside a steady one of its peak [-]; 1 for what does not flash in a period.

    Source: effective intensity of Blondel and Rey, see `timing.flash`.
    """
    if rhythm in UNTIMED:
        return 1.0
    try:
        read = parse_rhythm(rhythm)
    except (OutOfRange, UnknownName):
        return 1.0
    share = effective_intensity_cd(read, 1.0) if read.repeats else 1.0
    return share if share > 0.0 else 1.0


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
            done[group] = _own_intensity(plan, brightness, first[group], sources[first[group].name])


def _own_intensity(plan: Plan, brightness: Brightness, lamp: PlacedLamp, source: Source) -> _Wanted:
    if brightness.intensity_mcd is not None:
        return _Wanted(brightness.intensity_mcd / 1000, "as the plan says")
    if brightness.subject_intensity_cd is not None:
        return _carried(plan, brightness, lamp, source)
    room = brightness.seen_in or plan.subject.viewing_room
    level = row_by("seen_levels", "room", room)
    column = "window_cd_m2" if source.kind in ("room", "strip") else "luminance_cd_m2"
    by_luminance = float(level[column]) * disc_mm2(source.seen_mm) * 1e-6
    by_point = float(level["point_lx"]) * (plan.subject.viewing_distance_mm / 1000) ** 2
    return _Wanted(max(by_luminance, by_point), f"to be seen: {room}")


def _carried(plan: Plan, brightness: Brightness, lamp: PlacedLamp, source: Source) -> _Wanted:
    """Equal illuminance at the eye from the scaled distance, or equal luminance on the lamp as it is built.

    A subject's lamp of unknown size is taken to be as large as what is built, carried to the subject.
    """
    subject_cd = brightness.subject_intensity_cd or 0.0
    scale = plan.subject.scale
    if brightness.carry == "equal illuminance":
        return _Wanted(subject_cd / scale**2, f"{subject_cd:g} cd of the subject, equal illuminance")
    model_cd = equal_luminance_cd(
        subject_cd, subject_diameter_mm=lamp.subject_mm or source.seen_subject_mm, model_diameter_mm=source.seen_mm
    )
    return _Wanted(model_cd, f"{subject_cd:g} cd of the subject, equal luminance")


# --- aims ---------------------------------------------------------------------------------------------------------


def _led_aim(
    plan: Plan, drawer: Drawer, lamp: PlacedLamp, *, source: Source, wanted: _Wanted, circuit: str
) -> Aim:
    led = drawer.led(source.led)
    if source.kind == "room":
        opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
        _, per_a, _ = room_light(plan, drawer, led, opening=opening, current_a=1.0)
    else:
        per_a = led_peak_cd(led, 1.0)
    if led.pre_wired_v is not None:
        current = led.test_ma / 1000  # its built-in resistor settles it
    else:
        current = sensible_a(drawer, led, wanted.intensity_cd / per_a.typical)
        current = pinned_a(plan, current, circuit, lamp.group, lamp.name)
    return _aim(source.lamp, wanted, current, expected=per_a.times(current))


def _strip_aim(drawer: Drawer, source: Source, wanted: _Wanted) -> Aim:
    """A strip is dimmed to what is wanted when it is laid, as far as its least current allows."""
    rated = drawer.strip(source.led).segment_ma / 1000
    return Aim(
        lamp=source.lamp, wanted_cd=wanted.intensity_cd, wanted_why=wanted.why, current_a=rated,
        expected_cd=Range.exactly(wanted.intensity_cd), floor=False, short=False,
    )


def _fibre_aim(drawer: Drawer, source: Source, row: FibreClass, *, wanted: _Wanted, joint: LedJoint) -> Aim:
    led = drawer.led(row.led)
    expected = tail_cd_per_a(drawer, led, source.fibre_mm or 0.0, tip=source.tip, joint=joint).times(row.current_a)
    return _aim(source.lamp, wanted, row.current_a, expected=expected)


def _aim(lamp: str, wanted: _Wanted, current_a: float, *, expected: Range) -> Aim:
    ratio = expected.typical / wanted.intensity_cd if wanted.intensity_cd > 0 else math.inf
    return Aim(
        lamp=lamp, wanted_cd=wanted.intensity_cd, wanted_why=wanted.why, current_a=current_a, expected_cd=expected,
        floor=ratio > EVEN_CLASS, short=ratio < 1 / EVEN_CLASS,
    )
