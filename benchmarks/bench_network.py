"""The network's solve against the ngspice process on the same made-up looms: ours, ngspice, ours, ngspice, and so on.

So other work on the machine falls on both alike; the ratio is the median over the turns.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from in_turn import in_turn, middle_ms, ratio_of

from outside.looms import Loom, lamp_currents, made_loom, spice_nodes, with_regulators
from rushlight.electric.network import Supply, columns_of, operating_point, shape_of

SIZES = (10, 100, 500, 2000)


def run(full: bool) -> list[dict[str, object]]:
    """One row for each size: times, ratio to ngspice (None without the program), worst difference."""
    turns = 15 if full else 3
    sizes = SIZES if full else SIZES[:3]
    rows = [_row(leds, turns) for leds in sizes]
    return [*_with_growth(sizes, rows), _live(turns), _regulated(500, turns)]


def _with_growth(sizes: tuple[int, ...], rows: list[dict[str, object]]) -> list[dict[str, object]]:
    """Each row with how often as much time as the size before it takes, set-up and solve together."""
    took_ms = [float(str(row["set_up_ms"])) + float(str(row["solve_ms"])) for row in rows]
    grown = [f"{now / before:.1f} for {size / less:.0f} times the LEDs"
             for less, size, before, now in zip(sizes, sizes[1:], took_ms, took_ms[1:], strict=False)]
    return [{**row, "grown": how} for row, how in zip(rows, [None, *grown], strict=True)]


def _row(leds: int, turns: int) -> dict[str, object]:
    loom = made_loom(leds, leds)
    shape = shape_of(loom.network)
    with tempfile.TemporaryDirectory() as folder:
        spice = _spice(loom, Path(folder))
        calls = [lambda: shape_of(loom.network), lambda: operating_point(loom.network, loom.columns, shape=shape)]
        took = in_turn([*calls, spice] if spice else calls, turns)
        ratio, half = ratio_of(took[2], took[0] + took[1]) if spice else (None, None)
        return {
            "case": f"{leds} LEDs, 5 states", "elements": len(loom.network.elements),
            "set_up_ms": middle_ms(took[0]), "solve_ms": middle_ms(took[1]),
            "ngspice_ms": middle_ms(took[2]) if spice else None, "ngspice_over_ours": ratio, "half_of_them": half,
            "worst_relative_difference": _worst(loom, spice()) if spice else None, "peak_mb": _peak_mb(loom),
        }


def _peak_mb(loom: Loom) -> float:
    """The most memory that set-up and solve hold at once [MB], beyond what was held before."""
    tracemalloc.start()
    try:
        operating_point(loom.network, loom.columns, shape=shape_of(loom.network))
        return round(tracemalloc.get_traced_memory()[1] / 1e6, 1)
    finally:
        tracemalloc.stop()


def _spice(loom: Loom, folder: Path) -> Callable[[], np.ndarray] | None:
    """The program on the loom, its process and its files included; None where it is not installed."""
    program = shutil.which("ngspice")
    if program is None:
        return None
    return lambda: spice_nodes(loom.network, loom.columns, program=program, folder=folder, options="itl1=500")


def _worst(loom: Loom, node_v: np.ndarray) -> float:
    """Largest relative difference of a lit lamp's current."""
    theirs = lamp_currents(loom, node_v)
    point = operating_point(loom.network, loom.columns)
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    return float(f"{np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]):.1e}")


def _live(turns: int) -> dict[str, object]:
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
    set_up, solve = in_turn(
        [lambda: shape_of(loom.network), lambda: operating_point(loom.network, columns, shape=shape)], turns)
    return {
        "case": f"100 LEDs, {columns.count} columns", "elements": len(loom.network.elements),
        "set_up_ms": middle_ms(set_up), "solve_ms": middle_ms(solve),
    }


def _regulated(leds: int, turns: int) -> dict[str, object]:
    """The same loom with half of its resistors replaced by regulators: how many times its solve takes."""
    plain, loom = made_loom(leds, leds), with_regulators(made_loom(leds, leds), leds)
    shapes = [shape_of(one.network) for one in (plain, loom)]
    solves = [lambda one=one, shape=shape: operating_point(one.network, one.columns, shape=shape)
              for one, shape in zip((plain, loom), shapes, strict=True)]
    took = in_turn([*solves, lambda: shape_of(loom.network)], turns)
    ratio, half = ratio_of(took[1], took[0])
    return {
        "case": f"{leds} LEDs, half on regulators, 5 states", "elements": len(loom.network.elements),
        "set_up_ms": middle_ms(took[2]), "solve_ms": middle_ms(took[1]), "times_without_regulators": ratio,
        "half_of_them": half,
    }


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
