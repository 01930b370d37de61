"""What a value of the drawer may be: bounds of every number, known words, columns that must agree with each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from rushlight.errors import UnknownName, nearest_word
from rushlight.tables import rows
from rushlight.units import Range

WORDS: dict[tuple[str, str], tuple[str, str]] = {
    ("leds", "law"): ("led_laws", "key"),
    ("leds", "lens"): ("led_launch", "lens"),
    ("strips", "law"): ("led_laws", "key"),
    ("cells", "law"): ("cell_kinds", "cell"),
    ("wires", "kind"): ("drawer_wires", "kind"),
    ("switches", "kind"): ("drawer_switches", "kind"),
    ("coats", "kind"): ("drawer_coats", "kind"),
    ("fuses", "kind"): ("drawer_fuses", "kind"),
    ("regulators", "kind"): ("drawer_regulators", "kind"),
    ("resistors", "series"): ("drawer_resistors", "series"),
}
"""Columns that hold a word of some table: that table and its column."""

COLOURS = (("leds", "colour"), ("strips", "colour"))
"""Columns that hold a colour by its name in the trade, its wavelength or its temperature."""

NOT_OVER: tuple[tuple[str, str, str], ...] = (
    ("fibres", "core_mm", "diameter_mm"),
    ("cells", "end_v", "fresh_v"),
    ("regulators", "knee_v", "test_v"),
    ("regulators", "test_v", "max_v"),
    ("wires", "copper_mm", "outer_mm"),
    ("tubes", "recovered_bore_mm", "supplied_bore_mm"),
    ("walls", "advise_c", "stop_c"),
    ("walls", "stop_c", "softens_c"),
)
"""Columns of a table of which the first is never over the second."""


@dataclass(frozen=True, slots=True)
class Bound:
    """Least and greatest value of a column, both included, with the unit in words."""

    low: float
    high: float
    unit: str

    def holds(self, value: float) -> bool:
        """Whether a value lies in it; no NaN does."""
        return self.low <= value <= self.high

    @property
    def words(self) -> str:
        """As a problem says it."""
        unit = "" if self.unit == "-" else f" {self.unit}"
        return f"{self.low:.9g} to {self.high:.9g}{unit}"

    def nearest(self, value: float) -> float:
        """The nearest value in it."""
        return min(max(value, self.low), self.high)


@dataclass(frozen=True, slots=True)
class Breach:
    """A value that cannot be: in which column, what stands there, what was expected, the nearest word or value.

    `against` is the other column where two contradict each other.
    """

    column: str
    found: str
    expected: str
    nearest: str | None = None
    against: str = ""


@cache
def bounds() -> dict[tuple[str, str], Bound]:
    """Bounds by table and field; a habit's name stands for its column."""
    return {
        (row["table"], row["column"]): Bound(float(row["low"]), float(row["high"]), row["unit"])
        for row in rows("drawer_bounds")
    }


def number_breach(table: str, field: str, value: float, *, column: str = "") -> Breach | None:
    """What is wrong with one number of a field, or None; `column` is the field's own where it has three.

    Parameters
    ----------
    table, field : str
        A table of the drawer; a field of its rows, or a habit's name.
    value : float
        In the column's unit.
    column : str
        What the breach calls it.
    Returns
    -------
    Breach or None
        With the nearest value that could be.
    """
    bound = bounds().get((table, field))
    if bound is None or bound.holds(value):
        return None
    near = None if math.isnan(value) else f"{bound.nearest(value):.9g}"
    return Breach(column or field, f"{value:.9g}", bound.words, near)


def breaches(table: str, row: Any) -> Iterator[Breach]:
    """Everything that cannot be in one row of the drawer."""
    if table == "habits":
        yield from _of_habit(row)
        return
    for field in type(row).__dataclass_fields__:
        yield from _of_value(table, field, getattr(row, field))
    yield from disagreements(table, row)


def _of_habit(row: Any) -> Iterator[Breach]:
    for end in ("low", "high"):
        value = getattr(row, end)
        breach = None if value is None else number_breach("habits", row.name, value, column=end)
        if breach:
            yield breach
    if row.low is not None and row.high is not None and row.low > row.high:
        yield Breach("high", f"{row.high:.9g}", f"low, {row.low:.9g}, or more")


def _of_value(table: str, field: str, value: Any) -> Iterator[Breach]:
    if isinstance(value, Range):
        found = (number_breach(table, field, one) for one in (value.low, value.typical, value.high))
        yield from [breach for breach in found if breach][:1]
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        breach = number_breach(table, field, value)
        if breach:
            yield breach
    elif isinstance(value, str):
        yield from _of_word(table, field, value)


def _of_word(table: str, field: str, word: str) -> Iterator[Breach]:
    where = WORDS.get((table, field))
    if where and word not in _known(where):
        known = sorted(_known(where))
        yield Breach(field, f"'{word}'", "one of " + ", ".join(known), nearest_word(word, known))
    if (table, field) in COLOURS:
        yield from _of_colour(field, word)


@cache
def _known(where: tuple[str, str]) -> frozenset[str]:
    return frozenset(row[where[1]] for row in rows(where[0]))


@cache
def _of_colour(field: str, word: str) -> tuple[Breach, ...]:
    from rushlight.errors import OutOfRange
    from rushlight.optics.colour import trade_colour

    expected = "a colour such as warm white, 525 nm or 3000 K"
    try:
        trade_colour(word)
    except UnknownName as error:
        return (Breach(field, f"'{word}'", expected, error.nearest),)
    except OutOfRange as error:
        return (Breach(field, f"'{word}'", str(error.expected)),)
    return ()


def disagreements(table: str, row: Any) -> Iterator[Breach]:
    """Columns of a row that contradict each other."""
    for name, smaller, larger in NOT_OVER:
        if name == table and getattr(row, smaller) > getattr(row, larger):
            yield Breach(smaller, f"{getattr(row, smaller):.9g}", f"at most {larger}, {getattr(row, larger):.9g}",
                         f"{getattr(row, larger):.9g}", larger)
