"""LEDs in series: which stand in a string, the loom, network, faults and words that follow, and the trade-off."""

from __future__ import annotations

import math

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.electric.fault import Fault
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.findings import find
from rushlight.sheets import cut_list, parts, power
from rushlight.sheets.circuit import rungs_of
from rushlight.sheets.series import run_words_of, series_table, why_note
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


def test_without_a_held_choice_each_led_has_its_own_resistor() -> None:
    made = designed(board(LAMPS))
    assert made.loom.strings == () and len(made.power.resistors) == 7
    assert designed(held(1)).loom == made.loom


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
        amps = made.loom.emitter(row.emitter).aim_current_a
        drop = len(string.emitters) * float(voltage_at_current(law, amps))
        # derived: Kirchhoff's voltage law on 12 V; supply, switch and wire take a few millivolts
        assert row.exact_ohm == pytest.approx((12.0 - drop) / amps, rel=5e-3)


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


# --- the trade-off ------------------------------------------------------------------------------------------------


def test_the_trade_off_is_kirchhoffs_law_for_every_length() -> None:
    made = designed(board(LAMPS, supply=SIX_AA))
    assert [row.in_series for row in made.power.series] == [1, 2, 3]
    law = law_spread(made.drawer.led(made.loom.emitters[0].part_row).law).typical
    supply = made.power.supply
    assert supply is not None
    for row in made.power.series:
        lengths = [len(piece) for piece in cut_even(made.loom.emitters, row.in_series)]
        total = sum(loop_a(supply.nominal_v, n, law, made.loom.emitters[0].aim_current_a) for n in lengths)
        assert row.supply_a == pytest.approx(total, rel=0.01)  # derived: without the cells' inner resistance
        assert row.resistors == len(lengths)


def loop_a(volts: float, count: int, law, aim_a: float) -> float:
    """Current of LEDs with the next E24 value in one loop, by halving."""
    from rushlight.electric.resistor import value_not_below

    ohm = value_not_below((volts - count * float(voltage_at_current(law, aim_a))) / aim_a)
    low, high = 1e-9, 0.1
    for _ in range(100):
        middle = math.sqrt(low * high)
        over = count * float(voltage_at_current(law, middle)) + ohm * middle > volts
        low, high = (low, middle) if over else (middle, high)
    return low


def test_on_cells_the_string_that_spares_most_is_advised_and_the_unsafe_one_never() -> None:
    made = designed(board(LAMPS, supply=SIX_AA))
    rows = made.power.series
    assert [(row.bears, row.best, row.built) for row in rows] == [
        (True, False, True), (True, True, False), (False, False, False)]
    assert rows[1].supply_a < 0.75 * rows[0].supply_a and rows[1].wire_mm < rows[0].wire_mm
    assert made.power.supply is not None
    flat_v = made.power.supply.flat_v
    assert rows[2].left_v < 0.2 * flat_v <= rows[1].left_v  # source: habit series_headroom, common practice
    mains = designed(board(LAMPS)).power.series
    assert [row.best for row in mains] == [True, False, False, False]


def test_half_the_current_lasts_about_twice_as_long() -> None:
    made = designed(board(LAMPS, supply=SIX_AA))
    hours = [float(run_words_of(made, row)) for row in made.power.series]
    # derived: these LEDs are all that is lit, so hours go against current; the words round to two digits
    for row, hour in zip(made.power.series, hours, strict=True):
        assert hour * row.supply_a == pytest.approx(hours[0] * made.power.series[0].supply_a, rel=0.05)
    assert run_words_of(designed(board(LAMPS)), made.power.series[1]) == ""


def test_the_table_and_the_finding_offer_it_and_the_held_choice_ends_it() -> None:
    made = designed(board(LAMPS, supply=SIX_AA))
    table = series_table(made)
    assert [row[2] for row in table.rows] == [1, 2, 3]
    assert [row[-1] for row in table.rows] == ["planned", "advised", "too long"]
    assert table in power.draw(made)[0].blocks
    assert why_note(made).text.startswith("Circuit A, l0 to 6: 2 in series, as it saves ")
    assert any(row.key == "electric.series-saves" for row in find(made))
    for most in (1, 2):
        assert all(row.key != "electric.series-saves" for row in find(designed(held(most, supply=SIX_AA))))
    assert PACKAGED.habit("series_headroom").high == 0.8
