"""Lamps of the chosen version, spelled out and sized at scale."""

from __future__ import annotations

import pytest

from designed import planned
from plans import board
from rushlight.model.plan import Row
from rushlight.stages.lamps import colour_of, place_lamps, points_along, row_places


def test_a_row_is_spread_from_end_to_end() -> None:
    plan = planned(board(rows="{name: r, part: board, along_mm: [[10, 50], [110, 50]], count: 5, colour: white, states: day}"))
    xs = [lamp.spot.x_mm for lamp in place_lamps(plan) if lamp.spot]
    assert xs == [10.0, 35.0, 60.0, 85.0, 110.0]  # derived: 100 mm in four gaps


def test_a_pitch_fills_the_line_as_far_as_it_goes() -> None:
    row = Row(name="r", part="board", along_mm=((0.0, 0.0), (0.0, 95.0)), pitch_mm=10.0, colour="white", states=("day",))
    assert [y for _, y in row_places(row)] == [10.0 * k for k in range(10)]  # derived: floor(95 / 10) + 1 lamps


def test_a_bent_row_keeps_its_pitch_along_the_line() -> None:
    row = Row(name="r", part="b", along_mm=((0.0, 0.0), (30.0, 0.0), (30.0, 30.0)), count=3, colour="white", states=("d",))
    assert row_places(row) == ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0))  # derived: 30 mm pitch along the bend


def test_a_mirrored_row_turns_x_about_the_axis() -> None:
    text = (
        "{name: r, part: board, along_mm: [[10, 50], [30, 50]], count: 2, colour: white, states: day, "
        "mirror: {part: board, axis_x_mm: 100}}"
    )
    lamps = place_lamps(planned(board(rows=text)))
    assert [(lamp.name, lamp.spot.x_mm) for lamp in lamps if lamp.spot] == [
        ("r 1", 10.0), ("r 2", 30.0), ("r m1", 190.0), ("r m2", 170.0)
    ]


def test_the_mirrored_half_of_a_row_shines_to_the_other_side() -> None:
    for facing, other in (("port", "starboard"), ("starboard", "port"), ("ahead", "ahead"), ("up", "up"), ("outward", "outward")):
        text = ("{name: r, part: board, along_mm: [[10, 50], [30, 50]], count: 1, colour: white, states: day, "
                f"facing: {facing}, mirror: {{part: board, axis_x_mm: 100}}}}")
        assert [lamp.facing for lamp in place_lamps(planned(board(rows=text)))] == [facing, other]


def test_size_follows_the_scale_both_ways() -> None:
    lamps = place_lamps(planned(board(
        "{name: a, part: board, at_mm: [20, 50], colour: white, states: day, size_mm: 300}\n"
        "{name: b, part: board, at_mm: [30, 50], colour: white, states: day, model_mm: 0.5}"
    )))
    assert (lamps[0].model_mm, lamps[1].subject_mm) == (3.0, 50.0)  # derived: 1:100


@pytest.mark.parametrize(("model_mm", "seen_as"), [(0.05, "point"), (1.0, "disc")])
def test_point_or_disc_at_the_viewing_distance(model_mm: float, seen_as: str) -> None:
    text = f"{{name: a, part: board, at_mm: [20, 50], colour: white, states: day, model_mm: {model_mm}}}"
    lamp = place_lamps(planned(board(text)))[0]
    assert lamp.seen_as == seen_as  # derived: one minute of arc at 400 mm is 0.116 mm
    assert lamp.visual_angle_arcmin == pytest.approx(model_mm / 400 * 3437.7468, rel=1e-4)


def test_other_versions_and_lamps_left_out_are_not_built() -> None:
    plan = planned(board(
        "{name: a, part: board, at_mm: [20, 50], colour: white, states: day, versions: [early]}\n"
        "{name: b, part: board, at_mm: [30, 50], colour: white, states: day, versions: [late]}\n"
        "{name: c, part: board, at_mm: [40, 50], colour: white, states: day, worth: left out}\n"
        "{name: d, part: board, at_mm: [50, 50], colour: white, states: day}",
        more="versions: [{name: early}, {name: late}]\nversion: late\n",
    ))
    assert [lamp.name for lamp in place_lamps(plan)] == ["b", "d"]


def test_dark_cabins_are_as_many_as_asked_and_never_move() -> None:
    text = "{name: r, part: board, along_mm: [[10, 50], [190, 50]], count: 20, colour: white, states: day, dark_share: 0.3}"
    first, second = (place_lamps(planned(board(rows=text))) for _ in range(2))
    assert sum(lamp.dark for lamp in first) == 6  # derived: 0.3 x 20
    assert first == second
    assert all(not lamp.states for lamp in first if lamp.dark)


def test_points_go_straight_on_past_the_end() -> None:
    assert points_along(((0.0, 0.0), (10.0, 0.0)), [5.0, 15.0]) == ((5.0, 0.0), (15.0, 0.0))


def test_colours_come_by_name_wavelength_and_temperature() -> None:
    assert colour_of("525 nm").dominant_nm == pytest.approx(525, abs=1)
    assert colour_of("3000 K").cct_k == pytest.approx(3000)
    assert colour_of("red").x > 0.6
