"""A problem: the document is wrong. A value, never raised one by one."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault of a document: where it stands, what was found, what was expected.

    `line` and `column` count from 1; 0 when the fault has no place in the text.
    """

    file: str
    line: int
    column: int
    item: str
    found: str
    expected: str
    nearest: str | None = None

    def __str__(self) -> str:
        place = f"{self.file} line {self.line}, column {self.column}" if self.line else self.file
        item = f", {self.item}" if self.item else ""
        hint = f" Did you mean '{self.nearest}'?" if self.nearest else ""
        return f"{place}{item}: {self.found}; expected {self.expected}.{hint}"
