"""Light through slits, rings and holes of a wall: how bright they look over what lies behind, and when it is seen."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.units import checked

Array = NDArray[np.float64]

MOST_DEPTH = 150.0
"""A slit that is deeper over its width is counted as this deep: what comes through is under 1 % then."""


def slit_share(depth: float, reflectance: float = 0.0) -> float:
    """Mean luminance of a long slit over that of the matt wall behind it, over all directions.

    Parameters
    ----------
    depth : float
        Depth over width [-], 0 or more.
    reflectance : float
        Reflectance of its flanks [-], 0 to 0.98.
    Returns
    -------
    float
        Share [-], 0 to 1: also the share of the light that enters which leaves on the other side.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    With black flanks sqrt(1 + x^2) - x. Flanks that reflect are cut in strips which light one another.
    Square on the slit shows the wall behind it itself.
    Source
    ------
    Crossed strings (Hottel 1954; Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-1); radiosity.
    """
    x = min(checked("depth over width", depth, 0.0), MOST_DEPTH)
    rho = checked("reflectance", reflectance, 0.0, 0.98)
    straight = math.sqrt(1.0 + x * x) - x
    return straight if rho == 0.0 or x == 0.0 else straight + _scattered(round(x, 4), round(rho, 4))


@lru_cache(maxsize=1024)
def _scattered(x: float, rho: float) -> float:
    """What the two flanks send on: both alike, in strips."""
    ends = np.linspace(0.0, x, max(24, math.ceil(2.0 * x)) + 1)
    start, end = ends[:-1], ends[1:]
    long = end - start
    lit = _to_mouth(start, end)
    from_start, from_end = start[:, None], end[:, None]
    across = (np.hypot(1.0, from_start - end) + np.hypot(1.0, from_end - start)
              - np.hypot(1.0, from_start - start) - np.hypot(1.0, from_end - end)) / (2.0 * long[:, None])
    sent = np.linalg.solve(np.eye(len(long)) - rho * across, rho * lit)
    return float(2.0 * np.sum(sent * long * _to_mouth(x - end, x - start)))


def _to_mouth(near: Array, far: Array) -> Array:
    """Configuration factor from strips of a flank, so far from a mouth of width 1, to that mouth."""
    return np.asarray((np.hypot(1.0, near) + far - near - np.hypot(1.0, far)) / (2.0 * (far - near)))


def lip_share(depth: float, lap: float, reflectance: float) -> float:
    """The same of a slit with a lip close behind it: what is seen in it is the face of the lip.

    Parameters
    ----------
    depth : float
        Depth of the slit over its width [-], 0 or more.
    lap : float
        How far the lip laps beyond the slit, over the width of the gap that is left there [-], 0 or more.
    reflectance : float
        Reflectance of lip and flanks [-], 0 to 0.98.
    Returns
    -------
    float
        Share [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Light comes through the gap between lip and wall, as wide as the slit, meets the lip's face at its side
    (factor 1 - 1 / sqrt 2) and leaves by the slit: rho (1 - 1/sqrt 2) slit_share(lap) slit_share(depth).
    Source
    ------
    Two plates at a right angle (Howell C-3), crossed strings; what goes to and fro more often is left out.
    """
    rho = checked("reflectance", reflectance, 0.0, 0.98)
    return rho * (1.0 - math.sqrt(0.5)) * slit_share(lap, rho) * slit_share(depth, rho)


def hole_share(depth: float) -> float:
    """Mean luminance of a round hole with a black wall over that of the matt wall behind it.

    Parameters
    ----------
    depth : float
        Depth over diameter [-], 0 or more.
    Returns
    -------
    float
        Share [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If the depth is negative.
    Notes
    -----
    (X - sqrt(X^2 - 4)) / 2, X = 2 + 4 (depth/diameter)^2.
    Source
    ------
    Coaxial equal discs (Howell C-41).
    """
    x = 2.0 + 4.0 * checked("depth over diameter", depth, 0.0) ** 2
    return 2.0 / (x + math.sqrt(x * x - 4.0))


def inner_wall_cd_m2(inside_lx: float, reflectance: float) -> float:
    """Luminance of the inside of a hull: rho E / pi.

    Parameters
    ----------
    inside_lx : float
        Light on it [lx], 0 or more.
    reflectance : float
        Its reflectance [-], 0 to 1.
    Returns
    -------
    float
        Luminance [cd/m2].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of a matt surface; with `wall.cavity_lx` the radiance of an integrating sphere.
    """
    checked("inside illuminance (lx)", inside_lx, 0.0)
    return checked("reflectance", reflectance, 0.0, 1.0) * inside_lx / math.pi


def seen_as_cd_m2(luminance_cd_m2: float, *, width_mm: float, area_mm2: float, sums_over_mm: float) -> float:
    """Luminance of a wide patch that an eye notices as easily as a thin line or a small ring.

    Parameters
    ----------
    luminance_cd_m2 : float
        Its own luminance [cd/m2], 0 or more.
    width_mm, area_mm2 : float
        Its width [mm] and whole area [mm2], 0 or more.
    sums_over_mm : float
        Diameter over which the eye sums light, at the model [mm], above 0.
    Returns
    -------
    float
        Luminance [cd/m2], at most its own.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    L min(1, w / D, A / (pi D^2 / 4)).
    Source
    ------
    Ricco's law (1877): within the summation area only the product of luminance and area counts.
    """
    checked("luminance (cd/m2)", luminance_cd_m2, 0.0)
    across = checked("summation (mm)", sums_over_mm, 0.0, above=True)
    share = min(checked("width (mm)", width_mm, 0.0) / across,
                checked("area (mm2)", area_mm2, 0.0) / (math.pi * across**2 / 4.0))
    return luminance_cd_m2 * min(1.0, share)
