"""A plan at work: changes, clashes, undo, edits from outside."""

import pytest

from rushlight.errors import Clash, DocumentProblem, OutOfRange, UnknownName
from rushlight.model.change import Change
from rushlight.working_plan import (
    do_again,
    first_look,
    make_changes,
    on_disk,
    read_again,
    start_work,
    take_back,
)

TEXT = """rushlight: 1
# the boat of my aunt
subject: {title: A boat, scale: 1:72}
states: [{name: moving}, {name: moored}]
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
lamps:
  - {name: stern, colour: white, states: moving, part: hull, at_mm: [80, 20]}
  - {name: bow, colour: red, states: [moving, moored], part: hull, at_mm: [90, 30]}
"""


@pytest.fixture
def working(tmp_path):
    (tmp_path / "plan.yaml").write_text(TEXT, encoding="utf-8")
    return start_work(tmp_path)


def moved(working, name, to, seen=None, what="moved"):
    change = Change("set", "lamps", name, {"at_mm": to})
    return make_changes(working, [change], seen=seen or working.revision, what=what)


def at(working, name):
    return next(lamp.at_mm for lamp in working.plan.lamps if lamp.name == name)


def test_a_change_is_on_the_disk_at_once_with_its_name(working):
    after = moved(working, "stern", [70, 20], what="stern moved")
    assert at(after, "stern") == (70.0, 20.0)
    assert on_disk(working.folder) == after.revision != working.revision
    assert after.steps.undo == "stern moved"
    assert "# the boat of my aunt" in after.read.text
    assert start_work(working.folder).plan == after.plan


def test_undo_and_redo_after_a_restart(working):
    moved(working, "stern", [70, 20], what="stern moved")
    again = start_work(working.folder)
    back = take_back(again)
    assert at(back, "stern") == (80.0, 20.0)
    assert back.read.text == TEXT
    forth = do_again(start_work(working.folder))
    assert at(forth, "stern") == (70.0, 20.0)


def test_two_windows_that_change_different_lamps_both_win(working):
    moved(working, "stern", [70, 20])
    both = moved(working, "bow", [91, 31])  # made on the older revision
    assert (at(both, "stern"), at(both, "bow")) == ((70.0, 20.0), (91.0, 31.0))


def test_two_windows_that_change_one_lamp_clash_and_nothing_is_lost(working):
    theirs = moved(working, "stern", [70, 20])
    with pytest.raises(Clash, match="stern") as caught:
        moved(working, "stern", [60, 20])
    assert caught.value.items == ("stern",)
    assert at(start_work(working.folder), "stern") == (70.0, 20.0)
    mine = moved(theirs, "stern", [60, 20])
    assert at(mine, "stern") == (60.0, 20.0)
    assert at(take_back(mine), "stern") == (70.0, 20.0)


def test_a_revision_that_nobody_knows_is_a_clash(working):
    with pytest.raises(Clash, match="the plan"):
        moved(working, "stern", [1, 1], seen="0" * 64)


def test_an_edit_from_outside_is_taken_in_and_can_be_taken_back(working):
    (working.folder / "plan.yaml").write_text(TEXT.replace("[80, 20]", "[50, 20]"), encoding="utf-8")
    seen = read_again(working)
    assert at(seen, "stern") == (50.0, 20.0)
    both = moved(working, "bow", [1, 2])
    assert (at(both, "stern"), at(both, "bow")) == ((50.0, 20.0), (1.0, 2.0))
    assert at(take_back(take_back(both)), "stern") == (80.0, 20.0)


def test_an_edit_from_outside_with_problems_is_told_and_not_overwritten(working):
    broken = TEXT.replace("white", "whote")
    (working.folder / "plan.yaml").write_text(broken, encoding="utf-8")
    with pytest.raises(DocumentProblem, match="whote"):
        moved(working, "bow", [1, 2])
    assert (working.folder / "plan.yaml").read_text(encoding="utf-8") == broken


def test_the_same_value_if_nothing_changed(working):
    assert read_again(working) is working


def test_add_remove_and_single_items(working):
    changes = [
        Change("add", "rows", "ports", {"part": "hull", "along_mm": [[1, 2], [9, 2]], "count": 3, "colour": "warm white", "states": ["moored"]}),
        Change("remove", "lamps", "bow", {}),
        Change("set", "subject", "", {"title": "Another boat"}),
        Change("set", "supply", "", {"kind": "cells"}),
    ]
    after = make_changes(working, changes, seen=working.revision, what="much")
    assert [row.name for row in after.plan.rows] == ["ports"]
    assert [lamp.name for lamp in after.plan.lamps] == ["stern"]
    assert after.plan.subject.title == "Another boat"
    gone = make_changes(after, [Change("remove", "supply", "", {})], seen=after.revision, what="no supply")
    assert gone.plan.supply is None


def test_a_value_of_none_is_the_default(working):
    after = make_changes(working, [Change("set", "lamps", "stern", {"part": None, "at_mm": None})], seen=working.revision, what="x")
    assert after.plan.lamps[0].part is None


@pytest.mark.parametrize(("change", "error", "says"), [
    (Change("set", "lamps", "sturn", {"at_mm": [1, 2]}), UnknownName, "stern"),
    (Change("set", "lumps", "stern", {}), UnknownName, "lamps"),
    (Change("set", "lamps", "stern", {"colour_": "red"}), UnknownName, "colour"),
    (Change("set", "lamps", "stern", {"colour": None}), OutOfRange, "left out"),
    (Change("add", "lamps", "stern", {"colour": "red", "states": ["moving"]}), OutOfRange, "not yet among"),
    (Change("add", "lamps", "new", {}), OutOfRange, "lamps 'new'"),
    (Change("set", "lamps", "stern", {"at_mm": "here"}), (OutOfRange, DocumentProblem), "at_mm|value"),
    (Change("set", "lamps", "stern", {"at_mm": [1]}), (OutOfRange, DocumentProblem), "at_mm|value"),
    (Change("set", "lamps", "stern", {"at_mm": [{}, 2]}), (OutOfRange, DocumentProblem), "value|at_mm"),
    (Change("set", "lamps", "stern", {"colour": "whote"}), DocumentProblem, "white"),
    (Change("set", "lamps", "stern", {"colour": 7}), (OutOfRange, DocumentProblem), "."),
    (Change("set", "lamps", "stern", {"brightness": {"likes": 3}}), UnknownName, "like"),
    (Change("set", "lamps", "stern", {"states": ["sunk"]}), DocumentProblem, "sunk"),
    (Change("remove", "subject", "", {}), (OutOfRange, DocumentProblem), "."),
])
def test_bad_changes_are_refused_in_words_and_write_nothing(working, change, error, says):
    with pytest.raises(error, match=says):
        make_changes(working, [change], seen=working.revision, what="bad")
    assert (working.folder / "plan.yaml").read_text(encoding="utf-8") == TEXT


def test_what_is_known_at_once(working):
    look = first_look(working)
    assert [lamp.name for lamp in look.lamps] == ["stern", "bow"]
    assert {source.lamp for source in look.sources} == {"stern", "bow"}
    assert sum(len(circuit.lamps) for circuit in look.circuits) == 2


# --- items inside items -------------------------------------------------------------------------------------------


def inside(working, action, inner, values, *, seen=None, of="openings"):
    change = Change(action, "parts", "hull", values, inner_list=of, inner=inner)
    return make_changes(working, [change], seen=seen or working.revision, what=f"{inner} {action}")


def openings(working):
    return {row.name: row.rect_mm for row in working.plan.part("hull").openings}


def test_an_opening_is_put_in_changed_and_taken_out(working):
    after = inside(working, "add", "window", {"rect_mm": [10, 10, 20, 5]})
    after = inside(after, "add", "door", {"outline_mm": [[50, 10], [60, 10], [60, 30]]})
    after = inside(after, "set", "window", {"rect_mm": [12, 10, 20, 5]})
    assert openings(after) == {"window": (12.0, 10.0, 20.0, 5.0), "door": None}
    after = inside(after, "remove", "door", {})
    assert list(openings(after)) == ["window"]
    assert take_back(after).plan.part("hull").openings[1].outline_mm[2] == (60.0, 30.0)


def test_edits_of_two_openings_of_one_part_agree_and_of_one_clash(working):
    base = inside(inside(working, "add", "a", {"rect_mm": [10, 10, 20, 5]}), "add", "b", {"rect_mm": [50, 10, 20, 5]})
    inside(base, "set", "a", {"rect_mm": [11, 10, 20, 5]})
    both = inside(base, "set", "b", {"rect_mm": [51, 10, 20, 5]}, seen=base.revision)
    assert openings(both) == {"a": (11.0, 10.0, 20.0, 5.0), "b": (51.0, 10.0, 20.0, 5.0)}
    with pytest.raises(Clash) as clash:
        inside(both, "set", "a", {"rect_mm": [12, 10, 20, 5]}, seen=base.revision)
    assert clash.value.items == ("a on hull",)
    assert on_disk(both.folder) == both.revision


def test_an_outline_and_an_opening_of_one_part_agree(working):
    base = inside(working, "add", "a", {"rect_mm": [10, 10, 20, 5]})
    outline = Change("set", "parts", "hull", {"outline_mm": [[0, 0], [120, 0], [120, 60], [0, 60]]})
    make_changes(base, [outline], seen=base.revision, what="outline moved")
    after = inside(base, "set", "a", {"rect_mm": [11, 10, 20, 5]}, seen=base.revision)
    assert after.plan.part("hull").outline_mm[1] == (120.0, 0.0)
    with pytest.raises(Clash, match="hull"):
        make_changes(after, [outline], seen=base.revision, what="outline moved")


def test_what_cannot_be_changed_inside_is_named(working):
    with pytest.raises(UnknownName, match="opnings"):
        inside(working, "add", "a", {}, of="opnings")
    with pytest.raises(UnknownName, match="relief"):
        inside(working, "add", "a", {}, of="relief")
    with pytest.raises(UnknownName, match="door"):
        inside(working, "set", "door", {"rect_mm": [1, 1, 2, 2]})
    with pytest.raises(DocumentProblem, match="outside"):
        inside(working, "add", "door", {"rect_mm": [90, 1, 20, 2]})


def test_keys_of_the_plan_itself_are_changed_and_clash_one_by_one(working):
    pin = {"of": "stern", "choice": "current_ma", "value": "2"}
    held = make_changes(working, [Change("set", "plan", "", {"pinned": [pin]})], seen=working.revision, what="held")
    assert held.plan.pinned[0].value == "2"
    habit = Change("set", "plan", "", {"practice": [{"habit": "drift", "value": 2}]})
    both = make_changes(held, [habit], seen=working.revision, what="own number")
    assert (len(both.plan.pinned), len(both.plan.practice)) == (1, 1)
    let_go = Change("set", "plan", "", {"pinned": None})
    with pytest.raises(Clash):
        make_changes(both, [let_go], seen=working.revision, what="let go")
    assert make_changes(both, [let_go], seen=both.revision, what="let go").plan.pinned == ()
    with pytest.raises(UnknownName):
        make_changes(both, [Change("set", "plan", "", {"parts": []})], seen=both.revision, what="no")


def test_the_log_follows_a_part_that_is_renamed(tmp_path):
    (tmp_path / "plan.yaml").write_text(TEXT + "as_built:\n  - {step: drill, part: hull}\n  - {step: paint}\n", encoding="utf-8")
    working = start_work(tmp_path)
    changes = [
        Change("set", "parts", "hull", {"name": "shell"}),
        *(Change("set", "lamps", name, {"part": "shell"}) for name in ("stern", "bow")),
        Change("set", "as_built", "drill on hull", {"part": "shell"}),
    ]
    after = make_changes(working, changes, seen=working.revision, what="hull named shell")
    assert [row.name for row in after.plan.as_built] == ["drill on shell", "paint"]
    assert start_work(tmp_path).plan == after.plan
