"""LEDs in series: which stand in a string, the loom, network, faults and words that follow, and the trade-off."""

from __future__ import annotations

import math

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.electric.fault import Fault
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.optics.led_light import light_laws
from rushlight.sheets import cut_list, parts, power
from rushlight.sheets.circuit import rungs_of
from rushlight.sheets.series import series_table, why_lines
from rushlight.stages.fault_known import known_faults
from rushlight.stages.fault_seen import Look, Probe
from rushlight.stages.fault_shows import foretold
from rushlight.stages.fault_words import fault_words
from rushlight.stages.series import cut_even

LAMPS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: day}}" for k in range(7)
)
SIX_AA = "supply: {kind: cells, cell: AA, in_series: 6, bay: bay}\n"
THREE_AA = "supply: {kind: cells, cell: AA, in_series: 3, bay: bay}\n"


def held(most: int, **more: str) -> str:
    return board(LAMPS, more=f'pinned: [{{of: A, choice: leds_in_series, value: "{most}"}}]\n', **more)


def test_on_an_adapter_each_led_has_its_own_resistor_and_one_held_is_the_same() -> None:
    made = designed(board(LAMPS))
    assert made.loom.strings == () and len(made.power.resistors) == 7
    assert designed(held(1)).loom == made.loom == made.first_loom


@pytest.mark.parametrize(("most", "lengths"), [(2, [2, 2, 1, 2]), (3, [2, 3, 2]), (4, [4, 3]), (12, [4, 3])])
def test_strings_are_as_held_as_even_as_can_be_and_never_longer_than_the_flat_supply_bears(most, lengths) -> None:
    loom = designed(held(most)).loom
    assert [len(row.emitters) for row in loom.strings] == [n for n in lengths if n > 1]
    links = [lead for lead in loom.leads if lead.net == "link"]
    assert len(links) == sum(n - 1 for n in lengths) and {lead.role for lead in links} == {"link"}
    assert len({lead.name for lead in loom.leads}) == len(loom.leads)


def test_a_supply_too_low_for_two_keeps_a_resistor_each_whatever_is_held() -> None:
    made = designed(held(4, supply=THREE_AA))
    assert made.loom.strings == () and len(made.power.resistors) == 7


def test_every_led_of_a_string_takes_one_current_and_the_supply_gives_it_once() -> None:
    made = designed(held(4))  # what the supply gives in all is asserted by designed()
    alone = designed(board(LAMPS))
    state = made.power.states[0]
    amps = {row.emitter: row.current_a.typical for row in state.lit}
    for string in made.loom.strings:
        assert len({round(amps[name], 9) for name in string.emitters}) == 1
    assert state.supply_a.typical < 0.3 * alone.power.states[0].supply_a.typical  # derived: two strings for seven
    assert len(made.power.resistors) == 2


def test_a_strings_resistor_leaves_the_aimed_current_to_all_its_leds() -> None:
    made = designed(held(4))
    law = law_spread(made.drawer.led(made.loom.emitters[0].part_row).law).typical
    for row in made.power.resistors:
        string = made.loom.string_of(row.emitter)
        assert string is not None
        aim = next(aim for aim in made.power.aims if aim.emitter == row.emitter)
        each = float(voltage_at_current(law, aim.aim_a)) - 0.002 * (aim.junction_c - 27)  # source: 2 mV/K, red
        # derived: Kirchhoff's voltage law on 12 V; supply, switch and wire take a few millivolts
        assert row.exact_ohm == pytest.approx((12.0 - len(string.emitters) * each) / aim.aim_a, rel=5e-3)


def test_only_like_leds_of_one_steady_circuit_and_part_stand_together() -> None:
    lamps = LAMPS.replace("red", "warm white", 1).replace("states: day", "states: day, rhythm: Fl 2s", 2)
    for string in designed(board(lamps, more='pinned: [{of: all, choice: leds_in_series, value: "3"}]\n')).loom.strings:
        assert "l0" not in string.emitters and "l1" not in string.emitters


def test_a_string_is_not_taken_for_voltage_lost_in_the_leads() -> None:
    assert all(row.key != "electric.volt-drop" for row in find(designed(held(4))))


def test_an_open_led_puts_out_its_string_and_no_other() -> None:
    bench = known_faults(designed(held(3)), exact=True)
    seen = foretold(bench, Fault("open", "l3 / 1"), Probe("look", "day"))
    assert isinstance(seen, Look) and seen.dark == {"l2", "l3", "l4"}


def test_faults_say_which_legs_a_link_joins_and_look_for_no_resistor_that_is_not_there() -> None:
    made = designed(held(3))
    link = next(lead.name for lead in made.loom.leads if lead.net == "link")
    assert "from the minus of l0 to the plus of l1" in fault_words(made, Fault("open", f"lead {link}"))
    assert "resistor" in fault_words(made, Fault("open", "l2 / 1"))
    assert "resistor" not in fault_words(made, Fault("open", "l3 / 1"))


def test_a_resistor_held_for_a_later_led_of_a_string_is_told_to_be_without_effect() -> None:
    pins = ('pinned: [{of: A, choice: leds_in_series, value: "3"}, {of: l0, choice: resistor_ohm, value: "3900"}, '
            '{of: l1, choice: resistor_ohm, value: "3900"}]\n')
    made = designed(board(LAMPS, more=pins))
    resistor = made.power.resistor("l0")
    assert resistor is not None and resistor.value_ohm == 3900
    told = [row.says for row in find(made) if row.key == "plan.pin-without-effect"]
    assert len(told) == 1 and "stands in series behind one that has the resistor" in told[0] and "'l1'" in told[0]


def test_the_order_of_work_names_each_string_where_it_is_soldered() -> None:
    step = next(step for step in designed(held(4)).order.steps if step.key == "solder")
    assert "A string 2: l4 - l5 - l6, each minus to the next one's plus" in step.details


def test_sheets_say_what_is_soldered_to_what() -> None:
    made = designed(held(4))
    ends = [row[:3] for row in cut_list.lead_table(made).rows if str(row[0]).startswith("A-")]
    assert ends[0] == ("A-1", "minus of lamp 1 l0", "plus of lamp 2 l1")
    rungs = [rung for circuit in made.circuits for rung in rungs_of(made, circuit)]
    assert sorted((rung.in_series, rung.branches) for rung in rungs) == [(3, 1), (4, 1)]
    said = [row[6] for row in parts.emitter_table(made, made.plan.parts[0]).rows]
    assert said[1] == "after l0" and str(said[0]).endswith("for 4 in series")


def test_a_shorted_led_leaves_more_current_to_the_others_of_its_string() -> None:
    bench = known_faults(designed(held(3)), exact=True)
    short = Fault("bridged", "l3+", other="l3-")
    seen = foretold(bench, short, Probe("look", "day"))
    assert isinstance(seen, Look) and seen.dark == {"l3"}
    across = foretold(bench, short, Probe("resistor", "day", plus="l2"))
    sound = foretold(bench, Fault("open", "l0 / 1"), Probe("resistor", "day", plus="l2"))
    assert isinstance(across, tuple) and isinstance(sound, tuple)
    assert across[0] > sound[1]  # the resistor takes on what the LED no longer does


# --- the rule -----------------------------------------------------------------------------------------------------

PAIRS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 20 * k}, 80], colour: red, model_mm: 3, states: day}}" for k in range(8)
)


def lengths(made: Design) -> list[int]:
    return [len(row.emitters) for row in made.loom.strings]


def best_why(made: Design) -> str:
    return next(row.why for row in made.series if row.best)


def test_on_cells_strings_are_taken_where_they_pay_and_all_says_so() -> None:
    made = designed(board(PAIRS, supply=SIX_AA))
    assert lengths(made) == [2, 2, 2, 2] and len(made.power.resistors) == 4
    assert [(row.in_series, row.best, row.built) for row in made.series] == [(1, False, False), (2, True, True)]
    alone, pairs = made.series
    assert pairs.mean_a < 0.75 * alone.mean_a and pairs.wire_mm < alone.wire_mm
    assert "less wire" in pairs.why and "one open joint then darkens 2 LEDs" in pairs.why
    assert made.first_loom is not None and made.first_loom.strings == ()


def test_what_was_weighed_is_what_is_built() -> None:
    """The row of the taken length holds the final loom's own wire, currents and run time."""
    made = designed(board(PAIRS, supply=SIX_AA))
    row = next(row for row in made.series if row.built)
    state = made.power.states[0]
    assert row.wire_mm == sum(lead.cut_mm for lead in made.loom.leads)
    assert (row.mean_a, row.run_h) == (state.mean_a, state.run_time_h.typical)
    alone = next(row for row in made.series if row.in_series == 1)
    single = designed(board(PAIRS, supply=SIX_AA, more='pinned: [{of: A, choice: leds_in_series, value: "1"}]\n'))
    assert alone.wire_mm == sum(lead.cut_mm for lead in single.loom.leads)
    assert alone.run_h == single.power.states[0].run_time_h.typical


def test_a_held_choice_overrules_the_rule_either_way() -> None:
    single = designed(board(PAIRS, supply=SIX_AA, more='pinned: [{of: all, choice: leds_in_series, value: "1"}]\n'))
    assert single.loom.strings == () and [row.built for row in single.series] == [True, False]
    assert [row.best for row in single.series] == [False, True]
    assert why_lines(single)[0].endswith("You hold a resistor each.")
    assert lengths(designed(held(2))) == [2, 2, 2]  # on an adapter, where the rule takes none


def test_what_is_held_is_weighed_and_said_also_where_the_rule_would_not_look() -> None:
    """Two dim LEDs that could not spare a twentieth, beside strong ones."""
    dim = "\n".join(f"{{name: d{k}, part: board, at_mm: [{20 + 20 * k}, 20], colour: yellow, model_mm: 3, states: day, "
                    "brightness: {intensity_mcd: 1}}" for k in range(2))
    text = board(f"{PAIRS}\n{dim}", supply=SIX_AA)
    plain = designed(text)
    row = next(row for row in plain.series if row.emitters == ("d0", "d1"))
    assert row.built and "no string could spare 5%" in row.why
    held_two = designed(text.replace("supply: ", 'pinned: [{of: A, choice: leds_in_series, value: "2"}]\nsupply: '))
    rows = [row for row in held_two.series if row.emitters == ("d0", "d1")]
    assert [(row.in_series, row.built) for row in rows] == [(1, False), (2, True)]
    assert any(line.endswith("You hold 2 in series.") for line in why_lines(held_two))


@pytest.mark.parametrize(("change", "why"), [
    (("states: day", "states: day, rule: masthead"), "signal lights by rule"),
    (("supply: ", "pinned: [{of: l3, choice: resistor_ohm, value: '2200'}]\nsupply: "), "a resistor is held"),
    (("in_series: 6", "in_series: 3"), "too little for their resistor"),
    (("cells, cell: AA, in_series: 6", "adapter, adapter_v: 12"), "does not run down"),
    (("supply: ", "practice: [{habit: series_dark, value: 0.2}]\nsupply: "), "would darken 25% of the LEDs"),
    (("supply: ", "practice: [{habit: series_apart, value: 15}]\nsupply: "), "20 mm apart; 15 mm is the most"),
    (("supply: ", "practice: [{habit: series_saves, value: 0.6}]\nsupply: "), "a string would save"),
    (("supply: ", "practice: [{habit: equal, value: 1.2}]\nsupply: "), "times the dimmest; 1.2 is the most"),
])
def test_each_reason_alone_keeps_a_resistor_each(change: tuple[str, str], why: str) -> None:
    made = designed(board(PAIRS, supply=SIX_AA).replace(*change))
    assert made.loom.strings == () and why in best_why(made)


def test_groups_that_pay_together_are_all_taken() -> None:
    second = PAIRS.replace("name: l", "name: y").replace("80]", "65]").replace("colour: red", "colour: yellow")
    text = board(f"{PAIRS}\n{second}", supply=SIX_AA, more="practice: [{habit: series_saves, value: 0.3}]\n")
    made = designed(text)
    best = [row for row in made.series if row.best]
    assert [row.in_series for row in best] == [2, 2] and lengths(made) == [2] * 8
    assert all("2 groups in series together save" in row.why for row in best)
    alone = next(row for row in made.series if row.in_series == 1)
    assert all(0.05 < 1 - row.mean_a / alone.mean_a < 0.3 for row in best)
    assert made.power.states[0].mean_a < 0.7 * alone.mean_a


def test_a_string_that_does_not_pay_by_share_is_taken_where_the_asked_time_needs_it() -> None:
    high = "practice: [{habit: series_saves, value: 0.6}]\n"
    single = designed(board(PAIRS, supply=SIX_AA, more=high))
    hours = single.power.states[0].run_time_h.typical
    for times, strings in ((0.9, 0), (1.2, 4)):
        asked = SIX_AA.replace("bay: bay", f"bay: bay, run_h: {times * hours:.0f}")
        made = designed(board(PAIRS, supply=asked, more=high))
        assert len(made.loom.strings) == strings
        assert ("is to run" in best_why(made)) == bool(strings)


def test_a_circuit_with_a_rhythm_is_strung_where_its_feed_makes_it_and_not_where_its_leds_do() -> None:
    lamps = PAIRS.replace("states: day", "states: day, rhythm: Iso 2s")
    more = "rhythms: [{rhythm: Iso 2s, by: %s}]\npractice: [{habit: equal, value: 2}]\n"
    fed = designed(board(lamps, supply=SIX_AA, more=more % "flasher"))
    assert lengths(fed) == [2, 2, 2, 2]
    assert all(row.on_share == pytest.approx(0.5) for row in fed.power.states[0].lit)
    assert designed(board(lamps, supply=SIX_AA, more=more % "self-timed led")).series == ()


def test_the_worst_case_holds_every_led_at_either_end_of_its_spread_and_its_resistor_off_by_its_tolerance() -> None:
    """Kirchhoff by halving for one string: LEDs all low or all high, resistor 5 % under or over, the flat supply."""
    made = designed(board(PAIRS, supply=SIX_AA))
    row = next(row for row in made.series if row.built)
    spread = law_spread(made.drawer.led(made.loom.emitters[0].part_row).law)
    resistor, supply = made.power.resistors[0], made.power.supply
    assert supply is not None
    low = through(supply.flat_v, 2, spread.high, 1.05 * resistor.value_ohm)
    high = through(supply.flat_v, 2, spread.low, 0.95 * resistor.value_ohm)
    led, aim = made.drawer.led(made.loom.emitters[0].part_row), made.loom.emitters[0].aim_current_a
    kept, match = (light_laws(led.law).usual.times(*(1000 * amps / led.test_ma for amps in pair))
                   for pair in ((low, aim), (high, low)))
    # derived: without the cells' and the leads' resistance; the stated bound on the resistor lies a little wider
    assert row.flat_share == pytest.approx(kept, rel=0.04) and row.flat_share <= kept * 1.007
    assert row.match == pytest.approx(match, rel=0.04) and row.match >= match * 0.98
    assert abs(kept - low / aim) > 0.05 * kept  # light is not the current


# --- the trade-off ------------------------------------------------------------------------------------------------


def test_the_trade_off_is_kirchhoffs_law_for_every_length() -> None:
    made = designed(board(LAMPS))
    assert [row.in_series for row in made.series] == [1, 2, 3, 4]
    law = law_spread(made.drawer.led(made.loom.emitters[0].part_row).law).typical
    supply = made.power.supply
    assert supply is not None
    aim_a = made.loom.emitters[0].aim_current_a
    for row in made.series:
        pieces = [len(piece) for piece in cut_even(made.loom.emitters, row.in_series)]
        total = sum(loop_a(supply.nominal_v - 4.0 * row.supply_a, n, law, aim_a) for n in pieces)
        assert row.supply_a == pytest.approx(total, rel=0.01)  # derived: supply, fuse (3.5) and leads at 4 ohm
        assert row.resistors == len(pieces)


def loop_a(volts: float, count: int, law, aim_a: float) -> float:
    """Current of LEDs with the next E24 value in one loop, by halving."""
    from rushlight.electric.resistor import value_not_below

    return through(volts, count, law, value_not_below((volts - count * float(voltage_at_current(law, aim_a))) / aim_a))


def through(volts: float, count: int, law, ohm: float) -> float:
    """Current of LEDs with a resistor in one loop, by halving."""
    low, high = 1e-9, 0.1
    for _ in range(100):
        middle = math.sqrt(low * high)
        over = count * float(voltage_at_current(law, middle)) + ohm * middle > volts
        low, high = (low, middle) if over else (middle, high)
    return low


def test_no_longer_string_is_weighed_than_the_flat_supply_bears() -> None:
    made = designed(board(PAIRS, supply=SIX_AA))
    supply, rows = made.power.supply, made.series
    assert supply is not None
    high_v = (rows[0].left_v - rows[1].left_v)
    assert rows[1].left_v >= 0.2 * supply.flat_v  # source: habit series_headroom, common practice
    assert supply.flat_v - 3 * high_v < 0.2 * supply.flat_v and len(rows) == 2


def test_half_the_current_lasts_at_least_as_much_longer() -> None:
    alone, pairs = designed(board(PAIRS, supply=SIX_AA)).series
    # derived: cells give no less charge at a lower current, so hours go at least against it
    assert pairs.run_h / alone.run_h > 0.98 * alone.mean_a / pairs.mean_a
    assert all(math.isinf(row.run_h) for row in designed(board(LAMPS)).series)


def test_the_table_tells_and_a_risk_is_offered_until_a_choice_is_held() -> None:
    made = designed(board(PAIRS, supply=SIX_AA))
    table = series_table(made)
    assert [row[2] for row in table.rows] == [1, 2] and [row[-1] for row in table.rows] == ["", "planned"]
    assert table in power.draw(made)[0].blocks
    assert why_lines(made)[0].startswith("Circuit A, l0 to 7: 2 in series, as it saves ")
    assert all(row.key != "electric.series-saves" for row in find(made))
    four = "\n".join(PAIRS.splitlines()[:4])
    risky = designed(board(four, supply=SIX_AA))
    assert [row.offered for row in risky.series] == [False, True] and risky.loom.strings == ()
    assert any(row.key == "electric.series-saves" for row in find(risky))
    for most in (1, 2):
        pin = f'pinned: [{{of: A, choice: leds_in_series, value: "{most}"}}]\n'
        assert all(row.key != "electric.series-saves" for row in find(designed(board(four, supply=SIX_AA, more=pin))))
    assert PACKAGED.habit("series_headroom").high == 0.8


def regulated(count: int, leds: str = "1") -> str:
    """Red LEDs on regulators of 20 mA and so many cells; `leds` the most that is held in series."""
    lamps = "\n".join(f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: day}}"
                      for k in range(4))
    pins = [("regulator", "linear regulator 20 mA"), ("current_ma", "20"), ("leds_in_series", leds)]
    held = ", ".join(f'{{of: A, choice: {choice}, value: "{value}"}}' for choice, value in pins)
    return board(lamps, more=f"pinned: [{held}]\n",
                 supply=f"supply: {{kind: cells, cell: AA, in_series: {count}, bay: bay}}\n")


@pytest.mark.parametrize("cells", [4, 5, 6, 7, 8, 10])
def test_a_regulator_leaves_the_leds_all_but_its_drop_out(cells: int) -> None:
    made = designed(regulated(cells, leds="12"))
    supply, row = made.power.supply, made.power.regulators[0]
    each = float(voltage_at_current(law_spread("red").high, 0.020))
    longest = max((len(string.emitters) for string in made.loom.strings), default=1)
    # derived: the flat supply less the voltage under which the part gives less than nine tenths of its current
    bears = int((supply.flat_v - row.drop_out_v) / each)
    assert cells != 5 or bears < int(0.8 * supply.flat_v / each)  # here the two rules part
    evenly = [n for n in range(1, 5) if -(-4 // -(-4 // n)) == n]
    assert longest == max(n for n in evenly if n <= max(bears, 1))
    with_resistors = designed(regulated(cells, leds="12").replace("linear regulator 20 mA", "none"))
    by_share = int(0.8 * supply.flat_v / each)
    assert max((len(s.emitters) for s in with_resistors.loom.strings), default=1) == max(
        n for n in evenly if n <= max(by_share, 1))


def test_the_words_name_the_regulator_where_one_is_held() -> None:
    made = designed(regulated(8))
    assert {row.by for row in made.series} == {"regulator"}
    words = " ".join(why_lines(made)) + str(series_table(made))
    assert "a resistor each" not in words.lower() and "4 regulators" in words
    assert series_table(made).title == "A regulator each, or LEDs in series"
    assert "4 resistors" in str(series_table(designed(regulated(8).replace("linear regulator 20 mA", "none"))))
