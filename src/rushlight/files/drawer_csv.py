"""The drawer from its tables: the packaged ones, the user's own rows over them, and a plan's own values over those.

A user's table has the name of the packaged one (`drawer_leds.csv`) and lies in the user's configuration folder. A row
of the same name replaces the packaged row; columns that the user's table leaves out keep the packaged row's values.
"""

from __future__ import annotations

import csv
import io
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from rushlight import tables
from rushlight.errors import DocumentProblem, UnknownName, nearest_word
from rushlight.files._atomic import write_atomic
from rushlight.files._drawer_rows import TABLES, BadCell, Table, cells_of, read_row, table_named
from rushlight.files.own_values import own_values
from rushlight.model.drawer import Drawer
from rushlight.model.problem import Problem

__all__ = ["add_row", "own_folder", "own_values", "packaged", "read_drawer"]

MOST_BYTES = 4_000_000
EXTRA_COLUMNS = ("unit", "note")
USER_DEFAULTS = {"source": "your own", "confidence": "yours"}


def own_folder() -> Path:
    """The user's configuration folder on this platform; it need not exist.

    Returns
    -------
    Path
        Windows: %APPDATA%; macOS: ~/Library/Application Support; else $XDG_CONFIG_HOME or ~/.config; then rushlight.
    """
    home = Path.home()
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA") or home / "AppData" / "Roaming")
    elif sys.platform == "darwin":
        base = home / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config")
    return base / "rushlight"


def read_drawer(user_folder: Path | None = None) -> Drawer:
    """All components: the packaged tables, and over them the user's own rows.

    Parameters
    ----------
    user_folder : Path or None
        Folder with the user's tables (see `own_folder`); None: the packaged ones alone.
    Returns
    -------
    Drawer
        Frozen rows; a user's row of a known name stands in its place, new rows follow.
    Raises
    ------
    DocumentProblem
        With every fault of the user's tables: file, line, column, what stands there, what was expected.
    """
    problems: list[Problem] = []
    content: dict[str, tuple[Any, ...]] = {table.name: packaged(table) for table in TABLES}
    if user_folder is not None:
        for table in TABLES:
            content[table.name] = _overlaid(table, user_folder / _file_name(table), problems)
    if problems:
        raise DocumentProblem(problems)
    return Drawer(**content)


@cache
def packaged(table: Table) -> tuple[Any, ...]:
    """The packaged rows of one table."""
    return tuple(read_row(table, row) for row in tables.rows(f"drawer_{table.name}"))


def _file_name(table: Table) -> str:
    return f"drawer_{table.name}.csv"


def _overlaid(table: Table, path: Path, problems: list[Problem]) -> tuple[Any, ...]:
    rows = {row.name: row for row in packaged(table)}
    if path.exists():
        rows.update({row.name: row for row in _user_rows(table, path, problems)})
    return tuple(rows.values())


@dataclass(frozen=True, slots=True)
class _Record:
    """One record of a CSV: its first line, and each cell with the column at which it starts."""

    line: int
    cells: tuple[tuple[str, int], ...]


def _user_rows(table: Table, path: Path, problems: list[Problem]) -> list[Any]:
    records = _records(_text_of(path, problems) or "")
    if not records:
        return []
    header = [name.strip() for name, _ in records[0].cells]
    problems.extend(_header_problems(table, path.name, records[0]))
    found: dict[str, Any] = {}
    for record in records[1:]:
        row = _user_row(table, header, record)
        if isinstance(row, _Fault):
            problems.append(row.problem(path.name))
        elif row.name in found:
            twice = _Fault(record.line, 1, row.name, "this name stands twice", "a name of its own")
            problems.append(twice.problem(path.name))
        else:
            found[row.name] = row
    return list(found.values())


@dataclass(frozen=True, slots=True)
class _Fault:
    """What is wrong with one record."""

    line: int
    column: int
    item: str
    found: str
    expected: str
    nearest: str | None = None

    def problem(self, file: str) -> Problem:
        return Problem(file=file, line=self.line, column=self.column, item=self.item, found=self.found,
                       expected=self.expected, nearest=self.nearest)


def _text_of(path: Path, problems: list[Problem]) -> str | None:
    """The text of a user's table, or None and a problem."""
    try:
        if path.stat().st_size <= MOST_BYTES:
            return path.read_bytes().decode("utf-8-sig")
        fault = _Fault(0, 0, "", "more than 4 MB", "a table of the drawer")
    except OSError as error:
        fault = _Fault(0, 0, "", f"it cannot be read ({error.strerror})", "a file that you may read")
    except UnicodeDecodeError as error:
        fault = _Fault(0, 0, "", f"bytes at {error.start} that are not UTF-8 text", "a CSV saved as UTF-8")
    problems.append(fault.problem(path.name))
    return None


def _records(text: str) -> list[_Record]:
    """Records that are not empty."""
    reader = csv.reader(io.StringIO(text, newline=""))
    lines = io.StringIO(text, newline="").readlines()
    found, first = [], 1
    for cells in reader:
        if any(cell.strip() for cell in cells):
            starts = _starts(lines[first - 1])
            found.append(_Record(first, tuple(zip(cells, starts + [1] * len(cells), strict=False))))
        first = reader.line_num + 1
    return found


def _starts(line: str) -> list[int]:
    """Columns, from 1, at which the cells of a CSV line start."""
    starts, quoted = [1], False
    for place, letter in enumerate(line):
        if letter == '"':
            quoted = not quoted
        elif letter == "," and not quoted:
            starts.append(place + 2)
    return starts


def _header_problems(table: Table, file: str, record: _Record) -> list[Problem]:
    known = table.columns + EXTRA_COLUMNS
    problems = [
        Problem(file=file, line=record.line, column=column, item="", found=f"column '{name.strip()}' is not known",
                expected="a column of the packaged table", nearest=nearest_word(name, known))
        for name, column in record.cells if name.strip() not in known
    ]
    if "name" not in [name.strip() for name, _ in record.cells]:
        problems.append(_Fault(record.line, 1, "", "no column 'name'", "each row to have a name").problem(file))
    return problems


def _user_row(table: Table, header: list[str], record: _Record) -> Any:
    """The row of a record, or what is wrong with it."""
    values = {name: cell.strip() for name, (cell, _) in zip(header, record.cells, strict=False)}
    name = values.get("name", "")
    if len(record.cells) > len(header):
        return _Fault(record.line, 1, name, f"{len(record.cells)} cells",
                      f"{len(header)}, one a column; a cell with a comma stands in quotes")
    try:
        return read_row(table, {**_base(table, name), **values})
    except BadCell as error:
        columns = {title: column for title, (_, column) in zip(header, record.cells, strict=False)}
        place = columns.get(error.column, 1)
        return _Fault(record.line, place, name, f"{error.column} is {error.found}", error.expected, error.nearest)


def _base(table: Table, name: str) -> dict[str, str]:
    """What a user's row stands on: the packaged row of that name, or nothing but its source."""
    for row in packaged(table):
        if row.name == name:
            return {**cells_of(table, row), **USER_DEFAULTS}
    return dict(USER_DEFAULTS)


def add_row(table_name: str, values: Mapping[str, str], user_folder: Path) -> Path:
    """Put one row into the user's own table; a row of the same name is replaced.

    Parameters
    ----------
    table_name : str
        leds, fibres, strips, ...
    values : Mapping
        Cells by column. Columns left out come from the packaged row of that name, if there is one.
    user_folder : Path
        The user's configuration folder; made if absent.
    Returns
    -------
    Path
        The table that was written.
    Raises
    ------
    UnknownName
        If no such table or column exists.
    DocumentProblem
        If a cell cannot be read, or the user's table has faults already; nothing is written then.
    """
    table = table_named(table_name)
    for column in values:
        if column not in table.columns:
            raise UnknownName("column", column, table.columns)
    path = user_folder / _file_name(table)
    problems: list[Problem] = []
    rows = {row.name: row for row in (_user_rows(table, path, problems) if path.exists() else [])}
    new = _checked_row(table, values, path.name, problems)
    if problems:
        raise DocumentProblem(problems)
    rows[new.name] = new
    user_folder.mkdir(parents=True, exist_ok=True)
    write_atomic(path, _csv_text(table, list(rows.values())).encode())
    return path


def _checked_row(table: Table, values: Mapping[str, str], file: str, problems: list[Problem]) -> Any:
    try:
        return read_row(table, {**_base(table, values.get("name", "")), **values})
    except BadCell as error:
        problems.append(Problem(file=file, line=0, column=0, item=values.get("name", ""),
                                found=f"{error.column} is {error.found}", expected=error.expected,
                                nearest=error.nearest))
        return None


def _csv_text(table: Table, rows: list[Any]) -> str:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, table.columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(cells_of(table, row) for row in rows)
    return out.getvalue()
