"""The model as it stands, seen from a bearing: places by hand, what hides what, poses."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from designed import designed
from rushlight.errors import UnknownName
from rushlight.model.design import Design
from rushlight.model.plan_part import Opening
from rushlight.model.sheet import Drawing
from rushlight.sheets import standing
from rushlight.sheets.glow import Glow
from rushlight.sheets.night_pools import ShownPool
from rushlight.sheets.night_words import viewer_words
from rushlight.sheets.standing import _left_of, _tree, draw, edges_seen, flats_of, standing_glows, standing_pools

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100, viewing_bearing_deg: %g, viewing_height_deg: %g}
states: [{name: night, poses: [%s]}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, faces: up,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
  - {name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true}, %s
     stands: {over: yard, points_mm: [[0, 0], [60, 0]], at_mm: [[70, 30], [130, 30]]%s}}
crossings: [{name: c, kind: pivoting, ends: [{part: yard, at_mm: [100, 32]}, {part: wall, at_mm: [30, 1]}]}]
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: on wall, part: wall, at_mm: [45, 12], colour: red, model_mm: 3, states: [night], source: {kind: led}}
  - {name: on yard, part: yard, at_mm: [100, 50], colour: red, model_mm: 3, states: [night], source: {kind: led}}
"""


def made(bearing: float, height: float, *, pose: str = "", poses: str = "", moves: str = "") -> Design:
    return designed(PLAN % (bearing, height, pose, poses, moves))


def places(design: Design) -> dict[str, tuple[float, float]]:
    glows = standing_glows(design, design.plan.states[0], _tree(design))
    return {name: glow.at_mm for name, glow in glows.items()}


def test_places_by_hand() -> None:
    # derived: the yard lies level, its right starboard, its top ahead; the wall stands along it, its face astern.
    # From astern its right is on the right, what is up is up: x as on the yard, y the height times cos and the way ahead times sin.
    up = math.radians(50.0)
    seen = places(made(180.0, 50.0))
    assert seen["on wall"] == pytest.approx((115.0, 12 * math.cos(up) + 30 * math.sin(up)))
    assert seen["on yard"] == pytest.approx((100.0, 50 * math.sin(up)))


def test_a_wall_hides_what_lies_behind_it() -> None:
    # derived: from astern the sight of the yard's lamp passes the wall, 20 mm before it, at a height of 20 tan(height)
    assert set(places(made(180.0, 50.0))) == {"on wall", "on yard"}, "over its edge: 23.8 mm"
    assert set(places(made(180.0, 40.0))) == {"on wall"}, "16.8 mm of a wall of 20"
    assert set(places(made(0.0, 40.0))) == {"on yard"}, "from ahead the wall shows its back and stands behind the lamp"


def test_lamps_stand_where_the_pose_puts_them() -> None:
    poses, moves = "poses: [{name: rest, value: 0}, {name: out, value: 90}],", ", pivot_mm: [100, 30]"
    at = {pose: places(made(90.0, 60.0, pose=f"{{part: wall, at: {pose}}}", poses=poses, moves=moves)) for pose in ("rest", "out")}
    still = made(80.0, 60.0, pose="{part: wall, at: rest}", poses=poses, moves=moves)
    assert "on wall" not in places(still), "its face looks astern"
    up = math.radians(60.0)
    # derived: turned a quarter anticlockwise about (100, 30), (115, 30) comes to (100, 45); from starboard ahead is on the right
    assert at["out"]["on wall"] == pytest.approx((45.0, 12 * math.cos(up) - 100 * math.sin(up)))


def test_what_is_hidden_of_an_edge_is_not_drawn() -> None:
    design = made(180.0, 30.0)
    flats = {row.part: row for row in flats_of(design, _tree(design), "night")}
    drawn = sum(line.length for line in edges_seen(flats["yard"], tuple(flats.values())))
    assert drawn == pytest.approx(flats["yard"].lines.length), "the wall stands within the yard's edges"
    low = made(180.0, 8.0)
    flats = {row.part: row for row in flats_of(low, _tree(low), "night")}
    whole, seen = flats["yard"].lines.length, sum(line.length for line in edges_seen(flats["yard"], tuple(flats.values())))
    assert whole - seen == pytest.approx(60.0), "from low down the wall covers so much of the far edge"


def lit_yard(states: tuple[str, ...] = ("night",)) -> ShownPool:
    return ShownPool("yard", states, (), (0.0, 0.0), 10.0, ((1.0, 2.0), (3.0, 4.0)), (0.3, 0.3), "")


def test_lit_ground_lies_aslant_and_ends_where_a_nearer_wall_hides_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(standing, "shown_pools", lambda _: (lit_yard(), lit_yard(("day",))))
    design, up = made(180.0, 50.0), math.radians(50.0)
    (pool,) = standing_pools(design, design.plan.states[0], _tree(design))
    # derived: from astern x stays, the way ahead is shortened by the sine of the height; the wall hides 60 by 20 cos(height)
    assert pool.step_mm == pytest.approx((10.0, 10.0 * math.sin(up))) and pool.lean_mm == pytest.approx((0.0, 0.0))
    assert pool.cd_m2 == ((1.0, 2.0), (3.0, 4.0))
    seen = shapely.make_valid(shapely.Polygon(pool.edge_mm)).area
    assert seen == pytest.approx(200 * 100 * math.sin(up) - 60 * 20 * math.cos(up))
    turned = made(120.0, 50.0)
    (leaning,) = standing_pools(turned, turned.plan.states[0], _tree(turned))
    along, rise = leaning.step_mm[0], leaning.lean_mm[0]
    # derived: the yard's right points to starboard: 60 degrees about the upright from square on
    assert (along, abs(rise)) == pytest.approx((10 * math.cos(math.radians(60)), 10 * math.sin(math.radians(60)) * math.sin(up)))
    low = made(180.0, -40.0)
    assert standing_pools(low, low.plan.states[0], _tree(low)) == (), "from below its underside is seen"


def test_of_an_opening_as_much_is_seen_as_nearer_walls_leave_free() -> None:
    glow = Glow((5.0, 5.0), 1.0, (0.3, 0.3), 8.0, ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)))
    assert _left_of(glow, shapely.box(20, 0, 30, 10)) is glow
    left = _left_of(glow, shapely.box(-5, -5, 7.5, 20))
    assert left.intensity_cd == pytest.approx(2.0) and shapely.Polygon(left.shape_mm).area == pytest.approx(25.0)
    assert _left_of(glow, shapely.box(-5, -5, 20, 20)).intensity_cd == 0.0


def test_a_picture_a_state_with_its_words_and_none_where_nobody_said_how_it_lies() -> None:
    (sheet,) = draw(made(180.0, 40.0))
    (picture,) = sheet.blocks
    assert isinstance(picture, Drawing) and picture.key == "stands-night"
    assert "1 of 2 lit lamps" in picture.caption and "Seen from astern, 40 degrees up" in picture.caption
    (usual,) = draw(designed((PLAN % (180, 0, "", "", "")).replace(", viewing_bearing_deg: 180, viewing_height_deg: 0", "")))
    assert "Seen from ahead, 65 degrees to starboard, 12 degrees up" in usual.blocks[0].caption  # type: ignore[union-attr]
    alone = PLAN.replace("faces: up,", "") % (180, 0, "", "", "")
    assert draw(designed(alone)) == (), "how they lie is not said"


def test_the_part_below_says_how_the_heap_lies() -> None:
    """A part that says itself how it faces, a little otherwise than its stand has it, does not tilt the others."""
    one, other = made(180.0, 50.0), made(180.0, 50.0, poses="faces_deg: 178,")
    assert places(one)["on yard"] == pytest.approx(places(other)["on yard"])


def test_a_whole_turn_shows_the_same() -> None:
    one, other = places(made(0.0, 25.0)), places(made(360.0, 25.0))
    assert {name: np.round(at, 6).tolist() for name, at in one.items()} == {name: np.round(at, 6).tolist() for name, at in other.items()}


def test_pieces_that_pass_through_each_other_hide_up_to_the_line_where_they_meet() -> None:
    # derived: one piece lies level with the picture, the other rises 1 mm a mm across it and passes it at x = 10
    square = shapely.box(0, 0, 20, 10)
    flat = standing.Flat("level", (0.0, 0.0), square, True, square, square.boundary, (0.0, 0.0, 0.0))
    other = standing.Flat("rising", (0.0, 0.0), square, True, square, square.boundary, (1.0, 0.0, -10.0))
    assert standing._before(other, flat).area == pytest.approx(100.0)
    assert standing._before(flat, other).area == pytest.approx(100.0)
    assert sum(line.length for line in edges_seen(flat, (flat, other))) == pytest.approx(2 * 10.0 + 10)


def _meets(hides: shapely.Geometry, spot: shapely.Point) -> bool:
    """Within a little of the edge, where the ray passes what the spot as good as lies on."""
    return any(piece.boundary.distance(spot) < 1.2 for piece in shapely.get_parts(hides) if piece.area > 0.0)


@pytest.mark.parametrize("bearing", range(0, 360, 30))
def test_what_is_hidden_is_what_rays_find_at_every_bearing(bearing: int) -> None:
    design = made(bearing, 25.0)
    flats = flats_of(design, _tree(design), "night")
    rng = np.random.default_rng(bearing)
    for flat in flats:
        hides = standing._nearer_than(flat, flats)
        left, low, right, top = flat.area.bounds
        for x, y in rng.uniform((left, low), (right, top), (40, 2)):
            spot = shapely.Point(x, y)
            if not flat.area.contains(spot) or _meets(hides, spot):
                continue
            here = (x, y, standing._near(flat, x, y))
            assert hides.contains(spot) == standing.hidden(flats, np.array([here]))[0]


def test_turning_the_eye_is_the_plan_with_that_bearing() -> None:
    turned = standing.standing_picture(made(180.0, 40.0), "night", (60.0, 30.0))
    (said,) = standing.standing_pictures(made(60.0, 30.0))
    assert turned == said
    assert standing.standing_picture(made(180.0, 40.0), "night") == standing.standing_pictures(made(180.0, 40.0))[0]
    with pytest.raises(UnknownName):
        standing.standing_picture(made(180.0, 40.0), "nicht")


def test_flat_lamps_are_drawn_together_the_way_that_their_wall_turns() -> None:
    text = PLAN.replace("name: on wall, part: wall, at_mm: [45, 12], colour: red, model_mm: 3, states: [night], source: {kind: led}",
                        "name: on wall, part: wall, at_mm: [45, 12], colour: red, model_mm: 1, states: [night], source: {kind: fibre}")
    for pose, off in (("", -20.0), ("{part: wall, at: out}", 10.0)):
        moved = ("poses: [{name: rest, value: 0}, {name: out, value: 30}],", ", pivot_mm: [100, 30]") if pose else ("", "")
        design = designed(text % (160.0, 0.0, pose, *moved))
        glows = standing_glows(design, design.plan.states[0], _tree(design))
        # derived: the wall looks astern, 180, turned anticlockwise to 150; from 160 what looks to 250 is on the left
        assert glows["on wall"].lean == pytest.approx((math.sin(math.radians(off)), 0.0), abs=1e-9)
    domed = made(160.0, 0.0)
    assert standing_glows(domed, domed.plan.states[0], _tree(domed))["on wall"].lean == (0.0, 0.0)


def test_flat_pictures_say_that_openings_are_as_narrow_as_they_look() -> None:
    plan = made(180.0, 40.0).plan
    assert viewer_words(plan) == "Seen from astern, 40 degrees up; parts are laid out flat."
    window = Opening(name="window", outline_mm=((1.0, 1.0), (9.0, 1.0), (9.0, 9.0)))
    with_window = replace(plan, parts=(replace(plan.parts[0], openings=(window,)), *plan.parts[1:]))
    assert viewer_words(with_window).endswith("Openings are as narrow as they look from there, and as bright.")
    square = replace(with_window, subject=replace(plan.subject, viewing_bearing_deg=None))
    assert viewer_words(square) == "Each part is seen square on."
