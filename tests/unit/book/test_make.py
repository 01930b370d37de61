"""The book as a PDF: the same bytes, true size, words that cannot break it."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from book_designs import small
from page_pixels import page_sizes_mm, page_texts, rendered, solid_bars_mm, widest_run_mm
from rushlight.book.make import typeset
from rushlight.book.pages import LONGEST_CAPTION, SIDEWAYS_HEIGHT_MM, SIDEWAYS_WIDTH_MM, _table, book_data
from rushlight.errors import UnknownName
from rushlight.model.sheet import (
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    Caution,
    Cautions,
    Circle,
    Column,
    Drawing,
    Ink,
    Layer,
    Note,
    Polyline,
    Sheet,
    Step,
    Steps,
    Table,
    Text,
    TitlePage,
)
from rushlight.sheets.place import framed
from rushlight.sheets.subject import assumed_table
from rushlight.sheets.tile import FOOT_MM
from sample_sheets import circuit, lamp_table, part_drawing, sheets, template, title_page, work_steps

A4_MM, LETTER_MM = (210.0, 297.0), (215.9, 279.4)  # source: ISO 216; ANSI/ASME Y14.1, size A
PLAIN = TitlePage("Plain")
NASTY = (
    '#let x = 1 #panic("no")', '"]}) $ \\ ` * _ = @ref <lab> ~ // /* */', "'", "\\u{1F600}", "🚢🔦 lamp",
    "سفينة مضيئة RTL עברית", "漢字かな", "x" * 5000, "word " * 1000, "\u202e reversed \u2066", "\x00\x01\ud800", "",
    " ", "a\n\nb", "= heading\n- list\n#import", "{{{{", "e\u0301\u0301" * 50, "https://example.invalid/" + "a/" * 300,
)


@pytest.fixture(scope="module")
def book() -> bytes:
    return typeset(sheets(), title_page())


def one(*blocks: object, title: str = "Sheet", part: str | None = None) -> tuple[Sheet, ...]:
    return (Sheet("s", title, blocks, part),)  # type: ignore[arg-type]


def test_the_same_sheets_give_the_same_bytes(book: bytes) -> None:
    assert typeset(sheets(), title_page()) == book


def test_another_process_gives_the_same_bytes(book: bytes) -> None:
    code = ("import hashlib; from sample_sheets import sheets, title_page; from rushlight.book.make import typeset;"
            "print(hashlib.sha256(typeset(sheets(), title_page())).hexdigest())")
    path = [p for p in sys.path if p]
    done = subprocess.run([sys.executable, "-c", f"import sys; sys.path[:0] = {path!r}; {code}"], capture_output=True,
                          text=True, check=True)
    assert done.stdout.strip() == hashlib.sha256(book).hexdigest()


@pytest.mark.parametrize(("paper", "size"), [("a4", A4_MM), ("letter", LETTER_MM)])
def test_paper(paper: str, size: tuple[float, float]) -> None:
    pages = page_sizes_mm(typeset(sheets(), title_page(), paper))  # type: ignore[arg-type]
    assert pages[0] == pytest.approx(size, abs=0.1)
    assert all(sorted(page) == pytest.approx(sorted(size), abs=0.1) for page in pages)


def test_unknown_paper() -> None:
    with pytest.raises(UnknownName, match="paper 'a5' is not known"):
        typeset((), PLAIN, "a5")  # type: ignore[arg-type]


def test_a_book_without_sheets_is_a_title_page() -> None:
    pages = page_texts(typeset((), PLAIN))
    assert len(pages) == 1 and "Plain" in pages[0]


def test_contents_name_every_sheet_with_its_page(book: bytes) -> None:
    pages = page_texts(book)
    for sheet in sheets():
        line = next(line for line in pages[1].splitlines() if line.startswith(sheet.title))
        number = int(line.split()[-1].strip("."))
        assert sheet.title in pages[number - 1]


def test_a_long_table_repeats_its_headings() -> None:
    pages = page_texts(typeset(one(lamp_table(150)), PLAIN))
    assert len(pages) == 5  # title, contents, three of table
    assert all("Evidence" in page for page in pages[2:])
    assert sum(page.count("portlight ") for page in pages[2:]) == 150


def test_header_names_book_sheet_and_part() -> None:
    page = page_texts(typeset(one(part_drawing(), title="Leads", part="hull"), TitlePage("Plum")))[2]
    assert all(word in page for word in ("Plum", "Leads", "hull", "Scale 1:1", "3 / 3"))


def test_steps_have_readings_and_cautions_beside_them() -> None:
    page = page_texts(typeset(one(work_steps()), PLAIN))[2]
    assert all(word in page for word in ("Gate.", "4.4 to 4.6 V", "Caution: soldering", "Found"))


def test_wide_diagrams_lie_on_their_side() -> None:
    sizes = page_sizes_mm(typeset(one(circuit(9)), PLAIN))
    assert sizes[2] == pytest.approx(A4_MM[::-1], abs=0.1)


def test_templates_are_pages_of_their_own() -> None:
    blocks = (Note("Before."), template(2.6), Note("After."))
    pages = page_texts(typeset(one(*blocks), PLAIN))
    assert ["True size" in page for page in pages] == [False, False, False, True, True, True, False]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_largest_drawings_fit_the_page(paper: str) -> None:
    """A template and a plain drawing as large as promised take one page each, even under a sheet's heading."""
    corners = ((0.0, 0.0), (PAGE_WIDTH_MM, 0.0), (PAGE_WIDTH_MM, PAGE_HEIGHT_MM), (0.0, PAGE_HEIGHT_MM))
    frame = (Layer("outline", (Polyline(corners, closed=True),)),)
    plain = Drawing("plain", "Largest", PAGE_WIDTH_MM, PAGE_HEIGHT_MM, frame)
    tall = Drawing("tall", "Tall", PAGE_WIDTH_MM, PAGE_HEIGHT_MM - FOOT_MM, frame, template=True)
    for drawing in (plain, tall):
        pages = page_texts(typeset(one(drawing, title="Heading"), PLAIN, paper))  # type: ignore[arg-type]
        assert len(pages) == 3 and "Heading" in pages[2] and drawing.title in pages[2]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_largest_sideways_template_fits_the_page(paper: str) -> None:
    corners = ((0.0, 0.0), (SIDEWAYS_WIDTH_MM, 0.0), (SIDEWAYS_WIDTH_MM, 140.0))
    layers = (Layer("outline", (Polyline(corners, closed=True),)),)
    long = Drawing("long", "Long", SIDEWAYS_WIDTH_MM, SIDEWAYS_HEIGHT_MM - FOOT_MM, layers, template=True)
    sizes = page_sizes_mm(typeset(one(long), PLAIN, paper))  # type: ignore[arg-type]
    assert len(sizes) == 3 and sizes[2][0] > sizes[2][1]


def test_the_ruler_is_right() -> None:
    dpi = 600.0
    image = np.full((400, 2000), 255, dtype=np.uint8)
    image[100:136, 300:1481] = 0  # derived: 36 rows are 1.52 mm; 1181 columns are 49.995 mm at 600 dpi
    image[100:136, 1481] = 127  # derived: half a pixel more, 0.021 mm
    image[300:301, 0:1900] = 0  # a hairline is no bar
    assert solid_bars_mm(image, dpi, thick_mm=1.5) == pytest.approx([(1181 + 128 / 255) * 25.4 / 600])
    image[100:136, 1400:] = 255
    assert solid_bars_mm(image, dpi, thick_mm=1.5) == pytest.approx([1100 * 25.4 / 600])
    assert widest_run_mm(image, dpi) == pytest.approx(1900 * 25.4 / 600)
    assert widest_run_mm(np.full((5, 5), 255, dtype=np.uint8), dpi) == 0.0


@pytest.mark.parametrize(("paper", "factor"), [("a4", 1.3), ("letter", 1.0)])
def test_the_check_bar_measures_fifty_millimetres(paper: str, factor: float) -> None:
    pdf = typeset(one(template(factor)), PLAIN, paper)  # type: ignore[arg-type]
    for page in range(2, len(page_sizes_mm(pdf))):
        lengths = solid_bars_mm(rendered(pdf, page, 600.0), 600.0, thick_mm=1.5)
        assert lengths == pytest.approx([50.0], abs=0.1)  # the promise printed beside the bar


def test_a_template_is_drawn_at_true_size() -> None:
    mark = Circle((0.0, 0.0), 40.0, Ink(fill="ink", stroked=False))
    disc = framed((Layer("outline", (mark,)),), key="disc", title="", template=True)
    pdf = typeset(one(disc, title=""), TitlePage(""))
    pixels = rendered(pdf, 2, 300.0)
    wide = int(110 / 25.4 * 300)  # leaves out the page's header rule, which is longer
    assert widest_run_mm(pixels[300:, :wide], 300.0) == pytest.approx(80.0, abs=0.1)  # derived: twice the radius
    assert widest_run_mm(pixels[300:, :wide].T, 300.0) == pytest.approx(80.0, abs=0.1)


def nasty_sheets(words: str) -> tuple[Sheet, ...]:
    columns = tuple(Column(f"c{k}", words if k < 3 else "h", words if k == 4 else "mm") for k in range(6))
    caution = Caution(words, words, words)
    drawing = framed((Layer("text", (Text((0, 0), words), Circle((5, 5), 5))),), key="d", title=words, caption=words)
    pattern = framed((Layer("text", (Circle((50, 50), 50),)),), key="t", title=words, caption=words, template=True)
    steps = Steps((Step(words, words, words, True, ((words, words),), (caution,)),), words)
    table = Table("t", words, columns, ((words,) * 6, (1.0,) * 6), words)
    return one(Note(words, words), table, Cautions((caution,) * 3), steps, drawing, pattern, title=words, part=words)


@pytest.mark.parametrize("words", NASTY, ids=range(len(NASTY)))
def test_users_words_cannot_break_the_typesetting(words: str) -> None:
    page = TitlePage(words, words, ((words, words),), None, words, (Caution(words, words),))
    pages = page_texts(typeset(nasty_sheets(words), page))
    assert len(pages) >= 4 and sum("True size" in text for text in pages) == 1


def test_markup_is_printed_as_typed() -> None:
    words = '#panic("x") *b* _i_ $a$ <l> @r'
    assert words in page_texts(typeset(one(Note(words)), PLAIN))[2]


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=200))
def test_any_text_can_be_typeset(words: str) -> None:
    assert typeset(nasty_sheets(words), TitlePage(words, words)).startswith(b"%PDF")


def test_a_long_word_stays_on_the_page() -> None:
    pixels = rendered(typeset(one(Note("x" * 5000)), PLAIN), 2, 100.0)
    right = int((210 - 15) / 25.4 * 100)
    assert pixels[:, right:].min() > 200


def test_a_crowded_table_leaves_its_wide_columns_room() -> None:
    """Long words in columns of their own width would take all of it, and the lamp's name would lie over its neighbours."""
    vague = "up to 1200, perhaps next to nothing"
    heads = [Column(f"n{k}", "A long heading of no number", align="right") for k in range(2)]
    columns = (Column("lamp", "Lamp", wide=True), *(Column(f"c{k}", "mcd", align="right") for k in range(5)), *heads)
    def shares(words: str) -> list[float]:
        rows = (("lamp", *[words] * 5, 1.0, 2.0),)
        return [column["share"] for column in _table(Table("t", "T", columns, rows))["columns"]]
    assert min(shares(vague)[1:6]) > 0
    assert shares("5 to 7")[1:] == [0.0] * 7


@pytest.mark.parametrize(("template", "wide"), [(False, 40.0), (False, 400.0), (True, 40.0)])
def test_a_long_caption_goes_on_below_its_drawing_and_no_word_is_lost(template: bool, wide: float) -> None:
    """Under a drawing, on a page of its own on its side, and of a template."""
    said = [f"Lamp{k} is lit by the ring (rim {k})." for k in range(60)]
    marks = (Polyline(((0.0, 0.0), (wide, 0.0), (wide, 20.0)), Ink("edge")),)
    drawing = framed((Layer("outline", marks),), key="d", title="By night", template=template, caption=" ".join(said))
    text = "".join("".join(page_texts(typeset(one(drawing, title=""), PLAIN))).split())
    assert all("".join(sentence.split()) in text for sentence in said)
    assert "Bynight,continued" in text and "…" not in text


def test_eight_lines_of_caption_stand_under_the_tallest_drawing_on_its_page() -> None:
    said = " ".join(f"Lamp{k} is lit by the ring (rim {k})." for k in range(33))
    assert len(said) < LONGEST_CAPTION
    marks = (Polyline(((0.0, 0.0), (170.0, 0.0), (170.0, 220.0)), Ink("edge")),)
    tall = framed((Layer("outline", marks),), key="d", title="By night", caption=said)
    pages = page_texts(typeset(one(tall, tall), PLAIN))
    held = ["Lamp0 " in page and "Lamp32 " in page for page in (" ".join(text.split()) for text in pages)]
    assert sum(held) == 2 and held[-1], "a page each"


def test_what_is_assumed_has_no_strip_of_a_column() -> None:
    shares = [column["share"] for column in _table(assumed_table(small()))["columns"]]
    assert min(shares) > 20


@pytest.mark.parametrize(("high", "pages"), [(90.0, 1), (125.0, 1), (150.0, 2)])
def test_pictures_that_follow_each_other_share_a_page_where_a_little_smaller_will_do(high: float, pages: int) -> None:
    marks = (Polyline(((0.0, 0.0), (170.0, 0.0), (170.0, high)), Ink("edge")),)
    two = [replace(framed((Layer("outline", marks),), key=key, title=f"By night {key}"), scale=None) for key in "ab"]
    assert len(page_texts(typeset(one(*two), PLAIN))) - 2 == pages


def test_a_picture_alone_keeps_its_size() -> None:
    marks = (Polyline(((0.0, 0.0), (170.0, 0.0), (170.0, 125.0)), Ink("edge")),)
    alone = framed((Layer("outline", marks),), key="a", title="By night")
    block = book_data(one(alone), PLAIN, "a4")["pages"][0]["blocks"][0]
    assert block["figures"][0]["height_mm"] == pytest.approx(alone.height_mm)


def test_a_picture_made_smaller_states_its_true_scale() -> None:
    """Half size or a fifth are usual for drawings; a picture that nobody measures on takes what fits."""
    picture = framed((Layer("picture", (Polyline(((0.0, 0.0), (170.0, 0.0), (170.0, 125.0)), Ink("edge")),)),), key="a",
                     title="By night")
    figures = book_data(one(picture, replace(picture, key="b")), PLAIN, "a4")["pages"][0]["blocks"][0]["figures"]
    factor = figures[0]["height_mm"] / picture.height_mm
    assert 0.7 < factor < 0.8
    assert float(figures[0]["scale"].removeprefix("Scale 1:")) == pytest.approx(1 / factor, rel=0.01)
