"""A second search beside the first, with random numbers of its own, in another process where there is a core for it.

What it finds does not depend on where it runs: with one core, or where no process can be begun, the caller does the
same work itself, and only waits longer.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import rushlight

LONGEST_S = 60.0
"""A process that has not answered by then has been stopped by something: the work is done here."""

Found = list[tuple[float, list[float]]]
"""Estimates and rows of the packings found."""


def begun(task: dict[str, Any]) -> subprocess.Popen[bytes] | None:
    """A process that works on a task (`_hops.found_for`), or None where there is no core or no Python for it."""
    if _cores() < 2 or not sys.executable or getattr(sys, "frozen", False):
        return None
    home = str(Path(rushlight.__file__).parents[1])
    code = f"import sys; sys.path.insert(0, {home!r}); from rushlight.geometry._second import answer; answer()"
    try:
        process = subprocess.Popen(
            [sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
        assert process.stdin is not None
        process.stdin.write(json.dumps(task).encode())
        process.stdin.close()
        process.stdin = None
    except OSError:
        return None
    return process


def found_by(process: subprocess.Popen[bytes] | None) -> Found | None:
    """What the process has found; None if there is none or it failed."""
    if process is None:
        return None
    try:
        said, _ = process.communicate(timeout=LONGEST_S)
        return [(float(estimate), row) for estimate, row in json.loads(said)]
    except (OSError, ValueError, TypeError, subprocess.SubprocessError):
        process.kill()
        process.wait()
        return None


def answer() -> None:
    """Read a task, do it, write what was found: the other side of `begun`."""
    from rushlight.geometry._hops import found_for

    json.dump(found_for(json.load(sys.stdin)), sys.stdout)


def _cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
