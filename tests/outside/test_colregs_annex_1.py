"""Arcs, spacings, heights and intensities of ships' lights against the published annex.

Source: COLREGs 1972, Rule 21 (definitions) and Annex I (positioning and technical details of lights and shapes);
also printed as 33 CFR 83.21 and part 84.
"""

import pytest

from rushlight.geometry.ship_light_places import (
    fishing_pair_height_m,
    forward_masthead_from_stem_m,
    forward_masthead_height_m,
    lights_between_ends,
    masthead_pair_distance_m,
    sidelight_height_m,
    vertical_spacing_m,
)
from rushlight.optics.visible_range import intensity_for_range_cd
from rushlight.stages.subject_lights import SubjectRequest, required_lights


def rules(state, light, **facts):
    answer = required_lights(SubjectRequest(kind="ship", state=state, **facts))
    lamp = next(lamp for lamp in answer.lamps if lamp.light == light)
    return {rule.key: (rule.minimum, rule.maximum) for rule in lamp.placement}


@pytest.mark.parametrize(
    ("light", "arc_deg", "from_deg", "to_deg"),
    [
        ("masthead", 225.0, 247.5, 112.5),  # source: Rule 21(a): right ahead to 22.5 deg abaft the beam each side
        ("side_port", 112.5, 247.5, 360.0),  # source: Rule 21(b)
        ("side_starboard", 112.5, 0.0, 112.5),  # source: Rule 21(b)
        ("stern", 135.0, 112.5, 247.5),  # source: Rule 21(c): 67.5 deg from right aft each side
        ("towing", 135.0, 112.5, 247.5),  # source: Rule 21(d)
    ],
)
def test_sectors(light, arc_deg, from_deg, to_deg):
    asked = SubjectRequest(kind="ship", state="towing", length_m=32, tow_length_m=100)
    lamp = next(lamp for lamp in required_lights(asked).lamps if lamp.light == light)
    assert (lamp.arc_deg, lamp.bearing_from_deg, lamp.bearing_to_deg) == (arc_deg, from_deg, to_deg)
    assert (to_deg - from_deg) % 360 == arc_deg  # derived: the bearings enclose the arc


def test_masthead_sidelights_and_stern_close_the_circle():
    # derived: 112.5 + 112.5 + 135 = 360 and 225 + 135 = 360
    lamps = required_lights(SubjectRequest(kind="ship", state="under way", length_m=30)).lamps
    arcs = {lamp.light: lamp.arc_deg for lamp in lamps}
    assert arcs["side_port"] + arcs["side_starboard"] + arcs["stern"] == 360
    assert arcs["masthead"] + arcs["stern"] == 360


@pytest.mark.parametrize(
    ("breadth_m", "height_m"),
    [(4.0, 6.0), (6.0, 6.0), (9.0, 9.0), (12.0, 12.0), (30.0, 12.0)],  # source: Annex I 2(a)(i)
)
def test_forward_masthead_height(breadth_m, height_m):
    assert forward_masthead_height_m(breadth_m) == height_m
    found = rules("under way", "masthead", length_m=80, breadth_m=breadth_m)
    assert found["mast_fwd_height"] == (height_m, None)


@pytest.mark.parametrize(
    ("length_m", "apart_m", "from_stem_m"),
    [(60.0, 30.0, 15.0), (200.0, 100.0, 50.0), (300.0, 100.0, 75.0)],  # source: Annex I 3(a)
)
def test_two_masthead_lights_along_the_ship(length_m, apart_m, from_stem_m):
    assert masthead_pair_distance_m(length_m) == apart_m
    assert forward_masthead_from_stem_m(length_m) == from_stem_m
    assert rules("under way", "masthead_after", length_m=length_m)["mast_pair_length"] == (apart_m, None)
    assert rules("under way", "masthead", length_m=length_m)["mast_fwd_from_stem"] == (None, from_stem_m)


def test_after_masthead_light_is_4_5_m_above_the_forward_one():
    # source: Annex I 2(a)(ii)
    assert rules("under way", "masthead_after", length_m=80)["mast_pair_gap"] == (4.5, None)


@pytest.mark.parametrize(("length_m", "spacing_m"), [(20.0, 2.0), (90.0, 2.0), (19.9, 1.0), (8.0, 1.0)])
def test_lights_in_a_vertical_line(length_m, spacing_m):
    # source: Annex I 2(i)(i) and (ii)
    assert vertical_spacing_m(length_m) == spacing_m
    found = rules("towing", "masthead", length_m=length_m, tow_length_m=100)
    key = "vertical_gap_large" if length_m >= 20 else "vertical_gap_small"
    assert found[key] == (spacing_m, None)


def test_heights_that_hang_on_another_light():
    assert sidelight_height_m(8.0) == 6.0  # source: Annex I 2(g), three quarters
    assert fishing_pair_height_m(2.0) == 4.0  # source: Annex I 2(j), not less than twice the spacing
    assert rules("fishing", "allround_white", length_m=25)["fishing_pair_height"] == (4.0, None)  # derived: 2 x 2 m


def test_anchor_lights():
    found = rules("at anchor", "allround_white", length_m=80)
    assert found["anchor_pair_gap"] == (4.5, None)  # source: Annex I 2(k)
    assert found["anchor_fwd_height"] == (6.0, None)  # source: Annex I 2(k), 50 m and over
    assert "anchor_pair_gap" not in rules("at anchor", "allround_white", length_m=30)  # source: one light only, 30(b)


def test_masthead_height_of_the_middle_and_the_small():
    assert rules("under way", "masthead", length_m=15)["mast_mid_height"] == (2.5, None)  # source: Annex I 2(c)
    assert rules("under way", "masthead", length_m=9)["mast_small_above_side"] == (1.0, None)  # source: Annex I 2(d)


def test_sidelight_screens_from_20_m():
    # source: Annex I 5
    assert "side_screen" in rules("under way", "side_port", length_m=20)
    assert "side_screen" not in rules("under way", "side_port", length_m=19)


@pytest.mark.parametrize(
    ("range_nmi", "printed_cd", "half_unit"),
    [(1, 0.9, 0.05), (2, 4.3, 0.05), (3, 12, 0.5), (4, 27, 0.5), (5, 52, 0.5), (6, 94, 0.5)],  # source: Annex I 8(b)
)
def test_intensity_table_follows_the_formula(range_nmi, printed_cd, half_unit):
    assert intensity_for_range_cd(range_nmi) == pytest.approx(printed_cd, abs=half_unit)


def test_each_lamp_carries_the_printed_intensity():
    lamps = required_lights(SubjectRequest(kind="ship", state="under way", length_m=30)).lamps
    intensities = {lamp.light: lamp.intensity_cd for lamp in lamps}
    assert intensities["masthead"] == 52  # source: Annex I 8(b), 5 nmi
    assert intensities["stern"] == 4.3  # source: Annex I 8(b), 2 nmi


def test_lights_along_a_long_tow():
    # source: Rule 24(g)(iii): the distance between the lights shall not exceed 100 m
    assert [lights_between_ends(length_m, 100.0) for length_m in (99, 100, 101, 250, 300)] == [0, 0, 1, 2, 2]
