"""Reading plan.yaml: all problems at once, with their places, or the plan. Nothing is ever half loaded."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from rushlight.errors import DocumentProblem
from rushlight.files._convert import Converter
from rushlight.files._drafts import Draft, build
from rushlight.files._events import MOST_BYTES, decoded, read_nodes
from rushlight.files._faults import Faults
from rushlight.files._layout import Layout, layout_of
from rushlight.files._paths import PLAN_FILE, checksum, plan_path
from rushlight.files._refs import check_references
from rushlight.files._rules import check_rules
from rushlight.files._shapes import check_shapes
from rushlight.files.history import notice
from rushlight.files.migrate import up_to_date
from rushlight.files.pictures import picture_problems
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.model.problem import Problem

__all__ = [
    "PLAN_FILE", "Document", "ReadPlan", "check_draft", "checksum", "parse_document", "parse_plan", "plan_path",
    "read_plan",
]


@dataclass(frozen=True, slots=True)
class Document:
    """A plan with the text that it was read from, its drafts, and where they stand in the text."""

    text: str
    plan: Plan
    draft: Draft
    """Its values are those of `plan`; lines in it are right only for the text that it was first read from."""
    layout: Layout | None
    """None where the text is of an older version or cannot be changed line by line."""


@dataclass(frozen=True, slots=True)
class ReadPlan:
    """A plan as read: with the checksum of the bytes on disk, the text that they hold, and what is wrong with pictures.

    A picture that is missing or broken stops nothing: the plan is whole without it, but its problem is told.
    """

    plan: Plan
    revision_checksum: str
    text: str
    pictures: tuple[Problem, ...] = ()
    document: Document | None = field(default=None, compare=False, repr=False)
    """What the next change builds on, so that it need not read all again; None: it reads."""


def read_plan(folder: Path, drawer: Drawer, *, remember: bool = False) -> ReadPlan:
    """The plan in a folder.

    Parameters
    ----------
    folder : Path
        The plan's folder; a path of its plan.yaml does as well.
    drawer : Drawer
        What the plan's LEDs, strips, cells, walls, coats and diffusers are looked up in.
    remember : bool
        Whether an edit made outside is recorded in history.db (where the folder can be written).
    Returns
    -------
    ReadPlan
        The plan, the checksum that a later save must carry, the text, the problems of its pictures.
    Raises
    ------
    DocumentProblem
        With every problem of the document, in order of place.
    """
    path = plan_path(folder)
    data = _bytes_of(path)
    document = parse_document(data, path.name, drawer)
    if remember and path.name == PLAN_FILE:
        notice(path.parent)
    plan = document.plan
    return ReadPlan(plan, checksum(data), document.text, picture_problems(plan, path.parent), document)


def _bytes_of(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        found, expected = "no such file", "a folder with a plan.yaml in it"
    except OSError as error:
        found, expected = f"it cannot be read ({error.strerror})", "a file that you may read"
    raise DocumentProblem([Problem(file=str(path), line=0, column=0, item="", found=found, expected=expected)])


def parse_plan(text: str | bytes, file_name: str, drawer: Drawer) -> Plan:
    """The plan that a document holds.

    Parameters
    ----------
    text : str or bytes
        The document: YAML 1.2 without anchors, aliases, tags; at most 8 MB.
    file_name : str
        What its problems call it.
    drawer : Drawer
        What its components are looked up in.
    Returns
    -------
    Plan
        Frozen values.
    Raises
    ------
    DocumentProblem
        With every problem of the document, in order of place.
    """
    return parse_document(text, file_name, drawer).plan


def parse_document(text: str | bytes, file_name: str, drawer: Drawer) -> Document:
    """The same with all that a later change builds on; parameters and errors as for `parse_plan`."""
    faults = Faults(file_name)
    with _collector_paused():
        document = _parsed(text, drawer, faults)
    faults.raise_any()
    assert document is not None
    return document


@contextmanager
def _collector_paused() -> Iterator[None]:
    """Reading makes a large tree and no cycles; the collector would only walk it again and again (half of the time)."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()


def _parsed(text: str | bytes, drawer: Drawer, faults: Faults) -> Document | None:
    """The document, or None and at least one fault."""
    root = read_nodes(text, faults)
    current = up_to_date(root, faults) if root is not None else None
    draft = Converter(faults).item(Plan, current, "") if current is not None else None
    if draft is None or root is None:
        return None
    check_draft(draft, drawer, faults)
    if faults.count:
        return None
    layout = layout_of(root)
    return Document(text if isinstance(text, str) else decoded(text), build(draft), draft, layout)


def check_draft(draft: Draft, drawer: Drawer, faults: Faults) -> None:
    """Every rule of the document that concerns more than one value."""
    names = check_references(draft, drawer, faults)
    check_rules(draft, names, drawer, faults)
    check_shapes(draft, names, faults)
