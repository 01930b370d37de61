"""Calls timed in turn, one of each and again from the first, so that other work on the machine falls on all alike."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def best_s(call: Callable[[], object], times: int) -> float:
    """Least time of a few runs [s]."""
    return float(in_turn([call], times).min())


def in_turn(calls: Sequence[Callable[[], object]], turns: int) -> Array:
    """Times of some calls on the clock [s], shape (calls, turns); one turn before them is not counted."""
    took = np.empty((len(calls), turns + 1))
    for turn in range(turns + 1):
        for row, call in enumerate(calls):
            start = time.perf_counter()
            call()
            took[row, turn] = time.perf_counter() - start
    return took[:, 1:]


def ratio_of(longer_s: Array, shorter_s: Array) -> tuple[float, str]:
    """How often as long one call took: the median over the turns, and in words the span that holds half of them."""
    ratios = longer_s / shorter_s
    low, high = np.percentile(ratios, (25, 75))
    return round(float(np.median(ratios)), 1), f"{low:.1f} to {high:.1f}"


def middle_ms(times_s: Array) -> float:
    """The median of some times [ms]."""
    return round(1e3 * float(np.median(times_s)), 1)
