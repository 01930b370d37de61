"""Units, their suffixes, constants, and a value with its range."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.errors import OutOfRange

SUFFIXES: dict[str, str] = {
    "mm": "millimetre", "m": "metre", "mm2": "square millimetre", "m2": "square metre",
    "um": "micrometre", "nm": "nanometre (wavelength)", "in": "inch",
    "deg": "degree of arc", "arcmin": "minute of arc", "rad": "radian", "sr": "steradian",
    "v": "volt", "a": "ampere", "ma": "milliampere", "ohm": "ohm", "ohm_per_m": "ohm per metre",
    "siemens": "siemens", "ohm_m": "ohm metre", "v_per_k": "volt per kelvin",
    "w": "watt", "w_per_m": "watt per metre", "mw": "milliwatt", "mah": "milliampere hour", "wh": "watt hour",
    "hz": "hertz", "s": "second", "min": "minute", "h": "hour", "ms": "millisecond",
    "lm": "lumen", "lm_per_m": "lumen per metre",
    "cd": "candela", "mcd": "millicandela", "cd_m2": "candela per square metre", "lx": "lux",
    "c": "degree Celsius", "k": "kelvin", "k_per_w": "kelvin per watt",
    "w_per_m2": "watt per square metre", "w_per_lm": "watt per lumen",
    "w_per_m2k": "watt per square metre kelvin", "w_per_mk": "watt per metre kelvin",
    "db": "decibel", "db_per_m": "decibel per metre", "g": "gram",
    "per_k": "per kelvin",
    "eur": "euro, a rough street price", "nmi": "nautical mile", "px": "pixel", "per_min": "per minute",
}
"""Every suffix that a quantity's name may end in, with its meaning."""

MM_PER_INCH = 25.4
"""Exact: the international inch (1959)."""

BOLTZMANN_J_PER_K = 1.380649e-23
"""Exact: SI 2019."""

ELEMENTARY_CHARGE_C = 1.602176634e-19
"""Exact: SI 2019. (Here the suffix c is coulomb, as in the SI brochure.)"""

STEFAN_BOLTZMANN_W_PER_M2K4 = 5.670374419e-8
"""CODATA 2018."""

ZERO_CELSIUS_K = 273.15
"""Exact: SI."""


@dataclass(frozen=True, slots=True)
class Range:
    """A value whose truth lies somewhere between low and high; typical is the best single guess."""

    low: float
    typical: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.typical <= self.high or math.isnan(self.typical):
            raise OutOfRange("range", (self.low, self.typical, self.high), "low <= typical <= high")

    @classmethod
    def exactly(cls, value: float) -> Range:
        """A range without width."""
        return cls(value, value, value)

    @classmethod
    def spread(cls, typical: float, low_factor: float, high_factor: float) -> Range:
        """A positive typical value with factors below and above it."""
        return cls(typical * low_factor, typical, typical * high_factor)

    def times(self, other: Range | float) -> Range:
        """Product of two non-negative ranges (the ends multiply: the widest answer)."""
        if isinstance(other, Range):
            return Range(self.low * other.low, self.typical * other.typical, self.high * other.high)
        if other < 0:
            raise OutOfRange("factor", other, "a factor of 0 or more")
        return Range(self.low * other, self.typical * other, self.high * other)

    def plus(self, other: Range | float) -> Range:
        """Sum of two ranges (the ends add: the widest answer)."""
        if isinstance(other, Range):
            return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)
        return Range(self.low + other, self.typical + other, self.high + other)


def wrapped_deg(angle_deg: float) -> float:
    """The same direction between 0 (included) and 360 (excluded)."""
    return angle_deg % 360.0


def checked(name: str, value: float, low: float, high: float = math.inf, *, above: bool = False) -> float:
    """The value itself when it lies from low to high; `above` leaves the low end out."""
    inside = low < value <= high if above else low <= value <= high
    if not inside or not math.isfinite(value):
        bound = f"more than {low:g}" if above else f"{low:g} or more"
        raise OutOfRange(name, value, bound if math.isinf(high) else f"{bound}, at most {high:g}")
    return value
