"""Collecting problems: where, what stands there, what was expected; bounded in number and length."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from typing import Protocol

from rushlight.errors import DocumentProblem, nearest_word
from rushlight.model.problem import Problem

MOST_PROBLEMS = 100
MOST_WORDS = 2_000
LONGEST_SHOWN = 60


class Place(Protocol):
    """Anything with a line and a column."""

    @property
    def line(self) -> int: ...
    @property
    def column(self) -> int: ...


def shown(text: str) -> str:
    """A text of the user as it is quoted in a problem: in quotes, on one line, not too long."""
    safe = "".join(letter if letter.isprintable() else " " for letter in text[: LONGEST_SHOWN + 1])
    return f"'{safe}'" if len(safe) <= LONGEST_SHOWN else f"'{safe[:LONGEST_SHOWN]}...'"


class Faults:
    """The problems of one document; after the hundredth they are counted, not kept."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.count = 0
        self._kept: list[Problem] = []

    def add(
        self, place: Place | None, item: str, found: str, expected: str, *,
        word: str | None = None, known: Iterable[str] = (),
    ) -> None:
        """One problem more; `word` and `known` ask for the nearest known word."""
        self.count += 1
        if self.count > MOST_PROBLEMS:
            return
        nearest = nearest_word(word[:80], islice(known, MOST_WORDS)) if word else None
        line, column = (place.line, place.column) if place else (0, 0)
        self._kept.append(Problem(file=self.file, line=line, column=column, item=item, found=found,
                                  expected=expected, nearest=nearest))

    @property
    def full(self) -> bool:
        """Whether further problems are only counted."""
        return self.count >= MOST_PROBLEMS

    def all(self) -> tuple[Problem, ...]:
        """The problems in order of place, and how many more there are."""
        kept = sorted(self._kept, key=lambda problem: (problem.line, problem.column))
        if self.count > MOST_PROBLEMS:
            kept.append(Problem(file=self.file, line=0, column=0, item="",
                                found=f"{self.count - MOST_PROBLEMS} problems more", expected="none"))
        return tuple(kept)

    def raise_any(self) -> None:
        """Raise them all, if there are any."""
        if self.count:
            raise DocumentProblem(self.all())
