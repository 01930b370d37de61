"""The demo plans hold what they promise, and their pictures are the script's."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from io import BytesIO
from itertools import pairwise

import pytest
from PIL import Image

from rushlight.demos.draw import DEMOS, Placing, demo_folder, pictures, read_demo
from rushlight.demos.views import lamp_pixels
from rushlight.model.design import PlacedLamp
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.model.plan_part import KeepOut, Part
from rushlight.stages.lamps import place_lamps
from rushlight.stages.stands import base_point, frame_to_root
from rushlight.stages.subject_lights import ShownLamp, SubjectRequest, check_against, required_lights

plan_of = cache(read_demo)
pictures_of = cache(pictures)

EVERY_PART = [(demo, part.name) for demo in DEMOS for part in plan_of(demo).parts]
EVERY_REFERENCE = [(demo, reference.name) for demo in DEMOS for reference in plan_of(demo).references]


def lamps_of(demo: str, part: Part) -> list[tuple[PlacedLamp, Point]]:
    return [(lamp, lamp.spot.at_mm) for lamp in place_lamps(plan_of(demo)) if lamp.spot and lamp.spot.part == part.name]


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_says_that_it_is_invented(demo: str) -> None:
    plan = plan_of(demo)
    text = (demo_folder(demo) / "plan.yaml").read_text(encoding="utf-8")
    assert plan.subject.invented and plan.subject.note
    assert "invented" in plan.subject.title
    assert "invented" in "".join(line for line in text.splitlines()[:8] if line.startswith("#"))


@pytest.mark.parametrize("version", ["early", "late"])
def test_the_tug_has_her_lamps_states_and_parts(version: str) -> None:
    plan = plan_of("tug")
    lamps = place_lamps(_in_version(plan, version))
    assert len(lamps) >= 110
    assert len({lamp.name for lamp in lamps}) == len(lamps)
    assert (len(plan.states), len(plan.parts)) == (5, 6)
    assert {crossing.kind for crossing in plan.crossings} >= {"hinged", "plug", "pivoting"}
    assert all(any(state.name in lamp.states for lamp in lamps) for state in plan.states)
    assert any(bay.access.endswith("hatch") for part in plan.parts for bay in part.bays)


def _in_version(plan: Plan, version: str) -> Plan:
    return replace(plan, version=version)


def test_a_row_of_forty_portlights_is_a_few_lines_of_text() -> None:
    text = (demo_folder("tug") / "plan.yaml").read_text(encoding="utf-8")
    entry = text.split("  - {name: portlights,")[1].split("  - {")[0]
    assert entry.count("\n") <= 4
    assert sum(lamp.group == "portlights" for lamp in place_lamps(plan_of("tug"))) == 40


def test_the_lighthouse_has_its_rhythm_and_its_mole_lights() -> None:
    lamps = {lamp.name: lamp for lamp in place_lamps(plan_of("lighthouse"))}
    assert lamps["main light"].rhythm == "Fl(2) W 10s"
    assert (lamps["west mole light"].colour.name, lamps["east mole light"].colour.name) == ("red", "green")
    assert 3 <= len(plan_of("lighthouse").states) <= 4


def test_the_lantern_can_be_read_whole() -> None:
    text = (demo_folder("lantern") / "plan.yaml").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 55
    assert (len(place_lamps(plan_of("lantern"))), len(plan_of("lantern").parts)) == (3, 1)


@pytest.mark.parametrize(("demo", "name"), EVERY_PART)
def test_lamps_lie_on_their_part_and_clear_of_keep_outs(demo: str, name: str) -> None:
    from shapely.geometry import Point as Spot
    from shapely.geometry import Polygon

    part = plan_of(demo).part(name)
    outline = Polygon(part.outline_mm)
    keep_outs = [_shape(keep_out) for keep_out in part.keep_outs]
    assert outline.is_valid
    assert all(outline.buffer(1e-6).contains(shape) for shape in keep_outs)
    assert all(outline.contains(Polygon(opening.shape_mm)) for opening in part.openings)
    for lamp, at_mm in lamps_of(demo, part):
        assert outline.contains(Spot(at_mm)) and outline.exterior.distance(Spot(at_mm)) >= 2.0, lamp.name
        assert all(shape.distance(Spot(at_mm)) >= 3.0 for shape in keep_outs), lamp.name


def _shape(keep_out: KeepOut):  # type: ignore[no-untyped-def]
    from shapely.geometry import Point as Spot
    from shapely.geometry import Polygon, box

    if keep_out.centre_mm and keep_out.radius_mm:
        return Spot(keep_out.centre_mm).buffer(keep_out.radius_mm)
    if keep_out.rect_mm:
        x, y, wide, high = keep_out.rect_mm
        return box(x, y, x + wide, y + high)
    return Polygon(keep_out.outline_mm)


@pytest.mark.parametrize("demo", DEMOS)
def test_a_strip_runs_behind_its_openings(demo: str) -> None:
    from shapely.geometry import LineString, Polygon

    plan = plan_of(demo)
    for strip in plan.strips:
        shapes = {opening.name: Polygon(opening.shape_mm) for opening in plan.part(strip.part).openings}
        assert all(shapes[name].intersects(LineString(strip.along_mm)) for name in strip.openings), strip.name


@pytest.mark.parametrize("demo", DEMOS)
def test_pictures_are_up_to_date_and_small(demo: str) -> None:
    folder = demo_folder(demo) / "pictures"
    drawn = pictures_of(demo)
    assert {path.name for path in folder.iterdir()} == set(drawn)
    for name, data in drawn.items():
        assert len(data) < 150_000
        with Image.open(folder / name) as kept, Image.open(BytesIO(data)) as fresh:  # bytes may differ by compressor
            same = kept.convert("RGB").tobytes() == fresh.convert("RGB").tobytes()
        assert same, f"run python -m rushlight.demos.draw for {name}"


@pytest.mark.parametrize("demo", ["lighthouse", "lantern"])
def test_drawing_twice_gives_the_same_bytes(demo: str) -> None:
    assert pictures(demo) == pictures_of(demo)


@pytest.mark.parametrize(("demo", "name"), EVERY_PART)
def test_a_parts_picture_agrees_with_its_calibration(demo: str, name: str) -> None:
    part = plan_of(demo).part(name)
    assert part.picture is not None
    place = Placing(part.picture)
    for point in part.picture.points:
        assert math.dist(place.pixel(point.at_mm), point.pixel) < 0.01
    with Image.open(demo_folder(demo) / "pictures" / part.picture.file) as image:
        tones = image.convert("L")
        for corner in part.outline_mm:
            x, y = (round(value) for value in place.pixel(corner))
            near = [tones.getpixel((x + dx, y + dy)) for dx in range(-3, 4) for dy in range(-3, 4)]
            assert min(near) < 160, (name, corner)  # a pencil line passes through every corner


@pytest.mark.parametrize(("demo", "name"), EVERY_REFERENCE)
def test_a_mark_stands_where_its_lamp_is_drawn(demo: str, name: str) -> None:
    plan = plan_of(demo)
    reference = next(entry for entry in plan.references if entry.name == name)
    seen = lamp_pixels(demo, plan, reference)
    for mark in reference.marks:
        if mark.lamp is not None:
            assert min(math.dist(mark.at_px, pixel) for pixel in seen[mark.lamp]) <= 1.0, mark.name


@pytest.mark.parametrize("demo", DEMOS)
def test_evidence_names_marks_that_exist(demo: str) -> None:
    plan = plan_of(demo)
    marks = {(reference.name, mark.name): mark.lamp for reference in plan.references for mark in reference.marks}
    for entry in (*plan.lamps, *plan.rows, *plan.strips):
        for evidence in entry.evidence:
            if evidence.mark is not None:
                assert marks[evidence.of or "", evidence.mark] == entry.name


def test_a_few_honest_gaps_are_left_for_the_findings() -> None:
    plan = plan_of("tug")
    marks = [mark for reference in plan.references for mark in reference.marks]
    assert [mark.name for mark in marks if mark.lamp is None] == ["glint on the foredeck"]
    assert [lamp.name for lamp in plan.lamps if not lamp.evidence] == ["mooring bollard lamp"]
    assert [part.name for part in plan.parts if not part.relief.known] == ["crane"]
    assert {lamp.worth for lamp in plan.lamps} == {"must", "wished", "left out"}


@pytest.mark.parametrize("state", ["under way", "towing", "long tow", "at anchor"])
def test_the_tugs_navigation_lights_agree_with_the_rules_for_her_length(state: str) -> None:
    plan = plan_of("tug")
    required = required_lights(SubjectRequest(
        kind="ship", state=next(entry.rule or "" for entry in plan.states if entry.name == state),
        length_m=plan.subject.length_m, breadth_m=plan.subject.breadth_m,
    ))
    differences = check_against(required, _shown(plan), state=state)
    assert {(found.kind, found.lamp) for found in differences} <= {("extra", "chart lamp")}  # red, behind a window


def test_the_early_tug_cannot_show_a_long_tow() -> None:
    plan = _in_version(plan_of("tug"), "early")
    required = required_lights(SubjectRequest(
        kind="ship", state="towing astern, tow over 200 m", length_m=plan.subject.length_m,
    ))
    missing = [found for found in check_against(required, _shown(plan), state="long tow") if found.kind == "missing"]
    assert [found.rule_key for found in missing] == ["masthead"]


def _shown(plan: Plan) -> tuple[ShownLamp, ...]:
    return tuple(
        ShownLamp(name=lamp.name, colour=lamp.colour.name, rule_key=lamp.rule, states=lamp.states,
                  arc_from_deg=lamp.arc_deg[0] if lamp.arc_deg else None,
                  arc_to_deg=lamp.arc_deg[1] if lamp.arc_deg else None)
        for lamp in place_lamps(plan)
    )


def test_all_of_the_tug_stands_on_her_deck_and_her_boom_lies_where_its_shadow_does() -> None:
    plan = plan_of("tug")
    assert {frame_to_root(plan, part.name, base_point(part), {})[1] for part in plan.parts} == {"deck"}
    boom = next(row for row in plan.part("deck").obstacles if row.moves_with == "crane")
    for slewed, turn in ((0.0, 0.0), (80.0, math.radians(80.0))):
        frame, _ = frame_to_root(plan, "crane", (30.0, 5.5), {"crane": slewed})
        foot, tip = (frame @ (x, 5.5, 0.0, 1.0) for x in (6.0, 63.0))
        assert tuple(foot[:2]) == pytest.approx(boom.pivot_mm)
        # derived: the boom's axis, 57 mm long, half way up its height, turned anticlockwise from ahead to port
        assert tip[:2] - foot[:2] == pytest.approx((57.0 * math.cos(turn), 57.0 * math.sin(turn)))
        assert foot[2] == tip[2] == pytest.approx((boom.height_mm + boom.above_mm) / 2)


def test_the_masthead_lights_stand_as_high_and_as_far_apart_as_the_rules_ask() -> None:
    """On the subject, from the mast's foot on the roof, 52 mm over the deck."""
    plan = plan_of("tug")
    heights_m = [
        (52 + lamp.at_mm[1]) * plan.subject.scale / 1000
        for lamp in plan.lamps if lamp.rule == "masthead" and lamp.at_mm
    ]
    # source: COLREGs 1972 Annex I 2(a)(i): not under 6 m, nor under the breadth where that is more than 6 m
    assert heights_m[0] >= (plan.subject.breadth_m or 0.0)
    # source: COLREGs 1972 Annex I 2(i)(i): 20 m and over: not under 2 m apart, equally spaced
    gaps_m = [high - low for low, high in pairwise(heights_m)]
    assert min(gaps_m) >= 2.0
    assert max(gaps_m) - min(gaps_m) < 0.01  # derived: two gaps of 21 mm at 1:96
    # source: COLREGs 1972 Annex I 2(g): sidelights not over three quarters of the forward masthead light's height
    side_m = [lamp.at_mm[1] * plan.subject.scale / 1000 for lamp in plan.lamps
              if lamp.rule in ("side_port", "side_starboard") and lamp.at_mm]
    assert max(side_m) <= 0.75 * heights_m[0]


def test_the_lantern_can_be_designed_whole() -> None:
    from rushlight.files.drawer_csv import read_drawer
    from rushlight.stages.pipeline import design

    made = design(plan_of("lantern"), read_drawer())
    assert not made.loom.unrouted
    assert not made.power.faults
    assert [state.state for state in made.power.states] == ["evening", "ferry is in"]
    assert made.power.supply is not None and made.power.supply.fits_bay


def test_the_tugs_bench_readings_count_in_her_drawer() -> None:
    from rushlight.files.drawer_csv import read_drawer
    from rushlight.files.own_values import own_values

    strips = own_values(read_drawer(), plan_of("tug")).strips
    strip = next(row for row in strips if row.name == "5 V warm white 2835, 60 a metre")
    assert (strip.segment_ma, strip.power_w_per_m) == (12.0, 3.6)  # source: the plan's own readings
    assert strip.power_w_per_m == pytest.approx(strip.supply_v * strip.segment_ma / strip.segment_mm, rel=1e-3)  # derived: P = U I
