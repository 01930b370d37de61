"""A changed plan in the user's own layout: only what changed is written anew, comments elsewhere stay.

Only the pieces that change are read: the old piece by itself must read as the old items and the new one as the new
items, and then the whole document reads as the new plan. Where that does not hold, the whole is written anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

from rushlight.errors import DocumentProblem
from rushlight.files._convert import Converter
from rushlight.files._drafts import Draft, built
from rushlight.files._emit import _entry as emitted
from rushlight.files._emit import dump_item, dump_plan, flow_item
from rushlight.files._events import MOST_BYTES, read_nodes
from rushlight.files._faults import Faults
from rushlight.files._layout import Cut, Entry, Layout, Lines, Shift, cut_lines, entry_of, moved, moved_entry
from rushlight.files.plan_yaml import PLAN_FILE, Document, check_draft, parse_document
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.model.schema import keys_of

WIDEST = 118
_MARKER = re.compile(r"^(---|\.\.\.)", re.MULTILINE)


class _NotInPlace(Exception):
    """The change cannot be written into the old layout."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """Lines that change, with the values that the old ones must read as and the new ones shall."""

    cut: Cut
    old: tuple[Any, ...]
    new: tuple[Any, ...]
    after: Lines | None = None
    """The lines of `old` where the cut only puts something in behind them."""


@dataclass(frozen=True, slots=True)
class _Change:
    """One key of the plan whose value changed."""

    key: Any
    was: Any
    now: Any
    entry: Entry | None
    pieces: tuple[_Piece, ...]
    listed: bool
    """Whether the pieces are items of its list; else the piece is the key with all below it."""


@dataclass(frozen=True, slots=True)
class _Read:
    """A piece as read by itself: drafts or value, and the lines of its items from its own first line."""

    value: Any
    entry: Entry


@dataclass(slots=True)
class _Taken:
    """The items of one key by name: their drafts, and their lines in the new text."""

    drafts: dict[str, Draft] = field(default_factory=dict)
    lines: dict[str, Lines] = field(default_factory=dict)


def changed_document(document: Document, new: Plan, drawer: Drawer) -> Document:
    """The document of a changed plan.

    Parameters
    ----------
    document : Document
        As it stands.
    new : Plan
        What it shall read as.
    drawer : Drawer
        What it is read with.
    Returns
    -------
    Document
        The old layout with the changed items written anew; the canonical layout where that is not possible.
    Raises
    ------
    DocumentProblem
        If the new plan has problems.
    """
    try:
        return _patched(document, new, drawer)
    except (_NotInPlace, DocumentProblem):
        return parse_document(dump_plan(new), PLAN_FILE, drawer)


def _patched(document: Document, new: Plan, drawer: Drawer) -> Document:
    if document.layout is None or _MARKER.search(document.text):
        raise _NotInPlace
    lines = document.text.splitlines(keepends=True)
    changes = list(_changes(document, new, len(lines)))
    cuts = [piece.cut for change in changes for piece in change.pieces]
    if sum(cut.first > len(lines) for cut in cuts) > 1:
        raise _NotInPlace  # two new keys at one place
    end = "\r\n" if "\r\n" in document.text else "\n"
    text = "".join(cut_lines(lines, cuts, end))
    if len(text.encode()) > MOST_BYTES:
        raise _NotInPlace
    shift = Shift(cuts)
    values = dict(document.draft.values)
    layout = {key: shift.entry(entry) for key, entry in document.layout.items()}
    for change in changes:
        _take(change, lines, shift, values=values, layout=layout)
    draft = replace(document.draft, values=values)
    faults = Faults(PLAN_FILE)
    check_draft(draft, drawer, faults)
    if faults.count:
        raise _NotInPlace  # the whole is read, for the places of its problems
    return Document(text, new, draft, layout)


# --- which lines change -------------------------------------------------------------------------------------------


def _changes(document: Document, new: Plan, lines: int) -> Iterator[_Change]:
    layout = document.layout or {}
    for key in keys_of(Plan):
        was, now = getattr(document.plan, key.name), getattr(new, key.name)
        if was is now or was == now:
            continue
        entry = layout.get(key.name)
        if entry is not None and entry.items and now and hasattr(was[0], "name"):
            if len(entry.items) != len(was):
                raise _NotInPlace
            kind = key.metadata["kind"]
            if not kind.least <= len(now) <= kind.most:
                raise _NotInPlace
            yield _Change(key, was, now, entry, tuple(_item_pieces(entry, was, now)), listed=True)
        else:
            yield _Change(key, was, now, entry, (_whole_piece(key, entry, was, now=now, lines=lines),), listed=False)


def _whole_piece(key: Any, entry: Entry | None, was: Any, *, now: Any, lines: int) -> _Piece:
    """A key of the document with all that stands below it; at the document's end where it is new."""
    fresh = () if now == key.default else tuple(emitted(key.name, key.metadata["kind"], now, ""))
    new = () if now == key.default else (now,)
    if entry is None:
        return _Piece(Cut(lines + 1, lines, fresh), (), new)
    return _Piece(Cut(entry.lines.first, entry.lines.last, fresh), (was,), new)


def _item_pieces(entry: Entry, was: tuple[Any, ...], now: tuple[Any, ...]) -> Iterator[_Piece]:
    """Items by name; a list of the same length item by item, so that a new name keeps its place."""
    indent = " " * (entry.column - 1)
    kept = now if len(now) == len(was) else _aligned(was, now)
    for place, old, new in zip(entry.items or (), was, kept, strict=True):
        if old is not new and old != new:
            fresh = () if new is None else tuple(_item_lines(new, indent, place.flow))
            yield _Piece(Cut(place.first, place.last, fresh), (old,), () if new is None else (new,))
    if len(now) != len(was):
        yield from _added_pieces(entry, was, now)


def _aligned(was: tuple[Any, ...], now: tuple[Any, ...]) -> tuple[Any, ...]:
    """For each old item the new one of that name, or None where it went."""
    by_name = {item.name: item for item in now}
    return tuple(by_name.get(item.name) for item in was)


def _added_pieces(entry: Entry, was: tuple[Any, ...], now: tuple[Any, ...]) -> Iterator[_Piece]:
    """New items behind the old one that they follow; before all of them where they come first."""
    items = entry.items or ()
    indent, like = " " * (entry.column - 1), items[-1].flow
    places = {item.name: place for place, item in enumerate(was)}
    behind, added = -1, dict[int, list[Any]]()
    for item in now:
        if item.name in places:
            behind = places[item.name]
        else:
            added.setdefault(behind, []).append(item)
    for place, new in added.items():
        fresh = tuple(line for item in new for line in _item_lines(item, indent, like))
        if place < 0:
            yield _Piece(Cut(items[0].first, items[0].first - 1, fresh), (), tuple(new))
        else:
            lines = items[place]
            yield _Piece(Cut(lines.last + 1, lines.last, fresh), (was[place],), tuple(new), after=lines)


def _item_lines(item: Any, indent: str, flow: bool) -> list[str]:
    """One line in braces where the old one was in braces and it fits; else one key a line."""
    if flow:
        line = f"{indent}- {flow_item(item)}"
        if len(line) <= WIDEST:
            return [line]
    return list(dump_item(item, indent))


# --- the changed pieces, read -------------------------------------------------------------------------------------


def _take(
    change: _Change, lines: Sequence[str], shift: Shift, *, values: dict[str, Any], layout: Layout
) -> None:
    """Put what the new pieces read as into the values, and where they stand into the layout."""
    if change.listed:
        _take_items(change, lines, shift, values=values, layout=layout)
        return
    (piece,) = change.pieces
    key = change.key.name
    _read(change, [line.rstrip("\r\n") for line in lines[piece.cut.first - 1 : piece.cut.last]], piece.old)
    read = _read(change, piece.cut.fresh, piece.new)
    values.pop(key, None)
    layout.pop(key, None)
    if read is not None:
        values[key] = read.value
        put_in = 0 if piece.old else len(piece.cut.fresh)
        layout[key] = moved_entry(read.entry, shift.line(piece.cut.first) - put_in - 1)


def _take_items(
    change: _Change, lines: Sequence[str], shift: Shift, *, values: dict[str, Any], layout: Layout
) -> None:
    key, entry = change.key.name, change.entry
    assert entry is not None and entry.items is not None
    names = [item.name for item in change.was]
    known = _Taken(
        dict(zip(names, values[key], strict=True)),
        {name: shift.lines(place) for name, place in zip(names, entry.items, strict=True)},
    )
    for piece in change.pieces:
        old = piece.after or Lines(piece.cut.first, piece.cut.last)
        _read(change, [line.rstrip("\r\n") for line in lines[old.first - 1 : old.last]], piece.old)
        read = _read(change, piece.cut.fresh, piece.new)
        if read is not None:
            first = shift.line(piece.cut.first) - (len(piece.cut.fresh) if piece.after or not piece.old else 0)
            _put(known, piece, read, first)
    values[key] = tuple(known.drafts[item.name] for item in change.now)
    places = tuple(known.lines[item.name] for item in change.now)
    if any(one.last >= other.first for one, other in pairwise(places)):
        raise _NotInPlace  # another order than that of the text
    whole = Lines(shift.line(entry.lines.first), max(place.last for place in places))
    layout[key] = Entry(whole, entry.column, places)


def _put(known: _Taken, piece: _Piece, read: _Read, first: int) -> None:
    for item, draft, place in zip(piece.new, read.value, read.entry.items or (), strict=True):
        known.drafts[item.name] = draft
        known.lines[item.name] = moved(place, first - 2)  # its own first line is the second of what was read


def _read(change: _Change, lines: Sequence[str], shall: tuple[Any, ...]) -> _Read | None:
    """A piece by itself, which must read as it shall; None for no piece."""
    if not shall:
        if any(line.strip() for line in lines):
            raise _NotInPlace
        return None
    name, faults = change.key.name, Faults(PLAN_FILE)
    text = "\n".join([f"{name}:", *lines] if change.listed else lines) + "\n"
    root = read_nodes(text, faults)
    node = root.get(name) if root is not None and len(root.entries) == 1 else None
    value = None if node is None or root is None else Converter(faults).value_of_key(Plan, name, node)
    if faults.count or node is None or root is None or built(value) != (shall if change.listed else shall[0]):
        raise _NotInPlace
    key = root.key(name)
    assert key is not None
    return _Read(value, entry_of(key, node))
