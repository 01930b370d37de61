"""Aircraft position and anti-collision lights against the published airworthiness rules.

Source: 14 CFR part 25 (Code of Federal Regulations, title 14), sections 25.1385, 25.1387 (dihedral angles), 25.1389
and 25.1391 (intensities), 25.1399 (riding light), 25.1401 (anti-collision light system).
"""

import pytest

from rushlight.stages.subject_lights import SubjectRequest, known_states, required_lights
from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import effective_intensity_cd


def lamps(state):
    return {lamp.light: lamp for lamp in required_lights(SubjectRequest(kind="aircraft", state=state)).lamps}


@pytest.mark.parametrize(
    ("light", "colour", "arc_deg", "from_deg", "to_deg"),
    [
        ("pos_left", "red", 110, 250, 360),  # source: 25.1387(b): L, 110 deg to the left of ahead
        ("pos_right", "green", 110, 0, 110),  # source: 25.1387(c): R
        ("pos_tail", "white", 140, 110, 250),  # source: 25.1387(d): A, 70 deg to right and left of aft
    ],
)
def test_dihedral_angles(light, colour, arc_deg, from_deg, to_deg):
    lamp = lamps("cruise")[light]
    assert (lamp.colour, lamp.arc_deg) == (colour, arc_deg)
    assert (lamp.bearing_from_deg, lamp.bearing_to_deg) == (from_deg, to_deg)


def test_the_three_sectors_close_the_circle():
    # derived: 110 + 110 + 140 = 360
    found = lamps("cruise")
    assert sum(found[light].arc_deg for light in ("pos_left", "pos_right", "pos_tail")) == 360


def test_position_light_intensities():
    found = lamps("cruise")
    assert found["pos_left"].intensity_cd == 40  # source: 25.1391, dihedral L, 0 to 10 deg
    assert found["pos_right"].intensity_cd == 40  # source: 25.1391, dihedral R, 0 to 10 deg
    assert found["pos_tail"].intensity_cd == 20  # source: 25.1391, dihedral A, 110 to 180 deg


@pytest.mark.parametrize("light", ["beacon", "strobe"])
def test_anti_collision_lights(light):
    lamp = lamps("cruise")[light]
    assert (lamp.rate_min_per_min, lamp.rate_max_per_min) == (40, 100)  # source: 25.1401(c)
    assert 40 <= parse_rhythm(lamp.rhythm).patterns_per_min <= 100  # source: 25.1401(c)
    assert set(lamp.colours) == {"red", "white"}  # source: 25.1401(d): aviation red or aviation white
    assert lamp.arc_deg == 360  # source: 25.1401(b), field of coverage around the airplane
    assert lamp.intensity_cd == 400  # source: 25.1401(f), 0 to 5 deg, effective candela


@pytest.mark.parametrize("text", ["strobe 1.2 s", "double strobe 1.2 s", "beacon 1.4 s"])
def test_usual_model_rhythms_stay_in_the_rate_band(text):
    assert 40 <= parse_rhythm(text).patterns_per_min <= 100  # source: 25.1401(c)


@pytest.mark.parametrize("seconds", [0.001, 0.05, 0.1, 0.2, 0.5])
def test_effective_intensity_of_one_square_flash(seconds):
    # source: 25.1401(e): I_e = integral(I dt) / (0.2 + (t2 - t1)); for a square flash I t / (0.2 + t)
    flash = parse_rhythm(f"flash 40/min on {seconds} s")
    assert effective_intensity_cd(flash, 1000.0) == pytest.approx(1000.0 * seconds / (0.2 + seconds))


def test_riding_light_shines_two_miles():
    riding = lamps("moored on water")["riding"]
    assert (riding.colour, riding.arc_deg, riding.range_nmi) == ("white", 360, 2.0)  # source: 25.1399(a)


def test_position_lights_are_on_wherever_the_aircraft_moves():
    # source: 14 CFR 91.209(a): sunset to sunrise
    for state in known_states("aircraft"):
        if state not in ("parked, unpowered", "moored on water"):
            assert {"pos_left", "pos_right", "pos_tail"} <= set(lamps(state)), state


def test_a_seaplane_under_way_on_the_water_adds_a_forward_white_light():
    # source: ICAO Annex 6 Part I Appendix 1: white, 110 deg to each side
    lamp = lamps("under way on water")["water_forward"]
    assert (lamp.arc_deg, lamp.bearing_from_deg, lamp.bearing_to_deg) == (220, 250, 110)
