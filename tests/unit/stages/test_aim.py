"""How bright each lamp should be, and the current meant for it."""

from __future__ import annotations

import pytest

from designed import PACKAGED, designed, planned
from plans import board
from rushlight.findings import find
from rushlight.optics.led_light import light_laws
from rushlight.stages.circuits import circuit_name, find_circuits
from rushlight.stages.lamps import place_lamps

LED = "part: board, at_mm: [{x}, 50], colour: red, model_mm: 3, states: day"


def lamp(name: str, x: int, more: str = "") -> str:
    return f"{{name: {name}, {LED.format(x=x)}{', ' + more if more else ''}}}"


def aims(text: str) -> dict[str, float]:
    return {aim.lamp: aim.wanted_cd for aim in designed(text).aims}


def test_the_subjects_intensity_is_carried_by_equal_illuminance() -> None:
    wanted = aims(board(lamp("a", 20, "brightness: {subject_intensity_cd: 50}")))
    assert wanted["a"] == pytest.approx(50 / 100**2)  # derived: same illuminance from 1/100 of the distance


def test_equal_to_another_is_followed_to_its_end() -> None:
    wanted = aims(board("\n".join([
        lamp("c", 20, "brightness: {like: b, ratio: 2}"), lamp("b", 40, "brightness: {like: a, ratio: 3}"),
        lamp("a", 60, "brightness: {intensity_mcd: 60}"),
    ])))
    assert wanted == pytest.approx({"a": 0.06, "b": 0.18, "c": 0.36})


FOLLOWED = (
    "{{name: head, part: board, at_mm: [20, 50], colour: warm white, model_mm: 3, states: day, brightness: {{{head}}}}}\n"
    "{{name: tail, part: board, at_mm: [60, 80], colour: red, model_mm: 0.5, states: day, brightness: {{like: head, ratio: 0.5}}}}"
)


@pytest.mark.parametrize("head", ["intensity_mcd: 1", "intensity_mcd: 60", "intensity_mcd: 1000000"])
def test_a_lamp_that_cannot_be_as_it_is_wanted_is_followed_as_it_is(head: str) -> None:
    """An LED in its hole at the least current gives many times 1 mcd, at the most not 1000 cd; a red tail keeps up with it
    as far as its LED lets it."""
    made = designed(board(FOLLOWED.format(head=head)))
    aims = {aim.lamp: aim for aim in made.aims}
    assert aims["tail"].wanted_cd == pytest.approx(0.5 * aims["head"].expected_cd.typical, rel=0.1)
    assert ("which gives" in aims["tail"].wanted_why) == (aims["head"].floor or aims["head"].short)
    lights = {row.lamp: row.intensity_cd.typical for row in made.light.lamps}
    assert aims["tail"].short or 1 / 1.5 < lights["tail"] / lights["head"] / 0.5 < 1.5  # source: habit `equal`


PANES = """{name: wide, part: board, at_mm: [30, 40], colour: warm white, opening: wide, source: {kind: room}, states: day, brightness: {intensity_mcd: 40}}
{name: small, part: board, at_mm: [84, 34], colour: warm white, opening: small, source: {kind: room}, states: day, brightness: {like: wide}}
{name: lantern, part: board, at_mm: [110, 80], colour: warm white, model_mm: 3, states: day, brightness: {like: wide}}"""
OPENINGS = """    openings:
      - {name: wide, rect_mm: [20, 30, 20, 20], diffusers: [{sheet: opal diffusing film}]}
      - {name: small, rect_mm: [80, 30, 8, 8], diffusers: [{sheet: opal diffusing film}]}
"""


def test_windows_look_alike_by_luminance_and_lamps_by_intensity() -> None:
    made = designed(board(PANES).replace("    relief:", OPENINGS + "    relief:"))
    aims, lights = ({row.lamp: row for row in rows} for rows in (made.aims, made.light.lamps))
    wide = aims["wide"].expected_cd.typical
    assert aims["small"].wanted_cd == pytest.approx(wide * 8**2 / 20**2, rel=0.1)  # derived: equal luminance
    assert aims["lantern"].wanted_cd == pytest.approx(wide, rel=0.1)
    assert "equal luminance" in aims["small"].wanted_why and "equal intensity" in aims["lantern"].wanted_why
    assert lights["small"].luminance_cd_m2.typical == pytest.approx(lights["wide"].luminance_cd_m2.typical, rel=0.3)
    assert not [row for row in find(made) if row.key == "light.like-mismatch"]


def test_a_strips_windows_are_wanted_by_their_area() -> None:
    strip = ("strips: [{name: s, part: board, openings: [wide, small], along_mm: [[10, 40], [110, 40]], gap_mm: 20, "
             "states: day}]\n")
    made = designed(board(more=strip).replace("    relief:", OPENINGS + "    relief:"))
    aims = {row.lamp: row.wanted_cd for row in made.aims}
    assert aims["s: small"] == pytest.approx(aims["s: wide"] * 8**2 / 20**2)  # derived: equal luminance


def test_a_darker_room_wants_less() -> None:
    wanted = aims(board("\n".join(
        lamp(name, x, f"brightness: {{seen_in: {room}}}")
        for name, x, room in [("a", 20, "dark room"), ("b", 40, "dim room"), ("c", 60, "lit room"), ("d", 80, "beacon")]
    )))
    assert wanted["a"] < wanted["b"] < wanted["c"] < wanted["d"]


def test_current_goes_with_the_wanted_light_and_stays_within_its_limits() -> None:
    made = designed(board("\n".join(
        lamp(name, x, f"brightness: {{intensity_mcd: {mcd}}}") for name, x, mcd in [("a", 20, 0.01), ("b", 40, 60), ("c", 60, 1e6)]
    )))
    amps = {aim.lamp: aim.current_a for aim in made.aims}
    led = made.drawer.led(made.source("b").led)
    assert amps["a"] == pytest.approx(0.001)  # source: habit `dim`, 1 mA
    law, rated_a = light_laws(led.law).usual, led.test_ma / 1000
    assert law.times(amps["b"] / rated_a) == pytest.approx(60 / led.intensity_mcd.typical)  # derived: that gives it
    assert amps["b"] > 1.02 * rated_a * 60 / led.intensity_mcd.typical  # a red one gives less an ampere at few of them
    assert amps["c"] == pytest.approx(0.75 * led.max_ma / 1000)  # derived: derated
    flags = {aim.lamp: (aim.floor, aim.short) for aim in made.aims}
    assert flags == {"a": (True, False), "b": (False, False), "c": (False, True)}


def test_a_pinned_current_holds() -> None:
    made = designed(board(lamp("a", 20), more="pinned: [{of: a, choice: current_ma, value: \"7\"}]\n"))
    assert made.aims[0].current_a == pytest.approx(0.007)


def test_fibres_that_are_wanted_alike_share_a_class_and_others_do_not() -> None:
    def tail(name: str, x: int, mcd: float) -> str:
        return f"{{name: {name}, part: board, at_mm: [{x}, 80], colour: red, model_mm: 0.5, states: day, brightness: {{intensity_mcd: {mcd}}}}}"

    made = designed(board("\n".join([tail("a", 20, 1.0), tail("b", 40, 1.4), tail("c", 60, 5.0)])))
    assert sorted(row.lamps for row in made.fibre_classes) == [("a", "b"), ("c",)]


def test_lamps_that_switch_and_flash_together_are_one_circuit() -> None:
    plan = planned(board("\n".join([
        "{name: a, part: board, at_mm: [20, 50], colour: white, states: [day, night]}",
        "{name: b, part: board, at_mm: [30, 50], colour: white, states: [night, day]}",
        "{name: c, part: board, at_mm: [40, 50], colour: white, states: [day]}",
        "{name: d, part: board, at_mm: [50, 50], colour: white, states: [day], rhythm: Fl W 5s}",
    ])))
    circuits = find_circuits(place_lamps(plan))
    assert [row.lamps for row in circuits] == [("a", "b"), ("c",), ("d",)]


def test_circuits_are_named_without_i_and_o() -> None:
    names = [circuit_name(number) for number in range(60)]
    assert names[:9] == list("ABCDEFGHJ") and names[24] == "AA"
    assert len(set(names)) == 60 and not any(set(name) & {"I", "O"} for name in names)


def test_the_drawer_is_the_packaged_one() -> None:
    assert PACKAGED.habit("dim").low == 1.0


FLASHING = (
    "{{name: steady, part: board, at_mm: [50, 50], colour: white, model_mm: 3, states: day, "
    "brightness: {{intensity_mcd: 300}}}}\n"
    "{{name: strobe, part: board, at_mm: [120, 50], colour: white, model_mm: 3, states: day, brightness: {{like: steady}}, "
    'rhythm: "{rhythm}"}}'
)


def test_a_flash_gets_the_current_that_makes_it_look_like_its_steady_like() -> None:
    made = designed(board(FLASHING.format(rhythm="Fl W 2s (fl 0.3 ec 1.7)")))
    aims = {aim.lamp: aim for aim in made.aims}
    # source: Blondel and Rey 1911: effective = peak t / (t + 0.2 s) = 0.6 of the peak
    assert aims["strobe"].wanted_cd == pytest.approx(0.3 / 0.6)
    led = made.drawer.led(made.source("strobe").led)
    law, rated_a = light_laws(led.law).usual, led.test_ma / 1000
    lit = {name: law.times(aims[name].current_a / rated_a) for name in ("steady", "strobe")}
    assert lit["strobe"] == pytest.approx(lit["steady"] / 0.6)
    assert "1.7 times" in aims["strobe"].wanted_why
    lights = {row.lamp: row for row in made.light.lamps}
    assert lights["strobe"].effective_cd == pytest.approx(lights["steady"].effective_cd, rel=0.15)


@pytest.mark.parametrize("rhythm", ["steady", "flicker", "random windows"])
def test_what_has_no_stated_flash_is_aimed_as_steady(rhythm: str) -> None:
    aims = {aim.lamp: aim for aim in designed(board(FLASHING.format(rhythm=rhythm))).aims}
    assert aims["strobe"].wanted_cd == aims["steady"].wanted_cd


def test_a_flash_too_short_for_its_led_stops_at_the_led() -> None:
    made = designed(board(FLASHING.format(rhythm="Fl W 2s (fl 0.01 ec 1.99)").replace("300", "3000")))
    aim = next(aim for aim in made.aims if aim.lamp == "strobe")
    led = made.drawer.led(made.source("strobe").led)
    assert aim.current_a <= led.max_ma / 1000 and aim.short
