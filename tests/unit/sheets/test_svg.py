"""SVG in true millimetres."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from rushlight.model.sheet import Arc, Band, Circle, Drawing, Ink, Layer, Mark, Picture, Polyline, Text
from rushlight.sheets.svg import PAPER, PRINT, SOOT, Palette, to_svg
from rushlight.sheets.words import one_line, printable, shown, slug
from sample_sheets import night_picture, part_drawing

NS = {"s": "http://www.w3.org/2000/svg"}


def drawn(*marks: Mark, palette: Palette = PRINT) -> ET.Element:
    return ET.fromstring(to_svg(Drawing("d", "D", 100.0, 50.0, (Layer("outline", marks),)), palette))


def only(root: ET.Element, tag: str) -> ET.Element:
    found = root.findall(f".//s:g[@class='layer-outline']/s:{tag}", NS)
    assert len(found) == 1
    return found[0]


def test_one_user_unit_is_one_millimetre() -> None:
    root = drawn()
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "50mm", "0 0 100 50")


def test_y_points_up_in_the_drawing() -> None:
    assert only(drawn(Polyline(((10, 0), (10, 20)))), "path").get("d") == "M10 50L10 30"
    circle = only(drawn(Circle((1, 2), 3)), "circle")
    assert (circle.get("cx"), circle.get("cy"), circle.get("r")) == ("1", "48", "3")


def test_line_weights_and_patterns() -> None:
    edge = only(drawn(Polyline(((0, 0), (1, 0)), Ink("edge"))), "path")
    assert edge.get("stroke-width") == "0.5" and edge.get("stroke-dasharray") is None
    dashes = {p: only(drawn(Polyline(((0, 0), (1, 0)), Ink("detail", p))), "path").get("stroke-dasharray")
              for p in ("dashed", "dotted", "chain")}  # type: ignore[arg-type]
    assert None not in dashes.values() and len(set(dashes.values())) == 3


def test_a_band_has_its_true_width() -> None:
    assert only(drawn(Band(((0, 0), (9, 0)), 1.3)), "path").get("stroke-width") == "1.3"


def test_fills_come_from_the_palette() -> None:
    assert only(drawn(Circle((0, 0), 1, Ink(fill="accent", stroked=False))), "circle").get("fill") == PRINT.accent
    assert only(drawn(Circle((0, 0), 1, Ink(fill="accent"))), "circle").get("stroke") == PRINT.ink
    assert only(drawn(Circle((0, 0), 1, Ink(fill="hatch"))), "circle").get("fill") == "url(#d-hatch)"
    assert only(drawn(Circle((0, 0), 1), palette=SOOT), "circle").get("stroke") == SOOT.ink


@pytest.mark.parametrize(("start", "end", "flags"), [(0, 90, "0 0"), (0, 270, "1 0"), (350, 10, "0 0")])
def test_arcs_turn_counter_clockwise(start: float, end: float, flags: str) -> None:
    path = only(drawn(Arc((50, 25), 10, start, end)), "path").get("d")
    assert path is not None and f"A10 10 0 {flags}" in path


def test_a_full_arc_is_a_circle() -> None:
    assert only(drawn(Arc((50, 25), 10, 90, 450)), "circle").get("r") == "10"


def test_text_stands_at_its_anchor() -> None:
    text = only(drawn(Text((10, 10), "lamp", size=3, anchor="ne", angle_deg=30, bold=True)), "text")
    assert text.get("transform") == "translate(10 40) rotate(-30)"
    assert text.get("text-anchor") == "end" and text.get("font-size") == "3.2" and text.get("font-weight") == "700"
    assert float(text.get("y", "")) == pytest.approx(0.668 * 3.2, abs=1e-4)  # derived: cap height of the font


def test_users_words_cannot_leave_their_text() -> None:
    nasty = '</text><script>alert(1)</script> & "q" \x00\x07\ud800 \u202e end'
    root = drawn(Text((0, 0), nasty))
    assert root.findall(".//s:script", NS) == []
    assert only(root, "text").text == '</text><script>alert(1)</script> & "q" end'


def test_layers_are_groups() -> None:
    root = ET.fromstring(to_svg(part_drawing()))
    names = [g.get("class") for g in root.findall("s:g/s:g", NS)]
    assert names == [f"layer-{layer.name}" for layer in part_drawing().layers]


def test_the_same_drawing_gives_the_same_text() -> None:
    assert to_svg(part_drawing()) == to_svg(part_drawing())


def test_no_number_has_an_exponent_or_a_negative_zero() -> None:
    layer = Layer("text", (Circle((1e-9, -1e-9), 1e-7), Circle((99999.5, 0), 1)))
    svg = to_svg(Drawing("d", "", 1e5, 1e-3, (layer,)))
    assert not re.search(r"\d[eE][+-]?\d|\"-0\"", svg)


def test_a_picture_is_inside_and_may_be_mirrored() -> None:
    svg = to_svg(night_picture())
    assert "data:image/png;base64,iVBOR" in svg
    image = only(drawn(Picture((10, 5), 20, 10, b"x", mirrored=True)), "image")
    assert (image.get("x"), image.get("y"), image.get("transform")) == ("10", "35", "translate(40 0) scale(-1 1)")


def contrast(a: str, b: str) -> float:
    # source: WCAG 2.2, relative luminance and contrast ratio
    def luminance(colour: str) -> float:
        parts = [int(colour[k:k + 2], 16) / 255 for k in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("palette", [PRINT, PAPER, SOOT])
def test_every_pair_of_colours_can_be_read(palette: Palette) -> None:
    assert contrast(palette.ink, palette.paper) > 7  # source: WCAG 2.2, 1.4.6
    assert contrast(palette.accent, palette.paper) > 4.5  # source: WCAG 2.2, 1.4.3
    assert contrast(palette.ink, palette.pale) > 7


def test_empty_lines_are_no_trouble() -> None:
    assert drawn(Polyline(()), Band((), 1.0)).findall(".//s:g/s:path", NS) == []


def test_words() -> None:
    assert printable("a\x00b\u202ec\td") == "abc\td"
    assert one_line("  a\n\t b\x1b ") == "a b"
    assert slug("Après-deck, port 2") == "apres-deck-port-2"
    assert slug("") == slug("船") == "x" and len(slug("a" * 200)) == 60
    # source: Microsoft, Naming Files, Paths, and Namespaces: reserved device names
    assert (slug("Con"), slug("LPT1"), slug("console")) == ("con-x", "lpt1-x", "console")


def test_what_may_be_printed_is_what_the_plain_rule_allows_of_every_character() -> None:
    """XML 1.0, section 2.2, Char; without the controls of C1, DEL and direction overrides."""
    def allowed(code: int) -> bool:
        if 0x202A <= code <= 0x202E or 0x2066 <= code <= 0x2069 or 0x7F <= code <= 0x9F:
            return False
        return code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000

    every = "".join(map(chr, range(0x110000)))
    assert printable(every) == "".join(char for char in every if allowed(ord(char)))



# derived: three significant digits, whole numbers in full; a true minus sign (U+2212)
@pytest.mark.parametrize(("cell", "decimals", "expected"), [
    (None, None, "–"), ("text", None, "text"), (470, None, "470"), (123456, None, "123456"), (0.123456, None, "0.123"),
    (12.3456, None, "12.3"), (1234.56, None, "1235"), (0.0, None, "0"), (-0.5, None, "−0.5"), (85.5, 0, "86"),
    (1.0, 2, "1.00"), (-0.001, 1, "0.0"), (float("nan"), None, "unknown"), (float("inf"), None, "no limit"),
    (1.5e-5, None, "0.000015"), (999.6, None, "1000"), (185.0, None, "185"),
])
def test_numbers_as_people_read_them(cell: object, decimals: int | None, expected: str) -> None:
    assert shown(cell, decimals) == expected  # type: ignore[arg-type]
