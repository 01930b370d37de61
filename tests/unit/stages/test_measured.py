"""Readings at the bench: what they come to, what cannot be, and that the light narrows at once."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from designed import PACKAGED, designed
from rushlight.errors import DocumentProblem
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.plan_bench import BENCH_METHODS, Measured
from rushlight.optics.bench import ratio, shown
from rushlight.optics.fibre import Launch, Tail, joint_factor, launch_sine, tail_flux
from rushlight.optics.fibre_loss import Bend
from rushlight.optics.led_light import light_laws
from rushlight.stages.fibre_light import led_joint, tail_light
from rushlight.stages.measured import found_by, with_measured
from rushlight.stages.painted_wall import wall_through
from rushlight.stages.parts_law import fibre_of, joint_of, led_flux_lm, led_launch, led_light_a
from rushlight.stages.readings import readings_of
from rushlight.stages.spaces import rises_k, space_box
from rushlight.stages.strays import stray_share
from rushlight.tables import rows
from rushlight.units import Range

LED = next(row.name for row in PACKAGED.leds if row.lens == "flat top")
PLAN = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, wall: white styrene, wall_mm: 1,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
rows:
  - {name: ports, part: yard, along_mm: [[60, 40], [160, 40]], count: 3, colour: warm white, model_mm: 0.5, states: [night],
     source: {kind: fibre, fibre_mm: 0.5}}
"""


def test_every_method_has_its_row_and_says_how() -> None:
    table = rows("bench_methods")
    assert tuple(row["what"] for row in table) == BENCH_METHODS
    assert all(len(row["how"]) > 60 and row["error"] and float(row["leaves_share"]) > 0 for row in table)


def test_the_range_runs_over_the_pieces_and_the_meters_error() -> None:
    lux = shown((90, 110), off=0.1)
    assert (lux.low, lux.typical, lux.high) == pytest.approx((81, 100, 121))
    share = ratio((2, 4), (10, 10), off=0.0)
    assert (share.low, share.typical, share.high) == pytest.approx((0.2, 0.3, 0.4))
    assert ratio((20,), (100,), off=0.05).high == pytest.approx(ratio((0.2,), (1,), off=0.05).high)  # the meter's own scale falls out


def test_led_intensity_goes_to_its_test_current() -> None:
    led = PACKAGED.led(LED)
    one = Measured(what="led intensity", of=LED, readings=(20.0,), distance_mm=200, at_ma=led.test_ma / 2)
    read = with_measured(PACKAGED, (one,)).led(LED)
    value, half = read.intensity_mcd, light_laws(led.law).usual.times(0.5)
    assert value.typical == pytest.approx(800 / half)  # derived: 20 lx x 0.04 m2, at half the current
    assert (value.low, value.high) == pytest.approx((600 / half, 1000 / half))


def test_an_led_gives_at_the_current_of_its_reading_what_was_read() -> None:
    """How light goes with current is no guess there, and is one anywhere else."""
    led = PACKAGED.led(LED)
    one = Measured(what="led intensity", of=LED, readings=(20.0,), distance_mm=200, at_ma=led.test_ma / 10)
    read = with_measured(PACKAGED, (one,)).led(LED)
    at, beyond = (read.intensity_mcd.times(led_light_a(read, amps / 1000).times(1000 / led.test_ma))
                  for amps in (led.test_ma / 10, led.test_ma))
    assert (at.low, at.typical, at.high) == pytest.approx((600, 800, 1000))  # derived: 20 lx x 0.04 m2, a quarter off
    assert beyond.high / beyond.low > 1.1 * at.high / at.low


@pytest.mark.parametrize("keeps", [0.2, 0.5, 0.9])
def test_a_joint_is_found_again_from_its_own_light(keeps: float) -> None:
    """Second method: the tail's light with that joint, put before the meter."""
    led = PACKAGED.led(LED)
    launch = replace(led_launch(led, led.test_ma / 1000), coupling=Range.exactly(keeps))
    lit = tail_flux(launch, fibre_of(PACKAGED.fibre(0.5)), Tail(Range.exactly(0.0), length_mm=250, wavelength_nm=led.dominant_nm))
    one = Measured(what="fibre joint", of=LED, readings=(lit.axial_intensity_cd.typical,) * 3,
                   against=(led.intensity_mcd.typical / 1000,), fibre_mm=0.5, length_mm=250)
    value = joint_of(with_measured(PACKAGED, (one,)))
    assert value is not None and value.typical == pytest.approx(keeps, rel=1e-6)
    assert value.high / value.low < 1.2


def test_stray_light_and_the_light_narrow_at_once() -> None:
    text = PLAN + """
measured:
  - {what: stray light, of: illuminator, readings: [2, 3], against: [100]}
"""
    before, after = designed(PLAN), designed(text)
    assert stray_share(after.drawer, "illuminator").typical == pytest.approx(0.025)
    wide, narrow = (made.light.leaks[0].luminance_cd_m2 for made in (before, after))
    assert narrow.high / narrow.low < wide.high / wide.low / 20  # derived: 50 times apart to 1.7 times


def _lost(text: str, name: str) -> Range:
    """A named loss of the first tail of a row with cut ends, as its law has it."""
    made = designed(text)
    tail = made.loom.tails[0]
    led = made.drawer.led(next(row.part_row for row in made.loom.emitters if tail.lamp in row.lamps))
    lit = tail_light(made.drawer, led, tail, led_joint(made.plan, made.drawer, "ports", tail.lamp))
    return next(loss.loss_db for loss in lit.losses if loss.name == name)


def test_ends_length_and_bends_of_the_fibre_take_the_tables_place() -> None:
    cut = PLAN + "pinned: [{of: ports, choice: fibre_inlet, value: cut}]\nmeasured:\n"
    found = _lost(cut + "  - {what: fibre end, of: cut, readings: [80], against: [100], off_share: 0}", "inlet finish")
    assert found.typical == pytest.approx(0.1 + 0.969, abs=1e-3)  # derived: 80 % is 0.969 dB, a polished end 0.1
    before = _lost(cut.removesuffix("measured:\n"), "bends")
    led = f'led: "{LED}"'
    bent = "  - {what: fibre bend, of: 0.5 mm fibre, readings: [70], against: [100], radius_mm: 3, turn_deg: 90, " + led + "}"
    factor = found_by(PACKAGED, designed(cut + bent).plan.measured[0])[0].value
    after = _lost(cut + bent, "bends")
    assert after.typical == pytest.approx(before.typical * factor.typical)
    assert 0.3 < factor.typical < 1.0  # derived: 1.55 dB, where the trace has 3.8 to 5.1 dB at six radii to ten
    length = "  - {what: fibre length, of: 0.5 mm fibre, readings: [70], against: [100], length_mm: 10000, " + led + "}"
    colour = PACKAGED.led(LED).colour
    drawer = designed(cut + length).drawer
    per_m = drawer.measured("fibre length", f"0.5 mm fibre, {colour}")
    assert per_m is not None and per_m.typical == pytest.approx(0.1549, abs=1e-4)  # derived: 1.549 dB over 10 m
    assert per_m.high - per_m.low < 0.1


@pytest.mark.parametrize("led", [LED, "3 mm warm white, clear 30 deg", "5 mm warm white, clear 20 deg"])
def test_a_bend_read_in_the_tube_is_the_laws_own_however_narrow_the_beam(led: str) -> None:
    """A phone in a black tube sees what goes straight ahead, and a bend widens a narrow cone: that is no loss."""
    part, lamp = PACKAGED.fibre(0.5), PACKAGED.led(led)
    lux = [tail_flux(led_launch(lamp, 0.01), fibre_of(part), Tail(
        offset_mm=Range.exactly(0.0), length_mm=300.0, bends=bends, wavelength_nm=lamp.dominant_nm,
    )).axial_intensity_cd.typical for bends in ((Bend(4.0, 90.0),), ())]
    one = Measured(what="fibre bend", of=part.name, readings=(lux[0],), against=(lux[1],), radius_mm=4.0, turn_deg=90.0,
                   led=led, off_share=0.0)
    found = found_by(PACKAGED, one)[0].value
    assert found.typical == pytest.approx(1.0)  # derived: the law's reading gives the law back
    assert found.low <= 1.0 + 1e-9 and found.high >= 1.0 - 1e-9


def test_a_narrow_beam_leaves_open_what_a_reel_takes() -> None:
    """On ten metres of reel a narrow cone may widen to the fibre's own: that much of the reading may be no loss."""
    def read(led: str) -> Range:
        return found_by(PACKAGED, Measured(what="fibre length", of="0.5 mm fibre", readings=(50.0,), against=(100.0,),
                                           length_mm=10_000.0, led=led))[0].value

    wide, narrow = read(LED), read("3 mm warm white, clear 30 deg")
    sine = launch_sine(led_launch(PACKAGED.led("3 mm warm white, clear 30 deg"), 0.01), fibre_of(PACKAGED.fibre(0.5)),
                       offset_mm=0.0)
    assert (narrow.typical, narrow.high) == (wide.typical, wide.high)
    wider_db = 20 * math.log10(PACKAGED.fibre(0.5).numerical_aperture / sine)  # derived: as 1 / sine^2 goes ahead
    assert wide.low > 0.2 and narrow.low == pytest.approx(max(0.0, wide.low - wider_db / 10))


@pytest.mark.parametrize("coats", [1, 2, 3, 5])
def test_white_coats_read_together_let_through_again_what_was_read(coats: int) -> None:
    """White without loss of light: 1/T - 1 adds up from coat to coat (Kubelka 1954), densities do not."""
    one = 0.6
    share = 1.0 / (1.0 + coats * (1.0 / one - 1.0))  # source: Kubelka 1954, R = 1 - T
    read = Measured(what="coat", of="white paint", readings=(1000 * share,), against=(1000.0,), count=coats, off_share=0.0)
    assert found_by(PACKAGED, read)[0].value.typical == pytest.approx(math.log10(1 / one), rel=1e-6)
    black = replace(read, of="black acrylic")
    assert found_by(PACKAGED, black)[0].value.typical == pytest.approx(-math.log10(share) / coats)  # source: Beer


@pytest.mark.parametrize("paint", ["white primer", "grey primer"])
def test_three_coats_read_and_planned_dim_a_clear_part_as_read(paint: str) -> None:
    read = Measured(what="coat", of=paint, readings=(150.0,), against=(1000.0,), count=3, off_share=0.0)
    drawer = with_measured(PACKAGED, (read,))
    part = replace(designed(PLAN).plan.parts[0], wall="clear styrene", coats=(paint,) * 3)
    bare = replace(part, coats=())
    left = wall_through(drawer, part).typical / wall_through(drawer, bare).typical
    assert left == pytest.approx(0.15, rel=0.1)  # clear styrene throws a tenth back, which lets a little more through


def test_two_sheets_give_both_and_the_wall_is_taken_to_1_mm() -> None:
    sheet, wall = PACKAGED.diffusers[0].name, "white styrene"
    drawer = with_measured(PACKAGED, (
        Measured(what="diffuser", of=sheet, readings=(40,), against=(100,), two=(21.333,)),
        Measured(what="wall", of=wall, readings=(20,), against=(100,), thickness_mm=0.5),
    ))
    assert drawer.diffuser(sheet).transmittance.typical == pytest.approx(0.4)
    assert drawer.diffuser(sheet).reflectance.typical == pytest.approx(0.5, abs=1e-4)  # derived: 0.16 / 0.75
    assert drawer.wall(wall).transmittance_1mm.typical == pytest.approx(1 / 9)  # derived: 1 / (1 + 4 / 0.5)


WRONG = (
    ("{what: wall, of: white styrene, readings: [20], against: [100]}", "thickness_mm is missing"),
    ("{what: wall, of: white styren, readings: [20], against: [100], thickness_mm: 1}", "'white styren' is not known"),
    ("{what: coat, of: black lacquer, readings: [120], against: [100], count: 1}", "readings are 1.2 times"),
    ("{what: coat, of: black lacquer, readings: [0], against: [100], count: 1}", "readings hold 0"),
    ("{what: fibre joint, of: LED, readings: [90], against: [100], fibre_mm: 0.25, length_mm: 200}", "what a perfect joint"),
    ("{what: diffuser, of: SHEET, readings: [40], against: [100], two: [39]}", "two sheets"),
    ("{what: strip flux, of: STRIP, readings: [40], distance_mm: 200, length_mm: 100}", "distance"),
    ("{what: fibre end, of: polished, readings: [80], against: [100]}", "'polished' is not known"),
    ("{what: fibre bend, of: 0.5 mm fibre, readings: [99], against: [100], radius_mm: 40, turn_deg: 90, led: LED}", "too little"),
    ("{what: fibre length, of: 0.5 mm fibre, readings: [99], against: [100], length_mm: 900, led: red}", "'red' is not known"),
    ("{what: led intensity, of: LED, readings: [38000], distance_mm: 200}", "an intensity of 1 520 000 mcd"),
    ("{what: led half angle, of: LED, readings: [520], distance_mm: 200}", "times as far aside as the LED is away"),
    ("{what: led half angle, of: LED, readings: [5], distance_mm: 200}", "a half angle of 1.433 degrees"),
    ("{what: led intensity, of: LED, readings: [38], distance_mm: 200, at_ma: 650}", "this LED bears 30 mA"),
    ("{what: fibre length, of: 0.5 mm fibre, readings: [99], against: [100], length_mm: 50, led: LED}", "too little to read"),
    ("{what: fibre length, of: 0.5 mm fibre, readings: [99], against: [50], length_mm: 9000, led: LED}", "short over long"),
    ("{what: stray light, of: illuminater, readings: [4], against: [100]}", "'illuminater' is not known"),
)


@pytest.mark.parametrize(("entry", "says"), WRONG, ids=[says for _, says in WRONG])
def test_a_reading_that_cannot_be_is_told_where_it_stands(entry: str, says: str) -> None:
    for word, row in (("LED", LED), ("SHEET", PACKAGED.diffusers[0].name), ("STRIP", PACKAGED.strips[0].name)):
        entry = entry.replace(f"of: {word}", f'of: "{row}"').replace(f"led: {word}", f'led: "{row}"')
    with pytest.raises(DocumentProblem) as told:
        parse_plan(f"{PLAN}measured:\n  - {entry}\n", "plan.yaml", PACKAGED)
    [problem] = told.value.problems
    assert says in problem.found and problem.line > 0 and problem.expected


def test_own_values_tells_the_same_without_a_document() -> None:
    plan = replace(designed(PLAN).plan, measured=(Measured(what="coat", of="black", readings=(1.0,), against=(9.0,), count=1),))
    with pytest.raises(DocumentProblem, match="measured 1"):
        own_values(PACKAGED, plan)


def test_what_a_joint_hangs_on_is_put_in_first() -> None:
    joint = Measured(what="fibre joint", of=LED, readings=(1.0,), against=(1000.0,), fibre_mm=0.5, length_mm=200)
    angle = Measured(what="led half angle", of=LED, readings=(40.0,), distance_mm=200)
    both = with_measured(PACKAGED, (joint, angle))
    assert both.led(LED).half_angle_deg == found_by(PACKAGED, angle)[0].value.typical
    assert both.bench == with_measured(with_measured(PACKAGED, (angle,)), (joint,)).bench


def test_a_lamp_as_read_gives_what_the_meter_showed_in_every_state() -> None:
    text = PLAN.replace("[{name: night}]", "[{name: night}, {name: day}]").replace("states: [night]", "states: [night, day]")
    old = {(row.lamp, row.state): row for row in designed(text).light.lamps}
    lux = 120 * old["ports 2", "day"].intensity_cd.typical
    read = f"measured: [{{what: lamp, of: ports 2, state: day, readings: [{lux:.6f}], distance_mm: 100}}]\n"
    new = {(row.lamp, row.state): row for row in designed(text + read).light.lamps}
    assert new["ports 2", "day"].intensity_cd.typical == pytest.approx(lux * 0.01, rel=1e-3)  # derived: inverse square
    times = new["ports 2", "day"].intensity_cd.typical / old["ports 2", "day"].intensity_cd.typical
    night, was = new["ports 2", "night"], old["ports 2", "night"]
    assert night.flux_lm.typical == pytest.approx(was.flux_lm.typical * times)
    assert night.intensity_cd.high / night.intensity_cd.low == pytest.approx(1.25 / 0.75)
    sister, before_it = new["ports 1", "night"].intensity_cd, old["ports 1", "night"].intensity_cd
    assert before_it.low <= sister.low and sister.high <= before_it.high and sister != before_it


WARM = PLAN + "spaces: [{name: hold, parts: [yard], size_mm: [200, 60, 60]}]\n"


def test_the_hulls_warmth_as_read_scales_the_box() -> None:
    before = designed(WARM).heat.spaces[0]
    read = "measured: [{what: hull warmth, of: hold, readings: [POWER_C], against: [20], power_w: POWER_W}]\n"
    box = space_box(designed(WARM).plan, designed(WARM).plan.spaces[0], PACKAGED)
    foretold = rises_k(box, 3.0, 22.0)[0].typical
    text = WARM + read.replace("POWER_C", f"{20 + 0.7 * foretold:.6f}").replace("POWER_W", "3")
    after = designed(text).heat.spaces[0]
    assert after.air_rise_k.typical == pytest.approx(0.7 * before.air_rise_k.typical, rel=1e-4)
    assert (after.wall_c.typical - 22) == pytest.approx(0.7 * (before.wall_c.typical - 22), rel=1e-4)
    assert after.air_rise_k.high / after.air_rise_k.low < before.air_rise_k.high / before.air_rise_k.low


@pytest.mark.parametrize(("entry", "says"), (
    ("{what: lamp, of: ports, state: night, readings: [1], distance_mm: 100}", "'ports' is not known"),
    ("{what: lamp, of: prots 1, state: night, readings: [1], distance_mm: 100}", "'prots 1' is not known"),
    ("{what: lamp, of: ports 1, readings: [1], distance_mm: 100}", "state is missing"),
    ("{what: lamp, of: ports 1, state: nigth, readings: [1], distance_mm: 100}", "nigth"),
    ("{what: hull warmth, of: hull, readings: [30], against: [20], power_w: 3}", "'hull' is not known"),
    ("{what: hull warmth, of: hold, readings: [20.5], against: [20], power_w: 3}", "0.5 K over the room"),
), ids=lambda value: value if "{" not in value else "")
def test_what_the_plan_names_must_be_there(entry: str, says: str) -> None:
    with pytest.raises(DocumentProblem) as told:
        parse_plan(f"{WARM}measured:\n  - {entry}\n", "plan.yaml", PACKAGED)
    assert any(says in problem.found for problem in told.value.problems)


def test_lamps_and_warmth_are_in_the_ranking_until_they_are_read() -> None:
    def methods(text: str) -> set[str]:
        return {(row.method, row.of) for row in readings_of(designed(text))}

    assert any(method == "lamp" for method, _ in methods(WARM))
    [(name, state)] = [(row.of, row.state) for row in readings_of(designed(WARM)) if row.method == "lamp"]
    cd = next(row.intensity_cd.typical for row in designed(WARM).light.lamps if (row.lamp, row.state) == (name, state))
    read = f"measured: [{{what: lamp, of: {name}, state: {state}, readings: [{cd * 100}], distance_mm: 100}}]\n"
    assert ("lamp", name) not in methods(WARM + read)


RED = "3 mm red, diffused"
ONE = """rushlight: 1
subject: {title: board, scale: 10}
states: [{name: "on"}]
parts:
  - {name: board, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], wall: black styrene, wall_mm: 2, relief: {flat: true},
     bays: [{name: cells, rect_mm: [5, 5, 60, 50], depth_mm: 20, access: screwed hatch}]}
lamps:
  - {name: flame, part: board, at_mm: [150, 50], colour: red, size_mm: 30, states: ["on"]}
supply: {kind: cells, cell: AA, in_series: 3, bay: cells}
pinned: [{of: flame, choice: led, value: "3 mm red, diffused"}, {of: flame, choice: current_ma, value: "5"}]
"""
READ = 'measured: [{what: led voltage, of: "3 mm red, diffused", readings: [READ], against: [AGAINST], series_ohm: [OHM]}]\n'


def led_read(readings: str, against: str, ohm: str = "1000, 330"):
    return designed(ONE + READ.replace("[READ]", f"[{readings}]").replace("AGAINST", against).replace("OHM", ohm))


def test_an_led_read_behind_two_resistors_gets_its_own_resistor_and_a_narrower_current() -> None:
    usual, own = designed(ONE), led_read("2.02, 2.1", "2.98, 2.9")
    one, two = usual.power.resistors[0].exact_ohm, own.power.resistors[0].exact_ohm
    # derived: at 5 mA the tabled red has 1.863 V, the one that was read 2.058 V (straight in ln of the current)
    assert two - one == pytest.approx(-0.195 / 0.005, abs=2)
    was, now = (made.power.states[0].lit[0].current_a for made in (usual, own))
    assert now.high - now.low < 0.9 * (was.high - was.low)


@pytest.mark.parametrize(("readings", "against", "ohm", "says"), [
    ("1.83, 1.92", "3.17", "1000, 330", "2, one for each reading"),
    ("1.83, 1.92", "3.17, 3.08", "1000", "2, one for each reading"),
    ("1.83, 1.84", "3.17, 3.16", "1000, 1000", "two that differ"),
    ("1.92, 1.83", "3.08, 3.17", "1000, 330", "exchanged"),
])
def test_readings_of_an_led_that_contradict_are_told(readings, against, ohm, says) -> None:
    with pytest.raises(DocumentProblem, match=says):
        led_read(readings, against, ohm)


def test_the_form_has_words_for_every_key_that_a_method_needs() -> None:
    from rushlight.sheets.readings import NEEDS

    needed = {key for row in rows("bench_methods") for key in row["must"].split(";") if key} - {"state"}
    assert needed <= set(NEEDS)


def test_an_unknown_half_angle_widens_the_flux_and_is_narrowed_by_its_reading() -> None:
    led = next(row for row in PACKAGED.leds if row.half_angle_deg == 60 and row.lens == "flat top")
    wide = led_flux_lm(led, 0.01)
    known = led_flux_lm(replace(led, angle_share=0.0), 0.01)
    # derived: a lamp of 60 deg has m = 1, of 51 deg m = 1.497, of 69 deg m = 0.675: flux goes with 1 / (m + 1)
    assert wide.low / known.low == pytest.approx(2 / 2.497, rel=1e-3)
    assert wide.high / known.high == pytest.approx(2 / 1.675, rel=1e-3)
    aside = 200 * math.tan(math.acos(0.5**0.25))  # source: cosine-fourth law
    one = Measured(what="led half angle", of=led.name, readings=(aside * 0.99, aside * 1.01), distance_mm=200, off_share=0.01)
    read = with_measured(PACKAGED, (one,)).led(led.name)
    assert read.half_angle_deg == pytest.approx(60, abs=0.05)
    assert 0 < read.angle_share < 0.06
    own = f'drawer: [{{table: leds, row: "{led.name}", column: half_angle_deg, value: 60, measured: true}}]\n'
    assert designed(PLAN + own).drawer.led(led.name).angle_share == 0
    [row] = [row for row in readings_of(designed(PLAN)) if row.method == "led half angle"]
    known_well = PLAN + own.replace(led.name, row.of).replace("value: 60", f"value: {row.now.typical}")
    assert "led half angle" not in {row.method for row in readings_of(designed(known_well))}


def test_a_lensed_leds_bundle_hangs_on_its_half_angle_as_its_flux_does() -> None:
    """Half of the flux of the cos^m law leaves by a clear dome."""
    led = next(row for row in PACKAGED.leds if row.lens == "clear")
    launch = led_launch(led, 0.01)
    assert launch.flux_lm == led_flux_lm(led, 0.01) and launch.by_face == 0.5  # table: led_launch.csv


def test_what_is_not_known_of_a_domes_share_is_in_its_tails_until_a_joint_is_read() -> None:
    led = next(row for row in PACKAGED.leds if row.lens == "clear")
    launch, tail = led_launch(led, 0.01), Tail(Range.exactly(0.0), 100.0, wavelength_nm=600.0)
    fibre = fibre_of(PACKAGED.fibres[0])

    def width(given: Launch) -> float:
        light = tail_flux(given, fibre, tail)
        return light.flux_lm.high / light.flux_lm.low

    # table: led_launch.csv, 0.36 to 0.6 about 0.5
    assert width(launch) == pytest.approx(width(replace(launch, coupling=joint_factor())) * 0.6 / 0.36, rel=1e-6)


@pytest.mark.parametrize("nm", [400, 680])
def test_an_own_leds_colour_may_be_any_of_which_fibre_is_known(nm: int) -> None:
    own = 'drawer: [{table: leds, row: "%s", column: dominant_nm, value: %g, measured: true}]\n'
    assert designed(PLAN + own % (LED, nm)).light.lamps
    with pytest.raises(DocumentProblem, match="expected 400 to 680 nm"):
        designed(PLAN + own % (LED, nm + (nm - 540) / 20))
