"""What one fibre tail gives, from its row in the drawer and its way."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.design_loom import Tail
from rushlight.model.drawer import Drawer, LedPart
from rushlight.optics.fibre import Tail as TailLaw
from rushlight.optics.fibre import TailLight, tail_flux
from rushlight.optics.fibre_loss import Bend as BendLaw
from rushlight.stages.parts_law import fibre_of, joint_of, led_launch

LEAST_BEND = 5.1
"""The bend law starts at five fibre diameters; a tighter bend is a finding of its own, and charged as this one."""

REFERENCE_A = 0.01
"""Lamps are computed once at this current; their light goes with the current."""


def tail_light(drawer: Drawer, led: LedPart, tail: Tail) -> TailLight:
    """Light at the tip of a tail with its LED at REFERENCE_A.

    Parameters
    ----------
    drawer : Drawer
        Fibres and the joint.
    led : LedPart
        The LED that feeds its bundle.
    tail : Tail
        Its place in the bundle, length, bends and end.
    Returns
    -------
    TailLight
        See `optics.fibre.tail_flux`.
    Source
    ------
    `optics.fibre.tail_flux`.
    """
    law = TailLaw(
        offset_mm=tail.offset_mm, length_mm=tail.length_mm,
        bends=tuple(BendLaw(max(bend.radius_mm, LEAST_BEND * tail.fibre_mm), bend.angle_deg) for bend in tail.bends),
        wavelength_nm=led.dominant_nm, tip=tail.tip,
    )
    launch = replace(led_launch(led, REFERENCE_A), coupling=joint_of(drawer))
    return tail_flux(launch, fibre_of(drawer.fibre(tail.fibre_mm)), law)
