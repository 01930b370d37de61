"""Tails of shared LEDs for a row or a group of like lamps: laid, bundled and lit as they would be built."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.model.design import Aim, Design, FibreClass, PlacedLamp, Source
from rushlight.model.design_loom import Bundle, Circuit, Emitter, Tail
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.fibre_classes import Lit, fibre_classes
from rushlight.stages.fibre_light import REFERENCE_A, led_joint, tail_light
from rushlight.stages.layouts import wire_map
from rushlight.stages.led_currents import least_a
from rushlight.stages.parts_law import led_light_a
from rushlight.stages.source_choice import EVEN, Weighing, times
from rushlight.stages.strip_choice import shallowest_mm
from rushlight.stages.tails import bend_radius_mm, lay_fibres
from rushlight.units import Range

EPS = 1e-9

FULL_DEG = 360.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TailTrial:
    """Lamps made by tails of shared LEDs, with what that takes and gives.

    `current_a` is the current of each LED [A], `cut_mm` the fibre to cut for all tails [mm], `longest_mm` of the
    longest [mm], `ideal_mm` the width of the widest bundle at best, `bundle_mm` as made by hand and `face_mm` of the
    LED under it [mm], `turn_mm` the bend that the fibre wants [mm], `least_bend_mm` the tightest it gets, `depth_mm`
    the narrowest side of the shallowest closed space that it runs in (endless where none is known). `light` is what
    the lamps get over what is wanted: the least of the dimmest, the middle, the most of the brightest; `least_light`
    the middle at the least current; `uneven` the brightest over the dimmest. `lost` are lamps that no fibre reaches,
    `feeds_others` how many other lamps its LEDs feed too, `cone_deg` the whole cone of a polished end and `arc_deg`
    the widest sector that a lamp of it is meant for.
    """

    led: str
    fibre_mm: float
    leds: int
    tails: int
    current_a: float
    cut_mm: float
    longest_mm: float
    ideal_mm: float
    bundle_mm: Range
    face_mm: float
    turn_mm: float
    least_bend_mm: float
    depth_mm: float
    light: Range
    least_light: float
    uneven: float
    lost: tuple[str, ...]
    feeds_others: int
    cone_deg: float
    arc_deg: float

    @property
    def lacks(self) -> tuple[str, ...]:
        """What speaks against it, in words."""
        against = []
        if self.lost:
            against.append(f"no fibre reaches {len(self.lost)} of {self.tails + len(self.lost)}")
        if self.least_bend_mm < self.turn_mm * (1 - EPS):
            against.append(f"it would bend to {self.least_bend_mm:.3g} mm and wants {self.turn_mm:.3g}")
        if self.turn_mm > self.depth_mm:
            against.append(f"to turn into its hole it wants {self.turn_mm:.3g} mm of room behind, there are "
                           f"{self.depth_mm:.3g}")
        if self.arc_deg > self.cone_deg:
            against.append(f"a polished end is seen within {self.cone_deg:.0f} deg, {self.arc_deg:.0f} are asked: "
                           "its end must be sanded or domed")
        if self.light.typical < 1 / EVEN:
            against.append(f"{times(self.light.typical)} times the wanted light at most")
        if self.least_light > EVEN * (1 + EPS):
            against.append(f"{times(self.least_light)} times the wanted light at the least current")
        if self.uneven > EVEN * (1 + EPS):
            against.append(f"uneven, {times(self.uneven)} times")
        return tuple(against)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a trial is made of: lamps as placed, what makes each, and how bright each is wanted [cd]."""

    lamps: tuple[PlacedLamp, ...]
    sources: tuple[Source, ...]
    wanted_cd: tuple[float, ...]
    circuits: tuple[Circuit, ...]

    @property
    def wants(self) -> dict[str, float]:
        """By lamp."""
        return {lamp.name: cd for lamp, cd in zip(self.lamps, self.wanted_cd, strict=True)}


def tails_built(design: Design, lamps: Sequence[PlacedLamp]) -> TailTrial | None:
    """The tails that a design has for some lamps; None where none of them is a tail.

    Parameters
    ----------
    design : Design
        The whole design.
    lamps : sequence of PlacedLamp
        Lit lamps of one row or group.
    Returns
    -------
    TailTrial
        From the loom as it is.
    """
    names = {lamp.name for lamp in lamps}
    tails = [tail for tail in design.loom.tails if tail.lamp in names]
    if not tails:
        return None
    wanted = {aim.lamp: aim.wanted_cd for aim in design.aims}
    sources = {row.lamp: row for row in design.sources}
    own = [lamp for lamp in lamps if lamp.name in wanted]
    asked = _Asked(tuple(own), tuple(sources[lamp.name] for lamp in own), tuple(wanted[lamp.name] for lamp in own), ())
    lost = tuple(row.item for row in design.loom.unrouted if row.item in names)
    return _told(design.plan, design.drawer, asked, laid=(design.loom.emitters, design.loom.bundles, tails), lost=lost)


def tried_tails(
    design: Design, weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source
) -> TailTrial | None:
    """Some lamps as tails of shared LEDs, laid and lit as if they were alone in the model.

    Parameters
    ----------
    design : Design
        The whole design, in which they are made by something else.
    weighing : Weighing
        How bright each is wanted.
    lamps : sequence of PlacedLamp
        Lit lamps of one row or group.
    source : Source
        The fibre for each of them.
    Returns
    -------
    TailTrial or None
        None where no fibre reaches any of them. Which lamps share an LED, where it sits, how the fibres run and bend,
        how they are packed and what each gives are worked out as for a design that is built so.
    Source
    ------
    `stages.fibre_classes`, `stages.tails`, `stages.fibre_light`.
    """
    own = tuple(lamps)
    sources = tuple(replace(source, lamp=lamp.name) for lamp in own)
    wanted = tuple(weighing.want_cd(lamp, one) for lamp, one in zip(own, sources, strict=True))
    names = {lamp.name for lamp in own}
    circuits = tuple(replace(row, lamps=tuple(lamp for lamp in row.lamps if lamp in names))
                     for row in design.circuits if names & set(row.lamps))
    return _tried(with_open_leds(design.plan), design.drawer, _Asked(own, sources, wanted, circuits))


def with_open_leds(plan: Plan) -> Plan:
    """A plan of which the places alone are known: no LED is named, no current held, so that another way is free."""
    kept = tuple(pin for pin in plan.pinned if pin.choice in OF_FIBRE)
    return Plan(subject=plan.subject, states=(), parts=plan.parts, crossings=plan.crossings, spaces=plan.spaces,
                supply=plan.supply, pinned=kept)


OF_FIBRE = ("fibres_per_led", "illuminator_part", "fibre_inlet", "bundle_joint", "led_dome", "bundle_gap_mm")
"""What the modeller may hold that goes for tails too."""


@lru_cache(maxsize=256)
def _tried(plan: Plan, drawer: Drawer, asked: _Asked) -> TailTrial | None:
    """Kept, because most edits leave these lamps and the places as they are."""
    wanted = asked.wants
    lit = Lit(plan, drawer, {row.lamp: row for row in asked.sources}, wanted, asked.lamps, lambda _: wanted)
    classed = fibre_classes(lit, list(asked.lamps), asked.circuits)
    sources = tuple(classed.changed.get(row.lamp, row) for row in asked.sources)
    laid = lay_fibres(plan, drawer, lamps=asked.lamps, aims=_aims(wanted, classed.classes), classes=classed.classes,
                      wires=wire_map(plan))
    if not laid.tails:
        return None
    lost = tuple(row.item for row in laid.unrouted)
    return _told(plan, drawer, replace(asked, sources=sources), laid=(laid.emitters, laid.bundles, list(laid.tails)),
                 lost=lost)


def _aims(wanted_cd: Mapping[str, float], classes: Sequence[FibreClass]) -> tuple[Aim, ...]:
    current_a = {lamp: row.current_a for row in classes for lamp in row.lamps}
    return tuple(Aim(lamp=lamp, wanted_cd=cd, wanted_why="", current_a=current_a[lamp], expected_cd=Range.exactly(cd),
                     floor=False, short=False) for lamp, cd in wanted_cd.items())


# --- what it takes and gives --------------------------------------------------------------------------------------


def _told(
    plan: Plan, drawer: Drawer, asked: _Asked, *,
    laid: tuple[tuple[Emitter, ...], tuple[Bundle, ...], list[Tail]], lost: tuple[str, ...],
) -> TailTrial:
    emitters, bundles, tails = laid
    fed = {tail.emitter for tail in tails}
    own = [row for row in emitters if row.name in fed]
    widest = max((row for row in bundles if row.emitter in fed), key=lambda row: row.hand_made_mm.typical)
    fibre_mm = max(tail.fibre_mm for tail in tails)
    names = {lamp.name for lamp in asked.lamps}
    light = _light(plan, drawer, asked, {row.name: row for row in own}, tails)
    middle = math.exp(math.fsum(math.log(max(row.typical, EPS)) for row in light) / len(light))
    most_a = max(row.aim_current_a for row in own)
    return TailTrial(
        led=own[0].part_row, fibre_mm=fibre_mm, leds=len(own), tails=len(tails), current_a=most_a,
        cut_mm=math.fsum(tail.cut_mm for tail in tails), longest_mm=max(tail.cut_mm for tail in tails),
        ideal_mm=widest.ideal_mm, bundle_mm=widest.hand_made_mm, face_mm=widest.led_face_mm,
        turn_mm=bend_radius_mm(drawer, fibre_mm),
        least_bend_mm=min(tail.least_bend_mm or math.inf for tail in tails),
        depth_mm=shallowest_mm(plan, sorted({lamp.spot.part for lamp in asked.lamps if lamp.spot})),
        light=Range(min(row.low for row in light), middle, max(row.high for row in light)),
        least_light=middle * min(least_a(drawer) / most_a, 1.0),
        uneven=max(row.typical for row in light) / max(min(row.typical for row in light), EPS),
        lost=lost, feeds_others=sum(lamp not in names for row in own for lamp in row.lamps),
        cone_deg=_cone_deg(drawer, fibre_mm), arc_deg=_widest_arc_deg(asked),
    )


def _light(
    plan: Plan, drawer: Drawer, asked: _Asked, emitters: Mapping[str, Emitter], tails: Sequence[Tail]
) -> list[Range]:
    """What each tail gives along its axis over what is wanted [-], at its LED's current."""
    groups, wanted = {lamp.name: lamp.group for lamp in asked.lamps}, asked.wants
    light = []
    for tail in tails:
        emitter = emitters[tail.emitter]
        joint = led_joint(plan, drawer, groups[tail.lamp], tail.lamp)
        led = drawer.led(emitter.part_row)
        gives = tail_light(drawer, led, tail, joint).axial_intensity_cd
        times = led_light_a(led, emitter.aim_current_a).times(1.0 / REFERENCE_A / max(wanted[tail.lamp], EPS * EPS))
        light.append(gives.times(times))
    return light


def _cone_deg(drawer: Drawer, fibre_mm: float) -> float:
    """The whole cone in which a polished end sends its light, from its numerical aperture."""
    return 2 * math.degrees(math.asin(min(drawer.fibre(fibre_mm).numerical_aperture, 1.0)))


def _widest_arc_deg(asked: _Asked) -> float:
    """The widest sector of a lamp whose fibre has a polished end; 0 where none is asked."""
    arcs = [(lamp.arc_deg[1] - lamp.arc_deg[0]) % FULL_DEG or FULL_DEG
            for lamp, source in zip(asked.lamps, asked.sources, strict=True)
            if lamp.arc_deg is not None and source.tip == "polished"]
    return max(arcs, default=0.0)
