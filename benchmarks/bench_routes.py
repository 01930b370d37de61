"""How routes, trees and tails grow: times in one run, ratios to the smallest size, trees beside baselines."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

from rushlight.geometry.assign import assign_tails
from rushlight.geometry.region import KeepOut, contains
from rushlight.geometry.routes import Place, RouteMap, Sheet, build_layout, distances
from rushlight.geometry.tree import SplicePrices, spanning_tree, splice_tree

T = TypeVar("T")

HULL = ((0, 40), (60, 0), (380, 0), (400, 80), (380, 160), (60, 160), (0, 120))
QUICK, FULL = (20, 100), (20, 100, 500, 2000)


def run(full: bool) -> list[dict[str, object]]:
    """One row a task and size: seconds, ratio to the first size, and what the answer was worth."""
    sizes = FULL if full else QUICK
    rows: list[dict[str, object]] = []
    for radius_mm in (0.0, 6.0):
        layout, seconds = _timed(lambda r=radius_mm: _hull(r))
        rows.append(_row(f"build layout, 30 keep-outs, R {radius_mm:g} mm", 30, seconds, _corners(layout)))
        for count in sizes:
            places = _places(layout, count)
            matrix, seconds = _timed(lambda layout=layout, places=places: distances(layout, places))
            rows.append(_row(f"all distances, R {radius_mm:g} mm", count, seconds, f"mean {matrix.mean():.0f} mm"))
    for count in sizes:
        rows += _trees(count)
        rows += _tails(count)
    return _with_ratios(rows)


def _timed(task: Callable[[], T]) -> tuple[T, float]:
    start = time.perf_counter()
    answer = task()
    return answer, time.perf_counter() - start


def _hull(radius_mm: float) -> RouteMap:
    rng = np.random.default_rng(1)
    posts = []
    for k in range(30):
        angles = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(3, 9)))
        ring = rng.uniform((20, 15), (380, 145)) + rng.uniform(3, 12) * np.c_[np.cos(angles), np.sin(angles)]
        posts.append(KeepOut(f"k{k}", tuple((float(x), float(y)) for x, y in ring)))
    layout = build_layout([Sheet("hull", HULL, tuple(posts))], margin_mm=1.0, bend_radius_mm=radius_mm)
    _corners(layout)  # the graph is made when it is asked for
    return layout


def _corners(layout: RouteMap) -> str:
    return f"{len(layout.sheets[0].graph.corners.xy_mm)} corners"


def _places(layout: RouteMap, count: int) -> list[Place]:
    trial = np.random.default_rng(count).uniform((0, 0), (400, 160), (4 * count, 2))
    inside = trial[contains([layout.sheets[0].space.pieces[0].shape], trial)][:count]
    return [Place("hull", float(x), float(y)) for x, y in inside]


def _spread(count: int, extra: int) -> np.ndarray:
    """Lamps as dense as 100 on a hull of 400 x 160 mm."""
    size = (count / 100) ** 0.5 * np.array([400, 160])
    return np.random.default_rng(count).uniform((0, 0), size, (count + extra, 2))


def _apart(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return np.hypot(a[:, None, 0] - b[None, :, 0], a[:, None, 1] - b[None, :, 1])


def _trees(count: int) -> list[dict[str, object]]:
    xy = _spread(count, 1)
    matrix = _apart(xy, xy)
    prices = SplicePrices()
    tree, seconds = _timed(lambda: splice_tree(matrix, range(1, count + 1), 0, prices=prices))
    start = splice_tree(matrix, range(1, count + 1), 0, prices=prices, rounds=0)
    star = matrix[0, 1:].sum() + 2 * prices.end_allowance_mm * count
    text = f"cost {tree.cost_mm:.0f} (one lead each {star:.0f}, without search {start.cost_mm:.0f})"
    plain, quick = _timed(lambda: spanning_tree(matrix))
    return [
        _row("splice tree", count, seconds, text),
        _row("spanning tree", count, quick, f"length {plain.length_mm:.0f}"),
    ]


def _tails(count: int) -> list[dict[str, object]]:
    xy = _spread(count, min(60, count))
    length = _apart(xy[:count], xy[count:])
    keys = ["ab"[k % 2] for k in range(count)]
    answer, seconds = _timed(lambda: assign_tails(length, keys, capacity=19, open_mm=200.0))
    return [_row("tails", count, seconds, f"{len(answer.illuminators)} illuminators, gap {answer.gap:.4f}")]


def _row(task: str, size: int, seconds: float, answer: str) -> dict[str, object]:
    return {"task": task, "size": size, "seconds": round(seconds, 3), "answer": answer}


def _with_ratios(rows: list[dict[str, object]]) -> list[dict[str, object]]:
    first: dict[object, float] = {}
    out = []
    for row in rows:
        base = first.setdefault(row["task"], max(float(str(row["seconds"])), 1e-3))
        out.append({**row, "ratio": round(float(str(row["seconds"])) / base, 1)})
    return out


if __name__ == "__main__":
    import sys

    for line in run("--full" in sys.argv):
        print(line)
