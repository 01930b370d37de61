"""The pose of the state: doors before lit openings, and what hangs or turns over lit ground."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.sheets.dark import glows, laid_out, unlit
from rushlight.sheets.doors import door_blocks
from rushlight.stages.poses import casters_in, free_shape, lit_doors, pose_in

HUT = """
rushlight: 1
subject: {title: hut, scale: 50}
states:
  - {name: night, poses: [{part: shutter, at: %s}]}
  - {name: feast, poses: [{part: shutter, at: wide}]}
  - {name: late}
parts:
  - {name: hut, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, coats: [white primer],
     openings: [{name: parlour, rect_mm: [60, 40, 10, 10], clear: false, door: {part: shutter, moves: %s, edge: left}}],
     bays: [{name: bay, rect_mm: [5, 5, 40, 15], depth_mm: 20, access: open}]}
  - {name: shutter, outline_mm: [[0, 0], [12, 0], [12, 12], [0, 12]], relief: {flat: true},
     poses: [{name: shut, value: 0}, {name: ajar, value: %g}, {name: wide, value: 180}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: glow, part: hut, at_mm: [65, 45], colour: white, states: [night, feast, late], opening: parlour,
     source: {kind: room}, evidence: [{kind: guess}]}
pinned: [{of: glow, choice: current_ma, value: "5"}]
"""


def _lights(made: Design) -> dict[str, tuple[float, float, float]]:
    return {row.state: (row.flux_lm.typical, row.intensity_cd.typical, row.luminance_cd_m2.typical)
            for row in made.light.lamps}


def test_a_shut_door_hides_the_room_and_an_open_one_does_not() -> None:
    made = designed(HUT % ("shut", "turns", 60))
    lights = _lights(made)
    assert lights["night"] == lights["late"] == (0.0, 0.0, 0.0), "a state that says nothing takes the first pose"
    assert min(lights["feast"]) > 0.0
    keys = {finding.key for finding in find(made)}
    assert "light.behind-shut-door" in keys and "plan.pose-missing" in keys


def test_a_door_ajar_shows_its_share_and_keeps_light_in() -> None:
    lights = _lights(designed(HUT % ("ajar", "turns", 60)))
    (out, seen, luminance), (whole_out, whole_seen, whole) = lights["night"], lights["feast"]
    assert luminance > whole, "what stays in lights the room"
    assert seen / luminance == pytest.approx(0.5 * whole_seen / whole)  # derived: 1 - cos 60
    assert 0.5 < (out / luminance) / (whole_out / whole) < 0.75


def test_a_sliding_door_uncovers_its_share() -> None:
    lights = _lights(designed(HUT % ("ajar", "slides", 2.5)))
    assert lights["night"][1] / lights["night"][2] == pytest.approx(0.25 * lights["feast"][1] / lights["feast"][2])


def test_the_sheet_tells_every_state() -> None:
    made = designed(HUT % ("ajar", "turns", 60))
    (table,) = door_blocks(made)
    assert [row[2] for row in table.rows] == ["night", "feast", "late"]  # type: ignore[union-attr]
    assert [row.pose for row in lit_doors(made)] == ["ajar", "wide", "shut"]
    assert lit_doors(made)[0].doorway.seen == pytest.approx(0.5)


@pytest.mark.parametrize(("moves", "value", "edge", "free"), [
    ("turns", 60, "left", (65, 40, 70, 50)), ("turns", 60, "right", (60, 40, 65, 50)), ("turns", 60, "top", (60, 40, 70, 45)),
    ("slides", 4, "left", (66, 40, 70, 50)), ("slides", 4, "bottom", (60, 46, 70, 50)), ("turns", 95, "left", (60, 40, 70, 50)),
])
def test_what_is_seen_past_a_door(moves: str, value: float, edge: str, free: tuple[float, ...]) -> None:
    made = designed((HUT % ("ajar", moves, value)).replace("edge: left", f"edge: {edge}"))
    opening = made.plan.part("hut").openings[0]
    corners = free_shape(made.plan, opening, "night")
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx(free)  # derived: the rest of 10 by 10 mm at (60, 40)
    assert free_shape(made.plan, opening, "late") == ()


def test_the_picture_in_the_dark_shows_no_more_than_is_seen() -> None:
    made = designed(HUT % ("ajar", "turns", 60))
    night, feast, late = made.plan.states
    layout = laid_out(made.plan.parts[:1])
    areas = [abs((shape[2][0] - shape[0][0]) * (shape[2][1] - shape[0][1]))
             for shape in (glows(made, state, layout)[0].shape_mm for state in (night, feast))]
    assert areas[0] == pytest.approx(areas[1] / 2)
    assert glows(made, late, layout) == ()
    assert len(unlit(made, late, layout)) == 1


def test_a_strip_behind_a_door() -> None:
    text = HUT % ("ajar", "turns", 60)
    strip = text[:text.index("lamps:")] + """strips:
  - {name: glow, part: hut, openings: [parlour], along_mm: [[50, 45], [100, 45]], gap_mm: 10, states: [night, feast, late],
     evidence: [{kind: guess}]}
"""
    lights = _lights(designed(strip.replace("adapter_v: 5", "adapter_v: 12")))
    assert lights["night"][1] == pytest.approx(0.5 * lights["feast"][1])
    assert lights["night"][2] == pytest.approx(lights["feast"][2]) and lights["late"] == (0.0, 0.0, 0.0)


YARD = """
rushlight: 1
subject: {title: yard, scale: 50}
states: [{name: in, poses: [{part: boom, at: stowed}]}, {name: out, poses: [{part: boom, at: slewed}]}]
parts:
  - name: yard
    outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]]
    relief: {flat: true}
    bays: [{name: bay, rect_mm: [150, 0, 40, 20], depth_mm: 20, access: open}]
    obstacles: [{name: boom, rect_mm: [40, 48, 60, 4], height_mm: 30, above_mm: 26, moves_with: boom, pivot_mm: [40, 50]}]
  - {name: boom, outline_mm: [[0, 0], [60, 0], [60, 4], [0, 4]], relief: {flat: true},
     poses: [{name: stowed, value: 0}, {name: slewed, value: 90}]}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay}
lamps:
  - {name: flood, part: yard, at_mm: [20, 90], colour: white, size_mm: 100, states: [in, out], lights_mm: 60, lights_part: yard,
     foot_mm: [70, 20], evidence: [{kind: guess}]}
"""


def test_a_boom_turns_with_its_state_and_so_does_its_shadow() -> None:
    made = designed(YARD)
    stowed, slewed = made.light.grounds
    assert (stowed.states, slewed.states) == (("in",), ("out",))
    xs = [x for x, _ in slewed.standing[0].shape_mm]
    assert (min(xs), max(xs)) == (pytest.approx(38.0), pytest.approx(42.0))  # derived: a quarter turn about (40, 50)
    behind = [y for row in stowed.shadows for ring in row.outlines_mm for _, y in ring]
    assert min(behind) == pytest.approx(20 + 28 * 60 / 34, abs=0.1)  # derived: its underside at 26 of 60 mm
    assert max(behind) == pytest.approx(20 + 32 * 60 / 30, abs=0.1)  # derived: its top at 30 of 60 mm


def test_ground_under_a_boom_is_lit_ground() -> None:
    made = designed(YARD)
    assert pose_in(made.plan, "boom", "out").value == 90.0  # type: ignore[union-attr]
    standing = casters_in(made.plan, made.plan.part("yard"), "in")
    assert standing[0].above_mm == 26.0
    hanging, on_ground = (designed(YARD.replace("above_mm: 26, ", word)).light.grounds[0] for word in ("above_mm: 26, ", ""))
    assert hanging.pool_mm2 > on_ground.pool_mm2
    sliding = designed(YARD.replace("pivot_mm: [40, 50]", "slide_deg: 90")).light.grounds[1].standing[0]
    assert sliding.shape_mm[0] == pytest.approx((40.0, 138.0))  # derived: 90 mm upwards
