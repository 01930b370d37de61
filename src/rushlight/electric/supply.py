"""Supplies that are not cells: USB power banks that sleep, and plug-in adapters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rushlight.errors import OutOfRange
from rushlight.tables import row_by
from rushlight.units import Range

USB_V = 5.0
"""Nominal voltage of a USB port; 4.75 to 5.25 V by the USB 2.0 specification (from memory)."""

BANK_CELL_V = 3.7
"""Voltage at which the capacity printed on a power bank is counted: that of its lithium cells."""

BANK_SPREAD = Range(0.75, 1.0, 1.25)
"""What one bank gives over another of the same print (project rule)."""

USB_INNER_OHM = Range(0.1, 0.2, 0.4)
"""Port, plug and lead of a USB supply (from memory, typical)."""

ADAPTER_INNER_OHM = Range(0.1, 0.2, 0.3)
"""A regulated 12 V adapter with its lead (from memory, typical)."""

PLUG_DIGITS_V = (0.01, 0.1)
"""Last digit of a plain meter of 2000 counts in its 20 V range, and over it."""

UNREGULATED_RISE = Range(1.0, 1.3, 1.4)
"""How far an old unregulated adapter stands above its nominal voltage at light load (from memory)."""


@dataclass(frozen=True, slots=True)
class BankVerdict:
    """Whether a power bank stays awake: 'awake', 'doubtful' or 'sleeps'; the bleed that would keep it."""

    verdict: str
    threshold_a: Range
    time_out_s: Range
    bleed_ohm: float
    bleed_w: float
    bleed_time_factor: float


def bank_verdict(current_a: float, threshold_a: Range | None = None) -> BankVerdict:
    """Whether a USB power bank stays awake at a load, and what a bleed resistor would cost.

    Parameters
    ----------
    current_a : float
        Load at 5 V [A], 0 or more.
    threshold_a : Range, optional
        The load under which it switches off [A], as it was read; without it that of any bank.
    Returns
    -------
    BankVerdict
        'awake' at the top threshold or above, 'sleeps' below the lowest, 'doubtful' between; the
        resistor [ohm] across 5 V that lifts the load to the top threshold, its power [W], and the
        factor by which the run time shrinks (1 and infinite ohm when none is needed).
    Raises
    ------
    OutOfRange
        If the current is negative.
    Source
    ------
    `data/power_bank.csv`.
    """
    if current_a < 0:
        raise OutOfRange("current_a", current_a, "0 A or more")
    threshold, time_out = threshold_a or bank_range("sleep", "a"), bank_range("time_out", "s")
    missing = max(0.0, threshold.high - current_a)
    verdict = "awake" if missing == 0 else "sleeps" if current_a < threshold.low else "doubtful"
    ohm = USB_V / missing if missing else float("inf")
    factor = current_a / (current_a + missing) if missing else 1.0
    return BankVerdict(verdict, threshold, time_out, ohm, USB_V * missing, factor)


def lithium_board(key: str) -> Range:
    """What a lithium cell's protection board does: 'cut_v' a cell when spent [V], 'trip_a' when overloaded [A]."""
    row = row_by("lithium_board", "key", key)
    return Range(float(row["low"]), float(row["typical"]), float(row["high"]))


def bank_range(stem: str, suffix: str) -> Range:
    """A tabled low, typical and high value of power banks."""
    return Range(*(_bank_value(f"{stem}_{end}_{suffix}") for end in ("low", "typical", "high")))


def _bank_value(key: str) -> float:
    return float(row_by("power_bank", "key", key)["value"])


def usual_bank_share() -> Range:
    """What of a bank's printed energy comes out of its port, where it was not read [-]; source: power_bank.csv."""
    return BANK_SPREAD.times(_bank_value("converter_efficiency"))


def bank_run_time_h(capacity_mah: float, current_a: float, share: Range | None = None) -> Range:
    """How long a power bank feeds a load at its 5 V port.

    Parameters
    ----------
    capacity_mah : float
        Capacity printed on the bank, counted at its cells' 3.7 V [mAh], 100 to 100,000.
    current_a : float
        Load at 5 V [A], 1e-3 to 5.
    share : Range, optional
        What of the printed energy comes out of the port [-], as it was read; without it `usual_bank_share`.
    Returns
    -------
    Range
        Hours; 25 % either way where it was not read.
    Raises
    ------
    OutOfRange
        If an argument is out of range.
    Notes
    -----
    Capacity * 3.7 V * share / (5 V * I).
    Source
    ------
    Energy balance; efficiency of `data/power_bank.csv`.
    """
    if not 100 <= capacity_mah <= 1e5 or not 1e-3 <= current_a <= 5:
        raise OutOfRange("capacity_mah, current_a", (capacity_mah, current_a), "100 to 1e5 mAh and 1 mA to 5 A")
    printed_h = capacity_mah / 1000 * BANK_CELL_V / (USB_V * current_a)
    return (share or usual_bank_share()).times(printed_h)


def fall_ohm_read(idle_v: Sequence[float], loaded_v: Sequence[float], current_a: float) -> Range:
    """A unit's inner resistance from its volts with nothing on it and with a known current.

    Parameters
    ----------
    idle_v, loaded_v : sequence of float
        What the meter showed without and with the load [V], one or more.
    current_a : float
        Current with the load [A], above 0.
    Returns
    -------
    Range
        Resistance [ohm], 0 or more; its ends hold one last digit of each voltage. A unit that holds its volts has a
        low end of 0.
    Raises
    ------
    OutOfRange
        If the current is not above 0, or the volts rise by more than these digits.
    Notes
    -----
    r = (V0 - V1) / I. One meter reads both, so that its own scale hardly counts.
    Source
    ------
    Terminal voltage V = emf - I r of any textbook.
    """
    if current_a <= 0:
        raise OutOfRange("current_a", current_a, "above 0")
    fall_v = math.fsum(idle_v) / len(idle_v) - math.fsum(loaded_v) / len(loaded_v)
    off_v = 2 * PLUG_DIGITS_V[max(idle_v) >= 20.0]
    if fall_v < -off_v - 1e-9:
        raise OutOfRange("a fall of", f"{fall_v:.3g} V", "volts that fall under load: exchanged, perhaps")
    least_v, most_v = max(max(fall_v, 0.0) - off_v, 0.0), max(fall_v, 0.0) + off_v
    return Range(least_v, max(fall_v, 0.0), most_v).times(1.0 / current_a)


def adapter_emf_v(nominal_v: float, *, regulated: bool = True) -> Range:
    """Voltage of a plug-in adapter without load.

    Parameters
    ----------
    nominal_v : float
        Printed voltage [V], 3 to 24.
    regulated : bool
        False for an old transformer adapter; a meter reading is then needed before designing.
    Returns
    -------
    Range
        Volts; 5 % either way when regulated.
    Raises
    ------
    OutOfRange
        If the voltage is out of range.
    Source
    ------
    From memory, typical.
    """
    if not 3 <= nominal_v <= 24:
        raise OutOfRange("nominal_v", nominal_v, "3 to 24 V")
    if regulated:
        return Range.spread(nominal_v, 0.95, 1.05)
    return Range.exactly(nominal_v).times(UNREGULATED_RISE)
