"""Writing plan.yaml: whole and canonical, or a few lamps more in the user's own layout."""

from __future__ import annotations

from collections.abc import Sequence as Many
from datetime import datetime
from pathlib import Path

from rushlight.errors import DocumentProblem
from rushlight.files import history
from rushlight.files._emit import dump_item, dump_plan, flow_item
from rushlight.files._events import read_nodes
from rushlight.files._faults import Faults
from rushlight.files._nodes import Mapping, Node, Sequence, Text, last_line
from rushlight.files.migrate import VERSION_KEY
from rushlight.files.pictures import picture_problems
from rushlight.files.plan_yaml import PLAN_FILE, ReadPlan, checksum, parse_plan
from rushlight.model.drawer import Drawer
from rushlight.model.plan import DOCUMENT_VERSION, Lamp, Plan
from rushlight.model.problem import Problem

__all__ = ["append_lamps", "dump_plan", "write_plan", "write_text"]


def write_plan(
    folder: Path, plan: Plan, *, expected_revision: str | None, what: str = "saved", now: datetime | None = None
) -> str:
    """Save a plan in canonical form as a new revision.

    Parameters
    ----------
    folder : Path
        The plan's folder; made if absent.
    plan : Plan
        What to save.
    expected_revision : str or None
        Checksum that `read_plan` gave; None: there is no plan yet.
    what : str
        What was done, for the history.
    now : datetime or None
        Time of the revision; None: the clock's.
    Returns
    -------
    str
        Checksum of the new document.
    Raises
    ------
    StaleRevision
        If plan.yaml changed since it was read; nothing is written.
    DocumentProblem
        If the disk refuses; the old plan is untouched.
    """
    return history.save(folder, dump_plan(plan).encode(), expected_revision=expected_revision, what=what, now=now)


def write_text(
    folder: Path, text: str, *, drawer: Drawer, expected_revision: str | None, what: str = "saved",
    now: datetime | None = None,
) -> ReadPlan:
    """Save a document as it was typed, if it reads without a problem.

    Parameters
    ----------
    folder, expected_revision, what, now
        As for `write_plan`.
    text : str
        The document.
    drawer : Drawer
        What it is read with.
    Returns
    -------
    ReadPlan
        As `read_plan` would give it now.
    Raises
    ------
    DocumentProblem
        With every problem of the document; nothing is written then.
    StaleRevision
        If plan.yaml changed since it was read; nothing is written.
    """
    plan = parse_plan(text, PLAN_FILE, drawer)
    data = text.encode()
    history.save(folder, data, expected_revision=expected_revision, what=what, now=now)
    return ReadPlan(plan, checksum(data), text, picture_problems(plan, folder))


def append_lamps(text: str, lamps: Many[Lamp], drawer: Drawer) -> str:
    """The document with lamps added to its list; comments and layout stay as they are.

    Parameters
    ----------
    text : str
        A document that reads without a problem.
    lamps : sequence of Lamp
        Lamps with new names.
    drawer : Drawer
        What the document is read with.
    Returns
    -------
    str
        The new document; it reads as the old plan with the lamps after its own.
    Raises
    ------
    DocumentProblem
        If the old or the new document has problems (a name that stands twice, say).
    """
    parse_plan(text, PLAN_FILE, drawer)
    if not lamps:
        return text
    faults = Faults(PLAN_FILE)
    root = read_nodes(text, faults)
    assert root is not None
    _of_this_version(root)
    new = _with_lamps(text, root, lamps)
    parse_plan(new, PLAN_FILE, drawer)
    return new


def _of_this_version(root: Mapping) -> None:
    """An old document may know other keys than the new lamps have."""
    version = root.get(VERSION_KEY)
    if isinstance(version, Text) and version.value != str(DOCUMENT_VERSION):
        raise DocumentProblem([Problem(
            file=PLAN_FILE, line=version.line, column=version.column, item="",
            found=f"a document of version {version.value}",
            expected=f"version {DOCUMENT_VERSION}; save the plan once to bring it up to date")])


def _with_lamps(text: str, root: Mapping, lamps: Many[Lamp]) -> str:
    node = root.get("lamps")
    if isinstance(node, Sequence) and not node.flow:
        return _after_block(text, node, lamps)
    if isinstance(node, Sequence):
        return _in_brackets(text, node, lamps)
    if root.flow:
        raise DocumentProblem([Problem(file=PLAN_FILE, line=root.line, column=root.column, item="",
                                       found="a plan in braces", expected="one key a line, to add lamps to")])
    return _new_list(text, node, root, lamps)


def _after_block(text: str, node: Sequence, lamps: Many[Lamp]) -> str:
    indent = " " * (node.column - 1)
    return _inserted(text, last_line(node), [line for lamp in lamps for line in dump_item(lamp, indent)])


def _in_brackets(text: str, node: Sequence, lamps: Many[Lamp]) -> str:
    before = text[: node.end].rstrip()
    joint = "" if before.endswith(("[", ",")) else ","
    more = ",\n  ".join(flow_item(lamp) for lamp in lamps)
    return f"{before}{joint}\n  {more}{text[node.end:]}"


def _new_list(text: str, empty: Node | None, root: Mapping, lamps: Many[Lamp]) -> str:
    """A list where there is none; an empty key `lamps:` gets it below itself."""
    items = [line for lamp in lamps for line in dump_item(lamp, "  ")]
    if isinstance(empty, Text) and not empty.value:
        key = root.key("lamps")
        return _inserted(text, key.line if key else last_line(root), items)
    if empty is not None:
        lines = text.splitlines(keepends=True)
        kept = lines[empty.line - 1]
        lines[empty.line - 1] = kept[: empty.column - 1] + kept[empty.column - 1 :].replace(empty_text(empty), "", 1)
        return _inserted("".join(lines), empty.line, items)
    indent = " " * (root.column - 1)
    return _inserted(text, last_line(root), [f"{indent}lamps:", *(indent + item for item in items)])


def empty_text(node: Node) -> str:
    """The word that stands for nothing (null, ~)."""
    return node.value if isinstance(node, Text) else ""


def _inserted(text: str, after_line: int, new: list[str]) -> str:
    """The text with lines put in after a line, with the line ends that the text has."""
    end = "\r\n" if "\r\n" in text else "\n"
    lines = text.splitlines(keepends=True)
    if lines and not lines[after_line - 1].endswith(("\n", "\r")):
        lines[after_line - 1] += end
    lines[after_line:after_line] = [line + end for line in new]
    return "".join(lines)
