"""Centres of circles as short text, for the packaged table: base 64 of whole numbers of five bytes."""

from __future__ import annotations

import base64

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HALF_WIDTH = 8.0
"""Coordinates lie between minus this and this, in diameters of a circle."""

BYTES = 5
"""Bytes of one coordinate, most significant first: steps of 1.5e-11 of a diameter."""

STEPS = 256**BYTES / (2 * HALF_WIDTH)


def text_of(centres: Floats) -> str:
    """Text for centres, shape (n, 2), in diameters."""
    numbers = np.round((centres + HALF_WIDTH) * STEPS).astype(np.int64)
    if numbers.min() < 0 or numbers.max() >= 256**BYTES:
        raise ValueError("centres: a coordinate lies outside -8 to 8 diameters")
    shifts = 8 * np.arange(BYTES - 1, -1, -1)
    return base64.b64encode(((numbers[..., None] >> shifts) & 255).astype(np.uint8).tobytes()).decode("ascii")


def centres_of(text: str) -> Floats:
    """Centres, shape (n, 2), in diameters, from their text."""
    digits = np.frombuffer(base64.b64decode(text, validate=True), dtype=np.uint8).reshape(-1, 2, BYTES)
    weights = 256.0 ** np.arange(BYTES - 1, -1, -1)
    return np.asarray(digits @ weights / STEPS - HALF_WIDTH, dtype=np.float64)
