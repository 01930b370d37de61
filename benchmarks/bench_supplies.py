"""One other supply worked out on the loom that lies, beside a whole design of the plan with that supply."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from in_turn import in_turn, middle_ms, ratio_of

import rushlight
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import read_plan
from rushlight.model.plan_bench import Supply
from rushlight.stages.pipeline import design
from rushlight.stages.supply_trial import tried_supply

DEMOS = Path(rushlight.__file__).parent / "demos"

OTHERS = (
    ("tug", "a USB adapter", {"kind": "usb adapter"}), ("tug", "another strip", {"kind": "adapter", "adapter_v": 12.0}),
    ("lantern", "one lithium cell", {"cell": "18650", "in_series": 1}),
)


def run(full: bool) -> list[dict[str, object]]:
    """One row for each other supply."""
    return [_row(name, says, values, 3 if full else 2) for name, says, values in (OTHERS if full else OTHERS[2:])]


def _row(name: str, says: str, values: dict[str, object], turns: int) -> dict[str, object]:
    plan = read_plan(DEMOS / name, read_drawer(None)).plan
    drawer = own_values(read_drawer(None), plan)
    made = design(plan, drawer)
    assert isinstance(plan.supply, Supply)
    supply = replace(plan.supply, **values)  # type: ignore[arg-type]
    other = replace(plan, supply=supply)
    whole_s, one_s = in_turn([lambda: design(other, drawer), lambda: tried_supply(made, supply)], turns)
    ratio, half = ratio_of(whole_s, one_s)
    return {
        "demo": name, "other": says, "design_ms": middle_ms(whole_s), "candidate_ms": middle_ms(one_s),
        "design_over_candidate": ratio, "half_of_them": half,
        "same": tried_supply(made, supply).power == design(other, drawer).power,
    }


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
