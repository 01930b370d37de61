"""Light and heat of small builds."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from designed import PACKAGED, designed
from plans import SUPPLY_12V, board
from rushlight.model.design import Design
from rushlight.model.design_power import EmitterCurrent
from rushlight.model.plan_part import Part
from rushlight.optics.diffuser import contrast_thresholds, row_contrast
from rushlight.optics.led_light import light_laws
from rushlight.sheets.windows import strip_table
from rushlight.stages.build import Build
from rushlight.stages.light import _rows
from rushlight.stages.painted_wall import wall_through
from rushlight.stages.parts_law import led_flux_lm
from rushlight.stages.rooms import opening_mm2
from rushlight.stages.strips import LOOKING, find_opening

ROW = "{name: r, part: board, along_mm: [[20, 85], [110, 85]], count: 9, colour: warm white, model_mm: 0.5, states: day}"
LED = "{name: a, part: board, at_mm: [20, 60], colour: red, model_mm: 3, states: day}"
SPACE = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"


def with_opening(text: str, diffusers: str = "", posts: str = "") -> str:
    opening = f"    openings: [{{name: w, rect_mm: [75, 55, 50, 10]{diffusers}{posts}}}]\n    relief:"
    return text.replace("    relief:", opening)


STRIP = "strips: [{{name: s, part: board, openings: [w], along_mm: [[{x0}, 60], [{x1}, 60]], gap_mm: {gap}, states: day}}]\n"


def strip_plan(gap: float, *, diffusers: str = "", x0: int = 5, x1: int = 195) -> str:
    return with_opening(board(more=STRIP.format(gap=gap, x0=x0, x1=x1)), diffusers)


def test_an_led_gives_its_flux_and_its_peak() -> None:
    made = designed(board(LED))
    light = made.light.lamps[0]
    led = made.drawer.led(made.source("a").led)
    lit = made.power.states[0].lit[0]
    times = light_laws(led.law).usual.times(lit.current_a.typical * 1000 / led.test_ma) * warm_share(lit)
    assert light.intensity_cd.typical == pytest.approx(led.intensity_mcd.typical / 1000 * times)
    order = -math.log(2) / math.log(math.cos(math.radians(led.half_angle_deg)))
    assert light.flux_lm.typical == pytest.approx(2 * math.pi * light.intensity_cd.typical / (order + 1))  # derived: cos^m


def test_light_goes_with_the_current() -> None:
    dim, bright = (
        designed(board(LED, more=f"pinned: [{{of: a, choice: current_ma, value: \"{ma}\"}}]\n")) for ma in (2, 10)
    )
    ratio = bright.light.lamps[0].flux_lm.typical / dim.light.lamps[0].flux_lm.typical
    lit = [made.power.states[0].lit[0] for made in (dim, bright)]
    amps = [row.current_a.typical for row in lit]
    assert ratio == pytest.approx(bare(dim, amps[1]) / bare(dim, amps[0]) * warm_share(lit[1]) / warm_share(lit[0]))
    assert ratio < 0.97 * bare(dim, amps[1]) / bare(dim, amps[0])  # the bright one is the warmer one


def bare(made: Design, amps: float) -> float:
    """Light at a current over that at the test current, of an LED that stays cool."""
    led = made.drawer.led(made.loom.emitters[0].part_row)
    return light_laws(led.law).usual.times(amps * 1000 / led.test_ma)


def test_equal_lamps_in_a_hot_space_and_in_the_open_are_not_equally_bright() -> None:
    lamps = f"{LED}\n{LED.replace('{name: a, part: board', '{name: b, part: box').replace('[20, 60]', '[20, 30]')}"
    box = ("  - {name: box, outline_mm: [[0, 0], [60, 0], [60, 40], [0, 40]], relief: {flat: true}}\n"
           "crossings: [{name: c, kind: fixed, ends: [{part: board, at_mm: [60, 90]}, {part: box, at_mm: [40, 20]}]}]\n"
           "spaces: [{name: inside, parts: [box], size_mm: [12, 8, 8]}]\n")
    held = "pinned: [{of: a, choice: current_ma, value: '15'}, {of: b, choice: current_ma, value: '15'}]\n"
    text = board(lamps, more=held)
    made = designed(text.replace("supply:", box + "supply:", 1))
    state = made.power.states[0]
    lit = {row.emitter: row for row in state.lit}
    light = {row.lamp: row.intensity_cd.typical for row in made.light.lamps if row.state == state.state}
    air_k = made.heat.spaces[0].air_rise_k.typical
    assert air_k > 5
    ratio = light["b"] / light["a"]
    amps = lit["b"].current_a.typical / lit["a"].current_a.typical
    assert amps > 1  # the warm one takes more, and yet
    cool = bare(made, lit["b"].current_a.typical) / bare(made, lit["a"].current_a.typical)
    assert ratio == pytest.approx(cool * warm_share(lit["b"]) / warm_share(lit["a"]), rel=1e-6)
    assert ratio < 0.97
    assert lit["b"].junction_c.typical - lit["a"].junction_c.typical == pytest.approx(air_k, rel=0.1)


def warm_share(row: EmitterCurrent) -> float:
    """source: led_flux_temperature.csv, red: 0.8 % less with each kelvin over 25 degC."""
    return math.exp(-0.008 * (row.junction_c.typical - 25))


def test_tails_name_their_losses_and_rows_are_compared() -> None:
    made = designed(board(rows=ROW))
    assert all(light.losses for light in made.light.lamps)
    row = made.light.rows[0]
    values = [light.intensity_cd.typical for light in made.light.lamps if light.state == "day"]
    assert row.ratio == pytest.approx(max(values) / min(values))


def test_a_row_is_compared_in_the_state_in_which_it_differs_most() -> None:
    """In the first state both are alike; in the second one is at half its light."""
    made = designed(board(rows=ROW))
    one, two = [light for light in made.light.lamps if light.state == "day"][:2]
    equal = replace(two, intensity_cd=one.intensity_cd)
    lights = (one, equal, replace(one, state="night"),
              replace(equal, state="night", intensity_cd=one.intensity_cd.times(0.5)))
    (row,) = _rows(Build(made.plan, made.drawer, made.lamps, made.sources, made.circuits, made.loom, made.power), lights)
    assert (row.state, row.ratio, row.dimmest) == ("night", pytest.approx(2.0), two.lamp)


def test_a_wider_gap_evens_a_strip() -> None:
    contrasts = [designed(strip_plan(gap)).light.strips[0].contrast for gap in (4, 8, 16)]
    assert contrasts[0] > contrasts[1] > contrasts[2]


def test_the_needed_gap_is_no_less_than_the_closed_form_says() -> None:
    made = designed(strip_plan(8).replace("rect_mm: [75, 55, 50, 10]", "rect_mm: [75, 57, 50, 6]"))
    strip, order = made.light.strips[0], 1.0  # a 120 degree LED
    wanted = LOOKING * contrast_thresholds([strip.cycles_per_deg], strip.luminance_cd_m2.typical)[0]
    closed = 2 * (1 + (s := 2 * math.pi * strip.needed_gap_mm / strip.pitch_mm)) * math.exp(-s)
    # source: closed form of an endless row, m = 1 (see row_harmonic); a high window asks for more, or fades at any gap
    assert closed <= 1.03 * wanted
    assert row_contrast(strip.needed_gap_mm / strip.pitch_mm, order) == pytest.approx(closed, rel=0.02)


def test_where_a_window_fades_at_any_gap_none_is_told_as_needed() -> None:
    """50 mm high, it falls off to its rims: an endless row's gap, less than the one that it has, would say nothing."""
    made = designed(strip_plan(12).replace("rect_mm: [75, 55, 50, 10]", "rect_mm: [75, 35, 50, 50]"))
    (strip,) = made.light.strips
    assert strip.times_spots > LOOKING and strip.needed_gap_mm is None
    (row,) = strip_table(made).rows
    assert "no gap does" in row


def test_sheets_dim_and_even_a_strip() -> None:
    bare = designed(strip_plan(8)).light.strips[0]
    two = ", diffusers: [{sheet: opal acrylic 1 mm}, {sheet: opal acrylic 1 mm, gap_mm: 5}]"
    names = [row.name for row in PACKAGED.diffusers]
    two = two.replace("opal acrylic 1 mm", names[0])
    behind = designed(strip_plan(8, diffusers=two)).light.strips[0]
    assert behind.contrast < bare.contrast
    assert behind.luminance_cd_m2.typical < bare.luminance_cd_m2.typical


def test_the_end_of_a_strip_under_a_window_is_uneven() -> None:
    long, short = designed(strip_plan(10)).light.strips[0], designed(strip_plan(10, x0=75, x1=125)).light.strips[0]
    assert short.contrast > long.contrast


def test_a_flood_lights_the_ground_by_the_inverse_square() -> None:
    text = LED.replace("states: day", "states: day, lights_mm: 40")
    made = designed(board(text))
    pool, light = made.light.pools[0], made.light.lamps[0]
    assert pool.centre_lx.typical == pytest.approx(light.intensity_cd.typical / 0.04**2)  # derived: I / h^2


def test_coats_stop_light_by_their_density() -> None:
    bare = Part(name="p", outline_mm=((0, 0), (1, 0), (1, 1)), wall="white styrene", wall_mm=1.0)
    black = Part(name="p", outline_mm=bare.outline_mm, wall="white styrene", wall_mm=1.0, coats=("black lacquer",))
    density = PACKAGED.coat("black lacquer").density.typical
    ratio = wall_through(PACKAGED, bare).typical / wall_through(PACKAGED, black).typical
    assert ratio == pytest.approx(10**density)


def test_double_thickness_of_white_plastic_nearly_halves_and_black_squares() -> None:
    def through(wall: str, mm: float) -> float:
        return wall_through(PACKAGED, Part(name="p", outline_mm=((0, 0), (1, 0), (1, 1)), wall=wall, wall_mm=mm)).typical

    white = through("white styrene", 1.0)
    assert through("white styrene", 2.0) == pytest.approx(1 / (1 + 2 * (1 / white - 1)))  # source: Kubelka-Munk, K = 0
    black = through("black styrene", 1.0)
    assert through("black styrene", 2.0) == pytest.approx(black**2)  # source: Beer's law


def test_a_leak_is_told_with_the_coats_that_stop_it() -> None:
    text = with_opening(board(
        "{name: a, part: board, at_mm: [20, 60], colour: white, states: day, opening: w, source: {kind: room}, "
        "brightness: {intensity_mcd: 5000}}", more=SPACE,
    ))
    leak = designed(text).light.leaks[0]
    assert leak.luminance_cd_m2.typical > leak.allowed_cd_m2 and leak.coats_needed >= 1
    painted = designed(text.replace("    relief:", "    coats: [black lacquer, black lacquer, black lacquer, white paint]\n    relief:")).light.leaks[0]
    assert painted.luminance_cd_m2.typical < leak.luminance_cd_m2.typical


def test_heat_rises_with_power_and_falls_with_size() -> None:
    small = SPACE.replace("[200, 100, 40]", "[60, 40, 30]")
    big, little = (designed(strip_plan(8) + more).heat.spaces[0] for more in (SPACE, small))
    assert 0 < big.air_rise_k.typical < little.air_rise_k.typical
    assert 1 < little.power_w.typical / big.power_w.typical < 1.01  # warm LEDs take a little more


def test_the_safe_end_of_heat_is_of_a_fresh_supply_and_its_feed_warms_the_bay() -> None:
    made = designed(strip_plan(8) + SPACE)
    (space,), state = made.heat.spaces, made.power.states[0]
    (lamp,), (led,) = state.lit, made.heat.leds
    assert space.power_w.low < space.power_w.typical < 0.9 * space.power_w.high
    assert space.power_w.high == pytest.approx(lamp.power_w.high + state.feed_w.high)  # all lies on the board
    assert lamp.power_w.high > lamp.terminal_v * lamp.fresh_a * max(made.loom.emitters[0].segments, 1)
    assert led.wall_under_c is not None
    room = made.heat.room_c
    typical_k = led.wall_under_c.typical - room.typical - space.air_rise_k.typical
    assert led.wall_under_c.high - room.high - space.air_rise_k.high > 1.3 * typical_k  # 1.3: the law's own spread


def test_junction_is_air_plus_power_times_resistance() -> None:
    made = designed(board(LED))
    row, current = made.heat.leds[0], made.power.states[0].lit[0]
    led = made.drawer.led(made.source("a").led)
    led_v = current.terminal_v - made.power.resistors[0].value_ohm * current.current_a.typical
    rise = led.r_th_ja_k_per_w * led_v * current.current_a.typical
    assert row.junction_c.typical == pytest.approx(22 + rise)  # derived: R_th P over a room of 22 C


EVENING = "evening: [{state: night, minutes: 30}, {state: day, minutes: 120}, {state: night, minutes: 60}]\n"


def test_the_hottest_moment_of_the_evening_adds_the_settled_rise_to_the_air_of_that_moment() -> None:
    text = with_opening(board(more=STRIP.format(gap=8, x0=5, x1=195) + SPACE + EVENING))
    made = designed(text)
    (row,), (space,) = (made.heat.leds, made.heat.evening)
    warmest = max((p for p in space.points if p.state == "day"), key=lambda point: point.air_high_c)
    assert row.evening is not None and row.wall_under_c is not None and row.evening.wall_under_c is not None
    assert (row.evening.state, row.evening.hour_h) == ("day", warmest.hour_h)
    box = made.heat.spaces[0]
    rise = row.wall_under_c.high - made.heat.room_c.high - box.air_rise_k.high
    assert row.evening.wall_under_c == pytest.approx(warmest.air_high_c + rise)
    # derived: two hours warm it less than leaving it on for good
    assert row.evening.wall_under_c <= row.wall_under_c.high
    assert row.evening.junction_c <= row.junction_c.high


def test_an_emitter_that_the_evening_does_not_light_has_no_moment_in_it() -> None:
    text = board(LED, more="evening: [{state: night, minutes: 60}]\n")
    assert designed(text).heat.leds[0].evening is None


def test_in_the_open_the_evening_adds_nothing_to_the_room() -> None:
    made = designed(board(LED, more="evening: [{state: day, minutes: 60}]\n"))
    (row,) = made.heat.leds
    assert row.evening is not None
    assert row.evening.junction_c == pytest.approx(row.junction_c.high)


def test_openings_are_measured_and_found() -> None:
    made = designed(strip_plan(8))
    opening = find_opening(made.plan, made.loom.emitter("s"), "s: w")
    assert opening_mm2(opening) == pytest.approx(500.0)


def test_a_supply_is_needed_for_any_light() -> None:
    assert designed(board(LED, supply="")).light.lamps == ()
    assert designed(board(LED, supply=SUPPLY_12V)).light.lamps


def test_the_order_of_tails_changes_no_total() -> None:
    one, other = (designed(board(rows=row)) for row in (ROW, ROW.replace("[[20, 85], [110, 85]]", "[[110, 85], [20, 85]]")))
    totals = [sum(light.flux_lm.typical for light in made.light.lamps) for made in (one, other)]
    assert totals[0] == pytest.approx(totals[1], rel=1e-6)


def test_no_tail_or_room_gives_more_than_its_led() -> None:
    made = designed(board(rows=ROW))
    for state in made.power.states:
        for current in state.lit:
            emitter = made.loom.emitter(current.emitter)
            led = made.drawer.led(emitter.part_row)
            given = sum(row.flux_lm.high for row in made.light.lamps if row.lamp in emitter.lamps and row.state == state.state)
            assert given <= led_flux_lm(led, current.current_a.typical).high * (1 + 1e-9)
