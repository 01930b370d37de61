"""ngspice (Debian package, release 39 or later) as the bench: an LED of a public library's model behind resistors.

Its operating point gives the volts that a meter would show; the law found from two resistors must foretell what ngspice
shows behind others. SciPy's least squares on the same points is the second judge of three points and more.
"""

import re
import subprocess

import numpy as np
import pytest
from scipy.optimize import least_squares

from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.electric.led_read import LedReading, law_of_readings

LEDS = {"red": (1e-22, 1.5, 6.0), "blue": (1e-18, 2.9, 8.0), "yellow": (3e-18, 2.05, 9.0)}
"""Saturation current, ideality, series resistance: the red of a public circuit solver's library (read in a public copy), the others made up near their colour; none is a row of led_laws.csv."""

OHMS = (150.0, 330.0, 560.0, 1000.0, 2200.0)


def shown(model, tmp_path):
    """Volts across LED and resistor by ngspice, by resistor, on 5 V."""
    sat, ideality, ohm = model
    deck = ["bench", f".model lamp d(is={sat} n={ideality} rs={ohm})", ".temp 27"]
    for n, value in enumerate(OHMS):
        deck += [f"v{n} s{n} 0 5", f"r{n} s{n} a{n} {value}", f"d{n} a{n} 0 lamp"]
    deck += [".control", "op", *(f"print v(a{n})" for n in range(len(OHMS))), "quit", ".endc", ".end"]
    path = tmp_path / "bench.cir"
    path.write_text("\n".join(deck) + "\n")
    text = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, timeout=60, check=False).stdout
    volts = [float(found) for found in re.findall(r"v\(a\d+\) = (\S+)", text)]
    assert len(volts) == len(OHMS), text
    return {ohm: LedReading(ohm, led_v, 5.0 - led_v) for ohm, led_v in zip(OHMS, volts, strict=True)}


@pytest.mark.parametrize("colour", LEDS)
def test_two_resistors_foretell_what_ngspice_shows_behind_others(colour, tmp_path):
    read = shown(LEDS[colour], tmp_path)
    found = law_of_readings([read[1000.0], read[330.0]], law_spread(colour))
    for ohm in OHMS:  # between the two better than the meter's last digit, beyond them within its error
        # source: ngspice in the same run
        off_v = 0.005 if 330 <= ohm <= 1000 else 0.03
        assert float(voltage_at_current(found.law, read[ohm].current_a)) == pytest.approx(read[ohm].led_v, abs=off_v)


def test_from_three_on_it_is_the_least_squares_of_scipy(tmp_path):
    read = list(shown(LEDS["yellow"], tmp_path).values())
    law = law_of_readings(read, law_spread("yellow")).law
    amps, volts = np.array([one.current_a for one in read]), np.array([one.led_v for one in read])
    # source: scipy.optimize.least_squares on v = a + b ln i + c i
    own = least_squares(lambda x: x[0] + x[1] * np.log(amps) + x[2] * amps - volts, [2.0, 0.05, 5.0], xtol=1e-14,
                        ftol=1e-14, x_scale=[1, 0.01, 1]).x
    assert (law.slope_v, law.series_ohm) == (pytest.approx(own[1], rel=1e-3), pytest.approx(own[2], rel=1e-3))
