"""Light: what the stage asks of its laws beside general ways, SciPy's quadrature and sums over pairs of places.

Run: python benchmarks/bench_coupling.py. Processor seconds; ratios are of one run.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from contextlib import contextmanager
from typing import Any

import numpy as np
from scipy.integrate import dblquad

Row = dict[str, object]
Asked = list[tuple[str, dict[str, Any]]]

PLACES = 24
"""Rings of places on a disc in the sums over pairs: 576 places a disc."""


@contextmanager
def listened(asked: Asked) -> Any:
    """Every share of light that the stage asks for, written down as it is asked."""
    from rushlight.optics import fibre

    laws = {"point": fibre.point_fraction, "patch": fibre.patch_fraction}

    def ear(kind: str) -> Callable[..., float]:
        def asks(*given: float, **more: float) -> float:
            asked.append((kind, {**({"order": given[0]} if given else {}), **more}))
            return laws[kind](*given, **more)

        return asks

    fibre.point_fraction, fibre.patch_fraction = ear("point"), ear("patch")
    try:
        yield
    finally:
        fibre.point_fraction, fibre.patch_fraction = laws["point"], laws["patch"]


def asked_again(asked: Asked) -> tuple[np.ndarray, float, np.ndarray, float]:
    """Ours and the general way's answers to what was asked, and the processor seconds of each."""
    from rushlight.optics import coupling

    coupling._point_share.cache_clear()
    coupling._patch_share.cache_clear()
    ours, seconds = _answers(asked, {"point": coupling.point_fraction, "patch": coupling.patch_fraction})
    general, other = _answers(asked, {"point": _point, "patch": _patch})
    return ours, seconds, general, other


def _answers(asked: Asked, laws: dict[str, Callable[..., float]]) -> tuple[np.ndarray, float]:
    start = time.process_time()
    answers = np.array([laws[kind](**given) for kind, given in asked])
    return answers, time.process_time() - start


def _point(*, order: float, gap_mm: float, core_radius_mm: float, offset_mm: float, na: float) -> float:
    """The cos^m law over the core within the cone, by SciPy's dblquad in polar coordinates about the core."""
    reach = gap_mm * na / math.sqrt(1.0 - na * na)

    def share(rho: float, phi: float) -> float:
        square = offset_mm**2 + rho**2 + 2.0 * offset_mm * rho * math.cos(phi)
        if square > reach * reach:
            return 0.0
        return rho * gap_mm ** (order + 1.0) / (square + gap_mm**2) ** ((order + 3.0) / 2.0)

    found = dblquad(share, 0.0, math.pi, 0.0, core_radius_mm, epsabs=1e-9, epsrel=1e-6)[0]
    return float((order + 1.0) / math.pi * found)


def _patch(
    *, patch_radius_mm: float, gap_mm: float, core_radius_mm: float, offset_mm: float, na: float, order: float = 1.0
) -> float:
    """The cos^m law summed over all pairs of places on patch and core within the cone.

    Of a patch that is wide beside the gap places are taken where its light can reach the core: a few over all of it
    would leave none in the cone of many a place.
    """
    middle = np.array([offset_mm, 0.0])
    near_mm = core_radius_mm + gap_mm * na / math.sqrt(max(1.0 - na * na, 1e-9))
    whole = near_mm >= patch_radius_mm
    first = _disc(patch_radius_mm) if whole else _disc(near_mm) + middle
    on_it = (first**2).sum(axis=1) <= patch_radius_mm**2
    second = _disc(core_radius_mm) + middle
    apart = ((first[:, None] - second[None]) ** 2).sum(axis=2)
    square = apart + gap_mm**2
    meets = on_it[:, None] & (apart <= na * na * square)
    each = np.where(meets, gap_mm ** (order + 1.0) / square ** ((order + 3.0) / 2.0), 0.0)
    part = 1.0 if whole else (near_mm / patch_radius_mm) ** 2
    return float((order + 1.0) / 2.0 * each.mean() * part * core_radius_mm**2)


def _disc(radius_mm: float) -> np.ndarray:
    """Places of equal area on a disc, in rings."""
    radius = radius_mm * np.sqrt((np.arange(PLACES) + 0.5) / PLACES)
    angle = 2.0 * math.pi * (np.arange(PLACES) + 0.5) / PLACES
    return np.stack([np.outer(radius, np.cos(angle)), np.outer(radius, np.sin(angle))], axis=-1).reshape(-1, 2)


def window_row() -> Row:
    """The first sheet before a strip in its channel of matt walls, by the law that the program uses, beside parcels of
    light that walls, board and sheet throw back (tests/channel_photons.py)."""
    from channel_photons import PARCELS, Box, photons
    from rushlight.optics.channel import Channel, _shape_of, _thrown, thrown_back_lx
    from rushlight.optics.diffuser import row_light_lx

    half_mm, gap_mm, walls, sheet, board_mm = 8.0, 15.0, 0.7, 0.48, 4.0
    leds = np.arange(-100.0, 100.1, 8.333)
    x, y = np.linspace(-39.5, 39.5, 80), (np.arange(16) + 0.5) * half_mm / 16
    channel = Channel(gap_mm, half_mm, board_mm, walls, sheet, 1.0)
    thrown_back_lx(channel, leds, x, y)  # what it imports is not timed
    _thrown.cache_clear()
    _shape_of.cache_clear()
    start = time.process_time()
    ours = thrown_back_lx(channel, leds, x, y) + row_light_lx(leds, 1.0, order=1.0, gap_mm=gap_mm, x_mm=x[None],
                                                              y_mm=y[:, None])
    seconds, start = time.process_time() - start, time.process_time()
    bands, _ = photons(Box(leds, gap_mm, half_mm, (-40.0, 40.0, half_mm), walls, sheet, sheet, board_mm))
    other = time.process_time() - start
    off = float(np.mean(np.abs(ours.mean(axis=1).reshape(8, 2).mean(axis=1) / bands - 1.0)))
    return {"task": f"light of {len(leds)} LEDs in a matt channel, places ({PARCELS} parcels)", "size": ours.size,
            "cpu_s": round(seconds, 4), "yardstick_s": round(other, 4), "ratio": round(other / max(seconds, 1e-6), 1),
            "note": f"mean difference of eight bands {100 * off:.1f} %, the parcels' own scatter in it"}
