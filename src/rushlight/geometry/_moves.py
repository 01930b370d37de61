"""Changes that throw a packing out of its place: discs into holes, discs shaken."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def changed(centres: Floats, radius: float, unit: Floats, kind: str, rng: np.random.Generator) -> Floats:
    """A changed copy of a packing in a circle of this radius; the kind is near, jump or two."""
    if kind == "near":
        return _shaken_near(centres, radius, rng)
    return _jumped(centres, radius, unit, 2 if kind == "two" else 1, rng)


def _jumped(centres: Floats, radius: float, unit: Floats, many: int, rng: np.random.Generator) -> Floats:
    """One or two discs, taken at random, put into the widest holes."""
    moved = centres.copy()
    for disc in rng.choice(len(unit), size=min(many, len(unit)), replace=False):
        spots = _spots(radius, 300, rng)
        away = np.hypot(spots[:, None, 0] - moved[None, :, 0], spots[:, None, 1] - moved[None, :, 1]) - unit
        away[:, disc] = np.inf
        room = np.minimum(away.min(axis=1), radius - np.hypot(spots[:, 0], spots[:, 1]))
        widest = np.argsort(-room, kind="stable")[:8]
        moved[disc] = spots[widest[rng.integers(len(widest))]]
    return moved


def _spots(radius: float, count: int, rng: np.random.Generator) -> Floats:
    """Places spread evenly over a circle."""
    reach = radius * np.sqrt(rng.random(count))
    angle = 2 * np.pi * rng.random(count)
    return np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])


def _shaken_near(centres: Floats, radius: float, rng: np.random.Generator) -> Floats:
    """Discs near a random place shaken hard, the others left."""
    spot = _spots(radius, 1, rng)[0]
    near = np.exp(-np.sum((centres - spot) ** 2, axis=1) / (2 * (0.35 * radius + 1.0) ** 2))
    return np.asarray(centres + 0.9 * near[:, None] * rng.standard_normal(centres.shape), dtype=np.float64)
