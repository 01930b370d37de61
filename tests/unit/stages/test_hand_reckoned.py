"""Whole small builds against hand reckoning: what a modeller would stumble over at the bench."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.findings import find

LED = "{name: a, part: board, at_mm: [30, 50], colour: red, model_mm: 3, states: [night]%s}"
STRIP = '''rushlight: 1
subject: {title: t, scale: "1:100", invented: true}
states: [{name: day}, {name: night}]
supply: {kind: adapter, adapter_v: %s, limit_a: 1, bay: bay}
parts:
  - name: board
    outline_mm: [[0, 0], [300, 0], [300, 200], [0, 200]]
    relief: {flat: true}
    bays: [{name: bay, rect_mm: [220, 0, 60, 48], depth_mm: 20, access: open}]
    openings: [{name: w1, rect_mm: [60, 30, 20, 10], diffusers: [{sheet: opal acrylic 2 mm}]}]
strips:
  - {name: s, part: board, openings: [w1], along_mm: %s, gap_mm: 20, states: [night]%s}
'''


def test_equal_luminance_keeps_luminance() -> None:
    # 100 cd on a 10 mm lamp at 1:100 is 0.1 mm; the thinnest fibre shows 0.24 mm: 5.76 times the area.
    made = designed(board("{name: a, part: board, at_mm: [30, 50], colour: white, size_mm: 10, states: [night], "
                          "brightness: {subject_intensity_cd: 100, carry: equal luminance}}"))
    luminance = 100 / (math.pi / 4 * 0.010**2)
    seen = math.pi / 4 * (made.sources[0].seen_mm / 1000) ** 2
    assert made.aims[0].wanted_cd == pytest.approx(luminance * seen, rel=1e-6)


def test_a_current_pinned_on_a_row_of_leds_is_kept() -> None:
    made = designed(board(rows="{name: r, part: board, along_mm: [[20,50],[80,50]], count: 3, colour: white, "
                               "model_mm: 3, states: [night]}", more="pinned: [{of: r, choice: current_ma, value: '7'}]\n"))
    assert all(aim.current_a == pytest.approx(0.007) for aim in made.aims)


def test_a_bend_in_a_strip_behind_another_place_does_not_dim_a_window() -> None:
    straight = designed(STRIP % (12, "[[25,35],[125,35]]", "")).light.strips[0].luminance_cd_m2.typical
    bent = designed(STRIP % (12, "[[25,35],[125,35],[125,135]]", "")).light.strips[0].luminance_cd_m2.typical
    assert 0.97 * straight <= bent < 1.2 * straight  # the dimming resistor is one of a series


def test_strip_table_shows_the_light_at_the_solved_current() -> None:
    made = designed(STRIP % (9, "[[25,35],[125,35]]", ""))
    lamp = made.light.lamps[0].luminance_cd_m2.typical
    assert made.light.strips[0].luminance_cd_m2.typical == pytest.approx(lamp, rel=0.05)


def test_a_strip_that_misses_its_wanted_brightness_is_told() -> None:
    made = designed(STRIP % (12, "[[25,35],[125,35]]", ", brightness: {intensity_mcd: 1}"))
    assert {f.key for f in find(made)} & {"light.brighter-than-wanted", "light.too-dim"}


def test_prewired_led_on_its_own_voltage() -> None:
    made = designed(board(LED % ", source: {kind: led, led: 'pre-wired 3 mm red for 9-12 V'}"))
    # 2 V x 20 mA x 400 K/W x 1.3 = 21 K over 22 C; the rest heats the resistor in the lead.
    assert made.heat.leds[0].junction_c.high < 60
    # 500 ohm in its lead adds 0.5 V at a meter's 1 mA.
    diode = next(r for s in made.order.steps for r in s.readings if r.dial == "diode test")
    assert diode.reading.typical == pytest.approx(1.76 + 0.5, abs=0.1)


def test_fresh_cells_read_inside_the_gates_interval() -> None:
    made = designed(board(LED % "", supply="supply: {kind: cells, cell: AA rechargeable, in_series: 3, bay: bay}\n"))
    lit = made.power.states[1].lit[0]
    gate = next(r for s in made.order.steps for r in s.readings if r.name == "supply current, night")
    assert gate.reading.low <= 1000 * lit.fresh_a <= gate.reading.high


def test_no_master_switch_when_none_is_wanted() -> None:
    supply = "supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay, master: %s}\n"
    made = designed(board(LED.replace("[night]", "[day, night]") % "", supply=supply % "false"))
    assert "master" not in made.power.switch.name
    bought = designed(board(LED.replace("[night]", "[day, night]") % "", supply=supply % "true"))
    names = [line.name for line in bought.shopping.lines if line.group == "switch"]
    assert any("1P1T" in name for name in names), f"the master switch is not on the shopping list: {names}"


def test_tilted_flood_is_dimmer_than_one_straight_down() -> None:
    flood = "{name: a, part: board, at_mm: [30, 50], colour: white, states: [night], lights_mm: 40, tilt_deg: %s}"
    down, tilted = (designed(board(flood % tilt)).light.pools[0].centre_lx.typical for tilt in (0, 60))
    assert tilted < 0.6 * down


def test_a_splice_tube_grips_the_lone_lead() -> None:
    lamps = "\n".join(f"{{name: l{k}, part: board, at_mm: [{20 + 20 * k}, 70], colour: white, model_mm: 3, states: [night]}}"
                      for k in range(5))
    made = designed(board(lamps))
    for splice in made.loom.splices:
        lone = max(made.drawer.wire(lead.wire).outer_mm for lead in made.loom.leads if lead.name in splice.leads)
        assert made.drawer.tube(splice.sleeve.tube).recovered_bore_mm < lone


def test_strip_leds_stay_on_their_part() -> None:
    text = (STRIP % (12, "[[20,35],[95,35]]", ", strip: '12 V warm white 3528, 60 a metre'")).replace("300", "100").replace(
        "[220, 0, 60, 48]", "[30, 60, 40, 30]")
    made = designed(text)
    far = max(x for x, _ in made.loom.emitters[0].strip_points_mm)
    assert far <= 100 or any("strip" in f.key and "end" in f.says for f in find(made)), far
