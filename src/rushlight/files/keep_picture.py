"""Keeping a picture that was handed in: checked and decoded first, then put into the plan's pictures/ as it is.

What is kept is never changed or written over afterwards. The same bytes are kept once.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import threading
import time
import unicodedata
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from rushlight.errors import DocumentProblem
from rushlight.files._atomic import flush_folder
from rushlight.files._paths import PICTURES, plan_home
from rushlight.files._picture_kinds import foreign_kind
from rushlight.files.pictures import MOST_BYTES, PictureFacts, open_picture, picture_facts
from rushlight.model.problem import Problem

ENDINGS = {"PNG": ".png", "JPEG": ".jpg", "WEBP": ".webp", "TIFF": ".tif", "BMP": ".bmp", "GIF": ".gif"}
_SAME = {".jpeg": ".jpg", ".jpe": ".jpg", ".tiff": ".tif"}
MOST_LETTERS = 60
LEFT_OVER, LEFT_OVER_S = ".being-kept-*", 3600.0
"""What a crash may leave behind; taken away after an hour."""

_AT_ONCE = threading.BoundedSemaphore(2)
_RAW_TAG = 50706
_DEVICES = re.compile(r"(?i)con|prn|aux|nul|com[0-9]|lpt[0-9]")
_MOST_NAMES = 10_000
_DISK = {
    errno.ENOSPC: ("the disk is full", "room on the disk; nothing was kept"),
    errno.EDQUOT: ("your share of the disk is full", "room on the disk; nothing was kept"),
    errno.EROFS: ("the folder cannot be written", "a folder that you may write; nothing was kept"),
    errno.EACCES: ("the folder cannot be written", "a folder that you may write; nothing was kept"),
    errno.EPERM: ("the folder cannot be written", "a folder that you may write; nothing was kept"),
}


class Incoming:
    """A file on its way in: written beside the pictures under a name that nothing else uses, gone if it is not kept.

    Use it as a context: `with Incoming(folder, "hull.jpg") as coming: coming.add(data); facts = coming.keep()`.
    """

    def __init__(self, folder: Path, name: str) -> None:
        self.name = name
        self.folder = plan_home(folder)
        self._sum = hashlib.sha256()
        self._size = 0
        try:
            self.home = _pictures_home(self.folder, name)
            self._path = self.home / f".being-kept-{secrets.token_hex(8)}"
            self._file = self._path.open("xb")
        except OSError as error:
            raise _refused_by_disk(name, error) from error

    def __enter__(self) -> Incoming:
        return self

    def __exit__(self, *_: object) -> None:
        with suppress(OSError):
            self._file.close()
        with suppress(OSError):
            self._path.unlink(missing_ok=True)

    def add(self, data: bytes) -> None:
        """Take in more bytes.

        Raises
        ------
        DocumentProblem
            If they are too many, or the disk refuses.
        """
        self._size += len(data)
        if self._size > MOST_BYTES:
            found = f"more than {MOST_BYTES / 1e6:.0f} MB"
            raise _problem(self.name, found, f"a picture of at most {MOST_BYTES / 1e6:.0f} MB")
        self._sum.update(data)
        try:
            self._file.write(data)
        except OSError as error:
            raise _refused_by_disk(self.name, error) from error

    def keep(self) -> PictureFacts:
        """Check and decode what came, and give it its name.

        Returns
        -------
        PictureFacts
            With the name that it has in pictures/: its own if that is free, or that of the same bytes kept before.
        Raises
        ------
        DocumentProblem
            If it is no picture, broken, enormous, of a form that cannot be read, or the disk refuses; nothing is
            kept then.
        """
        try:
            self._file.flush()
            os.fsync(self._file.fileno())
            self._file.close()
            facts = self._checked()
            held = self._same_as()
            file = held or self._put(free_names(self.name, ENDINGS[facts.format]))
            return picture_facts(self.folder, file)
        except OSError as error:
            raise _refused_by_disk(self.name, error) from error

    def _checked(self) -> PictureFacts:
        with self._path.open("rb") as file:
            foreign = foreign_kind(file.read(4096))
        if foreign:
            raise _problem(self.name, *foreign)
        try:
            facts = picture_facts(self.folder, self._path.name)
            if facts.format == "TIFF" and _is_raw(self._path):
                raise _problem(self._path.name, "a camera's raw file", "the JPEG that the camera made of it")
            with _AT_ONCE:
                open_picture(self.folder, self._path.name, longest_px=64)  # decodes all of it
        except DocumentProblem as error:
            first = error.problems[0]
            raise _problem(self.name, first.found.replace(self._path.name, self.name), first.expected) from error
        except MemoryError as error:
            raise _problem(self.name, "a picture that does not fit into memory", "a smaller one") from error
        return facts

    def _same_as(self) -> str | None:
        """The picture that holds the same bytes, if one was kept before."""
        for path in sorted(self.home.iterdir()):
            if path.name.startswith(".") or not path.is_file() or path.stat().st_size != self._size:
                continue
            if path.resolve().is_relative_to(self.home) and _checksum(path) == self._sum.hexdigest():
                return path.name
        return None

    def _put(self, names: Iterable[str]) -> str:
        taken = {path.name.casefold() for path in self.home.iterdir()}
        for name in names:
            if name.casefold() not in taken and _moved(self._path, self.home / name):
                flush_folder(self.home)
                return name
        raise _problem(self.name, "a name that is taken", "another name")


def keep_picture(folder: Path, name: str, data: bytes) -> PictureFacts:
    """Keep a picture whose bytes are at hand; result and errors as for `Incoming.keep`."""
    with Incoming(folder, name) as coming:
        coming.add(data)
        return coming.keep()


def free_names(name: str, ending: str) -> Iterable[str]:
    """Names for a kept picture, best first: its own made safe, then with numbers.

    Parameters
    ----------
    name : str
        As handed in; anything.
    ending : str
        Of the form that the bytes have, with its dot.
    Yields
    ------
    str
        Letters of any script, digits, blanks, - _ + and ( ), at most 60, never a device of Windows, no path.
    """
    stem = _safe_stem(name)
    yield stem + ending
    for number in range(2, _MOST_NAMES):
        yield f"{stem} {number}{ending}"


def _safe_stem(name: str) -> str:
    last = re.split(r"[/\\:]", unicodedata.normalize("NFC", name))[-1]
    stem, dot, ending = last.rpartition(".")
    own = _SAME.get(f".{ending.lower()}", f".{ending.lower()}")
    if not dot or own not in ENDINGS.values():
        stem = last
    safe = "".join(letter if _is_safe(letter) else "-" for letter in stem)
    safe = re.sub(r"-{2,}", "-", re.sub(r" {2,}", " ", safe))[:MOST_LETTERS].strip(" -")
    return safe if safe and not _DEVICES.fullmatch(safe) else "picture" + (f" {safe}" if safe else "")


def _is_safe(letter: str) -> bool:
    return letter in " -_+()" or unicodedata.category(letter)[0] in "LMN"


def _pictures_home(folder: Path, name: str) -> Path:
    """The folder pictures/, made if absent; one that leads out of the plan's folder is not written to."""
    home = folder / PICTURES
    home.mkdir(exist_ok=True)
    resolved = home.resolve()
    if not resolved.is_relative_to(folder.resolve()):
        raise _problem(name, "pictures/ leads out of the plan's folder", "a folder of the plan's own")
    for left_over in resolved.glob(LEFT_OVER):
        with suppress(OSError):
            if left_over.stat().st_mtime < time.time() - LEFT_OVER_S:
                left_over.unlink()
    return resolved


def _is_raw(path: Path) -> bool:
    from PIL import Image

    with Image.open(path, formats=("TIFF",)) as image:
        return _RAW_TAG in image.getexif()


def _checksum(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _moved(path: Path, to: Path) -> bool:
    """Give a file its name unless something has it; False if something has."""
    try:
        os.link(path, to)
    except FileExistsError:
        return False
    except OSError:  # a disk that knows no second names: reserve the name, then swap
        try:
            to.open("xb").close()
        except FileExistsError:
            return False
        try:
            os.replace(path, to)
        except BaseException:
            to.unlink(missing_ok=True)
            raise
        return True
    path.unlink()
    return True


def _refused_by_disk(name: str, error: OSError) -> DocumentProblem:
    found, expected = _DISK.get(error.errno or 0, (
        f"the disk refuses ({error.strerror})", "a folder that you may write; nothing was kept"))
    return _problem(name, found, expected)


def _problem(name: str, found: str, expected: str) -> DocumentProblem:
    shown = "".join(letter for letter in name if letter.isprintable())[:120] or "the file"
    return DocumentProblem([Problem(file=shown, line=0, column=0, item="", found=found, expected=expected)])
