"""Two resistors in place of one: in a row or side by side, the pair that comes nearest."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from rushlight.errors import OutOfRange

MET = 1e-9
"""A value met within this share counts as met."""


@dataclass(frozen=True, slots=True)
class ResistorPair:
    """Two resistors [ohm], the greater first, and whether they stand side by side rather than in a row."""

    ohms: tuple[float, float]
    side_by_side: bool

    @property
    def ohm(self) -> float:
        """What the two are together [ohm]."""
        one, other = self.ohms
        return one * other / (one + other) if self.side_by_side else one + other


def pair_not_below(wanted_ohm: float, values_ohm: Sequence[float]) -> ResistorPair | None:
    """The two resistors whose resistance together is the least that is not below a wanted one.

    Parameters
    ----------
    wanted_ohm : float
        Resistance [ohm], 0.01 to 1e9.
    values_ohm : sequence of float
        Values that there are [ohm], above zero; each as often as it is wanted.
    Returns
    -------
    ResistorPair or None
        Of equals the one in a row; None where no two reach the value.
    Raises
    ------
    OutOfRange
        If the resistance is out of range or a value is not above zero.
    Source
    ------
    Resistors in series and in parallel; any text on circuit theory.
    """
    if not 0.01 <= wanted_ohm <= 1e9:
        raise OutOfRange("wanted_ohm", wanted_ohm, "0.01 to 1e9 ohm")
    values = sorted(set(values_ohm))
    if values and values[0] <= 0:
        raise OutOfRange("values_ohm", values[0], "above 0 ohm")
    least, found = wanted_ohm * (1 - MET), list[ResistorPair]()
    for one in values:
        # The least partner that brings the two up to the value; a greater one only leads further over it.
        for side_by_side, rest in ((False, least - one), (True, one * least / (one - least) if one > least else None)):
            at = len(values) if rest is None else bisect_left(values, rest * (1 - MET))
            if at < len(values):
                found.append(ResistorPair((max(one, values[at]), min(one, values[at])), side_by_side))
    return min(found, key=lambda pair: (round(pair.ohm / wanted_ohm, 9), pair.side_by_side, pair.ohms), default=None)
