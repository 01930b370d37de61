"""How a drawer's row stands in a CSV: which columns a field has, and cells to values and back."""

from __future__ import annotations

import dataclasses
import math
import types
from dataclasses import dataclass
from typing import Any, get_args, get_type_hints

from rushlight.errors import UnknownName
from rushlight.files._drawer_bounds import breaches
from rushlight.model.drawer import Drawer, Habit
from rushlight.units import SUFFIXES, Range

YES = ("yes", "true", "1")
NO = ("no", "false", "0")

NO_COLUMNS = ("own", "own_law", "angle_share", "read_ma")
"""Fields that no table holds: what a plan alone puts over a row."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a row: its columns (three for a range), its plain type, whether it may be empty."""

    name: str
    kind: type
    optional: bool
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """One table of the drawer: its name, the class of its rows, their fields."""

    name: str
    row: type
    fields: tuple[Field, ...]

    @property
    def columns(self) -> tuple[str, ...]:
        """All columns, in order."""
        return tuple(column for field in self.fields for column in field.columns)


class BadCell(ValueError):
    """A cell that cannot be read: in which column, what stands there, what was expected."""

    def __init__(self, column: str, found: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(f"{column}: {found}; expected {expected}")
        self.column, self.found, self.expected, self.nearest = column, found, expected, nearest


def range_columns(name: str) -> tuple[str, str, str]:
    """The three columns of a range: `intensity_mcd` gives intensity_low_mcd, intensity_mcd, intensity_high_mcd."""
    units = sorted((unit for unit in SUFFIXES if name.endswith("_" + unit)), key=len)
    unit = "_" + units[-1] if units else ""
    stem = name.removesuffix(unit) if unit else name
    return (f"{stem}_low{unit}", name, f"{stem}_high{unit}")


def _field(name: str, hint: Any) -> Field:
    optional = isinstance(hint, types.UnionType)
    kind = next(arg for arg in get_args(hint) if arg is not types.NoneType) if optional else hint
    return Field(name, kind, optional, range_columns(name) if kind is Range else (name,))


def _table(name: str, row: type) -> Table:
    hints = get_type_hints(row)
    names = [field.name for field in dataclasses.fields(row) if field.name not in NO_COLUMNS]
    return Table(name, row, tuple(_field(name, hints[name]) for name in names))


def _tables() -> tuple[Table, ...]:
    hints = get_type_hints(Drawer)
    return tuple(_table(field.name, get_args(hints[field.name])[0]) for field in dataclasses.fields(Drawer)
                 if field.name != "bench")


TABLES: tuple[Table, ...] = _tables()
"""Every table of the drawer, in the order of `Drawer`'s fields."""


def read_row(table: Table, cells: dict[str, str]) -> Any:
    """The row that the cells give.

    Raises
    ------
    BadCell
        At the first cell that cannot be read, or that holds what cannot be (data/drawer_bounds.csv).
    """
    values = {field.name: _value(field, cells) for field in table.fields}
    row = table.row(**values, **({"own": False} if table.row is Habit else {}))
    for breach in breaches(table.name, row):
        raise BadCell(breach.column, breach.found, breach.expected, breach.nearest)
    return row


def _value(field: Field, cells: dict[str, str]) -> Any:
    if field.kind is Range:
        return _range(field, cells)
    text = cells.get(field.name, "").strip()
    if not text:
        return _empty(field)
    if field.kind is bool:
        return _flag(field.name, text)
    return text if field.kind is str else _number(field.name, text, whole=field.kind is int)


def _empty(field: Field) -> Any:
    if field.optional:
        return None
    if field.kind is str and field.name == "iec":
        return ""
    raise BadCell(field.name, "an empty cell", "a yes or no" if field.kind is bool else _expected(field.kind))


def _expected(kind: type) -> str:
    return {str: "a text", int: "a whole number"}.get(kind, "a number")


def _flag(column: str, text: str) -> bool:
    if text.casefold() in YES + NO:
        return text.casefold() in YES
    raise BadCell(column, f"'{text}'", "yes or no")


def _number(column: str, text: str, *, whole: bool = False) -> float:
    try:
        value = float(text)
    except ValueError:
        raise BadCell(column, f"'{text}'", "a whole number" if whole else "a number, with a point") from None
    if not math.isfinite(value) or value < 0 or value > 1e12:
        raise BadCell(column, f"'{text}'", "a number that is not negative")
    if whole and not value.is_integer():
        raise BadCell(column, f"'{text}'", "a whole number")
    return int(value) if whole else value


def _range(field: Field, cells: dict[str, str]) -> Range:
    low_column, column, high_column = field.columns
    texts = [cells.get(name, "").strip() for name in field.columns]
    if not texts[1]:
        raise BadCell(column, "an empty cell", "a number")
    typical = _number(column, texts[1])
    low = _number(low_column, texts[0]) if texts[0] else typical
    high = _number(high_column, texts[2]) if texts[2] else typical
    if not low <= typical <= high:
        raise BadCell(column, f"{low:g}, {typical:g}, {high:g}", f"{low_column} <= {column} <= {high_column}")
    return Range(low, typical, high)


def cells_of(table: Table, row: Any) -> dict[str, str]:
    """The row as cells of its CSV; reads back equal."""
    cells: dict[str, str] = {}
    for field in table.fields:
        value = getattr(row, field.name)
        values = (value.low, value.typical, value.high) if isinstance(value, Range) else (value,)
        cells.update({column: _text(entry) for column, entry in zip(field.columns, values, strict=True)})
    return cells


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return repr(value) if isinstance(value, float) else str(value)


def table_named(name: str) -> Table:
    """The table of that name.

    Raises
    ------
    UnknownName
        If the drawer has no such table.
    """
    for table in TABLES:
        if table.name == name:
            return table
    raise UnknownName("table of the drawer", name, [table.name for table in TABLES])


def with_rows(drawer: Drawer, table_name: str, rows: tuple[Any, ...]) -> Drawer:
    """The drawer with one table's rows exchanged."""
    return dataclasses.replace(drawer, **{table_name: rows})
