"""Reference pages made from the code: every key of the plan document, every table of the drawer."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import MISSING
from pathlib import Path
from typing import Any

from rushlight.files._drawer_rows import TABLES, Table
from rushlight.files._emit import flow_value
from rushlight.files._events import DEEPEST, MOST_BYTES
from rushlight.files._words import item_word, kind_in_words
from rushlight.files.migrate import MIGRATIONS, VERSION_KEY
from rushlight.model.plan import DOCUMENT_VERSION, Plan
from rushlight.model.schema import Kind, keys_of
from rushlight.tables import rows

_INTRO = f"""\
# The plan document

Made from the code; do not edit. A plan is a folder with `plan.yaml`, `pictures/` and `history.db`.

- The first line is `{VERSION_KEY}: {DOCUMENT_VERSION}`.
- A number alone is in the unit that its key ends in; another unit may stand behind it: `3 mm`, `0.3 cm`, `1/8 in`,
  `1 1/2"`, `20 mA`, `90 min`. Decimals have a point.
- Places are in millimetres on each part's own plane, x to the right, y up, seen as the part is drawn.
- An unknown key, a name that stands twice and a name that nothing has are problems. All problems of a file are told at
  once, each with its line and column, and nothing is read half.
- No anchors, aliases, tags; one document; at most {DEEPEST} levels and {MOST_BYTES / 1e6:g} MB.
- Every item of a list that stands by itself may carry a `note`.
"""


def plan_reference() -> str:
    """The page docs/generated/plan.md: every key, what it may hold, what it is when left out, what it means.

    Returns
    -------
    str
        Markdown, the same for the same code.
    """
    sections = [_section(item) for item in _items(Plan)]
    return "\n".join([_INTRO, *sections, _units(), _versions()])


def _items(root: type) -> tuple[type, ...]:
    """Every kind of item, each once, in the order in which the document meets them."""
    found: dict[type, None] = {root: None}
    waiting = [root]
    while waiting:
        kinds = [field.metadata["kind"].item for field in keys_of(waiting.pop(0))]
        new = [kind for kind in kinds if kind is not None and kind not in found]
        found.update(dict.fromkeys(new))
        waiting.extend(new)
    return tuple(found)


def _section(item: type) -> str:
    title = "The document" if item is Plan else item_word(item).capitalize()
    says = (item.__doc__ or "").strip().splitlines()[0]
    head = [f"## {title}", "", says, "", "| key | may hold | left out | means |", "| --- | --- | --- | --- |"]
    return "\n".join([*head, *(_row(field) for field in keys_of(item))]) + "\n"


def _row(field: dataclasses.Field[Any]) -> str:
    kind: Kind = field.metadata["kind"]
    cells = (f"`{field.name}`", _may_hold(kind), _left_out(field, kind), field.metadata["doc"])
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _may_hold(kind: Kind) -> str:
    if kind.item is None:
        return kind_in_words(kind)
    word = item_word(kind.item)
    link = f"[{word}](#{word.replace(' ', '-')})"
    return link if kind.name == "item" else f"a list of: {link}"


def _left_out(field: dataclasses.Field[Any], kind: Kind) -> str:
    value = field.default
    if value is MISSING:
        return "**must stand**"
    if value is None or value in ("", ()) or dataclasses.is_dataclass(value):
        return "nothing"
    return f"`{flow_value(kind, value)}`"


def _units() -> str:
    head = ["## Units", "", "| measures | words |", "| --- | --- |"]
    lines = (f"| {measure} | {', '.join(f'`{word}`' for word in words)} |" for measure, words in _words_by_measure())
    return "\n".join([*head, *lines]) + "\n"


def _words_by_measure() -> Iterator[tuple[str, list[str]]]:
    found: dict[str, list[str]] = {}
    for row in rows("unit_words"):
        found.setdefault(row["dimension"], []).append(row["word"])
    yield from found.items()


def _versions() -> str:
    lines = (f"- {step.version} to {step.version + 1}: {step.what}." for step in MIGRATIONS)
    return "\n".join(["## Versions of the document", "", *lines]) + "\n"


def write_pages(folder: Path) -> tuple[Path, ...]:
    """Write both pages anew; their paths are returned."""
    pages = {"plan.md": plan_reference(), "drawer.md": drawer_reference()}
    for name, text in pages.items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
    return tuple(folder / name for name in pages)


def drawer_reference() -> str:
    """The page docs/generated/drawer.md: every packaged row, and the columns that a user's own table may have.

    Returns
    -------
    str
        Markdown, the same for the same code and tables.
    """
    intro = ("# The drawer\n\nMade from the tables; do not edit. Your own rows go into files of the same names in your "
             "configuration folder; a row\nof the same name replaces the one here, and keeps its values in columns "
             "that you leave out.\n")
    return "\n".join([intro, *(_table(table) for table in TABLES)])


def _table(table: Table) -> str:
    columns = ", ".join(f"`{column}`" for column in table.columns)
    names = (f"- {row['name']}" for row in rows(f"drawer_{table.name}"))
    return "\n".join([f"## {table.name.capitalize()}", "", f"`drawer_{table.name}.csv`: {columns}", "", *names]) + "\n"


if __name__ == "__main__":
    write_pages(Path("docs/generated"))
