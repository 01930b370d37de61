"""Bundles in section."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import BARE, of, small
from rushlight.geometry.bundle import hand_made_diameter_mm, ring_of_each
from rushlight.geometry.circles import enclosing_circle
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.sheet import TEXT_SIZES_MM, Circle, Text
from rushlight.sheets.bundles import RING_FILLS, WIDE_MM, draw, section, size_table, sleeve_table, tail_light_table
from rushlight.sheets.lamp_list import strongest
from rushlight.sheets.place import text_box_mm


def test_the_packing_drawn_is_the_bundle() -> None:
    design = small()
    (bundle,) = design.loom.bundles
    drawing = section(design, bundle)
    assert drawing.scale is not None
    face, ideal, hand, *fibres = (m for layer in drawing.layers for m in layer.marks if isinstance(m, Circle))
    diameters = [2 * ring.radius_mm / drawing.scale for ring in (face, ideal, hand)]
    assert diameters == pytest.approx([bundle.led_face_mm, bundle.ideal_mm, bundle.hand_made_mm.typical])
    middle = face.centre_mm
    drawn = [((c.centre_mm[0] - middle[0]) / drawing.scale, (c.centre_mm[1] - middle[1]) / drawing.scale) for c in fibres]
    for at, centre in zip(drawn, bundle.centres_mm, strict=True):
        assert at == pytest.approx(centre, abs=1e-9)
    assert [2 * c.radius_mm / drawing.scale for c in fibres] == pytest.approx(list(bundle.fibre_mm))


def test_drawn_fibres_neither_overlap_nor_leave_their_circle() -> None:
    design = small()
    (bundle,) = design.loom.bundles
    _, ideal, _, *fibres = (m for layer in section(design, bundle).layers for m in layer.marks if isinstance(m, Circle))
    for k, a in enumerate(fibres):
        assert math.dist(a.centre_mm, ideal.centre_mm) + a.radius_mm <= ideal.radius_mm * 1.001
        for b in fibres[:k]:
            assert math.dist(a.centre_mm, b.centre_mm) >= (a.radius_mm + b.radius_mm) * 0.999


def test_rings_differ_by_fill_and_each_fibre_names_its_lamp() -> None:
    design = small()
    (bundle,) = design.loom.bundles
    marks = [mark for layer in section(design, bundle).layers for mark in layer.marks]
    fibres = [mark for mark in marks if isinstance(mark, Circle)][3:]
    rings = {tail.name: tail.ring for tail in design.loom.tails}
    assert [c.ink.fill for c in fibres] == [RING_FILLS[rings[name] % 3] for name in bundle.tails]
    assert {mark.text for mark in marks if isinstance(mark, Text)} == {"3", "4", "5", "6", "7", "8"}


def test_tables_hold_every_bundle_and_sleeve() -> None:
    design = small()
    assert [row[0] for row in size_table(design).rows] == [bundle.name for bundle in design.loom.bundles]
    assert len(sleeve_table(design).rows) == sum(len(bundle.sleeves) for bundle in design.loom.bundles)


def test_without_fibres_there_is_no_sheet() -> None:
    assert draw(of(BARE)) == ()


def test_what_is_left_after_each_step_multiplies_to_the_losses_of_the_tail() -> None:
    design = small()
    table, lit = tail_light_table(design), strongest(design)
    assert len(table.rows) == len(design.loom.tails)
    for tail, row in zip(design.loom.tails, table.rows, strict=True):
        left = [float(str(cell)) / 100 for cell in row[-5:]]
        assert left[1] == pytest.approx(0.55)  # fibre_coupling.csv: a hand-made joint
        total = 10 ** (-sum(loss.loss_db for loss in lit[tail.lamp].losses) / 10)
        assert math.prod(left) == pytest.approx(total, rel=0.05)  # told to two digits


def test_a_tube_is_told_before_and_after_it_shrinks() -> None:
    design = small()
    names = [column.key for column in sleeve_table(design).columns]
    tubes = {tube.name: tube for tube in design.drawer.tubes}
    for row in sleeve_table(design).rows:
        told = dict(zip(names, row, strict=True))
        if told["tube"] in tubes:
            tube = tubes[told["tube"]]
            assert (told["supplied_mm"], told["recovered_mm"]) == (tube.supplied_bore_mm, tube.recovered_bore_mm)
            assert told["recovered_mm"] <= told["grips_mm"] <= told["supplied_mm"]
        else:
            assert told["supplied_mm"] is None


def packed(mm: tuple[float, ...], face_mm: float, first: int) -> tuple[Design, Bundle]:
    """A design whose one bundle holds such fibres, its lamps numbered on from the first."""
    design = small()
    (bundle,), tail = design.loom.bundles, design.loom.tails[0]
    packing = enclosing_circle(mm, rounds=2)
    rings = ring_of_each(packing)
    tails = tuple(replace(tail, name=f"t{k}", lamp=f"lamp {k}", fibre_mm=d, ring=rings[k])
                  for k, d in enumerate(packing.diameters_mm))
    lamps = tuple(replace(design.lamps[0], name=f"lamp {k}") for k in range(1 - first, len(mm)))
    bundle = replace(bundle, tails=tuple(tail.name for tail in tails), fibre_mm=packing.diameters_mm,
                     centres_mm=packing.centres_mm, ideal_mm=packing.diameter_mm, led_face_mm=face_mm,
                     hand_made_mm=hand_made_diameter_mm(packing))
    return replace(design, lamps=lamps, loom=replace(design.loom, tails=tails, bundles=(bundle,))), bundle


@pytest.mark.parametrize(("mm", "face_mm", "first"), [
    ((0.5,) * 3, 5.0, 9), ((0.5,) * 7, 5.0, 20), ((0.5,) * 19, 5.0, 1), ((0.5,) * 37, 5.0, 1), ((0.5,) * 61, 5.0, 1),
    ((0.5,) * 100, 5.0, 1), ((0.25,) * 19, 5.0, 95), ((0.25,) * 61, 3.0, 95),
    ((1.0,) * 2 + (0.5,) * 5 + (0.25,) * 6, 5.0, 9), ((0.25,) * 7, 10.0, 120), ((0.25,) * 7, 20.0, 120),
])
def test_each_fibre_shows_its_number_within_its_circle(mm: tuple[float, ...], face_mm: float, first: int) -> None:
    design, bundle = packed(mm, face_mm, first)
    drawing = section(design, bundle)
    assert drawing.scale is not None and drawing.width_mm <= WIDE_MM + 4.001
    marks = [mark for layer in drawing.layers for mark in layer.marks]
    texts = {mark.text: mark for mark in marks if isinstance(mark, Text)}
    assert set(texts) == {str(number) for number in range(first, first + len(mm))}
    circles = [mark for mark in marks if isinstance(mark, Circle) and mark.ink.weight != "dimension"]
    for mark in texts.values():
        disc = min((one for one in circles if one.ink.weight == "detail"), key=lambda one: math.dist(one.centre_mm, mark.at_mm))
        assert disc.centre_mm == pytest.approx(mark.at_mm)
        width, height = text_box_mm(mark.text, TEXT_SIZES_MM[mark.size])
        assert 2 * disc.radius_mm >= max(width, height), "the digits keep inside their fibre"
    assert ("wider than the paper" in drawing.caption) is (not any(one.ink.weight == "edge" for one in circles))


def test_a_bundle_whose_numbers_fit_keeps_the_usual_scale() -> None:
    design, bundle = packed((1.0,) * 7, 5.0, 3)
    assert section(design, bundle).scale == 5.0
