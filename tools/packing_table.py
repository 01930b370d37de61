"""Search for the packaged table of equal circles, far longer than a bundle is. Only a better row replaces a row.

    python tools/packing_table.py FIRST LAST [--rounds 1500] [--seeds 1 2]

Writes src/rushlight/data/packing_centres.csv. Each packing is pressed by the linear programme of `_polish.py`, measured
again from the very centres that are stored, and compared with the published ratio in packing_best_known.csv.
"""

from __future__ import annotations

import argparse
import csv
from pathlib import Path

import numpy as np

from rushlight import tables
from rushlight.geometry import _hops, _polish
from rushlight.geometry._centres_code import centres_of, text_of

HERE = Path(__file__).resolve().parent
TABLE = HERE.parent / "src" / "rushlight" / "data" / "packing_centres.csv"
SAME = 1e-9
PLACES = 48
"""Packings in flight; at 200 circles their pairs need about 25 MB."""

PATIENCE = 3000
"""Changes without a better leader before a new start: large bundles have long ways down."""
SOURCE = "computed by this project's own search (tools/packing_table.py)"


def searched(count: int, rounds: int, seed: int) -> np.ndarray:
    """Centres for circles of diameter 1, shape (count, 2), about the middle, with least overlap."""
    radii = np.full(count, 0.5)
    return exact(_hops.search(radii, _hops.HopEffort(PLACES, rounds, PATIENCE), seed))


def exact(centres: np.ndarray) -> np.ndarray:
    """The centres pressed to the nearest vertex of their contacts."""
    return _polish.polished(centres, np.full(len(centres), 0.5))


def row(count: int, centres: np.ndarray, known: float) -> dict[str, str]:
    """The row of the table, its ratio measured from the text that is stored."""
    text = text_of(centres)
    ratio = ratio_of(text)
    gap = max(ratio / known - 1, 0.0)
    return {
        "n": str(count), "enclosing_over_circle": f"{ratio:.12f}",
        "gap_percent": f"{100 * gap if gap > SAME else 0:.6f}", "centres": text,
        "source": SOURCE, "confidence": "best known" if gap <= SAME else "best found",
    }


def ratio_of(text: str) -> float:
    """Container over circle of stored centres."""
    radii = np.full(len(centres_of(text)), 0.5)
    return 2 * _polish.container_radius(_polish.spread_apart(centres_of(text), radii), radii)


def write(rows: dict[int, dict[str, str]]) -> None:
    """The table, by number of circles."""
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(next(iter(rows.values()))), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows[count] for count in sorted(rows))


def main() -> None:
    """Search each count that has not met the published ratio yet."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("first", type=int)
    words.add_argument("last", type=int)
    words.add_argument("--rounds", type=int, default=1500)
    words.add_argument("--seeds", type=int, nargs="+", default=[1])
    said = words.parse_args()
    known = {int(row["n"]): float(row["enclosing_over_circle"]) for row in tables.rows("packing_best_known")}
    rows = {int(row["n"]): dict(row) for row in tables.rows("packing_centres")}
    for count in range(said.first, said.last + 1):
        for seed in said.seeds:
            if count in rows and float(rows[count]["gap_percent"]) == 0.0:
                break
            found = row(count, searched(count, said.rounds, seed), known[count])
            if count not in rows or float(found["gap_percent"]) < float(rows[count]["gap_percent"]):
                rows[count] = found
                write(rows)
            print(count, "seed", seed, "gap", found["gap_percent"], "kept", rows[count]["gap_percent"], flush=True)


if __name__ == "__main__":
    main()
