"""Undo and redo from history.db: by name, without limit, also after a restart."""

import sqlite3

import pytest

from rushlight.errors import StaleRevision
from rushlight.files import history
from rushlight.files._paths import checksum


def save(folder, text, what, seen):
    return history.save(folder, text.encode(), expected_revision=seen, what=what)


@pytest.fixture
def three(tmp_path):
    """A plan with three revisions: begun, first, second."""
    seen = save(tmp_path, "a", "begun", None)
    seen = save(tmp_path, "b", "first", seen)
    save(tmp_path, "c", "second", seen)
    return tmp_path


def text(folder):
    return (folder / "plan.yaml").read_text()


def undo(folder):
    return history.undo(folder, expected_revision=checksum(text(folder).encode()))


def redo(folder):
    return history.redo(folder, expected_revision=checksum(text(folder).encode()))


def test_steps_are_named(three):
    assert history.steps(three) == history.Steps("second", None)
    undo(three)
    assert text(three) == "b"
    assert history.steps(three) == history.Steps("first", "second")


def test_undo_to_the_beginning_and_back(three):
    for wanted in ("b", "a"):
        undo(three)
        assert text(three) == wanted
    assert history.steps(three) == history.Steps(None, "first")
    assert undo(three) == checksum(b"a")  # nothing more to take back
    for wanted in ("b", "c"):
        redo(three)
        assert text(three) == wanted
    assert history.steps(three) == history.Steps("second", None)
    assert redo(three) == checksum(b"c")


def test_an_edit_after_undo_ends_what_could_be_redone_but_loses_nothing(three):
    undo(three)
    save(three, "d", "third", checksum(b"b"))
    assert history.steps(three) == history.Steps("third", None)
    undo(three)
    assert text(three) == "b"
    kept = {history.revision_text(three, row.number) for row in history.revisions(three)}
    assert kept == {"a", "b", "c", "d"}


def test_an_edit_from_outside_is_one_step(three):
    (three / "plan.yaml").write_text("typed by hand")
    undo(three)
    assert text(three) == "c"
    assert history.steps(three).redo == history.OUTSIDE
    redo(three)
    assert text(three) == "typed by hand"


def test_undo_of_what_the_caller_did_not_see_is_refused(three):
    with pytest.raises(StaleRevision):
        history.undo(three, expected_revision=checksum(b"b"))
    assert text(three) == "c"


def test_a_plan_never_saved_has_no_steps(tmp_path):
    assert history.steps(tmp_path) == history.Steps(None, None)


def test_a_text_is_found_by_its_checksum(three):
    assert history.text_of(three, checksum(b"b")) == "b"
    assert history.text_of(three, "0" * 64) is None


def test_a_history_of_an_older_program_gets_steps(three):
    with sqlite3.connect(three / "history.db") as db:
        db.execute("DROP TABLE returns")
    db.close()
    assert history.steps(three).undo == "second"
    undo(three)
    assert text(three) == "b"


def test_many_steps(tmp_path):
    seen = save(tmp_path, "0", "begun", None)
    for n in range(1, 40):
        seen = save(tmp_path, str(n), f"step {n}", seen)
    for n in range(38, 9, -1):
        undo(tmp_path)
        assert text(tmp_path) == str(n)
    for n in range(11, 25):
        redo(tmp_path)
        assert text(tmp_path) == str(n)
    assert history.steps(tmp_path) == history.Steps("step 24", "step 25")
