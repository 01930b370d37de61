"""Rhythm and colour of buoyage marks against the published system.

Source: IALA Maritime Buoyage System (IALA Recommendation R1001; printed in IHO Chart 1 section Q and in national
buoyage leaflets), sections on lateral, cardinal, isolated danger, safe water, special and emergency wreck marks.
"""

import pytest

from rushlight.stages.subject_lights import SubjectRequest, required_lights
from rushlight.timing.character import obeys_class, parse_rhythm
from rushlight.timing.rhythm import lit_runs_s


def light(mark, region="A"):
    (lamp,) = required_lights(SubjectRequest(kind="sea mark", state=mark, region=region)).lamps
    return lamp


def rhythms(mark, region="A"):
    return [parse_rhythm(text) for text in light(mark, region).rhythm_choices]


@pytest.mark.parametrize(
    ("mark", "choices"),
    [
        # flashes in the group like a clock's face: 3, 6, 9; (count, period s)
        ("north cardinal", {(1, 1.0), (1, 0.5)}),  # source: IALA MBS: Q or VQ, uninterrupted
        ("east cardinal", {(3, 10.0), (3, 5.0)}),  # source: IALA MBS: Q(3) 10 s or VQ(3) 5 s
        ("south cardinal", {(7, 15.0), (7, 10.0)}),  # source: IALA MBS: Q(6)+LFl 15 s or VQ(6)+LFl 10 s
        ("west cardinal", {(9, 15.0), (9, 10.0)}),  # source: IALA MBS: Q(9) 15 s or VQ(9) 10 s
        ("isolated danger", {(2, 10.0)}),  # source: IALA MBS: Fl(2); period usual, from memory
    ],
)
def test_white_marks_count_their_flashes(mark, choices):
    found = rhythms(mark)
    assert light(mark).colour == "white"
    assert {(rhythm.flashes, rhythm.period_s) for rhythm in found} == choices
    assert all(obeys_class(rhythm) for rhythm in found)


def test_the_long_flash_of_a_south_cardinal_lasts_two_seconds():
    for rhythm in rhythms("south cardinal"):
        assert max(lit_runs_s(rhythm, True)) >= 2.0  # source: IALA MBS: long flash of not less than 2 s


@pytest.mark.parametrize(
    ("mark", "region", "colour"),
    [
        ("lateral port", "A", "red"), ("lateral starboard", "A", "green"),  # source: IALA MBS region A
        ("lateral port", "B", "green"), ("lateral starboard", "B", "red"),  # source: IALA MBS region B
        ("preferred channel to starboard", "A", "red"), ("preferred channel to port", "A", "green"),  # source: region A
        ("preferred channel to starboard", "B", "green"), ("preferred channel to port", "B", "red"),  # source: region B
    ],
)
def test_lateral_colours_by_region(mark, region, colour):
    assert light(mark, region).colour == colour
    assert all(rhythm.colours == (colour,) for rhythm in rhythms(mark, region))


@pytest.mark.parametrize("region", ["A", "B"])
def test_composite_two_and_one_belongs_to_the_preferred_channel_alone(region):
    # source: IALA MBS: lateral marks any rhythm other than composite group flashing (2+1)
    for side in ("port", "starboard"):
        assert {rhythm.groups for rhythm in rhythms(f"preferred channel to {side}", region)} == {(2, 1)}
        assert all(rhythm.groups != (2, 1) for rhythm in rhythms(f"lateral {side}", region))


def test_safe_water_is_white_and_of_four_classes():
    # source: IALA MBS: isophase, occulting, one long flash every 10 s, or Morse A
    assert {rhythm.kind for rhythm in rhythms("safe water")} == {"Iso", "Oc", "LFl", "Mo(x)"}
    (long,) = [rhythm for rhythm in rhythms("safe water") if rhythm.kind == "LFl"]
    assert long.period_s == 10.0


def test_special_marks_are_yellow_and_keep_off_the_white_marks_rhythms():
    # source: IALA MBS: any rhythm not used for cardinal, isolated danger and safe water marks
    used = {rhythm.kind for mark in ("north cardinal", "east cardinal", "safe water") for rhythm in rhythms(mark)}
    assert light("special").colour == "yellow"
    assert all(rhythm.kind not in used and rhythm.groups != (2,) for rhythm in rhythms("special"))


def test_emergency_wreck_mark_alternates_blue_and_yellow():
    # source: IALA MBS: blue 1.0 s, 0.5 s dark, yellow 1.0 s, 0.5 s dark, period 3 s
    (rhythm,) = rhythms("emergency wreck")
    steps = [(step.colour, step.seconds) for step in rhythm.steps]
    assert steps == [("blue", pytest.approx(1.0, abs=1e-6)), (None, pytest.approx(0.5, abs=1e-6)),
                     ("yellow", pytest.approx(1.0, abs=1e-6)), (None, pytest.approx(0.5, abs=1e-6))]
