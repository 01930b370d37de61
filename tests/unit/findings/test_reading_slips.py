"""Readings with a nought too many that come to what such things may have are doubted beside the rest of the plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench_entries import GLOW, LED, ONE, TAILS, yard
from designed import designed
from plans import board
from rushlight.findings._words import plain
from rushlight.findings.plan.led_read_elsewhere import RULE as ELSEWHERE
from rushlight.findings.plan.measured_far_off import RULE as FAR_OFF
from rushlight.findings.plan.reading_slip import RULE
from rushlight.findings.plan.readings_apart import RULE as APART
from rushlight.model.design import Design
from rushlight.model.plan_bench import Measured

RED = '{what: led voltage, of: "3 mm red, diffused", readings: [1.82, 1.9], against: [3.18, 3.1], series_ohm: [OHMS]}'
HAND = "at_hand: [{table: resistors, values_ohm: [330, 1000]}]\n"


def says(plan: str, entry: str) -> list[str]:
    return [row.says for row in RULE.look(designed(f"{plan}measured:\n  - {entry}\n"))]


@pytest.mark.parametrize(("ohms", "doubted"), [("1000, 330", 0), ("10000, 3300", 2), ("100, 33", 3), ("1000, 470", 0)])
def test_a_resistor_that_is_not_at_hand_where_one_with_a_nought_less_or_more_is(ohms: str, doubted: int) -> None:
    """33 ohm is doubted twice: 94 mA is also more than the LED bears (derived: 3.1 V over 33 ohm)."""
    red = RED.replace("1.9]", "1.98]") if ohms == "100, 33" else RED  # a flatter LED is refused already
    found = says(yard(ONE + HAND), red.replace("OHMS", ohms))
    assert len(found) == doubted
    assert not doubted or "at hand is" in found[0]


def test_without_a_list_of_resistors_a_nought_too_few_shows_by_the_leds_rating_alone() -> None:
    assert says(yard(ONE), RED.replace("OHMS", "10000, 3300")) == []
    [told] = says(yard(ONE), RED.replace("OHMS", "100, 33").replace("1.9]", "1.98]"))
    assert "would have taken 93.9 mA" in told


def test_an_led_read_far_below_its_lamp_is_told_that_its_resistors_may_have_a_nought_too_many() -> None:
    held = yard(ONE + "pinned: [{of: single, choice: led, value: '3 mm red, diffused'}, {of: single, choice: current_ma, value: '8'}]\n")
    [row] = ELSEWHERE.look(designed(f"{held}measured:\n  - {RED.replace('OHMS', '10000, 3300')}\n"))
    assert "with a nought less they let 3.2 to 9.4 mA through" in row.cure
    held = held.replace("value: '8'", "value: '0.5'")
    [row] = ELSEWHERE.look(designed(f"{held}measured:\n  - {RED.replace('OHMS', '1000, 330')}\n"))
    assert "with a nought more" in row.cure


@pytest.mark.parametrize(("thick", "doubted"), [(1.5, False), (15, True), (0.15, True), (4, False)])
def test_a_piece_of_wall_of_another_thickness_than_the_walls(thick: float, doubted: bool) -> None:
    plan = yard(ONE, wall="white styrene", mm="1.5")
    entry = f"{{what: wall, of: white styrene, readings: [28], against: [200], thickness_mm: {thick}}}"
    found = says(plan, entry)
    assert bool(found) is doubted
    assert not doubted or "walls of it are 1.5 mm thick here" in found[0]
    far = FAR_OFF.look(designed(f"{plan}measured:\n  - {entry}\n"))
    assert not far or thick == 0.15  # what it comes to is within what such walls have: nothing else sees it
    assert says(plan, entry.replace("white", "black")) == []


@pytest.mark.parametrize(("turn", "radius", "doubted"), [(90, 3, False), (360, 3, False), (3600, 3, True), (350, 500, True)])
def test_a_bend_of_more_turns_than_any_tail_has_or_longer_than_it(turn: int, radius: int, doubted: bool) -> None:
    bend = Measured(what="fibre bend", of="0.5 mm fibre", readings=(70.0,), against=(100.0,), radius_mm=radius, turn_deg=turn, led=LED)
    made = designed(TAILS)
    found = RULE.look(replace(made, plan=replace(made.plan, measured=(bend,))))
    assert bool(found) is doubted
    assert not doubted or f"{plain(turn / 360)} turns" in found[0].says
    assert not doubted or turn > 360 or max(tail.cut_mm for tail in made.loom.tails) < 3054  # derived: 350 degrees at 500 mm


@pytest.mark.parametrize(("distance", "doubted"), [(50, True), (100, True), (200, False), (400, False)])
def test_a_window_read_from_nearer_than_five_times_its_width(distance: int, doubted: bool) -> None:
    """40 mm by 10: at 50 mm a flat matt face gives the meter a tenth less than I / d^2, at 200 mm under 1 % less."""
    x, y = ((k + 0.5) / 40 - 0.5 for k in range(40)), [(k + 0.5) / 40 - 0.5 for k in range(40)]
    shares = [distance**4 / (distance**2 + (40 * a) ** 2 + (10 * b) ** 2) ** 2 for a in x for b in y]
    dimmer = 1 - sum(shares) / len(shares)  # derived: both cosines and the square of the way, summed over the face
    assert (dimmer > 0.02) is doubted
    found = says(GLOW, f'{{what: lamp, of: "glow: w", readings: [5], distance_mm: {distance}, state: night}}')
    assert bool(found) is doubted
    assert not doubted or "is 40 mm wide and was read from" in found[0]


def test_a_tail_is_a_point_from_anywhere() -> None:
    assert says(TAILS, "{what: lamp, of: ports 1, readings: [5], distance_mm: 50, state: night}") == []


TWO = [f'{{name: {name}, part: board, at_mm: [{x}, 60], colour: red, model_mm: 3, states: [night], '
       'source: {kind: led, led: "3 mm red, diffused"}}' for name, x in (("a", 20), ("b", 60))]


def two(a_ma: float, b_ma: float, *entries: str) -> Design:
    held = f"pinned: [{{of: a, choice: current_ma, value: '{a_ma}'}}, {{of: b, choice: current_ma, value: '{b_ma}'}}]\n"
    return designed(board("\n".join(TWO), more=held) + "measured:\n" + "".join(f"  - {entry}\n" for entry in entries))


def lux(readings: str, at_ma: float, distance_mm: float = 200) -> str:
    return (f'{{what: led intensity, of: "3 mm red, diffused", readings: [{readings}], distance_mm: {distance_mm}, '
            f"at_ma: {at_ma}}}")


@pytest.mark.parametrize(("entries", "times"), [
    ((lux("7.5, 600", 20),), 80.0), ((lux("7.5", 20), lux("600", 20)), 80.0), ((lux("7.5, 8, 11", 20),), None),
    ((lux("7.5", 20), lux("30", 20, 100)), None),  # derived: half the distance, four times the lux
    ((lux("7.5", 20), lux("0.28", 1)), None),  # derived: red gives a 27th of its light at a 20th of its current
])
def test_leds_of_one_bag_that_were_read_far_apart_are_told_with_both(entries: tuple[str, ...], times: float | None) -> None:
    found = APART.look(two(5, 5, *entries))
    assert len(found) == (times is not None)
    if times is not None:
        assert found[0].number == pytest.approx(times)
        assert "7.5 lx from 200 mm at 20 mA, 300 mcd" in found[0].says and "600 lx" in found[0].says


def test_lamps_as_built_of_one_led_are_told_apart_too() -> None:
    def lamp(name: str, lx: float) -> str:
        return f"{{what: lamp, of: {name}, state: night, readings: [{lx}], distance_mm: 200}}"

    [row] = APART.look(two(5, 5, lamp("a", 0.05), lamp("b", 4)))
    assert row.number == pytest.approx(80, rel=0.1) and "'a in night' 2 mcd" in row.says and "'b in night' 160 mcd" in row.says
    assert not APART.look(two(5, 5, lamp("a", 2), lamp("b", 4)))


def test_light_read_at_a_current_far_from_a_sister_is_asked_for_between() -> None:
    [row] = ELSEWHERE.look(two(1, 20, lux("7, 8", 20)))
    assert row.number == pytest.approx(20) and "a will run at 1 mA, where it is open by 1.7 times" in row.says
    at_ma = float(row.cure.split("once more at ")[1].split(" mA")[0])
    assert 1 < at_ma < 20 and not ELSEWHERE.look(two(1, 20, lux("0.9, 1", at_ma)))
    assert not ELSEWHERE.look(two(10, 20, lux("7, 8", 15)))
    [row] = ELSEWHERE.look(two(1, 1, lux("7, 8", 20)))
    assert "at 1 mA, as it will run" in row.cure
