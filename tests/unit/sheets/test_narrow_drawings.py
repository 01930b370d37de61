"""Drawings of the book go into a phone's width: laid out for it, with letters as large and all that they show."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest

from book_designs import SMALL
from designed import designed
from rushlight.model.sheet import PHONE_WIDTH_MM, TEXT_SIZES_MM, Circle, Drawing, Picture, Text
from rushlight.sheets.circuit import draw as circuit
from rushlight.sheets.gates import draw as gates
from rushlight.sheets.place import anchor_shift
from rushlight.sheets.pools import pool_blocks
from rushlight.sheets.power import draw as power

LONG = "the lamp over the door of the second mate's cabin on the starboard side"
PLAN = (SMALL.replace("size_mm: 100, states: [dusk, night],", "size_mm: 100, states: dusk, rhythm: Q,")
        .replace("name: bow", f'name: "{LONG}"'))
MADE = """
rhythms:
  - {rhythm: Fl 4s, by: controller}
  - {rhythm: Q, by: MAKER}
controller: {pins: PINS, most_v: 12}
"""
FLOOD = """
rushlight: 1
subject: {title: yard, scale: 1:72, invented: true}
states: [{name: on}]
parts:
  - {name: yard, outline_mm: [[0, 0], [400, 0], [400, 200], [0, 200]], relief: {flat: true}}
lamps:
  - {name: flood, part: yard, at_mm: [120, 90], colour: white, states: on, size_mm: 200, lights_mm: 60,
     brightness: {intensity_mcd: 400}}
supply: {kind: cells}
"""
LEAST_EM = 0.45
"""A letter's width at the least: texts that would touch even so lie over each other."""


@cache
def drawings(maker: str, pins: str = "[2, 3]") -> tuple[Drawing, ...]:
    design = designed(PLAN + MADE.replace("MAKER", maker).replace("PINS", pins))
    blocks = [block for draw in (circuit, power, gates) for sheet in draw(design) for block in sheet.blocks]
    return tuple(block for block in blocks if isinstance(block, Drawing))


def texts(drawing: Drawing) -> list[Text]:
    return [mark for layer in drawing.layers for mark in layer.marks if isinstance(mark, Text)]


def words(drawing: Drawing) -> list[str]:
    return sorted(word for mark in texts(drawing) for word in mark.text.split() if "…" not in word)


def circles(drawing: Drawing) -> int:
    return sum(isinstance(mark, Circle) for layer in drawing.layers for mark in layer.marks)


def box(mark: Text) -> tuple[float, float, float, float]:
    size, (across, up) = TEXT_SIZES_MM[mark.size], anchor_shift(mark.anchor)
    wide, high = LEAST_EM * size * len(mark.text), 0.6 * size
    left, low = mark.at_mm[0] - across * wide, mark.at_mm[1] - up * high
    return left, low, left + wide, low + high


@pytest.mark.parametrize("maker, pins", [("flasher", "[2, 3]"), ("controller", "[2, 3]"), ("controller", "[2]")])
def test_each_that_is_broader_than_a_phone_is_laid_out_for_one_and_loses_nothing(maker: str, pins: str) -> None:
    broad = [row for row in drawings(maker, pins) if row.width_mm > PHONE_WIDTH_MM]
    assert {"circuit-supply", "circuit-makers-1", "circuit-1", "resistor-bands"} <= {row.key for row in broad}
    assert any(row.key.endswith("-meter") for row in broad)
    for row in broad:
        narrow = row.narrow
        assert narrow is not None and narrow.width_mm <= PHONE_WIDTH_MM, row.key
        assert {mark.size for mark in texts(narrow)} <= {mark.size for mark in texts(row)}
        if row.key not in ("evening", "evenings"):  # charts have other ticks in little room
            left = words(narrow)
            for word in words(row):
                assert word in left, (row.key, word)
                left.remove(word)
            assert circles(narrow) == circles(row)


@pytest.mark.parametrize("maker, pins", [("flasher", "[2, 3]"), ("controller", "[2, 3]"), ("controller", "[2]")])
def test_no_words_lie_over_others_or_beyond_the_frame(maker: str, pins: str) -> None:
    for row in drawings(maker, pins):
        if row.narrow is None or not row.key.startswith("circuit"):
            continue
        boxes = [(mark.text, box(mark)) for mark in texts(row.narrow) if not mark.angle_deg]
        assert all(b[0] >= 0.0 and b[2] <= row.narrow.width_mm for _, b in boxes), row.key
        for (one, a), (other, b) in combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (row.key, one, other)


def test_a_long_name_is_whole_on_a_phone() -> None:
    (row,) = [row for row in drawings("flasher") if row.key == "circuit-1"]
    assert row.narrow is not None
    assert LONG in " ".join(mark.text for mark in texts(row.narrow))


def test_a_map_of_lit_ground_is_smaller_on_a_phone_with_its_lamps_named_anew() -> None:
    (row,) = [block for block in pool_blocks(designed(FLOOD)) if isinstance(block, Drawing)]
    assert row.narrow is not None and row.width_mm > PHONE_WIDTH_MM
    assert 0.8 * PHONE_WIDTH_MM < row.narrow.width_mm <= PHONE_WIDTH_MM
    assert "flood" in words(row.narrow)
    assert {mark.size for mark in texts(row.narrow)} <= {mark.size for mark in texts(row)}
    assert not any(isinstance(mark, Picture) for layer in row.narrow.layers for mark in layer.marks)
