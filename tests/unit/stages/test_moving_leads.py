"""Loops of leads at parts that move: by poses, by where both ends stand, by a chain of parts."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.sheets.cut_list import loop_table
from rushlight.stages.moving_leads import swing_of

PLAN = """
rushlight: 1
subject: {title: pier, scale: 100}
states: [{name: night}]
parts:
  - {name: pier, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, coats: [black lacquer],
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
  - {name: crane, outline_mm: [[0, 0], [60, 0], [60, 10], [0, 10]], relief: {flat: true}, coats: [black lacquer],
     poses: [%s]%s}
  - {name: lantern, outline_mm: [[0, 0], [20, 0], [20, 20], [0, 20]], relief: {flat: true}, coats: [black lacquer]%s}
crossings:
  - {name: foot, kind: %s, ends: [{part: pier, at_mm: [100, 50]}, {part: crane, at_mm: [%g, 2]}], slack_mm: 40}
  - {name: head, kind: fixed, ends: [{part: crane, at_mm: [58, 5]}, {part: lantern, at_mm: [2, 2]}], slack_mm: 20}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: lamp, part: lantern, at_mm: [10, 10], colour: white, size_mm: 200, states: [night]}
"""
STAND = ", stands: {over: pier, points_mm: [[0, 0], [60, 0]], at_mm: [[100, 50], [160, 50]], above_mm: 0%s}"
ON_CRANE = ", stands: {over: crane, points_mm: [[0, 0], [20, 0]], at_mm: [[40, 10], [60, 10]], up_deg: 0}"
SWUNG = "{name: stowed, value: 0}, {name: out, value: 90}"


def made(poses: str = SWUNG, stand: str = "", *, lantern: str = "", kind: str = "pivoting, opening_deg: 30", at: float = 2.0) -> Design:
    return designed(PLAN % (poses, stand, lantern, kind, at))


def told(design: Design, key: str) -> list[str]:
    return [row.says for row in find(design) if row.key == key]


def test_the_poses_count_where_they_turn_further_than_the_crossing_says() -> None:
    (says,) = told(made(), "loom.moving-slack")
    assert "turns 90 deg" in says and "21 mm" in says  # derived: chord of 90 deg at anchors 15 mm from the pivot
    assert told(made("{name: stowed, value: 0}, {name: out, value: 20}"), "loom.moving-slack") == []  # 7.8 + 20 mm for 30 deg


@pytest.mark.parametrize(("way", "at", "apart"), [
    (", pivot_mm: [100, 50]", 30.0, (30.0**2 + 2.0**2) ** 0.5),  # derived: it stays 30 mm from the pivot, 2 mm up
    (", pivot_mm: [70, 50]", 0.0, (30.0**2 + 30.0**2 + 2.0**2) ** 0.5),  # derived: chord of a quarter turn of 30 mm
    (", slide_deg: 0", 0.0, (90.0**2 + 2.0**2) ** 0.5),
])
def test_ends_that_stand_somewhere_come_apart_so_far(way: str, at: float, apart: float) -> None:
    design = made(stand=STAND % way, lantern=ON_CRANE, at=at, kind="sliding" if "slide" in way else "pivoting, opening_deg: 30")
    swing = swing_of(design.plan, design.plan.crossings[0])
    assert swing is not None and swing.apart_mm == pytest.approx(apart)
    (row,) = loop_table(design).rows
    assert (row[0], row[4]) == ("foot", 40.0) and row[2] == pytest.approx(max(apart, 0.0 if "slide" in way else 21.21), abs=0.01)
    assert row[3] == pytest.approx(row[2] + 20.0)
    assert len(told(design, "loom.moving-slack")) == 1
    assert all(lead.cut_mm >= 40 + 20 for lead in design.loom.leads), "both loops are in the cut"


def test_what_rides_on_a_moving_part_does_not_move_against_it() -> None:
    riding = made(stand=STAND % ", pivot_mm: [100, 50]", lantern=ON_CRANE)
    assert told(riding, "loom.moving-part") == []
    assert swing_of(riding.plan, riding.plan.crossings[1]) is None
    loose = made(stand=STAND % ", pivot_mm: [100, 50]")  # nobody says where the lantern stands: the crane moves, its leads are fixed
    assert told(loose, "loom.moving-part") == ["Crane moves, and its leads run through head, which is fixed."]


def test_a_lead_past_the_hinge_is_torn_where_no_loop_follows() -> None:
    text = PLAN % (SWUNG, STAND % ", pivot_mm: [100, 50]", ON_CRANE, "fixed", 2.0)
    past = text.replace("{part: crane, at_mm: [2, 2]}", "{part: lantern, at_mm: [18, 2]}").replace(
        "  - {name: head, kind: fixed, ends: [{part: crane, at_mm: [58, 5]}, {part: lantern, at_mm: [2, 2]}], slack_mm: 20}\n", "")
    design = designed(past)
    assert told(design, "loom.moving-part") == ["Crane moves, and the leads of what it carries run through foot, which is fixed."]
    (finding,) = [row for row in find(design) if row.key == "loom.moving-part"]
    assert finding.cure == "Make 'foot' pivoting by 90 degrees, or a plug."
    plugged = designed(past.replace("kind: fixed", "kind: plug"))
    assert len(told(plugged, "loom.moving-slack")) == 1


def test_a_part_of_which_nobody_says_whether_it_turns_or_slides_gets_no_offer() -> None:
    loose = made(kind="fixed")
    (finding,) = [row for row in find(loose) if row.key == "loom.moving-part" and row.item == "foot"]
    assert "sliding with its travel" in finding.cure and cure_of(loose, finding) is None
    known = made(stand=STAND % ", pivot_mm: [100, 50]", lantern=ON_CRANE, kind="fixed")
    (finding,) = [row for row in find(known) if row.key == "loom.moving-part"]
    offer = cure_of(known, finding)
    assert offer is not None and offer.changes[0].values == {"kind": "pivoting", "opening_deg": 90.0, "hinge_distance_mm": None, "slack_mm": 42.0}
