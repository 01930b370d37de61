"""Parts at hand: the switch and the nearest regulator are chosen among them, and shopping leaves them out."""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.errors import DocumentProblem
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.sheets import circuit as circuit_sheet
from rushlight.sheets import cut_list
from rushlight.sheets import power as power_sheet
from rushlight.stages.gates import regulator_tests
from rushlight.stages.led_trial import led_trials

LAMPS = "\n".join(f"{{name: {name}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: {states}}}"
                  for k, (name, states) in enumerate({"masthead": "[sail, steam]", "stern": "[sail]", "deck": "[port, steam]",
                                                      "cabin": "[port]"}.items()))
STATES = "[{name: day}, {name: night}]"
FOUR = "[{name: sail}, {name: steam}, {name: port}]"


def boat(at_hand: str = "", more: str = ""):
    held = f"at_hand: [{at_hand}]\n" if at_hand else ""
    return designed(board(LAMPS, more=held + more).replace(STATES, FOUR))


def trouble(made):
    return next((row for row in find(made) if row.key == "electric.switch-not-at-hand"), None)


def bought(made, group: str) -> dict[str, int]:
    return {line.name: line.packs for line in made.shopping.lines if line.group == group}


def test_the_switch_at_hand_is_taken_even_where_the_drawer_has_a_simpler_one():
    free, made = boat(), boat("{table: switches, row: rotary 3P4T}")
    assert free.power.switch.part_row != "rotary 3P4T" == made.power.switch.part_row
    assert made.power.switch.proved and trouble(made) is None and not made.power.states[0].lit_wrongly
    assert bought(made, "switch")["rotary 3P4T"] == 0 and bought(free, "switch")[free.power.switch.part_row] == 1


def test_what_is_missing_is_said_with_the_state_to_leave_out_and_what_to_buy():
    made = boat("{table: switches, row: slide 2P2T}")
    short, found = made.power.switch.short, trouble(made)
    assert short.states_out == ("steam",)  # derived: without it every lamp still burns in some state
    assert short.by == "slide 2P2T" and short.lamps_out == ()
    assert "3 states take 3 throws, and the most at hand is 2" in found.says
    assert made.power.switch.part_row in found.cure and "the state 'steam'" in found.cure
    text = str(power_sheet.draw(made))
    assert "What is at hand does not do it" in text and "To buy: 1 x" in text


def test_on_off_switches_count_by_their_pieces_and_name_the_lamp_that_is_too_many():
    each = boat("{table: switches, row: 'rocker 1P1T, on-off', count: 4}")  # derived: four sets of lamps
    assert trouble(each) is None and each.power.switch.parts == ("rocker 1P1T, on-off",) * 4
    few = boat("{table: switches, row: 'rocker 1P1T, on-off', count: 3}")
    assert few.power.switch.short.lamps_out == ("masthead",) and few.power.switch.short.lamps_by == "3 on-off switches"
    assert "leave out masthead" in trouble(few).cure


def test_contacts_that_bear_too_little_are_not_at_hand():
    own = "drawer: [{table: switches, row: rotary 3P4T, column: contact_a, value: 0.005}]\n"
    made = boat("{table: switches, row: rotary 3P4T}", own)
    assert "bears the" in made.power.switch.short.why and made.power.switch.part_row != "rotary 3P4T"


def test_the_nearest_regulator_is_sought_at_hand_and_the_finding_says_what_to_buy():
    pins = 'pinned: [{of: all, choice: regulator, value: nearest}, {of: A, choice: current_ma, value: "20"}, {of: B, choice: current_ma, value: "20"}, {of: C, choice: current_ma, value: "20"}, {of: D, choice: current_ma, value: "20"}]\n'
    free, own = boat(more=pins), boat("{table: regulators, row: linear regulator 30 mA, count: 10}", pins)
    assert {row.part for row in free.power.regulators} == {"linear regulator 20 mA"}
    assert {row.part for row in own.power.regulators} == {"linear regulator 30 mA"}
    assert {row.part for row in own.power.feeds if row.kind == "regulator"} == {"linear regulator 30 mA"}
    cure = next(row.cure for row in find(own) if row.key == "electric.regulator-current")
    assert cure.startswith("Nothing at hand comes nearer: buy 1 x linear regulator 20 mA, 20 mA")
    assert bought(own, "regulators") == {"linear regulator 30 mA": 0}


def test_a_row_that_the_drawer_lacks_is_refused_with_the_nearest():
    with pytest.raises(DocumentProblem, match="Did you mean 'slide 2P2T'"):
        boat("{table: switches, row: slide 2P22T}")


def test_where_all_burn_in_every_state_no_switch_is_missed():
    made = designed(board(LAMPS.replace("[sail, steam]", "day").replace("[sail]", "day").replace("[port, steam]", "day")
                          .replace("[port]", "day")).replace(STATES, "[{name: day}]"))
    assert made.power.switch.part_row is None and made.power.switch.proved
    assert not {row.key for row in find(made)} & {"electric.no-switch", "electric.switch-not-at-hand"}


ONE = "{name: flame, part: board, at_mm: [20, 80], colour: red, model_mm: 3, states: [lit]}"
LATCHING, NEAR = "{table: switches, row: 'reed 1P1T, latching'}", "{table: switches, row: 'reed 1P1T, closed by a magnet'}"


def lit(at_hand: str, more: str = ""):
    held = f"at_hand: [{at_hand}]\n" if at_hand else ""
    return designed(board(ONE, more=held + more).replace(STATES, "[{name: lit}]"))


def test_a_reed_at_hand_is_the_on_off_switch_and_its_magnet_is_told():
    made = lit(LATCHING)
    assert made.power.switch.parts == ("reed 1P1T, latching",) and made.power.switch.short is None
    text = str(power_sheet.draw(made))
    assert "worked by a magnet" in text and "the other opens it" in text
    assert "only while the magnet is near" in str(power_sheet.draw(lit(NEAR)))
    assert bought(made, "switch").get("reed 1P1T, latching", 0) == 0


def test_a_reed_is_never_taken_unasked_nor_before_a_switch_that_a_finger_works():
    for at_hand in ("", f"{LATCHING}, {{table: switches, row: 'toggle 1P1T, on-off'}}"):
        made = lit(at_hand)
        assert not any("reed" in part for part in made.power.switch.parts)
        assert "magnet" not in str(power_sheet.draw(made))


def test_reeds_feed_one_set_of_lamps_each():
    made = boat("{table: switches, row: 'reed 1P1T, latching', count: 4}")  # derived: four sets of lamps
    assert made.power.switch.parts == ("reed 1P1T, latching",) * 4 and made.power.switch.proved


def test_a_reed_that_bears_too_little_is_told():
    made = lit(LATCHING, "drawer: [{table: switches, row: 'reed 1P1T, latching', column: contact_a, value: 0.001}]\n")
    assert any(row.key == "electric.contact-over-rating" and row.item == "reed 1P1T, latching" for row in find(made))
    assert not any(row.key == "electric.contact-over-rating" for row in find(lit(LATCHING)))


OVER = "{table: switches, row: 'reed 1P2T, latching changeover'}"
TWO = "\n".join(f"{{name: {name}, part: board, at_mm: [{30 + 40 * k}, 80], colour: red, model_mm: 3, states: {states}}}"
                for k, (name, states) in enumerate({"a": "day", "b": "night"}.items()))


def test_a_latching_changeover_reed_at_hand_brings_up_two_states():
    made = designed(board(TWO, more=f"at_hand: [{OVER}]\n"))
    switch = made.power.switch
    assert switch.part_row == "reed 1P2T, latching changeover" and switch.proved and switch.short is None
    assert [(row.terminal, row.to) for row in switch.solder][2:] == [
        ("C", "master switch, terminal 2"), ("1", "feed of A"), ("2", "feed of B")]
    assert not any(state.lit_wrongly or state.dark_wrongly for state in made.power.states)
    text = str(power_sheet.draw(made))
    assert "One pole of the magnet brings it over to contact 1, the other to contact 2" in text
    assert bought(made, "switch")[switch.part_row] == 0


def test_it_is_taken_from_a_drawer_only_behind_a_switch_that_a_finger_works():
    """Unasked a slide is taken; where only a plain reed is at hand, two states are too much for it as a changeover."""
    assert designed(board(TWO)).power.switch.part_row != "reed 1P2T, latching changeover"
    both = designed(board(TWO, more=f"at_hand: [{OVER}, {{table: switches, row: slide 1P2T}}]\n"))
    assert both.power.switch.part_row == "slide 1P2T"
    near = designed(board(TWO, more=f"at_hand: [{NEAR}]\n"))
    assert near.power.switch.short is not None


def test_a_changeover_reed_that_bears_too_little_does_not_count():
    few = "drawer: [{table: switches, row: 'reed 1P2T, latching changeover', column: contact_a, value: 0.001}]\n"
    made = designed(board(TWO, more=f"at_hand: [{OVER}]\n" + few))
    assert made.power.switch.short is not None


def test_a_button_at_hand_is_no_switch():
    made = designed(board(TWO, more="at_hand: [{table: switches, row: 'button 1P1T, closed while pressed'}]\n"))
    assert made.power.switch.short is None and made.power.switch.part_row == designed(board(TWO)).power.switch.part_row


@pytest.mark.parametrize(("row", "values", "tolerance"), [
    ("axial 0.25 W, E6 5 %", {10, 15, 22, 33, 47, 68}, 0.05),
    ("axial 0.25 W, E12 10 %", {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}, 0.1),
])
def test_values_come_from_the_series_at_hand_and_nothing_is_to_buy(row, values, tolerance):
    """The values: IEC 60063, from memory. Never more current than aimed at."""
    made = boat(f"{{table: resistors, row: '{row}'}}")
    assert made.power.resistors
    for one in made.power.resistors:
        assert one.size == row and one.value_ohm >= one.exact_ohm
        assert round(one.value_ohm / 10 ** math.floor(math.log10(one.value_ohm) - 1)) in values
    assert next(part.tolerance for part in made.drawer.resistors if part.name == row) == tolerance
    assert not any(packs for name, packs in bought(made, "resistors").items())
    assert any(packs for packs in bought(boat(), "resistors").values())


def test_a_finer_series_comes_nearer_and_of_several_at_hand_the_nearest_counts():
    over = {row: max(one.value_ohm / one.exact_ohm for one in boat(f"{{table: resistors, row: '{row}'}}").power.resistors)
            for row in ("axial 0.25 W, E6 5 %", "axial 0.25 W, E96 1 %")}
    assert over["axial 0.25 W, E96 1 %"] < 1.03  # derived: E96 steps by 2.4 %
    both = boat("{table: resistors, row: 'axial 0.25 W, E6 5 %'}, {table: resistors, row: 'axial 0.25 W, E96 1 %'}")
    assert max(one.value_ohm / one.exact_ohm for one in both.power.resistors) == pytest.approx(
        over["axial 0.25 W, E96 1 %"])
    assert {one.series for one in both.power.resistors} <= {"E6", "E96"}


HELD = 'pinned: [{of: flame, choice: led, value: "3 mm red, diffused"}, {of: flame, choice: current_ma, value: "5"}]\n'


def one_lamp(at_hand: str):
    """Some 2020 ohm are asked for, 2.2 kohm of E24."""
    return lit(at_hand, HELD)


def coarse(made):
    return [row for row in find(made) if row.key == "electric.resistor-coarse"]


def test_single_values_at_hand_are_taken_and_not_bought():
    made = one_lamp("{table: resistors, values_ohm: [100, 2k2, 10k]}")
    one = made.power.resistor("flame")
    assert one.value_ohm == 2200 >= one.exact_ohm and one.size == "axial 0.25 W, E24 5 %" and not coarse(made)
    assert bought(made, "resistors") == {"2.2 kohm, axial 0.25 W, E24 5 %": 0}


def test_a_rating_comes_with_the_row_and_an_assortment_beside_it_has_its_whole_series():
    held = "{table: resistors, row: 'axial 0.5 W, E24 5 %', values_ohm: [2300]}"  # 2300 is no value of E24
    assert one_lamp(held).power.resistor("flame").size == "axial 0.5 W, E24 5 %"
    both = one_lamp(f"{held}, {{table: resistors, row: 'axial 0.25 W, E96 1 %'}}").power.resistor("flame")
    assert both.size == "axial 0.25 W, E96 1 %" and both.value_ohm < 1.03 * both.exact_ohm  # derived: steps of 2.4 %


def test_a_dimming_value_at_hand_is_taken_and_told():
    made = one_lamp("{table: resistors, values_ohm: [3k3]}")  # derived: under twice the 2020 asked for
    assert made.power.resistor("flame").value_ohm == 3300 and bought(made, "resistors")["3.3 kohm, axial 0.25 W, E24 5 %"] == 0
    assert coarse(made)[0].cure == "Buy 2200 ohm of E24."  # derived: 3.3 kohm twice is 1650 or 6600 ohm
    assert "the next value at hand, 3300 ohm" in coarse(made)[0].says
    lamp = made.power.states[0].lit[0]
    assert lamp.current_a.typical < 0.75 * 5e-3  # derived: 2020 / 3300 of the aim, and a little more, since the LED drops less


def test_where_none_is_near_enough_the_value_is_bought_and_the_finding_says_so():
    made = one_lamp("{table: resistors, values_ohm: [1k, 10k]}")
    assert made.power.resistor("flame").value_ohm == 2200 and bought(made, "resistors")["2.2 kohm, axial 0.25 W, E24 5 %"] == 1
    (found,) = coarse(made)
    assert "1000 ohm would let too much through" in found.says and "leave it under half of its light" in found.says
    assert found.cure.startswith("Buy 2200 ohm")
    assert bought(one_lamp("{table: resistors, values_ohm: [100]}"), "resistors")["2.2 kohm, axial 0.25 W, E24 5 %"] == 1


def test_the_feed_the_regulators_test_and_the_led_trial_take_what_is_at_hand():
    pins = 'pinned: [{of: all, choice: regulator, value: linear regulator 20 mA}]\n'
    for values in ("[100, 680, 1k, 2k2, 3k3, 10k]", "[1k1, 3k9]"):
        made = lit(f"{{table: resistors, values_ohm: {values}}}")
        held = set(made.plan.at_hand[0].values_ohm)
        assert {ohm for trial in led_trials(made) for ohm in trial.resistors_ohm} <= held
    tests = [regulator_tests(lit(f"{{table: resistors, row: '{row}'}}", pins))["linear regulator 20 mA"].resistor_ohm
             for row in ("axial 0.25 W, E24 5 %", "axial 0.25 W, E6 5 %", "axial 0.25 W, E12 10 %")]
    digits = [round(ohm / 10 ** math.floor(math.log10(ohm) - 1)) for ohm in tests]
    # source: IEC 60063, from memory
    assert digits[1] in {10, 15, 22, 33, 47, 68} and digits[2] in {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}
    fine, rough = (lit(f"{{table: resistors, row: 'axial 0.25 W, {series}'}}").power.feeds[0].current_a.typical
                   for series in ("E24 5 %", "E6 5 %"))
    assert rough <= fine


@pytest.mark.parametrize(("held", "said"), [
    ("{table: resistors, values_ohm: [-5]}", "values_ohm is '-5'; expected a resistance"),
    ("{table: resistors, values_ohm: [few]}", "values_ohm is 'few'"),
    ("{table: resistors, values_ohm: ['4,7k']}", "a number with a comma; expected a decimal point"),
    ("{table: resistors, values_ohm: [470m]}", "values_ohm is '470m'"),
    ("{table: resistors, values_ohm: []}", "values_ohm is a list of 0"),
    ("{table: resistors}", "row is left out; expected a row of the drawer's resistors, or values_ohm"),
    ("{table: switches}", "row is left out; expected a row of the drawer's switches"),
    ("{table: switches, row: slide 2P2T, values_ohm: [1]}", "values_ohm stands with table switches"),
])
def test_values_that_are_none_are_told(held, said):
    with pytest.raises(DocumentProblem) as told:
        lit(held)
    assert said in str(told.value)


def told_of(values: str) -> list:
    with pytest.raises(DocumentProblem) as told:
        lit(f"{{table: resistors, values_ohm: {values}}}")
    return list(told.value.problems)


def test_every_value_that_is_none_is_told_with_its_place_and_the_nearest():
    values = "[100, few, '4,7k', 2k2, 1e9, 4k7k]"
    told = told_of(values)
    assert [problem.found.partition(" is ")[2].split(",")[0] for problem in told] == ["'few'", "'4", "'1e9'", "'4k7k'"]
    assert [problem.nearest for problem in told] == [None, "4.7k", "10M", "4k7"]
    starts = [values.index(word) for word in ("few", "'4,7k'", "1e9", "4k7k")]
    assert [problem.column - told[0].column for problem in told] == [at - starts[0] for at in starts]
    one = "a resistance from 0.1 to 10 000 000 ohm"
    assert told[0].expected == f"{one}, such as 470, 4k7 or 4.7 kohm" and told[2].expected == one
    assert "a decimal point" in told[1].expected


@pytest.mark.parametrize(("written", "meant"), [
    ("-5", "5"), ("'−5'", "5"), ("0.01", "0.1"), ("0", "0.1"), ("'4,700'", "4700"), ("'4,7 kohm'", "4.7 kohm"),
    ("47O", "470"), ("l0k", "10k"), ("470m", "0.47"), ("1m", "1M"), ("1 Mohm", "1M"), ("10 kohn", "10 kohm"),
    ("4k7 ohm", "4k7"), ("4k7Z", "4k7"), ("5 V", None), ("3 mm", None), ("nan", None), ("''", None), ("[3]", None),
])
def test_the_nearest_resistance_is_told_where_there_is_one(written, meant):
    (problem,) = told_of(f"[{written}]")
    assert problem.nearest == meant and problem.expected.startswith(("a resistance from 0.1", "a decimal point"))


@pytest.mark.parametrize(("written", "meant"), [("470", "[470]"), ("'470, 4k7'", "[470, 4k7]"), ("few", None)])
def test_values_without_brackets_are_shown_with_them(written, meant):
    (problem,) = told_of(written)
    assert problem.nearest == meant and problem.expected.startswith("a list of 1 to 200 numbers in ohm")


@pytest.mark.parametrize("written", ["4k7", "4K7J", "4.7k", "4.7 kohm", "4700", "'4.7 kΩ'", "4700R", "4.7 kohms", "4R7"])
def test_values_are_read_as_they_are_written(written):
    made = lit(f"{{table: resistors, values_ohm: [{written}]}}")
    assert made.plan.at_hand[0].values_ohm == (4.7 if written == "4R7" else 4700.0,)


def held_pair(at_hand: str):
    """The finding's edit made, in the same plan."""
    made = one_lamp(at_hand)
    (found,) = coarse(made)
    (change,) = cure_of(made, found).changes
    pins = ", ".join(f"{{of: {row['of']}, choice: {row['choice']}, value: '{row['value']}'}}" for row in change.values["pinned"])
    return found, lit(at_hand, f"pinned: [{pins}]\n")


@pytest.mark.parametrize(("values", "words", "ohm"), [
    ("[1k, 1k1, 10k]", "1.1 kohm + 1 kohm in a row", 2100),  # derived: 2 x 1k is 2000, under the 2020 asked for
    ("[3k9, 4k7]", "4.7 kohm + 3.9 kohm side by side", 3900 * 4700 / 8600),
])
def test_two_at_hand_are_proposed_by_value_and_stand_on_the_sheets(values, words, ohm):
    held = f"{{table: resistors, values_ohm: {values}}}"
    found, made = held_pair(held)
    assert words.rsplit("kohm ", 1)[1] in found.cure
    one = made.power.resistor("flame")
    assert one.value_ohm == pytest.approx(ohm, rel=1e-5) and sum(one.made_of_ohm) > 2000 and not coarse(made)
    assert made.power.states[0].lit[0].current_a.typical == pytest.approx(5e-3, rel=0.06)
    assert bought(made, "resistors") == {f"{words}, axial 0.25 W, E24 5 %": 0}
    for sheet in (power_sheet, circuit_sheet, cut_list):
        assert words in str(sheet.draw(made))


def test_no_two_are_proposed_that_are_as_far_off():
    made = one_lamp("{table: resistors, values_ohm: [100]}")
    assert "two of yours" not in coarse(made)[0].cure and cure_of(made, coarse(made)[0]) is None
