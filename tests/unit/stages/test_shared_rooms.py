"""One LED in a room that is seen through several windows."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from designed import designed
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.model.sheet import Table
from rushlight.optics.lit_room import BoxRoom, OtherWindow, room_light
from rushlight.sheets import draw
from rushlight.sheets.lamp_list import made_by
from rushlight.stages.painted_wall import room_reflectance
from rushlight.stages.parts_law import led_order

PLAN = """
rushlight: 1
subject: {title: cottage, scale: 72}
states: [{name: night}, {name: late}]
parts:
  - {name: front, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], wall: white styrene, coats: [white primer], relief: {flat: true},
     openings: [{name: left, rect_mm: [60, 20, 12, 12]}, {name: right, rect_mm: [90, 20, 12, 12]}],
     bays: [{name: bay, rect_mm: [5, 5, 40, 10], depth_mm: 20, access: open}]}
  - {name: back, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], relief: {flat: true}, openings: [{name: rear, rect_mm: [70, 20, 12, 12]}]}
crossings: [{name: join, kind: fixed, ends: [{part: front, at_mm: [190, 5]}, {part: back, at_mm: [190, 5]}]}]
spaces: [{name: parlour, parts: [front, back], size_mm: [60, 40, 40]%s}]
lamps:
  - {name: a, part: front, at_mm: [66, 26], opening: left, source: {kind: room}, colour: warm white, states: [night, late]}
  - {name: b, part: front, at_mm: [96, 26], opening: right, source: {kind: room}, colour: warm white, states: [%s]}
  - {name: c, part: back, at_mm: [76, 26], opening: rear, source: {kind: room}, colour: warm white, states: [night, late]}
supply: {kind: adapter, adapter_v: 5, limit_a: 1, bay: bay, run_h: 10}
"""


def built(windows: str, states: str = "night, late") -> Design:
    return designed(PLAN % (f", windows: [{windows}]" if windows else "", states))


def luminance_per_a(design: Design, lamp: str) -> float:
    light = next(row for row in design.light.lamps if row.lamp == lamp)
    emitter = next(row for row in design.loom.emitters if lamp in row.lamps)
    state = next(row for row in design.power.states if row.state == light.state)
    amps = next(row.current_a.typical for row in state.lit if row.emitter == emitter.name)
    return light.luminance_cd_m2.typical / amps


def test_one_led_lights_all_windows_and_is_bought_and_wired_once() -> None:
    own, shared = built(""), built("left, right, rear")
    assert [row.lamps for row in own.loom.emitters] == [("a",), ("b",), ("c",)]
    assert [row.lamps for row in shared.loom.emitters] == [("a", "b", "c")]
    assert [line.needed for line in shared.shopping.lines if line.group == "LEDs"] == [1]
    assert len(shared.loom.leads) == 2 < len(own.loom.leads)
    assert {row.lamp for row in shared.light.lamps} == {"a", "b", "c"}, "each window is a lamp of its own"
    assert {made_by(shared.source(lamp)) for lamp in "abc"} == {f"room parlour: {shared.source('a').led}"}


def test_windows_share_the_light_of_the_room() -> None:
    one, two, three = (built(names) for names in ("left", "left, right", "left, right, rear"))
    assert luminance_per_a(one, "a") > luminance_per_a(two, "a") > luminance_per_a(three, "a")
    # by mirror: the front's windows lie alike about its middle
    assert luminance_per_a(three, "a") == pytest.approx(luminance_per_a(three, "b"), rel=1e-9)


def test_its_current_suits_all_windows_on_the_mean_of_their_logarithms() -> None:
    design = built("left, right, rear")
    (emitter,) = design.loom.emitters
    aims = [aim.current_a for aim in design.aims]
    assert min(aims) <= emitter.aim_current_a <= max(aims)
    assert emitter.aim_current_a == pytest.approx(math.exp(sum(map(math.log, aims)) / 3), rel=0.2)  # then as it warms


def test_lamps_that_switch_apart_have_leds_of_their_own_in_the_room() -> None:
    design = built("left, right, rear", states="night")
    assert sorted(row.lamps for row in design.loom.emitters) == [("a", "c"), ("b",)]


def test_the_windows_of_a_room_are_not_taken_by_a_strip_nor_told_as_lit_twice() -> None:
    design = built("left, right, rear")
    assert {source.kind for source in design.sources} == {"room"}
    assert not {finding.key for finding in find(design)} & {"plan.opening-lit-twice", "plan.opening-unlit"}


def test_the_book_and_the_reason_say_which_room_it_is() -> None:
    design = built("left, right, rear")
    cells = [str(cell) for sheet in draw(design, find(design)) for block in sheet.blocks if isinstance(block, Table)
             for row in block.rows for cell in row]
    assert sum(cell.startswith("room parlour: ") for cell in cells) >= 3
    assert all("one LED lights 'parlour' behind 3 windows" in source.why for source in design.sources)


SHUTTER = """  - {name: shutter, outline_mm: [[0, 0], [14, 0], [14, 14], [0, 14]], relief: {flat: true}, stands: {over: front, points_mm: [[0, 0], [14, 0]], at_mm: [[88, 18], [102, 18]]},
     poses: [{name: shut, value: 0}, {name: ajar, value: 45}, {name: wide, value: 180}]}
crossings:"""


def luminance_in(design: Design, lamp: str, state: str) -> float:
    return next(row.luminance_cd_m2.typical for row in design.light.lamps if (row.lamp, row.state) == (lamp, state))


def test_what_a_shut_window_keeps_in_lights_the_others() -> None:
    """The door of the right window: shut by night, ajar late; the left and the rear one have none."""
    text = PLAN % (", windows: [left, right, rear]", "night, late")
    text = text.replace("right, rect_mm: [90, 20, 12, 12]", "right, rect_mm: [90, 20, 12, 12], door: {part: shutter, moves: turns, edge: left}")
    text = text.replace("crossings:", SHUTTER, 1)
    poses = "states: [{name: night, poses: [{part: shutter, at: %s}]}, {name: late, poses: [{part: shutter, at: %s}]}]"
    made = designed(text.replace("states: [{name: night}, {name: late}]", poses % ("shut", "wide"), 1))
    shut, wide = ({lamp: luminance_in(made, lamp, state) for lamp in "abc"} for state in ("night", "late"))
    ajar = designed(text.replace("states: [{name: night}, {name: late}]", poses % ("ajar", "wide"), 1))
    for lamp in "ac":
        assert shut[lamp] > luminance_in(ajar, lamp, "night") > wide[lamp] * 1.001
    middles, rear = ((15.0, 20.0), (45.0, 20.0)), OtherWindow((1, 1), (30.0, 20.0), (12.0, 12.0))
    order = led_order(made.drawer.led(made.source("a").led))
    paint = room_reflectance(made.drawer, (made.plan.part("front"), made.plan.part("back"))).typical

    def seen(others: tuple[OtherWindow, ...]) -> float:
        room = BoxRoom((60.0, 40.0, 40.0), (12.0, 12.0), order, middle_mm=middles[0], others=others)
        return room_light(room, paint).seen_cd_m2

    beside = OtherWindow((1, 0), middles[1], (12.0, 12.0))
    # derived: the same room whose right window is a piece of wall
    assert shut["a"] / wide["a"] == pytest.approx(seen((rear,)) / seen((beside, rear)), rel=1e-3)
    assert shut["b"] == 0.0 < wide["b"]


def test_windows_of_a_fifth_and_a_sixth_part_take_light_too() -> None:
    more = "".join(
        f"  - {{name: side {n}, outline_mm: [[0, 0], [60, 0], [60, 60], [0, 60]], relief: {{flat: true}}, openings: [{{name: port {n}, rect_mm: [20, 20, 12, 12]}}]}}\n"
        for n in range(4))

    def with_sides(count: int) -> float:
        names = ", ".join(f"port {n}" for n in range(count))
        parts = ", ".join(f"side {n}" for n in range(count))
        text = PLAN % (", windows: [left, right, rear%s]" % (", " + names if names else ""), "night, late")
        text = text.replace("parts: [front, back]", f"parts: [front, back, {parts}]" if parts else "parts: [front, back]")
        joins = "".join(f", {{name: join {n}, kind: fixed, ends: [{{part: front, at_mm: [180, 5]}}, {{part: side {n}, at_mm: [5, 5]}}]}}" for n in range(4))
        return luminance_per_a(designed(text.replace("crossings: [", more + "crossings: [", 1).replace("at_mm: [190, 5]}]}]", "at_mm: [190, 5]}]}" + joins + "]")), "a")

    dimmer = [with_sides(count) for count in range(5)]
    assert all(later < sooner for sooner, later in pairwise(dimmer))
