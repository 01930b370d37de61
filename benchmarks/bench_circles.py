"""Circle packing: gap to the best known and time, by number of fibres.

Rows: the table, the search alone, the first picture, mixes, and SciPy's general optimiser on the plain problem.
Run: python benchmarks/bench_circles.py [--full]. Times are of this machine; read the ratios to the yardstick.
"""

from __future__ import annotations

import csv
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import numpy as np
from scipy.optimize import minimize

from rushlight import tables
from rushlight.geometry import _hops, _polish, circles

T = TypeVar("T")

QUICK = (7, 19, 37, 61)
MANY = (75, 91, 100, 127, 150, 175, 200)
GENERAL = (7, 19)
GENERAL_STARTS = 5
"""Seeded random starts that SciPy's general optimiser is given, the best of which counts."""

MIXES = Path(__file__).parent / "mixes_long_search.csv"
"""Mixes of two and three stock sizes drawn at random, with the best circle that far longer searches found."""

QUICK_MIXES = 6
GENERAL_MIXES = 2
"""Mixes measured in a quick run, and mixes that the general optimiser is given too."""


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
    listed = tuple(range(1, 201)) if full else QUICK + MANY
    rows += [_row("table", n, _packed([1.0] * n), known[n], unit) for n in listed]
    rows += [_row("first picture", n, _first([1.0] * n), known[n], unit) for n in QUICK + MANY]
    rows += [_row("general optimiser", n, _general(np.ones(n)), known[n], unit) for n in GENERAL]
    rows += _mixes(unit, full)
    if full:
        rows += [_row("search", n, _searched(n), known[n], unit) for n in (100, 200)]
    return rows


def _mixes(unit: float, full: bool) -> list[dict[str, object]]:
    """Rows of the mixes, against the longest search instead of a published best."""
    with MIXES.open(encoding="utf-8", newline="") as file:
        listed = list(csv.DictReader(file))
    rows = []
    for number, row in enumerate(listed if full else listed[:QUICK_MIXES]):
        parts = [part.split(" x ") for part in row["mix"].split(" + ")]
        diameters = np.repeat([float(size) for _, size in parts], [int(count) for count, _ in parts])
        widest, best = float(diameters[0]), float(row["enclosing_mm"]) / float(diameters[0])
        ratios = diameters / widest
        rows.append(_row(f"mix {row['mix']}", len(ratios), _packed(ratios.tolist()), best, unit))
        if number < GENERAL_MIXES:
            # Twice the size: ratios taken as radii.
            rows.append(_row(f"general optimiser, mix {row['mix']}", len(ratios), _general(ratios), best, unit))
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
    effort = _hops.effort_for(radii, None)
    found, seconds = _timed(lambda: _polish.polished(_hops.search(radii, effort), radii))
    return _polish.container_radius(found, radii), seconds


def _general(radii: np.ndarray) -> tuple[float, float]:
    """SciPy's SLSQP on the plain problem, least R with no overlap, its slopes given; widened until valid."""
    n, reach, rng = len(radii), float(np.sqrt(np.sum(radii**2))), np.random.default_rng(len(radii))

    def solve() -> float:
        spread = [rng.uniform(-1.0, 1.0, (n, 2)) * reach for _ in range(GENERAL_STARTS)]
        found = [_polish.spread_apart(_slsqp(start, radii), radii) for start in spread]
        return min(_polish.container_radius(centres, radii) for centres in found)

    return _timed(solve)


def _slsqp(start: np.ndarray, radii: np.ndarray) -> np.ndarray:
    n, widest = len(start), float(radii.max())
    i, j = np.triu_indices(n, 1)
    pair, disc = np.arange(len(i)), np.arange(n)

    def room(z: np.ndarray) -> np.ndarray:
        c = z[:-1].reshape(n, 2)
        apart = ((c[i] - c[j]) ** 2).sum(axis=1) - (radii[i] + radii[j]) ** 2
        return np.concatenate([apart, (z[-1] - radii) ** 2 - (c**2).sum(axis=1)])

    def slopes(z: np.ndarray) -> np.ndarray:
        c, out = z[:-1].reshape(n, 2), np.zeros((len(i) + n, 2 * n + 1))
        for axis in (0, 1):
            out[pair, 2 * i + axis] = 2 * (c[i] - c[j])[:, axis]
            out[pair, 2 * j + axis] = -2 * (c[i] - c[j])[:, axis]
            out[len(i) + disc, 2 * disc + axis] = -2 * c[:, axis]
        out[len(i) :, -1] = 2 * (z[-1] - radii)
        return out

    last = np.append(np.zeros(2 * n), 1.0)
    guess = np.append(start.ravel(), float(np.hypot(*start.T).max()) + widest)
    answer = minimize(
        lambda z: z[-1], guess, jac=lambda _: last, method="SLSQP", options={"maxiter": 200},
        constraints={"type": "ineq", "fun": room, "jac": slopes}, bounds=[(None, None)] * 2 * n + [(widest, None)],
    )
    return np.asarray(answer.x[:-1].reshape(n, 2))


def _packed(diameters: list[float]) -> tuple[float, float]:
    circles._worked_out.cache_clear()
    circles._SEARCHED.clear()
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
