"""How an LED's light goes with its current: best at one current, less for each ampere below it and above.

Carriers are lost to defects (A n), give light (B n^2) or are lost among three (C n^3). With x the carriers over those
at the best efficiency, light goes with x^2 and current with x + x^2 / q + x^3, q = sqrt(A C) / B.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rushlight.tables import row_by
from rushlight.units import Range, checked

Array = NDArray[np.float64]
Index = NDArray[np.int64]

STEPS = 40
"""At most so many steps of Newton's method; from above it takes six to ten."""

NEAR_ENOUGH = 1e-13

AT_ONCE = 16_384
"""So many currents fit into a processor's nearest memory with all that is reckoned from them."""


@dataclass(frozen=True, slots=True)
class LightLaw:
    """One LED's light against current.

    peak_share: the current of best efficiency over the rated current [-]; loss: q above [-], 0.5 (1 / e - 1) of the
    best internal efficiency e.
    """

    peak_share: float
    loss: float

    def carriers(self, current_share: float) -> float:
        """x at a current [-], the current over the rated one [-]."""
        wanted = (2.0 + 1.0 / self.loss) * current_share / self.peak_share
        if wanted <= 0.0:
            return 0.0
        # Each term alone bounds x from above, and from there Newton's method on a convex function never overshoots.
        x = min(wanted, math.sqrt(self.loss * wanted), math.cbrt(wanted))
        for _ in range(STEPS):
            step = (x + x * x / self.loss + x**3 - wanted) / (1.0 + 2.0 * x / self.loss + 3.0 * x * x)
            x -= step
            if step <= NEAR_ENOUGH * x:
                break
        return x

    def times(self, current_share: float, anchor_share: float = 1.0) -> float:
        """Light at a current over that at the anchor [-], both currents over the rated one [-]."""
        return (self.carriers(current_share) / self.carriers(anchor_share)) ** 2

    def current_share(self, times: float, anchor_share: float = 1.0) -> float:
        """The current, over the rated one, that gives so many times the light at the anchor [-]."""
        x = math.sqrt(max(times, 0.0)) * self.carriers(anchor_share)
        return self.peak_share * (x + x * x / self.loss + x**3) / (2.0 + 1.0 / self.loss)


def light_times(current_share: Array, laws: Sequence[LightLaw], at: Index | None = None) -> Array:
    """Light at many currents over that at the rated one.

    Parameters
    ----------
    current_share : array
        Currents over the rated one [-], 0 or more, shape (..., laws).
    laws : sequence of LightLaw
        Of each column.
    at : array, optional
        Numbers of the laws that the currents have instead, of the same shape as these.
    Returns
    -------
    array
        As `LightLaw.times` has it [-], same shape.
    Source
    ------
    As LightLaws.times.
    """
    number = np.broadcast_to(np.arange(len(laws)) if at is None else at, np.shape(current_share)).ravel()
    loss, rated = np.array([law.loss for law in laws]), np.array([law.carriers(1.0) for law in laws])
    scale = (2.0 + 1.0 / loss) / np.array([law.peak_share for law in laws])
    shares = np.ravel(current_share)
    times = np.empty(len(shares))
    for first in range(0, len(shares), AT_ONCE):
        some, of = shares[first : first + AT_ONCE], number[first : first + AT_ONCE]
        times[first : first + AT_ONCE] = (_carriers(np.maximum(scale[of] * some, 0.0), loss[of]) / rated[of]) ** 2
    return times.reshape(np.shape(current_share))


def _carriers(wanted: Array, loss: Array) -> Array:
    """As `LightLaw.carriers` has them, by Newton's method from above."""
    x = np.minimum(np.minimum(wanted, np.sqrt(loss * wanted)), np.cbrt(wanted))
    twice, inverse = 2.0 / loss, 1.0 / loss
    for _ in range(STEPS):
        square = x * x
        step = (x * (1.0 + square) + square * inverse - wanted) / (1.0 + twice * x + 3.0 * square)
        x -= step
        if np.all(step <= NEAR_ENOUGH * x):
            break
    return np.asarray(x)


@dataclass(frozen=True, slots=True)
class LightLaws:
    """The usual law of a colour, and those of LEDs that are at their best early and late."""

    early: LightLaw
    usual: LightLaw
    late: LightLaw

    def times(self, current_share: float, anchor_share: float = 1.0) -> Range:
        """Light at a current over that at the anchor [-], both currents over the rated one [-].

        Parameters
        ----------
        current_share, anchor_share : float
            0 or more; the anchor, at which the light is known, above 0.
        Returns
        -------
        Range
            Without width at the anchor.
        Raises
        ------
        OutOfRange
            If a current is negative, or the anchor 0.
        Source
        ------
        H.-Y. Ryu, H.-S. Kim, J.-I. Shim, Appl. Phys. Lett. 95 (2009) 081114 (rate equation told by its peak).
        """
        checked("current over the rated one", current_share, 0.0)
        checked("anchor over the rated current", anchor_share, 0.0, above=True)
        early, usual, late = (law.times(current_share, anchor_share) for law in (self.early, self.usual, self.late))
        return Range(min(early, usual, late), usual, max(early, usual, late))


@cache
def light_laws(key: str) -> LightLaws:
    """The laws of a colour.

    Parameters
    ----------
    key : str
        As in led_laws.csv: 'red', 'warm_white', ...
    Returns
    -------
    LightLaws
        As led_light_current.csv has them.
    Raises
    ------
    UnknownName
        If the table does not hold the colour.
    Source
    ------
    led_light_current.csv.
    """
    row = row_by("led_light_current", "key", key)
    loss = 0.5 * (1.0 / float(row["best_efficiency"]) - 1.0)
    early, usual, late = (LightLaw(float(row[f"peak_{end}"]), loss) for end in ("early", "usual", "late"))
    return LightLaws(early, usual, late)
