"""A wanted brightness is met by LEDs as warm as they get: what holds at any room, hull and colour."""

from __future__ import annotations

from itertools import pairwise

import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.stages.parts_law import emitter_light_a
from rushlight.stages.resistors import PLAY

STEP = 1.16
"""source: IEC 60063, E24: from 1.3 to 1.5 is its widest step, 15 %."""

STEEPEST = 1.1
"""Light goes at most with this power of the current at a milliamp and more (red, led_light_current.csv)."""

COLOURS = ("red", "green", "warm white")
BOX = ("  - {name: box, outline_mm: [[0, 0], [90, 0], [90, 60], [0, 60]], relief: {flat: true}}\n"
       "crossings: [{name: c, kind: fixed, ends: [{part: board, at_mm: [60, 90]}, {part: box, at_mm: [80, 50]}]}]\n"
       "spaces: [{name: inside, parts: [box], size_mm: [%g, 20, 20]}]\n")


def lamps(mcd: float) -> str:
    """One of each colour on the board and one in the box, all wanted alike."""
    return "\n".join(
        f"{{name: {part} {colour}, part: {part}, at_mm: [{15 + 20 * n}, 30], colour: {colour}, model_mm: 3, states: day, "
        f"source: {{kind: led}}, brightness: {{intensity_mcd: {mcd}}}}}"
        for part in ("board", "box") for n, colour in enumerate(COLOURS)
    )


def hull(mcd: float, *, long_mm: float = 60, room_c: float | None = None, more: str = "") -> Design:
    text = board(lamps(mcd), more=more).replace("supply:", BOX % long_mm + "supply:", 1)
    return designed(text if room_c is None else text.replace("invented: true", f"invented: true, room_c: {room_c:g}"))


def light_a(made: Design) -> dict[str, float]:
    return {row.emitter: row.light_a for row in made.power.states[0].lit}


def cool_a(made: Design, emitter: str, amps: float) -> float:
    """The same of an LED that stays cool, at a current."""
    return emitter_light_a(made.drawer, made.loom.emitter(emitter), amps).typical


@pytest.mark.parametrize("mcd", [60, 120, 200])
@pytest.mark.parametrize("room_c", [5, 22, 40])
@pytest.mark.parametrize("long_mm", [40, 200])
def test_the_settled_light_is_what_was_wanted_within_a_step_of_the_series(mcd, room_c, long_mm) -> None:
    made, free = hull(mcd, room_c=room_c, long_mm=long_mm), 0
    light, wanted = light_a(made), {row.lamp: row for row in made.light.lamps if row.state == "day"}
    for aim in made.power.aims:
        if not aim.bound:
            free += 1
            share = light[aim.emitter] / cool_a(made, aim.emitter, aim.unwarmed_a)
            # A step of current is a little more than a step of light where an LED is at its best at more current.
            assert (1 / STEP / (1 + PLAY)) ** STEEPEST <= share <= ((1 + PLAY) * 1.005) ** STEEPEST
            assert wanted[aim.emitter].intensity_cd.typical / wanted[aim.emitter].wanted_cd == pytest.approx(share, rel=0.01)
    assert free >= 3


@pytest.mark.parametrize("ohm", [330, 1000, 4700])
def test_a_hotter_room_never_gives_more_light_at_the_same_resistor(ohm) -> None:
    held = f"pinned: [{{of: A, choice: resistor_ohm, value: '{ohm}'}}]\n"
    seen = [light_a(hull(200, room_c=room_c, more=held)) for room_c in (0, 10, 22, 35, 45)]
    for cooler, warmer in pairwise(seen):
        assert all(warmer[name] < cooler[name] for name in cooler)


def test_what_is_wanted_alike_is_alike_once_settled_and_its_first_moment_is_told() -> None:
    """The red one in the hot box gets more current than the one in the open, and gives as much within their steps."""
    made = hull(200, long_mm=40)
    aims = {aim.emitter: aim for aim in made.power.aims}
    cool, hot = aims["board red"], aims["box red"]
    assert hot.junction_c > cool.junction_c + 5 and hot.aim_a > 1.03 * cool.aim_a
    lit_a = [cool_a(made, aim.emitter, aim.aim_a) * aim.light_share for aim in (cool, hot)]
    assert lit_a[1] == pytest.approx(lit_a[0], rel=1e-4)  # derived: the same light
    times = {row.lamp: row.first_times for row in made.light.lamps if row.state == "day"}
    assert times["box red"] > times["board red"] > 1.0
    assert times["box red"] > times["box warm white"]  # source: led_flux_temperature.csv, red loses more a kelvin


def test_a_held_current_is_that_of_the_settled_led() -> None:
    made = hull(200, more="pinned: [{of: A, choice: current_ma, value: '12'}]\n")
    for aim in made.power.aims:
        assert (aim.bound, aim.aim_a) == ("held", pytest.approx(0.012))
    assert all(row.current_a.typical <= 0.012 * 1.01 * (1 + PLAY) for row in made.power.states[0].lit)


def test_the_first_moment_takes_no_more_than_the_settled_led_and_stays_under_its_limit() -> None:
    made = hull(200, long_mm=40)
    for row in made.power.states[0].lit:
        assert row.first_a <= row.current_a.typical
        assert 1000 * row.first_a < made.drawer.led(made.loom.emitter(row.emitter).part_row).max_ma


def test_no_current_is_raised_over_the_derated_rating_nor_past_the_junctions_limit() -> None:
    rated = next(aim for aim in hull(1e5).power.aims if aim.emitter == "box red")
    assert rated.bound == "rating" and rated.aim_a == pytest.approx(0.75 * 0.030)  # source: DERATE of its 30 mA
    hot = next(aim for aim in hull(260, long_mm=20, room_c=45).power.aims if aim.emitter == "box red")
    assert hot.bound == "junction" and hot.unwarmed_a <= hot.aim_a < hot.unwarmed_a / hot.light_share


def test_a_little_warmth_moves_no_resistor() -> None:
    """A room that is a degree warmer, or ten: of 36 resistors few go to another value, and those by one step."""
    for mcd in (60, 120, 200):
        first, then = hull(mcd, room_c=22), hull(mcd, room_c=23)
        values = {row.emitter: row.value_ohm for row in first.power.resistors}
        moved = [row for row in then.power.resistors if row.value_ohm != values[row.emitter]]
        assert len(moved) <= 1
        assert all(1 / STEP < row.value_ohm / values[row.emitter] < STEP for row in moved)


def test_the_range_of_the_light_holds_the_currents_and_the_warmths_own() -> None:
    made = hull(200)
    for row in made.power.states[0].lit:
        assert row.junction_c.low < row.junction_c.typical < row.junction_c.high
        assert row.light_share.low < row.light_share.typical < row.light_share.high
    light = next(row for row in made.light.lamps if row.lamp == "box red" and row.state == "day")
    led = made.drawer.led(made.loom.emitter("box red").part_row).intensity_mcd
    current = next(row for row in made.power.states[0].lit if row.emitter == "box red")
    share, amps = current.light_share, current.lit_a
    assert amps.low < cool_a(made, "box red", current.current_a.low) < amps.typical < amps.high
    assert light.intensity_cd.low / light.intensity_cd.typical == pytest.approx(
        led.low / led.typical * share.low / share.typical * amps.low / amps.typical)
    assert light.intensity_cd.high / light.intensity_cd.typical == pytest.approx(
        led.high / led.typical * share.high / share.typical * amps.high / amps.typical)
