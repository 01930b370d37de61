"""The network's solve against the ngspice process on the same made-up looms, in one run."""

from __future__ import annotations

import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from outside.looms import Loom, lamp_currents, made_loom, spice_nodes, with_regulators
from rushlight.electric.network import Supply, columns_of, operating_point, shape_of

SIZES = (10, 100, 500, 2000)

OURS = 4
"""Ours is short, so that other work on the machine hits a larger share of it: it is tried so many times as often."""


def best_s(call: Callable[[], object], times: int) -> float:
    """Least time of a few runs [s]."""
    out = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        out.append(time.perf_counter() - start)
    return min(out)


def run(full: bool) -> list[dict[str, object]]:
    """One row for each size: times, ratio to ngspice (None without the program), worst difference."""
    rows = [_row(leds, 5 if full else 2) for leds in (SIZES if full else SIZES[:3])]
    return [*rows, _live(5 if full else 2), _regulated(500, 5 if full else 2)]


def _row(leds: int, times: int) -> dict[str, object]:
    loom = made_loom(leds, leds)
    shape = shape_of(loom.network)
    set_up = best_s(lambda: shape_of(loom.network), OURS * times)
    solve = best_s(lambda: operating_point(loom.network, loom.columns, shape=shape), OURS * times)
    spice, worst = _spice(loom, times)
    return {
        "case": f"{leds} LEDs, 5 states", "elements": len(loom.network.elements),
        "set_up_ms": round(1e3 * set_up, 1), "solve_ms": round(1e3 * solve, 1),
        "ngspice_ms": None if spice is None else round(1e3 * spice, 1),
        "ngspice_over_ours": None if spice is None else round(spice / (set_up + solve), 1),
        "worst_relative_difference": worst,
    }


def _spice(loom: Loom, times: int) -> tuple[float | None, float | None]:
    program = shutil.which("ngspice")
    if program is None:
        return None, None
    with tempfile.TemporaryDirectory() as folder:
        def solve() -> np.ndarray:
            return spice_nodes(loom.network, loom.columns, program=program, folder=Path(folder), options="itl1=500")

        took = best_s(solve, times)
        theirs = lamp_currents(loom, solve())
    point = operating_point(loom.network, loom.columns)
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    return took, float(f"{np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]):.1e}")


def _live(times: int) -> dict[str, object]:
    """100 LEDs in 5 states, at 3 ages, with low, typical and high LEDs: what the app computes on an edit."""
    loom = made_loom(100, 100)
    ages = (Supply("fresh", (12.0,), (0.3,)), Supply("half", (10.5,), (0.8,)), Supply("flat", (8.0,), (2.0,)))
    switches = loom.network.named("switch")
    states = {
        name: [s for k, s in enumerate(switches) if loom.columns.closed[k, c]]
        for c, name in enumerate(loom.columns.names)
    }
    columns = columns_of(loom.network, states, supplies=ages, shifts_v={"low": -0.2, "typical": 0.0, "high": 0.2})
    shape = shape_of(loom.network)
    solve = best_s(lambda: operating_point(loom.network, columns, shape=shape), OURS * times)
    return {
        "case": f"100 LEDs, {columns.count} columns", "elements": len(loom.network.elements),
        "set_up_ms": round(1e3 * best_s(lambda: shape_of(loom.network), OURS * times), 1),
        "solve_ms": round(1e3 * solve, 1),
        "ngspice_ms": None, "ngspice_over_ours": None, "worst_relative_difference": None,
    }


def _regulated(leds: int, times: int) -> dict[str, object]:
    """The same loom with half of its resistors replaced by regulators: how many times its solve takes."""
    plain, loom = made_loom(leds, leds), with_regulators(made_loom(leds, leds), leds)
    shapes = [shape_of(one.network) for one in (plain, loom)]
    took = [best_s(lambda one=one, shape=shape: operating_point(one.network, one.columns, shape=shape), OURS * times)
            for one, shape in zip((plain, loom), shapes, strict=True)]
    return {
        "case": f"{leds} LEDs, half on regulators, 5 states", "elements": len(loom.network.elements),
        "set_up_ms": round(1e3 * best_s(lambda: shape_of(loom.network), OURS * times), 1),
        "solve_ms": round(1e3 * took[1], 1), "times_without_regulators": round(took[1] / took[0], 1),
        "ngspice_ms": None, "ngspice_over_ours": None, "worst_relative_difference": None,
    }


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
