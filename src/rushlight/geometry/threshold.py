"""Two classes in a picture: the threshold that parts them best, and how well it does.

Source: N. Otsu, A threshold selection method from gray-level histograms, IEEE Trans. Syst. Man Cybern. 9 (1979) 62-66.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

BINS = 256


@dataclass(frozen=True, slots=True)
class Split:
    """A threshold with what lies on either side of it.

    `effectiveness` is Otsu's eta, the share of the variance that lies between the classes, 0 to 1. `apart` is the
    distance of the classes' means in terms of their mean spread: 2.7 for one bell curve cut in its middle, 3.5 for an
    even spread; two classes that can be told apart lie farther.
    """

    level: float
    low_mean: float
    high_mean: float
    effectiveness: float
    apart: float


def best_split(values: Any) -> Split | None:
    """The threshold that leaves least variance within two classes.

    Parameters
    ----------
    values : array of float, any shape
        Grey values.
    Returns
    -------
    Split or None
        None if all values are the same.
    """
    flat = np.asarray(values, dtype=float).ravel()
    low, high = np.percentile(flat, [0.05, 99.95]) if flat.size else (0.0, 0.0)
    if high - low <= 1e-6 * max(1.0, abs(float(high))):
        return None
    counts, edges = np.histogram(np.clip(flat, low, high), bins=BINS, range=(low, high))
    middles = 0.5 * (edges[1:] + edges[:-1])
    weight, moment = np.cumsum(counts), np.cumsum(counts * middles)
    below, above = weight[:-1], weight[-1] - weight[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        between = below * above * (moment[:-1] / below - (moment[-1] - moment[:-1]) / above) ** 2
    between = np.nan_to_num(between)
    best = np.flatnonzero(between == between.max())
    at = int(best[len(best) // 2])
    return _split(flat, float(edges[at + 1]))


def _split(flat: FloatArray, level: float) -> Split | None:
    low, high = flat[flat <= level], flat[flat > level]
    if not low.size or not high.size:
        return None
    share = low.size / flat.size
    means = float(low.mean()), float(high.mean())
    between = share * (1 - share) * (means[1] - means[0]) ** 2
    within = share * float(low.var()) + (1 - share) * float(high.var())
    spread = np.sqrt(0.5 * (low.var() + high.var()))
    apart = float((means[1] - means[0]) / max(spread, 1e-9))
    return Split(level, *means, float(between / (between + within)), apart)
