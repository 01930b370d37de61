"""Resistors as they look: bands in their colours with the words beneath, and the table to read any other by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import cast

from rushlight.electric.resistor_bands import band_meanings, usual_bands
from rushlight.errors import RushlightError
from rushlight.model.design import Design
from rushlight.model.design_power import Resistor
from rushlight.model.sheet import Block, Column, Drawing, Fill, Ink, Layer, Mark, Note, Point, Polyline, Table, Text
from rushlight.sheets.amounts import ohm_text
from rushlight.sheets.place import translated

CELL_MM = (86.0, 17.0)
GAP_MM = 4.0
BODY_MM = (14.0, 76.0)
MIDDLE_Y, HALF_Y = 7.6, 3.0
BAND_WIDE_MM = 3.6
FIVE = 0.01
"""Tolerance of the usual film resistor with five bands."""

MOST_DRAWN = 24
"""More values than these are in the table alone."""

A_DRAWING = 6
"""Values in one drawing, so that it fits what a table leaves of a page."""


@dataclass(frozen=True, slots=True)
class Painted:
    """A value of resistor: resistance [ohm], tolerance as a fraction, how many of it."""

    ohm: float
    tolerance: float
    count: int


def band_words(design: Design, resistor: Resistor) -> str:
    """The bands in words, 'orange, orange, brown, gold'; empty where the code has none for the value."""
    each = (resistor.value_ohm,) if not resistor.made_of_ohm else sorted(set(resistor.made_of_ohm), reverse=True)
    try:
        return "; ".join(", ".join(usual_bands(ohm, tolerance_of(design, resistor))) for ohm in each)
    except RushlightError:
        return ""


def tolerance_of(design: Design, resistor: Resistor) -> float:
    """Tolerance of the size that is planned, as a fraction."""
    part = next((row for row in design.drawer.resistors if row.name == resistor.size), None)
    return part.tolerance if part else 0.05


def band_blocks(values: Sequence[Painted]) -> tuple[Block, ...]:
    """The resistors drawn, each as sold with four bands and with five; then how to read any.

    Parameters
    ----------
    values : sequence of Painted
        Values in the order in which they are drawn.
    Returns
    -------
    tuple of Block
        Nothing where there are no values.
    Source
    ------
    IEC 60062 (from memory), as `electric.resistor_bands.usual_bands`.
    """
    lines = [line for line in map(_line, values[:MOST_DRAWN]) if any(line)]
    if not lines:
        return ()
    firsts = range(0, len(lines), A_DRAWING)
    drawings = [_drawing(n, lines[first : first + A_DRAWING]) for n, first in enumerate(firsts)]
    return (*drawings, code_table(), Note(HOW, "To read one"))


def _drawing(number: int, lines: Sequence[tuple[tuple[Mark, ...], ...]]) -> Drawing:
    """Lines of cells; on a phone every cell has a line of its own."""
    caption = ("As the shopping list has it; beside or below it the same value of 1 %, if that is what your bag "
               "holds. The last band stands apart. Where the colours are hard to tell, let the meter say it, at ohm.")
    key, title = ("resistor-bands", "What they look like") if number == 0 else (
        f"resistor-bands-{number + 1}", f"What they look like, {number + 1}")

    def laid(rows: Sequence[Sequence[tuple[Mark, ...]]], width_mm: float, narrow: Drawing | None) -> Drawing:
        marks = tuple(
            mark for n, row in enumerate(rows) for across, cell in enumerate(row) if cell
            for mark in translated(cell, across * (CELL_MM[0] + GAP_MM), (len(rows) - 1 - n) * CELL_MM[1])
        )
        return Drawing(key, title, width_mm, len(rows) * CELL_MM[1], (Layer("symbols", marks),), scale=None,
                       caption=caption if number == 0 else "", narrow=narrow)

    single = [(cell,) for line in lines for cell in line if cell]
    return laid(lines, 2 * CELL_MM[0] + GAP_MM, laid(single, CELL_MM[0], None))


HOW = (
    "Turn it so that the bands crowd at the left and the one that stands apart is at the right. Four bands: two digits,"
    " then the number of noughts, then how far it may be off. Five bands: three digits. Gold or silver in the place of "
    "the noughts divide by 10 or 100. A value that no list has was read from the wrong end; when in doubt, measure it."
)


def code_table() -> Table:
    """What each colour says in each place."""
    columns = (Column("colour", "Colour"), Column("digit", "Digit", align="right", decimals=0),
               Column("times", "Noughts, or times", align="right"), Column("tolerance", "May be off by", align="right"))
    digits, powers, off = (
        {colour: value for value, colour in band_meanings(column).items()}
        for column in ("digit", "power_of_ten", "tolerance")
    )
    rows = []
    for colour, power in powers.items():
        digit = int(digits[colour]) if colour in digits else None
        times = f"x {10.0 ** power:g}" if power < 0 else "0" * (digit or 0) or "none"
        rows.append((colour, digit, times, f"{100 * off[colour]:g} %" if colour in off else ""))
    return Table("resistor-code", "What the colours say", columns, tuple(rows), "After IEC 60062.")


# --- one resistor -------------------------------------------------------------------------------------------------


def _line(value: Painted) -> tuple[tuple[Mark, ...], ...]:
    """As sold, and with five bands of 1 %; empty where the code has none."""
    said = f"{ohm_text(value.ohm)}, {100 * value.tolerance:g} %: {value.count} of them"
    own = _cell(value.ohm, value.tolerance, said)
    return (own, () if value.tolerance == FIVE else _cell(value.ohm, FIVE, f"{ohm_text(value.ohm)}, 1 %"))


def _cell(ohm: float, tolerance: float, said: str) -> tuple[Mark, ...]:
    try:
        bands = usual_bands(ohm, tolerance)
    except RushlightError:
        return ()
    left, right = BODY_MM
    wire = Ink("edge")
    return (
        Text((0.0, MIDDLE_Y + HALF_Y + 2.0), said, 2, "sw", bold=True),
        Polyline(((0.0, MIDDLE_Y), (left, MIDDLE_Y)), wire),
        Polyline(((right, MIDDLE_Y), (CELL_MM[0], MIDDLE_Y)), wire),
        Polyline(_box(left, right), Ink("detail", fill="pale"), closed=True),
        *(mark for place, colour in zip(_places(len(bands)), bands, strict=True) for mark in _band(place, colour)),
    )


def _places(count: int) -> Iterator[float]:
    """Middles of the bands: the digits crowd at the left, the tolerance stands apart."""
    left, right = BODY_MM
    pitch = 11.4
    yield from (left + 6.0 + pitch * n for n in range(count - 1))
    yield right - 5.0


def _band(x: float, colour: str) -> tuple[Mark, ...]:
    half = BAND_WIDE_MM / 2
    ink = Ink("dimension", fill=cast(Fill, f"band {colour}"))
    return (Polyline(_box(x - half, x + half), ink, closed=True), Text((x, MIDDLE_Y - HALF_Y - 1.2), colour, 1, "n"))


def _box(left: float, right: float) -> tuple[Point, ...]:
    low, high = MIDDLE_Y - HALF_Y, MIDDLE_Y + HALF_Y
    return ((left, low), (right, low), (right, high), (left, high))
