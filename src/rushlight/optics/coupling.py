"""From a lamp into fibres: what share of the light each fibre of a bundle takes in.

Words: `na` is the fibre's numerical aperture in air, `gap` the distance from the (virtual) source to the
bundle's face, `offset` the distance of a fibre's centre from the axis of the lamp.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.units import checked

Array = NDArray[np.float64]

CORE_INDEX = 1.492
"""Refractive index of the PMMA core at 589 nm (handbook value, from memory)."""

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(64)
_DISC_NODES, _DISC_WEIGHTS = np.polynomial.legendre.leggauss(20)
_DISC_COSINES = np.cos((np.arange(24) + 0.5) * (math.pi / 24))


def _gauss(low: float, high: float) -> tuple[Array, Array]:
    """Nodes and weights of the Gauss-Legendre rule between two limits."""
    half = 0.5 * (high - low)
    return low + half * (_NODES + 1.0), half * _WEIGHTS


def acceptance_fraction(na: float, order: float) -> float:
    """Share of a cos^m lamp's flux that lies within a fibre's acceptance cone.

    Parameters
    ----------
    na : float
        Numerical aperture in air [-], above 0, at most 1.
    order : float
        Exponent m of the lamp [-], 0 or more.
    Returns
    -------
    float
        Fraction of the flux [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    1 - cos^(m+1) t_a = 1 - (1 - na^2)^((m+1)/2), sin t_a = na. Lamp flat on the fibre, not wider than its core.
    Source
    ------
    Integral of the cos^m law over the cone; m = 1 gives na^2 (SPIE Field Guide to Illumination, etendue).
    """
    checked("numerical aperture", na, 0.0, 1.0, above=True)
    checked("order", order, 0.0)
    return float(1.0 - (1.0 - na * na) ** ((order + 1.0) / 2.0))


def overlap_area_mm2(first_radius_mm: float, second_radius_mm: float, offset_mm: float) -> float:
    """Area common to two circles whose centres lie `offset_mm` apart.

    Parameters
    ----------
    first_radius_mm, second_radius_mm : float
        Radii [mm], 0 or more.
    offset_mm : float
        Distance of the centres [mm], 0 or more.
    Returns
    -------
    float
        Common area [mm2].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Source
    ------
    Two circular segments, plane geometry.
    """
    for name, value in (("radius", first_radius_mm), ("radius", second_radius_mm), ("offset", offset_mm)):
        checked(f"{name} (mm)", value, 0.0)
    small, large = sorted((first_radius_mm, second_radius_mm))
    if offset_mm >= small + large:
        return 0.0
    if offset_mm <= large - small:
        return math.pi * small**2
    return _segment(small, large, offset_mm) + _segment(large, small, offset_mm)


def _segment(radius: float, other: float, offset: float) -> float:
    """Segment of one circle cut off by the chord common with another."""
    cosine = (offset**2 + radius**2 - other**2) / (2.0 * offset * radius)
    angle = math.acos(min(1.0, max(-1.0, cosine)))
    return radius**2 * (angle - math.sin(angle) * math.cos(angle))


def ring_share(ring_mm: Array, offset_mm: Array | float, radius_mm: float) -> Array:
    """Share of a ring's circumference that lies inside a circle off its centre.

    Parameters
    ----------
    ring_mm : array
        Radii of the rings [mm], more than 0.
    offset_mm : array or float
        Distance from the rings' centre to the circle's centre [mm], 0 or more.
    radius_mm : float
        Radius of the circle [mm].
    Returns
    -------
    array
        Share [-], 0 to 1.
    Source
    ------
    Law of cosines.
    """
    offset = np.maximum(np.asarray(offset_mm, dtype=float), 1e-12)
    cosine = (ring_mm**2 + offset**2 - radius_mm**2) / (2.0 * ring_mm * offset)
    share: Array = np.arccos(np.clip(cosine, -1.0, 1.0)) / math.pi
    return share


def point_fraction(order: float, *, gap_mm: float, core_radius_mm: float, offset_mm: float, na: float) -> float:
    """Share of a lensed lamp's flux that one fibre of a bundle takes in.

    Parameters
    ----------
    order : float
        Exponent m of the lamp [-], 0 or more.
    gap_mm : float
        Distance from the lamp's virtual source to the bundle's face [mm], more than 0. The virtual source of
        a lensed lamp lies inside the body (4 to 6 mm behind the tip of a 5 mm one), not at the tip.
    core_radius_mm : float
        Radius of the fibre's core [mm], more than 0.
    offset_mm : float
        Distance of the fibre from the lamp's axis [mm], 0 or more.
    na : float
        Numerical aperture in air [-], above 0, at most 1.
    Returns
    -------
    float
        Fraction of the lamp's flux [-]; faces and losses are not included.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Integral of the cos^m law over the core, within the acceptance cone, in rings about the axis:
    with w = cos^(m+1) t each ring carries dw. On the axis 1 - cos^(m+1) min(atan(a/g), t_a); a small core at
    offset r takes f0 (g^2/(g^2+r^2))^((m+3)/2).
    Source
    ------
    Integral of the cos^m law; Monte Carlo in tests/outside/test_bundle_monte_carlo.py.
    """
    checked("order", order, 0.0)
    checked("gap (mm)", gap_mm, 0.0, above=True)
    checked("core radius (mm)", core_radius_mm, 0.0, above=True)
    checked("offset (mm)", offset_mm, 0.0)
    checked("numerical aperture", na, 0.0, 1.0, above=True)
    return _point_share(order, gap_mm, core_radius_mm, offset_mm, na)


@lru_cache(maxsize=4096)
def _point_share(order: float, gap_mm: float, core_radius_mm: float, offset_mm: float, na: float) -> float:
    """The share itself, kept like `_patch_share`."""
    inner = _carried(order, max(core_radius_mm - offset_mm, 0.0) / gap_mm, na)
    start = _carried(order, abs(offset_mm - core_radius_mm) / gap_mm, na)
    end = _carried(order, (offset_mm + core_radius_mm) / gap_mm, na)
    if end <= start:
        return inner
    carried, weights = _gauss(start, end)
    cosine = (1.0 - carried) ** (1.0 / (order + 1.0))
    ring_mm = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    return inner + float(np.sum(weights * ring_share(ring_mm, offset_mm, core_radius_mm)))


def _carried(order: float, slope: float, na: float) -> float:
    """Share of the flux within the angle of a slope, or within the acceptance cone if that is narrower."""
    cosine = max(1.0 / math.sqrt(1.0 + slope * slope), math.sqrt(1.0 - na * na))
    return 1.0 - float(cosine ** (order + 1.0))


def patch_fraction(
    *, patch_radius_mm: float, gap_mm: float, core_radius_mm: float, offset_mm: float, na: float, order: float = 1.0
) -> float:
    """Share of an evenly bright flat patch's flux that one fibre takes in.

    Parameters
    ----------
    patch_radius_mm : float
        Radius of the bright patch [mm], more than 0: a phosphor cup (2 to 2.5 mm wide in a 5 mm lamp that is
        filed flat), a chip lamp's window, the dome of a lensed lamp.
    gap_mm : float
        Clear distance from patch to fibre face [mm], 0 or more.
    core_radius_mm : float
        Radius of the fibre's core [mm], more than 0.
    offset_mm : float
        Distance of the fibre from the patch's centre [mm], 0 or more.
    na : float
        Numerical aperture in air [-], above 0, at most 1.
    order : float
        Exponent m with which each place of the patch shines, cos^m [-], 0 or more; 1 is Lambertian.
    Returns
    -------
    float
        Fraction of the patch's flux [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    In contact 1 - (1 - na^2)^((m+1)/2), na^2 for m = 1, times the share of the patch under the core. At a gap the light
    that reaches a point of the core from the patch is integrated over the acceptance cone, with w = cos^(m+1) t, and
    averaged over the core.
    Source
    ------
    Keiser, Optical Communications Essentials, source-to-fibre coupling (contact case, tests/outside/).
    """
    checked("patch radius (mm)", patch_radius_mm, 0.0, above=True)
    checked("gap (mm)", gap_mm, 0.0)
    checked("core radius (mm)", core_radius_mm, 0.0, above=True)
    checked("offset (mm)", offset_mm, 0.0)
    checked("numerical aperture", na, 0.0, 1.0, above=True)
    checked("order", order, 0.0)
    return _patch_share(patch_radius_mm, gap_mm, core_radius_mm, offset_mm, (na, order))


@lru_cache(maxsize=4096)
def _patch_share(
    patch_radius_mm: float, gap_mm: float, core_radius_mm: float, offset_mm: float, cone: tuple[float, float]
) -> float:
    """The share itself; the tails of a bundle ask for few different places again and again."""
    na, order = cone
    within = 1.0 - (1.0 - na * na) ** ((order + 1.0) / 2.0)
    if gap_mm == 0.0:
        patch_mm2 = math.pi * patch_radius_mm**2
        return float(within * overlap_area_mm2(patch_radius_mm, core_radius_mm, offset_mm) / patch_mm2)
    carried, weights = _gauss(0.0, min(within, 1.0 - 1e-9))
    ring_mm = gap_mm * np.sqrt((1.0 - carried) ** (-2.0 / (order + 1.0)) - 1.0)
    # Seen from either disc the light exchanged is the same; averaging over the smaller one is the smoother way.
    small, large = sorted((core_radius_mm, patch_radius_mm))
    places, shares = _disc_points(offset_mm, small)
    seen = ring_share(ring_mm[None, :], places[:, None], large) @ weights
    return float(shares @ seen) * small**2 / patch_radius_mm**2


def _disc_points(offset_mm: float, radius_mm: float) -> tuple[Array, Array]:
    """Distances from the axis of points spread evenly over a disc, and the share of each."""
    radii = radius_mm * np.sqrt(0.5 * (_DISC_NODES + 1.0))
    square = offset_mm**2 + radii[:, None] ** 2 + 2.0 * offset_mm * radii[:, None] * _DISC_COSINES[None, :]
    return np.sqrt(np.maximum(square, 0.0)).ravel(), np.repeat(0.5 * _DISC_WEIGHTS / 24, 24)


def radiance_limit_lm(luminance_cd_m2: float, *, na: float, core_radius_mm: float) -> float:
    """The most flux that any optics can bring into a fibre from a source of that luminance.

    Parameters
    ----------
    luminance_cd_m2 : float
        Greatest luminance of the source [cd/m2], 0 or more.
    na : float
        Numerical aperture in air [-], above 0, at most 1.
    core_radius_mm : float
        Radius of the core [mm], more than 0.
    Returns
    -------
    float
        Flux [lm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Phi <= L pi na^2 A_core: luminance never grows on its way.
    Source
    ------
    Conservation of etendue, SPIE Field Guide to Illumination.
    """
    checked("luminance (cd/m2)", luminance_cd_m2, 0.0)
    checked("numerical aperture", na, 0.0, 1.0, above=True)
    checked("core radius (mm)", core_radius_mm, 0.0, above=True)
    return luminance_cd_m2 * math.pi * na**2 * math.pi * core_radius_mm**2 / 1e6


def fresnel_transmittance(index: float = CORE_INDEX, na: float = 0.0) -> float:
    """Share of light that passes one bare face, averaged over a Lambertian cone.

    Parameters
    ----------
    index : float
        Refractive index of the material [-], 1 or more.
    na : float
        Sine of the half angle of the cone in air [-], 0 (square on) to 1.
    Returns
    -------
    float
        Transmittance of the face [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Square on 1 - ((n-1)/(n+1))^2; for a cone the unpolarised Fresnel equations, weighted by d(sin^2 t).
    Source
    ------
    Fresnel equations; 3.90 % square on and 3.94 % within NA 0.5 for n = 1.492.
    """
    checked("index", index, 1.0, 4.0)
    checked("numerical aperture", na, 0.0, 1.0)
    if na == 0.0:
        return 1.0 - ((index - 1.0) / (index + 1.0)) ** 2
    sines, weights = _gauss(0.0, na * na)
    outside, inside = np.sqrt(1.0 - sines), np.sqrt(index * index - sines)
    across = ((outside - inside) / (outside + inside)) ** 2
    along = ((index * index * outside - inside) / (index * index * outside + inside)) ** 2
    return 1.0 - float(np.sum(weights * (across + along))) / (2.0 * na * na)
