"""The pool of light that a floodlight throws on ground or deck."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.optics.emitter import illuminance_lx, illuminance_parallel_lx
from rushlight.units import checked

Array = NDArray[np.float64]


def pool_lx(peak_cd: float, order: float, *, height_mm: float, radius_mm: ArrayLike) -> Array:
    """Illuminance of the ground under a lamp aimed straight down.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd], 0 or more.
    order : float
        Exponent m of its pattern [-], 0 or more.
    height_mm : float
        Height over the ground [mm], more than 0.
    radius_mm : array
        Distance on the ground from the foot [mm].
    Returns
    -------
    array
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If the height is not above 0.
    Notes
    -----
    E = I0 h^(m+1) / (h^2 + r^2)^((m+3)/2).
    Source
    ------
    Photometric distance law; 1 cd at 40 mm is 625 lx.
    """
    return illuminance_parallel_lx(peak_cd, order, gap_mm=height_mm, offset_mm=radius_mm)


def tilted_pool_lx(
    peak_cd: float, order: float, *, height_mm: float, tilt_deg: float, x_mm: ArrayLike, y_mm: ArrayLike
) -> Array:
    """Illuminance of the ground from a lamp tilted towards +x.

    Parameters
    ----------
    peak_cd : float
        Intensity on the axis [cd], 0 or more.
    order : float
        Exponent m of its pattern [-], 0 or more.
    height_mm : float
        Height over the ground [mm], more than 0.
    tilt_deg : float
        Angle of the axis from straight down towards +x [deg], -180 to 180.
    x_mm, y_mm : array
        Places on the ground from the foot [mm], alike in shape.
    Returns
    -------
    array
        Illuminance [lx], shape of `x_mm`; 0 behind the lamp.
    Raises
    ------
    OutOfRange
        If the height is not above 0 or the tilt lies outside its range.
    Notes
    -----
    E = I0 cos^m(angle to the axis) h / d^3. The peak lies nearer the lamp than the point aimed at.
    Source
    ------
    Photometric distance law.
    """
    checked("height (mm)", height_mm, 0.0, above=True)
    tilt = math.radians(checked("tilt (deg)", tilt_deg, -180.0, 180.0))
    x, y = np.broadcast_arrays(np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float))
    points = np.stack([x.ravel(), y.ravel(), np.zeros(x.size)], axis=1)
    lit = illuminance_lx(peak_cd, order, lamp_mm=(0.0, 0.0, height_mm), points_mm=points,
                         axis=(math.sin(tilt), 0.0, -math.cos(tilt)), normals=(0.0, 0.0, 1.0))
    return lit.reshape(x.shape)


def pool_radius_mm(order: float, height_mm: float, *, share: float = 0.5) -> float:
    """Radius at which the pool under a lamp has fallen to a share of its middle.

    Parameters
    ----------
    order : float
        Exponent m of its pattern [-], 0 or more.
    height_mm : float
        Height [mm], more than 0.
    share : float
        Share of the middle's illuminance [-], above 0, at most 1.
    Returns
    -------
    float
        Radius [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    h sqrt(share^(-2/(m+3)) - 1).
    Source
    ------
    `pool_lx` solved for the radius.
    """
    checked("order", order, 0.0)
    checked("height (mm)", height_mm, 0.0, above=True)
    checked("share", share, 0.0, 1.0, above=True)
    return float(height_mm * math.sqrt(share ** (-2.0 / (order + 3.0)) - 1.0))


def flux_within(order: float, height_mm: float, *, radius_mm: float) -> float:
    """Share of a downward lamp's flux that falls within a radius of its foot.

    Parameters
    ----------
    order : float
        Exponent m of its pattern [-], 0 or more.
    height_mm : float
        Height [mm], more than 0.
    radius_mm : float
        Radius on the ground [mm], 0 or more.
    Returns
    -------
    float
        Fraction [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    1 - cos^(m+1) atan(r/h).
    Source
    ------
    Integral of `pool_lx`; checked by quadrature.
    """
    checked("order", order, 0.0)
    checked("height (mm)", height_mm, 0.0, above=True)
    checked("radius (mm)", radius_mm, 0.0)
    return float(1.0 - (1.0 + (radius_mm / height_mm) ** 2) ** (-(order + 1.0) / 2.0))


def cone_edge_mm(height_mm: float, half_angle_deg: float) -> float:
    """Radius of the pool of a sharp cone (a fibre's tip) [mm]: h tan t.

    Parameters
    ----------
    height_mm : float
        Height [mm], more than 0.
    half_angle_deg : float
        Half angle of the cone [deg], 0 to 89.
    Returns
    -------
    float
        Radius [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Geometry.
    """
    checked("height (mm)", height_mm, 0.0, above=True)
    return height_mm * math.tan(math.radians(checked("half angle (deg)", half_angle_deg, 0.0, 89.0)))
