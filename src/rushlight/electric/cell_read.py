"""Supplies read at the bench: a cell's inner resistance from two voltages, what of a power bank's charge is given."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.electric.supply import BANK_CELL_V, USB_V
from rushlight.errors import OutOfRange
from rushlight.units import Range

FINE_V = 2.0
"""Up to here a plain meter of 2000 counts reads whole millivolts, above it tens of them."""

DIGITS_V = (0.001, 0.01)
"""Last digit of such a meter in its 2 V and its 20 V range."""

LEAST_DIGITS = 5
"""A drop of fewer last digits drowns in them (project rule)."""


def inner_ohm_read(
    idle_v: Sequence[float], loaded_v: Sequence[float], *, current_a: float, off_share: float = 0.0
) -> Range:
    """A cell's inner resistance from its voltage without and with a known current.

    Parameters
    ----------
    idle_v, loaded_v : sequence of float
        What the meter showed without and with the load [V], one or more, above 0.
    current_a : float
        Current with the load [A], above 0.
    off_share : float
        How far the current may be off [-], 0 or more.
    Returns
    -------
    Range
        Resistance [ohm]; its ends hold every pair of readings, one last digit of each voltage and the current's error.
    Raises
    ------
    OutOfRange
        If the voltage does not fall, or by so little that the meter's digits decide it.
    Notes
    -----
    r = (V0 - V1) / I. One meter reads both voltages, so that its own scale hardly counts. Read some seconds after the
    load comes on; later what falls is the charge.
    Source
    ------
    Terminal voltage V = emf - I r of any textbook; IEC 61960-3 reads lithium cells so, between two currents
    (U1 - U2) / (I2 - I1) (from public descriptions of it).
    Examples
    --------
    >>> round(inner_ohm_read([12.0], [11.5], current_a=3.0).typical, 3)
    0.167
    """
    digit = DIGITS_V[max(idle_v) >= FINE_V]
    drop = math.fsum(idle_v) / len(idle_v) - math.fsum(loaded_v) / len(loaded_v)
    if drop < LEAST_DIGITS * digit * (1 - 1e-9):
        raise OutOfRange("a drop of", f"{drop:.3g} V",
                         f"{LEAST_DIGITS * digit:g} V or more under load: exchanged, or take a load of more mA")
    low = max(min(idle_v) - max(loaded_v) - 2 * digit, 0.1 * drop)
    high = max(idle_v) - min(loaded_v) + 2 * digit
    return Range(low * (1.0 - off_share), drop, high * (1.0 + off_share)).times(1.0 / current_a)


def bank_share_read(hours: Range, *, current_a: float, printed_mah: float) -> Range:
    """What of a power bank's printed charge comes out of its 5 V port, as energy.

    Parameters
    ----------
    hours : Range
        How long the full bank gave the current [h].
    current_a : float
        Load at 5 V [A], above 0.
    printed_mah : float
        Capacity printed on it, counted at its cells' 3.7 V [mAh].
    Returns
    -------
    Range
        Energy at the port over the printed energy [-]: what its cells hold and what its converter leaves of it.
    Source
    ------
    Energy W = U I t (definition).
    Examples
    --------
    >>> round(bank_share_read(Range.exactly(12.58), current_a=0.25, printed_mah=5000).typical, 3)
    0.85
    """
    return hours.times(USB_V * current_a / (printed_mah / 1000.0 * BANK_CELL_V))
