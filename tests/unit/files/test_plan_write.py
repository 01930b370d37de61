"""Writing plans: canonical text that reads back equal, lamps added in the user's own layout, revisions, crashes."""

from __future__ import annotations

import dataclasses
import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import rushlight
from rushlight.errors import DocumentProblem, StaleRevision, UnknownName
from rushlight.files import _atomic, _history_db
from rushlight.files._convert import Converter
from rushlight.files._drafts import build
from rushlight.files._emit import number_text
from rushlight.files._events import read_nodes
from rushlight.files._faults import Faults
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.history import notice, restore, revision_text, revisions
from rushlight.files.migrate import up_to_date
from rushlight.files.plan_write import append_lamps, dump_plan, write_plan, write_text
from rushlight.files.plan_yaml import parse_plan, read_plan
from rushlight.model.plan import Brightness, Lamp, Plan
from rushlight.model.schema import Kind, keys_of

DRAWER = read_drawer()
DEMOS = sorted((Path(rushlight.__file__).parent / "demos").glob("*/plan.yaml"))
NOON = datetime(2024, 5, 1, 12, 0, tzinfo=UTC)
SMALL = """# my shed
rushlight: 1
subject: {title: A shed, scale: 1:72}   # the old one
states: [{name: night}]
parts:
  - name: wall
    outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]
"""


def plan_of(text: str) -> Plan:
    return parse_plan(text, "plan.yaml", DRAWER)


def lamp(name: str) -> Lamp:
    return Lamp(name=name, part="wall", at_mm=(5.0, 5.5), colour="warm white", states=("night",), size_mm=100.0)


# ---- the canonical text

NAMES = st.from_regex(r"[a-zA-Z0-9:#'\"&*!?{}\[\],ü☂~-][a-zA-Z0-9 :#'\"ü☂~-]{0,12}[a-z0-9]", fullmatch=True).map(
    lambda text: " ".join(text.split())
)
TEXTS = st.text(st.characters(exclude_categories=("Cc", "Cs")) | st.sampled_from("\n\t"), max_size=30)


def numbers(kind: Kind) -> st.SearchStrategy[float]:
    return st.floats(max(kind.low, -1e12), min(kind.high, 1e12), allow_nan=False)


def points(kind: Kind, least: int) -> st.SearchStrategy[tuple[tuple[float, float], ...]]:
    found = st.lists(st.tuples(numbers(kind), numbers(kind)), min_size=least, max_size=4).map(tuple)
    return found.filter(lambda line: line[:1] != line[-1:] or len(line) < 4)


def values(kind: Kind) -> st.SearchStrategy[object]:
    sizes = st.floats(0.001, 1000)
    makers = {
        "text": lambda: TEXTS,
        "name": lambda: NAMES,
        "names": lambda: st.lists(NAMES, min_size=kind.least, max_size=3).map(tuple),
        "flag": st.booleans,
        "choice": lambda: st.sampled_from(kind.choices),
        "quantity": lambda: numbers(kind),
        "number": lambda: numbers(kind),
        "ratio": lambda: numbers(kind),
        "count": lambda: st.integers(int(kind.low), int(kind.high)),
        "count_range": lambda: st.tuples(st.integers(0, 99), st.integers(0, 99)).map(lambda ends: tuple(sorted(ends))),
        "point": lambda: st.tuples(numbers(kind), numbers(kind)),
        "points": lambda: points(kind, kind.least),
        "point_lists": lambda: st.lists(points(Kind("points", "mm", -1e5, 1e5), 2), max_size=2).map(tuple),
        "rect": lambda: st.tuples(sizes, sizes, sizes, sizes),
        "pair": lambda: st.tuples(numbers(kind), numbers(kind)),
        "numbers": lambda: st.lists(numbers(kind), min_size=kind.least, max_size=kind.most).map(tuple),
        "ref": lambda: NAMES,
        "refs": lambda: st.lists(NAMES, min_size=kind.least, max_size=3).map(tuple),
        "colour": lambda: st.sampled_from(("red", "warm white", "525 nm", "3000 K")),
        "rhythm": lambda: st.sampled_from(("steady", "Fl(2) W 10s", "fade 3 s")),
        "file": lambda: st.sampled_from(("a.png", "sub/b c.jpg")),
        "item": lambda: items(kind.item),
        "items": lambda: st.lists(items(kind.item), min_size=kind.least, max_size=max(kind.least, 1)).map(tuple),
    }
    return makers[kind.name]()


def items(item: type) -> st.SearchStrategy[object]:
    """Any item of the schema: each key given or left out, whether it makes sense or not."""
    made = {}
    for field in keys_of(item):
        value = values(field.metadata["kind"])
        has_default = field.default is not dataclasses.MISSING
        made[field.name] = st.just(field.default) | value if has_default else value
    return st.builds(item, **made)


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(items(Plan))
def test_what_is_written_reads_back_equal(plan):
    faults = Faults("plan.yaml")
    root = up_to_date(read_nodes(dump_plan(plan), faults), faults)
    draft = Converter(faults).item(Plan, root, "")
    faults.raise_any()
    assert build(draft) == plan


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_numbers_keep_every_digit(value):
    assert float(number_text(value)) == value


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.parent.name)
def test_the_demos_are_written_and_read(demo):
    plan = read_plan(demo.parent, DRAWER).plan
    text = dump_plan(plan)
    assert plan_of(text) == plan
    assert dump_plan(plan_of(text)) == text
    assert max(map(len, text.splitlines())) < 250


def test_the_canonical_form_is_this():
    """# pinned: guards change only."""
    assert dump_plan(plan_of(SMALL + "note: 'yes: it is'\nlamps: [{name: a, colour: red, states: night}]\n")) == (
        textwrap.dedent("""\
        rushlight: 1

        subject:
          title: A shed
          scale: 1:72

        states:
          - {name: night}

        parts:
          - name: wall
            outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]

        lamps:
          - {name: a, colour: red, states: night}

        note: "yes: it is"
        """).replace(
            "  - name: wall\n    outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]",
            "  - {name: wall, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}",
        )
    )


# ---- lamps added in place

LISTS = [
    "",
    "lamps:\n",
    "lamps: []\n",
    "lamps: ~ # none yet\n",
    "lamps: [ ]  # none\n",
    "lamps:\n- name: old\n  colour: red   # as seen\n  states: night\n# the end\n",
    "lamps:\n    - {name: old, colour: red, states: night} # first\n\n    # more to come\nnote: after\n",
    "lamps: [{name: old, colour: red, states: night}]\nnote: after\n",
    "lamps: [\n  {name: old, colour: red, states: night},\n]\nnote: after\n",
    "lamps:\n  - name: old\n    colour: red\n    states: night\n    note: |\n      two\n      lines\nnote: after\n",
    "lamps:\n  - name: old\n    colour: red\n    states: night",
]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("tail", LISTS)
def test_lamps_are_added_and_nothing_else_is_touched(tail, end):
    text = (SMALL + tail).replace("\n", end)
    old = plan_of(text)
    more = (lamp("new"), dataclasses.replace(lamp("newer"), brightness=Brightness(like="new"), note="x" * 90))
    new = append_lamps(text, more, DRAWER)
    assert plan_of(new) == dataclasses.replace(old, lamps=(*old.lamps, *more))
    kept = iter(new.splitlines())
    for line in text.splitlines():
        if not line.startswith(("lamps:", "]")):
            assert line in kept, line
    assert ("\r" in new) == ("\r" in text)


def test_lamps_with_a_name_that_stands_already_are_refused():
    text = append_lamps(SMALL, [lamp("new")], DRAWER)
    with pytest.raises(DocumentProblem, match="name stands already"):
        append_lamps(text, [lamp("new")], DRAWER)
    assert append_lamps(text, [], DRAWER) == text


def test_a_plan_in_braces_is_refused():
    text = (
        "{rushlight: 1, subject: {title: a, scale: '1:72'}, states: [{name: night}], "
        "parts: [{name: wall, outline_mm: [[0, 0], [9, 0], [9, 9]]}]}"
    )
    with pytest.raises(DocumentProblem, match="one key a line"):
        append_lamps(text, [lamp("new")], DRAWER)


# ---- revisions


def changed(plan: Plan, note: str) -> Plan:
    return dataclasses.replace(plan, note=note)


def test_each_save_is_a_revision_that_can_be_brought_back(tmp_path):
    folder = tmp_path / "shed"
    plan = plan_of(SMALL)
    first = write_plan(folder, plan, expected_revision=None, what="begun", now=NOON)
    second = write_plan(folder, changed(plan, "2"), expected_revision=first, now=NOON)
    assert read_plan(folder, DRAWER).revision_checksum == second
    assert [(r.number, r.time, r.what, r.checksum) for r in revisions(folder)] == [
        (1, "2024-05-01T12:00:00+00:00", "begun", first),
        (2, "2024-05-01T12:00:00+00:00", "saved", second),
    ]
    assert restore(folder, 1, now=NOON) == first
    assert read_plan(folder, DRAWER).plan == plan
    assert [r.what for r in revisions(folder)] == ["begun", "saved", "restored revision 1"]
    assert revision_text(folder, 2) == dump_plan(changed(plan, "2"))
    assert revisions(folder / "plan.yaml") == revisions(folder)
    assert sorted(path.name for path in folder.iterdir()) == ["history.db", "plan.yaml"]


def test_a_plan_changed_elsewhere_is_not_overwritten(tmp_path):
    plan = plan_of(SMALL)
    first = write_plan(tmp_path, plan, expected_revision=None)
    (tmp_path / "plan.yaml").write_text(SMALL, encoding="utf-8")
    for expected in (first, None):
        with pytest.raises(StaleRevision, match="changed elsewhere"):
            write_plan(tmp_path, plan, expected_revision=expected)
    assert (tmp_path / "plan.yaml").read_text(encoding="utf-8") == SMALL
    assert len(revisions(tmp_path)) == 1


def test_a_plan_that_is_gone_is_not_written_as_if_it_were_there(tmp_path):
    first = write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    (tmp_path / "plan.yaml").unlink()
    with pytest.raises(StaleRevision):
        write_plan(tmp_path, plan_of(SMALL), expected_revision=first)


def test_an_edit_outside_is_a_revision_when_next_seen(tmp_path):
    assert not notice(tmp_path)
    assert not list(tmp_path.iterdir())
    (tmp_path / "plan.yaml").write_text(SMALL, encoding="utf-8")
    read_plan(tmp_path, DRAWER)
    assert revisions(tmp_path) == ()
    found = read_plan(tmp_path, DRAWER, remember=True)
    (tmp_path / "plan.yaml").write_text(SMALL + "note: mine\n", encoding="utf-8")
    read_plan(tmp_path, DRAWER, remember=True)
    assert not notice(tmp_path)
    (tmp_path / "plan.yaml").write_text(SMALL + "note: also mine\n", encoding="utf-8")
    restore(tmp_path, 1)
    assert [r.what for r in revisions(tmp_path)] == [
        "as found",
        "edited outside",
        "edited outside",
        "restored revision 1",
    ]
    assert revision_text(tmp_path, 3) == SMALL + "note: also mine\n"
    assert read_plan(tmp_path, DRAWER) == found


def test_saving_the_same_again_makes_no_revision(tmp_path):
    first = write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    assert write_plan(tmp_path, plan_of(SMALL), expected_revision=first) == first
    assert len(revisions(tmp_path)) == 1


def test_typed_text_is_saved_as_typed_or_not_at_all(tmp_path):
    found = write_text(tmp_path, SMALL, drawer=DRAWER, expected_revision=None)
    assert read_plan(tmp_path, DRAWER) == found
    with pytest.raises(DocumentProblem):
        write_text(tmp_path, SMALL + "foo: 1\n", drawer=DRAWER, expected_revision=found.revision_checksum)
    assert read_plan(tmp_path, DRAWER) == found


def test_a_revision_that_is_not_there(tmp_path):
    with pytest.raises(UnknownName, match="revision '1'"):
        restore(tmp_path, 1)
    write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    with pytest.raises(UnknownName, match="revision '7'"):
        revision_text(tmp_path, 7)


def test_a_history_that_is_no_database_is_set_aside(tmp_path):
    for number in (1, 2):
        (tmp_path / "history.db").write_bytes(b"not a database at all" * 100)
        assert revisions(tmp_path) == ()
        assert (tmp_path / f"history.db.damaged-{number}").exists()
    write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    assert len(revisions(tmp_path)) == 1


def test_a_damaged_revision_is_said_to_be(tmp_path):
    write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    with sqlite3.connect(tmp_path / "history.db") as db:
        db.execute("UPDATE revisions SET text = x'00'")
    db.close()
    with pytest.raises(DocumentProblem, match="damaged"):
        restore(tmp_path, 1)


def test_a_history_that_another_program_holds(tmp_path, monkeypatch):
    first = write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    monkeypatch.setattr(_history_db, "WAIT_S", 0.01)
    holder = sqlite3.connect(tmp_path / "history.db", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    try:
        with pytest.raises(DocumentProblem, match="locked"):
            write_plan(tmp_path, changed(plan_of(SMALL), "x"), expected_revision=first)
        assert not notice(tmp_path)
    finally:
        holder.close()
    assert read_plan(tmp_path, DRAWER).revision_checksum == first


# ---- crashes

STEPS = ("_write_through", "os.fsync", "os.replace", "flush_folder")


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize(
    "error", [OSError(28, "No space left on device"), KeyboardInterrupt()], ids=["full", "stopped"]
)
def test_a_failure_at_each_step_leaves_the_old_plan_or_the_new(tmp_path, monkeypatch, step, error):
    old, new = plan_of(SMALL), changed(plan_of(SMALL), "new")
    first = write_plan(tmp_path, old, expected_revision=None)

    def fails(*args: object) -> None:
        raise error

    target = _atomic.os if step.startswith("os.") else _atomic
    monkeypatch.setattr(target, step.removeprefix("os."), fails)
    with pytest.raises((DocumentProblem, KeyboardInterrupt)):
        write_plan(tmp_path, new, expected_revision=first)
    monkeypatch.undo()
    found = read_plan(tmp_path, DRAWER, remember=True)
    assert found.plan == (new if step == "flush_folder" else old)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["history.db", "plan.yaml"]
    assert revisions(tmp_path)[-1].checksum == found.revision_checksum


CHILD = """
import sys
from pathlib import Path
from rushlight.files import history
folder = Path(sys.argv[1])
base = (folder / "base.txt").read_bytes()
last = history.checksum((folder / "plan.yaml").read_bytes())
print("ready", flush=True)
for number in range(100_000):
    last = history.save(folder, base + b"note: %d\\n" % number, expected_revision=last, what=str(number))
"""


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_a_killed_writer_leaves_a_whole_plan(tmp_path):
    (tmp_path / "base.txt").write_text(SMALL, encoding="utf-8")
    write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    for attempt in range(6):
        child = subprocess.Popen([sys.executable, "-c", CHILD, str(tmp_path)], stdout=subprocess.PIPE, text=True)
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        time.sleep(0.05 + 0.013 * attempt)
        child.send_signal(signal.SIGKILL)
        child.communicate()
        found = read_plan(tmp_path, DRAWER, remember=True)
        assert revisions(tmp_path)[-1].checksum == found.revision_checksum
        assert revision_text(tmp_path, len(revisions(tmp_path))) == found.text
    write_plan(tmp_path, plan_of(SMALL), expected_revision=found.revision_checksum)
    assert not list(tmp_path.glob(".plan.yaml.*"))


def test_of_two_writers_that_read_the_same_one_is_told(tmp_path):
    first = write_plan(tmp_path, plan_of(SMALL), expected_revision=None)
    writer = "import sys; from pathlib import Path; from rushlight.files import history; from rushlight.errors import "
    writer += "StaleRevision\ntry: history.save(Path(sys.argv[1]), b'%s' % sys.argv[3].encode(), "
    writer += "expected_revision=sys.argv[2], what='race')\nexcept StaleRevision: sys.exit(7)\n"
    children = [
        subprocess.Popen([sys.executable, "-c", writer, str(tmp_path), first, f"text {number}"]) for number in range(3)
    ]
    assert sorted(child.wait() for child in children) == [0, 7, 7]
    assert [revision.what for revision in revisions(tmp_path)] == ["saved", "race"]
