"""Several floodlights on one ground: where each beam falls, what they give together."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.optics.emitter import illuminance_lx
from rushlight.units import checked

Array = NDArray[np.float64]

FIVE_TIMES = 5.0
"""From this many times its own size on, a lamp may be taken for a point (IES definition 9.1.1: within 1 %)."""

FACETS = 61
"""Points that stand for the face of a lamp that is nearer than that."""

STEPS = 41
"""Places at which the light between two pools is looked at."""


@dataclass(frozen=True, slots=True)
class Beam:
    """A floodlight over a flat ground.

    `foot_mm` is the point of the ground straight below it, `aim_mm` the point that its axis meets; `size_mm` the
    diameter of its face, 0 for a point; `peak_cd` and `order` as in `optics.emitter`; beyond `edge_deg` off its axis it
    sends nothing (a fibre's cone).
    """

    peak_cd: float
    order: float
    foot_mm: tuple[float, float]
    height_mm: float
    aim_mm: tuple[float, float]
    size_mm: float = 0.0
    edge_deg: float = 90.0


def beam_lx(beam: Beam, x_mm: ArrayLike, y_mm: ArrayLike) -> Array:
    """Illuminance of the ground from one floodlight aimed anywhere.

    Parameters
    ----------
    beam : Beam
        The floodlight; its height is more than 0.
    x_mm, y_mm : array
        Places on the ground [mm], alike in shape.
    Returns
    -------
    array
        Illuminance [lx], shape of `x_mm`. Shadows are not worked out.
    Raises
    ------
    OutOfRange
        If the height is not above 0 or the size is negative.
    Notes
    -----
    E = I0 cos^m t cos i / d^2 within the cone; a face nearer than five times its size is summed over FACETS facets.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104; five-times rule, IES definition 9.1.1.
    """
    checked("height (mm)", beam.height_mm, 0.0, above=True)
    checked("size (mm)", beam.size_mm, 0.0)
    x, y = np.broadcast_arrays(np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float))
    points = np.stack([x.ravel(), y.ravel(), np.zeros(x.size)], axis=1)
    axis = np.array([*(np.asarray(beam.aim_mm) - np.asarray(beam.foot_mm)), -beam.height_mm])
    faces = _facets_mm(beam, axis)
    total = np.zeros(len(points))
    for face in faces:
        total += illuminance_lx(beam.peak_cd / len(faces), beam.order, lamp_mm=face, axis=axis, points_mm=points,
                                normals=(0.0, 0.0, 1.0), edge_deg=beam.edge_deg)
    return total.reshape(x.shape)


def pools_lx(beams: Sequence[Beam], x_mm: ArrayLike, y_mm: ArrayLike, *, reached: ArrayLike | None = None) -> Array:
    """Illuminance of the ground from each of several floodlights.

    Parameters
    ----------
    beams : sequence of Beam
        The floodlights, n of them.
    x_mm, y_mm : array
        Places on the ground [mm], alike in shape.
    reached : array (n, ...), optional
        Share of each beam that reaches each place [-]: 0 in a shadow.
    Returns
    -------
    array (n, ...)
        Illuminance [lx] of each; their sum over the first axis is the map.
    Source
    ------
    Light adds up.
    """
    shape = np.broadcast_shapes(np.shape(x_mm), np.shape(y_mm))
    each = np.zeros((len(beams), *shape))
    for place, beam in enumerate(beams):
        each[place] = beam_lx(beam, x_mm, y_mm)
    return each if reached is None else each * np.asarray(reached, dtype=float)


def _facets_mm(beam: Beam, axis: Array) -> Array:
    """Points that stand for the face: its middle, or equal facets of a disc square to the axis."""
    middle = np.array([*beam.foot_mm, beam.height_mm])
    if beam.size_mm == 0.0 or beam.height_mm >= FIVE_TIMES * beam.size_mm:
        return middle[None, :]
    unit = axis / np.linalg.norm(axis)
    aside = np.cross(unit, (0.0, 1.0, 0.0) if abs(unit[1]) < 0.9 else (1.0, 0.0, 0.0))
    aside /= np.linalg.norm(aside)
    across = np.cross(unit, aside)
    steps = np.arange(FACETS)
    radius = beam.size_mm / 2.0 * np.sqrt((steps + 0.5) / FACETS)
    turn = steps * math.pi * (3.0 - math.sqrt(5.0))
    spread = radius[:, None] * (np.cos(turn)[:, None] * aside + np.sin(turn)[:, None] * across)
    faces: Array = middle + spread
    faces[:, 2] = np.maximum(faces[:, 2], beam.height_mm * 1e-3)  # a steep face dips no deeper than the ground
    return faces



@dataclass(frozen=True, slots=True)
class Dip:
    """The darkest place on the way between two pools, over the lesser of their lights; `along` from 0 to 1."""

    share: float
    along: float


def dip_between(first: Beam, second: Beam, *, others: Sequence[Beam] = ()) -> Dip:
    """How far the light falls between the points at which two floodlights are aimed.

    Parameters
    ----------
    first, second : Beam
        The two.
    others : sequence of Beam
        What else lights the same ground.
    Returns
    -------
    Dip
        1 where it falls nowhere below the lesser of the two.
    Source
    ------
    Sum of `beam_lx` on the straight line between the two points.
    """
    along = np.linspace(0.0, 1.0, STEPS)
    x = first.aim_mm[0] + along * (second.aim_mm[0] - first.aim_mm[0])
    y = first.aim_mm[1] + along * (second.aim_mm[1] - first.aim_mm[1])
    lx = pools_lx((first, second, *others), x, y).sum(axis=0)
    ends = min(float(lx[0]), float(lx[-1]))
    darkest = int(np.argmin(lx))
    return Dip(share=float(lx[darkest]) / ends if ends > 0.0 else 1.0, along=float(along[darkest]))


def even_apart_mm(first: Beam, second: Beam, *, share: float) -> float:
    """Farthest apart that the points two floodlights are aimed at may lie, each lamp moved with its point.

    Parameters
    ----------
    first, second : Beam
        The two, as they are now.
    share : float
        Least light between them over the lesser of the two [-], above 0, below 1.
    Returns
    -------
    float
        Distance [mm], at most what it is now.
    Raises
    ------
    OutOfRange
        If the share lies outside its range.
    Source
    ------
    `dip_between`, by halving.
    """
    checked("share", share, 0.0, 0.999, above=True)
    far = math.dist(first.aim_mm, second.aim_mm)
    return far * _halved(lambda part: dip_between(first, _nearer(first, second, part)).share >= share)


def even_height_mm(first: Beam, second: Beam, *, share: float) -> float:
    """Least height of the first of two floodlights, both raised alike, at which their pools run into one another.

    Parameters
    ----------
    first, second : Beam
        The two, as they are now; the points that they are aimed at stay.
    share : float
        Least light between them over the lesser of the two [-], above 0, below 1.
    Returns
    -------
    float
        Height [mm], at least what it is now; infinite where ten times as high is not enough.
    Raises
    ------
    OutOfRange
        If the share lies outside its range.
    Source
    ------
    `dip_between`, by halving.
    """
    checked("share", share, 0.0, 0.999, above=True)

    def good(part: float) -> bool:
        return dip_between(_raised(first, 1.0 / part), _raised(second, 1.0 / part)).share >= share

    part = _halved(good, least=0.1)
    return math.inf if part <= 0.1 else first.height_mm / part


def _halved(good: Callable[[float], bool], least: float = 0.0) -> float:
    """The greatest factor from `least` to 1 at which a thing is still good, if it is so below and not above."""
    if good(1.0):
        return 1.0
    low, high = least, 1.0
    for _ in range(30):
        middle = (low + high) / 2.0
        low, high = (middle, high) if good(middle) else (low, middle)
    return low


def _nearer(first: Beam, second: Beam, part: float) -> Beam:
    shift = [(part - 1.0) * (b - a) for a, b in zip(first.aim_mm, second.aim_mm, strict=True)]
    return replace(second, aim_mm=(second.aim_mm[0] + shift[0], second.aim_mm[1] + shift[1]),
                   foot_mm=(second.foot_mm[0] + shift[0], second.foot_mm[1] + shift[1]))


def _raised(beam: Beam, times: float) -> Beam:
    return replace(beam, height_mm=beam.height_mm * times)
