"""Tables as CSV."""

from __future__ import annotations

import csv
import io
import math

from rushlight.model.sheet import Cell, Table

DIGITS = 6
"""Significant digits of a number: more than any length, current or light is known to, no noise of its binary form."""


def to_csv(table: Table) -> str:
    """The table as CSV: a header of column keys, then its rows, numbers to six significant digits.

    Parameters
    ----------
    table : Table
        Any table.
    Returns
    -------
    str
        Lines end in CR LF; an empty cell is empty; text that a spreadsheet would run as a formula gets a leading
        apostrophe.
    Source
    ------
    RFC 4180.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.key for column in table.columns])
    for row in table.rows:
        writer.writerow([_cell(cell) for cell in row])
    return out.getvalue()


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if _runs_as_formula(cell) else cell
    if isinstance(cell, float) and math.isfinite(cell) and cell == int(cell) and abs(cell) < 1e15:
        return str(int(cell))
    return repr(float(f"{cell:.{DIGITS}g}")) if isinstance(cell, float) else str(cell)


def _runs_as_formula(text: str) -> bool:
    if text[:1] in ("=", "@", "\t", "\r"):
        return True
    return text[:1] in ("+", "-") and not text[1:2].isdigit()

