"""From where lamps of parts are seen: parts that say how they face, parts on parts, folds, poses."""

from __future__ import annotations

import numpy as np
import pytest

from designed import designed
from rushlight.geometry.bearing import WAYS, direction
from rushlight.model.design import Design
from rushlight.optics.toward import beam_share
from rushlight.sheets.cut_list import tail_table
from rushlight.sheets.lamp_list import made_by
from rushlight.stages.outlook import attitude, beams_of, eye_of, outer_way, outlook, turned_in

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100%s}
states: [{name: night, poses: [%s]}, {name: feast}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}%s,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
%s
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: a, part: %s, at_mm: [%s], colour: red, model_mm: 3, states: [night, feast]%s}
"""
HUT = ("  - {name: hut, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true}%s,\n"
       "     stands: {over: yard, points_mm: [[0, 0], [60, 0]], at_mm: [[70, 30], [130, 30]]%s}}")
CROSSING = "crossings: [{name: c, kind: pivoting, ends: [{part: yard, at_mm: [100, 32]}, {part: hut, at_mm: [30, 1]}]}]\nsupply:"


def made(faces: str = "", hut: str = "", *, pose: str = "", on: str = "yard", at: str = "100, 60", lamp: str = "", view: str = "") -> Design:
    text = PLAN % (view, pose, faces, hut, on, at, lamp)
    return designed(text.replace("supply:", CROSSING) if hut else text)


def way(design: Design, part: str = "yard", at: tuple[float, float] = (100.0, 60.0)) -> np.ndarray:  # type: ignore[type-arg]
    found = outer_way(design.plan, part, at)
    assert found is not None
    return found


@pytest.mark.parametrize("word", WAYS)
@pytest.mark.parametrize("drawn", ["outside", "inside"])
def test_a_part_looks_where_it_says(word: str, drawn: str) -> None:
    design = made(f", faces: {word}, drawn_from: {drawn}")
    assert way(design) == pytest.approx(WAYS[word], abs=1e-12)
    lies = attitude(design.plan, "yard", (1.0, 1.0))
    assert lies is not None
    assert lies[:, 1] == pytest.approx(WAYS["ahead" if word in ("up", "down") else "up"], abs=1e-12)


def test_bearings_leaning_and_the_top_edge() -> None:
    assert way(made(", faces_deg: 40, leans_deg: 25")) == pytest.approx(direction(40.0, 25.0))
    lies = attitude(made(", faces: starboard, top_edge: astern").plan, "yard", (1.0, 1.0))
    assert lies is not None and lies[:, 1] == pytest.approx(WAYS["astern"])
    roof = attitude(made(", faces: starboard, leans_deg: 90").plan, "yard", (1.0, 1.0))
    assert roof is not None and roof[:, 2] == pytest.approx(WAYS["up"], abs=1e-12)
    assert roof[:, 1] == pytest.approx(WAYS["port"], abs=1e-12), "leaned back, its top went away from its face"


def test_a_part_on_another_lies_as_that_one_says_and_the_other_way_round() -> None:
    deck = made(", faces: up", HUT % ("", ""))
    # derived: the yard's right is starboard, its top ahead; the hut stands upright along its x, outer face astern
    assert way(deck, "hut", (30.0, 10.0)) == pytest.approx(WAYS["astern"], abs=1e-12)
    from_hut = made("", HUT % (", faces: astern", ""))
    assert way(from_hut) == pytest.approx(WAYS["up"], abs=1e-12)
    own = made(", faces: up", HUT % (", faces: port", ""))
    assert way(own, "hut", (30.0, 10.0)) == pytest.approx(WAYS["port"], abs=1e-12), "its own word goes first"
    assert outer_way(made("", HUT % ("", "")).plan, "hut", (30.0, 10.0)) is None


def test_a_folded_wall_looks_its_own_way() -> None:
    flat = PLAN % ("", "", ", faces: up", "", "yard", "100, 60", "")
    fold = "relief: {folds: [{from_mm: [50, 0], to_mm: [50, 100], towards: inside}]}"
    design = designed(flat.replace("relief: {flat: true}", fold))
    assert way(design) == pytest.approx(WAYS["up"], abs=1e-12)
    assert way(design, at=(20.0, 50.0)) == pytest.approx(WAYS["port"], abs=1e-9), "folded down at its left edge"


def test_a_pose_turns_the_lamp_with_its_part() -> None:
    slewed = HUT % (", poses: [{name: rest, value: 0}, {name: slewed, value: 90}]", ", pivot_mm: [100, 30]")
    design = made(", faces: up", slewed, pose="{part: hut, at: slewed}", on="hut", at="30, 10")
    turn = turned_in(design.plan, "hut", "night")
    assert turn is not None and turned_in(design.plan, "hut", "feast") is None and turned_in(design.plan, "yard", "night") is None
    assert turn @ np.array(WAYS["astern"]) == pytest.approx(WAYS["starboard"], abs=1e-9)  # derived: anticlockwise from above
    seen = {state: [round(outlook(design, state, direction(at)).lamps["a"], 9) for at in (90.0, 180.0)] for state in ("night", "feast")}
    aside = 0.05  # table: led_launch.csv, a diffused LED's dome
    assert seen == {"night": [1.0, aside], "feast": [aside, 1.0]}
    assert "hut" in outlook(design, "night", direction(270.0)).behind


def test_square_on_is_the_rule_and_a_whole_turn_changes_nothing() -> None:
    design = made(", faces_deg: 30, leans_deg: 10")
    assert eye_of(design.plan) is None and outlook(design, "night", None).lamps == {}
    there = made(", faces_deg: 30, leans_deg: 10", view=", viewing_bearing_deg: 90, viewing_height_deg: 20")
    eye = eye_of(there.plan)
    assert eye is not None and eye == pytest.approx(direction(90.0, 20.0))
    for at in range(0, 360, 24):
        first, again = (outlook(design, "night", direction(turn, 15.0)).lamps["a"] for turn in (at, at + 360))
        assert first == pytest.approx(again, abs=1e-12)


def test_mirrored_parts_are_seen_mirrored() -> None:
    starboard, port = made(", faces: starboard, leans_deg: 20"), made(", faces: port, leans_deg: 20")
    for at in range(0, 360, 15):
        one, other = (outlook(side, "night", direction(turn, 5.0)).lamps["a"] for side, turn in ((starboard, at), (port, -at)))
        assert one == pytest.approx(other, abs=1e-12)


def test_lamps_with_a_word_need_no_part_that_tells() -> None:
    design = made(lamp=", facing: port")
    beam = beams_of(design)["a"]
    assert beam.axis == WAYS["port"] and beam_share(beam, WAYS["port"]) == 1.0
    assert beams_of(made())["a"].axis is None and outlook(made(), "night", direction(77.0)).lamps == {"a": 1.0}


def test_fibres_keep_their_cone_and_leds_their_half_angle() -> None:
    thin = made(", faces: ahead", lamp=", source: {kind: fibre}")
    light = thin.light.lamps[0]
    edge = outlook(thin, "night", direction(light.beam_edge_deg + 0.5)).lamps["a"]
    assert light.beam_edge_deg < 40.0 and edge == 0.0 < outlook(thin, "night", direction(light.beam_edge_deg - 0.5)).lamps["a"]
    led = made(", faces: ahead", lamp=", source: {kind: led}")
    half = led.drawer.led(led.source("a").led).half_angle_deg
    assert outlook(led, "night", direction(half)).lamps["a"] == pytest.approx(0.5)


def test_a_sanded_or_domed_end_is_dimmer_on_its_axis_and_seen_from_all_sides() -> None:
    made_of = {tip: made(", faces: ahead", lamp=f", source: {{kind: fibre, tip: {tip}, led: '5 mm cool white, clear 20 deg'}}, brightness: {{intensity_mcd: 30}}")
               for tip in ("polished", "sanded", "domed")}
    for tip in ("sanded", "domed"):
        design = made_of[tip]
        light, (tail,) = design.light.lamps[0], design.loom.tails
        assert (tail.tip, design.source("a").tip, light.beam_order, light.beam_edge_deg) == (tip, tip, 1.0, 90.0)
        ahead = {"sanded": 1.0, "domed": 0.75}[tip]  # table: fibre_finish.csv
        assert light.intensity_cd.typical == pytest.approx(ahead * light.flux_lm.typical / np.pi)  # derived: a matt lamp
        assert outlook(design, "night", direction(60.0)).lamps["a"] == pytest.approx(0.5)
    per_a = {tip: design.light.lamps[0].intensity_cd.typical / design.loom.emitters[0].aim_current_a for tip, design in made_of.items()}
    assert per_a["domed"] < per_a["sanded"] < per_a["polished"] / 3  # the bead sends some aside and backwards
    sides = {tip: outlook(design, "night", direction(90.0)).lamps["a"] for tip, design in made_of.items()}
    assert sides == {"polished": 0.0, "sanded": pytest.approx(0.0, abs=1e-9), "domed": pytest.approx(0.25)}
    assert made_of["sanded"].aims[0].current_a > made_of["polished"].aims[0].current_a, "the aim knows it"


def test_the_bench_is_told_of_such_ends() -> None:
    lamps = ", source: {kind: fibre, fibre_mm: 0.5, tip: sanded}}\n  - {name: b, part: yard, at_mm: [30, 60], colour: red, model_mm: 0.5, states: [night, feast], source: {kind: fibre, fibre_mm: 0.5}"
    design = made(", faces: ahead", lamp=lamps)
    said = [detail for step in design.order.steps if step.key == "trim" for detail in step.details]
    assert [row for row in said if "grit" in row] == ["mat the ends with 400 to 600 grit, standing a little proud: a"]
    assert {tail.lamp: tail.tip for tail in design.loom.tails} == {"a": "sanded", "b": "polished"}
    assert len(design.loom.emitters) == 2, "ends that need other currents share no LED"
    assert {str(row[3]): row[-2] for row in tail_table(design).rows} == {"a": "sanded", "b": "polished"}
    assert [made_by(design.source(name)) for name in ("a", "b")] == ["fibre 0.50 mm, sanded end", "fibre 0.50 mm"]
