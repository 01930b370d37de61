"""Placing marks: bounds, similarities, frames, scales."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.sheet import (
    EDGE,
    LAYERS,
    Arc,
    Band,
    Circle,
    Column,
    Dimension,
    Drawing,
    Ink,
    Layer,
    Picture,
    Polyline,
    Sheet,
    Table,
    Text,
)
from rushlight.sheets.place import (
    SCALES,
    Place,
    bounds,
    fit_scale,
    framed,
    mark_bounds,
    merged_layers,
    mirrored,
    on_circle,
    placed,
    refitted,
    scale_words,
    scaled,
    translated,
)
from sample_sheets import circuit, part_drawing, part_layers, template

NO_WIDTH = Ink("dimension")
HALF_THIN_MM = 0.13 / 2  # derived: half the dimension weight


def box_of(mark: object) -> tuple[float, ...]:
    box = mark_bounds(mark)  # type: ignore[arg-type]
    assert box is not None
    return (box.left_mm, box.bottom_mm, box.right_mm, box.top_mm)


def test_bounds_of_each_kind_hold_the_line_width() -> None:
    w = HALF_THIN_MM
    assert box_of(Polyline(((0, 0), (3, 4)), NO_WIDTH)) == pytest.approx((-w, -w, 3 + w, 4 + w))
    assert box_of(Circle((1, 2), 5, NO_WIDTH)) == pytest.approx((-4 - w, -3 - w, 6 + w, 7 + w))
    assert box_of(Band(((0, 0), (10, 0)), 2.0)) == pytest.approx((-1, -1, 11, 1))
    assert box_of(Picture((1, 2), 3, 4, b"")) == (1, 2, 4, 6)


# derived: quarter arcs touch only the axis points that lie within their sweep
@pytest.mark.parametrize(("start", "end", "expected"), [
    (0, 90, (0, 0, 1, 1)), (90, 180, (-1, 0, 0, 1)), (180, 360, (-1, -1, 1, 0)), (270, 450, (0, -1, 1, 1)),
    (-45, 45, (math.sqrt(0.5), -math.sqrt(0.5), 1, math.sqrt(0.5))), (0, 360, (-1, -1, 1, 1)),
])
def test_bounds_of_arcs(start: float, end: float, expected: tuple[float, ...]) -> None:
    grown = tuple(e + (HALF_THIN_MM if k > 1 else -HALF_THIN_MM) for k, e in enumerate(expected))
    assert box_of(Arc((0, 0), 1, start, end, NO_WIDTH)) == pytest.approx(grown, abs=1e-9)


@given(st.floats(-360, 360), st.floats(1, 359))
def test_arc_bounds_hold_every_point_of_the_arc(start: float, sweep: float) -> None:
    box = mark_bounds(Arc((3, 4), 7, start, start + sweep, NO_WIDTH))
    assert box is not None
    for k in range(41):
        x, y = on_circle((3, 4), 7, start + sweep * k / 40)
        assert box.left_mm - 1e-9 <= x <= box.right_mm + 1e-9 and box.bottom_mm - 1e-9 <= y <= box.top_mm + 1e-9


def test_text_bounds_follow_anchor_and_angle() -> None:
    left, _, right, _ = box_of(Text((0, 0), "abcd", anchor="sw"))
    assert left == 0 and right == pytest.approx(0.6 * 2.5 * 4)  # derived: estimate of 0.6 em a letter
    assert box_of(Text((0, 0), "abcd", anchor="e"))[2] == pytest.approx(0)
    upright = box_of(Text((0, 0), "abcd", anchor="sw", angle_deg=90))
    assert upright[3] == pytest.approx(right) and upright[0] < 0


def test_bounds_of_nothing() -> None:
    assert bounds(()) is None
    assert bounds((Polyline(()),)) is None


@given(st.floats(0.1, 10), st.floats(-360, 360), st.floats(-50, 50), st.booleans())
def test_a_similarity_keeps_ratios_of_distance(scale: float, angle: float, shift: float, mirror: bool) -> None:
    place = Place(scale, angle, (shift, -shift), mirror)
    a, b = place.point((1.0, 2.0)), place.point((4.0, 6.0))
    assert math.dist(a, b) == pytest.approx(5.0 * scale)  # derived: 3-4-5 triangle
    c = place.point((4.0, 2.0))
    turn = (c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])
    assert (turn > 0) != mirror  # derived: a mirror turns the sense of a triangle round


def test_quarter_turns_are_exact() -> None:
    assert Place(angle_deg=90).point((1.0, 0.0)) == (0.0, 1.0)
    assert Place(angle_deg=-90).point((1.0, 0.0)) == (0.0, -1.0)
    assert Place(angle_deg=180).point((3.0, 0.1)) == (-3.0, -0.1)


def test_scaling_keeps_weights_and_text_but_not_bands() -> None:
    band, text, line, circle = scaled((Band(((0, 0), (1, 0)), 0.8), Text((1, 1), "a"), Polyline(((1, 2),), EDGE),
                                       Circle((1, 0), 2)), 3.0)
    assert isinstance(band, Band) and band.width_mm == pytest.approx(2.4)
    assert isinstance(text, Text) and text.size == 2 and text.at_mm == (3, 3)
    assert isinstance(line, Polyline) and line.ink == EDGE
    assert isinstance(circle, Circle) and circle.radius_mm == 6


def test_mirroring_twice_gives_the_same_marks() -> None:
    marks = (Polyline(((0, 0), (3, 4))), Circle((1, 2), 1), Text((2, 2), "x", anchor="ne", angle_deg=30),
             Dimension((0, 0), (4, 0), 3, "4"), Picture((1, 1), 2, 2, b""), Band(((0, 0), (1, 1)), 1))
    assert mirrored(mirrored(marks, 7.0), 7.0) == marks


def test_a_mirrored_arc_covers_the_mirrored_points() -> None:
    arc = placed(Arc((2, 0), 1, 0, 90), Place(mirrored=True))
    assert isinstance(arc, Arc) and arc.centre_mm == (-2, 0)
    assert on_circle(arc.centre_mm, 1, arc.start_deg) == pytest.approx((-2, 1))
    assert on_circle(arc.centre_mm, 1, arc.end_deg) == pytest.approx((-3, 0))


def test_a_mirrored_dimension_stays_on_its_side() -> None:
    before = bounds((Dimension((0, 0), (10, 0), 5, "10"),))
    after = bounds(mirrored((Dimension((0, 0), (10, 0), 5, "10"),)))
    assert before is not None and after is not None
    assert after.bottom_mm == pytest.approx(before.bottom_mm) and after.top_mm == pytest.approx(before.top_mm)


def test_placing_refuses_what_it_cannot_do() -> None:
    with pytest.raises(OutOfRange, match="scale is 0; expected above 0"):
        placed(Circle((0, 0), 1), Place(scale=0))
    with pytest.raises(OutOfRange, match="turn its pixels instead"):
        placed(Picture((0, 0), 1, 1, b""), Place(angle_deg=45))


def test_a_frame_holds_every_mark_and_remembers_the_origin() -> None:
    drawing = part_drawing()
    box = bounds(mark for layer in drawing.layers for mark in layer.marks)
    assert box is not None
    assert (box.left_mm, box.bottom_mm) == pytest.approx((2.0, 2.0))
    assert (box.right_mm, box.top_mm) == pytest.approx((drawing.width_mm - 2.0, drawing.height_mm - 2.0))
    outline = next(layer for layer in drawing.layers if layer.name == "outline").marks[0]
    assert isinstance(outline, Polyline)
    assert outline.points_mm[0] == pytest.approx(drawing.origin_mm)  # the plate's first corner is its own (0, 0)


def test_layers_are_joined_and_ordered() -> None:
    dot = Circle((0, 0), 1)
    merged = merged_layers((Layer("text", (dot,)), Layer("outline", (dot,)), Layer("text", (dot,)), Layer("holes", ())))
    assert [(layer.name, len(layer.marks)) for layer in merged] == [("outline", 1), ("text", 2)]
    assert all(name in LAYERS for name in ("outline", "holes", "leads", "tails", "splices", "keep-outs", "text"))


def test_nothing_to_frame() -> None:
    with pytest.raises(OutOfRange, match="marks of drawing 'none' is 0; expected at least one"):
        framed((), key="none", title="")


def test_unknown_layers_and_keys_are_refused() -> None:
    with pytest.raises(UnknownName, match="Did you mean 'keep-outs'"):
        Layer("keepouts", ())
    for bad in ("../up", "Plate", "", "a/b", "a" * 81, "a\n"):
        with pytest.raises(OutOfRange, match="key of a drawing"):
            Drawing(bad, "", 1, 1, ())
        with pytest.raises(OutOfRange, match="key of a sheet"):
            Sheet(bad, "", ())
        with pytest.raises(OutOfRange, match="key of a table"):
            Table(bad, "", (Column("a", "A"),), ())


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_a_drawing_has_a_size(size: float) -> None:
    with pytest.raises(OutOfRange, match="width_mm of drawing 'a'"):
        Drawing("a", "", size, 1, ())
    with pytest.raises(OutOfRange, match="scale of drawing 'a'"):
        Drawing("a", "", 1, 1, (), scale=size)


def test_a_template_is_at_true_size() -> None:
    with pytest.raises(OutOfRange, match=r"scale of template 'a' is 0\.5; expected 1\.0"):
        Drawing("a", "", 1, 1, (), scale=0.5, template=True)


def test_a_table_has_a_cell_for_each_column() -> None:
    with pytest.raises(OutOfRange, match="cells of row 1 of table 't' is 1; expected 2 cells"):
        Table("t", "", (Column("a", "A"), Column("b", "B")), ((1, 2), (1,)))
    with pytest.raises(OutOfRange, match="column keys"):
        Table("t", "", (Column("a", "A"), Column("a", "B")), ())


# source: ISO 5455 gives 1:1, 1:2, 1:5, 1:10 and 2:1, 5:1, 10:1 ...; the cases are the arithmetic of page / size
@pytest.mark.parametrize(("size", "largest", "expected"), [
    ((100, 100), 1.0, 1.0), ((176, 226), 1.0, 1.0), ((177, 10), 1.0, 0.5), ((600, 10), 1.0, 0.2),
    ((10, 10), 10.0, 10.0), ((30, 10), 10.0, 5.0), ((1e5, 1), 1.0, 176 / 1e5),
])
def test_scale_that_fits(size: tuple[float, float], largest: float, expected: float) -> None:
    assert fit_scale(*size, largest=largest) == pytest.approx(expected)


@given(st.floats(0.5, 5e3), st.floats(0.5, 5e3))
def test_the_scale_found_fits_and_the_next_would_not(width: float, height: float) -> None:
    scale = fit_scale(width, height, largest=50.0)
    assert width * scale <= 176 * (1 + 1e-9) and height * scale <= 226 * (1 + 1e-9)
    larger = [s for s in SCALES if s > scale]
    assert not larger or width * min(larger) > 176 or height * min(larger) > 226


def test_no_scale_for_nothing() -> None:
    with pytest.raises(OutOfRange, match="above 0"):
        fit_scale(0, 1)


def test_refitting_keeps_the_stated_scale_true() -> None:
    large = framed([Layer(layer.name, scaled(layer.marks, 4.0)) for layer in part_layers()], key="large", title="")
    fitted = refitted(large, 176, 226)
    assert fitted.scale == 0.2 and fitted.width_mm <= 176
    outline = next(layer for layer in fitted.layers if layer.name == "outline").marks[0]
    assert isinstance(outline, Polyline)
    # derived: the plate's lower edge is 140 mm, here enlarged four times and drawn 1:5
    assert math.dist(*outline.points_mm[:2]) == pytest.approx(140 * 4 * 0.2)
    assert refitted(fitted, 176, 226) is fitted


def test_a_diagram_is_refitted_to_the_room() -> None:
    fitted = refitted(circuit(20), 176, 226)
    assert fitted.scale is None and fitted.width_mm == pytest.approx(176)


def test_a_template_is_never_refitted() -> None:
    with pytest.raises(OutOfRange, match="printed at true size, in tiles"):
        refitted(template(5.0), 176, 226)


def test_scale_in_words() -> None:
    assert [scale_words(s) for s in (1.0, 0.5, 0.02, 10.0, None)] == ["1:1", "1:2", "1:50", "10:1", "not to scale"]


def test_translating() -> None:
    assert translated((Circle((1, 1), 1),), 2, 3) == (Circle((3, 4), 1),)
