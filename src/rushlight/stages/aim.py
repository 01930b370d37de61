"""Aim: how bright each lamp should be, and the LED current meant to make it so, before the loom is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

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
from rushlight.stages.outlook import seen_share
from rushlight.stages.parts_law import disc_mm2, led_current_a, led_light_a, led_peak_cd
from rushlight.stages.rooms import opening_named, room_light
from rushlight.stages.source_choice import Weighing, choose_by_numbers
from rushlight.stages.strip_choice import choose_strips
from rushlight.tables import row_by
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import effective_intensity_cd
from rushlight.units import Range

OFF = 1.1
"""A lamp that gives so many times what is wanted of it, more or less, is followed as it is by lamps like it."""

WINDOWS = ("room", "strip")
"""What is seen through openings, as large as they are: it looks alike by its luminance."""

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
    seen_share: float = 1.0
    """What it sends to where it is looked at from, over what it sends along its axis."""


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
    made = _aimed(plan, drawer, lamps, {source.lamp: source for source in sources}, circuits)
    return Aims(made.aims, made.classed.classes, _settled(tuple(made.sources.values()), made.classed))


def settled_sources(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    circuits: tuple[Circuit, ...],
) -> tuple[Source, ...]:
    """The sources with the LED of each fibre settled, without the aims; a source that was right is the same value."""
    made = _aimed(plan, drawer, lamps, {source.lamp: source for source in sources}, circuits)
    return _settled(tuple(made.sources.values()), made.classed)


@dataclass(frozen=True, slots=True)
class _Aimed:
    """Sources by lamp, classes and aims of one round."""

    sources: dict[str, Source]
    classed: Classed
    aims: tuple[Aim, ...]


def _aimed(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: dict[str, Source],
    circuits: tuple[Circuit, ...],
) -> _Aimed:
    """Two rounds: lamps that should be like one that cannot be as it is wanted follow what it really will give."""
    source_of = dict(sources)
    _weighed(plan, drawer, lamps, source_of)
    made = _round(plan, drawer, lamps, source_of, circuits, given={})
    given = _given(plan, lamps, made.aims)
    return _round(plan, drawer, lamps, source_of, circuits, given=given) if given else made


def _round(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source],
    circuits: tuple[Circuit, ...], *, given: Mapping[str, float],
) -> _Aimed:
    source_of, lit = dict(sources), [lamp for lamp in lamps if lamp.states]
    wanted = wanted_intensities(plan, drawer, lamps, source_of, given)
    classed = fibre_classes(_lit(plan, drawer, lamps, source_of, given), lit, circuits)
    if classed.changed:
        source_of.update(classed.changed)
        wanted = wanted_intensities(plan, drawer, lamps, source_of, given)
    led_of = {lamp: row for row in classed.classes for lamp in row.lamps}
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

    return _Aimed(source_of, classed, tuple(aim_of(lamp) for lamp in lit))


def _given(plan: Plan, lamps: tuple[PlacedLamp, ...], aims: tuple[Aim, ...]) -> dict[str, float]:
    """What lamps that others should be like will give over what is wanted of them, where it is off by OFF and more.

    Of lamps at the head of a chain alone; strips are dimmed when they are laid, and give what is wanted.
    """
    likes = {entry.name: entry.brightness.like for entry in _written(plan)}
    heads = {like for like in likes.values() if like is not None and likes.get(like) is None}
    group_of = {lamp.name: lamp.group for lamp in lamps}
    times: dict[str, list[float]] = {}
    for aim in aims:
        if group_of[aim.lamp] in heads and aim.wanted_cd > 0 and aim.expected_cd.typical > 0:
            times.setdefault(group_of[aim.lamp], []).append(math.log(aim.expected_cd.typical / aim.wanted_cd))
    means = {group: math.exp(math.fsum(logs) / len(logs)) for group, logs in times.items()}
    return {group: mean for group, mean in means.items() if not 1 / OFF < mean < OFF}


def _written(plan: Plan) -> tuple[Lamp | Row | Strip, ...]:
    return (*plan.lamps, *plan.rows, *plan.strips)


def _weighed(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], source_of: dict[str, Source]
) -> dict[str, _Wanted]:
    """What is wanted once LED, fibre and strip are weighed; the sources that are chosen anew are put in `source_of`."""
    wanted = wanted_intensities(plan, drawer, lamps, source_of)
    lit = [lamp for lamp in lamps if lamp.states]
    chosen = choose_by_numbers(_weighing(plan, drawer, wanted), lit, source_of)
    source_of.update(chosen)
    shared = choose_strips(_weighing(plan, drawer, wanted), lit, source_of)
    source_of.update(shared)
    return wanted_intensities(plan, drawer, lamps, source_of) if chosen or shared else wanted


def weighing_of(plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source]) -> Weighing:
    """What the ways to make lamps are weighed with, given what makes them now."""
    return _weighing(plan, drawer, wanted_intensities(plan, drawer, lamps, sources))


def _weighing(plan: Plan, drawer: Drawer, wanted: Mapping[str, _Wanted]) -> Weighing:
    entries = {entry.name: entry.brightness for entry in _written(plan)}

    def want_cd(lamp: PlacedLamp, source: Source) -> float:
        brightness = entries[lamp.group]
        if brightness.like is not None:
            looked_at = _Wanted(wanted[lamp.name].intensity_cd * wanted[lamp.name].seen_share, "")
            return _along_axis(looked_at, seen_share(plan, drawer, lamp, source)).intensity_cd
        own = _at_its_peak(_own_intensity(plan, brightness, lamp, source), lamp.rhythm)
        return _along_axis(own, seen_share(plan, drawer, lamp, source)).intensity_cd

    return Weighing(plan, drawer, want_cd, lambda lamp, source: seen_share(plan, drawer, lamp, source) > 0.0)


def _lit(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source],
    given: Mapping[str, float],
) -> Lit:
    def candelas(trial: Mapping[str, Source]) -> dict[str, float]:
        wanted = wanted_intensities(plan, drawer, lamps, trial, given)
        return {name: row.intensity_cd for name, row in wanted.items()}

    return Lit(plan, drawer, sources, candelas(sources), lamps, candelas)


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
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], sources: Mapping[str, Source],
    given: Mapping[str, float] = MappingProxyType({}),
) -> dict[str, _Wanted]:
    """Wanted axial intensity of every lamp, chains of equal-to followed to their end.

    A lamp that flashes looks dimmer than it is: its peak is wanted so much higher that it looks as bright as was asked.
    Windows look alike by their luminance: one of twice the area is wanted with twice the candela. One that is seen from
    beside its axis is wanted so much more along it. `given` is what lamps that others should be like will give over
    what is wanted of them.
    """
    wishes = _Wishes(plan, {entry.name: entry.brightness for entry in _written(plan)},
                     {lamp.group: lamp for lamp in reversed(lamps)}, sources, given)
    groups: dict[str, _Wanted] = {}
    for name in wishes.first:
        _resolve(wishes, name, groups)
    return {
        lamp.name: _along_axis(_at_its_peak(wishes.sized(groups[lamp.group], lamp), lamp.rhythm),
                               seen_share(plan, drawer, lamp, sources[lamp.name]))
        for lamp in lamps
    }


def _along_axis(wanted: _Wanted, share: float) -> _Wanted:
    """What is wanted along the axis, so that where it is looked at from it is as bright as was asked.

    Of what shows nothing there no current makes that: it is wanted as if one looked along its axis.
    """
    if share >= 1.0:
        return wanted
    if share <= 0.0:
        return replace(wanted, why=f"{wanted.why}; along its axis, since it is dark from beside it")
    why = f"{wanted.why}; seen from beside its axis, where it sends {100 * share:.2g} % of what it does along it"
    return _Wanted(wanted.intensity_cd / share, why, share)


@dataclass(frozen=True, slots=True)
class _Wishes:
    """How bright each lamp, row or strip is wished, the first lamp of each, what makes lamps, and what heads give."""

    plan: Plan
    entries: Mapping[str, Brightness]
    first: Mapping[str, PlacedLamp]
    sources: Mapping[str, Source]
    given: Mapping[str, float]

    def sized(self, wanted: _Wanted, lamp: PlacedLamp) -> _Wanted:
        """What is wanted of the first lamp of a strip, for a window of another size."""
        first, wish = self.first[lamp.group], self.entries[lamp.group]
        if lamp is first or wish.intensity_mcd is not None or wish.subject_intensity_cd is not None:
            return wanted
        times = self.windows(lamp, first)
        return wanted if times is None else _Wanted(wanted.intensity_cd * times, wanted.why)

    def windows(self, lamp: PlacedLamp, other: PlacedLamp) -> float | None:
        """Area of a lit window over another's; None where one of the two is a lamp."""
        one, two = self.sources[lamp.name], self.sources[other.name]
        both = one.kind in WINDOWS and two.kind in WINDOWS and two.seen_mm > 0
        return (one.seen_mm / two.seen_mm) ** 2 if both else None


def _at_its_peak(wanted: _Wanted, rhythm: str) -> _Wanted:
    share = flash_share(rhythm)
    if share >= 1.0:
        return wanted
    return _Wanted(wanted.intensity_cd / share, f"{wanted.why}; {1 / share:.2g} times that while it flashes")


@lru_cache(maxsize=256)
def flash_share(rhythm: str) -> float:
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


def _resolve(wishes: _Wishes, name: str, done: dict[str, _Wanted]) -> None:
    """Fill `done` for one group and for all that it hangs on; the reader has refused circles."""
    chain, first = [name], wishes.first
    while (like := wishes.entries[chain[-1]].like) is not None and like in first and like not in done:
        chain.append(like)
    for group in reversed(chain):
        if group in done:
            continue
        brightness = wishes.entries[group]
        if brightness.like in done:
            done[group] = _like(wishes, group, brightness.like, done[brightness.like])
        else:
            lamp = first[group]
            done[group] = _own_intensity(wishes.plan, brightness, lamp, wishes.sources[lamp.name])


def _like(wishes: _Wishes, group: str, like: str, base: _Wanted) -> _Wanted:
    """As bright as another: as many candela, windows as many cd/m2; as it will be where it cannot be as wanted."""
    ratio, given = wishes.entries[group].ratio, wishes.given.get(like, 1.0)
    area = wishes.windows(wishes.first[group], wishes.first[like])
    how = ", equal luminance" if area is not None else ", equal intensity"
    real = "" if given == 1.0 else f", which gives {given:.2g} times what is wanted of it"
    return _Wanted(base.intensity_cd * ratio * given * (area or 1.0), f"{ratio:g} x {like}{how}{real}")


def _own_intensity(plan: Plan, brightness: Brightness, lamp: PlacedLamp, source: Source) -> _Wanted:
    if brightness.intensity_mcd is not None:
        return _Wanted(brightness.intensity_mcd / 1000, "as the plan says")
    if brightness.subject_intensity_cd is not None:
        return _carried(plan, brightness, lamp, source)
    room = brightness.seen_in or plan.subject.viewing_room
    level = row_by("seen_levels", "room", room)
    column = "window_cd_m2" if source.kind in WINDOWS else "luminance_cd_m2"
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
        _, per_a, _ = room_light(plan, drawer, led, opening=opening, light_a=1.0)
    else:
        per_a = led_peak_cd(led, 1.0)
    if led.pre_wired_v is not None:
        current = led.test_ma / 1000  # its built-in resistor settles it
    else:
        current = sensible_a(drawer, led, led_current_a(led, wanted.intensity_cd / per_a.typical))
        current = pinned_a(plan, current, circuit, lamp.group, lamp.name)
    return _aim(source.lamp, wanted, current, expected=per_a.times(led_light_a(led, current)))


def _strip_aim(drawer: Drawer, source: Source, wanted: _Wanted) -> Aim:
    """A strip is dimmed to what is wanted when it is laid, as far as its least current allows."""
    rated = drawer.strip(source.led).segment_ma / 1000
    return Aim(
        lamp=source.lamp, wanted_cd=wanted.intensity_cd, wanted_why=wanted.why, current_a=rated,
        expected_cd=Range.exactly(wanted.intensity_cd), floor=False, short=False, seen_share=wanted.seen_share,
    )


def _fibre_aim(drawer: Drawer, source: Source, row: FibreClass, *, wanted: _Wanted, joint: LedJoint) -> Aim:
    led = drawer.led(row.led)
    expected = tail_cd_per_a(drawer, led, source.fibre_mm or 0.0, tip=source.tip, joint=joint).times(
        led_light_a(led, row.current_a))
    return _aim(source.lamp, wanted, row.current_a, expected=expected)


def _aim(lamp: str, wanted: _Wanted, current_a: float, *, expected: Range) -> Aim:
    ratio = expected.typical / wanted.intensity_cd if wanted.intensity_cd > 0 else math.inf
    return Aim(
        lamp=lamp, wanted_cd=wanted.intensity_cd, wanted_why=wanted.why, current_a=current_a, expected_cd=expected,
        floor=ratio > EVEN_CLASS, short=ratio < 1 / EVEN_CLASS, seen_share=wanted.seen_share,
    )
