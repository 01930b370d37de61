"""Names of the files in a plan's folder, and the checksum that tells revisions apart."""

from __future__ import annotations

import hashlib
from pathlib import Path

PLAN_FILE = "plan.yaml"
HISTORY_FILE = "history.db"
PICTURES = "pictures"


def plan_path(folder: Path) -> Path:
    """Where the document of a plan stands, given its folder or the document itself."""
    return folder if folder.suffix in (".yaml", ".yml") and not folder.is_dir() else folder / PLAN_FILE


def plan_home(folder: Path) -> Path:
    """The folder of a plan, given it or the document in it."""
    return plan_path(folder).parent


def checksum(data: bytes) -> str:
    """SHA-256 of a document's bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()
