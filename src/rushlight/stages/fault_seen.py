"""What can be looked at, compared and measured on a loom, what was found, and what a verdict holds."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.fault import Fault

Array = NDArray[np.float64]

KINDS = ("look", "beside", "supply", "volts", "resistor", "ohms", "diode")
BETWEEN = ("volts", "ohms", "diode")
"""Kinds that are taken between two places."""

SUPPLY_OFF = ("ohms", "diode")
"""Kinds that are taken with the supply off, and may show OL."""

BESIDE_BOUND = 0.25
"""Answers beside each other are -1, 0 and 1."""

DIGIT_OHM = 0.1
"""A cheap meter's last digit on its lowest range (common practice, no source)."""


WHOLE = 1e-6
"""A reading so near a whole number of digits is one."""


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter's error bound as its maker states it: a share of the reading and a number of last digits.

    From `high_from_ma` on a current needs the range of 10 A, whose last digit is `high_digit_ma`. A reading that is a
    whole number of such digits may come from that range, a nought only where `nought_is_high`. From `high_from_v` on a
    voltage needs the range of 200 V, and where that is not without end a whole number of its digits may come from it.
    """

    share: float = 0.01
    digit_ma: float = 0.1
    digit_v: float = 0.01
    digits: int = 2
    high_from_ma: float = math.inf
    high_digit_ma: float = 10.0
    nought_is_high: bool = False
    high_from_v: float = math.inf
    high_digit_v: float = 0.1

    def bound(self, value: float, kind: str) -> float:
        """Largest error of a reading, in its own unit (mA, V or ohm)."""
        return float(self.bounds(np.array(value), kind))

    def bounds(self, values: Array, kind: str) -> Array:
        """The same for many readings of one kind."""
        if kind == "beside":
            return np.full_like(values, BESIDE_BOUND)
        digit: Array | float = {"ohms": DIGIT_OHM}.get(kind, self.digit_v)
        if kind == "supply":
            digit = np.where(self._in_high_range(np.abs(values)), self.high_digit_ma, self.digit_ma)
        if kind in ("volts", "resistor") and math.isfinite(self.high_from_v):
            high = (np.abs(values) >= self.high_from_v) | _whole(values / self.high_digit_v)
            digit = np.where(high, self.high_digit_v, self.digit_v)
        return np.asarray(self.share * np.abs(values) + self.digits * digit)

    def _in_high_range(self, milliamps: Array) -> NDArray[np.bool_]:
        """Whether each current was, or may have been, read in the range of 10 A."""
        if math.isinf(self.high_from_ma):
            return np.zeros(milliamps.shape, bool)
        whole = _whole(milliamps / self.high_digit_ma)
        return np.asarray((milliamps >= self.high_from_ma) | whole & ((milliamps > 0.5) | self.nought_is_high))


def _whole(digits: Array) -> NDArray[np.bool_]:
    return np.asarray(np.abs(digits - np.round(digits)) < WHOLE)


@dataclass(frozen=True, slots=True)
class Probe:
    """One thing to look at or to measure, in one state of the switch.

    kind: 'look' at which lamps are lit; 'beside': emitter `plus` beside its like `back` (1 brighter, 0 alike, -1
    dimmer); 'supply' current [mA]; 'volts' between two places [V], each the name of a splice, an emitter with + or -,
    or 'bay' with the circuit; 'resistor': voltage [V] across that of emitter `plus`; 'ohms' between two places with
    the supply taken off [ohm]; 'diode' between two places with the supply taken off, on the diode test [V].
    """

    kind: str
    state: str
    plus: str = ""
    back: str = ""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was found: a value in mA, V or ohm; for a look the emitters that were dark or dim though they should be lit.

    lit: emitters that were lit though they should be dark; None where nobody looked for them.
    """

    probe: Probe
    value: float = 0.0
    dark: frozenset[str] = frozenset()
    dim: frozenset[str] = frozenset()
    lit: frozenset[str] | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """What a look shows with a fault: emitters that are dark, surely dim, perhaps dim (the sure ones among them).

    faint: so little current that one person says dark and another lit; lit: surely lit though they should be dark;
    perhaps_lit: perhaps so (the sure ones among them).
    """

    dark: frozenset[str]
    dim: frozenset[str]
    perhaps: frozenset[str]
    faint: frozenset[str] = frozenset()
    lit: frozenset[str] = frozenset()
    perhaps_lit: frozenset[str] = frozenset()

    def allows(self, seen: Seen) -> bool:
        """Whether somebody could have seen it so."""
        if not (self.dark <= seen.dark <= self.dark | self.faint):
            return False
        if seen.lit is not None and not (self.lit <= seen.lit <= self.perhaps_lit):
            return False
        return self.dim <= seen.dim | seen.dark and seen.dim <= self.perhaps | self.faint

    def differs(self, other: Look) -> bool:
        """Whether nobody could take one for the other."""
        return not (
            self.dark <= other.dark | other.faint and other.dark <= self.dark | self.faint
            and self.dim <= other.perhaps | other.faint and other.dim <= self.perhaps | self.faint
            and self.lit <= other.perhaps_lit and other.lit <= self.perhaps_lit
        )

    def merged(self, other: Look) -> Look:
        """What is sure in both, and what may be in one of them."""
        dark = self.dark & other.dark
        return Look(
            dark, self.dim & other.dim, self.perhaps | other.perhaps,
            (self.dark | self.faint | other.dark | other.faint) - dark,
            self.lit & other.lit, self.perhaps_lit | other.perhaps_lit,
        )


@dataclass(frozen=True, slots=True)
class Suspects:
    """Faults that no reachable reading tells apart; misfit is the worst deviation over what the meter may be off."""

    faults: tuple[Fault, ...]
    misfit: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """What fits, best first, and what to look at or measure next; None where nothing tells the rest apart."""

    suspects: tuple[Suspects, ...]
    next_probe: Probe | None
    outcomes: tuple[tuple[tuple[float, float] | Look, int], ...]
    """What the next probe would show for each group of suspects, by its place among them."""
    further: tuple[Fault, ...] = ()
    """Faults that fit too and were not yet compared, as there are very many."""
    hidden_joints: tuple[Fault, ...] = ()
    """Where nothing seems wrong: leads with a joint that could be cold, and by how much, without being seen by now."""

    left_after: float = 0.0
    """So many of the suspects still fit after the next probe, on average."""

    @property
    def sound(self) -> bool:
        """Whether nothing need be wrong."""
        return any(fault.kind == "none" for group in self.suspects for fault in group.faults)

    @property
    def double(self) -> bool:
        """Whether no single fault fits, and these are pairs."""
        return any(fault.kind == "two" for group in self.suspects for fault in group.faults)
