"""Which lines of a document hold what: every key of the plan, and every item of its lists. Shifts with each change."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence as Many
from dataclasses import dataclass, replace
from itertools import accumulate

from rushlight.files._nodes import Mapping, Node, Sequence, Text, last_line
from rushlight.files.migrate import VERSION_KEY
from rushlight.model.plan import DOCUMENT_VERSION


@dataclass(frozen=True, slots=True)
class Lines:
    """First and last line, from 1; `flow` if what stands there is written in brackets."""

    first: int
    last: int
    flow: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """A key of the document with all that stands below it."""

    lines: Lines
    column: int
    items: tuple[Lines, ...] | None
    """Of a list with dashes, item by item; None for anything else."""


Layout = dict[str, Entry]
"""By key."""


@dataclass(frozen=True, slots=True)
class Cut:
    """Lines that give way to new ones; `last` before `first`: the new ones are put in before that line."""

    first: int
    last: int
    fresh: tuple[str, ...]

    @property
    def more(self) -> int:
        """By how many lines the document grows."""
        return len(self.fresh) - (self.last - self.first + 1)


def layout_of(root: Mapping) -> Layout | None:
    """The lines of a document as it was read; None where it cannot be changed line by line."""
    version = root.get(VERSION_KEY)
    if root.flow or not isinstance(version, Text) or version.value != str(DOCUMENT_VERSION):
        return None
    return {key.value: entry_of(key, node) for key, node in root.entries}


def entry_of(key: Text, node: Node) -> Entry:
    """The lines of a key and of the items below it."""
    items = None
    if isinstance(node, Sequence) and not node.flow and node.items:
        items = tuple(Lines(item.line, last_line(item), _flow(item)) for item in node.items)
    return Entry(Lines(key.line, max(key.line, last_line(node))), node.column, items)


def _flow(node: Node) -> bool:
    return isinstance(node, Mapping) and node.flow


def cut_lines(lines: Many[str], cuts: Many[Cut], end: str) -> list[str]:
    """The lines of a document after cuts that do not overlap."""
    done = list(lines)
    if done and not done[-1].endswith(("\n", "\r")):
        done[-1] += end
    for cut in sorted(cuts, key=lambda cut: -cut.first):
        done[cut.first - 1 : cut.last] = [line + end for line in cut.fresh]
    return done


class Shift:
    """By how much what no cut has touched moves down."""

    def __init__(self, cuts: Many[Cut]) -> None:
        ordered = sorted(cuts, key=lambda cut: (cut.first, cut.last))
        self._ends = [cut.last for cut in ordered]
        self._more = list(accumulate((cut.more for cut in ordered), initial=0))

    def line(self, line: int) -> int:
        """The new number of a line."""
        return line + self._more[bisect_right(self._ends, line - 1)]

    def lines(self, lines: Lines) -> Lines:
        """Where they lie now."""
        return moved(lines, self.line(lines.first) - lines.first)

    def entry(self, entry: Entry) -> Entry:
        """A key of which nothing was touched."""
        return moved_entry(entry, self.line(entry.lines.first) - entry.lines.first)


def moved(lines: Lines, down: int) -> Lines:
    """Lines so far down."""
    return replace(lines, first=lines.first + down, last=lines.last + down) if down else lines


def moved_entry(entry: Entry, down: int) -> Entry:
    """An entry so far down."""
    items = entry.items and tuple(moved(item, down) for item in entry.items)
    return replace(entry, lines=moved(entry.lines, down), items=items) if down else entry
