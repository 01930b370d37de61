"""How long a hot state may stay on, and what vents do about it."""

from __future__ import annotations

import pytest

from finding_cases import design_of, edited, read_case
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.units import Range


def hot(*, vents_mm2: float = 0.0, minutes: float | None = None) -> Design:
    """A strip of up to 1.7 W in a narrow box."""
    edits: list[dict[str, object]] = [{"spaces/inside/vents_mm2": vents_mm2}]
    made = edited(read_case("heat.wall-too-warm").trips, edits)
    return design_of(edited(made, [{"evening": [{"state": "on", "minutes": minutes}]}]) if minutes else made)


def words(design: Design) -> str:
    return next(row.says for row in find(design) if row.key == "heat.wall-too-warm")


def test_it_may_stay_on_for_minutes_and_vents_let_it_stay() -> None:
    (row,) = hot().heat.spaces
    assert row.hold_h is not None
    assert 2 < 60 * row.hold_h < 30
    assert row.vents_for_mm2 is not None
    (cool,) = hot(vents_mm2=row.vents_for_mm2).heat.spaces
    assert (cool.hold_h, cool.vents_for_mm2) == (None, None)
    assert cool.wall_c.high <= cool.advise_c
    assert hot(vents_mm2=40).heat.spaces[0].wall_c.high < row.wall_c.high


def test_a_short_evening_stays_below_and_a_long_one_passes_when_the_state_does() -> None:
    (row,) = hot().heat.spaces
    assert row.hold_h is not None
    short, long = hot(minutes=round(0.8 * 60 * row.hold_h, 1)), hot(minutes=120)
    assert "stays below it" in words(short)
    assert short.heat.evening[0].advise_h is None
    assert long.heat.evening[0].advise_h == pytest.approx(row.hold_h, rel=1e-3)
    assert "they do so after" in words(long)
    assert "Left on from cold" in words(long)


def test_the_room_is_as_the_plan_says_or_a_usual_one() -> None:
    ohm = hot().power.resistors[0].value_ohm  # held, so that nothing but the room differs
    told = edited(read_case("heat.wall-too-warm").trips, [{"pinned": [
        {"of": "glow", "choice": "current_ma", "value": 100}, {"of": "glow", "choice": "resistor_ohm", "value": f"{ohm:g}"}]}])
    (usual,) = hot().heat.spaces
    for said in (15, 35):
        made = design_of(edited(told, [{"subject/room_c": f"{said} degC"}]))
        (row,) = made.heat.spaces
        assert made.heat.room_c == Range.exactly(said)
        # derived: nothing inside is warmer than the room for another reason; the film's law moves little with it
        assert row.wall_c.typical - said == pytest.approx(usual.wall_c.typical - 22, rel=0.05)
        assert (said > 26) == (row.wall_c.high > usual.wall_c.high)
    assert hot().heat.room_c == Range(20, 22, 26)  # source: room_air.csv


def test_a_warm_room_is_named_and_leaves_less_power() -> None:
    told = read_case("heat.wall-too-warm").trips
    made = design_of(edited(told, [{"subject/room_c": 40}]))
    assert "in a room of 40 degC" in words(made)
    assert (made.heat.spaces[0].hold_h or 9) < (hot().heat.spaces[0].hold_h or 0)
