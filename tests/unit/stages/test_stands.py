"""The model's own parts over floodlit ground: walls, windows, folds, chains of parts, poses; and lamps that move with them."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from designed import designed, planned
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.model.design_light import PoolMap
from rushlight.model.sheet import Table
from rushlight.sheets.moving_lamps import moving_lamp_blocks
from rushlight.stages.stands import frame_over, lit_of, unknown_over, walls_over
from rushlight.web.answer import pools_json

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night, poses: [%s]}, {name: feast}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, coats: [black lacquer],
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
%s
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: flood, part: %s, at_mm: [%s], facing: down, colour: white, size_mm: 200, states: [night, feast], lights_mm: 40,
     lights_part: yard, foot_mm: [100, 50]%s}
"""
WALL = ("  - {name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true}, coats: [black lacquer], %s\n"
        "     stands: {over: yard, points_mm: [[0, 0], [60, 0]], at_mm: [[70, 30], [130, 30]]%s}}")


def made(wall: str = "", *, pose: str = "", on: str = "yard", at: str = "100, 90", aim: str = "") -> Design:
    text = PLAN % (pose, wall, on, at, aim)
    if on != "yard":
        text = text.replace("supply:", f"crossings: [{{name: c, kind: pivoting, ends: [{{part: yard, at_mm: [100, 32]}}, {{part: {on}, at_mm: [30, 1]}}]}}]\nsupply:")
    return designed(text)


def lx_at(ground: PoolMap, x: float, y: float) -> float:
    column, row = (round((value - corner) / ground.step_mm) for value, corner in zip((x, y), ground.corner_mm, strict=True))
    return ground.lx[row][column]


def test_a_wall_of_the_model_throws_its_shadow() -> None:
    (bare,), (ground,) = made().light.grounds, made(WALL % ("", "")).light.grounds
    (shadow,) = ground.shadows
    assert (shadow.of, shadow.tall_mm) == ("wall", 20.0)
    _, y0, _, y1 = shapely.Polygon(shadow.outlines_mm[0]).bounds
    assert (y1, y0) == pytest.approx((30.0, 10.0))  # derived: top of 20 mm at 20 mm from the foot, lamp 40 mm high, lands at twice that
    for x, dark in ((38, False), (47, True), (153, True), (162, False)):  # derived: from 43 to 157 mm at y 12
        assert (lx_at(ground, x, 12) == 0.0) is dark
    assert lx_at(ground, 100, 20) == 0.0 and lx_at(ground, 100, 40) == lx_at(bare, 100, 40) > 0.0
    assert lx_at(ground, 100, 5) == lx_at(bare, 100, 5), "beyond its top the light comes down again"
    assert not any(row.key == "light.pool-stand-unknown" for row in find(made(WALL % ("", ""))))


def test_a_window_lets_light_through_and_a_sheet_behind_it_does_not() -> None:
    window = "openings: [{name: pane, rect_mm: [25, 5, 10, 10], clear: no%s}],"
    clear = made(WALL % (window % "", "")).light.grounds[0]
    matt = made(WALL % (window % ', diffusers: [{sheet: "white paper, 80 g"}]', "")).light.grounds[0]
    assert lx_at(clear, 100, 20) > 0.0 == lx_at(matt, 100, 20)
    assert lx_at(clear, 80, 20) == 0.0


def test_a_part_that_nobody_placed_is_told_and_not_guessed() -> None:
    loose = "  - {name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true}%s}"
    unknown = made(loose % "")
    assert unknown.light.grounds[0].unknown == ("wall",) and not unknown.light.grounds[0].shadows
    (finding,) = [row for row in find(unknown) if row.key == "light.pool-stand-unknown"]
    assert finding.says == "Not known where 'wall' stands over 'yard', so its shadow is not computed."
    quiet = made(loose % ", throws_shadow: no")
    assert quiet.light.grounds[0].unknown == () and quiet.light.grounds[0].lx == unknown.light.grounds[0].lx


def test_folds_are_known_only_with_their_way() -> None:
    folded = ("  - {name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {folds: [{from_mm: [30, 0], to_mm: [30, 20]%s}]},\n"
              "     stands: {over: yard, points_mm: [[0, 0], [30, 0]], at_mm: [[70, 30], [100, 30]]}}")
    assert made(folded % "").light.grounds[0].unknown == ("wall",)
    inward, outward = (made(folded % f", towards: {way}").light.grounds[0] for way in ("inside", "outside"))
    assert inward.unknown == outward.unknown == ()
    for ground, far in ((inward, 60.0), (outward, 0.0)):  # derived: its outer face looks towards y 0, so inside is up the drawing
        corners = np.array([corner for wall in ground.walls for corner in wall.corners_mm])
        assert corners[:, 1].max() == pytest.approx(max(30.0, far)) and corners[:, 1].min() == pytest.approx(min(30.0, far))
        assert corners[:, 0].max() == pytest.approx(100.0)


def test_walls_of_the_lit_part_itself_stand_up() -> None:
    text = PLAN % ("", "", "yard", "100, 90", "")
    text = text.replace("relief: {flat: true}", "relief: {folds: [{from_mm: [0, 30], to_mm: [200, 30], angle_deg: 90, towards: %s}]}", 1)
    up, down = (designed(text % way).light.grounds[0] for way in ("outside", "inside"))
    assert [wall.name for wall in up.walls] == ["yard"]
    assert max(z for _, _, z in up.walls[0].corners_mm) == pytest.approx(30.0)
    assert max(z for _, _, z in down.walls[0].corners_mm) == pytest.approx(0.0)
    assert up.pool_mm2 == down.pool_mm2 < designed(text.replace("folds: [{from_mm: [0, 30], to_mm: [200, 30], angle_deg: 90, towards: %s}]", "flat: true")
                                                   ).light.grounds[0].pool_mm2, "what is folded up is no ground"


def test_a_part_on_a_part_and_one_drawn_from_inside() -> None:
    plan = planned(PLAN % ("", (WALL % ("", "")) + (
        "\n  - {name: sign, outline_mm: [[0, 0], [10, 0], [10, 8], [0, 8]], stands: {over: wall, points_mm: [[0, 0], [10, 0]], "
        "at_mm: [[20, 20], [30, 20]], above_mm: 2, up_deg: 90}}"), "yard", "100, 90", ""))
    lit = lit_of(plan.part("yard"), (100.0, 50.0))
    frame = frame_over(plan, "sign", (5.0, 4.0), lit, None)
    # derived: the wall's outer face looks to y 0; 2 mm before it at 20 mm height, standing out from it by 8 mm
    assert frame is not None and (frame @ (0, 0, 0, 1))[:3] == pytest.approx((90.0, 28.0, 20.0))
    assert (frame @ (10, 8, 0, 1))[:3] == pytest.approx((100.0, 20.0, 20.0))
    assert unknown_over(plan, lit) == ()
    flipped = planned((PLAN % ("", WALL % ("", ""), "yard", "100, 90", "")).replace("[0, 100]],", "[0, 100]], drawn_from: inside,", 1))
    tall = [corner for wall in walls_over(flipped, lit_of(flipped.part("yard"), (100.0, 50.0)), "night") for corner in wall.corners_mm]
    assert max(z for _, _, z in tall) == pytest.approx(20.0), "it stands on the outer face, whichever side is drawn"


MOVING = WALL % ("poses: [{name: first, value: 0}, {name: other, value: %g}],", ", %s")


@pytest.mark.parametrize(("way", "value", "at"), [
    ("pivot_mm: [70, 30]", 90, (70.0, 90.0, 0.0)),  # derived: the far foot turns about the near one
    ("slide_deg: 90", 15, (130.0, 45.0, 0.0)), ("tips: yes", -30, (130.0, 30.0, 0.0)),
])
def test_a_wall_that_moves_stands_as_its_pose_has_it(way: str, value: float, at: tuple[float, float, float]) -> None:
    design = made(MOVING % (value, way), pose="{part: wall, at: other}")
    moved, still = ({ground.states[0]: ground for ground in design.light.grounds}[name] for name in ("night", "feast"))
    assert moved.walls[0].corners_mm[1] == pytest.approx(at, abs=1e-6) or at in [pytest.approx(row, abs=1e-6) for row in moved.walls[0].corners_mm]
    assert moved.lx != still.lx and still.lx == made(WALL % ("", "")).light.grounds[0].lx
    if way.startswith("tips"):
        assert max(z for _, _, z in moved.walls[0].corners_mm) == pytest.approx(20 * np.sin(np.radians(60)))
    told = [row.item for row in find(design) if row.key == "plan.pose-missing"]
    assert told == ["wall"], "feast does not say how it stands"


def test_a_lamp_on_a_moving_part_goes_with_it() -> None:
    wall = (MOVING % (90, "pivot_mm: [100, 30]"))
    design = made(wall, pose="{part: wall, at: other}", on="wall", at="30, 18", aim=", aim_mm: [110, 50]")
    moved, still = ({ground.states[0]: ground for ground in design.light.grounds}[name] for name in ("night", "feast"))
    assert (still.feet_mm, still.aims_mm) == (((100.0, 50.0),), ((110.0, 50.0),))
    assert moved.feet_mm[0] == pytest.approx((80.0, 30.0)) and moved.aims_mm[0] == pytest.approx((80.0, 40.0))  # derived: a quarter turn about the pivot


def test_a_lamp_on_a_lid_that_tips_past_the_ground_lights_nothing_of_it() -> None:
    wall = (MOVING % (60, "tips: yes")).replace("at_mm: [[70, 30], [130, 30]]", "at_mm: [[70, 30], [130, 30]], up_deg: 0, above_mm: 40")
    design = made(wall, pose="{part: wall, at: other}", on="wall", at="30, 10", aim=", aim_mm: [100, 60]")
    (ground,) = [row for row in design.light.grounds if "night" in row.states]
    # derived: the lamp lies 20 mm from the hinge and turns up by 60 degrees; so does its beam
    foot = (100.0, 30 + 20 * 0.5)
    assert ground.feet_mm[0] == pytest.approx(foot)
    assert design.light.pools[0].height_mm == pytest.approx(40 + 20 * np.sin(np.radians(60)))
    design = made((MOVING % (100, "tips: yes")).replace("at_mm: [[70, 30], [130, 30]]", "at_mm: [[70, 30], [130, 30]], up_deg: 0, above_mm: 40"),
                  pose="{part: wall, at: other}", on="wall", at="30, 10", aim=", aim_mm: [100, 60]")
    assert [row.states for row in design.light.grounds] == [("feast",)]


def test_a_house_folded_from_its_net_shades_as_a_block_of_its_size() -> None:
    net = ("  - {name: house, outline_mm: [[0, 0], [120, 0], [120, 25], [30, 25], [30, 55], [0, 55]], coats: [black lacquer],\n"
           "     relief: {folds: [{from_mm: [30, 0], to_mm: [30, 25], towards: inside}, {from_mm: [60, 0], to_mm: [60, 25], towards: inside},\n"
           "       {from_mm: [90, 0], to_mm: [90, 25], towards: inside}, {from_mm: [0, 25], to_mm: [30, 25], towards: inside}]},\n"
           "     stands: {over: yard, points_mm: [[0, 0], [30, 0]], at_mm: [[120, 30], [150, 30]]}}")
    (folded,) = made(net).light.grounds
    block = (PLAN % ("", "", "yard", "100, 90", "")).replace("bays:", "obstacles: [{name: house, rect_mm: [120, 30, 30, 30], height_mm: 25}], bays:", 1)
    (solid,) = designed(block).light.grounds
    differing = [(x, y) for row, (a, b) in enumerate(zip(folded.lx, solid.lx, strict=True)) for column, (p, q) in enumerate(zip(a, b, strict=True))
                 if p != q and not (119 < (x := folded.corner_mm[0] + column * folded.step_mm) < 151
                                    and 29 < (y := folded.corner_mm[1] + row * folded.step_mm) < 61)]
    assert differing == []
    assert folded.shadows[0].reach_mm == pytest.approx(solid.shadows[0].reach_mm)
    assert folded.shadows[0].tall_mm == pytest.approx(25.0)


def test_what_stands_on_a_part_shades_the_ground_below() -> None:
    """A chest on a quay that lies flat 5 mm over the yard shades as a block of the yard between 5 and 20 mm would."""
    quay = ("  - {name: quay, outline_mm: [[0, 0], [30, 0], [30, 20], [0, 20]], relief: {flat: true}, coats: [black lacquer],\n"
            "     obstacles: [{name: chest, rect_mm: [5, 5, 20, 10], height_mm: 15}],\n"
            "     stands: {over: yard, points_mm: [[0, 0], [30, 0]], at_mm: [[130, 40], [160, 40]], above_mm: 5, up_deg: 0}}")
    (ground,) = made(quay).light.grounds
    block = (PLAN % ("", "", "yard", "100, 90", "")).replace("bays:", "obstacles: [{name: chest, rect_mm: [135, 45, 20, 10], height_mm: 20, above_mm: 5}], bays:", 1)
    (solid,) = designed(block).light.grounds
    chest = next(row for row in ground.shadows if row.of == "chest")
    assert shapely.Polygon(chest.outlines_mm[0]).symmetric_difference(shapely.Polygon(solid.shadows[0].outlines_mm[0])).area < 0.01
    assert not [row for row in find(made(quay)) if row.key == "plan.pose-missing"]
    moving = quay.replace("height_mm: 15}", "height_mm: 15, moves_with: lid, pivot_mm: [5, 5]}") + (
        "\n  - {name: lid, outline_mm: [[0, 0], [20, 0], [20, 10], [0, 10]], poses: [{name: shut, value: 0}, {name: open, value: 40}]}")
    assert [row.item for row in find(made(moving)) if row.key == "plan.pose-missing"] == ["lid"]
    assert (chest.tall_mm, chest.share) == (20.0, pytest.approx(solid.shadows[0].share, abs=0.01))


def test_the_app_gets_walls_and_feet_as_the_pose_has_them() -> None:
    design = made(MOVING % (90, "pivot_mm: [70, 30]"), pose="{part: wall, at: other}")
    shown = {tuple(row["states"]): row for row in pools_json(design)}
    assert shown[("feast",)]["walls"] == [{"corners": [[130.0, 30.0], [70.0, 30.0]], "hangs": False}]
    assert sorted(shown[("night",)]["walls"][0]["corners"]) == [[70.0, 30.0], [70.0, 90.0]]
    assert shown[("night",)]["feet"] == [[100.0, 50.0]]


def test_the_light_sheet_says_where_a_lamp_on_a_moving_part_hangs_in_each_state() -> None:
    design = made(MOVING % (90, "pivot_mm: [70, 30]"), pose="{part: wall, at: other}", on="wall", at="30, 18")
    (table,) = moving_lamp_blocks(design)
    assert isinstance(table, Table)
    # derived: 30 mm from the pivot along the wall, 18 mm up it; a quarter turn later the same way up the drawing
    assert table.rows == (("flood", "night", "wall: other, 90 deg", "yard", 70.0, 60.0, 18.0), ("flood", "feast", "wall: first, 0 deg", "yard", 100.0, 30.0, 18.0))
    assert moving_lamp_blocks(made(WALL % ("", ""))) == []
