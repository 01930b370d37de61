"""Packaged tables: a CSV becomes frozen rows, each with its source."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib import resources

Row = dict[str, str]


@cache
def rows(table: str) -> tuple[Row, ...]:
    """Rows of the packaged table `data/<table>.csv`, in file order, all values as text."""
    text = resources.files("rushlight").joinpath("data", f"{table}.csv").read_text(encoding="utf-8")
    return parse_rows(text)


def parse_rows(text: str) -> tuple[Row, ...]:
    """Rows of CSV text with a header line; empty lines are left out."""
    return tuple(dict(row) for row in csv.DictReader(io.StringIO(text, newline="")))


def row_by(table: str, column: str, value: str) -> Row:
    """The one row of a packaged table whose column holds the value."""
    from rushlight.errors import UnknownName

    for row in rows(table):
        if row[column] == value:
            return row
    raise UnknownName(f"{table} {column}", value, [row[column] for row in rows(table)])


def number(row: Row, column: str) -> float | None:
    """A number of a row, or None where the cell is empty."""
    text = (row[column] or "").strip()
    return float(text) if text else None
