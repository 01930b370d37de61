"""Every saved revision of a plan, in history.db (SQLite) beside it; any of them can be brought back.

A save happens inside one transaction of the history, which is also the lock: the new revision is put down, plan.yaml
is swapped, then the transaction ends. A crash before the swap leaves the old plan and no trace; one after it leaves the
new plan, which is then recorded when next seen.
"""

from __future__ import annotations

import sqlite3
import zlib
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from rushlight.errors import DocumentProblem, StaleRevision, UnknownName
from rushlight.files._atomic import write_atomic
from rushlight.files._history_db import history_problem, plan_bytes, reading, writing
from rushlight.files._paths import HISTORY_FILE, PLAN_FILE, checksum, plan_home

MOST_TEXT = 64_000_000
OUTSIDE = "edited outside"


@dataclass(frozen=True, slots=True)
class Revision:
    """One saved revision: its number from 1, the time (UTC, ISO 8601), what was done, the text's checksum."""

    number: int
    time: str
    what: str
    checksum: str


@dataclass(frozen=True, slots=True)
class Steps:
    """What can be taken back and what can be done again, by name; None where there is nothing."""

    undo: str | None
    redo: str | None


def revisions(folder: Path) -> tuple[Revision, ...]:
    """All revisions of a plan, oldest first; none if it was never saved.

    Raises
    ------
    DocumentProblem
        If history.db cannot be read.
    """
    home = plan_home(folder)
    if not (home / HISTORY_FILE).exists():
        return ()
    with reading(home) as db:
        rows = db.execute("SELECT number, time, what, checksum FROM revisions ORDER BY number").fetchall()
    return tuple(Revision(*row) for row in rows)


def revision_text(folder: Path, number: int) -> str:
    """The text of one revision.

    Raises
    ------
    UnknownName
        If there is no revision of that number.
    DocumentProblem
        If history.db cannot be read.
    """
    known = [str(revision.number) for revision in revisions(folder)]
    if str(number) not in known:
        raise UnknownName("revision", str(number), known)
    with reading(plan_home(folder)) as db:
        data = db.execute("SELECT text FROM revisions WHERE number = ?", (number,)).fetchone()[0]
    return _unpacked(data).decode()


def save(folder: Path, data: bytes, *, expected_revision: str | None, what: str, now: datetime | None = None) -> str:
    """Put a document at plan.yaml as a new revision.

    Parameters
    ----------
    folder : Path
        The plan's folder; made if absent.
    data : bytes
        The whole document.
    expected_revision : str or None
        Checksum of what the caller read; None: no plan stands there yet.
    what : str
        What was done, in the history's words.
    now : datetime or None
        Time of the revision; None: the clock's.
    Returns
    -------
    str
        Checksum of the new document.
    Raises
    ------
    StaleRevision
        If plan.yaml is not what the caller read; nothing is written then.
    DocumentProblem
        If the disk or history.db refuses; the old plan is then untouched.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with writing(folder) as db:
        old = plan_bytes(folder)
        if (None if old is None else checksum(old)) != expected_revision:
            raise StaleRevision(str(folder / PLAN_FILE))
        _swap(db, folder, data, what, now or datetime.now(UTC))
    return checksum(data)


def restore(folder: Path, number: int, *, now: datetime | None = None) -> str:
    """Bring back a revision; what stood at plan.yaml stays in the history.

    Parameters
    ----------
    folder : Path
        The plan's folder.
    number : int
        Number of the revision, as `revisions` lists it.
    now : datetime or None
        Time of the new revision; None: the clock's.
    Returns
    -------
    str
        Checksum of the document that now stands there.
    Raises
    ------
    UnknownName
        If there is no revision of that number.
    DocumentProblem
        If the disk or history.db refuses.
    """
    home = plan_home(folder)
    data = revision_text(home, number).encode()
    with writing(home) as db:
        _swap(db, home, data, f"restored revision {number}", now or datetime.now(UTC))
    return checksum(data)


def steps(folder: Path) -> Steps:
    """What `undo` and `redo` would do next, by name.

    Raises
    ------
    DocumentProblem
        If history.db cannot be read.
    """
    home = plan_home(folder)
    if not (home / HISTORY_FILE).exists():
        return Steps(None, None)
    with reading(home) as db:
        done, undone, names = _timeline(db)
    return Steps(names[done[-1]] if len(done) > 1 else None, names[undone[-1]] if undone else None)


def undo(folder: Path, *, expected_revision: str, now: datetime | None = None) -> str:
    """Take back what was done last, as a revision of its own; an edit from outside counts as one step.

    Parameters
    ----------
    folder : Path
        The plan's folder.
    expected_revision : str
        Checksum of what the caller sees.
    now : datetime or None
        Time of the new revision; None: the clock's.
    Returns
    -------
    str
        Checksum of the document that now stands there; the same as before if there is nothing to take back.
    Raises
    ------
    StaleRevision
        If plan.yaml is not what the caller saw; nothing is written then.
    DocumentProblem
        If the disk or history.db refuses.
    """
    return _step(folder, "undo", expected_revision, now)


def redo(folder: Path, *, expected_revision: str, now: datetime | None = None) -> str:
    """Do again what was taken back last; parameters, result and errors as for `undo`."""
    return _step(folder, "redo", expected_revision, now)


def text_of(folder: Path, revision: str) -> str | None:
    """The text with that checksum, if the history holds it.

    Raises
    ------
    DocumentProblem
        If history.db cannot be read.
    """
    home = plan_home(folder)
    if not (home / HISTORY_FILE).exists():
        return None
    with reading(home) as db:
        row = db.execute("SELECT text FROM revisions WHERE checksum = ?", (revision,)).fetchone()
    return None if row is None else _unpacked(row[0]).decode()


def _step(folder: Path, way: str, expected_revision: str, now: datetime | None) -> str:
    home, time = plan_home(folder), now or datetime.now(UTC)
    with writing(home) as db:
        old = plan_bytes(home)
        if old is None or checksum(old) != expected_revision:
            raise StaleRevision(str(home / PLAN_FILE))
        _notice(db, old, time)
        done, undone, names = _timeline(db)
        if (way == "undo" and len(done) < 2) or (way == "redo" and not undone):
            return expected_revision
        about, to = (done[-1], done[-2]) if way == "undo" else (undone[-1], undone[-1])
        data = _unpacked(db.execute("SELECT text FROM revisions WHERE number = ?", (to,)).fetchone()[0])
        _swap(db, home, data, f"{'taken back' if way == 'undo' else 'done again'}: {names[about]}", time)
        db.execute("INSERT INTO returns SELECT max(number), ? FROM revisions", (way,))
    return checksum(data)


def _timeline(db: sqlite3.Connection) -> tuple[list[int], list[int], dict[int, str]]:
    """Revisions that stand, oldest first; those taken back, the next to do again last; what each of them did."""
    rows = db.execute(
        "SELECT number, what, way FROM revisions LEFT JOIN returns USING (number) ORDER BY number").fetchall()
    done: list[int] = []
    undone: list[int] = []
    for number, _, way in rows:
        if way == "undo":
            undone.append(done.pop())
        elif way == "redo":
            done.append(undone.pop())
        else:
            done.append(number)
            undone.clear()
    return done, undone, {number: what for number, what, _ in rows}


def notice(folder: Path, *, now: datetime | None = None) -> bool:
    """Record what stands at plan.yaml if the history does not hold it as the newest revision.

    Returns
    -------
    bool
        True if a revision was recorded; a plan in a folder that cannot be written is left alone.
    """
    home = plan_home(folder)
    if not (home / PLAN_FILE).exists():
        return False
    try:
        with writing(home) as db:
            return _notice(db, plan_bytes(home), now or datetime.now(UTC))
    except DocumentProblem:
        return False


def _swap(db: sqlite3.Connection, folder: Path, data: bytes, what: str, now: datetime) -> None:
    old = plan_bytes(folder)
    _notice(db, old, now)
    if data == old:
        return
    _insert(db, data, what, now)
    for left_over in folder.glob(f".{PLAN_FILE}.*.new"):
        left_over.unlink(missing_ok=True)
    write_atomic(folder / PLAN_FILE, data)


def _notice(db: sqlite3.Connection, data: bytes | None, now: datetime) -> bool:
    last = db.execute("SELECT checksum FROM revisions ORDER BY number DESC LIMIT 1").fetchone()
    if data is None or (last is not None and last[0] == checksum(data)):
        return False
    _insert(db, data, OUTSIDE if last else "as found", now)
    return True


def _insert(db: sqlite3.Connection, data: bytes, what: str, now: datetime) -> None:
    row = (now.astimezone(UTC).isoformat(timespec="seconds"), what, checksum(data), zlib.compress(data, 9))
    db.execute("INSERT INTO revisions (time, what, checksum, text) VALUES (?, ?, ?, ?)", row)


def _unpacked(data: bytes) -> bytes:
    """The text of a revision; a damaged or blown-up one is refused."""
    unpacker = zlib.decompressobj()
    try:
        text = unpacker.decompress(data, MOST_TEXT)
    except (zlib.error, TypeError):
        text = b""
    if not unpacker.eof:
        raise history_problem("a revision that is damaged", "another revision")
    return text
