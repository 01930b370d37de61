"""Law of a light-emitting or plain diode: one junction and its series resistance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.omega import Array, wright_omega
from rushlight.errors import OutOfRange
from rushlight.tables import row_by, rows
from rushlight.units import BOLTZMANN_J_PER_K, ELEMENTARY_CHARGE_C, ZERO_CELSIUS_K, Range

LAW_TEMP_C = 27.0
"""The junction temperature at which the tabled laws hold (the usual 300.15 K of circuit solvers)."""

THERMAL_V = BOLTZMANN_J_PER_K * (LAW_TEMP_C + ZERO_CELSIUS_K) / ELEMENTARY_CHARGE_C
"""kT/q at 27 C: 25.865 mV."""

FORWARD_SHIFT_V_PER_K = -0.002
"""Change of forward voltage with junction temperature (from memory, typical of visible LEDs)."""

REVERSE_RATING_V = 5.0
"""Usual reverse rating of a visible LED (public data sheets): above it the LED may be damaged."""


@dataclass(frozen=True, slots=True)
class DiodeLaw:
    """i = Is (exp((v - Rs i) / (n Vt)) - 1)."""

    saturation_a: float
    ideality: float
    series_ohm: float

    def __post_init__(self) -> None:
        if not 1e-40 <= self.saturation_a <= 1e-2:
            raise OutOfRange("saturation_a", self.saturation_a, "1e-40 to 1e-2 A")
        if not 0.5 <= self.ideality <= 20:
            raise OutOfRange("ideality", self.ideality, "0.5 to 20")
        if not 1e-6 <= self.series_ohm <= 1e6:
            raise OutOfRange("series_ohm", self.series_ohm, "1e-6 to 1e6 ohm")

    @property
    def slope_v(self) -> float:
        """n Vt: the change of voltage for an e-fold of current."""
        return self.ideality * THERMAL_V


@dataclass(frozen=True, slots=True)
class LawSpread:
    """A lamp's law with the part-to-part spread of its forward voltage."""

    low: DiodeLaw
    typical: DiodeLaw
    high: DiodeLaw
    max_a: float
    source: str


def side_by_side(law: DiodeLaw, count: int) -> DiodeLaw:
    """The one diode that takes the current of several like ones in parallel at the same voltage.

    Parameters
    ----------
    law : DiodeLaw
        Each of them.
    count : int
        How many, 1 or more; their saturation currents together stay under 1e-2 A.
    Returns
    -------
    DiodeLaw
        Exact: saturation current times `count`, resistance over it.
    Raises
    ------
    OutOfRange
        If the sum leaves the range of a DiodeLaw, or count is under 1.
    Source
    ------
    Kirchhoff's current law.
    """
    if count < 1:
        raise OutOfRange("count", count, "1 or more")
    return DiodeLaw(law.saturation_a * count, law.ideality, law.series_ohm / count)


def current_at_voltage(law: DiodeLaw, voltage_v: float | Array) -> Array:
    """Current through a diode with a given voltage across it.

    Parameters
    ----------
    law : DiodeLaw
        The diode.
    voltage_v : float or array
        Voltage, anode less cathode [V], any shape, finite.
    Returns
    -------
    array
        Current into the anode [A]; never under -saturation_a.
    Raises
    ------
    OutOfRange
        If a voltage is not finite.
    Notes
    -----
    i + Is = (n Vt / Rs) omega(ln(Rs Is / n Vt) + (v + Rs Is) / n Vt), exact. Reverse breakdown and
    leakage are not modelled.
    Source
    ------
    Shockley's law with a series resistor, solved by the Wright omega function.
    Examples
    --------
    >>> round(float(current_at_voltage(DiodeLaw(9.66e-18, 2.102, 4.12), 2.0)), 4)
    0.02
    """
    voltage = np.asarray(voltage_v, dtype=np.float64)
    if not np.all(np.isfinite(voltage)):
        raise OutOfRange("voltage_v", voltage_v, "a finite voltage")
    slope, ohm, sat = law.slope_v, law.series_ohm, law.saturation_a
    z = math.log(ohm * sat / slope) + (voltage + ohm * sat) / slope
    return np.asarray(slope / ohm * wright_omega(z) - sat)


def voltage_at_current(law: DiodeLaw, current_a: float | Array) -> Array:
    """Voltage across a diode that carries a given current.

    Parameters
    ----------
    law : DiodeLaw
        The diode.
    current_a : float or array
        Current into the anode [A], above -saturation_a.
    Returns
    -------
    array
        Voltage, anode less cathode [V].
    Raises
    ------
    OutOfRange
        If a current is at or below -saturation_a, or not finite.
    Notes
    -----
    v = n Vt ln(1 + i / Is) + Rs i.
    Source
    ------
    Shockley's law with a series resistor.
    """
    current = np.asarray(current_a, dtype=np.float64)
    if not np.all(np.isfinite(current)) or np.any(current <= -law.saturation_a):
        raise OutOfRange("current_a", current_a, "a finite current above -saturation_a")
    return np.asarray(law.slope_v * np.log1p(current / law.saturation_a) + law.series_ohm * current)


def shifted(law: DiodeLaw, shift_v: float) -> DiodeLaw:
    """The same diode with its forward voltage moved by a constant.

    Parameters
    ----------
    law : DiodeLaw
        The diode.
    shift_v : float
        Change of voltage at the same current [V], -1.5 to 1.5.
    Returns
    -------
    DiodeLaw
        Is multiplied by exp(-shift / n Vt).
    Raises
    ------
    OutOfRange
        If the shift is out of range.
    Notes
    -----
    Exact where the current is far above Is.
    Source
    ------
    Shockley's law.
    """
    if not -1.5 <= shift_v <= 1.5:
        raise OutOfRange("shift_v", shift_v, "-1.5 to 1.5 V")
    return replace(law, saturation_a=law.saturation_a * math.exp(-shift_v / law.slope_v))


def at_temperature(law: DiodeLaw, junction_c: float, fall_v_per_k: float = -FORWARD_SHIFT_V_PER_K) -> DiodeLaw:
    """The same diode at another junction temperature.

    Parameters
    ----------
    law : DiodeLaw
        The diode at 27 C.
    junction_c : float
        Junction temperature [C], -40 to 150.
    fall_v_per_k : float
        By how much the forward voltage falls with each kelvin [V/K]; see `forward_fall_v_per_k`.
    Returns
    -------
    DiodeLaw
        The law with its forward voltage lowered by so much per kelvin above 27 C.
    Raises
    ------
    OutOfRange
        If the temperature is out of range.
    Notes
    -----
    A constant shift; the true value lies between about -1 and -4 mV/K by colour and current.
    Source
    ------
    2 mV/K: from memory, typical of visible LEDs; by colour: led_voltage_temperature.csv.
    """
    if not -40 <= junction_c <= 150:
        raise OutOfRange("junction_c", junction_c, "-40 to 150 C")
    return shifted(law, -fall_v_per_k * (junction_c - LAW_TEMP_C))


def forward_fall_v_per_k(key: str) -> Range:
    """How much the forward voltage of a tabled LED colour or diode falls with each kelvin [V/K].

    Parameters
    ----------
    key : str
        A key of `led_laws.csv`, such as 'red' or 'warm_white'.
    Returns
    -------
    Range
        Of each diode, at the same current; above 0.
    Raises
    ------
    UnknownName
        If the table has no such key.
    Source
    ------
    led_voltage_temperature.csv, row by row.
    """
    row = row_by("led_voltage_temperature", "key", key)
    return Range(*(float(row[f"{end}_mv_per_k"]) / 1000 for end in ("low", "typical", "high")))


def fitted_law(currents_a: Sequence[float], voltages_v: Sequence[float], *, exact_a: float = 0.02) -> DiodeLaw:
    """The law nearest to data-sheet points, exact at one of them.

    Parameters
    ----------
    currents_a : sequence of float
        Currents [A], at least three, all above zero.
    voltages_v : sequence of float
        Forward voltages [V] at those currents, rising.
    exact_a : float
        The current at which the law meets the point [A]; the nearest point is taken.
    Returns
    -------
    DiodeLaw
        Least squares in voltage.
    Raises
    ------
    OutOfRange
        If there are fewer than three points, a current is not above zero, or the points do not
        rise as a diode's must.
    Notes
    -----
    v - v0 = n Vt ln(i / i0) + Rs (i - i0) is linear in n Vt and Rs. A negative Rs is set to 0.01 ohm.
    Source
    ------
    Linear least squares on Shockley's law with a series resistor.
    """
    amps, volts = np.asarray(currents_a, float), np.asarray(voltages_v, float)
    if len(amps) < 3 or len(amps) != len(volts) or np.any(amps <= 0):
        raise OutOfRange("points", len(amps), "three or more points with currents above zero")
    at = int(np.argmin(np.abs(amps - exact_a)))
    columns = np.column_stack([np.log(amps / amps[at]), amps - amps[at]])
    rise = volts - volts[at]
    slope, ohm = np.linalg.lstsq(columns, rise, rcond=None)[0]
    if ohm < 0.01:
        ohm = 0.01
        slope = float(columns[:, 0] @ (rise - ohm * columns[:, 1]) / (columns[:, 0] @ columns[:, 0]))
    if not 0.5 <= slope / THERMAL_V <= 20:
        raise OutOfRange("points", tuple(voltages_v), "forward voltages that rise with current as a diode's do")
    sat = math.exp(math.log(amps[at]) - (volts[at] - ohm * amps[at]) / slope)
    return DiodeLaw(sat, float(slope / THERMAL_V), float(ohm))


def law_names() -> tuple[str, ...]:
    """Every colour and diode that the table of laws holds, in its order."""
    return tuple(row["key"] for row in rows("led_laws"))


def law_spread(key: str) -> LawSpread:
    """Low, typical and high law of a tabled LED colour or diode.

    Parameters
    ----------
    key : str
        A key of `led_laws.csv`, such as 'red' or 'warm_white'.
    Returns
    -------
    LawSpread
        The typical law, and the same shifted to the ends of the forward-voltage spread.
    Raises
    ------
    UnknownName
        If the table has no such key.
    Source
    ------
    `data/led_laws.csv`.
    """
    row = row_by("led_laws", "key", key)
    law = DiodeLaw(float(row["saturation_a"]), float(row["ideality"]), float(row["series_ohm"]))
    low, high = float(row["spread_low_v"]), float(row["spread_high_v"])
    return LawSpread(shifted(law, low), law, shifted(law, high), float(row["max_a"]), row["source"])
