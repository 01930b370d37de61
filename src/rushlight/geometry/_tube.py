"""Heat shrink on a bundle: which tube slides on and grips, and how wide it is once shrunk."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rushlight.errors import OutOfRange
from rushlight.units import Range

SLIDING_ALLOWANCE_MM = 0.2
"""What a supplied bore must have over a bundle to slide on; a judgement, see data/bundle_hand_made.csv."""

FULL_BORE_SHARE = 0.8
"""Thing over supplied bore at most, where a tube of that bore is to be had (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class TubeSize:
    """A heat-shrink tube: least bore as supplied, largest bore and wall after full recovery."""

    name: str
    supplied_bore_mm: float
    recovered_bore_mm: float
    recovered_wall_mm: float


@dataclass(frozen=True, slots=True)
class TubeFit:
    """One tube on one bundle: what it must slide over and grip, and how wide it is once shrunk."""

    tube: TubeSize
    slides_over_mm: float
    grips_mm: float
    bore_share: float
    slides_on: bool
    grips: bool
    easy: bool
    outer_mm: Range

    @property
    def fits(self) -> bool:
        """True if the tube slides on and grips."""
        return self.slides_on and self.grips


@dataclass(frozen=True, slots=True)
class NoTube:
    """No tube of those given fits: what the bore would have to be."""

    supplied_bore_over_mm: float
    recovered_bore_under_mm: float
    why: str


def outer_diameter_mm(tube: TubeSize, thing_mm: float) -> float:
    """Outside of a tube that has shrunk onto a thing.

    Parameters
    ----------
    tube : TubeSize
        Its recovered bore and wall [mm].
    thing_mm : float
        What it has shrunk onto [mm], above 0.
    Returns
    -------
    float
        Outer diameter [mm].
    Raises
    ------
    OutOfRange
        If the thing is not a length above 0.
    Notes
    -----
    The wall's section keeps its area: D^2 = b^2 + (b_r + 2 w_r)^2 - b_r^2, b the larger of thing and
    recovered bore. The 5 to 15 % of length that a tube loses between supplied and recovered is not followed.
    Source
    ------
    Conservation of the wall's volume; recovered sizes as printed for the tube.
    """
    if not 0 < thing_mm < math.inf:
        raise OutOfRange("thing_mm", thing_mm, "a length above 0 mm")
    recovered = tube.recovered_bore_mm
    bore = max(thing_mm, recovered)
    return math.sqrt(bore**2 + (recovered + 2 * tube.recovered_wall_mm) ** 2 - recovered**2)


def tube_fit(tube: TubeSize, hand_made_mm: Range, ideal_mm: float) -> TubeFit:
    """How one tube goes with one bundle.

    Parameters
    ----------
    tube : TubeSize
        The tube.
    hand_made_mm : Range
        The bundle as a hand makes it [mm]; its upper value must slide in.
    ideal_mm : float
        The bundle's ideal diameter [mm]; the recovered bore must be smaller, so that it grips in any case.
    Returns
    -------
    TubeFit
        Slides on: supplied bore > upper + 0.2 mm. Grips: recovered bore < ideal. Easy: upper / bore <= 0.8.
    Raises
    ------
    OutOfRange
        If a length is not above 0.
    Source
    ------
    Common practice, no source; bores as guaranteed by the tube's maker.
    """
    thing = hand_made_mm.high
    if not (min(tube.supplied_bore_mm, hand_made_mm.low, ideal_mm) > 0):
        raise OutOfRange("bundle or bore", (tube.supplied_bore_mm, hand_made_mm.low, ideal_mm), "above 0 mm")
    share = thing / tube.supplied_bore_mm
    ends = (outer_diameter_mm(tube, d) for d in (hand_made_mm.low, hand_made_mm.typical, thing))
    slides = tube.supplied_bore_mm > thing + SLIDING_ALLOWANCE_MM
    grips = tube.recovered_bore_mm < ideal_mm
    return TubeFit(tube, thing, ideal_mm, share, slides, grips, share <= FULL_BORE_SHARE, Range(*ends))


def choose_tube(tubes: Sequence[TubeSize], hand_made_mm: Range, ideal_mm: float) -> TubeFit | NoTube:
    """The tube to take: of those that fit, an easy one if there is one, then the narrowest.

    Parameters
    ----------
    tubes : sequence of TubeSize
        What is at hand.
    hand_made_mm, ideal_mm : Range, float
        As for `tube_fit` [mm].
    Returns
    -------
    TubeFit or NoTube
        NoTube says which bore would do and which of the two conditions failed.
    Source
    ------
    `tube_fit`.
    """
    fits = [tube_fit(tube, hand_made_mm, ideal_mm) for tube in tubes]
    good = sorted((f for f in fits if f.fits), key=lambda f: (not f.easy, f.tube.supplied_bore_mm, f.tube.name))
    if good:
        return good[0]
    if not any(f.slides_on for f in fits):
        why = "no tube is wide enough to slide on"
    elif not any(f.grips for f in fits):
        why = "no tube shrinks far enough to grip"
    else:
        why = "the tubes that slide on do not shrink far enough to grip"
    return NoTube(hand_made_mm.high + SLIDING_ALLOWANCE_MM, ideal_mm, why)
