"""Timing and rows that the benchmarks of light share."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")


def timed(task: Callable[[], T], rounds: int = 3) -> tuple[T, float]:
    """The answer and the least processor time of a few rounds [s]."""
    best = math.inf
    for _ in range(rounds):
        start = time.process_time()
        answer = task()
        best = min(best, time.process_time() - start)
    return answer, best


def light_row(task: str, size: int, seconds: float, other: float | None = None, note: str = "") -> dict[str, object]:
    """One row: our time, a general way's where there is one, and how many times as long that takes."""
    return {"task": task, "size": size, "cpu_s": round(seconds, 4),
            "yardstick_s": None if other is None else round(other, 4),
            "ratio": None if other is None else round(other / max(seconds, 1e-6), 1), "note": note}
