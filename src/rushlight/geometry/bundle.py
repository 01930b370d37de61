"""A bundle at the bench: how wide a hand makes it, its rings, what holds it, which LED's face it suits."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rushlight import tables
from rushlight.errors import OutOfRange
from rushlight.geometry import _holes
from rushlight.geometry._face import FaceFit, FaceOverlap, FaceVerdict, LedFace, face_overlap, led_face_fits, lit_shares
from rushlight.geometry._tube import NoTube, TubeFit, TubeSize, choose_tube, outer_diameter_mm, tube_fit
from rushlight.geometry.circles import Packing, enclosing_circle
from rushlight.units import Range, checked

__all__ = [
    "CountStep", "FaceFit", "FaceOverlap", "FaceVerdict", "LedFace", "NoTube", "SleevePlace", "TubeFit", "TubeSize",
    "choose_tube", "count_step", "face_overlap", "fill_share", "free_places", "hand_made_diameter_mm",
    "led_face_fits", "lit_shares", "loose_offsets_mm", "one_more_is_free", "outer_diameter_mm", "ring_of_each", "rings",
    "sleeve_places", "tube_fit",
]

LENGTH_LOSS = (0.05, 0.15)
"""Share of its length that a tube loses when shrunk (public maker note)."""


@dataclass(frozen=True, slots=True)
class CountStep:
    """What one fibre more costs and one fewer saves, as a share of the bundle's ideal diameter [-]."""

    count: int
    one_more_share: float
    one_fewer_share: float

    @property
    def one_more_is_free(self) -> bool:
        """True where the next fibre costs no diameter (6 to 7, 18 to 19)."""
        return self.one_more_share < 1e-9


@dataclass(frozen=True, slots=True)
class SleevePlace:
    """One piece of heat shrink on a bundle: where its middle sits, and how long to cut it."""

    place: str
    from_led_mm: float
    cut_mm: float


def hand_made_diameter_mm(
    packing: Packing, *, diameter_tolerance: float = 0.0, measured_mm: float | None = None
) -> Range:
    """Diameter to expect of a bundle laid and tied by hand.

    Parameters
    ----------
    packing : Packing
        The ideal bundle in section.
    diameter_tolerance : float
        Relative tolerance of a fibre's diameter [-], 0 to 0.2.
    measured_mm : float, optional
        A caliper's reading [mm]; it replaces the estimate.
    Returns
    -------
    Range
        Diameter [mm].
    Raises
    ------
    OutOfRange
        If the tolerance lies outside its range, or the reading is below what such fibres could ever fill
        or above three times the ideal.
    Notes
    -----
    Ideal diameter times a factor by count (1.00 to 1.03 up to 7 fibres, 1.03 to 1.08 from 8), its ends
    times 1 -/+ tolerance. The factor is a judgement; real bundles have crossings.
    Source
    ------
    data/bundle_hand_made.csv.
    """
    if not 0.0 <= diameter_tolerance <= 0.2:
        raise OutOfRange("diameter_tolerance", diameter_tolerance, "0 to 0.2")
    if measured_mm is not None:
        return _measured(packing, measured_mm, diameter_tolerance)
    factor = hand_factor(packing.count)
    ideal = packing.diameter_mm
    low = ideal * factor.low * (1 - diameter_tolerance)
    return Range(low, ideal * factor.typical, ideal * factor.high * (1 + diameter_tolerance))


def loose_offsets_mm(packing: Packing, width_mm: Range) -> tuple[Range, ...]:
    """How far from the middle each fibre of a bundle lies that is wider than the ideal one.

    Parameters
    ----------
    packing : Packing
        The ideal bundle in section, of diameter D.
    width_mm : Range
        The bundle's diameter D' as tied [mm], above 0; `hand_made_diameter_mm`.
    Returns
    -------
    tuple of Range
        Of each circle [mm], 0 or more.
    Raises
    ------
    OutOfRange
        If the width is not above 0.
    Notes
    -----
    r (D' - d) / (D - d): a fibre at the rim of the ideal bundle lies at the rim of the loose one, the middle one stays.
    Real bundles lie at random within that: the middle of many.
    Source
    ------
    Even stretching, an assumption; the widths are those of data/bundle_hand_made.csv.
    """
    checked("bundle's width (mm)", width_mm.low, 0.0, above=True)
    found = []
    for width, (x, y) in zip(packing.diameters_mm, packing.centres_mm, strict=True):
        room, radius = packing.diameter_mm - width, math.hypot(x, y)
        times = [max(end - width, 0.0) / room if room > 1e-9 else 0.0
                 for end in (width_mm.low, width_mm.typical, width_mm.high)]
        found.append(Range(*(radius * one for one in times)))
    return tuple(found)


def _measured(packing: Packing, measured_mm: float, tolerance: float) -> Range:
    low, high = packing.lower_bound_mm * (1 - tolerance) * 0.98, packing.diameter_mm * 3
    if not low <= measured_mm <= high:
        raise OutOfRange("measured_mm", measured_mm, f"{low:.2f} to {high:.2f} mm for these fibres")
    return Range.exactly(measured_mm)


def hand_factor(count: int) -> Range:
    """Diameter of a bundle gathered by hand over its ideal one.

    Parameters
    ----------
    count : int
        How many fibres.
    Returns
    -------
    Range
        Factor [-].
    Raises
    ------
    OutOfRange
        If the table has no such count.
    Source
    ------
    data/bundle_hand_made.csv.
    """
    row = _hand_row(count)
    return Range(float(row["low_factor"]), float(row["typical_factor"]), float(row["high_factor"]))


def hand_class(count: int) -> str:
    """Which counts a hand ties alike, as a row of the table has them: '8 fibres or more'.

    Parameters
    ----------
    count : int
        How many fibres.
    Returns
    -------
    str
        The row in words.
    Raises
    ------
    OutOfRange
        If the table has no such count.
    Source
    ------
    data/bundle_hand_made.csv.
    """
    row = _hand_row(count)
    if row == tables.rows("bundle_hand_made")[-1]:
        return f"{row['count_from']} fibres or more"
    return f"{row['count_from']} to {row['count_to']} fibres"


def _hand_row(count: int) -> Mapping[str, str]:
    for row in tables.rows("bundle_hand_made"):
        if int(row["count_from"]) <= count <= int(row["count_to"]):
            return row
    raise OutOfRange("count", count, "a count of data/bundle_hand_made.csv")


def fill_share(diameters_mm: Sequence[float], diameter_mm: float) -> float:
    """Share of a circle that fibres fill; with the hand-made diameter, the share that coupling uses.

    Parameters
    ----------
    diameters_mm : sequence of float
        Fibre diameters [mm], above 0.
    diameter_mm : float
        The circle's diameter [mm]; no less than the fibres' area needs.
    Returns
    -------
    float
        sum d^2 / D^2 [-], above 0, at most 1.
    Raises
    ------
    OutOfRange
        If the circle is smaller than the fibres' area, or a length is not above 0.
    Source
    ------
    Ratio of areas.
    """
    if not diameters_mm or not min(diameters_mm) > 0:
        raise OutOfRange("diameters_mm", tuple(diameters_mm), "lengths above 0 mm")
    square = math.fsum(d * d for d in diameters_mm)
    if not square <= diameter_mm**2 * (1 + 1e-12):
        raise OutOfRange("diameter_mm", diameter_mm, f"{math.sqrt(square):.4f} mm or more for these fibres")
    return min(square / diameter_mm**2, 1.0)


def count_step(count: int) -> CountStep:
    """What one equal fibre more costs and one fewer saves.

    Parameters
    ----------
    count : int
        Number of equal fibres, 1 to 200.
    Returns
    -------
    CountStep
        Both as shares of the diameter for `count` [-].
    Raises
    ------
    OutOfRange
        If the count lies outside its range.
    Notes
    -----
    From best-known packings: 36 to 37 costs 0.2 %, 37 to 38 costs 3.0 %.
    Source
    ------
    `enclosing_circle`.
    """
    if not 1 <= count <= 200:
        raise OutOfRange("count", count, "1 to 200")
    here, more = _equal_ratio(count), _equal_ratio(count + 1)
    fewer = _equal_ratio(count - 1) if count > 1 else 0.0
    return CountStep(count, max(more / here - 1, 0.0), max(1 - fewer / here, 0.0))


def one_more_is_free(count: int) -> bool:
    """True where one equal fibre more does not widen the bundle: 6 and 18 among the usual counts.

    Parameters
    ----------
    count : int
        Number of equal fibres, 1 to 200.
    Returns
    -------
    bool
        Whether the next one is free.
    Raises
    ------
    OutOfRange
        If the count lies outside its range.
    Source
    ------
    `count_step`.
    """
    return count_step(count).one_more_is_free


def free_places(packing: Packing, diameter_mm: float) -> int:
    """How many more fibres of a diameter fit into the holes of a bundle without widening it.

    Parameters
    ----------
    packing : Packing
        The bundle in section.
    diameter_mm : float
        Diameter of the further fibres [mm], above 0.
    Returns
    -------
    int
        A number that surely fits, with every fibre staying where it is drawn; moving some might make room for more.
    Raises
    ------
    OutOfRange
        If the diameter is not above 0, or so small that more than 200 would fit.
    Source
    ------
    Spots that touch two fibres, or one and the wall, taken the snuggest first.
    """
    room = packing.diameter_mm**2 - math.fsum(d * d for d in packing.diameters_mm)
    if not (diameter_mm > 0 and room < 200 * diameter_mm**2):
        raise OutOfRange("diameter_mm", diameter_mm, f"above {math.sqrt(max(room, 0.0) / 200):.4f} mm in these holes")
    centres, radii = np.array(packing.centres_mm), np.array(packing.diameters_mm) / 2
    most = int(room / diameter_mm**2)
    rest = np.full(most, diameter_mm / 2)
    whole = _holes.filled_as_far(centres, radii, rest, packing.diameter_mm / 2)
    return len(whole) - packing.count


def _equal_ratio(count: int) -> float:
    return enclosing_circle([1.0] * count).diameter_mm


def sleeve_places(
    bundle_length_mm: float, diameter_mm: float, *, piece_mm: float = 10.0
) -> tuple[SleevePlace, ...]:
    """The three pieces of heat shrink that hold a bundle: at the LED, at the middle, where it fans out.

    Parameters
    ----------
    bundle_length_mm : float
        From the LED to where the fibres part [mm], above 0.
    diameter_mm : float
        The bundle's diameter [mm], above 0: a piece is no shorter than it.
    piece_mm : float
        Wanted length of a piece once shrunk [mm], above 0.
    Returns
    -------
    tuple of SleevePlace
        Middles from the LED [mm]; lengths to cut [mm], 15 % over for what shrinking takes.
    Raises
    ------
    OutOfRange
        If a length is not above 0.
    Notes
    -----
    A bundle too short for three pieces side by side gets one piece over its whole length, named for all three.
    Source
    ------
    Three pieces: common practice, no source. Length loss 5 to 15 %: public maker note (parts_heat_shrink_rules).
    """
    if not min(bundle_length_mm, diameter_mm, piece_mm) > 0:
        raise OutOfRange("lengths", (bundle_length_mm, diameter_mm, piece_mm), "above 0 mm")
    piece = max(piece_mm, diameter_mm)
    loss = 1 - LENGTH_LOSS[1]
    if bundle_length_mm < 3 * piece:
        return (SleevePlace("from the LED to the fan-out", bundle_length_mm / 2, bundle_length_mm / loss),)
    middles = (piece / 2, bundle_length_mm / 2, bundle_length_mm - piece / 2)
    names = ("at the LED", "at the middle", "at the fan-out")
    return tuple(SleevePlace(name, at, piece / loss) for name, at in zip(names, middles, strict=True))


def ring_of_each(packing: Packing) -> tuple[int, ...]:
    """The ring of each circle, 0 at the middle of the bundle.

    Parameters
    ----------
    packing : Packing
        The bundle in section.
    Returns
    -------
    tuple of int
        Ring of each circle, in the packing's order; every ring from 0 on has a circle.
    Notes
    -----
    Rings are counted inward from the wall: gap to the wall over the row distance 0.94 d (between 0.87 in a
    hexagonal cut and 1 in plain rings), rounded; then numbered from the innermost one that holds a circle.
    Source
    ------
    Own definition; hexagonal and curved hexagonal bundles give 1, 6, 12, 18, ...
    """
    mean = math.fsum(packing.diameters_mm) / packing.count
    layer = []
    for d, (x, y) in zip(packing.diameters_mm, packing.centres_mm, strict=True):
        gap = packing.diameter_mm / 2 - math.hypot(x, y) - d / 2
        layer.append(round(max(gap, 0.0) / (0.94 * mean)))
    number = {depth: ring for ring, depth in enumerate(sorted(set(layer), reverse=True))}
    return tuple(number[depth] for depth in layer)


def rings(packing: Packing) -> tuple[tuple[int, ...], ...]:
    """Which circles lie in which ring, innermost ring first, each ring in order of angle.

    Parameters
    ----------
    packing : Packing
        The bundle in section.
    Returns
    -------
    tuple of tuple of int
        Places in the packing's order.
    Source
    ------
    `ring_of_each`.
    """
    ring = ring_of_each(packing)
    angle = [math.atan2(y, x) for x, y in packing.centres_mm]
    members = ([k for k in range(packing.count) if ring[k] == r] for r in range(max(ring) + 1))
    return tuple(tuple(sorted(m, key=lambda k: (angle[k], k))) for m in members)
