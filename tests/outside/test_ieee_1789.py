"""Flicker limits of PWM against the published recommended practice.

Source: IEEE Std 1789-2015, Recommended Practices for Modulating Current in High-Brightness LEDs, clause 8.1.1 (read in
a public copy): low risk 0.025 f below 90 Hz, 0.08 f from 90 to 1250 Hz, none above; no effect 0.01 f below
90 Hz, 0.0333 f to 3000 Hz, none above. Modulation in percent, f in Hz.
"""

import pytest

from rushlight.timing.dimming import flicker_grade, lowest_pwm_hz, modulation_limit_percent, modulation_percent


@pytest.mark.parametrize(
    ("frequency_hz", "low_risk", "no_effect"),
    [
        (60, 1.5, 0.6),  # source: 0.025 x 60, 0.01 x 60
        (100, 8.0, 3.33),  # source: 0.08 x 100, 0.0333 x 100
        (120, 9.6, 3.996),  # source: 0.08 x 120; often quoted as about 10 %
        (500, 40.0, 16.65),
        (1000, 80.0, 33.3),
        (1250, 100.0, 41.625),  # source: no low-risk limit from 1250 Hz
        (3000, 100.0, 100.0),  # source: no limit from 3000 Hz
        (20000, 100.0, 100.0),
    ],
)
def test_limits(frequency_hz, low_risk, no_effect):
    assert modulation_limit_percent(frequency_hz) == pytest.approx(low_risk)
    assert modulation_limit_percent(frequency_hz, level="no effect") == pytest.approx(no_effect)


def test_full_on_off_pwm():
    assert modulation_percent(1.0, 0.0) == 100.0  # source: definition of percent flicker
    assert lowest_pwm_hz() == pytest.approx(1250.0)  # derived: 0.08 f = 100 %
    assert lowest_pwm_hz(level="no effect") == pytest.approx(3000.0)  # source: limit ends at 3000 Hz


@pytest.mark.parametrize(
    ("frequency_hz", "grade"), [(490, "neither"), (976.5, "neither"), (1300, "low risk"), (4000, "no effect")]
)
def test_grades_of_on_off_dimming(frequency_hz, grade):
    assert flicker_grade(frequency_hz) == grade  # derived: against the limits above
