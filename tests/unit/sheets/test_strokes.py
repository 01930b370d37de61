"""Strokes of the loom: leads, fibres, splices, lamps, and the symbols of the circuit drawing."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.errors import OutOfRange
from rushlight.model.sheet import Band, Circle, Dimension, Mark, Polyline, Text
from rushlight.sheets import strokes, symbols
from rushlight.sheets.dimension import dimension_marks
from rushlight.sheets.place import bounds, on_circle

RUN = ((0.0, 0.0), (30.0, 0.0), (30.0, 20.0))


def test_a_lead_is_its_true_thickness_over_a_wider_pale_core() -> None:
    core, body = strokes.lead(RUN, 0.9)
    assert core.points_mm == body.points_mm == RUN
    assert body.width_mm == 0.9 and core.width_mm == pytest.approx(0.9 + 2 * strokes.HALO_MM)
    assert core.ink.colour == "paper" and body.ink.colour == "accent"


def test_a_very_thin_lead_still_prints() -> None:
    assert strokes.lead(RUN, 0.05)[1].width_mm == strokes.SMALLEST_BAND_MM


def test_plus_return_and_signal_differ_without_colour() -> None:
    assert len({ink.pattern for ink in (strokes.PLUS, strokes.RETURN, strokes.SIGNAL)}) == 3


@pytest.mark.parametrize("call", [
    lambda: strokes.lead(RUN[:1], 1.0), lambda: strokes.lead(RUN, 0.0), lambda: strokes.fibres(RUN, 0, pitch_mm=1),
    lambda: strokes.fibres(RUN, 2, pitch_mm=0), lambda: strokes.splice((0, 0), 0, diameter_mm=1),
    lambda: strokes.lamp((0, 0), 0), lambda: strokes.hole((0, 0), -1), lambda: strokes.keep_out(RUN[:2]),
    lambda: symbols.battery((0, 0), cells=0), lambda: symbols.selector((0, 0), 1),
    lambda: dimension_marks(Dimension((1, 1), (1, 1), 2, "")),
])
def test_what_cannot_be_drawn_raises(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]


def test_fibres_are_parallel_at_their_pitch() -> None:
    lines = strokes.fibres(RUN, 4, pitch_mm=0.5)
    # derived: offsets -0.75, -0.25, 0.25, 0.75 about the middle; the first leg lies along x, so its y is the offset
    assert [line.points_mm[0][1] for line in lines] == pytest.approx([-0.75, -0.25, 0.25, 0.75])
    # derived: the second leg goes up, left of it is smaller x
    assert [line.points_mm[2][0] for line in lines] == pytest.approx([30.75, 30.25, 29.75, 29.25])


def test_fibres_gather_at_the_start() -> None:
    lines = strokes.fibres(RUN, 3, pitch_mm=1.0, gather_mm=5.0)
    assert {line.points_mm[0] for line in lines} == {(0.0, 0.0)}
    assert [line.points_mm[1] for line in lines] == [(5.0, -1.0), (5.0, 0.0), (5.0, 1.0)]


@given(st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=2, max_size=8), st.floats(-2, 2))
def test_a_parallel_run_keeps_its_distance_from_each_leg(points: list[tuple[int, int]], offset: float) -> None:
    run = tuple((float(x), float(y)) for x, y in points)
    beside = strokes.parallel(run, offset)
    assert all(math.isfinite(v) for p in beside for v in p)
    plain = tuple(p for k, p in enumerate(run) if k == 0 or p != run[k - 1])
    assert len(beside) == len(plain)
    for (p, q) in zip(plain, beside, strict=True):
        assert math.dist(p, q) <= 4 * abs(offset) + 1e-9  # derived: the limit on mitres


def test_a_parallel_run_round_a_square_corner() -> None:
    # derived: one millimetre to the left of an L that turns left is inside its corner
    assert strokes.parallel(RUN, 1.0) == ((0.0, 1.0), (29.0, 1.0), (29.0, 20.0))


def test_a_splice_has_its_true_length_and_thickness() -> None:
    sleeve, name = strokes.splice((10, 10), 12.0, diameter_mm=2.0, angle_deg=0.0, name="S1")
    assert isinstance(sleeve, Polyline) and isinstance(name, Text) and name.text == "S1"
    xs, ys = zip(*sleeve.points_mm, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((12.0, 2.0))


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, 135.0, 180.0, 270.0])
def test_a_splices_name_stands_clear_of_its_sleeve(angle: float) -> None:
    sleeve, name = strokes.splice((0, 0), 12.0, diameter_mm=2.0, angle_deg=angle, name="S12")
    assert isinstance(sleeve, Polyline)
    box = bounds((name,))
    assert box is not None
    for k in range(9):  # points along the sleeve's axis, each a circle as wide as the sleeve
        x, y = on_circle((0, 0), -5.0 + 10.0 * k / 8, angle)
        nearest = (min(max(x, box.left_mm), box.right_mm), min(max(y, box.bottom_mm), box.top_mm))
        assert math.dist((x, y), nearest) > 1.0


def test_a_lamp_is_its_true_hole_with_tick_and_letter() -> None:
    hole, tick, words = strokes.lamp((5, 5), 3.0, direction_deg=90.0, letter="Fl(2) W 10s", name="head")
    assert isinstance(hole, Circle) and hole.radius_mm == 1.5
    assert isinstance(tick, Polyline) and tick.points_mm == ((5.0, 6.5), (5.0, 6.5 + strokes.TICK_MM))
    assert isinstance(words, Text) and words.text == "Fl(2) W 10s head"


def test_a_tiny_lamp_gets_a_ring_to_be_found_by() -> None:
    hole, ring = strokes.lamp((0, 0), 0.3)
    assert isinstance(hole, Circle) and hole.radius_mm == 0.15  # never drawn larger than it is
    assert isinstance(ring, Circle) and ring.radius_mm == 0.5


def test_lamp_words_stand_away_from_the_tick() -> None:
    right = strokes.lamp((0, 0), 2.0, direction_deg=0.0, letter="W")[-1]
    left = strokes.lamp((0, 0), 2.0, direction_deg=180.0, letter="W")[-1]
    assert isinstance(right, Text) and right.at_mm[0] < 0
    assert isinstance(left, Text) and left.at_mm[0] > 0


def test_a_keep_out_reads_by_hatch_and_name() -> None:
    region, plate, name = strokes.keep_out(((0, 0), (40, 0), (40, 20), (0, 20)), "bay")
    assert isinstance(region, Polyline) and region.ink.fill == "hatch" and region.closed
    assert isinstance(plate, Polyline) and plate.ink.fill == "paper"
    assert isinstance(name, Text) and name.at_mm == (20, 10)
    assert len(strokes.keep_out(((0, 0), (1, 0), (1, 1)))) == 1


TWO_ENDED = (symbols.resistor, symbols.fuse, symbols.led, symbols.diode, symbols.battery, symbols.switch)


@pytest.mark.parametrize("symbol", TWO_ENDED)
@pytest.mark.parametrize("angle", [0.0, 90.0, 180.0, 270.0])
def test_a_symbol_reaches_both_its_ends(symbol: object, angle: float) -> None:
    marks: tuple[Mark, ...] = symbol((7.0, 3.0), angle)  # type: ignore[operator]
    points = [p for mark in marks if isinstance(mark, Polyline) for p in mark.points_mm]
    for end in symbols.ends_mm((7.0, 3.0), angle):
        assert min(math.dist(end, p) for p in points) < 1e-9


@pytest.mark.parametrize("symbol", TWO_ENDED)
def test_words_of_a_symbol_stay_upright_and_clear(symbol: object) -> None:
    for angle in (0.0, 90.0, 180.0, 270.0):
        marks: tuple[Mark, ...] = symbol((0, 0), angle, label="LLL", value="VVV")  # type: ignore[operator]
        words = [mark for mark in marks if isinstance(mark, Text) and len(mark.text) == 3]
        assert len(words) == 2 and all(word.angle_deg == 0 for word in words)
        body = [mark for mark in marks if not isinstance(mark, Text)]
        for word, mark in itertools.product(words, body):
            a, b = bounds((word,)), bounds((mark,))
            assert a is not None and b is not None and not a.grown(-0.3).touches(b), (angle, word, mark)


def test_the_led_points_from_anode_to_cathode() -> None:
    triangle = next(m for m in symbols.led((0, 0)) if isinstance(m, Polyline) and m.closed)
    tip = max(triangle.points_mm)
    assert tip[1] == 0 and sum(p[0] < 0 for p in triangle.points_mm) == 2  # IEC 60617: the tip meets the cathode's bar


def test_plus_of_the_battery_is_the_long_bar_at_the_first_end() -> None:
    bars = [m for m in symbols.battery((0, 0)) if isinstance(m, Polyline) and m.points_mm[0][0] == m.points_mm[1][0]]
    lengths = {m.points_mm[0][0]: math.dist(*m.points_mm) for m in bars}
    assert lengths[min(lengths)] > lengths[max(lengths)]  # IEC 60617: the longer line is the positive pole


def test_a_selector_has_a_contact_for_each_position() -> None:
    ends = symbols.selector_ends_mm((10, 10), 5)
    assert len(set(ends)) == 5 and ends[0][1] > ends[-1][1]
    numbers = [mark.text for mark in symbols.selector((10, 10), 5) if isinstance(mark, Text)]
    assert numbers == ["1", "2", "3", "4", "5"]


def test_small_symbols() -> None:
    assert len(symbols.junction((0, 0))) == 1 and len(symbols.terminal((0, 0), "J1")) == 2
    assert symbols.wire((0, 0), (1, 1)).points_mm == ((0, 0), (1, 1))
    assert isinstance(symbols.block((0, 0), 10, 5, "timer")[1], Text)


@pytest.mark.parametrize(("a", "b", "angle"), [((0, 0), (10, 0), 0), ((10, 0), (0, 0), 0), ((0, 0), (0, 10), 90),
                                               ((0, 10), (0, 0), 90), ((0, 0), (-5, -5), 45)])
def test_dimension_text_is_never_upside_down(a: tuple[float, float], b: tuple[float, float], angle: float) -> None:
    text = dimension_marks(Dimension(a, b, 5, "x"))[-1]
    assert isinstance(text, Text) and text.angle_deg == pytest.approx(angle)


def test_a_dimension_is_as_long_as_what_it_measures() -> None:
    marks = dimension_marks(Dimension((1, 2), (31, 42), 6, "50"))
    line = marks[2]
    assert isinstance(line, Polyline) and math.dist(*line.points_mm) == pytest.approx(50)  # derived: 30-40-50 triangle
    assert len(dimension_marks(Dimension((0, 0), (5, 0), 0.5, "5"))) == 4  # close by: no extension lines


def test_bands_are_in_front_of_their_core() -> None:
    assert [type(mark) for mark in strokes.lead(RUN, 1.0)] == [Band, Band]
