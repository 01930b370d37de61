"""Flash rates of vehicle lamps against the published regulations.

Source: UN Regulation No. 6 / No. 48 paragraph 6.5.9 (direction indicators flash 90 +/- 30 times a minute), No. 48
paragraph 6.6 (hazard warning alike), FMVSS 108 (60 to 120 a minute);
49 CFR 221.14 (rear marker: once every 1.3 to 0.7 s).
"""

import pytest

from rushlight.stages.subject_lights import SubjectRequest, required_lights
from rushlight.timing.character import parse_rhythm


def lamp(kind, state, light):
    lamps = required_lights(SubjectRequest(kind=kind, state=state)).lamps
    return next(lamp for lamp in lamps if lamp.light == light)


@pytest.mark.parametrize(("state", "light"), [("turning at night", "indicator"), ("broken down", "hazard")])
def test_indicators_flash_60_to_120_times_a_minute(state, light):
    found = lamp("road", state, light)
    assert (found.rate_min_per_min, found.rate_max_per_min) == (60, 120)  # source: R6, R48 6.5.9
    assert parse_rhythm(found.rhythm).rate_per_min == pytest.approx(90)  # source: the middle, 90 +/- 30
    assert found.colour == "amber"  # source: R48 6.5


def test_one_side_turns_and_all_warn():
    turning, warning = lamp("road", "turning at night", "indicator"), lamp("road", "broken down", "hazard")
    assert turning.where.startswith("left side")
    assert warning.count == 2 * turning.count  # derived: both sides


def test_rear_marker_rate():
    found = lamp("rail", "end of train (USA)", "rear_marker")
    assert found.rate_min_per_min == pytest.approx(60 / 1.3, abs=0.01)  # source: 49 CFR 221.14, once every 1.3 s
    assert found.rate_max_per_min == pytest.approx(60 / 0.7, abs=0.01)  # source: once every 0.7 s
    assert found.rate_min_per_min <= parse_rhythm(found.rhythm).rate_per_min <= found.rate_max_per_min
