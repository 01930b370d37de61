"""Blue light from a bare lamp: the weighted irradiance at the eye, and the limits of the risk groups."""

from __future__ import annotations

from rushlight.tables import number, rows
from rushlight.units import checked

LOOKED_AT_MM = 200.0
"""Distance at which lamps are judged (IEC 62471, from memory)."""

EXEMPT_W_PER_M2 = 0.01
"""Exempt group, small source: a look of 10,000 s (IEC 62471, from memory)."""

LOW_RISK_W_PER_M2 = 1.0
"""Low-risk group, small source: a look of 100 s (IEC 62471, from memory)."""


def blue_w_per_lm(cct_k: float | None, dominant_nm: float | None) -> float:
    """Blue-weighted watts in a lumen of the nearest light of the table.

    Parameters
    ----------
    cct_k : float or None
        Colour temperature of a white lamp [K], more than 0.
    dominant_nm : float or None
        Dominant wavelength of a coloured lamp [nm], more than 0; a white lamp goes by its colour temperature.
    Returns
    -------
    float
        Watts a lumen [W/lm]; neutral white where nothing is known of the colour.
    Raises
    ------
    OutOfRange
        If a number is not above 0.
    Source
    ------
    blue_hazard.csv, row by row.
    """
    column, value = ("dominant_nm", dominant_nm) if cct_k is None and dominant_nm else ("cct_k", cct_k or 4000.0)
    checked(column, float(value or 0.0), 0.0, above=True)
    known = [(at, row) for row in rows("blue_hazard") if (at := number(row, column)) is not None]
    _, nearest = min(known, key=lambda pair: abs(pair[0] - float(value or 0.0)))
    return float(nearest["blue_w_per_lm"])


def intensity_limit_cd(watts_per_lm: float, *, limit_w_per_m2: float = LOW_RISK_W_PER_M2) -> float:
    """Intensity of a small bare lamp at which its blue light reaches a limit at 200 mm.

    Parameters
    ----------
    watts_per_lm : float
        Blue-weighted watts in a lumen [W/lm], more than 0.
    limit_w_per_m2 : float
        Limit of the weighted irradiance [W/m2], more than 0.
    Returns
    -------
    float
        Intensity [cd]: 40 cd for cool white and the low-risk group.
    Raises
    ------
    OutOfRange
        If a number is not above 0.
    Notes
    -----
    I = E d^2 with E = limit / (watts a lumen); a source of a few mm at 200 mm is small (under 0.011 rad).
    Source
    ------
    IEC 62471, small-source limits (from memory); inverse square law.
    """
    checked("watts a lumen", watts_per_lm, 0.0, above=True)
    checked("limit (W/m2)", limit_w_per_m2, 0.0, above=True)
    return limit_w_per_m2 / watts_per_lm * (LOOKED_AT_MM / 1000.0) ** 2
