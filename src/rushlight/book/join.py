"""Parts of a book joined into one PDF: pages, numbers, outline, links, and the tags by which it is read aloud.

Source: ISO 32000-1:2008, 14.7 (logical structure: structure tree, parent tree, identifiers), 12.3 (destinations),
8.10 (form XObjects), 7.5.7 (object streams).
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, NameTree, NumberTree, Pdf, Stream, String


@dataclass(frozen=True, slots=True)
class PageShape:
    """A page of a part: whether it lies on its side, and the place of the heading on it among those of its part."""

    sideways: bool
    heading: int | None


def page_shapes(part: bytes) -> tuple[PageShape, ...]:
    """What the frame has to know of the pages of a part.

    Parameters
    ----------
    part : bytes
        A PDF from the typesetter whose outline holds its headings, in order.
    Returns
    -------
    tuple of PageShape
        One a page.
    """
    with pikepdf.open(io.BytesIO(part)) as pdf:
        at = {page.obj.objgen: index for index, page in enumerate(pdf.pages)}
        headings = {at[entry.Dest[0].objgen]: place for place, entry in enumerate(_entries(pdf))}
        boxes = [[float(edge) for edge in page.mediabox] for page in pdf.pages]
        return tuple(PageShape(right - left > top - bottom, headings.get(index))
                     for index, (left, bottom, right, top) in enumerate(boxes))


def joined(frame: bytes, parts: Sequence[bytes]) -> bytes:
    """One book: the frame's first pages, then every page of the parts with the number that its leaf of the frame has.

    Parameters
    ----------
    frame : bytes
        A PDF whose last pages are leaves, one for each page of the parts, in order; its outline and links lead to them.
    parts : sequence of bytes
        PDFs with tags, in order.
    Returns
    -------
    bytes
        Objects that are no streams stand packed in streams. The same bytes for the same parts, always.
    """
    book = pikepdf.open(io.BytesIO(frame))
    leaves = _PagesOfLeaves(book, len(book.pages) - sum(map(_page_count, parts)))
    for number, content in enumerate(parts, start=1):
        with pikepdf.open(io.BytesIO(content)) as part:
            first = len(book.pages)
            book.pages.extend(part.pages)
            pages = list(book.pages)[first:]
            _tags_taken_over(book, part, number, pages)
            _streams_taken_over(book, part)
        for page in pages:
            leaves.next(page)
    leaves.finish()
    written = io.BytesIO()
    book.save(written, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    return written.getvalue()


def _page_count(part: bytes) -> int:
    with pikepdf.open(io.BytesIO(part)) as pdf:
        return len(pdf.pages)


def _streams_taken_over(book: Pdf, part: Pdf) -> None:
    """What was copied made to hold its own bytes, so that the part and all that was read of it can be let go."""
    for stream in part.objects:
        if isinstance(stream, Stream):
            copy: Any = book.copy_foreign(stream)
            copy.write(stream.read_raw_bytes(), filter=copy.get("/Filter"), decode_parms=copy.get("/DecodeParms"))


class _PagesOfLeaves:
    """Pages that take the places of leaves: each shows its leaf over itself, and what led to the leaf leads to it."""

    def __init__(self, book: Pdf, first: int) -> None:
        self._book, self._first, self._leaves = book, first, list(book.pages)[first:]
        self._pages: dict[tuple[int, int], Any] = {}
        self._before, self._after = Stream(book, b"q\n"), Stream(book, b"\nQ q /Leaf Do Q")

    def next(self, page: pikepdf.Page) -> None:
        """The next leaf is this page's."""
        leaf = self._leaves[len(self._pages)]
        self._pages[leaf.obj.objgen] = page.obj
        form = self._book.make_indirect(leaf.as_form_xobject())
        shared: Any = page.obj.get("/Resources", {})
        shown: Any = shared.get("/XObject", {})
        page.obj.Resources = Dictionary({**dict(shared), "/XObject": Dictionary({**dict(shown), "/Leaf": form})})
        contents = page.obj.Contents
        own = list(contents) if isinstance(contents, Array) else [contents]
        page.obj.Contents = Array([self._before, *own, self._after])

    def finish(self) -> None:
        """Leaves are taken out; outline and links lead to the pages."""
        links = [note for page in list(self._book.pages)[:self._first] for note in page.obj.get("/Annots", ())]
        for leads in (*_entries(self._book), *links):
            if "/Dest" in leads and leads.Dest[0].objgen in self._pages:
                leads.Dest[0] = self._pages[leads.Dest[0].objgen]
        del self._book.pages[self._first:self._first + len(self._leaves)]


def _entries(pdf: Pdf) -> Iterator[Any]:
    """Entries of the outline's first level, in order."""
    entry = pdf.Root.Outlines.get("/First") if "/Outlines" in pdf.Root else None
    while entry is not None:
        yield entry
        entry = entry.get("/Next")


# --- tags ---------------------------------------------------------------------------------------------------------


def _tags_taken_over(book: Pdf, part: Pdf, number: int, pages: Iterable[pikepdf.Page]) -> None:
    """The part's structure put behind the book's; its pages must be in the book, since the structure names them."""
    own, its = book.Root.StructTreeRoot, part.Root.get("/StructTreeRoot")
    if its is None:
        return
    whole = own.K[0]
    for document in its.K:
        for element in book.copy_foreign(document).K:
            element.P = whole
            whole.K.append(element)
            _renamed(element, f"{number}.")
    _names_taken_over(book, part, number)
    start = int(own.ParentTreeNextKey)
    parents = NumberTree(own.ParentTree)
    for key, value in NumberTree(its.ParentTree).items():
        parents[start + key] = book.copy_foreign(value)
    own.ParentTreeNextKey = start + int(its.ParentTreeNextKey)
    for page in pages:
        _keys_moved(page, start)


def _keys_moved(page: pikepdf.Page, start: int) -> None:
    """Where a page and its links find their tags."""
    if "/StructParents" in page.obj:
        page.obj.StructParents += start
    for note in page.obj.get("/Annots", ()):
        if "/StructParent" in note:
            note.StructParent += start


def _names_taken_over(book: Pdf, part: Pdf, number: int) -> None:
    """Which head of a table a name stands for: each part counts its tables from the first."""
    own, its = book.Root.StructTreeRoot, part.Root.StructTreeRoot
    if "/IDTree" not in its:
        return
    if "/IDTree" not in own:
        own.IDTree = NameTree.new(book).obj
    names = NameTree(own.IDTree)
    for name, head in NameTree(its.IDTree).items():
        names[f"{number}.{name}"] = book.copy_foreign(head)


def _renamed(element: Any, before: str) -> None:
    """Names of table heads and what refers to them told apart from those of other parts."""
    held = [element]
    while held:
        one = held.pop()
        if "/ID" in one:
            one.ID = String(before + str(one.ID))
        for kept in one.get("/A", ()):
            if kept.get("/Headers"):
                kept.Headers = Array([String(before + str(head)) for head in kept.Headers])
        inside = one.get("/K")
        if isinstance(inside, Array):
            held += [kid for kid in inside if isinstance(kid, Dictionary) and kid.get("/Type") == Name.StructElem]
