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
        "--bands", nargs="+", metavar="COLOUR", default=None,
        help="say a resistor's value by its four or five colours, the one that stands apart last",
    )
    command.add_argument(
        "--add", nargs="+", metavar="COLUMN=VALUE", default=None,
        help="add a row of your own, or your own values for a row of that name",
    )


def bands_words(colours: list[str]) -> list[str]:
    """What a resistor's bands say, for the terminal."""
    from rushlight.electric.resistor_bands import read_bands

    read = read_bands([word for text in colours for word in text.replace(",", " ").split()])
    off = read.tolerance
    lines = [f"{_ohms(read.ohm)}, {100 * off:g} %: {_ohms(read.ohm * (1 - off))} to {_ohms(read.ohm * (1 + off))}."]
    if read.other_way:
        lines.append(f"No series has that value. From the other end it is {_ohms(read.other_way.ohm)}, "
                     f"{100 * read.other_way.tolerance:g} %: more likely.")
    elif read.series is None:
        lines.append("No series has that value: look once more, or measure it at ohm, out of the circuit.")
    else:
        lines.append(f"A value of {read.series}.")
    return lines


def _ohms(ohm: float) -> str:
    unit, size = next((row for row in (("Gohm", 1e9), ("Mohm", 1e6), ("kohm", 1e3)) if ohm >= row[1]), ("ohm", 1.0))
    return f"{ohm / size:.4g} {unit}"


def drawer(asked: argparse.Namespace) -> int:
    """`rushlight drawer [TABLE] [WORDS]`."""
    from rushlight.files.drawer_csv import own_folder, read_drawer

    if asked.bands is not None:
        print("\n".join(bands_words(asked.bands)))
        return 0
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
