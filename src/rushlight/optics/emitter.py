"""How a small lamp sends its light: cos^m pattern, candela, lumen, lux, and a warm junction.

Words: `order` is the exponent m of the intensity law I = I0 cos^m; lengths are in millimetres.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import number, rows
from rushlight.units import Range, checked

Array = NDArray[np.float64]

MM2_PER_M2 = 1e6


def pattern_order(half_angle_deg: float) -> float:
    """Exponent m of the law I = I0 cos^m from the angle of half intensity.

    Parameters
    ----------
    half_angle_deg : float
        Angle from the axis at which the intensity has halved [deg], 1 to 85. It is HALF the viewing angle
        that data sheets print.
    Returns
    -------
    float
        Exponent [-]; 1 for a Lambertian lamp (60 deg).
    Raises
    ------
    OutOfRange
        If the angle lies outside its range.
    Notes
    -----
    m = -ln 2 / ln cos(half angle). A fit: lensed 3 and 5 mm lamps have rings and side lobes besides.
    Source
    ------
    Definition of the half angle; checked in tests/outside/test_photometric_distance.py.
    """
    checked("half angle (deg)", half_angle_deg, 1.0, 85.0)
    return -math.log(2.0) / math.log(math.cos(math.radians(half_angle_deg)))


def half_angle_deg(order: float) -> float:
    """Angle of half intensity [deg] of a cos^m lamp; the inverse of `pattern_order`.

    Parameters
    ----------
    order : float
        Exponent m [-], more than 0.
    Returns
    -------
    float
        Half angle [deg].
    Raises
    ------
    OutOfRange
        If the exponent is not above 0.
    Source
    ------
    Inverse of the definition in `pattern_order`.
    """
    checked("order", order, 0.0, above=True)
    return math.degrees(math.acos(2.0 ** (-1.0 / order)))


def flux_lm(peak_cd: float, order: float) -> float:
    """Whole flux of a cos^m lamp from its axial intensity.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd], 0 or more.
    order : float
        Exponent m [-], 0 or more.
    Returns
    -------
    float
        Flux into the half space [lm].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Notes
    -----
    Phi = 2 pi I0 / (m + 1). The flat-cone shortcut 2 pi (1 - cos t) I0 is low by 22 to 30 % for beams.
    Source
    ------
    Integral of the law over the half space; quadrature in tests/unit/optics/test_emitter.py.
    """
    checked("intensity (cd)", peak_cd, 0.0)
    checked("order", order, 0.0)
    return 2.0 * math.pi * peak_cd / (order + 1.0)


def peak_cd(flux_lm: float, order: float) -> float:
    """Axial intensity [cd] of a cos^m lamp from its flux [lm]; the inverse of `flux_lm`.

    Parameters
    ----------
    flux_lm : float
        Flux into the half space [lm], 0 or more.
    order : float
        Exponent m [-], 0 or more.
    Returns
    -------
    float
        Intensity on the axis [cd].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Source
    ------
    Inverse of `flux_lm`.
    """
    checked("flux (lm)", flux_lm, 0.0)
    checked("order", order, 0.0)
    return flux_lm * (order + 1.0) / (2.0 * math.pi)


def intensity_cd(peak_cd: float, order: float, *, cosine: ArrayLike) -> Array:
    """Intensity in a direction whose angle to the axis has the given cosine.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd].
    order : float
        Exponent m [-], 0 or more.
    cosine : array
        Cosine of the angle to the axis [-]; nothing is sent backwards (cosine 0 or less).
    Returns
    -------
    array
        Intensity [cd], shape of `cosine`.
    Source
    ------
    The cos^m law.
    """
    forward = np.clip(np.asarray(cosine, dtype=float), 0.0, 1.0)
    return np.where(forward > 0.0, peak_cd * forward**order, 0.0)


def illuminance_parallel_lx(peak_cd: float, order: float, *, gap_mm: float, offset_mm: ArrayLike) -> Array:
    """Illuminance on a plane that the lamp faces squarely.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd].
    order : float
        Exponent m [-], 0 or more.
    gap_mm : float
        Distance from lamp to plane [mm], more than 0.
    offset_mm : array
        Distance in the plane from the foot of the axis [mm].
    Returns
    -------
    array
        Illuminance [lx], shape of `offset_mm`.
    Raises
    ------
    OutOfRange
        If the gap is not above 0.
    Notes
    -----
    E = I0 z^(m+1) / (z^2 + r^2)^((m+3)/2). Point source: within 1 % beyond five times the lamp's size.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104; tests/outside/test_photometric_distance.py.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    square = gap_mm**2 + np.asarray(offset_mm, dtype=float) ** 2
    lx: Array = MM2_PER_M2 * peak_cd * gap_mm ** (order + 1.0) / square ** ((order + 3.0) / 2.0)
    return lx


def illuminance_lx(
    peak_cd: float,
    order: float,
    *,
    lamp_mm: ArrayLike,
    axis: ArrayLike,
    points_mm: ArrayLike,
    normals: ArrayLike,
    edge_deg: float = 90.0,
) -> Array:
    """Illuminance at points of any surface from one lamp aimed anywhere.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd].
    order : float
        Exponent m [-], 0 or more.
    lamp_mm : array (3,)
        Place of the lamp [mm].
    axis : array (3,)
        Direction of its axis [-], any length but 0.
    points_mm : array (n, 3)
        Places lit [mm].
    normals : array (n, 3) or (3,)
        Outward normals of the surface there [-], unit length.
    edge_deg : float
        Half angle of a cone beyond which nothing is sent (a fibre's) [deg], over 0 to 90.
    Returns
    -------
    array (n,)
        Illuminance [lx]; 0 behind the lamp and on the far side of the surface. Shadows are not worked out.
    Raises
    ------
    OutOfRange
        If a point coincides with the lamp, the axis has no length or the edge lies outside its range.
    Notes
    -----
    E = I0 cos^m t cos i / d^2.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104.
    """
    ray = np.atleast_2d(np.asarray(points_mm, dtype=float)) - np.asarray(lamp_mm, dtype=float)
    aim = np.asarray(axis, dtype=float)
    distance_mm = np.linalg.norm(ray, axis=1)
    aim_length = float(np.linalg.norm(aim))
    if aim_length == 0.0 or float(distance_mm.min()) == 0.0:
        raise OutOfRange("distance (mm)", 0.0, "points away from the lamp and an axis with a length")
    unit = ray / distance_mm[:, None]
    facing = np.clip(-np.sum(unit * np.asarray(normals, dtype=float), axis=1), 0.0, 1.0)
    cosine = unit @ (aim / aim_length)
    least = math.cos(math.radians(checked("edge of the cone (deg)", edge_deg, 0.0, 90.0, above=True)))
    sent = np.where(cosine >= least - 1e-12, intensity_cd(peak_cd, order, cosine=cosine), 0.0)
    lx: Array = MM2_PER_M2 * sent * facing / distance_mm**2
    return lx


def disc_illuminance_lx(luminance_cd_m2: float, *, radius_mm: float, distance_mm: float) -> float:
    """Illuminance on the axis of a uniform bright disc, on a plane that faces it.

    Parameters
    ----------
    luminance_cd_m2 : float
        Luminance of the disc [cd/m2], 0 or more.
    radius_mm : float
        Radius of the disc [mm], 0 or more.
    distance_mm : float
        Distance [mm], 0 or more.
    Returns
    -------
    float
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If an argument is negative or both lengths are 0.
    Notes
    -----
    E = pi L a^2 / (a^2 + d^2).
    Source
    ------
    Standard result for a Lambertian disc; the IES five-times rule in tests/outside/.
    """
    checked("luminance (cd/m2)", luminance_cd_m2, 0.0)
    checked("radius (mm)", radius_mm, 0.0)
    checked("distance (mm)", distance_mm, 0.0)
    square = checked("disc and distance (mm2)", radius_mm**2 + distance_mm**2, 0.0, above=True)
    return math.pi * luminance_cd_m2 * radius_mm**2 / square


def patch_luminance_cd_m2(flux_lm: float, area_mm2: float) -> float:
    """Luminance of a Lambertian patch that gives off the flux on one side.

    Parameters
    ----------
    flux_lm : float
        Flux [lm], 0 or more.
    area_mm2 : float
        Area of the patch [mm2], more than 0.
    Returns
    -------
    float
        Luminance [cd/m2].
    Raises
    ------
    OutOfRange
        If the flux is negative or the area not above 0.
    Notes
    -----
    L = Phi / (pi A).
    Source
    ------
    Definition of a Lambertian emitter.
    """
    checked("flux (lm)", flux_lm, 0.0)
    checked("area (mm2)", area_mm2, 0.0, above=True)
    return MM2_PER_M2 * flux_lm / (math.pi * area_mm2)


def junction_factor(rise_k: float, chemistry: str) -> Range:
    """How much of its rated flux a lamp keeps when its junction is warmer than at rating.

    Parameters
    ----------
    rise_k : float
        Junction above the rating's temperature (25 C as a rule) [K], -60 to 120.
    chemistry : str
        'white_blue_green' (InGaN) or 'red_amber' (AlInGaP).
    Returns
    -------
    Range
        Factor on the flux [-]; above 1 when colder.
    Raises
    ------
    OutOfRange
        If the rise lies outside its range.
    UnknownName
        If the chemistry is not in the table.
    Notes
    -----
    Phi(T2) = Phi(T1) exp(-k dT), k from led_flux_temperature.csv.
    Source
    ------
    Exponential law of a high-flux lamp application brief; slopes as said in the table.
    """
    checked("junction rise (K)", rise_k, -60.0, 120.0)
    slope = flux_fall_per_k(chemistry)
    low, typical, high = sorted(math.exp(-each * rise_k) for each in (slope.low, slope.typical, slope.high))
    return Range(low, typical, high)


@cache
def flux_fall_per_k(chemistry: str) -> Range:
    """Share of its flux that a lamp loses with each kelvin of its junction [1/K].

    Parameters
    ----------
    chemistry : str
        'white_blue_green' (InGaN) or 'red_amber' (AlInGaP).
    Returns
    -------
    Range
        Above 0.
    Raises
    ------
    UnknownName
        If the chemistry is not in the table.
    Source
    ------
    led_flux_temperature.csv.
    """
    known = {row["chemistry"]: row for row in rows("led_flux_temperature")}
    if chemistry not in known:
        raise UnknownName("LED chemistry", chemistry, known)
    return Range(*(number(known[chemistry], f"{end}_per_K") or 0.0 for end in ("low", "typical", "high")))
