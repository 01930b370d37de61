"""Exceptions: a caller's mistake or our own bug, never a fault of the user's plan.

    RushlightError
    +-- OutOfRange        an argument lies outside the range in which a law holds
    +-- UnknownName       a name that no table or plan holds; carries the nearest known one
    +-- TableError        a packaged or a user's table has a row that cannot be read
    +-- DocumentProblem   a document could not be read; carries every problem found in it
    +-- StaleRevision     the document on disk is not the one that was read
    +-- Clash             an item was changed in two places since it was read
    +-- MissingTool       something outside the package is needed and absent

Trouble in a plan is a Problem (model/problem.py), trouble in a build is a Finding (model/finding.py).
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rushlight.model.problem import Problem


def nearest_word(word: str, known: Iterable[str]) -> str | None:
    """The known word most like `word`, or None when none is near."""
    folded = {name.casefold(): name for name in known}
    close = difflib.get_close_matches(word.casefold(), list(folded), n=1, cutoff=0.5)
    return folded[close[0]] if close else None


def known_words(names: Sequence[str], most: int = 12) -> str:
    """Names as a list to choose from: one that holds a comma in quotes, and how many are left out."""
    quoted = [f"'{name}'" if "," in name else name for name in names[:most]]
    return ", ".join(quoted) + (f" and {len(names) - most} more" if len(names) > most else "")


class RushlightError(Exception):
    """Root of every exception that rushlight raises on purpose."""


class OutOfRange(RushlightError):
    """An argument lies outside the range in which a law holds."""

    def __init__(self, name: str, value: object, expected: str) -> None:
        super().__init__(f"{name} is {value}; expected {expected}")
        self.name = name
        self.value = value
        self.expected = expected


class UnknownName(RushlightError):
    """A name that is not in a table; the nearest known one is named."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        names = sorted(known)
        near = nearest_word(name, names)
        hint = f" Did you mean '{near}'?" if near else f" Known: {known_words(names)}."
        super().__init__(f"{what} '{name}' is not known.{hint}")
        self.nearest = near


class TableError(RushlightError):
    """A row of a table cannot be read."""

    def __init__(self, table: str, row: int, found: str, expected: str) -> None:
        super().__init__(f"{table} row {row}: found {found}; expected {expected}")


class DocumentProblem(RushlightError):
    """A document has problems; all of them are carried, in order of place."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = tuple(problems)


class StaleRevision(RushlightError):
    """The document on disk has changed since it was read."""

    def __init__(self, file: str) -> None:
        super().__init__(f"{file} was changed elsewhere since it was read; nothing was written")


class Clash(RushlightError):
    """Items were changed elsewhere since they were read; nothing was written."""

    def __init__(self, items: Sequence[str]) -> None:
        super().__init__(f"changed elsewhere since it was read: {', '.join(items)}; nothing was written")
        self.items = tuple(items)


class MissingTool(RushlightError):
    """Something outside the package is needed and absent."""

    def __init__(self, tool: str, cure: str) -> None:
        super().__init__(f"{tool} is needed; {cure}")
