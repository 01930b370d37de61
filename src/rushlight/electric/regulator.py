"""Law of a two-terminal constant-current regulator: a linear LED regulator, or a current-regulator diode."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rushlight.electric.omega import Array, wright_omega
from rushlight.errors import OutOfRange

LAW_V = 7.5
"""Voltage across a part at which its nominal current is stated (public data sheets of linear LED regulators)."""

BRIDGED_OHM = 1e-3
"""What a bridged regulator still drops (order of magnitude)."""


@dataclass(frozen=True, slots=True)
class RegulatorLaw:
    """i = I0 (1 - exp(-v / Vk)) + G v, from anode to cathode; backwards it passes current like a diode.

    plateau_a: I0 [A]; knee_v: Vk [V]; slope_siemens: G, the slope left above the knee [S].
    """

    plateau_a: float
    knee_v: float
    slope_siemens: float

    def times(self, factor: float) -> RegulatorLaw:
        """The law with all its current multiplied: several side by side, or one that is warm."""
        return RegulatorLaw(self.plateau_a * factor, self.knee_v, self.slope_siemens * factor)

    def __post_init__(self) -> None:
        if not 1e-6 <= self.plateau_a <= 10:
            raise OutOfRange("plateau_a", self.plateau_a, "1e-6 to 10 A")
        if not 0.01 <= self.knee_v <= 50:
            raise OutOfRange("knee_v", self.knee_v, "0.01 to 50 V")
        if not 1e-9 <= self.slope_siemens <= 0.1:
            raise OutOfRange("slope_siemens", self.slope_siemens, "1e-9 to 0.1 S")


def regulator_law(
    nominal_a: float, *, knee_v: float, knee_share: float, slope_siemens: float, law_v: float = LAW_V
) -> RegulatorLaw:
    """The law through what a data sheet states.

    Parameters
    ----------
    nominal_a : float
        Current at `law_v` [A].
    knee_v, knee_share : float
        Voltage across the part at which `knee_share` [-] of the nominal current flows [V].
    slope_siemens : float
        Slope above the knee [S].
    law_v : float
        Voltage at which the nominal current is stated [V].
    Returns
    -------
    RegulatorLaw
        Through both points, to a part in 1e9.
    Raises
    ------
    OutOfRange
        If no such law goes through them: the slope alone gives too much, or the knee lies over `law_v`.
    Notes
    -----
    One exponential: a part with 35 % of its current at 0.5 V has 79 % at 1.8 V by this law; sheets say 75 to 85 %.
    """
    if not (0 < knee_share < 1 and 0 < knee_v < law_v and slope_siemens * law_v < nominal_a):
        raise OutOfRange("knee of a regulator", (knee_v, knee_share), f"a share under 1 below {law_v:g} V")
    rest = knee_share * nominal_a - slope_siemens * knee_v
    if rest <= 0:
        raise OutOfRange("slope_siemens", slope_siemens, "less than the current at the knee gives")
    low, high = 0.01, 50.0
    for _ in range(200):
        middle = math.sqrt(low * high)
        plateau = (nominal_a - slope_siemens * law_v) / -math.expm1(-law_v / middle)
        low, high = (middle, high) if plateau * -math.expm1(-knee_v / middle) > rest else (low, middle)
    return RegulatorLaw((nominal_a - slope_siemens * law_v) / -math.expm1(-law_v / low), low, slope_siemens)


def regulator_current(law: RegulatorLaw, voltage_v: float | Array) -> Array:
    """Current from anode to cathode [A] at a voltage across the part [V], any shape.

    Source
    ------
    The law itself; backwards the exponential is that of a diode, which the data sheets only rate (0.5 V at most).
    Examples
    --------
    >>> round(float(regulator_current(RegulatorLaw(0.02, 1.0, 1e-5), 7.5)), 4)
    0.0201
    """
    volts = np.asarray(voltage_v, dtype=np.float64)
    ahead = -law.plateau_a * np.expm1(-np.maximum(volts, -500 * law.knee_v) / law.knee_v)
    return np.asarray(ahead + law.slope_siemens * volts)


def regulator_voltage(
    plateau_a: Array, knee_v: Array, slope_siemens: Array, current_a: Array
) -> tuple[Array, Array]:
    """Voltage across regulators that carry a current, and its slope over current.

    Parameters
    ----------
    plateau_a, knee_v, slope_siemens, current_a : array
        The laws and the currents [A, V, S, A]; shapes that broadcast.
    Returns
    -------
    tuple of array
        Voltage [V] and dV/dI [ohm].
    Source
    ------
    u + ln u = ln(I0 / (G Vk)) - (i - I0) / (G Vk), solved by the Wright omega function.
    """
    scale = slope_siemens * knee_v
    beyond = (current_a - plateau_a) / scale
    tail = wright_omega(np.log(plateau_a / scale) - beyond)
    return np.asarray(knee_v * (beyond + tail)), np.asarray(knee_v / (scale * (1.0 + tail)))


def warm_share(
    fall_per_k: Array, over_test_k: Array, *, kelvin_per_volt_ampere: Array, volts: Array, cool_a: Array
) -> Array:
    """What a settled regulator gives, as a share of what it would give with its junction at its test's warmth.

    Parameters
    ----------
    fall_per_k : array
        Share of current lost per kelvin of the junction [1/K], 0 or more.
    over_test_k : array
        Air round it over the junction's warmth at the test [K]; below 0 as a rule.
    kelvin_per_volt_ampere : array
        Junction to air [K/W]; of several side by side divided by their count.
    volts : array
        Voltage across it [V].
    cool_a : array
        What it would pass there with its junction as warm as at the test [A].
    Returns
    -------
    array
        Share [-], of the broadcast shape: the current warms the junction, which lessens the current, until both agree.
    Notes
    -----
    s = exp(-k (T_air - T_test + R V I s)); with a = k R V I: a s + ln s = -k (T_air - T_test), so s = omega(..) / a.
    The fall is a share of what is left, so that the share stays above 0; over 50 K and 0.22 % / K that is 0.6 % more
    than a straight line has.
    Source
    ------
    Definitions of temperature coefficient and thermal resistance, as in data sheets; against ngspice in tests/outside.
    Examples
    --------
    >>> float(warm_share(np.array(0.0), np.array(50.0), kelvin_per_volt_ampere=np.array(600.0),
    ...                  volts=np.array(5.0), cool_a=np.array(0.02)))
    1.0
    """
    own = np.maximum(fall_per_k * kelvin_per_volt_ampere * volts * cool_a, 1e-12)
    return np.asarray(wright_omega(np.log(own) - fall_per_k * over_test_k) / own)
