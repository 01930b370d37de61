"""Readings that cannot be, or hardly, are refused or doubted: none is taken as it stands."""

from __future__ import annotations

import pytest

from designed import PACKAGED, planned
from rushlight.errors import DocumentProblem
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.findings.plan.measured_far_off import RULE
from rushlight.stages.pipeline import design

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100, viewing_room: dim room}
states: [{name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], wall: white styrene, wall_mm: 1,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
spaces: [{name: hull, parts: [yard], size_mm: [60, 40, 30]}]
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
controller: {pwm_hz: 2000}
rhythms: [{rhythm: fade 3 s, by: controller}]
rows:
  - {name: ports, part: yard, along_mm: [[60, 40], [160, 40]], count: 7, colour: warm white, model_mm: 3, states: [night],
     rhythm: fade 3 s, source: {kind: led}}
"""


def doubts(entry: str) -> list[str]:
    plan = planned(f"{PLAN}measured:\n  - {{what: {entry}}}\n")
    return [row.says for row in RULE.look(design(plan, own_values(PACKAGED, plan)))]


WARM = "hull warmth, of: hull, readings: [{}], against: [{}], power_w: {}"


@pytest.mark.parametrize(("inside", "room", "power_w", "says"), [
    (2000, 21, 0.3, "hold 2000 degrees C"),  # derived: 200.0 without its point
    (31, 70, 0.3, "hold 70 degrees C"),  # derived: 70 F is 21 C
    (31, 2.1, 0.3, "hold 2.1 degrees C"),
    (-4, 21, 0.3, "readings"),
    (31, 21, 0, "power_w"),
])
def test_a_warmth_that_cannot_be_is_refused(inside: float, room: float, power_w: float, says: str) -> None:
    with pytest.raises(DocumentProblem) as told:
        parse_plan(f"{PLAN}measured:\n  - {{what: {WARM.format(inside, room, power_w)}}}\n", "plan.yaml", PACKAGED)
    [problem] = told.value.problems
    assert says in str(problem) and problem.line > 0


def test_a_warmth_far_from_the_box_and_a_power_far_from_the_lamps_are_doubted() -> None:
    assert any("'hull' (hull warmth) comes to 79 K" in says for says in doubts(WARM.format(100, 21, 0.3)))
    [milli] = [says for says in doubts(WARM.format(26, 21, 150)) if "hull power" in says]  # derived: milliwatts
    assert "comes to 150 W" in milli


@pytest.mark.parametrize(("entry", "word"), [
    ("lamp, of: ports 3, state: night, readings: [LUX], distance_mm: 100", "ports 3 in night"),
    ("room light, of: room, readings: [5000]", "room"), ("room light, of: room, readings: [0.1]", "room"),
    ("pulse rate, of: controller, readings: [2]", "controller"),  # derived: kilohertz
    ("pulse rate, of: controller, readings: [2000000]", "controller"),
    ("feed power, of: night, readings: [300]", "night"),
    ("adapter volts, of: adapter, printed_v: 5, readings: [6.5]", "adapter of 5 V"),  # derived: 1.3 times, not regulated
    ("adapter volts, of: adapter, printed_v: 5, readings: [4.2]", "adapter of 5 V"),
    ("adapter volts, of: adapter, printed_v: 5, readings: [5.1], against: [4.3], at_ma: 500", "adapter of 5 V"),  # derived: 1.6 ohm
])
def test_what_is_read_of_the_plan_itself_is_held_against_what_is_reckoned(entry: str, word: str) -> None:
    for lux in ("1e-5", "1e5"):
        [says] = doubts(entry.replace("LUX", lux))
        assert f"'{word}'" in says and "beyond what is usual" in says


def test_readings_near_what_is_reckoned_are_not_doubted() -> None:
    plan = planned(PLAN)
    made = design(plan, PACKAGED)
    cd = next(row.intensity_cd for row in made.light.lamps if row.lamp == "ports 3")
    space = made.heat.spaces[0]
    for entry in (
        f"lamp, of: ports 3, state: night, readings: [{100 * cd.high:.6f}], distance_mm: 100",
        "adapter volts, of: adapter, printed_v: 5, readings: [5.3], against: [5.2], at_ma: 500",
        "room light, of: room, readings: [14]", "pulse rate, of: controller, readings: [1000]",
        WARM.format(f"{21 + space.air_rise_k.typical:.4f}", 21, f"{space.power_w.typical:.4f}"),
    ):
        assert doubts(entry) == [], entry


def test_a_test_piece_is_neither_shorter_than_the_led_nor_a_reel() -> None:
    led = next(row.name for row in PACKAGED.leds if row.lens == "flat top")
    for mm in (2, 20_000):
        with pytest.raises(DocumentProblem, match="length_mm"):
            parse_plan(f'{PLAN}measured:\n  - {{what: fibre joint, of: "{led}", readings: [1], against: [1000], '
                       f"fibre_mm: 0.5, length_mm: {mm}}}\n", "plan.yaml", PACKAGED)


def test_a_bundle_far_looser_than_any_hand_ties_is_doubted() -> None:
    """Seven fibres of 0.5 mm lie within 1.5 mm; a hand ties to 1.55, who reads 3.0 has read something else."""
    entry = "bundle width, of: 0.5 mm fibre, readings: [{}], count: 7"
    assert doubts(entry.format(1.55)) == [] and doubts(entry.format(1.64)) == []
    (said,) = doubts(entry.format(3.0))
    assert "comes to 2 times the ideal bundle" in said


def test_two_entries_that_contradict_each_other_are_told_as_such() -> None:
    """The second took the place of the first, which was then called what is usual."""
    coat = "coat, of: black lacquer, readings: [{}], against: [200], count: 1"
    [says] = doubts(coat.format(10) + "}\n  - {what: " + coat.format(150))
    assert says.startswith("You entered 'black lacquer' (density) more than once: 1.3 and then 0.125, 8.6 times apart.")
    assert "usual" not in says
    assert not doubts(coat.format(10) + "}\n  - {what: " + coat.format(12))
