"""Copper wire by gauge: diameter, resistance, current it may carry, current that melts it."""

from __future__ import annotations

from rushlight.errors import OutOfRange
from rushlight.tables import number, row_by, rows
from rushlight.units import MM_PER_INCH

COPPER_OHM_M = 1.7241e-8
"""Resistivity of annealed copper at 20 C (IEC 60028: 1/58 ohm mm2/m)."""

COPPER_PER_K = 0.00393
"""Temperature coefficient of its resistance at 20 C (IEC 60028)."""

CIRCULAR_MILS_PER_A = 700.0
"""Copper per ampere for wire in a bundle (common practice of transformer and chassis wiring tables)."""

PREECE_A = 80.0
"""Fusing current of copper, I = 80 d^1.5 with d in mm (Preece 1884, from memory)."""


def diameter_mm(gauge_awg: float) -> float:
    """Bare diameter of a wire gauge.

    Parameters
    ----------
    gauge_awg : float
        American wire gauge, -3 (0000) to 50.
    Returns
    -------
    float
        Diameter [mm].
    Raises
    ------
    OutOfRange
        If the gauge is out of range.
    Notes
    -----
    0.127 mm * 92^((36 - n) / 39).
    Source
    ------
    ASTM B258.
    Examples
    --------
    >>> round(diameter_mm(30), 4)
    0.2546
    """
    if not -3 <= gauge_awg <= 50:
        raise OutOfRange("gauge_awg", gauge_awg, "-3 to 50")
    return float(0.127 * 92.0 ** ((36.0 - gauge_awg) / 39.0))


def area_mm2(gauge_awg: float) -> float:
    """Cross-section of a wire gauge [mm2] (ASTM B258)."""
    return float(0.785398163397448 * diameter_mm(gauge_awg) ** 2)


def wire_ohm_per_m(gauge_awg: float, temp_c: float = 20.0) -> float:
    """Resistance of a metre of copper wire.

    Parameters
    ----------
    gauge_awg : float
        American wire gauge, -3 to 50.
    temp_c : float
        Temperature of the copper [C], -40 to 150.
    Returns
    -------
    float
        Resistance [ohm/m].
    Raises
    ------
    OutOfRange
        If the gauge or temperature is out of range.
    Notes
    -----
    Solid wire; stranded wire of the same gauge has about 2 % more.
    Source
    ------
    ASTM B258 for the area, IEC 60028 for copper.
    """
    if not -40 <= temp_c <= 150:
        raise OutOfRange("temp_c", temp_c, "-40 to 150 C")
    return COPPER_OHM_M * 1e6 / area_mm2(gauge_awg) * (1.0 + COPPER_PER_K * (temp_c - 20.0))


def bundled_a(gauge_awg: float) -> float:
    """Current to plan with for a wire in a loom.

    Parameters
    ----------
    gauge_awg : float
        American wire gauge, -3 to 50.
    Returns
    -------
    float
        Current [A].
    Raises
    ------
    OutOfRange
        If the gauge is out of range.
    Notes
    -----
    700 circular mils an ampere. No standard covers fine wire in a closed plastic hull.
    Source
    ------
    Common practice of transformer and chassis wiring tables.
    """
    return (diameter_mm(gauge_awg) / MM_PER_INCH * 1000.0) ** 2 / CIRCULAR_MILS_PER_A


def single_wire_a(gauge_awg: int) -> float:
    """Hard limit for a single wire in free air.

    Parameters
    ----------
    gauge_awg : int
        A gauge of `parts_wire_awg.csv` for which the handbooks give a figure (24 to 36, even).
    Returns
    -------
    float
        Current [A].
    Raises
    ------
    UnknownName
        If the table has no such gauge.
    OutOfRange
        If the table gives no current for it.
    Source
    ------
    `data/parts_wire_awg.csv`, handbook chassis wiring figures; 36 from memory.
    """
    found = number(row_by("parts_wire_awg", "awg", str(gauge_awg)), "rule_of_thumb_a")
    if found is None and gauge_awg == 36:
        return 0.21
    if found is None:
        raise OutOfRange("gauge_awg", gauge_awg, "a gauge with a handbook current, 24 to 36")
    return found


def fusing_a(diameter_mm: float) -> float:
    """Current that melts a copper wire in free air within some seconds.

    Parameters
    ----------
    diameter_mm : float
        Diameter [mm], 0.02 to 5.
    Returns
    -------
    float
        Current [A].
    Raises
    ------
    OutOfRange
        If the diameter is out of range.
    Notes
    -----
    80 d^1.5. For telling danger, never for rating: insulation fails far earlier.
    Source
    ------
    Preece, Proc. Royal Society (1884), from memory.
    """
    if not 0.02 <= diameter_mm <= 5:
        raise OutOfRange("diameter_mm", diameter_mm, "0.02 to 5 mm")
    return float(PREECE_A * diameter_mm**1.5)


def thinnest_for(current_a: float, gauges_awg: tuple[int, ...] | None = None) -> int:
    """The thinnest tabled gauge that carries a current in a loom.

    Parameters
    ----------
    current_a : float
        Current [A], 0 or more.
    gauges_awg : tuple of int, optional
        Gauges at hand; the table's when left out.
    Returns
    -------
    int
        American wire gauge.
    Raises
    ------
    OutOfRange
        If no gauge carries the current.
    Source
    ------
    `bundled_a`.
    """
    at_hand = gauges_awg or tuple(int(row["awg"]) for row in rows("parts_wire_awg"))
    able = [gauge for gauge in at_hand if bundled_a(gauge) >= current_a]
    if current_a < 0 or not able:
        raise OutOfRange("current_a", current_a, f"0 to {max(bundled_a(gauge) for gauge in at_hand):.2f} A")
    return max(able)
