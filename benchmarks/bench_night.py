"""The picture by night: the engine beside SciPy's FFT convolution and a direct sum; frames a second in the browser.

Rows of bench_light.py. The picture is random lamps in four colours, a twentieth of them in a rhythm.
"""

from __future__ import annotations

import json
import math
import shutil
import subprocess
from pathlib import Path

import numpy as np
from light_rows import light_row, timed
from numpy.typing import NDArray
from scipy.signal import fftconvolve

from rushlight.optics.display import luminance_of
from rushlight.optics.glare import glare_per_lx, share_table
from rushlight.optics.night import Lit, laid, level_shares, spread, toned

Array = NDArray[np.float64]

SPEED = Path(__file__).resolve().parents[1] / "tests" / "js" / "night_speed.mjs"
QUICK, FULL = ((300, 200, 50),), ((300, 200, 50), (1200, 800, 500))
PIXEL_DEG = 0.05
NEAR_PX = 4.0


def rows(full: bool) -> list[dict[str, object]]:
    """The engine's picture beside two general ways, then what the browser's modules take."""
    made: list[dict[str, object]] = []
    for wide, high, count in FULL if full else QUICK:
        made += _engine(wide, high, count)
        made += _browser(wide, high, count)
    return made


def _engine(wide: int, high: int, count: int) -> list[dict[str, object]]:
    lamps = _lamps(wide, high, count)
    shares = level_shares(PIXEL_DEG, share_table())
    ours, seconds = timed(lambda: spread(laid(lamps, high, wide), shares))
    _, all_seconds = timed(lambda: toned(spread(laid(lamps, high, wide), shares), 5000.0))
    convolved, fft = timed(lambda: _convolved(laid(lamps, high, wide)), 1)
    direct, slow = timed(lambda: _direct(lamps, wide, high), 1)
    away = _nearest(lamps, wide, high) >= NEAR_PX
    size = wide * high
    return [
        light_row(f"picture by night, {count} lamps, pixels (SciPy fftconvolve)", size, seconds, fft,
                  _off(ours, convolved, away)),
        light_row(f"picture by night, {count} lamps, pixels (direct sum)", size, seconds, slow,
                  _off(ours, direct, away)),
        light_row(f"picture by night, {count} lamps, with its curve, pixels", size, all_seconds, None, ""),
    ]


def _lamps(wide: int, high: int, count: int) -> tuple[Lit, ...]:
    rng = np.random.default_rng(7)
    places = rng.uniform((0, 0, 0.3, 2.0), (wide, high, 2.5, 5.0), (count, 4)).tolist()
    hues = ((1.0, 0.7, 0.4), (3.0, 0.1, 0.1), (-0.2, 1.4, 0.2), (1.0, 1.0, 1.0))
    return tuple(
        Lit((x, y), radius, (10.0**power * r, 10.0**power * g, 10.0**power * b))
        for (x, y, radius, power), (r, g, b) in zip(places, (hues[n % 4] for n in range(count)), strict=True)
    )


def _kernel(wide: int, high: int) -> Array:
    """The function itself at every distance of two pixels, the one in the middle what is left of the light."""
    x, y = np.arange(1 - wide, wide), np.arange(1 - high, high)
    away = np.hypot(x[None, :], y[:, None]) * PIXEL_DEG
    kernel = glare_per_lx(np.minimum(away, 90.0)) * math.radians(PIXEL_DEG) ** 2
    kernel[high - 1, wide - 1] = 0.0
    kernel[high - 1, wide - 1] = max(1.0 - kernel.sum(), 0.0)
    return np.asarray(kernel)


def _convolved(raster: Array) -> Array:
    _, high, wide = raster.shape
    kernel, rows, columns = _kernel(wide, high), slice(high - 1, 2 * high - 1), slice(wide - 1, 2 * wide - 1)
    return np.stack([fftconvolve(plane, kernel, mode="full")[rows, columns] for plane in raster])


def _direct(lamps: tuple[Lit, ...], wide: int, high: int) -> Array:
    """Every lamp at every pixel."""
    x, y = np.arange(wide) + 0.5, np.arange(high) + 0.5
    made = np.zeros((3, high, wide))
    for lamp in lamps:
        away = np.hypot(x[None, :] - lamp.at_px[0], y[:, None] - lamp.at_px[1]) * PIXEL_DEG
        glare = glare_per_lx(np.minimum(away, 90.0)) * math.radians(PIXEL_DEG) ** 2
        made += np.array(lamp.light)[:, None, None] * glare
    return made


def _nearest(lamps: tuple[Lit, ...], wide: int, high: int) -> Array:
    from scipy.spatial import cKDTree

    x, y = np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5)
    found, _ = cKDTree([lamp.at_px for lamp in lamps]).query(np.stack([x.ravel(), y.ravel()], axis=1))
    return np.asarray(found).reshape(high, wide)


def _off(ours: Array, other: Array, where: Array) -> str:
    """How far the luminances differ away from lamps."""
    a, b = (luminance_of(np.moveaxis(raster, 0, -1))[where] for raster in (ours, other))
    ratio = np.abs(a / b - 1.0)
    most = np.percentile(ratio, 95)
    return f"{NEAR_PX:g} px or more from a lamp: median {np.median(ratio):.1%} off, 95 % within {most:.1%}"


def _browser(wide: int, high: int, count: int) -> list[dict[str, object]]:
    """The app's own modules in node, on the clock: once for a state and zoom, then for each frame."""
    node = shutil.which("node")
    if node is None:
        return []
    asked = json.dumps([wide, high, count, [round(share, 6) for share in share_table()]])
    said = json.loads(subprocess.run([node, str(SPEED), asked], capture_output=True, text=True, check=True).stdout)
    tasks = (("once", "a state or a zoom"), ("walls", "with a wall that fills half of it"),
             ("soon", "first frame of a state, coarse, with 20 walls of many corners"),
             ("slider", "room light moves"), ("weights", "rhythms, before the curve"))
    size = wide * high
    return [
        light_row(f"picture by night in the browser, {count} lamps: {words}, pixels", size, said[key] / 1000.0, None,
             f"{1000.0 / said[key]:.0f} a second")
        for key, words in tasks
    ]
