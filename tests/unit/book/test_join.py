"""A book typeset in parts and joined: what is read, shown, followed and read aloud is that of a book made in one."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import numpy as np
import pikepdf
import pytest

from page_pixels import page_sizes_mm, page_texts, rendered
from rushlight.book.make import typeset
from rushlight.model.sheet import Sheet
from sample_sheets import lamp_table, sheets, title_page

DPI = 60.0


def many_sheets() -> tuple[Sheet, ...]:
    """The sample's sheets with long tables between them."""
    long = [Sheet(f"long-{k}", f"Long table {k}", (lamp_table(40 + k), lamp_table(3)), None) for k in range(3)]
    return (*sheets(), long[0], *sheets(), *long[1:])


@pytest.fixture(scope="module")
def whole() -> bytes:
    return typeset(many_sheets(), title_page(), cells_a_part=10**9)


@pytest.fixture(scope="module")
def parted() -> bytes:
    return typeset(many_sheets(), title_page(), cells_a_part=1)


def test_pages_read_and_look_the_same(whole: bytes, parted: bytes) -> None:
    assert page_texts(parted) == page_texts(whole)
    assert page_sizes_mm(parted) == page_sizes_mm(whole)
    for page in range(len(page_sizes_mm(whole))):
        assert np.array_equal(rendered(parted, page, DPI), rendered(whole, page, DPI))


def test_each_page_has_its_number(parted: bytes) -> None:
    texts = page_texts(parted)
    assert all(f"{number} / {len(texts)}" in text for number, text in enumerate(texts, start=1))


def test_outline_and_links_lead_to_the_headings(whole: bytes, parted: bytes) -> None:
    assert outline(parted) == outline(whole)
    assert links(parted) == links(whole)
    texts = page_texts(parted)
    assert [title in texts[page] for title, page, _ in outline(parted)] == [True] * len(many_sheets())
    assert [page for _, page, _ in outline(parted)] == [page for page, _ in links(parted)]


def test_tags_are_those_of_a_book_made_in_one(whole: bytes, parted: bytes) -> None:
    assert tags(parted) == tags(whole)
    roles = [role for role, *_ in tags(parted)]
    assert roles.count("/H1") == len(many_sheets()) and roles.count("/Document") == 1
    assert {"/Table", "/TH", "/TD", "/Figure", "/TOCI", "/Link"} <= set(roles)


@pytest.mark.parametrize("made", ["whole", "parted"])
def test_every_mark_finds_its_tag(made: str, request: pytest.FixtureRequest) -> None:
    """ISO 32000-1:2008, 14.7.4.4: the parent tree leads from each mark of a page to the element that names it."""
    with pikepdf.open(io.BytesIO(request.getfixturevalue(made))) as pdf:
        root = pdf.Root.StructTreeRoot
        parents: Any = pikepdf.NumberTree(root.ParentTree)
        used = [key for page in pdf.pages for key in keys_of(page)]
        assert len(used) == len(set(used)) and set(used) == set(parents) and max(used) < int(root.ParentTreeNextKey)
        marks = [(element, page, mark) for element in elements(root) for page, mark in marks_of(pdf, element)]
        assert marks
        for element, page, mark in marks:
            assert parents[int(pdf.pages[page].obj.StructParents)][mark].objgen == element.objgen


@pytest.mark.parametrize("made", ["whole", "parted"])
def test_every_cell_finds_the_heads_of_its_own_table(made: str, request: pytest.FixtureRequest) -> None:
    """ISO 32000-1:2008, 14.7.2 and 14.8.5.7: a head's name is its alone, and cells name heads of their table."""
    with pikepdf.open(io.BytesIO(request.getfixturevalue(made))) as pdf:
        root = pdf.Root.StructTreeRoot
        names: Any = pikepdf.NameTree(root.IDTree)
        heads = [element for element in elements(root) if "/ID" in element]
        assert len({str(head.ID) for head in heads}) == len(heads) == len(names)
        assert all(names[str(head.ID)].objgen == head.objgen for head in heads)
        cells = [element for element in elements(root) if element.S == "/TD" and heads_of(element)]
        assert cells
        for cell in cells:
            assert all(table_of(names[head]).objgen == table_of(cell).objgen for head in heads_of(cell))


def test_tags_stand_packed(parted: bytes) -> None:
    """None stands as an object by itself, in plain bytes, where a cell's takes a hundred and fifty of them."""
    assert b"StructElem" not in parted


# --- what a reader finds ------------------------------------------------------------------------------------------


def outline(book: bytes) -> list[tuple[str, int, list[float]]]:
    """Each entry's title, page and place on it."""
    with pikepdf.open(io.BytesIO(book)) as pdf:
        entry, found = pdf.Root.Outlines.get("/First"), []
        while entry is not None:
            found.append((str(entry.Title), *dest_of(pdf, entry)))
            entry = entry.get("/Next")
        assert len(found) == int(pdf.Root.Outlines.Count)
        return found


def links(book: bytes) -> list[tuple[int, list[float]]]:
    """Where the links of all pages lead."""
    with pikepdf.open(io.BytesIO(book)) as pdf:
        return [dest_of(pdf, note) for page in pdf.pages for note in page.obj.get("/Annots", ())]


def dest_of(pdf: pikepdf.Pdf, leads: Any) -> tuple[int, list[float]]:
    at = page_numbers(pdf)
    return at[leads.Dest[0].objgen], [float(edge) for edge in list(leads.Dest)[2:]]


def tags(book: bytes) -> list[tuple[str, int, list[int], str]]:
    """Each element's role, depth, marks and words, in the order in which it is read aloud."""
    with pikepdf.open(io.BytesIO(book)) as pdf:
        return [(str(element.S), depth_of(element), [(page, mark) for page, mark in marks_of(pdf, element)],
                 str(element.get("/Alt", ""))) for element in elements(pdf.Root.StructTreeRoot)]


def elements(root: Any) -> Iterator[Any]:
    held = list(reversed(list(root.K)))
    while held:
        element = held.pop()
        yield element
        held += [kid for kid in reversed(kids(element)) if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]


def kids(element: Any) -> list[Any]:
    inside = element.get("/K", [])
    return list(inside) if isinstance(inside, pikepdf.Array) else [inside]


def marks_of(pdf: pikepdf.Pdf, element: Any) -> list[tuple[int, int]]:
    at = page_numbers(pdf)
    return [(at[element.Pg.objgen], int(kid)) for kid in kids(element) if isinstance(kid, int)]


def page_numbers(pdf: pikepdf.Pdf) -> dict[tuple[int, int], int]:
    return {page.obj.objgen: number for number, page in enumerate(pdf.pages)}


def depth_of(element: Any) -> int:
    depth = 0
    while "/P" in element:
        element, depth = element.P, depth + 1
    return depth


def keys_of(page: pikepdf.Page) -> list[int]:
    notes = [int(note.StructParent) for note in page.obj.get("/Annots", ()) if "/StructParent" in note]
    return [*([int(page.obj.StructParents)] if "/StructParents" in page.obj else []), *notes]


def heads_of(cell: Any) -> list[str]:
    return [str(head) for kept in cell.get("/A", ()) for head in kept.get("/Headers", ())]


def table_of(element: Any) -> Any:
    while element.S != "/Table":
        element = element.P
    return element
