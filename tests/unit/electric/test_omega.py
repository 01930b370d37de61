"""The real Wright omega function: what always holds of it."""

import numpy as np

from rushlight.electric.omega import wright_omega


def test_omega_solves_its_equation_over_the_whole_range():
    z = np.concatenate([np.linspace(-690, 700, 20001), np.linspace(-3, 3, 2001), np.logspace(1, 12, 200)])
    w = wright_omega(z)
    # derived: w + ln w = z is the definition
    assert np.all(np.abs(w + np.log(w) - z) <= 1e-12 * np.maximum(1.0, np.abs(z)))


def test_omega_rises_and_stays_positive_and_meets_its_known_points():
    w = wright_omega(np.linspace(-700, 700, 5001))
    assert np.all(w > 0) and np.all(np.diff(w) > 0)
    # derived: omega(1) = 1 and omega(1 + e) = e, by putting w = 1 and w = e into w + ln w
    assert np.allclose(wright_omega(np.array([1.0, 1.0 + np.e])), [1.0, np.e], rtol=1e-15)


def test_omega_far_below_is_the_exponential_down_to_nothing():
    z = np.array([-720.0, -5000.0])
    assert np.array_equal(wright_omega(z), np.exp(z))
