"""Which characters the book's fonts hold."""

from __future__ import annotations

from importlib import resources

import pytest
from fontTools.ttLib import TTFont

from rushlight.book.glyphs import missing_glyphs
from rushlight.sheets.place import CAP_HEIGHT_EM, WIDE_LETTER_EM
from sample_sheets import sheets

FONTS = sorted(p for p in resources.files("rushlight").joinpath("book", "fonts").iterdir() if p.name.endswith(".ttf"))


def font(name: str) -> TTFont:
    path = next(p for p in FONTS if p.name == f"AtkinsonHyperlegible{name}.ttf")
    with resources.as_file(path) as file:
        return TTFont(file)


def test_the_coverage_file_is_what_all_fonts_hold() -> None:
    held = [set(TTFont(str(p)).getBestCmap()) for p in FONTS]
    common = set.intersection(*held)
    everything = {chr(code) for code in range(0x20, 0x30000) if not 0xD800 <= code <= 0xDFFF}
    printing = {c for c in everything if not c.isspace()}
    assert {c for c in (chr(code) for code in common) if missing_glyphs(c)} == set()
    assert all(missing_glyphs(c) == c for c in "\u03a9\u00b5→≤≈漢ع🚢" if ord(c) not in common)
    assert len(common) == 327 and len(printing) > 327  # pinned: guards change only


@pytest.mark.parametrize(("name", "family", "weight"), [
    ("Next-Regular", "Atkinson Hyperlegible Next", 400), ("Next-Bold", "Atkinson Hyperlegible Next", 700),
    ("Next-Italic", "Atkinson Hyperlegible Next", 400), ("Mono-Regular", "Atkinson Hyperlegible Mono", 400),
])
def test_fonts_carry_the_names_that_the_template_asks_for(name: str, family: str, weight: int) -> None:
    found = font(name)
    assert found["name"].getDebugName(1) == family and found["OS/2"].usWeightClass == weight
    assert found["OS/2"].sCapHeight / found["head"].unitsPerEm == pytest.approx(CAP_HEIGHT_EM)


def test_figures_are_tabular_on_demand() -> None:
    features = {record.FeatureTag for record in font("Next-Regular")["GSUB"].table.FeatureList.FeatureRecord}
    assert "tnum" in features


def test_the_estimated_width_holds_ordinary_words() -> None:
    regular = font("Next-Regular")
    advance, cmap = regular["hmtx"].metrics, regular.getBestCmap()
    for words in ("battery bay", "470 ohm", "mast W", "Fl(2) W 10s", "portlight 12", "4.5 V", "S12"):
        width_em = sum(advance[cmap[ord(c)]][0] for c in words) / 1000
        assert width_em <= WIDE_LETTER_EM * len(words)


def test_missing_characters_are_named_once_in_order() -> None:
    assert missing_glyphs("10 Ω → Ω 漢 naïve – “x” 3 × 5 °C") == "Ω→漢"
    assert missing_glyphs("Zoë, Ångström, Łódź, \u200b\u202e\n\t") == ""
    assert missing_glyphs("e\u0301") == ""


def test_our_own_words_print() -> None:
    from rushlight.book.pages import book_data
    from rushlight.model.sheet import TitlePage

    def words(value: object) -> str:
        if isinstance(value, dict):
            return "".join(words(v) for v in value.values())
        return "".join(map(words, value)) if isinstance(value, list) else value if isinstance(value, str) else ""

    assert missing_glyphs(words(book_data(sheets(), TitlePage("x"), "a4"))) == ""


def test_the_licences_are_beside_the_fonts() -> None:
    folder = resources.files("rushlight").joinpath("book", "fonts")
    for name in ("OFL-Next.txt", "OFL-Mono.txt"):
        assert "SIL OPEN FONT LICENSE Version 1.1" in folder.joinpath(name).read_text(encoding="utf-8")
