"""Writing a file so that a crash at any instant leaves the old one or the new one, whole."""

from __future__ import annotations

import os
from pathlib import Path


def write_atomic(path: Path, data: bytes) -> None:
    """Put `data` at `path`: written beside, flushed to the disk, then swapped in.

    Parameters
    ----------
    path : Path
        The file; its folder must exist.
    data : bytes
        The whole new content.
    Raises
    ------
    OSError
        If the disk refuses; the old file is then untouched.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        _write_through(beside, data)
        os.replace(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    flush_folder(path.parent)


def _write_through(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def flush_folder(folder: Path) -> None:
    """Make the swap itself last through a power cut, where the system can (Windows cannot open a folder)."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
