"""The colour code of resistors and the series of their values, as data for the pages that read bands."""

from __future__ import annotations

from typing import Any

from rushlight.electric.resistor import SERIES_SIZES, series_values
from rushlight.tables import number, rows


def band_code() -> dict[str, Any]:
    """`colours`: each with its digit, power of ten and tolerance, null where it has none; `series`: each name, the
    coarsest first, with the values of a decade, 100 to 999.

    Source
    ------
    IEC 60062, `data/resistor_bands.csv`; IEC 60063 (from memory).
    """
    return {
        "colours": [[row["colour"], *(number(row, key) for key in ("digit", "power_of_ten", "tolerance"))]
                    for row in rows("resistor_bands")],
        "series": [[f"E{steps}", [value * 10 if value < 100 else value for value in series_values(steps)]]
                   for steps in SERIES_SIZES],
    }
