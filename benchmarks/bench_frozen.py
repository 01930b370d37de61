"""The self-contained folder, where `start.py freeze` has made it: its size, and how long it takes with the network off.

Run: python benchmarks/bench_frozen.py. Without the folder, or where nothing can be shut off from the network, there are
no rows.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
FOLDER = HERE.parent / "out" / "frozen" / "rushlight"


def run(full: bool) -> list[dict[str, object]]:
    """One row a quantity."""
    if not FOLDER.is_dir():
        return []
    command = [sys.executable, str(HERE.parent / "tools" / "prove_frozen.py"), str(FOLDER)]
    proved = subprocess.run(command, capture_output=True, text=True, check=False)
    if proved.returncode != 0:
        return [{"what": "not proved", "measured": proved.stdout.strip()[-200:]}]
    return [{"what": name, "measured": value} for name, value in json.loads(proved.stdout.splitlines()[-1]).items()]


if __name__ == "__main__":
    for row in run("--full" in sys.argv):
        print("  ".join(f"{value!s:>12}" for value in row.values()))
