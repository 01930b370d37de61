"""The database of a plan's history: opened to read or held alone to write, its troubles told in words."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from rushlight.errors import DocumentProblem
from rushlight.files._atomic import disk_words, write_atomic
from rushlight.files._paths import HISTORY_FILE, PLAN_FILE
from rushlight.model.problem import Problem

WAIT_S = 10.0
FLUSHED = "FULL"
"""Each transaction is on the disk before it counts as done."""
_DAMAGED = (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT)
_SAYS = {
    sqlite3.SQLITE_FULL: ("the disk is full", "some free space"),
    sqlite3.SQLITE_IOERR: ("the disk refuses to write or read it", "a disk with free space that can be written"),
    sqlite3.SQLITE_READONLY: ("it may not be written", "a folder that you may write"),
    sqlite3.SQLITE_CANTOPEN: ("it cannot be opened or made", "a folder that is there and that you may write"),
    sqlite3.SQLITE_PERM: ("it may not be written", "a folder that you may write"),
    sqlite3.SQLITE_BUSY: ("it is locked by another program", "that program to be done; try again then"),
    sqlite3.SQLITE_LOCKED: ("it is locked by another program", "that program to be done; try again then"),
}
"""What is found and what is expected, by the database's kind of error."""
_TABLE = """CREATE TABLE IF NOT EXISTS revisions (
    number INTEGER PRIMARY KEY, time TEXT NOT NULL, what TEXT NOT NULL, checksum TEXT NOT NULL, text BLOB NOT NULL)"""
_RETURNS = "CREATE TABLE IF NOT EXISTS returns (number INTEGER PRIMARY KEY, way TEXT NOT NULL)"


def plan_bytes(folder: Path) -> bytes | None:
    """What stands at plan.yaml; None if nothing does."""
    path = folder / PLAN_FILE
    return path.read_bytes() if path.exists() else None


@contextmanager
def writing(folder: Path) -> Iterator[sqlite3.Connection]:
    """The history, held by us alone until the block ends; a failure in the block undoes all of it."""
    with _told(), closing(_opened(folder)) as db:
        before = plan_bytes(folder)
        try:
            yield db
        except BaseException:
            with suppress(sqlite3.Error):  # a full disk has ended it already
                db.execute("ROLLBACK")
            raise
        _commit(db, folder, before)


def _commit(db: sqlite3.Connection, folder: Path, before: bytes | None) -> None:
    """End the transaction; if the disk has no room even for that, the plan is what it was too."""
    try:
        db.execute("COMMIT")
    except sqlite3.Error:
        with suppress(OSError):
            if before is not None and plan_bytes(folder) != before:
                write_atomic(folder / PLAN_FILE, before)
        with suppress(sqlite3.Error):
            db.execute("ROLLBACK")
        raise


@contextmanager
def reading(folder: Path) -> Iterator[sqlite3.Connection]:
    """The history to read: waits for no writer and needs no right to write, unless it must be mended or renewed."""
    with _told():
        try:
            db = _begun_to_read(folder / HISTORY_FILE)
        except sqlite3.Error as error:
            if error.sqlite_errorcode == sqlite3.SQLITE_BUSY:
                raise
            db = _opened(folder)
        with closing(db):
            yield db


@contextmanager
def _told() -> Iterator[None]:
    """Troubles of the database and of the disk in words."""
    try:
        yield
    except sqlite3.Error as error:
        found, expected = _SAYS.get((error.sqlite_errorcode or 0) & 0xFF, (f"it cannot be used ({error})", "a history"))
        raise history_problem(f"{found}; nothing was changed", expected) from error
    except OSError as error:
        words = f"{disk_words(error)}; nothing was changed"
        raise history_problem(words, "a folder that you may write", PLAN_FILE) from error


def history_problem(found: str, expected: str, file: str = HISTORY_FILE) -> DocumentProblem:
    """A trouble of the history, or of the disk that it lies on."""
    return DocumentProblem([Problem(file=file, line=0, column=0, item="", found=found, expected=expected)])


def _opened(folder: Path) -> sqlite3.Connection:
    path = folder / HISTORY_FILE
    try:
        return _begun(path)
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode not in _DAMAGED:
            raise
    _set_aside(path)
    return _begun(path)


def _begun_to_read(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=WAIT_S, isolation_level=None)
    try:
        db.execute("BEGIN")
        db.execute("SELECT number FROM revisions LIMIT 1")
        db.execute("SELECT number FROM returns LIMIT 1")
    except BaseException:
        db.close()
        raise
    return db


def _begun(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
    try:
        db.execute(f"PRAGMA synchronous = {FLUSHED}")
        db.execute("BEGIN IMMEDIATE")
        db.execute(_TABLE)
        db.execute(_RETURNS)
    except BaseException:
        db.close()
        raise
    return db


def _set_aside(path: Path) -> None:
    """A history that is no database is kept under another name, and a new one begun: the plan must be savable."""
    number = 1
    while (aside := path.with_name(f"{path.name}.damaged-{number}")).exists():
        number += 1
    path.replace(aside)
