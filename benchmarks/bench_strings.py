"""The stage that weighs LEDs in series beside the stage that lays the loom, in one run of the same design."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from in_turn import ratio_of

from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.design import Design
from rushlight.model.plan import Plan
from rushlight.stages.pipeline import design

SIZES = ((1, 8), (2, 12), (4, 15), (4, 30))
"""Rows of like LEDs, each in a state of its own, and LEDs in each."""

NEXT = {"loom": "strings", "strings": "power"}
"""The stage that begins as one ends."""


def plan_of(rows: int, leds: int) -> str:
    """Rows of like red LEDs on eight cells: strings of two and more are weighed for each."""
    wide, high = 100 + 8 * leds, 120 + 20 * rows
    states = ", ".join(f"{{name: s{k}}}" for k in range(rows))
    listed = "\n".join(
        f"  - {{name: row {k}, part: board, along_mm: [[20, {20 + 20 * k}], [{20 + 8 * leds}, {20 + 20 * k}]], "
        f"count: {leds}, colour: red, model_mm: 3, states: [s{k}]}}" for k in range(rows))
    return (
        "rushlight: 1\n"
        f'subject: {{title: made up, scale: "1:100", invented: true}}\nstates: [{states}]\n'
        "parts:\n  - name: board\n"
        f"    outline_mm: [[0, 0], [{wide}, 0], [{wide}, {high}], [0, {high}]]\n"
        "    relief: {flat: true}\n"
        f"    bays: [{{name: bay, rect_mm: [10, {30 + 20 * rows}, 80, 60], depth_mm: 40, access: open}}]\n"
        f"rows:\n{listed}\n"
        "supply: {kind: cells, cell: AA, in_series: 8, bay: bay, run_h: 2}\n"
    )


def run(full: bool) -> list[dict[str, object]]:
    """One row for each size: processor seconds of both stages, and how often as long the strings took."""
    turns = 5 if full else 2
    return [_row(rows, leds, turns) for rows, leds in (SIZES if full else SIZES[:2])]


def _row(rows: int, leds: int, turns: int) -> dict[str, object]:
    drawer = read_drawer(None)
    plan = parse_plan(plan_of(rows, leds), "plan.yaml", drawer)
    timed = [_stages(plan, own_values(drawer, plan)) for _ in range(turns + 1)]
    loom_s, strings_s = (np.array([one[stage] for _, one in timed[1:]]) for stage in NEXT)
    ratio, half = ratio_of(strings_s, loom_s)
    made = timed[0][0]
    weighed = sum(row.in_series > 1 for row in made.series)
    return {
        "leds": rows * leds, "groups": len({row.emitters for row in made.series}), "lengths_weighed": weighed,
        "strings_built": len(made.loom.strings), "loom_s": round(float(np.median(loom_s)), 3),
        "strings_s": round(float(np.median(strings_s)), 3), "strings_over_loom": ratio, "half_of_them": half,
        "for_each_length": round(ratio / weighed, 2) if weighed else None,
    }


def _stages(plan: Plan, drawer: object) -> tuple[Design, dict[str, float]]:
    """A design, and the processor's seconds of the two stages."""
    began: dict[str, float] = {}
    made = design(plan, drawer, progress=lambda stage: began.setdefault(stage, time.process_time()))  # type: ignore[arg-type]
    return made, {stage: began[after] - began[stage] for stage, after in NEXT.items()}


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
