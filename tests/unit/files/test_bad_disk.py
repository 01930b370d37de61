"""A disk that is full, a folder that may not be written, a history that is held: a clear word, and nothing lost."""

from __future__ import annotations

import errno
import io
import os
import re
import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from rushlight.errors import DocumentProblem
from rushlight.files import _history_db, history
from rushlight.files._paths import checksum
from rushlight.working_plan import Change, do_again, make_changes, start_work, take_back

TEXT = """rushlight: 1
subject: {title: A boat, scale: 1:72, invented: yes}
states: [{name: moving}]
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
supply: {kind: cells}
lamps: [{name: stern, colour: white, states: moving, part: hull, at_mm: [80, 20]}]
"""


@pytest.fixture
def folder(tmp_path) -> Path:
    home = tmp_path / "boat"
    home.mkdir()
    (home / "plan.yaml").write_text(TEXT, encoding="utf-8")
    return home


def moved(working, x):
    return make_changes(working, [Change("set", "lamps", "stern", {"at_mm": [x, 20]})], seen=working.revision, what=f"to {x}")


def place(working):
    return working.plan.lamps[0].at_mm


class Disk:
    """Fails the n-th call that writes: opening, writing, flushing, swapping, closing a transaction."""

    def __init__(self, monkeypatch, fails_at: int, code: int) -> None:
        self.calls, self.fails_at, self.code = 0, fails_at, code
        real_open, connect = io.open, sqlite3.connect

        def opened(file, mode="r", *more, **named):
            if set(mode) & set("wax+"):
                self.step()
                return Writer(real_open(file, mode, *more, **named), self)
            return real_open(file, mode, *more, **named)

        monkeypatch.setattr(io, "open", opened)
        for name in ("fsync", "replace"):
            monkeypatch.setattr(os, name, self.failing(getattr(os, name)))
        monkeypatch.setattr(sqlite3, "connect", lambda *words, **named: connect(*words, factory=self.connection(), **named))

    def failing(self, real):
        def done(*words, **named):
            self.step()
            return real(*words, **named)
        return done

    def connection(self):
        disk = self

        class Connection(sqlite3.Connection):
            def execute(self, sql, *words):
                if sql.startswith(("INSERT", "COMMIT", "CREATE")):
                    disk.step(lambda: full(self))
                return super().execute(sql, *words)
        return Connection

    def step(self, fail=None):
        self.calls += 1
        if self.calls == self.fails_at:
            if fail:
                fail()
            raise OSError(self.code, os.strerror(self.code))


class Writer:
    """An open file whose writes are counted too."""

    def __init__(self, file, disk) -> None:
        self.file, self.disk = file, disk

    def __enter__(self):
        return self

    def __exit__(self, *why):
        self.file.close()

    def write(self, data):
        self.file.write(data[: len(data) // 2])  # half of it reaches the disk before it is full
        self.disk.step()
        self.file.write(data[len(data) // 2 :])

    def flush(self):
        self.disk.step()
        self.file.flush()

    def __getattr__(self, name):
        return getattr(self.file, name)


def full(db):
    """What SQLite says and does when its disk is full: the transaction is gone."""
    sqlite3.Connection.execute(db, "ROLLBACK")
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    raise error


ACTS = {"an edit": lambda working: moved(working, 50), "undo": take_back, "redo": do_again}


@pytest.mark.parametrize("act", ACTS)
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS], ids=["full", "read-only"])
def test_a_disk_that_refuses_at_each_call_in_turn(tmp_path, monkeypatch, act, code):
    """Whichever call fails, the plan is whole, what was saved before is there, and the next try works."""
    said = []
    for nth in range(1, 60):
        folder = tmp_path / str(nth)
        folder.mkdir()
        (folder / "plan.yaml").write_text(TEXT, encoding="utf-8")
        working = take_back(moved(moved(start_work(folder), 60), 70))
        before, held = (folder / "plan.yaml").read_bytes(), {row.checksum for row in history.revisions(folder)}
        with monkeypatch.context() as patch:
            disk, told = Disk(patch, nth, code), ""
            try:
                ACTS[act](working)
            except DocumentProblem as error:
                told = str(error)
        said += [told] if told else []
        if disk.calls < nth:
            break
        assert sorted(path.name for path in folder.iterdir()) == ["history.db", "plan.yaml"]
        now = start_work(folder)
        after = (folder / "plan.yaml").read_bytes()
        assert now.revision == checksum(after)
        assert held | {checksum(after)} <= {row.checksum for row in history.revisions(folder)}
        if told and after != before:  # it went wrong after the swap alone: what was done stands, and can be taken back
            assert take_back(now).revision == checksum(before)
        assert place(moved(start_work(folder), 33)) == (33, 20)
    assert nth > 8
    assert len(said) > 7
    words = "the disk is full" if code == errno.ENOSPC else "may not be written|the disk is full"
    assert all(re.search(words, text) for text in said), said


@contextmanager
def readonly() -> Iterator[Path]:
    """A folder that this process may read and not write, whoever runs it."""
    with tempfile.TemporaryDirectory() as top:
        Path(top).chmod(0o755)
        home = Path(top) / "boat"
        home.mkdir()
        (home / "plan.yaml").write_text(TEXT, encoding="utf-8")
        moved(start_work(home), 60)
        for path in home.iterdir():
            path.chmod(0o444)
        home.chmod(0o555)
        root = os.geteuid() == 0
        if root:
            os.seteuid(65534)
        try:
            yield home
        finally:
            if root:
                os.seteuid(0)
            home.chmod(0o755)


@pytest.mark.skipif(sys.platform == "win32", reason="no such rights there")
def test_a_plan_that_may_only_be_read(monkeypatch):
    """It opens with its steps; an edit is refused in words; nothing is changed."""
    monkeypatch.setenv("XDG_CONFIG_HOME", tempfile.gettempdir())
    with readonly() as home:
        working = start_work(home)
        assert (place(working), working.steps.undo) == ((60, 20), "to 60")
        before = (home / "plan.yaml").read_bytes()
        for act in (lambda now: moved(now, 50), take_back):
            with pytest.raises(DocumentProblem, match=r"may not be written|cannot be opened"):
                act(working)
        assert (home / "plan.yaml").read_bytes() == before
        assert len(history.revisions(home)) == 2


def test_a_history_that_another_program_holds(folder, monkeypatch):
    """Reading goes on beside a writer; an edit says who is in the way, and works when it has gone."""
    working = moved(start_work(folder), 60)
    monkeypatch.setattr(_history_db, "WAIT_S", 0.01)
    holder = sqlite3.connect(folder / "history.db", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    try:
        assert history.steps(folder).undo == "to 60"
        assert start_work(folder).plan == working.plan
        with pytest.raises(DocumentProblem, match="locked by another program; nothing was changed"):
            moved(working, 50)
    finally:
        holder.close()
    assert place(moved(working, 50)) == (50, 20)


def test_a_history_held_for_writing_alone_is_said_when_opened(folder, monkeypatch):
    moved(start_work(folder), 60)
    monkeypatch.setattr(_history_db, "WAIT_S", 0.01)
    holder = sqlite3.connect(folder / "history.db", isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    try:
        with pytest.raises(DocumentProblem, match="locked by another program"):
            start_work(folder)
    finally:
        holder.close()


def test_a_folder_that_vanished_is_not_made_anew(folder):
    working = moved(start_work(folder), 60)
    away = folder.rename(folder.with_name("away"))
    for act in (lambda now: moved(now, 50), take_back):
        with pytest.raises(DocumentProblem, match="no such file"):
            act(working)
    assert not folder.exists()
    away.rename(folder)
    assert place(moved(working, 50)) == (50, 20)


def test_five_hundred_steps_back_and_forth_by_name_after_a_restart(folder, monkeypatch):
    monkeypatch.setattr(_history_db, "FLUSHED", "OFF")  # what a disk takes its time for is not tried here
    monkeypatch.setattr(os, "fsync", lambda handle: None)
    working = start_work(folder)
    for n in range(500):
        working = moved(working, 0.1 * (n + 1))
    for n in range(499, -1, -1):
        if n % 100 == 50:
            working = start_work(folder)
        assert working.steps.undo == f"to {0.1 * (n + 1)}"
        working = take_back(working)
    assert (working.steps.undo, place(working)) == (None, (80, 20))
    working = start_work(folder)
    for _ in range(500):
        working = do_again(working)
    assert (working.steps.redo, place(working)) == (None, (50, 20))
    assert len(history.revisions(folder)) == 1501
