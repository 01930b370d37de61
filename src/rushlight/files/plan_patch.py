"""A changed plan in the user's own layout: only what changed is written anew, comments elsewhere stay."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rushlight.errors import DocumentProblem
from rushlight.files._emit import _entry, dump_item, dump_plan, flow_item
from rushlight.files._events import read_nodes
from rushlight.files._faults import Faults
from rushlight.files._nodes import Mapping, Node, Sequence, Text, last_line
from rushlight.files.migrate import VERSION_KEY
from rushlight.files.plan_yaml import PLAN_FILE, parse_plan
from rushlight.model.drawer import Drawer
from rushlight.model.plan import DOCUMENT_VERSION, Plan
from rushlight.model.schema import keys_of

WIDEST = 118

Cut = tuple[int, int, list[str]]
"""First line and last line, from 1, that give way to new lines; last before first: put in before it."""


class _NotInPlace(Exception):
    """The change cannot be written into the old layout."""


@dataclass(frozen=True, slots=True)
class ChangedText:
    """A document and the plan that it reads as."""

    text: str
    plan: Plan


def changed_text(text: str, old: Plan, new: Plan, drawer: Drawer) -> ChangedText:
    """The document of a changed plan.

    Parameters
    ----------
    text : str
        The document as it stands.
    old : Plan
        What it reads as.
    new : Plan
        What it shall read as.
    drawer : Drawer
        What it is read with.
    Returns
    -------
    ChangedText
        The old layout with the changed items written anew; the canonical layout where that is not possible.
    Raises
    ------
    DocumentProblem
        If the new plan has problems.
    """
    try:
        patched = _patched(text, old, new)
        plan = parse_plan(patched, PLAN_FILE, drawer)
        if plan == new:
            return ChangedText(patched, plan)
    except (_NotInPlace, DocumentProblem):
        pass
    whole = dump_plan(new)
    return ChangedText(whole, parse_plan(whole, PLAN_FILE, drawer))


def _patched(text: str, old: Plan, new: Plan) -> str:
    root = read_nodes(text, Faults(PLAN_FILE))
    if root is None or root.flow or not _of_this_version(root):
        raise _NotInPlace
    lines = text.splitlines(keepends=True)
    end = "\r\n" if "\r\n" in text else "\n"
    if lines and not lines[-1].endswith(("\n", "\r")):
        lines[-1] += end
    for first, last, fresh in sorted(_cuts(root, old, new, len(lines)), key=lambda cut: -cut[0]):
        lines[first - 1 : last] = [line + end for line in fresh]
    return "".join(lines)


def _of_this_version(root: Mapping) -> bool:
    version = root.get(VERSION_KEY)
    return isinstance(version, Text) and version.value == str(DOCUMENT_VERSION)


def _cuts(root: Mapping, old: Plan, new: Plan, lines: int) -> Iterator[Cut]:
    for field in keys_of(Plan):
        was, now = getattr(old, field.name), getattr(new, field.name)
        if was == now:
            continue
        node = root.get(field.name)
        if isinstance(node, Sequence) and not node.flow and node.items and now and hasattr(was[0], "name"):
            yield from _list_cuts(node, was, now)
        else:
            yield _whole_cut(root, field, now, lines)


def _whole_cut(root: Mapping, field: Any, now: Any, lines: int) -> Cut:
    """A key of the document with all that stands below it."""
    fresh = [] if now == field.default else list(_entry(field.name, field.metadata["kind"], now, ""))
    key, node = root.key(field.name), root.get(field.name)
    if key is None or node is None:
        return lines + 1, lines, fresh
    return key.line, max(key.line, last_line(node)), fresh


def _list_cuts(node: Sequence, was: tuple[Any, ...], now: tuple[Any, ...]) -> Iterator[Cut]:
    """Items by name; a list of the same length item by item, so that a new name keeps its place."""
    if len(node.items) != len(was):
        raise _NotInPlace
    indent = " " * (node.column - 1)
    kept = now if len(now) == len(was) else _aligned(was, now)
    for place, old, new in zip(node.items, was, kept, strict=True):
        if old != new:
            yield place.line, last_line(place), [] if new is None else _item_lines(new, indent, place)
    if len(now) != len(was):
        yield from _added_cuts(node, was, now)


def _aligned(was: tuple[Any, ...], now: tuple[Any, ...]) -> tuple[Any, ...]:
    """For each old item the new one of that name, or None where it went."""
    by_name = {item.name: item for item in now}
    return tuple(by_name.get(item.name) for item in was)


def _added_cuts(node: Sequence, was: tuple[Any, ...], now: tuple[Any, ...]) -> Iterator[Cut]:
    """New items behind the old one that they follow."""
    indent = " " * (node.column - 1)
    lines = {item.name: last_line(place) for item, place in zip(was, node.items, strict=True)}
    after, like = node.items[0].line - 1, node.items[-1]
    fresh: dict[int, list[str]] = {}
    for item in now:
        if item.name in lines:
            after = lines[item.name]
        else:
            fresh.setdefault(after, []).extend(_item_lines(item, indent, like))
    for line, added in fresh.items():
        yield line + 1, line, added


def _item_lines(item: Any, indent: str, like: Node) -> list[str]:
    """One line in braces where the old one was in braces and it fits; else one key a line."""
    if isinstance(like, Mapping) and like.flow:
        line = f"{indent}- {flow_item(item)}"
        if len(line) <= WIDEST:
            return [line]
    return list(dump_item(item, indent))
