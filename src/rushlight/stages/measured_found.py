"""What a reading comes to, why it cannot be, and what every method reads its numbers with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rushlight.model.drawer import Drawer, OwnLaw
from rushlight.model.plan_bench import Measured
from rushlight.optics.bench import ratio
from rushlight.tables import row_by
from rushlight.units import Range

Place = tuple[str, str, str]
"""Table, row and column of a guess; `habits` and `bench` stand for what is no row of a part."""

JOINT: Place = ("habits", "fibre_joint", "value")

POLISHED = "polished"

LED_VOLTAGE = "led voltage"

SEAM_GAP = "seam gap"

HOLE_PLAY = "hole play"

LIP_LAP, POST_GAP, POST_ROOT = "lip lap", "post gap", "post root"

POST_PAINT = "post paint"
"""How many times as much a post's root lets through as the open painted wall."""

USUAL_GAPS = {SEAM_GAP: "seam", LIP_LAP: "lip", POST_GAP: "post", POST_ROOT: "post root", HOLE_PLAY: "fibre play"}
"""Gaps that a method reads, by their row of way_out_usual.csv; all but the play of holes are a part's."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a reading comes to: a value of a row (table, row, column), a habit, or a value that stands in no table.

    `law` is an LED's, beside its voltage at the current that its row is told for; `at_ma` the current at which an LED's
    light was read, beside that light at its test current.
    """

    table: str
    row: str
    column: str
    value: Range
    law: OwnLaw | None = None
    at_ma: float | None = None


class MeasuredFault(Exception):
    """A reading that cannot be: at which key, what stands there, what was expected, the nearest word."""

    def __init__(self, key: str, found: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(f"{key} {found}; expected {expected}")
        self.key, self.found, self.expected, self.nearest = key, found, expected, nearest


def lamp_in(lamp: str, state: str) -> str:
    """A lamp in a state: what its light as read is kept under."""
    return f"{lamp} in {state}"


def off_share_of(one: Measured) -> float:
    """How far the meter may be off [-]: as the reading tells, else as its method has it."""
    if one.off_share is not None:
        return one.off_share
    return float(row_by("bench_methods", "what", one.what)["off_share"])


def share_left(one: Measured) -> Range:
    """What the thing leaves of the light read without it [-]."""
    return ratio(one.readings, one.against, off=off_share_of(one))


def given(value: float | None) -> float:
    """A value that the method needs and whose key is checked already."""
    assert value is not None, "checked with the keys"
    return value


def passed(share: Range) -> Range:
    """A share that a thing lets through: beyond the meter's error it is never over 1."""
    if share.low > 1.0:
        raise MeasuredFault("readings", f"are {share.typical:.3g} times those without it",
                            "less than without it (exchanged, perhaps)")
    return Range(*(min(end, 1.0) for end in (share.low, share.typical, share.high)))


Way = Callable[[Drawer, Measured, Any], tuple[Found, ...]]
"""How a method reckons: from the drawer, the reading and what it is of, what it comes to."""
