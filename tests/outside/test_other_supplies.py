"""Other supplies beside other sources: the loom with each in ngspice, run times beside published discharge figures.

ngspice solves the same looms in the same run. Figures of discharge: IEC 60086-2, least average durations of LR6 (from
memory), and bench figures of LR6, mean of makes, to 0.1 V (read), as in test_iec_60086_cells.py.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from designed import designed
from outside.test_ngspice_demos import agrees
from plans import board
from rushlight.model.design import Design
from rushlight.stages.supply_trial import tried_supply
from rushlight.stages.supply_trials import take_supply
from rushlight.working_plan import changed

REDS = ("{{name: reds, part: board, along_mm: [[20, 60], [110, 60]], count: {count}, colour: red, model_mm: 3, states: day, "
        "source: {{kind: led}}}}")
ALONE = ('pinned: [{of: reds, choice: current_ma, value: "20"}, '
         '{of: all, choice: leds_in_series, value: "1"}]\n')
LARGE = "{name: large, rect_mm: [120, 52, 75, 46], depth_mm: 40, access: open}"
ADAPTER = "supply: {kind: adapter, adapter_v: 12, limit_a: 2, bay: large, run_h: 1}\n"


@cache
def reds(count: int, held: str = "") -> Design:
    return designed(board("", REDS.format(count=count), supply=ADAPTER + held).replace("bays: [", f"bays: [{LARGE}, "))


@pytest.mark.parametrize("values", [
    {"kind": "cells", "cell": "AA", "in_series": 2}, {"kind": "cells", "cell": "AA", "in_series": 6},
    {"kind": "cells", "cell": "18650", "in_series": 1}, {"kind": "usb adapter"}, {"kind": "cells", "cell": "9 V", "in_series": 1},
])
def test_each_tried_loom_agrees_with_ngspice(values: dict[str, object], tmp_path: Path) -> None:
    made = reds(6)
    trial = tried_supply(made, replace(made.plan.supply, **values))
    now = designed(changed(made.plan, take_supply(made, trial).changes))
    assert now.power == trial.power
    agrees(now, tmp_path)  # every lit LED's current to 1e-5


@pytest.mark.parametrize(("milliampere", "least_h", "hard", "easy"), [
    # source: IEC 60086-2 LR6 (from memory): at least so many hours at a steady current to 0.9 V;
    # source: bench figures of LR6 (read), charge in mAh at 500 and 1000 mA, at 100 and 25 mA
    (100, 15.0, (500, 1265), (25, 2900)), (250, 5.0, (500, 1265), (25, 2900)), (500, None, (1000, 925), (100, 2165)),
])
def test_two_aa_last_as_published(
    milliampere: int, least_h: float | None, hard: tuple[int, float], easy: tuple[int, float]
) -> None:
    """So many red LEDs of 20 mA as take the published current, fed by two AA instead of an adapter.

    The lamps fade as the cells age: they last longer than the published charge of a harder drain at the fresh current,
    and less long than that of an easier drain at the flat one.
    """
    made = reds(milliampere // 20, ALONE)
    trial = tried_supply(made, replace(made.plan.supply, kind="cells", cell="AA", in_series=2))
    (state,) = [row for row in trial.power.states if row.lit]
    fresh_ma, flat_ma = (1000 * sum(getattr(row, end) for row in state.lit) for end in ("fresh_a", "flat_a"))
    assert flat_ma < 0.95 * milliampere < fresh_ma < hard[0] * 1.2 and flat_ma > easy[0]
    assert hard[1] / fresh_ma < trial.run_h.typical < easy[1] / flat_ma
    if least_h is not None:  # a steady drain of as much as the fresh cells give is harder still
        assert trial.run_h.low > least_h * milliampere / fresh_ma
