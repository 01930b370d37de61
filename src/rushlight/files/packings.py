"""Bundles that were searched once, kept in the user's own folder: the same bundle is never searched twice."""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from itertools import groupby
from pathlib import Path
from typing import Any

import rushlight.geometry
from rushlight.files._atomic import write_atomic
from rushlight.geometry.circles import Points, learn_packings, searched_packings

FILE = "packings.json"
MOST = 256
"""Packings kept; the ones found first go first."""

SEARCH = (
    "circles", "_centres_code", "_exact", "_holes", "_hop_moves", "_hops", "_moves", "_polish", "_search", "_second",
    "_seeds", "_soft", "_squeeze",
)
"""Modules of the search."""

Packings = dict[tuple[float, ...], Points]


def take_in(folder: Path) -> None:
    """Let the search know what it found in earlier runs; a file that is missing, damaged or older counts as empty.

    Parameters
    ----------
    folder : Path
        The user's own folder (`own_folder`).
    """
    learn_packings(_read(folder / FILE))


def put_away(folder: Path) -> None:
    """Add what was searched since; a folder that cannot be written is left alone: it is only searched again.

    Parameters
    ----------
    folder : Path
        The user's own folder (`own_folder`); made if there is something to keep.
    """
    found = searched_packings()
    kept = _read(folder / FILE)
    if set(list(found)[-MOST:]) <= kept.keys():
        return
    rows = [_row(ratios, centres) for ratios, centres in ({**kept, **found}).items()][-MOST:]
    said = {"search": _search(), "sum": _sum(rows), "packings": rows}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_atomic(folder / FILE, json.dumps(said).encode())
    except OSError:
        return


def _read(path: Path) -> Packings:
    try:
        said = json.loads(path.read_bytes())
        if said["search"] != _search() or said["sum"] != _sum(said["packings"]):
            return {}
        return dict(_packing(row) for row in said["packings"])
    except (OSError, ValueError, KeyError, TypeError):
        return {}


def _row(ratios: tuple[float, ...], centres: Points) -> dict[str, Any]:
    return {"sizes": [[ratio, len(list(of))] for ratio, of in groupby(ratios)], "centres": centres}


def _packing(row: dict[str, Any]) -> tuple[tuple[float, ...], Points]:
    ratios = tuple(float(ratio) for ratio, count in row["sizes"] for _ in range(count))
    return ratios, tuple((float(x), float(y)) for x, y in row["centres"])


def _sum(rows: list[dict[str, Any]]) -> str:
    """A damaged file must not widen a bundle: its rows are summed up."""
    return hashlib.sha256(json.dumps(rows).encode()).hexdigest()


@lru_cache(maxsize=1)
def _search() -> str:
    """The search that found them: another one may find better, so what an older one found is dropped."""
    home = Path(rushlight.geometry.__file__).parent
    text = b"".join((home / f"{name}.py").read_bytes() for name in SEARCH)
    return hashlib.sha256(text).hexdigest()
