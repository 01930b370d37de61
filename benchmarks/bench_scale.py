"""Time and memory of opening, designing, checking a plan and making its book, by the number of lamps.

Run: python benchmarks/bench_scale.py [--full]. Each size has a process of its own. Seconds are the processor's, not
the clock's, so that other work on the machine matters less; imports are done before.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")

HERE = Path(__file__).resolve().parent
QUICK, FULL = ("tug", 10, 100), ("tug", 10, 100, 500, 2000)
STEPS = ("open", "design", "check", "book")


def run(full: bool) -> list[dict[str, object]]:
    """One row a step and size: processor seconds, how often as much as the size before, and peak memory so far [MB]."""
    rows: list[dict[str, object]] = []
    before: dict[str, tuple[int, float]] = {}
    for what in FULL if full else QUICK:
        measured = json.loads(subprocess.run(
            [sys.executable, __file__, "--one", str(what)], check=True, capture_output=True, text=True
        ).stdout.splitlines()[-1])
        for step in STEPS:
            rows.append(_row(what, step, measured, before.get(step)))
            if what != "tug" and measured[step]["seconds"] is not None:
                before[step] = (int(what), measured[step]["seconds"])
    return rows


def _row(
    what: str | int, step: str, measured: dict[str, dict[str, float]], before: tuple[int, float] | None
) -> dict[str, object]:
    seconds = measured[step]["seconds"]
    grown = None
    if what != "tug" and before is not None and seconds is not None:
        grown = f"{seconds / max(before[1], 1e-4):.1f} for {int(what) / before[0]:g} times the lamps"
    return {
        "plan": "demo tug" if what == "tug" else "made up", "lamps": measured["lamps"], "step": step,
        "cpu_s": seconds, "grown": grown, "peak_mb": measured[step]["peak_mb"], "why": measured[step]["why"],
    }


# --- in the process of one size -----------------------------------------------------------------------------------


def one(what: str) -> dict[str, object]:
    """Every step once, on one plan."""
    import ezdxf  # noqa: F401  imports are not measured
    import scipy.optimize
    import scipy.sparse.csgraph
    import scipy.spatial
    import shapely
    import typst  # noqa: F401

    from rushlight.files.drawer_csv import read_drawer
    from rushlight.files.own_values import own_values
    from rushlight.files.plan_yaml import read_plan
    from rushlight.findings import find
    from rushlight.open_plan import OpenPlan, write_book
    from rushlight.stages.pipeline import design

    assert scipy.optimize and shapely
    with tempfile.TemporaryDirectory() as folder:
        home = _plan(what, Path(folder))
        parts = read_drawer(None)
        read, opened = _timed(lambda: read_plan(home, parts))
        drawer = own_values(parts, read.plan)
        worked, designed = _timed(lambda: design(read.plan, drawer))
        findings, checked = _timed(lambda: find(worked))
        whole = OpenPlan(home, read, drawer, worked, findings)
        book = _tried(lambda: write_book(whole, Path(folder) / "book"))
    return {"lamps": len(worked.lamps), "open": opened, "design": designed, "check": checked, "book": book}


def _plan(what: str, folder: Path) -> Path:
    """The demo, or a made-up plan written into a folder."""
    if what == "tug":
        from rushlight.open_plan import copy_demo

        return copy_demo("tug", folder / "tug")
    sys.path.insert(0, str(HERE.parent / "tests"))
    from large_plan import large_plan

    (folder / "plan.yaml").write_text(large_plan(int(what)), encoding="utf-8")
    return folder


def _timed(step: Callable[[], T]) -> tuple[T, dict[str, object]]:
    start = time.process_time()
    answer = step()
    return answer, {"seconds": round(time.process_time() - start, 3), "peak_mb": _peak_mb(), "why": None}


def _tried(step: Callable[[], object]) -> dict[str, object]:
    """A step that may not be possible; then with the reason."""
    try:
        return _timed(step)[1]
    except Exception as trouble:
        return {"seconds": None, "peak_mb": None, "why": f"{type(trouble).__name__}: {trouble}"[:200]}


def _peak_mb() -> float | None:
    """The most memory that the process has held [MB]; not known on Windows."""
    try:
        import resource
    except ImportError:
        return None
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return round(most / (2**20 if sys.platform == "darwin" else 2**10), 1)


def main() -> None:
    """Print the rows, or measure one size for the process that asks."""
    if "--one" in sys.argv:
        print(json.dumps(one(sys.argv[sys.argv.index("--one") + 1])))
        return
    for row in run("--full" in sys.argv):
        print("  ".join(f"{value!s:>12}" for value in row.values()))


if __name__ == "__main__":
    main()
