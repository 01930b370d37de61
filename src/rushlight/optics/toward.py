"""How much of its light a lamp sends towards an eye off its axis: its cone, its sector's screen."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.optics.sector import screened_share
from rushlight.units import checked

Way = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Beam:
    """How a lamp sends its light out.

    `axis` is the unit vector (ahead, port, up) of its axis, None where nobody said how it lies; `order` the exponent
    of its cos^m law, `edge_deg` the half angle beyond which nothing is sent, `arc_deg` the bearings between which its
    screen lets it show (None without one) and `cut_deg` the angle past them within which it goes out.
    """

    axis: Way | None
    order: float = 1.0
    edge_deg: float = 90.0
    arc_deg: tuple[float, float] | None = None
    cut_deg: float = 5.0


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
    cos^m law (`emitter.intensity_cd`); the sharp edge of a fibre's cone, `fibre.axial_intensity_cd`.
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
    Source
    ------
    `cone_share`, `sector.screened_share`.
    """
    share = 1.0
    if beam.axis is not None:
        share = cone_share(beam.order, beam.edge_deg, cosine=sum(a * b for a, b in zip(beam.axis, to_eye, strict=True)))
    level = math.hypot(to_eye[0], to_eye[1])
    if beam.arc_deg is None or share == 0.0 or level < 1e-9:
        return share
    bearing_deg = math.degrees(math.atan2(-to_eye[1], to_eye[0]))
    return share * screened_share(bearing_deg, *beam.arc_deg, cut_deg=beam.cut_deg)
