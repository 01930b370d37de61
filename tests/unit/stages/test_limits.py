"""A plan too large for one design is refused in words, quickly; a scaled one shows that the limits are what stops it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import PACKAGED, planned
from large_plan import large_plan
from plans import board
from rushlight.errors import OutOfRange
from rushlight.files.own_values import own_values
from rushlight.model.plan import Plan
from rushlight.stages import limits
from rushlight.stages.pipeline import design


def tried(plan: Plan) -> list[str]:
    """The stages that ran before the plan was refused."""
    ran: list[str] = []
    with pytest.raises(OutOfRange) as caught:
        design(plan, own_values(PACKAGED, plan), progress=ran.append)
    return [*ran, str(caught.value)]


def row_of(count: int, kind: str) -> str:
    return (f"{{name: ports, part: board, along_mm: [[10, 60], [190, 60]], count: {count}, colour: white, size_mm: 50, "
            f"states: [night], source: {{kind: {kind}}}}}")


def test_a_hundred_thousand_lamps_are_read_and_refused_in_words() -> None:
    text = board("", "\n".join(row_of(10_000, "fibre").replace("ports", f"ports {k}") for k in range(10)))
    said = tried(planned(text))
    assert said[0] == "lamps" and len(said) == 2
    assert said[1].startswith("number of lit lamps is 100,000; expected at most 5,000: plan sections of the model")


def test_too_many_leds_are_refused_before_the_loom() -> None:
    said = tried(planned(board("", row_of(limits.MOST_LEDS + 1, "led"))))
    assert said[:2] == ["lamps", "sources"]
    assert said[-1] == ("number of lamps with an LED of their own is 1,501; expected at most 1,500: make some of them "
                        "by fibre, or plan sections of the model as plans of their own")


def test_dark_lamps_do_not_count() -> None:
    dark = row_of(limits.MOST_LAMPS + 1, "fibre").replace("states: [night]", "states: [], dark_share: 1")
    limits.refuse_lamps(())
    plan = planned(board("", dark))
    assert design(plan, own_values(PACKAGED, plan)).loom.emitters == ()


def test_a_part_with_too_many_corners_is_named() -> None:
    teeth = ", ".join(f"[{200 - k * 0.09:g}, {100 + k % 2 * 0.05:g}]" for k in range(2_000))
    text = board().replace("[200, 100], [0, 100]", f"{teeth}, [0, 100]", 1)
    assert text != board()
    assert "number of corners drawn on part 'board' is 2,0" in tried(planned(text))[-1]


def test_parts_and_crossings_are_counted() -> None:
    plan = planned(large_plan(200))
    parts = replace(plan, parts=plan.parts * 151)
    assert tried(parts) == [
        "number of parts is 302; expected at most 300: plan sections of the model as plans of their own"
    ]
    crossings = replace(plan, crossings=plan.crossings * 301)
    assert tried(crossings) == ["number of crossings is 301; expected at most 300: join parts by fewer crossings"]


def test_the_limits_stop_nothing_below_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same plan, scaled limits: as many as are allowed pass, one fewer allowed stops it."""
    plan = planned(board("", row_of(6, "led")))
    monkeypatch.setattr(limits, "MOST_LEDS", 6)
    monkeypatch.setattr(limits, "MOST_LAMPS", 6)
    assert len(design(plan, own_values(PACKAGED, plan)).loom.emitters) == 6
    monkeypatch.setattr(limits, "MOST_LEDS", 5)
    assert "is 6; expected at most 5" in tried(plan)[-1]
    monkeypatch.setattr(limits, "MOST_LAMPS", 5)
    assert tried(plan)[0] == "lamps" and len(tried(plan)) == 2
