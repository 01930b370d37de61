"""Bundles in section."""

from __future__ import annotations

import math

import pytest

from book_designs import BARE, of, small
from rushlight.model.sheet import Circle, Text
from rushlight.sheets.bundles import RING_FILLS, draw, section, size_table, sleeve_table, tail_light_table
from rushlight.sheets.lamp_list import strongest


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
