"""SciPy (1.14 or later), scipy.special.wrightomega: Lawrence, Corless and Jeffrey, Algorithm 917: Complex
double-precision evaluation of the Wright omega function, ACM TOMS 38 (2012) 20.
"""

import numpy as np
from scipy.special import wrightomega

from rushlight.electric.omega import wright_omega


def test_agrees_to_1e_12_over_the_whole_range():
    z = np.concatenate([
        np.linspace(-745, 745, 20001), np.linspace(-4, 4, 20001), np.logspace(2, 15, 500), -np.logspace(-12, 2, 500),
    ])
    ours, theirs = wright_omega(z), wrightomega(z)
    # source: SciPy, computed in the same run
    whole = theirs > 1e-300
    assert np.max(np.abs(ours[whole] / theirs[whole] - 1)) < 1e-12
    assert np.max(np.abs(ours[~whole] - theirs[~whole])) < 1e-300
