"""The light of a strip's channel, followed by chance: a second method for the laws, and a yardstick for their speed.

Parcels of light leave the LEDs by Lambert's law, meet the walls of a box, lose what those take in and leave them by
Lambert's law again, until little is left.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rushlight.optics.channel import BOARD_REFLECTS

PARCELS, MOST_BOUNCES, LITTLE = 300_000, 120, 1e-3


@dataclass(frozen=True)
class Box:
    """A channel as the parcels meet it: sizes in mm, reflectances, whether it is shut at its ends."""

    led_mm: np.ndarray
    gap: float
    half: float
    window: tuple[float, float, float]  # from, to, half its height
    walls: float
    sheet: float
    front: float
    board_half: float
    ends: tuple[float, float] | None = None
    board: float = BOARD_REFLECTS
    foil: bool = False  # side walls that are mirrors


def _lambert(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    cosine, turn = np.sqrt(rng.random(count)), 2 * math.pi * rng.random(count)
    sine = np.sqrt(1 - cosine**2)
    return cosine, sine * np.cos(turn), sine * np.sin(turn)


def _reach(at: np.ndarray, way: np.ndarray, low: float, high: float) -> np.ndarray:
    with np.errstate(divide="ignore", invalid="ignore"):
        far = np.where(way > 0, (high - at) / way, np.where(way < 0, (low - at) / way, np.inf))
    return np.where(far > 1e-9, far, np.inf)


def photons(box: Box, seed: int = 20) -> tuple[np.ndarray, float]:
    """Mean illuminance of the window in eight bands from its middle to its rim, and in all [lx]."""
    rng = np.random.default_rng(seed)
    at = np.column_stack([rng.choice(box.led_mm, PARCELS), np.zeros(PARCELS), np.zeros(PARCELS)]).astype(float)
    up, one, two = _lambert(rng, PARCELS)
    way, weight = np.column_stack([one, two, up]), np.ones(PARCELS)
    bands = np.zeros(8)
    first, last, high = box.window
    for _ in range(MOST_BOUNCES):
        low_end, high_end = box.ends or (-4000.0, 4000.0)
        sizes = ((low_end, high_end), (-box.half, box.half), (0.0, box.gap))
        far = np.stack([_reach(at[:, k], way[:, k], *sizes[k]) for k in range(3)])
        side, step = far.argmin(axis=0), far.min(axis=0)
        at = at + way * step[:, None]
        front = (side == 2) & (way[:, 2] > 0)
        seen = front & (at[:, 0] >= first) & (at[:, 0] <= last) & (np.abs(at[:, 1]) <= high)
        bands += np.histogram(np.abs(at[seen, 1]), 8, (0.0, high), weights=weight[seen])[0]
        floor = np.where(np.abs(at[:, 1]) < box.board_half, box.board, box.walls)
        front_back = np.where(seen, box.sheet, box.front)
        lost = np.select([side == 0, side == 1, front], [0.0 if box.ends is None else box.walls, box.walls, front_back],
                         floor)
        weight = weight * lost
        before = way
        toward = -np.sign(np.take_along_axis(way, side[:, None], axis=1)[:, 0])
        normal, one, two = _lambert(rng, len(at))
        way = np.empty_like(way)
        for k in range(3):
            mine = side == k
            way[mine, k], way[mine, (k + 1) % 3], way[mine, (k + 2) % 3] = toward[mine] * normal[mine], one[mine], two[mine]
        if box.foil:
            way[side == 1] = before[side == 1] * (1.0, -1.0, 1.0)
        kept = weight > LITTLE
        at, way, weight = at[kept], way[kept], weight[kept]
        if not len(at):
            break
    lumen = math.pi * len(box.led_mm) / PARCELS * 1e6  # an LED of one candela by Lambert's law gives pi lm
    area = (last - first) * high / 8 * 2
    return bands * lumen / area, float(bands.sum() * lumen / (area * 8))
