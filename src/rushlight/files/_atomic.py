"""Writing a file so that a crash at any instant leaves the old one or the new one, whole."""

from __future__ import annotations

import errno
import os
from pathlib import Path

_NO_SYNC = (errno.EINVAL, errno.ENOTSUP)


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


def disk_words(error: OSError) -> str:
    """Why the disk refuses, in words."""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full"
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "the folder may not be written"
    return f"the disk refuses ({error.strerror})"


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
    except OSError as error:
        if error.errno not in _NO_SYNC:  # some network disks know no such wish
            raise
    finally:
        os.close(handle)
