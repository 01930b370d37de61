"""Readings of one entry that scatter far more than their method allows."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rushlight.model.plan_bench import Measured
from rushlight.stages.measured_found import LED_VOLTAGE, off_share_of
from rushlight.tables import row_by

FAR = 2.0
"""Readings are doubted where they scatter so many times as far as their method allows, as logarithms (project rule)."""

LOSSES = ("fibre length", "fibre bend")
"""Of these the method tells how far a loss in decibels differs, which is no share of the lux that were read."""

BANDS = ("camera readout", "pulse rate")
"""Counted: one band more or less is always in it."""

LISTS = {"readings": "", "against": "read against", "two": "through two sheets"}
"""Lists of readings of an entry, and how they are told."""

NOUGHT = (8.0, 12.5)
"""A reading so many times the others, or as much less, has a nought too many or too few, perhaps (project rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scatter:
    """Readings of one list of an entry, `key`, in the order of the entry, that scatter too far.

    `values` are as they were read; `times` the greatest over the least of what they are judged by, `limit` the most
    that the method allows, `share` the error that it states. `odd` is the place in the entry's list of the one without
    which the others do not scatter too far, `odd_value` what was read, `odd_times` that over the middle of the others;
    None where there is none, or more than one could be it.
    """

    key: str
    told: str
    values: tuple[float, ...]
    times: float
    limit: float
    share: float
    odd: int | None
    odd_value: float | None
    odd_times: float

    @property
    def others(self) -> tuple[float, ...]:
        """What was read besides the odd one."""
        if self.odd_value is None:
            return self.values
        place = self.values.index(self.odd_value)
        return self.values[:place] + self.values[place + 1:]

    @property
    def nought(self) -> bool:
        """Whether the odd one looks like a nought too many or too few."""
        low, high = NOUGHT
        return self.odd is not None and (low <= self.odd_times <= high or low <= 1 / self.odd_times <= high)


def scatters(one: Measured) -> tuple[Scatter, ...]:
    """The lists of an entry whose readings scatter too far.

    Parameters
    ----------
    one : Measured
        An entry whose keys are checked.
    Returns
    -------
    tuple of Scatter
        Readings behind different resistors are not compared, nor temperatures but their rise, nor volts of a loaded
        cell but what they fall by.
    Source
    ------
    The error of the method (bench_methods.csv), or the one that the entry states; FAR is a project rule.
    """
    return tuple(found for key, told, places in _alike(one)
                 if (found := _scatter(one, key, told, places)) is not None)


def _alike(one: Measured) -> Iterator[tuple[str, str, list[int]]]:
    """Lists of an entry and the places in them that should read alike."""
    if one.what == LED_VOLTAGE:
        for ohm in dict.fromkeys(one.series_ohm):
            yield "readings", f"behind {ohm:g} ohm", [k for k, own in enumerate(one.series_ohm) if own == ohm]
        return
    for key, told in LISTS.items():
        if key == "readings" or one.what not in ("hull warmth", "cell resistance"):
            yield key, told, list(range(len(getattr(one, key))))


def _scatter(one: Measured, key: str, told: str, places: list[int]) -> Scatter | None:
    values = [float(getattr(one, key)[place]) for place in places]
    judged = _judged(one, key, values)
    if len(judged) < 2 or min(judged) <= 0.0:
        return None
    share = _share(one, values)
    limit, times = _limit(share), max(judged) / min(judged)
    if times <= limit:
        return None
    odd = _odd(judged, limit)
    others = [value for place, value in enumerate(judged) if place != odd]
    return Scatter(
        key=key, told=told, values=tuple(values), times=times, limit=limit, share=share,
        odd=None if odd is None else places[odd], odd_value=None if odd is None else values[odd],
        odd_times=1.0 if odd is None else judged[odd] / statistics.median(others))


def _judged(one: Measured, key: str, values: Sequence[float]) -> list[float]:
    """What readings are compared by: mostly themselves."""
    against = statistics.fmean(one.against) if one.against else 0.0
    if key == "readings" and one.what == "hull warmth":
        return [value - against for value in values]
    if key == "readings" and one.what == "cell resistance":
        return [against - value for value in values]
    return list(values)


def _share(one: Measured, values: Sequence[float]) -> float:
    """How far such readings may lie from their middle [-]: the meter's error, or how far pieces and places differ."""
    pieces = 0.0 if one.what in LOSSES else float(row_by("bench_methods", "what", one.what)["leaves_share"])
    counted = 1.0 / min(values) if (one.what in BANDS and one.readout_ms is not None) or one.what == BANDS[0] else 0.0
    return min(max(off_share_of(one), pieces, counted), 0.9)


def _limit(share: float) -> float:
    return math.exp(FAR * math.log((1.0 + share) / (1.0 - share)))


def _odd(judged: Sequence[float], limit: float) -> int | None:
    """The one place without which the others do not scatter too far."""
    if len(judged) < 3:
        return None
    rests = {place: [value for k, value in enumerate(judged) if k != place] for place in range(len(judged))}
    alone = [place for place, rest in rests.items() if max(rest) / min(rest) <= limit]
    return alone[0] if len(alone) == 1 else None
