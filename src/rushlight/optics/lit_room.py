"""A lamp in a box room, its light thrown from wall to wall: what is seen of it through an opening."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.units import checked

Array = NDArray[np.float64]

PATCHES = 6
"""Each wall is cut into so many by so many patches."""

POINTS = 6
"""The lamp's own light on a patch is summed over so many by so many points."""


@dataclass(frozen=True, slots=True)
class OtherWindow:
    """A further opening of a room.

    `wall` is its axis and side (axis 0 width, 1 depth, 2 height; side 0 is where the axis begins: (1, 0) is the front).
    `middle_mm` lies along the wall's two axes, in their order; `size_mm` is its size along them. `sheet_reflects` is
    what a matt sheet in it throws back.
    """

    wall: tuple[int, int]
    middle_mm: tuple[float, float]
    size_mm: tuple[float, float]
    sheet_reflects: float = 0.0


@dataclass(frozen=True, slots=True)
class BoxRoom:
    """A room and the opening in its front wall through which it is seen.

    `size_mm` is width, depth, height; the opening's two sizes are its width and height, `middle_mm` is where in the
    front wall it lies, None in the middle. `order` is the exponent of the lamp's pattern; the lamp hangs under the
    ceiling and shines down, `lamp_mm` from the left and from the front, None in the middle. `sheet_reflects` is what a
    matt sheet in the opening throws back into the room, None where none stands there. `others` are further
    openings, which take light away.
    """

    size_mm: tuple[float, float, float]
    opening_mm: tuple[float, float]
    order: float = 1.0
    sheet_reflects: float | None = None
    middle_mm: tuple[float, float] | None = None
    others: tuple[OtherWindow, ...] = ()
    lamp_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class RoomLight:
    """What 1 lm of the lamp does.

    `seen_cd_m2` is the mean luminance of what lies straight behind the opening, `opening_lx` the mean illuminance of
    the opening from inside, which is what a matt sheet there glows with; `out` is the share of the light that leaves by
    the opening (or goes into its sheet), `absorbed` the share that the walls take, `elsewhere` that of other openings.
    """

    seen_cd_m2: float
    opening_lx: float
    out: float
    absorbed: float
    elsewhere: float = 0.0


def view_factor_parallel(first: Array, second: Array, distance_mm: float) -> Array:
    """View factor between rectangles in two parallel planes, sides along the same axes.

    Parameters
    ----------
    first, second : array (..., 4)
        x from, x to, y from, y to of each [mm]; they may be broadcast against each other.
    distance_mm : float
        Distance of the planes [mm], more than 0.
    Returns
    -------
    array
        Share of the first one's diffuse light that falls on the second [-].
    Raises
    ------
    OutOfRange
        If the distance is not above 0.
    Source
    ------
    Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-13 (closed form from memory).
    """
    z2 = checked("distance (mm)", distance_mm, 0.0, above=True) ** 2
    total: Array = np.zeros(np.broadcast_shapes(first.shape[:-1], second.shape[:-1]))
    for i, j, k, m in np.ndindex(2, 2, 2, 2):
        u = first[..., i] - second[..., k]
        v = first[..., 2 + j] - second[..., 2 + m]
        p, q = np.sqrt(u * u + z2), np.sqrt(v * v + z2)
        part = v * p * np.arctan(v / p) + u * q * np.arctan(u / q) - z2 / 2.0 * np.log(u * u + v * v + z2)
        total = total + (-1.0) ** (i + j + k + m) * part
    return total / (2.0 * math.pi * _area(first))


def view_factor_square_on(first: Array, second: Array) -> Array:
    """View factor between rectangles in two planes at right angles.

    Parameters
    ----------
    first, second : array (..., 4)
        Of each: from and to away from the line where the planes meet, 0 or more, then from and to along it [mm].
    Returns
    -------
    array
        Share of the first one's diffuse light that falls on the second [-].
    Source
    ------
    Howell, as above, C-15 (closed form from memory).
    """
    total: Array = np.zeros(np.broadcast_shapes(first.shape[:-1], second.shape[:-1]))
    for i, j, k, m in np.ndindex(2, 2, 2, 2):
        c2 = first[..., i] ** 2 + second[..., k] ** 2
        v = first[..., 2 + j] - second[..., 2 + m]
        c, square = np.sqrt(c2), c2 + v * v
        safe = np.where(square > 0.0, square, 1.0)
        turned = np.arctan(np.divide(v, c, out=np.zeros(np.broadcast(v, c).shape), where=c > 0.0))
        part = v * c * turned - 0.25 * (c2 - v * v) * np.log(safe)
        total = total + (-1.0) ** (i + j + k + m) * part
    return total / (2.0 * math.pi * _area(first))


def _area(rectangle: Array) -> Array:
    area: Array = (rectangle[..., 1] - rectangle[..., 0]) * (rectangle[..., 3] - rectangle[..., 2])
    return area


def room_light(room: BoxRoom, reflectance: float) -> RoomLight:
    """What 1 lm of a room's lamp does, thrown about by its walls.

    Parameters
    ----------
    room : BoxRoom
        Sizes more than 0; an opening larger than its wall takes all of it. Openings do not overlap; where they would,
        what lies in both counts as the first one's.
    reflectance : float
        Of all walls, matt [-], 0 to 0.99.
    Returns
    -------
    RoomLight
        Shares add up to 1.
    Raises
    ------
    OutOfRange
        If a size or a reflectance lies outside its range.
    Notes
    -----
    Radiosity of matt patches: M = rho (E0 + F M), solved exactly; what falls on the opening is gone, but for what a
    sheet there throws back.
    Source
    ------
    Radiosity method (Goral et al. 1984, from memory); the integrating sphere's formula is its limit.
    """
    checked("reflectance", reflectance, 0.0, 0.99)
    back = checked("reflectance of the sheet", room.sheet_reflects or 0.0, 0.0, 0.99)
    for size in (*room.size_mm, *room.opening_mm, *(size for one in room.others for size in one.size_mm)):
        checked("size of a room (mm)", size, 0.0, above=True)
    patches, factors = _room(room.size_mm)
    open_share, others = _open_share(room, patches), _other_shares(room, patches)
    beside = np.sum([share for share, _ in others], axis=0) if others else np.zeros_like(open_share)
    direct_lm = _direct_lm(room, patches)
    area_m2 = _area(patches.spans) * 1e-6
    walled = 1.0 - open_share - beside
    reflects = reflectance * walled + back * open_share
    for share, throws in others:
        reflects = reflects + throws * share
    lit_lx = direct_lm / area_m2
    passed_on = np.eye(len(reflects)) - reflects[:, None] * factors
    exitance = np.asarray(np.linalg.solve(passed_on, reflects * lit_lx), dtype=np.float64)
    falls_lm = (lit_lx + factors @ exitance) * area_m2
    falls_in = float(np.sum(falls_lm * open_share))
    absorbed = float(np.sum(falls_lm * walled * (1.0 - reflectance)))
    elsewhere = sum(float(np.sum(falls_lm * share)) * (1.0 - throws) for share, throws in others)
    return RoomLight(seen_cd_m2=_seen_cd_m2(room, patches, exitance), out=falls_in * (1.0 - back), absorbed=absorbed,
                     elsewhere=elsewhere,
                     opening_lx=falls_in / float(np.sum(area_m2 * open_share)))


@dataclass(frozen=True, slots=True)
class _Patches:
    """All patches: which wall (axis and side), its span along the wall's two axes."""

    axis: NDArray[np.int_]
    side: NDArray[np.int_]
    spans: Array


AXES = ((1, 2), (0, 2), (0, 1))
"""The two axes in which the walls across each axis lie: 0 width, 1 depth (0 is the front), 2 height."""


@lru_cache(maxsize=64)
def _room(size_mm: tuple[float, float, float]) -> tuple[_Patches, Array]:
    walls = [(axis, side) for axis in range(3) for side in range(2)]
    spans = [_spans(size_mm[AXES[axis][0]], size_mm[AXES[axis][1]]) for axis, _ in walls]
    count = PATCHES**2
    patches = _Patches(
        np.repeat([axis for axis, _ in walls], count), np.repeat([side for _, side in walls], count),
        np.concatenate(spans),
    )
    factors = np.zeros((6 * count, 6 * count))
    for a, (axis, side) in enumerate(walls):
        for b, (other, far) in enumerate(walls):
            if a == b:
                continue
            one, two = spans[a][:, None, :], spans[b][None, :, :]
            if axis == other:
                block = view_factor_parallel(one, two, size_mm[axis])
            else:
                block = view_factor_square_on(_from_edge(one, (axis, other, far), size_mm),
                                              _from_edge(two, (other, axis, side), size_mm))
            factors[a * count:(a + 1) * count, b * count:(b + 1) * count] = block
    return patches, factors


def _spans(first_mm: float, second_mm: float) -> Array:
    u, v = (np.linspace(0.0, size, PATCHES + 1) for size in (first_mm, second_mm))
    return np.array([(u[i], u[i + 1], v[j], v[j + 1]) for i in range(PATCHES) for j in range(PATCHES)])


def _from_edge(spans: Array, wall: tuple[int, int, int], size_mm: tuple[float, float, float]) -> Array:
    """A wall's spans measured from the edge at which it meets a wall across another axis."""
    axis, other, far = wall
    place = AXES[axis].index(other)
    away, along = spans[..., 2 * place:2 * place + 2], spans[..., 2 - 2 * place:4 - 2 * place]
    if far:
        away = size_mm[other] - away[..., ::-1]
    return np.concatenate([away, along], axis=-1)


def _open_share(room: BoxRoom, patches: _Patches) -> Array:
    """Share of each patch that the opening takes."""
    return _share_of(patches, (1, 0), _middle(room), room.opening_mm)


def _middle(room: BoxRoom) -> tuple[float, float]:
    return room.middle_mm or (room.size_mm[0] / 2, room.size_mm[2] / 2)


def _share_of(
    patches: _Patches, wall: tuple[int, int], middle_mm: tuple[float, float], size_mm: tuple[float, float]
) -> Array:
    """Share of each patch that a rectangle of a wall takes."""
    (u, v), (wide, tall) = middle_mm, size_mm
    across = _overlap(patches.spans[:, 0:2], u - wide / 2, u + wide / 2)
    up = _overlap(patches.spans[:, 2:4], v - tall / 2, v + tall / 2)
    share: Array = np.where((patches.axis == wall[0]) & (patches.side == wall[1]), across * up, 0.0)
    return share


def _other_shares(room: BoxRoom, patches: _Patches) -> list[tuple[Array, float]]:
    """Of each further opening its share of each patch and what its sheet throws back; none takes what is taken."""
    taken, found = _open_share(room, patches), []
    for one in room.others:
        throws = checked("reflectance of the sheet", one.sheet_reflects, 0.0, 0.99)
        share = np.minimum(_share_of(patches, one.wall, one.middle_mm, one.size_mm), 1.0 - taken)
        taken = taken + share
        found.append((share, throws))
    return found


def _overlap(spans: Array, low: float, high: float) -> Array:
    """Share of each span that lies between two places."""
    inside: Array = np.clip(np.minimum(spans[:, 1], high) - np.maximum(spans[:, 0], low), 0.0, None)
    share: Array = inside / (spans[:, 1] - spans[:, 0])
    return share


def _direct_lm(room: BoxRoom, patches: _Patches) -> Array:
    """The lamp's own light on each patch, 1 lm in all."""
    size = np.array(room.size_mm)
    lamp = np.array([*(room.lamp_mm or (size[0] / 2, size[1] / 2)), size[2]])
    step = (np.arange(POINTS) + 0.5) / POINTS
    u = patches.spans[:, 0, None] + step * (patches.spans[:, 1] - patches.spans[:, 0])[:, None]
    v = patches.spans[:, 2, None] + step * (patches.spans[:, 3] - patches.spans[:, 2])[:, None]
    points = np.zeros((len(u), POINTS, POINTS, 3))
    for axis, (first, second) in enumerate(AXES):
        rows = patches.axis == axis
        points[rows, :, :, axis] = (patches.side[rows] * size[axis])[:, None, None]
        points[rows, :, :, first] = u[rows][:, :, None]
        points[rows, :, :, second] = v[rows][:, None, :]
    ray = points - lamp
    far2 = np.maximum(np.sum(ray**2, axis=-1), 1e-12)
    down = np.clip(-ray[..., 2] / np.sqrt(far2), 0.0, 1.0)
    square = np.abs(np.take_along_axis(ray, patches.axis[:, None, None, None], axis=-1)[..., 0]) / np.sqrt(far2)
    lit = np.where(down > 0.0, down**room.order, 0.0) * square / far2
    on_patch = lit.mean(axis=(1, 2)) * _area(patches.spans)
    lm: Array = on_patch / on_patch.sum()
    return lm


def _seen_cd_m2(room: BoxRoom, patches: _Patches, exitance: Array) -> float:
    """Mean luminance of the back wall straight behind the opening."""
    back = (patches.axis == 1) & (patches.side == 1)
    weight = _share_of(patches, (1, 1), _middle(room), room.opening_mm)[back]
    return float(np.average(exitance[back], weights=weight * _area(patches.spans[back])) / math.pi)
