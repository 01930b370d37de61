"""The real Wright omega function, the closed form behind a junction in series with a resistor."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

UNDERFLOW = -700.0
"""Below this argument omega(z) = exp(z) to the last bit, and is under 1e-304."""


def wright_omega(z: float | Array) -> Array:
    """The w > 0 that solves w + ln w = z.

    Parameters
    ----------
    z : float or array
        Argument [-], any shape, any finite value.
    Returns
    -------
    array
        omega(z) [-], of the same shape, good to about 1e-15 of its value.
    Notes
    -----
    A start within some per cent, then two steps of a fourth-order correction.
    Source
    ------
    Corless and Jeffrey, The Wright omega function (2002); correction step of Fritsch, Shafer and
    Crowley (1973), CACM algorithm 443. From memory; checked against a general library.
    """
    z_in = np.asarray(z, dtype=np.float64)
    z_safe = np.maximum(z_in, UNDERFLOW)
    w = _corrected(z_safe, _corrected(z_safe, _start(z_safe)))
    if np.any(z_in < UNDERFLOW):
        w = np.where(z_in < UNDERFLOW, np.exp(np.minimum(z_in, 0.0)), w)
    return np.asarray(w)


def _start(z: Array) -> Array:
    low = np.exp(np.where(z > -2.0, np.minimum(2.0 * (z - 1.0) / 3.0, 0.0), z))
    return np.asarray(np.where(z > 1.0, z - np.log(np.maximum(z, 1.0)), low))


def _corrected(z: Array, w: Array) -> Array:
    residual = z - w - np.log(w)
    up = w + 1.0
    q = 2.0 * up * (up + (2.0 / 3.0) * residual)
    result: Any = w * (1.0 + (residual / up) * (q - residual) / (q - 2.0 * residual))
    return np.asarray(result)
