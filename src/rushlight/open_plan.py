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
        Nothing in the plan's folder is changed; bundles that had to be searched are kept in the user's own folder.
    Raises
    ------
    DocumentProblem
        With every problem of the document.
    """
    from rushlight.files import packings
    from rushlight.findings import find
    from rushlight.stages.pipeline import design

    tell = progress or _silent
    tell("reading the plan")
    own = own_folder()
    parts = read_drawer(own)
    read = read_plan(folder, parts)
    drawer = own_values(parts, read.plan)
    packings.take_in(own)
    worked = design(read.plan, drawer, previous=previous.design if previous else None, progress=tell)
    packings.put_away(own)
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
    from rushlight.files.shared import write_page
    from rushlight.sheets import draw, title_page

    tell = progress or _silent
    target = folder or opened.folder / "book"
    tell("drawing the sheets")
    sheets = draw(opened.design, opened.findings, late=True)
    tell("writing tables and drawings")
    files = write_parts(sheets, target)
    tell("typesetting the book")
    pdf = target / f"book-{paper}.pdf"
    write_page(pdf, typeset(sheets, title_page(opened.design, opened.findings), paper))  # type: ignore[arg-type]
    return WrittenBook(pdf, (pdf, *files))


@dataclass(frozen=True, slots=True)
class WrittenShare:
    """The page for showing, its size, and how many pictures of parts it holds."""

    page: Path
    size_bytes: int
    pictures: int


MOST_SHARED_BYTES = 20_000_000
"""A page that is larger cannot be sent by most mail; fewer or smaller pictures are the cure."""


def write_share(
    opened: OpenPlan, to: Path | None = None, *, pictures: bool = False, progress: Progress | None = None
) -> WrittenShare:
    """One self-contained HTML page for showing the build to others.

    Parameters
    ----------
    opened : OpenPlan
        From `open_plan`.
    to : Path, optional
        The file to write; `share.html` in the plan's folder when left out.
    pictures : bool
        Whether the pictures of the parts go with it, drawn anew without place, camera or any other tag.
    progress : callable, optional
        Told what is being done.
    Returns
    -------
    WrittenShare
        An older page of that name is replaced.
    Raises
    ------
    OutOfRange
        If the page would be larger than MOST_SHARED_BYTES, or its folder is not there; nothing is written.
    """
    from rushlight.files.shared import shared_picture, write_page
    from rushlight.share.page import SharedPicture, share_page

    tell = progress or _silent
    held: dict[str, SharedPicture] = {}
    for part in opened.design.plan.parts if pictures else ():
        tell(f"picture of {part.name}")
        laid = shared_picture(opened.folder, part)
        if laid is not None:
            held[part.name] = SharedPicture(laid.jpeg, laid.box_mm)
    tell("drawing the page")
    data = share_page(opened.design, held).encode()
    if len(data) > MOST_SHARED_BYTES:
        raise OutOfRange("page for showing", f"{len(data) / 1e6:.1f} MB",
                         f"at most {MOST_SHARED_BYTES / 1e6:.0f} MB; leave the pictures out")
    target = to or opened.folder / "share.html"
    tell("writing the page")
    write_page(target, data)
    return WrittenShare(target, len(data), len(held))


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
