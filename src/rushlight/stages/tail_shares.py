"""What share of its bundle's light each tail gets, by its core's area and by its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.design_loom import Tail
from rushlight.model.drawer import Drawer, LedPart
from rushlight.stages.fibre_light import LedJoint, tail_light
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class TailShare:
    """Of one tail: its core's share of all cores' area, its light over what it would get in the bundle's middle, and
    its share of the flux that the bundle takes in. Shares of 1.
    """

    of_cores: float
    by_place: float
    of_light: float


def tail_shares(drawer: Drawer, led: LedPart, tails: Sequence[Tail], joint: LedJoint) -> tuple[TailShare, ...]:
    """The shares of a bundle's tails, as they enter: before their length and their bends.

    Parameters
    ----------
    drawer : Drawer
        Fibres.
    led : LedPart
        The LED that feeds the bundle.
    tails : sequence of Tail
        All tails of the bundle, with their places.
    joint : LedJoint
        How the bundle meets the LED.
    Returns
    -------
    tuple of TailShare
        In the order of the tails.
    Source
    ------
    `optics.fibre.tail_flux`; a mixed bundle by Monte Carlo in tests/outside/test_bundle_monte_carlo.py.
    """
    def flux_lm(tail: Tail, offset_mm: float) -> float:
        bare = replace(tail, offset_mm=Range.exactly(offset_mm), length_mm=0.0, bends=(), tip="polished")
        return tail_light(drawer, led, bare, joint).flux_lm.typical

    areas = [drawer.fibre(tail.fibre_mm).core_mm ** 2 for tail in tails]
    light, middle = [flux_lm(tail, tail.offset_mm.typical) for tail in tails], [flux_lm(tail, 0.0) for tail in tails]
    return tuple(
        TailShare(area / sum(areas), lit / best if best > 0 else 0.0, lit / sum(light) if sum(light) > 0 else 0.0)
        for area, lit, best in zip(areas, light, middle, strict=True)
    )
