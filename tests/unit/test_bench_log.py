"""The log of the bench: idempotent, mergeable, in the order of time, taken back by name."""

import pytest

from rushlight.bench_log import Act, take_act
from rushlight.errors import OutOfRange, UnknownName
from rushlight.files.history import steps
from rushlight.model.change import Change
from rushlight.working_plan import changed, make_changes, start_work, take_back

PLAN = """rushlight: 1
subject: {title: A boat, scale: 1:72}
states: [{name: moving}]
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
# kept: the log has comments too
as_built:
  # the first evening
  - {step: plan, when: "2026-11-20 18:00:00", note: at the desk}
"""
NEEDS = {("bench_test", None): ("no short", "supply current, moving")}


def at(minute: int) -> str:
    return f"2026-11-25 18:{minute:02}:00"


@pytest.fixture
def working(tmp_path):
    (tmp_path / "plan.yaml").write_text(PLAN, encoding="utf-8")
    return start_work(tmp_path)


def done(working, *acts):
    for act in acts:
        taken = take_act(working, act, NEEDS)
        assert taken.refused == ""
        working = taken.working
    return working


def log_of(working):
    return [(row.name, row.how) for row in working.plan.as_built]


def test_a_tick_is_one_named_step_and_comments_stay(working):
    ticked = done(working, Act("tick", "drill", "hull", at(5), "red phone", says="drill the holes"))
    row = ticked.plan.as_built[-1]
    assert (row.step, row.part, row.when, row.by, row.how) == ("drill", "hull", at(5), "red phone", "done")
    assert ticked.steps.undo == "drill the holes: ticked (red phone)"
    text = (working.folder / "plan.yaml").read_text(encoding="utf-8")
    assert "# the first evening" in text
    assert "# kept: the log has comments too" in text
    assert log_of(take_back(ticked)) == [("plan", "done")]


def test_a_tick_that_comes_twice_changes_nothing(working):
    once = done(working, Act("tick", "drill", "hull", at(5), "red phone"))
    twice = done(once, Act("tick", "drill", "hull", at(9), "blue phone"))
    assert twice.revision == once.revision
    assert steps(working.folder) == once.steps


def test_a_tick_that_comes_late_stands_where_it_was_done(working):
    """Unsent ticks of a phone that slept: the log is in the order of the work, the user's layout stays."""
    made = done(working, Act("tick", "solder", when=at(30)), Act("tick", "cut_wire", when=at(10)), Act("tick", "shrink", when=at(40)))
    assert [row.step for row in made.plan.as_built] == ["plan", "cut_wire", "solder", "shrink"]
    assert "# the first evening" in made.read.text


def test_a_gate_asks_for_its_readings(working):
    refused = take_act(working, Act("tick", "bench_test", says="bench test", when=at(1)), NEEDS)
    assert "2 of its readings not there" in refused.refused
    assert refused.working.revision == working.revision
    half = done(working, Act("read", "bench_test", what="no short", value=20000.0, when=at(2)))
    assert half.plan.as_built[-1].how == "begun"
    assert "1 of its readings" in take_act(half, Act("tick", "bench_test", when=at(3)), NEEDS).refused
    whole = done(half, Act("read", "bench_test", what="supply current, moving", value=12.5, when=at(3)),
                 Act("tick", "drill", "hull", at(4)), Act("tick", "bench_test", when=at(5)))
    assert log_of(whole)[1:] == [("drill on hull", "done"), ("bench_test", "done")]
    assert [row.value for row in whole.plan.as_built[-1].readings] == [20000.0, 12.5]


def test_a_gate_can_be_passed_by_eye(working):
    made = done(working, Act("tick", "bench_test", how="by eye", note="no meter here", when=at(1)))
    assert (made.plan.as_built[-1].how, made.plan.as_built[-1].note) == ("by eye", "no meter here")
    assert take_act(working, Act("tick", "bench_test", how="guessed"), NEEDS).refused


def test_two_devices_read_one_thing_and_both_are_kept(working):
    """The second did not know of the first; whoever has seen both can settle it."""
    read = {"kind": "read", "step": "bench_test", "what": "no short"}
    both = done(working, Act(**read, value=30000.0, by="red"), Act(**read, value=25000.0, by="blue"))
    assert [(row.value, row.by) for row in both.plan.as_built[-1].readings] == [(30000.0, "red"), (25000.0, "blue")]
    again = done(both, Act(**read, value=30000.0, by="red"))
    assert {row.value for row in again.plan.as_built[-1].readings} == {30000.0, 25000.0}
    settled = done(both, Act(**read, value=25000.0, seen=(30000.0, 25000.0)))
    assert [row.value for row in settled.plan.as_built[-1].readings] == [25000.0]
    gone = done(settled, Act(**read, value=None, seen=(25000.0,)))
    assert log_of(gone) == [("plan", "done")]


def test_a_reading_sent_twice_is_one_reading(working):
    read = Act("read", "bench_test", what="no short", value=30000.0, by="red", when=at(1))
    once = done(working, read)
    assert done(once, read).revision == once.revision


def test_taking_a_tick_back_keeps_what_was_read(working):
    made = done(working, Act("read", "bench_test", what="no short", value=1.0), Act("tick", "bench_test", how="by eye", when=at(1)),
                Act("untick", "bench_test"))
    assert log_of(made)[-1] == ("bench_test", "begun")
    assert done(made, Act("untick", "bench_test")).revision == made.revision
    assert log_of(done(made, Act("tick", "drill", "hull"), Act("untick", "drill", "hull"))) == log_of(made)


def test_a_piece_is_cut_with_its_length(working):
    made = done(working, Act("cut", "lead A1", length_mm=185.0, when=at(1)), Act("cut", "lead A1", length_mm=185.0, when=at(2)))
    assert (made.plan.as_built[-1].step, made.plan.as_built[-1].length_mm, made.plan.as_built[-1].when) == ("lead A1", 185.0, at(1))
    longer = done(made, Act("cut", "lead A1", length_mm=190.0, when=at(3)))
    assert longer.plan.as_built[-1].length_mm == 190.0
    assert log_of(done(longer, Act("uncut", "lead A1"))) == [("plan", "done")]


def test_an_entry_by_title_is_the_same_entry(working):
    made = done(working, Act("tick", "Bench test", when=at(1), says=""))
    assert done(made, Act("tick", "bench_test", says="bench test", how="by eye", when=at(2))).revision == made.revision


def test_the_closing_seals(working):
    assert done(working, Act("tick", "close", when=at(1))).plan.as_built[-1].sealed


@pytest.mark.parametrize("act", [Act("dance", "drill"), Act("tick", "drill", "no such part"), Act("cut", "lead A1", length_mm=-1.0)])
def test_acts_that_do_not_fit_are_refused_in_words_and_write_nothing(working, act):
    taken = take_act(working, act, NEEDS)
    assert taken.refused
    assert (working.folder / "plan.yaml").read_text(encoding="utf-8") == PLAN


def test_entries_of_the_log_are_changed_like_any_item(working):
    change = Change("set", "as_built", "plan", {"note": "twice"})
    made = make_changes(working, (change,), seen=working.revision, what="note")
    assert made.plan.as_built[0].note == "twice"
    with pytest.raises(UnknownName):
        changed(working.plan, (Change("set", "as_built", "dance", {}),))
    with pytest.raises(OutOfRange):
        changed(working.plan, (Change("add", "as_built", "plan", {"step": "plan"}),))
