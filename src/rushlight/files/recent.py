"""The plans that were opened lately, in the user's own folder."""

from __future__ import annotations

import contextlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rushlight.files._atomic import write_atomic
from rushlight.files._paths import PLAN_FILE
from rushlight.files.drawer_csv import own_folder

FILE = "recent.json"
MOST = 12


@dataclass(frozen=True, slots=True)
class Recent:
    """A plan that was opened lately."""

    folder: Path
    title: str

    @property
    def there(self) -> bool:
        """Whether its document still stands at its place."""
        try:
            return (self.folder / PLAN_FILE).is_file()
        except OSError:
            return False


def recent_plans() -> tuple[Recent, ...]:
    """Plans opened lately that are still there, the latest first; a list that cannot be read counts as empty."""
    return tuple(row for row in remembered_plans() if row.there)


def remembered_plans() -> tuple[Recent, ...]:
    """Plans opened lately, those that are not there any more too."""
    return tuple(Recent(Path(row["folder"]), str(row["title"])) for row in _rows())


def forget_plan(folder: str) -> None:
    """Take a plan off the list; its folder is not touched, a list that cannot be written is left alone."""
    _write([row for row in _rows() if row["folder"] != folder])


def remember_plan(folder: Path, title: str) -> None:
    """Put a plan at the head of the list; a list that cannot be written is left alone."""
    rows = [{"folder": str(folder), "title": title}]
    rows += [row for row in _rows() if row["folder"] != str(folder)]
    _write(rows)


def _write(rows: list[dict[str, Any]]) -> None:
    with contextlib.suppress(OSError):
        own_folder().mkdir(parents=True, exist_ok=True)
        write_atomic(own_folder() / FILE, json.dumps(rows[:MOST], indent=1).encode())


def _rows() -> list[dict[str, Any]]:
    try:
        read = json.loads((own_folder() / FILE).read_text(encoding="utf-8"))
        return [row for row in read if isinstance(row["folder"], str) and isinstance(row["title"], str)]
    except (OSError, ValueError, TypeError, KeyError):
        return []
