"""Time of each kind of sheet, of the tables and drawings, and of typesetting, by the number of lamps.

Run: python benchmarks/bench_sheets.py [--full]. Each size has a process of its own. Seconds are the processor's.
`power` is that of the lamps with which the time grew between the two largest sizes: 1 is in step with them, 2 is each
lamp with each other; what grows faster than it should stands on top.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")

HERE = Path(__file__).resolve().parent
QUICK, FULL = (50, 100), (200, 400, 800)

LEAST_S = 0.1
"""What takes less at the largest size is left out: its growth cannot be told."""


def run(full: bool) -> list[dict[str, object]]:
    """One row a sheet: seconds at each size, and the power with which they grow."""
    sizes = FULL if full else QUICK
    seconds = {size: json.loads(subprocess.run(
        [sys.executable, __file__, "--one", str(size)], check=True, capture_output=True, text=True
    ).stdout.splitlines()[-1]) for size in sizes}
    return rows_of(seconds)


def rows_of(seconds: dict[int, dict[str, float]]) -> list[dict[str, object]]:
    """By size and step its seconds, as rows: the whole first, then what grows fastest."""
    *_, before, last = sorted(seconds)
    power = {step: math.log(now / max(seconds[before][step], 1e-4)) / math.log(last / before)
             for step, now in seconds[last].items() if now >= LEAST_S}
    ranked = sorted(power, key=lambda step: (step != "whole book", -power[step]))
    return [{"step": step, **{f"s_at_{size}": round(seconds[size][step], 2) for size in sorted(seconds)},
             "power": round(power[step], 2)} for step in ranked]


# --- in the process of one size -----------------------------------------------------------------------------------


def one(lamps: int) -> dict[str, float]:
    """Processor seconds of each sheet and step of one book."""
    sys.path.insert(0, str(HERE.parent / "tests"))
    import typst  # noqa: F401  imports are not measured

    from designed import designed
    from large_plan import large_plan
    from rushlight.book.make import typeset
    from rushlight.findings import find
    from rushlight.sheets import SHEETS, title_page
    from rushlight.sheets.exports import exports

    made = designed(large_plan(lamps))
    findings = find(made)
    seconds: dict[str, float] = {}
    sheets = [sheet for kind in SHEETS
              for sheet in _timed(seconds, f"sheet {kind.module}", lambda kind=kind: kind.draw(made, findings))]
    _timed(seconds, "tables and drawings", lambda: exports(sheets))
    _timed(seconds, "typesetting", lambda: typeset(sheets, title_page(made, findings)))
    return {**seconds, "whole book": math.fsum(seconds.values())}


def _timed(seconds: dict[str, float], name: str, step: Callable[[], T]) -> T:
    start = time.process_time()
    answer = step()
    seconds[name] = time.process_time() - start
    return answer


def main() -> None:
    """Print the rows, or measure one size for the process that asks."""
    if "--one" in sys.argv:
        print(json.dumps(one(int(sys.argv[sys.argv.index("--one") + 1]))))
        return
    for row in run("--full" in sys.argv):
        print("  ".join(f"{value!s:>20}" for value in row.values()))


if __name__ == "__main__":
    main()
