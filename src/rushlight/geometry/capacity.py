"""How many fibres of one size fit before the face of an LED."""

from __future__ import annotations

import math
from functools import cache

from rushlight.errors import OutOfRange
from rushlight.tables import rows

LOOSE_BULK = 0.83
"""Share of a wide bundle's circle that fibres fill, beyond the table (best known: 0.813 at 61, 0.836 at 200)."""

HAND_MADE = 1.05
"""Hand-made over ideal diameter of a bundle, middle of the range (packing.md section 4: a judgement)."""


@cache
def _ratios() -> tuple[float, ...]:
    return tuple(float(row["enclosing_over_circle"]) for row in rows("packing_best_known"))


def equal_bundle_ratio(count: int) -> float:
    """Diameter of the best known bundle of equal fibres over the fibre's own.

    Parameters
    ----------
    count : int
        Number of fibres, 1 or more.
    Returns
    -------
    float
        Ratio [-]; beyond the table's 200 from a share of 0.83.
    Raises
    ------
    OutOfRange
        If there is no fibre.
    Source
    ------
    packing_best_known.csv.
    """
    if count < 1:
        raise OutOfRange("number of fibres", count, "1 or more")
    table = _ratios()
    return table[count - 1] if count <= len(table) else math.sqrt(count / LOOSE_BULK)


@cache
def fibres_that_fit(face_mm: float, fibre_mm: float, *, looseness: float = HAND_MADE, most: int = 400) -> int:
    """The most fibres whose hand-made bundle is not wider than a face; at least 1.

    Parameters
    ----------
    face_mm, fibre_mm : float
        Width of the face and of one fibre [mm], above 0.
    looseness : float
        Hand-made over ideal diameter [-], 1 or more.
    most : int
        Where to stop.
    Returns
    -------
    int
        Number of fibres.
    Raises
    ------
    OutOfRange
        If a width is not above 0.
    Source
    ------
    packing_best_known.csv; hand-made bundles are looser (a judgement, see docs/physics.md).
    """
    if face_mm <= 0 or fibre_mm <= 0:
        raise OutOfRange("width (mm)", min(face_mm, fibre_mm), "above 0")
    fitting = [n for n in range(1, most + 1) if equal_bundle_ratio(n) * fibre_mm * looseness <= face_mm]
    return max(fitting, default=1)
