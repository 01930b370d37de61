"""What one fibre tail gives, from its row in the drawer and its way."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rushlight.likely import Guesses, joined
from rushlight.model.design_loom import Tail
from rushlight.model.drawer import Drawer, FibrePart, LedPart
from rushlight.model.plan import Plan
from rushlight.optics.fibre import KnownLosses, Launch, TailLight, tail_flux, tail_guesses
from rushlight.optics.fibre import Tail as TailLaw
from rushlight.optics.fibre_loss import Bend as BendLaw
from rushlight.optics.fibre_loss import Fibre
from rushlight.stages.parts_law import fibre_of, joint_of, led_guesses, led_launch
from rushlight.stages.pins import held, held_number
from rushlight.units import Range

LEAST_BEND = 5.1
"""The bend law starts at five fibre diameters; a tighter bend is a finding of its own, and charged as this one."""

REFERENCE_A = 0.01
"""Lamps are computed once at this current as `led_light_a` counts it; their light goes with such currents."""


FILED = "flat top"
"""A dome filed flat and polished leaves an LED as one that is sold flat (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LedJoint:
    """How a bundle meets its LED: polished, dry and close unless the modeller says otherwise.

    `keeps` is the share of the computed light, where it was measured; `inlet` the finish of the tails' ends there, a
    row of fibre_finish.csv; `gel`: clear gel or glue fills the joint; `filed`: the LED's dome is filed flat;
    `gap_mm` is left between LED and bundle.
    """

    keeps: Range | None = None
    inlet: str = "polished"
    gel: bool = False
    filed: bool = False
    gap_mm: float = 0.0


USUAL_JOINT = LedJoint()


def led_joint(plan: Plan, drawer: Drawer, *names: str) -> LedJoint:
    """The joint that the modeller holds for any of these names (a row, then its lamp)."""
    usual = LedJoint(joint_of(drawer))
    if not plan.pinned:
        return usual
    return replace(
        usual, inlet=held(plan, "fibre_inlet", *names) or usual.inlet,
        gel=held(plan, "bundle_joint", *names) == "gel", filed=held(plan, "led_dome", *names) == "filed",
        gap_mm=held_number(plan, "bundle_gap_mm", *names) or 0.0,
    )


def launch_into(led: LedPart, light_a: float, joint: LedJoint) -> Launch:
    """How an LED at a current, as `led_light_a` counts it, faces its bundle; without its lens it is matt."""
    launch = led_launch(led, light_a)
    if joint.filed:
        launch = replace(led_launch(replace(led, lens=FILED), light_a), order=1.0)
    return replace(launch, coupling=joint.keeps, index_gel=joint.gel, gap_mm=launch.gap_mm + joint.gap_mm)


def tail_light(drawer: Drawer, led: LedPart, tail: Tail, joint: LedJoint) -> TailLight:
    """Light at the tip of a tail with its LED at REFERENCE_A.

    Parameters
    ----------
    drawer : Drawer
        Fibres.
    led : LedPart
        The LED that feeds its bundle.
    tail : Tail
        Its place in the bundle, length, bends and end.
    joint : LedJoint
        How its bundle meets the LED.
    Returns
    -------
    TailLight
        See `optics.fibre.tail_flux`.
    Source
    ------
    `optics.fibre.tail_flux`.
    """
    return tail_flux(*_law(drawer, led, tail, joint))


def tail_light_guesses(drawer: Drawer, led: LedPart, tail: Tail, joint: LedJoint) -> tuple[TailLight, Guesses, Guesses]:
    """The same with what its flux hangs on, and its intensity and luminance."""
    law = _law(drawer, led, tail, joint)
    lit = tail_flux(*law)
    lamp, way = joined(*led_guesses(led)), tail_guesses(*law, lit)
    return lit, joined(lamp, way[0]), joined(lamp, *way)


def _law(drawer: Drawer, led: LedPart, tail: Tail, joint: LedJoint) -> tuple[Launch, Fibre, TailLaw]:
    fibre = drawer.fibre(tail.fibre_mm)
    law = TailLaw(
        offset_mm=tail.offset_mm, length_mm=tail.length_mm,
        bends=tuple(BendLaw(max(bend.radius_mm, LEAST_BEND * tail.fibre_mm), bend.angle_deg) for bend in tail.bends),
        wavelength_nm=led.dominant_nm, inlet=joint.inlet, tip=tail.tip,
        known=_known(drawer, led, fibre, joint.inlet, tail.tip),
    )
    return launch_into(led, REFERENCE_A, joint), fibre_of(fibre), law


def _known(drawer: Drawer, led: LedPart, fibre: FibrePart, inlet: str, tip: str) -> KnownLosses:
    """What was measured at the bench of this fibre, in this LED's colour, and of such ends."""
    if not drawer.bench:
        return NOTHING_KNOWN
    return KnownLosses(
        length_db_per_m=drawer.measured("fibre length", in_colour(fibre, led)),
        inlet_db=drawer.measured("fibre end", inlet), tip_db=drawer.measured("fibre end", tip),
        bend_times=drawer.measured("fibre bend", fibre.name),
    )


NOTHING_KNOWN = KnownLosses()


def in_colour(fibre: FibrePart, led: LedPart) -> str:
    """A fibre with an LED's colour: what its loss in its length is kept under."""
    return f"{fibre.name}, {led.colour}"
