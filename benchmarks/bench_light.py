"""Light: how the stage grows with lamps; pool maps, pictures by night and packings beside general ways.

Run: python benchmarks/bench_light.py [--full]. Processor seconds; ratios are of one run.
"""

from __future__ import annotations

import math
import sys
import time
from itertools import pairwise
from pathlib import Path

import numpy as np

QUICK, FULL = (10, 100), (10, 100, 500, 2000)
LAMPS, SIDE = 20, 72
DIFFERENT, GUESSES, DRAWS = 2000, 9, 2000
PACKED = (7, 19, 37)
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))
sys.path.insert(0, str(Path(__file__).resolve().parent))

import bench_coupling  # noqa: E402
import bench_night  # noqa: E402
import bench_standing  # noqa: E402
from light_rows import light_row, timed  # noqa: E402


def run(full: bool) -> list[dict[str, object]]:
    """One row a task and size: processor seconds, the yardstick's, the ratio of the two, how the answers differ."""
    stages, shares = zip(*(_stage(count) for count in (FULL if full else QUICK)), strict=True)
    for before, row in pairwise(stages):
        row["note"] = f"{row['cpu_s'] / max(before['cpu_s'], 1e-4):.1f} times the size before"
    rows: list[dict[str, object]] = [*stages, *shares, bench_coupling.window_row(), _cures(), _pools(),
                                    _likely()]
    rows += [_readings(count) for count in (FULL[1:3] if full else QUICK[:1])]
    rows += bench_night.rows(full)
    rows += bench_standing.rows(full)
    rows += [_packing(count) for count in (PACKED if full else PACKED[:1])]
    return rows


def _stage(count: int) -> tuple[dict[str, object], dict[str, object]]:
    """The stage itself; and every share of light that it asks for, again by a general way."""
    from designed import PACKAGED, planned
    from large_plan import large_plan
    from rushlight.optics import fibre
    from rushlight.stages.build import Build
    from rushlight.stages.light import light_of
    from rushlight.stages.pipeline import design

    def lit() -> None:
        fibre._places.cache_clear()  # a first design knows no tail's place yet
        light_of(build, made.aims)

    plan = planned(large_plan(count))
    made = design(plan, PACKAGED)
    build = Build(plan, PACKAGED, made.lamps, made.sources, made.circuits, made.loom, made.power)
    _, seconds = timed(lit)
    asked: bench_coupling.Asked = []
    with bench_coupling.listened(asked):
        lit()
    ours, mine, general, other = bench_coupling.asked_again(asked)
    off = float(np.max(np.abs(ours - general) / np.maximum(general, 1e-6)))
    task = f"shares of light that it asks for, {count} lamps (SciPy dblquad, sums over pairs)"
    note = f"differ by {100 * off:.2f} % at most"
    return light_row("light stage, lamps", count, seconds), light_row(task, len(asked), mine, other, note)


def _cures() -> dict[str, object]:
    """What is tried for one uneven strip of ten windows, beside making as many whole designs as it makes trials."""
    from designed import PACKAGED, planned
    from large_plan import large_plan
    from rushlight.stages.pipeline import design
    from rushlight.stages.strip_cures import strip_cures, uneven_strips

    made = design(planned(large_plan(100)), PACKAGED)
    (name, goal), *_ = uneven_strips(made)
    found, seconds = timed(lambda: strip_cures(made, name, goal=goal), rounds=1)
    _, whole = timed(lambda: design(made.plan, PACKAGED), rounds=1)
    told = len(found.tried)
    note = f"{told} told, {len(found.reaching)} enough; yardstick: as many whole designs"
    return light_row("cures of an uneven strip of 10 windows", told, seconds, whole * told, note)


def _readings(count: int) -> dict[str, object]:
    """What to measure first, beside the whole light stage anew for each guess that it ranks."""
    from designed import PACKAGED, planned
    from large_plan import large_plan
    from rushlight.stages.build import Build
    from rushlight.stages.light import light_of
    from rushlight.stages.pipeline import design
    from rushlight.stages.readings import every_reading

    made = design(planned(large_plan(count)), PACKAGED)
    build = Build(made.plan, PACKAGED, made.lamps, made.sources, made.circuits, made.loom, made.power)
    found, seconds = timed(lambda: every_reading(made))
    _, once = timed(lambda: light_of(build, made.aims))
    note = f"{len(found)} readings ranked; yardstick: as many times the light stage"
    return light_row("what to measure first, lamps", count, seconds, once * len(found), note)


def _pools() -> dict[str, object]:
    from rushlight.optics.pool_map import Beam, pools_lx

    rng = np.random.default_rng(4)
    spots = rng.uniform(0, 200, (LAMPS, 4))
    beams = [Beam(0.1, 4.8, (a, b), 40.0, (c, d)) for a, b, c, d in spots.tolist()]
    x, y = np.meshgrid(np.linspace(0, 200, SIDE), np.linspace(0, 200, SIDE))
    fast, seconds = timed(lambda: pools_lx(beams, x, y).sum(axis=0))
    slow, other = timed(lambda: _double_loop(beams, x, y), 1)
    off = float(np.max(np.abs(fast - slow) / slow.max()))
    task = f"pool map of {LAMPS} lamps, places (direct double loop)"
    return light_row(task, SIDE * SIDE, seconds, other, f"differ by {off:.0e}")


def _likely() -> dict[str, object]:
    """What is likely of lamps that hang on guesses of their own, beside guesses drawn at random."""
    from rushlight.likely import COVERAGE_FACTOR, likely_times

    rng = np.random.default_rng(6)
    widths = rng.uniform(0.05, 1.2, (DIFFERENT, GUESSES))
    lamps = [tuple((str(k), wide) for k, wide in enumerate(row)) for row in widths.tolist()]
    fast, seconds = timed(lambda: [likely_times(guesses) for guesses in lamps])
    slow, other = timed(lambda: [COVERAGE_FACTOR * float(np.std(rng.uniform(-0.5, 0.5, (DRAWS, GUESSES)) @ row))
                                 for row in widths], 1)
    off = float(np.max(np.abs(np.log(fast) / np.array(slow) - 1)))
    task = f"what is likely of {GUESSES} guesses, lamps (NumPy, {DRAWS} draws each)"
    note = f"widths differ by {100 * off:.1f} % at most, the draws' own scatter in it"
    return light_row(task, DIFFERENT, seconds, other, note)


def _double_loop(beams: list, x: np.ndarray, y: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
    """The distance law, lamp by lamp and place by place."""
    made = np.zeros(x.shape)
    for beam in beams:
        axis = (beam.aim_mm[0] - beam.foot_mm[0], beam.aim_mm[1] - beam.foot_mm[1], -beam.height_mm)
        long = math.sqrt(sum(part * part for part in axis))
        for row in range(x.shape[0]):
            for column in range(x.shape[1]):
                ray = (x[row, column] - beam.foot_mm[0], y[row, column] - beam.foot_mm[1], -beam.height_mm)
                far = math.sqrt(sum(part * part for part in ray))
                cosine = sum(a * b for a, b in zip(axis, ray, strict=True)) / (long * far)
                if cosine > 0:
                    made[row, column] += 1e6 * beam.peak_cd * cosine**beam.order * beam.height_mm / far**3
    return made


def _packing(count: int) -> dict[str, object]:
    from rushlight.geometry.circles import enclosing_circle

    start = time.process_time()
    ours = enclosing_circle([1.0] * count)
    seconds = time.process_time() - start
    start = time.process_time()
    theirs = _general(count)
    other = time.process_time() - start
    gap = 100 * (theirs / ours.diameter_mm - 1)
    task = "enclosing circle, fibres (SciPy SLSQP, 3 starts)"
    return light_row(task, count, seconds, other, f"SciPy's is {gap:.2f} % wider")


def _general(count: int) -> float:
    """The smallest circle round unit circles by SciPy's general optimiser, the best of three random starts."""
    from scipy.optimize import minimize

    first, second = np.triu_indices(count, 1)
    best = math.inf
    for seed in range(3):
        start = np.random.default_rng(seed).uniform(-1, 1, 2 * count) * math.sqrt(count) / 2
        found = minimize(
            lambda v: v[-1], np.append(start, math.sqrt(count)), method="SLSQP", options={"maxiter": 150},
            constraints=[
                {"type": "ineq", "fun": lambda v: v[-1] - 0.5 - np.hypot(v[:count], v[count:-1])},
                {"type": "ineq", "fun": lambda v: (v[first] - v[second]) ** 2
                 + (v[count + first] - v[count + second]) ** 2 - 1.0},
            ],
        )
        if found.success or found.status == 9:
            best = min(best, _honest(found.x, count))
    return best


def _honest(answer: np.ndarray, count: int) -> float:  # type: ignore[type-arg]
    """Its diameter with the circles really apart: re-measured from the centres."""
    places = np.stack([answer[:count], answer[count:-1]], axis=1)
    apart = np.linalg.norm(places[:, None] - places[None], axis=2) + 9e9 * np.eye(count)
    return float(2 * (np.linalg.norm(places, axis=1).max() / apart.min() + 0.5))


if __name__ == "__main__":
    for line in run("--full" in sys.argv):
        print(line)
