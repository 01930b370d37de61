"""Every uncertain input: its key is accepted in a plan, the design changes, the range narrows as foretold, it is ranked."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from bench_entries import (
    FADING,
    LASTS,
    LED,
    PLANS,
    ROW,
    TAILS,
    before,
    entry,
    keys_of,
    yard,
)
from designed import PACKAGED, designed, planned
from rushlight.errors import DocumentProblem
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.findings.electric.bank_sleeps import RULE as BANK_SLEEPS
from rushlight.findings.plan.measured_unused import RULE
from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import BENCH_METHODS, Measured
from rushlight.sheets.readings import taken_words
from rushlight.stages.filming import BAND_SHARE, pulsed_of
from rushlight.stages.measured import found_by
from rushlight.stages.measured_found import USUAL_GAPS
from rushlight.stages.measured_places import value_at
from rushlight.stages.reading_answers import stops_of
from rushlight.stages.readings import Reading, answers_of, every_reading, first_by_question, readings_of
from rushlight.stages.readings_led import with_voltage_read
from rushlight.tables import row_by, rows
from rushlight.units import Range

NO_VERDICT = ("camera readout",)
"""What no finding hangs on: how many bands a picture has."""


METHODS = [(row["input"], method) for row in rows("uncertain_inputs") for method in row["methods"].split(";")]


def test_every_row_has_a_bench_method_of_its_own() -> None:
    methods = [method for _, method in METHODS]
    assert len(methods) == len(set(methods)) and set(methods) <= set(BENCH_METHODS)
    assert all(row["methods"] for row in rows("uncertain_inputs"))
    assert all(row_by("bench_methods", "what", method)["when"] in ("at once", "once lit") for method in methods)


@pytest.mark.parametrize(("row", "what"), METHODS, ids=[method for _, method in METHODS])
def test_the_reading_is_ranked_accepted_and_narrows_what_was_foretold(row: str, what: str) -> None:
    made, reading = before(what)
    gain = reading.best
    assert reading.leaves.high / reading.leaves.low < reading.now.high / max(reading.now.low, 1e-9)
    if what in NO_VERDICT:
        assert any(one.method == what for one in first_by_question(every_reading(made))["film"])
    else:
        assert any(one.method == what and one.undecided for one in readings_of(made))
        assert 0 < gain.settles <= gain.undecided
    read = designed(PLANS[what] + entry(what, made, reading))
    old, new = (answers_of(one)[gain.most] for one in (made, read))
    was, now = old.value, new.value
    assert was == gain.before and old.ranked == gain.likely_before
    assert now.typical == pytest.approx(was.typical, rel=0.02)
    assert stops_of(now) < stops_of(was)
    assert stops_of(now) < 1.05 * stops_of(gain.after)
    assert stops_of(new.ranked) < 1.05 * stops_of(gain.likely_after)


@pytest.mark.parametrize("share", [0.05, 0.3, 0.7, 0.95])
@pytest.mark.parametrize("what", [what for _, what in METHODS if what not in ("led voltage", "lamp")])
def test_a_reading_within_what_is_believed_never_widens_it(what: str, share: float) -> None:
    """At any place between the ends, straight in the logarithm where both are above nothing."""
    made, reading = before(what)
    low, high = max(reading.now.low, 1e-3 * reading.now.high), reading.now.high
    middle = low ** (1 - share) * high**share
    moved = replace(reading, now=Range(reading.now.low, middle, reading.now.high))
    line = entry(what, made, moved)
    try:
        read = own_drawer(PLANS[what] + line)
    except DocumentProblem:  # below what the method can read: refused in a sentence, tried elsewhere
        return
    value = value_of(read, reading)
    if what == "fibre end":  # decibels are logarithms already
        assert value.high - value.low <= high - low
    else:
        assert stops_of(value) <= stops_of(Range(low, middle, high)) + 1e-9
    assert value.low <= middle * 1.02
    assert middle * 0.98 <= value.high


def own_drawer(text: str) -> Drawer:
    """The drawer that a plan is designed with; what a reading comes to stands in it before anything is designed."""
    return own_values(PACKAGED, planned(text))


def value_of(drawer: Drawer, reading: Reading) -> Range:
    """What a reading came to, in the place of what was believed."""
    place = reading.table, reading.row, reading.column
    return drawer.measured(reading.column, reading.row) or value_at(drawer, place) or reading.now


def test_a_design_holds_the_drawer_that_its_readings_were_put_into() -> None:
    for what in ("bundle width", "cell resistance", "hull warmth"):
        text = PLANS[what] + entry(what, *before(what))
        assert designed(text).drawer == own_drawer(text)


def slept(made: Design) -> object:
    return [(row.number, row.limit, row.grade) for row in BANK_SLEEPS.look(made)]


def test_the_design_itself_changes() -> None:
    """What is drawn, sized or told: not the ranking alone."""
    changed: dict[str, Callable[[Design], object]] = {
        "bundle width": lambda made: made.loom.bundles[0].hand_made_mm, "feed power": lambda made: made.heat.spaces[0].wall_c,
        "cell capacity": lambda made: made.power.states[0].run_time_h, "pulse rate": lambda made: pulsed_of(made)[0].contrast,
        "camera readout": lambda made: pulsed_of(made)[0].bands, "seam gap": lambda made: made.light.ways_out[0].width_mm,
        "cell resistance": lambda made: (made.power.states[0].run_time_h, made.power.states[0].lit[0].current_a),
        "adapter volts": lambda made: made.power.states[0].lit[0].current_a, "post paint": lambda made: made.light.ways_out[0].luminance_cd_m2,
        "bank energy": lambda made: made.power.states[0].run_time_h, "bank load": slept,
        "lip lap": lambda made: made.light.ways_out[0].luminance_cd_m2, "post gap": lambda made: made.light.ways_out[0].width_mm,
        "post root": lambda made: made.light.ways_out[0].width_mm, "hole play": lambda made: made.light.ways_out[0].width_mm, "hull warmth": lambda made: made.heat.spaces[0].wall_c,
    }
    for what, look in changed.items():
        made, reading = before(what)
        assert look(designed(PLANS[what] + entry(what, made, reading))) != look(made), what


def test_what_an_leds_voltage_leaves_of_its_current_is_what_a_whole_solve_leaves() -> None:
    """The ranking draws the ends of a current in by what LEDs alone do to it; the design with the reading is solved anew."""
    made, reading = before("led voltage")
    read = designed(PLANS["led voltage"] + entry("led voltage", made, reading))
    foretold = with_voltage_read(made.power, made.drawer, made.loom, reading.of).states[0].lit[0]
    solved, was = read.power.states[0].lit[0], made.power.states[0].lit[0]
    assert was.current_a.high / was.current_a.low > 1.5 * foretold.current_a.high / foretold.current_a.low
    for end in ("low", "typical", "high"):
        assert getattr(foretold.current_a, end) == pytest.approx(getattr(solved.current_a, end), rel=0.1)
    light = [one.light.lamps[0].intensity_cd for one in (made, read)]
    assert light[1].high / light[1].low < 0.7 * light[0].high / light[0].low


def test_an_led_that_was_read_is_not_asked_for_again() -> None:
    made, reading = before("led voltage")
    read = designed(PLANS["led voltage"] + entry("led voltage", made, reading))
    assert not [row for row in every_reading(read) if row.method == "led voltage"]


def test_a_bank_that_was_tried_is_not_asked_for_again() -> None:
    made, reading = before("bank load")
    read = designed(PLANS["bank load"] + entry("bank load", made, reading))
    assert not [row for row in every_reading(read) if row.method == "bank load"]


def test_units_keep_their_letters_where_a_line_begins_with_them() -> None:
    for row in rows("bench_methods"):
        assert not any(row[key].startswith(("mA", "mm ", "mW", "mV")) for key in ("readings", "against"))


def test_the_light_of_a_lamp_holds_the_spread_of_its_current() -> None:
    """And that of how light goes with current: at the ends of the current the LED that gives least and most."""
    made, _ = before("led voltage")
    (light,), lit = made.light.lamps, made.power.states[0].lit[0]
    own = PACKAGED.led(made.loom.emitters[0].part_row).intensity_mcd
    shares = lit.light_share.times(lit.lit_a)
    assert light.intensity_cd.high / light.intensity_cd.low == pytest.approx(own.high / own.low * shares.high / shares.low)


def test_a_room_as_read_allows_what_its_light_hides() -> None:
    made, _ = before("room light")
    for lux, brighter in ((3, False), (60, True)):
        read = designed(PLANS["room light"] + f"measured: [{{what: room light, of: room, readings: [{lux}]}}]\n")
        allowed = (read.light.leaks[0].allowed_cd_m2, made.light.leaks[0].allowed_cd_m2)
        assert (allowed[0] > allowed[1]) is brighter


def test_a_cell_that_holds_half_lasts_half_and_so_does_an_own_capacity() -> None:
    made, reading = before("cell capacity")
    hours = made.power.states[0].run_time_h.typical
    half = keys_of("cell capacity", made, reading)["readings"][0] / 2  # type: ignore[index]
    read = designed(LASTS + f"measured: [{{what: cell capacity, of: AA, readings: [{half}], at_ma: 50}}]\n")
    assert read.power.states[0].run_time_h.typical == pytest.approx(hours / 2)
    own = designed(LASTS + "drawer: [{table: cells, row: AA, column: capacity_mah, value: 1250}]\n")
    assert own.power.states[0].run_time_h.typical == pytest.approx(hours / 2)  # derived: its row has 2500 mAh


def test_pulses_that_were_read_slow_are_told_whatever_the_program_asks_for() -> None:
    fast = yard(FADING + "controller: {pwm_hz: 3500}\n")
    assert not any(row.contrast > BAND_SHARE for row in pulsed_of(designed(fast)))
    slow = designed(fast + "measured: [{what: pulse rate, of: controller, readings: [1000], off_share: 0.01}]\n")
    bands = designed(fast + "measured: [{what: pulse rate, of: controller, readings: [15], readout_ms: 15, off_share: 0.01}]\n")
    assert any(row.contrast > BAND_SHARE for row in pulsed_of(slow))
    assert [row.contrast for row in pulsed_of(bands)] == pytest.approx([row.contrast for row in pulsed_of(slow)])


WRONG = (
    ("{what: bundle width, of: 0.5 mm fibre, readings: [0.9], count: 7}", "are 0.9 mm"),
    ("{what: bundle width, of: 0.5 mm fibre, readings: [0.5], count: 1}", "count is 1"),
    ("{what: bundle width, of: 0.5 mm fibre, readings: [1.5]}", "count is missing"),
    ("{what: cell capacity, of: AA, readings: [10]}", "at_ma is missing"),
    ("{what: cell capacity, of: LR44, readings: [10], at_ma: 900}", "at_ma is 900"),
    ("{what: camera readout, of: camera, readings: [30]}", "pulse_hz is missing"),
    ("{what: camera readout, of: camra, readings: [30], pulse_hz: 2000}", "'camra' is not known"),
    ("{what: room light, of: rom, readings: [30]}", "'rom' is not known"),
    ("{what: seam gap, of: yrad, readings: [0.05]}", "'yrad' is not known"),
    ("{what: lip lap, of: yrad, readings: [2]}", "'yrad' is not known"),
    ("{what: post gap, of: mast, readings: [0.05]}", "'mast' is not known"),
    ("{what: post root, of: yrad, readings: [0.5]}", "'yrad' is not known"),
    ("{what: post paint, of: yrad, readings: [5], against: [1]}", "'yrad' is not known"),
    ("{what: post paint, of: yard, readings: [1], against: [5]}", "are 0.2 times those over the painted wall"),
    ("{what: adapter volts, of: adapter, readings: [5.1]}", "printed_v is missing"),
    ("{what: adapter volts, of: adaptor, printed_v: 5, readings: [5.1]}", "'adaptor' is not known"),
    ("{what: adapter volts, of: adapter, printed_v: 5, readings: [230]}", "readings hold 230 V"),
    ("{what: adapter volts, of: adapter, printed_v: 5, readings: [5.1], against: [5]}", "at_ma is missing"),
    ("{what: adapter volts, of: adapter, printed_v: 5, readings: [5.1], at_ma: 100}", "against is missing"),
    ("{what: adapter volts, of: adapter, printed_v: 5, readings: [5], against: [5.1], at_ma: 100}", "a fall of -0.1 V"),
    ("{what: hole play, of: hole, readings: [0.05]}", "'hole' is not known"),
    ("{what: cell resistance, of: AA, readings: [1.6], against: [1.5], at_ma: 150}", "a drop of -0.1 V"),
    ("{what: cell resistance, of: AA, readings: [1.598], against: [1.6], at_ma: 15}", "a drop of 0.002 V"),
    ("{what: cell resistance, of: AA, readings: [1.5], against: [1.6]}", "at_ma is missing"),
    ("{what: bank energy, of: power bank, readings: [12000], at_ma: 150, printed_mah: 5000}", "times what is printed"),
    ("{what: bank energy, of: power bank, readings: [20], at_ma: 150}", "printed_mah is missing"),
    ("{what: bank load, of: power bank, readings: [40], against: [50]}", "at which it went off"),
    ("{what: bank load, of: bank, readings: [50], against: [40]}", "'bank' is not known"),
    ("{what: feed power, of: nigth, readings: [3]}", "'nigth' is not known"),
)


@pytest.mark.parametrize(("one", "says"), WRONG, ids=[says for _, says in WRONG])
def test_what_cannot_be_is_told_at_its_line(one: str, says: str) -> None:
    with pytest.raises(DocumentProblem) as told:
        parse_plan(f"{TAILS}measured:\n  - {one}\n", "plan.yaml", PACKAGED)
    assert any(says in problem.found and problem.line > 0 for problem in told.value.problems)


TWO = TAILS.replace("rows:", """lamps:
  - {name: far, part: yard, at_mm: [20, 40], colour: warm white, model_mm: 0.5, states: [night],
     source: {kind: fibre, fibre_mm: 0.5, led: "LED"}}
rows:""".replace("LED", LED))


def test_a_lamps_reading_counts_what_it_tells_of_its_sisters() -> None:
    """Sisters on its bundle are within 1.4 times of it, so all seven narrow, not the one that is read."""
    made = designed(TAILS)
    [reading] = [row for row in readings_of(made) if row.method == "lamp"]
    read = designed(TAILS + entry("lamp", made, reading))

    def stops(one: Design) -> float:
        return sum(stops_of(row.likely_cd) for row in one.light.lamps)

    assert reading.touched == 7
    assert reading.stops == pytest.approx(stops(made) - stops(read), rel=0.1)
    alone = stops_of(reading.best.likely_before) - stops_of(Range(0.75, 1.0, 1.25))
    assert reading.stops > 4 * alone


def test_of_a_bundle_whose_middle_tail_differs_each_tail_counts_by_its_own_light() -> None:
    """Over a face narrower than the bundle the middle tail's light is a narrower range than that of those at its rim."""
    row = ROW.replace(LED, "3 mm warm white, flat top 100 deg").replace("_mm: 0.5", "_mm: 0.75")
    made = designed(yard(row))
    [reading] = [row for row in every_reading(made) if row.method == "lamp"]
    read = designed(yard(row) + entry("lamp", made, reading))
    outer = [stops_of(row.intensity_cd) for row in made.light.lamps]
    assert max(outer) > 1.04 * min(outer)
    stops = [[stops_of(row.likely_cd) for row in one.light.lamps] for one in (made, read)]
    assert reading.touched == 7
    assert reading.stops == pytest.approx(sum(stops[0]) - sum(stops[1]), rel=0.01)


def test_of_lamps_that_share_a_bag_one_is_asked_for() -> None:
    lamps = [row for row in every_reading(designed(TWO)) if row.method == "lamp"]
    assert len(lamps) == 1 and lamps[0].touched == 8


UNUSED = (
    ("bundle width, of: 0.5 mm fibre, readings: [2.6], count: 19", "Bundles of 19 fibres"),
    ("bundle width, of: 0.75 mm fibre, readings: [2.1], count: 7", "Bundles of 7 fibres"),
    ("seam gap, of: yard, readings: [0.05]", "none that is open"),
    ("lip lap, of: yard, readings: [2]", "it has none"),
    ("post gap, of: yard, readings: [0.05]", "no light shows there"),
    ("post root, of: yard, readings: [0.5]", "no light shows there"),
    ("post paint, of: yard, readings: [5], against: [1]", "no light shows there"),
    ("adapter volts, of: adapter, printed_v: 12, readings: [12.3]", "'adapter of 12 V' were read"),
    ("adapter volts, of: power bank, printed_v: 5, readings: [5.1]", "'power bank of 5 V' were read"),
    ("cell capacity, of: AA, readings: [20], at_ma: 100", "not fed by it"),
    ("cell resistance, of: AA, readings: [1.5], against: [1.6], at_ma: 150", "not fed by it"),
    ("bank energy, of: power bank, readings: [20], at_ma: 150, printed_mah: 4000", "power bank of 4000 mAh"),
    ("bank load, of: power bank, readings: [50], against: [40]", "power bank was read"),
    ("pulse rate, of: controller, readings: [1000]", "nothing here is dimmed"),
    ("camera readout, of: camera, readings: [30], pulse_hz: 2000", "nothing here is dimmed"),
)


@pytest.mark.parametrize(("one", "says"), UNUSED, ids=[one.partition(",")[0] + says for one, says in UNUSED])
def test_a_reading_that_changes_nothing_is_told(one: str, says: str) -> None:
    found = RULE.look(designed(f"{TAILS}measured: [{{what: {one}}}]\n"))
    assert [says in row.says for row in found] == [True]


def test_readings_of_what_the_build_has_are_not_told() -> None:
    for what in ("bundle width", "cell capacity", "pulse rate", "camera readout", "feed power", "lamp", "room light"):
        made, reading = before(what)
        assert RULE.look(designed(PLANS[what] + entry(what, made, reading))) == ()


def test_what_a_bundle_comes_to_is_told_closely_enough() -> None:
    made, reading = before("bundle width")
    mm = reading.now.typical * made.loom.bundles[0].ideal_mm
    three = entry("bundle width", made, reading).replace("readings: [", f"readings: [{mm}, {mm}, ")
    [(_, _, [comes])] = taken_words(designed(TAILS + three))
    assert comes == "Bundles tied by hand (0.5 mm fibre, 2 to 7 fibres): width over the ideal one: 0.995 to 1.04"  # derived: 1.015 either way 2 %


def test_a_bank_tried_far_from_its_least_load_is_known_no_worse_than_any_bank() -> None:
    for stays, off_at, ends in ((6600, 54, (52.38, 100)), (66, 0.05, (30, 67.98)), (66, 54, (52.38, 67.98))):
        one = Measured(what="bank load", of="power bank", readings=(stays,), against=(off_at,))
        [found] = found_by(PACKAGED, one)
        assert (found.value.low, found.value.high) == pytest.approx(ends, abs=1e-6)  # derived: 3 % off, any bank 30 to 100
    [far] = found_by(PACKAGED, replace(one, readings=(900.0,), against=(700.0,)))
    assert far.value.low > 600


def test_a_resistor_that_a_common_one_would_not_bear_is_told_with_its_rating() -> None:
    """A quarter of a watt is what common resistors bear: 5 V across less than 100 ohm is more (derived: V^2 / R)."""
    how = next(row["how"] for row in rows("bench_methods") if row["what"] == "bank load")
    ohms = [float(word) for word in re.findall(r"\b(\d+)(?=,| and \d+ ohm| ohm)", how.partition("two minutes each: ")[2].partition(" take")[0])]
    over = [ohm for ohm in ohms if 5.0**2 / ohm > 0.25]
    assert len(ohms) == 5 and len(over) == 2 and "the first two of 1 W or more" in how


def test_an_led_that_is_read_at_its_own_current_leaves_nothing_to_guess_of_how_light_goes_with_current() -> None:
    """And that is foretold: the reading at the current of its data sheet leaves more."""
    made, reading = before("led intensity")
    led, at_ma = made.drawer.led(reading.row), float(dict(reading.usual)["at_ma"])
    lit = made.power.states[0].lit[0]
    assert at_ma == pytest.approx(1000 * lit.current_a.typical, rel=0.05) and at_ma < 0.8 * led.test_ma
    assert lit.lit_typical_a.high > 1.05 * lit.lit_typical_a.low
    line = entry("led intensity", made, reading)
    middle = reading.now.typical / 1000 / 0.2**2
    rated = re.sub(r"readings: \[[^]]*\]", f"readings: [{middle}]", line).replace(f"at_ma: {at_ma}", f"at_ma: {led.test_ma}")
    own, far = (designed(PLANS["led intensity"] + text) for text in (line, rated))
    now = own.power.states[0].lit[0].lit_typical_a
    assert now.high / now.low == pytest.approx(1.0, abs=0.01)  # to two digits of the current
    left = [stops_of(answers_of(one)[reading.most].ranked) for one in (own, far)]
    assert left[0] < left[1] - 0.02
    assert left[0] == pytest.approx(stops_of(reading.best.likely_after), rel=0.02)


@pytest.mark.parametrize("what", [what for _, what in METHODS if what in ("wall", "stray light", "post paint", "room light", *USUAL_GAPS)])
def test_what_no_lamps_own_light_hangs_on_leaves_it_as_it_is(what: str) -> None:
    """The ranking does not work lamps out anew for these; the design with the reading does, and finds the same."""
    made, reading = before(what)
    read = designed(PLANS[what] + entry(what, made, reading))
    assert made.light.lamps and read.light.lamps == made.light.lamps
