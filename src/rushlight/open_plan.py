"""One open plan: read, designed, judged, and its book written. The command line and the app both use it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rushlight.errors import OutOfRange, UnknownName
from rushlight.files.drawer_csv import own_folder, read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import ReadPlan, read_plan
from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.model.finding import Finding

DEMOS = ("tug", "lighthouse", "lantern")
"""Invented plans that come with the package."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class OpenPlan:
    """A plan with everything worked out from it."""

    folder: Path
    read: ReadPlan
    drawer: Drawer
    design: Design
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class WrittenBook:
    """Where the book and its parts were written."""

    pdf: Path
    files: tuple[Path, ...]


def open_plan(folder: Path, *, previous: OpenPlan | None = None, progress: Progress | None = None) -> OpenPlan:
    """Read a plan, design it and look for findings.

    Parameters
    ----------
    folder : Path
        The plan's folder, or its plan.yaml.
    previous : OpenPlan, optional
        The plan as it was opened before: what an edit left as it was is not worked out again.
    progress : callable, optional
        Told the name of each stage as it starts.
    Returns
    -------
    OpenPlan
        Nothing on disk is changed.
    Raises
    ------
    DocumentProblem
        With every problem of the document.
    """
    from rushlight.findings import find
    from rushlight.stages.pipeline import design

    tell = progress or _silent
    tell("reading the plan")
    parts = read_drawer(own_folder())
    read = read_plan(folder, parts)
    drawer = own_values(parts, read.plan)
    worked = design(read.plan, drawer, previous=previous.design if previous else None, progress=tell)
    tell("findings")
    home = folder if folder.is_dir() else folder.parent
    return OpenPlan(home, read, drawer, worked, find(worked))


def write_book(
    opened: OpenPlan, folder: Path | None = None, *, paper: str = "a4", progress: Progress | None = None
) -> WrittenBook:
    """The book as PDF, every table as CSV, every drawing as SVG, templates as DXF.

    Parameters
    ----------
    opened : OpenPlan
        From `open_plan`.
    folder : Path, optional
        Where to write; the plan's folder `book` when left out.
    paper : str
        'a4' or 'letter'.
    progress : callable, optional
        Told what is being written.
    Returns
    -------
    WrittenBook
        Files of an older book with the same names are replaced, others are left alone.
    """
    from rushlight.book.make import typeset
    from rushlight.files.book_files import write_parts
    from rushlight.sheets import draw, title_page

    tell = progress or _silent
    target = folder or opened.folder / "book"
    tell("drawing the sheets")
    sheets = draw(opened.design, opened.findings)
    tell("writing tables and drawings")
    files = write_parts(sheets, target)
    tell("typesetting the book")
    pdf = target / f"book-{paper}.pdf"
    pdf.write_bytes(typeset(sheets, title_page(opened.design, opened.findings), paper))  # type: ignore[arg-type]
    return WrittenBook(pdf, (pdf, *files))


def copy_demo(name: str, target: Path) -> Path:
    """A fresh copy of a demo; an existing folder is never overwritten.

    Raises
    ------
    UnknownName
        If there is no such demo.
    OutOfRange
        If the target exists already.
    """
    if name not in DEMOS:
        raise UnknownName("demo", name, DEMOS)
    if target.exists():
        raise OutOfRange("folder", target, "a folder that does not exist yet")
    shutil.copytree(Path(__file__).parent / "demos" / name, target)
    return target


def _silent(stage: str) -> None:
    """Progress that nobody asked for."""
