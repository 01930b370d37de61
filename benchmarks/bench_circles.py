"""Circle packing: gap to the published best and time, by number of fibres; table, search alone, first picture.

Run: python benchmarks/bench_circles.py [--full]. Times are of this machine; read the ratios to the yardstick.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

from rushlight import tables
from rushlight.geometry import _polish, _search, circles

T = TypeVar("T")

QUICK = (7, 19, 37, 61)
MIXES = (
    ("6 x 1.0 + 12 x 0.5", (1.0,) * 6 + (0.5,) * 12),
    ("10 x 1.0 + 20 x 0.5", (1.0,) * 10 + (0.5,) * 20),
    ("5 x 1.0 + 10 x 0.75 + 15 x 0.25", (1.0,) * 5 + (0.75,) * 10 + (0.25,) * 15),
)


def yardstick_s() -> float:
    """Time of a fixed numpy job, so that runs on different machines compare."""
    numbers = np.random.default_rng(1).random((400, 400))
    return _timed(lambda: [np.sort(numbers, axis=1) for _ in range(20)])[1]


def run(full: bool) -> list[dict[str, object]]:
    """One row a case: what, circles, gap to the published best [%], seconds, and the same over the yardstick."""
    known = {int(row["n"]): float(row["enclosing_over_circle"]) for row in tables.rows("packing_best_known")}
    unit = yardstick_s()
    counts = tuple(range(4, 62)) if full else QUICK
    rows = [_row("search", n, _searched(n), known[n], unit) for n in counts]
    rows += [_row("table", n, _packed([1.0] * n), known[n], unit) for n in counts]
    rows += [_row("first picture", n, _first([1.0] * n), known[n], unit) for n in counts]
    rows += [_row(f"mix {name}", len(mix), _packed(list(mix)), None, unit) for name, mix in MIXES]
    if full:
        rows += [_row("search", n, _searched(n), None, unit) for n in (100, 200)]
    return rows


def _row(what: str, n: int, answer: tuple[float, float], best: float | None, unit: float) -> dict[str, object]:
    width, seconds = answer
    gap = None if best is None else round(100 * (width / best - 1), 6)
    return {
        "what": what, "circles": n, "diameter_over_widest": round(width, 6), "gap_percent": gap,
        "seconds": round(seconds, 4), "yardsticks": round(seconds / unit, 2),
    }


def _searched(n: int) -> tuple[float, float]:
    radii = np.ones(n)
    effort = _search.effort_for(n, None, False)
    found, seconds = _timed(lambda: _polish.polished(_search.search(radii, effort), radii))
    return _polish.container_radius(found, radii), seconds


def _packed(diameters: list[float]) -> tuple[float, float]:
    circles._packed.cache_clear()
    packing, seconds = _timed(lambda: circles.enclosing_circle(diameters))
    return packing.diameter_mm, seconds


def _first(diameters: list[float]) -> tuple[float, float]:
    circles._first.cache_clear()
    packing, seconds = _timed(lambda: circles.first_packing(diameters))
    return packing.diameter_mm, seconds


def _timed(job: Callable[[], T]) -> tuple[T, float]:
    start = time.perf_counter()
    return job(), time.perf_counter() - start


def main() -> None:
    """Print the table."""
    for row in run("--full" in sys.argv):
        print("  ".join(f"{row[key]!s:>34}" if key == "what" else f"{row[key]!s:>12}" for key in row))


if __name__ == "__main__":
    main()
