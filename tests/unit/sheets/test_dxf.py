"""DXF read back by its library equals the primitives."""

from __future__ import annotations

import io
import re

import ezdxf
import pytest

from rushlight.model.sheet import Band, Circle, Dimension, Drawing, Ink, Layer, Mark, Picture, Polyline, Text
from rushlight.sheets.dimension import dimension_marks
from rushlight.sheets.dxf import to_dxf
from rushlight.sheets.place import framed, scaled
from rushlight.sheets.tile import tiles
from sample_sheets import OUTLINE, night_picture, part_drawing, part_layers, template

MM = 4  # source: DXF reference, header variable $INSUNITS: 4 is millimetres


def read(drawing: Drawing) -> ezdxf.document.Drawing:
    document = ezdxf.read(io.StringIO(to_dxf(drawing)))
    assert not document.audit().errors
    return document


def drawn(*marks: Mark, layer: str = "holes", scale: float = 1.0, origin: tuple[float, float] = (0.0, 0.0)) -> list:
    drawing = Drawing("d", "", 100, 100, (Layer(layer, marks),), scale=scale, origin_mm=origin)
    return list(read(drawing).modelspace())


def test_units_are_millimetres() -> None:
    document = read(part_drawing())
    assert document.header["$INSUNITS"] == MM and document.header["$MEASUREMENT"] == 1


def test_every_polyline_circle_and_arc_comes_back() -> None:
    document = read(part_drawing())
    space, origin = document.modelspace(), part_drawing().origin_mm
    for layer in part_layers():
        lines = [m for m in layer.marks if isinstance(m, Polyline)]
        back = [e for e in space.query(f'LWPOLYLINE[layer=="{layer.name}"]') if not e.dxf.const_width]
        if layer.name != "dimensions":
            assert len(lines) == len(back)
        for mark, entity in zip(lines, back, strict=False):
            flat = [v for p in entity.get_points("xy") for v in p]
            assert flat == pytest.approx([v for p in mark.points_mm for v in p], abs=1e-6)
            assert entity.closed == mark.closed and entity.dxf.layer == layer.name
        circles = [m for m in layer.marks if isinstance(m, Circle)]
        for mark, entity in zip(circles, space.query(f'CIRCLE[layer=="{layer.name}"]'), strict=True):
            assert tuple(entity.dxf.center)[:2] == pytest.approx(mark.centre_mm, abs=1e-6)
            assert entity.dxf.radius == pytest.approx(mark.radius_mm, abs=1e-6)
    arc = space.query("ARC").first
    assert (arc.dxf.radius, arc.dxf.start_angle, arc.dxf.end_angle) == pytest.approx((6.0, 90.0, 270.0))
    assert tuple(arc.dxf.center)[:2] == pytest.approx((140.0, 40.0))
    assert origin != (0.0, 0.0)  # the part's own coordinates came back although the frame had moved them


def test_layers_are_named_alike() -> None:
    names = {layer.dxf.name for layer in read(part_drawing()).layers}
    assert {layer.name for layer in part_layers()} <= names


def test_a_reduced_drawing_is_written_at_true_size() -> None:
    layers = [Layer(layer.name, scaled(layer.marks, 0.5)) for layer in part_layers()]
    half = framed(layers, key="h", title="", scale=0.5)
    outline = read(half).modelspace().query('LWPOLYLINE[layer=="outline"]').first
    flat = [v for p in outline.get_points("xy") for v in p]
    assert flat == pytest.approx([v for p in OUTLINE for v in p], abs=1e-6)


def test_a_tile_keeps_the_parts_coordinates() -> None:
    for tile in tiles(template(2.6)):
        outline = read(tile.drawing).modelspace().query('LWPOLYLINE[layer=="outline"]').first
        flat = [v for p in outline.get_points("xy") for v in p]
        assert flat == pytest.approx([2.6 * v for p in OUTLINE for v in p], abs=1e-6)


def test_a_band_keeps_its_width_and_its_core_is_left_out() -> None:
    lead = drawn(Band(((0, 0), (9, 0)), 1.3, Ink(colour="paper")), Band(((0, 0), (9, 0)), 0.9), layer="leads")
    assert [e.dxf.const_width for e in lead] == [0.9]


def test_patterns_become_linetypes() -> None:
    names = [e.dxf.linetype for e in drawn(*(Polyline(((0, 0), (1, 0)), Ink("detail", p))
                                             for p in ("solid", "dashed", "dotted", "chain")))]  # type: ignore[arg-type]
    assert names == ["BYLAYER", "DASHED_MM", "DOTTED_MM", "CHAIN_MM"]


def test_text_and_dimensions() -> None:
    (text,) = drawn(Text((3, 4), "mast\nlight", size=3, anchor="c", angle_deg=30), layer="text")
    # derived: capitals of the book's font are 0.668 of its size
    # source: DXF reference, TEXT: middle centre is horizontal 1, vertical 2
    assert (text.dxf.text, text.dxf.rotation, text.dxf.halign, text.dxf.valign) == ("mast light", 30, 1, 2)
    assert text.dxf.height == pytest.approx(0.668 * 3.2) and tuple(text.dxf.align_point)[:2] == (3, 4)
    mark = Dimension((0, 0), (10, 0), 5, "10")
    assert len(drawn(mark, layer="dimensions")) == len(dimension_marks(mark))


def test_what_has_no_geometry_is_left_out() -> None:
    assert drawn(Picture((0, 0), 1, 1, b""), Text((0, 0), " \x00 "), Polyline(()),
                 Circle((0, 0), 1, Ink(fill="ink", stroked=False))) == []
    assert list(read(night_picture()).modelspace()) == []


def test_the_same_drawing_gives_the_same_bytes_and_no_date() -> None:
    first, second = to_dxf(part_drawing()), to_dxf(part_drawing())
    assert first == second
    # derived: a Julian date of our time starts with 246; a written time stamp holds a 'T' between date and time
    assert not re.search(r"\n246\d{4}\.\d+\n", first) and not re.search(r"\d{4}-\d\d-\d\dT\d\d:", first)


def test_the_files_classes_stand_in_one_order_in_every_run() -> None:
    """They come out of a set, which has another order in every run of Python."""
    kinds = re.findall(r"(?m)^  0\nCLASS\n  1\n(.*)$", to_dxf(part_drawing()))
    assert kinds == sorted(kinds) and len(kinds) > 10


def test_users_words_cannot_break_the_file() -> None:
    nasty = "0\nEOF\n\x00 \ud800 1.4.5 @ 2026-01-01T00:00:00 {\\C1;x} 漢"
    (text,) = drawn(Text((0, 0), nasty), layer="text")
    assert text.dxf.text == "0 EOF 1.4.5 @ 2026-01-01T00:00:00 {\\C1;x} 漢"
