"""`rushlight drawer`: list parts, filter them, add one's own."""

from __future__ import annotations

import argparse
from dataclasses import fields
from typing import Any

from rushlight.errors import UnknownName
from rushlight.files._drawer_rows import TABLES
from rushlight.units import Range

HIDDEN = ("source", "confidence")


def add_arguments(command: Any) -> None:
    """Words of the command."""
    command.add_argument("table", nargs="?", default=None, help="leds, fibres, strips, wires, tubes, cells, ...")
    command.add_argument("words", nargs="*", help="show rows that hold all these words")
    command.add_argument("--sources", action="store_true", help="show where each row comes from")
    command.add_argument(
        "--add", nargs="+", metavar="COLUMN=VALUE", default=None,
        help="add a row of your own, or your own values for a row of that name",
    )


def drawer(asked: argparse.Namespace) -> int:
    """`rushlight drawer [TABLE] [WORDS]`."""
    from rushlight.files.drawer_csv import own_folder, read_drawer

    if asked.add is not None:
        return _add(asked)
    parts = read_drawer(own_folder())
    if asked.table is None:
        for table in TABLES:
            print(f"{table.name:<12} {len(getattr(parts, table.name)):>4} rows")
        print(f"\nYour own rows are kept in {own_folder()}")
        return 0
    known = [table.name for table in TABLES]
    if asked.table not in known:
        raise UnknownName("table of the drawer", asked.table, known)
    rows = [row for row in getattr(parts, asked.table) if _holds(row, asked.words)]
    for row in rows:
        print(_shown(row, sources=asked.sources))
    print(f"{len(rows)} of {len(getattr(parts, asked.table))} rows")
    return 0


def _add(asked: argparse.Namespace) -> int:
    from rushlight.files.drawer_csv import add_row, own_folder

    pairs = [word.partition("=") for word in asked.add]
    values = {column: value for column, _, value in pairs}
    if asked.table is None or "name" not in values or not all(mark for _, mark, _ in pairs):
        raise UnknownName("row", " ".join(asked.add), ["TABLE --add name=... column=value ..."])
    path = add_row(asked.table, values, own_folder())
    print(f"Added '{values['name']}' to {path}")
    return 0


def _holds(row: Any, words: list[str]) -> bool:
    text = " ".join(_cell(getattr(row, field.name)) for field in fields(row)).casefold()
    return all(word.casefold() in text for word in words)


def _shown(row: Any, *, sources: bool) -> str:
    cells = [
        f"{field.name} {_cell(getattr(row, field.name))}"
        for field in fields(row)
        if field.name != "name" and field.name not in HIDDEN and getattr(row, field.name) is not None
    ]
    text = f"{row.name}\n    {'; '.join(cells)}"
    return f"{text}\n    source: {row.source}" if sources else text


def _cell(value: object) -> str:
    if isinstance(value, Range):
        return f"{value.low:g} .. {value.typical:g} .. {value.high:g}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)
