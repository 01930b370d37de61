"""An LED's face under a bundle: the habit's ratio, and the light that really finds fibres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from rushlight.errors import OutOfRange
from rushlight.geometry.circles import Packing
from rushlight.units import Range

HABIT_LOW, HABIT_HIGH = 0.8, 1.1
"""Bundle over LED face by habit (common practice, no source); `face_overlap` is the physics behind it."""


@dataclass(frozen=True, slots=True)
class LedFace:
    """The flat face of an LED that a bundle sits on; round, or square with this width."""

    name: str
    width_mm: float
    round_face: bool = False


class FaceVerdict(StrEnum):
    """How a bundle and a face go together by the habit 0.8 to 1.1."""

    FITS = "fits"
    BUNDLE_NARROW = "bundle narrow: light passes beside it"
    BUNDLE_WIDE = "bundle wide: outer fibres are fed less"


@dataclass(frozen=True, slots=True)
class FaceOverlap:
    """Shares of a face and of a bundle, laid on each other with common centres, that face each other [-]."""

    caught_share: float
    lit_share: float


@dataclass(frozen=True, slots=True)
class FaceFit:
    """One LED face under one bundle; `bundle_mm` is the hand-made middle value that was used."""

    face: LedFace
    bundle_mm: float
    width_ratio: float
    verdict: FaceVerdict
    overlap: FaceOverlap


def face_overlap(bundle_mm: float, face: LedFace) -> FaceOverlap:
    """Area of an LED's face under a bundle, as shares of both.

    Parameters
    ----------
    bundle_mm : float
        The bundle's diameter [mm], above 0.
    face : LedFace
        Round or square face.
    Returns
    -------
    FaceOverlap
        caught_share of the face that the bundle covers, lit_share of the bundle that lies over the face [-].
    Raises
    ------
    OutOfRange
        If a length is not above 0.
    Notes
    -----
    The physics behind the habit: at 0.8 a square face is half covered and the bundle wholly lit, at 1.1 it
    is 0.89 covered and the bundle 0.94 lit. Flat on the face, evenly bright, common centre.
    Source
    ------
    Area common to a circle and a concentric square: circle less four segments.
    """
    if not (bundle_mm > 0 and face.width_mm > 0):
        raise OutOfRange("bundle or face", (bundle_mm, face.width_mm), "lengths above 0 mm")
    disc = math.pi * bundle_mm**2 / 4
    if face.round_face:
        whole = math.pi * face.width_mm**2 / 4
        common = min(disc, whole)
    else:
        whole = face.width_mm**2
        common = min(disc - 4 * _segment_mm2(bundle_mm / 2, face.width_mm / 2), whole)
        common = whole if bundle_mm >= face.width_mm * math.sqrt(2) else common
    return FaceOverlap(common / whole, common / disc)


def _segment_mm2(radius: float, distance: float) -> float:
    """Area of a disc beyond a straight line at a distance from its centre; a negative distance is allowed."""
    if distance >= radius:
        return 0.0
    if distance <= -radius:
        return math.pi * radius**2
    return radius**2 * math.acos(distance / radius) - distance * math.sqrt(radius**2 - distance**2)


def led_face_fits(hand_made_mm: Range, faces: Sequence[LedFace]) -> tuple[FaceFit, ...]:
    """Every face under the bundle, best first: the habit's ratio, and what the face really feeds.

    Parameters
    ----------
    hand_made_mm : Range
        The bundle as a hand makes it [mm]; the middle value is used.
    faces : sequence of LedFace
        Faces at hand.
    Returns
    -------
    tuple of FaceFit
        Those of the habit (0.8 <= bundle / face <= 1.1) first, then by how near to as wide as the face.
    Raises
    ------
    OutOfRange
        As `face_overlap`.
    Source
    ------
    Common practice, no source; `face_overlap`.
    """
    return tuple(sorted((_face_fit(hand_made_mm.typical, face) for face in faces), key=_face_order))


def _face_fit(bundle_mm: float, face: LedFace) -> FaceFit:
    overlap = face_overlap(bundle_mm, face)
    ratio = bundle_mm / face.width_mm
    verdict = FaceVerdict.FITS
    if ratio < HABIT_LOW:
        verdict = FaceVerdict.BUNDLE_NARROW
    elif ratio > HABIT_HIGH:
        verdict = FaceVerdict.BUNDLE_WIDE
    return FaceFit(face, bundle_mm, ratio, verdict, overlap)


def _face_order(fit: FaceFit) -> tuple[bool, float, str]:
    return (fit.verdict is not FaceVerdict.FITS, round(abs(math.log(fit.width_ratio)), 12), fit.face.name)


def lit_shares(packing: Packing, face: LedFace, *, spread: float = 1.0) -> tuple[float, ...]:
    """Share of each fibre's end that lies over the LED's face, turned the unluckiest way.

    Parameters
    ----------
    packing : Packing
        The bundle in section.
    face : LedFace
        Round or square face, centred under the bundle.
    spread : float
        Hand-made over ideal diameter [-], 1 to 2: centres move outward by it.
    Returns
    -------
    tuple of float
        One share [-] a fibre, in the packing's order.
    Raises
    ------
    OutOfRange
        If the spread lies outside its range.
    Notes
    -----
    On a square face the bundle is turned so that the fibre lies against the middle of a side: the lowest value.
    Source
    ------
    Segment of a circle; area common to two circles.
    """
    if not 1.0 <= spread <= 2.0:
        raise OutOfRange("spread", spread, "1 to 2")
    half = face.width_mm / 2
    shares = []
    for d, (x, y) in zip(packing.diameters_mm, packing.centres_mm, strict=True):
        out = math.hypot(x, y) * spread
        beyond = _segment_mm2(d / 2, half - out)
        lit = _lens_mm2(d / 2, half, out) if face.round_face else math.pi * d * d / 4 - beyond
        shares.append(min(max(lit / (math.pi * d * d / 4), 0.0), 1.0))
    return tuple(shares)


def _lens_mm2(a: float, b: float, apart: float) -> float:
    """Area common to two circles of radii a and b: two segments on the common chord."""
    if apart <= abs(a - b):
        return math.pi * min(a, b) ** 2
    if apart >= a + b:
        return 0.0
    chord = (apart**2 + a**2 - b**2) / (2 * apart)
    return _segment_mm2(a, chord) + _segment_mm2(b, apart - chord)
