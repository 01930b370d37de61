"""The channel of an LED strip: what its matt walls, its floor and the sheet over it throw on to the sheet.

Across the strip runs y, from it to the sheet z, along it x. The channel is endless along x, so each frequency of the
light along it is balanced by itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.optics.diffuser import row_light_lx
from rushlight.optics.emitter import MM2_PER_M2
from rushlight.units import checked

Array = NDArray[Any]

BOARD_REFLECTS = 0.6
"""Reflectance of a strip's white board with its LEDs and resistors (from memory, typical; 0.4 to 0.8)."""

REACH = 10.0
"""Light is followed along the channel to so many times its depth or width, whichever is more."""

FINEST = 10.0
"""Frequencies are followed up to so much over half the channel's width [rad]: exp(-10) is left there."""

ACROSS, LEAST_UP, MOST_UP = 8, 8, 24
"""Bands of the sheet and of the floor on half the width, and of a wall over its height."""

PER_HALF = 3.0
"""A wall has so many bands over the height of half the channel's width."""

STEPS = 10.0
"""Places along the channel over the lesser of its depth and half width."""

MOST = 0.98
"""A channel that kept all its light would never come to rest."""

LEAST_IMAGE = 1e-3
"""Walls across the channel that throw back less are left out."""

LAMBERTIAN = 1e-9
"""An order so near to 1 has elementary transforms."""

SUB = (0.1127016654, 0.5, 0.8872983346)
SUB_WEIGHTS = (5 / 18, 8 / 18, 5 / 18)
"""Gauss-Legendre places and weights on a band, for the LEDs' own light."""


@dataclass(frozen=True, slots=True)
class Channel:
    """A strip's channel: its depth from LEDs to sheet, half its width, half the strip's width, what throws light back.

    The floor is the strip's board under it, and as the walls beside it. `shut_mm` is where along it walls like its own
    stand across, none, one or two; else it runs on.
    """

    gap_mm: float
    half_width_mm: float
    strip_half_mm: float
    walls_reflect: float
    sheet_reflects: float
    order: float
    board_reflects: float = BOARD_REFLECTS
    shut_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Thrown:
    """Light thrown back on the sheet by an LED of one candela at x = 0 [lx]: places along and across, values (n, m)."""

    along_mm: Array
    across_mm: Array
    lx: Array


def thrown_back_lx(channel: Channel, led_x_mm: ArrayLike, x_mm: ArrayLike, y_mm: ArrayLike) -> Array:
    """Illuminance of the sheet by what the channel throws back, its LEDs of one candela each.

    Parameters
    ----------
    channel : Channel
        Depth above 0, half width above 0, reflectances 0 to 0.98.
    led_x_mm : array (n,)
        LEDs along the middle line [mm].
    x_mm : array (columns,)
        Places along [mm].
    y_mm : array (rows,)
        Places across from the middle line [mm]; beyond the walls the value beside the wall stands.
    Returns
    -------
    array (rows, columns)
        Illuminance [lx], without what comes straight from the LEDs; with what walls across the channel throw back.
    Raises
    ------
    OutOfRange
        If a length or a reflectance lies outside its range.
    Notes
    -----
    Exitance B = rho (E0 + K B) of bands along x, for each frequency q. Between two bands K is Hottel's crossed strings
    (the balance at q = 0) times (1 + q r) e^(-q r), r their distance across: the Fourier transform along x of the
    Lambertian kernel a b / (pi (x^2 + r^2)^2). E0 of a cos^m LED: that of (x^2 + r^2)^(-(m+3)/2), by K_(m+2)/2.
    A wall across mirrors the LEDs with all their light, weighed by rho^2: what a matt wall throws back goes every way,
    part of it on to walls and board again.
    Source
    ------
    H. C. Hottel & A. F. Sarofim, Radiative Transfer (1967), crossed strings; transforms derived; rho^2 fitted to
    photons (within 6 %); photons traced in tests/outside/test_channel_photons.py.
    """
    own = _thrown(replace(channel, shut_mm=()))
    lit = _thrown_by(own, np.asarray(led_x_mm, dtype=float), x_mm, y_mm)
    for images_mm, share in _end_images(channel, np.asarray(led_x_mm, dtype=float)):
        lit = lit + share * (_thrown_by(own, images_mm, x_mm, y_mm) + row_light_lx(
            images_mm, 1.0, order=channel.order, gap_mm=channel.gap_mm, x_mm=np.asarray(x_mm, dtype=float)[None],
            y_mm=np.asarray(y_mm, dtype=float)[:, None]))
    return lit


def _end_images(channel: Channel, led_x_mm: Array) -> list[tuple[Array, float]]:
    """Mirror images of LEDs in the walls across the channel, and what share of an LED's light each stands for."""
    share = min(channel.walls_reflect, MOST) ** 2
    if not channel.shut_mm or share < LEAST_IMAGE:
        return []
    once = np.concatenate([2.0 * at - led_x_mm for at in channel.shut_mm])
    if len(channel.shut_mm) == 1:
        return [(once, share)]
    between = 2.0 * (max(channel.shut_mm) - min(channel.shut_mm))
    return [(once, share), (np.concatenate([led_x_mm - between, led_x_mm + between]), share**2)]


def _thrown_by(found: Thrown, led_x_mm: Array, x_mm: ArrayLike, y_mm: ArrayLike) -> Array:
    """By LEDs of one candela in a channel that runs on."""
    from scipy.interpolate import CubicSpline

    rows = _read_off(found, np.abs(np.asarray(x_mm, dtype=float)[:, None] - led_x_mm[None])).sum(axis=2)
    across, values = np.concatenate([-found.across_mm[::-1], found.across_mm]), np.concatenate([rows[::-1], rows])
    edge = float(found.across_mm[-1])
    return np.asarray(CubicSpline(across, values)(np.clip(np.asarray(y_mm, dtype=float), -edge, edge)), dtype=float)


def _read_off(found: Thrown, away_mm: Array) -> Array:
    """Every band's curve at some distances along, nought past its end: `np.interp` with one search for all bands."""
    along, last = found.along_mm, len(found.along_mm) - 1
    near = np.minimum(along.searchsorted(away_mm, side="right") - 1, last - 1)
    lines = found.lx.T
    slopes = np.diff(lines) / np.diff(along)
    read = slopes.take(near, axis=1) * (away_mm - along[near]) + lines.take(near, axis=1)
    return np.where(away_mm > along[last], 0.0, read)


@lru_cache(maxsize=256)
def _thrown(channel: Channel) -> Thrown:
    """Kept, because every window of a row asks for the same."""
    gap = checked("gap (mm)", channel.gap_mm, 0.0, above=True)
    half = checked("half width (mm)", channel.half_width_mm, 0.0, above=True)
    checked("reflectance of the walls", channel.walls_reflect, 0.0, 1.0)
    checked("reflectance of the sheet", channel.sheet_reflects, 0.0, 1.0)
    checked("reflectance of the board", channel.board_reflects, 0.0, 1.0)
    shape = _shape_of(gap, half, channel.order)
    lit = _balanced(shape, _reflects(channel, shape.bands))
    lx = shape.cosines @ (shape.weights[:, None] * lit)
    return Thrown(shape.along_mm, shape.bands.middle[shape.bands.sheet, 0], MM2_PER_M2 * lx)


@dataclass(frozen=True, slots=True)
class _Shape:
    """What of a channel does not hang on its paint: its bands, by frequency (q) what each sends to each (q, n, n) and
    gets straight from an LED (q, n), and the way from frequencies, each with its weight, to places along (m, q)."""

    bands: _Bands
    kernel: Array
    first: Array
    along_mm: Array
    cosines: Array
    weights: Array


@lru_cache(maxsize=8)
def _shape_of(gap: float, half: float, order: float) -> _Shape:
    """Kept, because windows of one strip differ in their sheets and in the paint beside them alone."""
    reach = REACH * max(gap, half)
    waves: Array = math.pi / reach * np.arange(math.ceil(FINEST / min(half, gap) * reach / math.pi) + 1)
    along = np.arange(0.0, reach, min(gap, half) / STEPS)
    weights = np.where(waves == 0.0, 0.5, 1.0) / reach
    bands = _bands(gap, half)
    return _Shape(bands, _kernel(bands, waves), _first_light((gap, half, order), bands, waves), along,
                  np.cos(along[:, None] * waves[None]), weights)


@dataclass(frozen=True, slots=True)
class _Bands:
    """Bands of half the channel's cross-section (y, z): ends (n, 2, 2), middles, which are sheet and wall."""

    ends: Array
    middle: Array
    sheet: NDArray[np.bool_]
    wall: NDArray[np.bool_]


def _bands(gap: float, half: float) -> _Bands:
    up = int(min(max(LEAST_UP, math.ceil(PER_HALF * gap / half)), MOST_UP))
    across, height = np.linspace(0.0, half, ACROSS + 1), np.linspace(0.0, gap, up + 1)
    floor = [((a, 0.0), (b, 0.0)) for a, b in pairwise(across)]
    sheet = [((a, gap), (b, gap)) for a, b in pairwise(across)]
    wall = [((half, a), (half, b)) for a, b in pairwise(height)]
    ends = np.array([*floor, *sheet, *wall])
    middle = ends.mean(axis=1)
    kind = np.repeat([0, 1, 2], [len(floor), len(sheet), len(wall)])
    return _Bands(ends, middle, kind == 1, kind == 2)


def _reflects(channel: Channel, bands: _Bands) -> Array:
    """Reflectance of each band."""
    board = np.where(bands.middle[:, 0] < channel.strip_half_mm, channel.board_reflects, channel.walls_reflect)
    own = np.where(bands.sheet, channel.sheet_reflects, np.where(bands.wall, channel.walls_reflect, board))
    return np.asarray(np.minimum(own, MOST))


def _kernel(bands: _Bands, waves: Array) -> Array:
    """Share of what each band sends out that each other gets, by frequency (q, n, n)."""
    mirrored = bands.ends * (-1.0, 1.0)
    to_own, own_far = _exchange(bands.ends, bands.ends)
    to_other, other_far = _exchange(bands.ends, mirrored)
    return np.asarray(to_own[None] * _along(waves, own_far) + to_other[None] * _along(waves, other_far))


def _balanced(shape: _Shape, reflects: Array) -> Array:
    """What is thrown on each band of the sheet, by frequency (q, sheet)."""
    system = np.eye(len(reflects))[None] - reflects[None, :, None] * shape.kernel
    exitance = np.linalg.solve(system, (reflects[None] * shape.first)[..., None])
    return np.asarray((shape.kernel @ exitance)[:, shape.bands.sheet, 0])


def _exchange(one: Array, other: Array) -> tuple[Array, Array]:
    """Share of what a band sends out that meets another (crossed strings), and the distance of their middles."""
    a, b = one[:, None], other[None]

    def string(i: int, j: int) -> Array:
        return np.asarray(np.linalg.norm(a[:, :, i] - b[:, :, j], axis=-1))

    length = np.linalg.norm(one[:, 1] - one[:, 0], axis=1)[:, None]
    share = np.abs(string(0, 0) + string(1, 1) - string(0, 1) - string(1, 0)) / (2.0 * length)
    flat = _in_one_plane(a, b)
    far = np.linalg.norm(one.mean(axis=1)[:, None] - other.mean(axis=1)[None], axis=-1)
    return np.where(flat, 0.0, share), far


def _in_one_plane(a: Array, b: Array) -> NDArray[np.bool_]:
    """Bands of one flat side see nothing of each other."""
    level = [np.ptp(np.concatenate([np.broadcast_to(a[..., k], (*np.broadcast_shapes(a.shape, b.shape)[:2], 2)),
                                    np.broadcast_to(b[..., k], (*np.broadcast_shapes(a.shape, b.shape)[:2], 2))],
                                   axis=-1), axis=-1) < 1e-9 for k in (0, 1)]
    return np.asarray(level[0] | level[1])


def _along(waves: Array, far: Array) -> Array:
    """(1 + q r) e^(-q r)."""
    phase = waves[:, None, None] * far[None]
    return np.asarray((1.0 + phase) * np.exp(-phase))


def _first_light(of: tuple[float, float, float], bands: _Bands, waves: Array) -> Array:
    """Straight light of an LED on each band, by frequency (q, band); of gap, half width and the LEDs' order."""
    gap, half, order = of
    lit = np.zeros((len(waves), len(bands.middle)))
    for share, weight in zip(SUB, SUB_WEIGHTS, strict=True):
        at = bands.ends[:, 0] + share * (bands.ends[:, 1] - bands.ends[:, 0])
        y, z = at[:, 0], at[:, 1]
        strength = np.where(bands.sheet, gap ** (order + 1.0), np.where(bands.wall, z**order * half, 0.0))
        some = strength > 0.0
        lit[:, some] += weight * strength[some] * _line(waves, np.hypot(y, z)[some], order)
    return lit


def _line(waves: Array, far: Array, order: float) -> Array:
    """Fourier transform along x of (x^2 + r^2)^(-(m + 3) / 2)."""
    from scipy.special import gamma, kve

    nu = (order + 2.0) / 2.0
    phase = np.maximum(waves[:, None] * far[None], 1e-9)
    if abs(order - 1.0) < LAMBERTIAN:
        return np.asarray((math.pi / 2.0 / far**3)[None] * (1.0 + phase) * np.exp(-phase))
    whole = math.sqrt(math.pi) * float(gamma(nu)) / float(gamma(nu + 0.5)) * far ** (-2.0 * nu)
    shape = 2.0 * (phase / 2.0) ** nu * kve(nu, phase) * np.exp(-phase) / float(gamma(nu))
    return np.asarray(whole[None] * np.where(waves[:, None] > 0.0, shape, 1.0))
