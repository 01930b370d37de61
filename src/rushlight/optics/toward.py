"""What an eye off a lamp's axis sees of it: its cone, its sector's screen, how narrow it looks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.optics.sector import screened_share
from rushlight.units import checked

RIM = -1e-9
"""Cosine down to which a dome is seen: square from its side, rounding let pass."""

Way = tuple[float, float, float]
Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Beam:
    """How a lamp sends its light out.

    `axis` is the unit vector (ahead, port, up) of its axis, None where nobody said how it lies; `order` the exponent
    of its cos^m law, `edge_deg` the half angle beyond which nothing is sent, `arc_deg` the bearings between which its
    screen lets it show (None without one) and `cut_deg` the angle past them within which it goes out. `lies` are the
    ways of x and y on the drawing of a flat lamp; None for one that looks alike from all sides, or of which nobody
    said how it lies. `side` is what a dome that glows sends at right angles to its axis, over that on it.
    """

    axis: Way | None
    order: float = 1.0
    edge_deg: float = 90.0
    arc_deg: tuple[float, float] | None = None
    cut_deg: float = 5.0
    lies: tuple[Way, Way] | None = None
    side: float = 0.0


def cone_share(order: float, edge_deg: float, *, cosine: float) -> float:
    """Intensity off the axis of a cone, over that on it.

    Parameters
    ----------
    order : float
        Exponent m of the cos^m law [-], 0 or more.
    edge_deg : float
        Half angle of the cone [deg], 90 for a lamp that sends light into a half space.
    cosine : float
        Cosine of the angle to the axis [-].
    Returns
    -------
    float
        Share [-], 0 to 1; 0 beyond the edge and behind.
    Raises
    ------
    OutOfRange
        If the exponent or the edge lies outside its range.
    Source
    ------
    cos^m law (`emitter.intensity_cd`); the sharp edge of a fibre's cone, `fibre_cone.axial_intensity_cd`.
    """
    checked("order", order, 0.0)
    least = math.cos(math.radians(checked("edge of the cone (deg)", edge_deg, 0.0, 90.0)))
    return min(cosine, 1.0) ** order if cosine > 1e-9 and cosine >= least - 1e-12 else 0.0


def beam_share(beam: Beam, to_eye: Way) -> float:
    """Intensity of a lamp towards an eye, over that on its axis.

    Parameters
    ----------
    beam : Beam
        The lamp.
    to_eye : (ahead, port, up)
        Unit vector from the lamp to the eye.
    Returns
    -------
    float
        Share [-], 0 to 1. A lamp of which the axis is not known is taken to look at the eye.
    Notes
    -----
    A dome never sends less than its `side` into the half space before it, its rim included.
    Source
    ------
    `cone_share`, `sector.screened_share`.
    """
    share = 1.0
    if beam.axis is not None:
        cosine = sum(a * b for a, b in zip(beam.axis, to_eye, strict=True))
        share = cone_share(beam.order, beam.edge_deg, cosine=cosine)
        share = max(share, beam.side) if cosine >= RIM else share
    level = math.hypot(to_eye[0], to_eye[1])
    if beam.arc_deg is None or share == 0.0 or level < 1e-9:
        return share
    bearing_deg = math.degrees(math.atan2(-to_eye[1], to_eye[0]))
    return share * screened_share(bearing_deg, *beam.arc_deg, cut_deg=beam.cut_deg)


def seen_aslant(points: tuple[Place, ...], lean: Place, *, about: Place) -> tuple[Place, ...]:
    """Places of a flat shape as an eye off its straight look sees them: drawn together along the lean.

    Parameters
    ----------
    points : tuple of (x, y)
        In any length.
    lean : (x, y)
        The unit vector to the eye along the shape's own x and y [-]: as long as the sine of the angle off the straight
        look, 0 to 1.
    about : (x, y)
        The place that stays.
    Returns
    -------
    tuple of (x, y)
        The same places; an area is the cosine of the angle times what it was, a length across the lean as it was.
    Raises
    ------
    OutOfRange
        If the lean is longer than 1.
    Notes
    -----
    p - l (l . p) / (1 + cos): cos along the lean, 1 across it. The turn about the line of sight is left out (polar
    decomposition), so that what is laid out flat stays as it is laid.
    Source
    ------
    Orthographic projection of a flat shape.
    """
    share = 1.0 / (1.0 + lean_cosine(lean))
    off = [share * ((x - about[0]) * lean[0] + (y - about[1]) * lean[1]) for x, y in points]
    return tuple((x - by * lean[0], y - by * lean[1]) for (x, y), by in zip(points, off, strict=True))


def lean_cosine(lean: Place) -> float:
    """Cosine of the angle off the straight look [-] by a lean as in `seen_aslant`, with its errors."""
    sine = checked("length of the lean", math.hypot(*lean), 0.0, 1.0 + 1e-6)
    return math.sqrt(max(1.0 - sine * sine, 0.0))
