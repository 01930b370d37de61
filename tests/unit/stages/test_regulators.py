"""Constant-current regulators that are held: what is fitted, what flows, what stands on the sheets, the trade-off."""

from __future__ import annotations

import math

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.errors import DocumentProblem
from rushlight.findings import find
from rushlight.sheets import circuit, cut_list, parts, power
from rushlight.sheets.circuit import rungs_of
from rushlight.sheets.regulators import feed_table, regulator_table
from rushlight.stages.fault_known import known_faults
from rushlight.stages.fault_words import fault_words
from rushlight.stages.regulators import nearest, part_law

LAMPS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: red, model_mm: 3, states: day}}" for k in range(4)
)
SIX_AA = "supply: {kind: cells, cell: AA, in_series: 6, bay: bay}\n"


def held(value: str = "nearest", *, series: int = 1, more: str = "", ma: float = 10) -> str:
    return board(LAMPS, more=(
        f'pinned: [{{of: A, choice: regulator, value: "{value}"}}, {{of: A, choice: current_ma, value: "{ma:g}"}}, '
        f'{{of: A, choice: leds_in_series, value: "{series}"}}{more}]\n'), supply=SIX_AA)


def test_nothing_is_regulated_without_a_held_choice_nor_where_none_is_held() -> None:
    assert designed(board(LAMPS)).power.regulators == ()
    made = designed(held("none"))
    assert made.power.regulators == () and len(made.power.resistors) == 4


@pytest.mark.parametrize(("amps", "part", "count"), [
    (0.010, "linear regulator 10 mA", 1), (0.0199, "linear regulator 20 mA", 1), (0.045, "linear regulator 15 mA", 3),
    (0.0047, "current-regulator diode 4.7 mA, 1N5314", 1), (0.060, "linear regulator 30 mA", 2),
])
def test_the_nearest_is_one_part_or_several_side_by_side(amps, part, count) -> None:
    found = nearest(PACKAGED.regulators, amps)
    assert (found.part.name, found.count) == (part, count)


def test_a_named_row_is_taken_as_often_as_comes_nearest() -> None:
    assert nearest([PACKAGED.regulator("linear regulator 10 mA")], 0.021).count == 2


def test_each_led_takes_what_its_regulator_gives_fresh_and_flat() -> None:
    made = designed(held())
    assert made.power.resistors == () and [row.part for row in made.power.regulators] == ["linear regulator 10 mA"] * 4
    for row in made.power.states[0].lit:
        assert row.current_a.typical == pytest.approx(0.010, rel=0.06)
        # source: the part's spread in its data sheet, 7 to 13 mA
        assert row.current_a.high == pytest.approx(0.013, rel=0.06)
        assert row.current_a.low == pytest.approx(0.007, rel=0.06)
    alone = designed(board(LAMPS, more='pinned: [{of: A, choice: current_ma, value: "10"}]\n', supply=SIX_AA))
    drift = [row.fresh_a / row.flat_a for row in made.power.states[0].lit]
    by_ohm = [row.fresh_a / row.flat_a for row in alone.power.states[0].lit]
    assert max(drift) < 1.15 < min(by_ohm)


def test_heat_and_volts_are_those_of_kirchhoffs_voltage_law_at_the_worst() -> None:
    made = designed(held())
    row, supply = made.power.regulators[0], made.power.supply
    law = law_spread("red").low
    most = 0.013 * (1 + 0.001 * (row.most_v - 7.5))
    fuse_ohm = next(fuse.inner_ohm for fuse in made.drawer.fuses if fuse.name == supply.fuse)
    # derived: fresh cells less an LED of low voltage, less what cells and fuse drop; leads and contacts drop a little
    expected = supply.fresh_v - float(voltage_at_current(law, most)) - (supply.inner_ohm + fuse_ohm) * 4 * most
    assert row.most_v == pytest.approx(expected, abs=0.1)
    assert row.dissipated_w == pytest.approx(row.most_v * most, rel=0.05)
    assert row.rise_k == pytest.approx(row.dissipated_w * 600)


def test_a_string_stands_on_one_regulator() -> None:
    made = designed(held(series=2))
    assert len(made.loom.strings) == 2 and [row.emitter for row in made.power.regulators] == [
        string.emitters[0] for string in made.loom.strings]
    amps = {row.emitter: row.current_a.typical for row in made.power.states[0].lit}
    for string in made.loom.strings:
        assert amps[string.emitters[0]] == pytest.approx(amps[string.emitters[1]], rel=1e-6)


def test_too_many_in_series_drop_out_on_the_flat_supply() -> None:
    one, three = (designed(held(series=n)).power.regulators for n in (1, 3))
    assert min(row.flat_share for row in three) < min(row.flat_share for row in one)


def test_the_sheets_the_drawing_and_the_shopping_list_say_it() -> None:
    made = designed(held(ma=20, value="linear regulator 10 mA"))
    words = str(power.draw(made)) + str(cut_list.draw(made)) + str(parts.draw(made))
    assert "2 x linear regulator 10 mA side by side" in words and "its ring towards the LED" in words
    line = next(row for row in made.shopping.lines if row.group == "regulators")
    assert line.name == "linear regulator 10 mA" and line.needed == 8
    rungs = rungs_of(made, made.circuits[0])
    assert [row.regulator for row in rungs] == ["2 x 10 mA"] and "2 x 10 mA" in str(circuit.draw(made))
    assert regulator_table(made).rows[0][1] == 8
    assert power.draw(made)[0].title == "Regulators" and "Resistor and its bands, or regulator" in words
    plain = designed(board(LAMPS))
    assert power.draw(plain)[0].title == "Resistors" and "or regulator" not in str(parts.draw(plain))


def test_a_resistor_and_a_regulator_stand_side_by_side() -> None:
    made = designed(held())
    by_kind = {row.kind: row for row in made.power.feeds}
    assert by_kind["regulator"].built and not by_kind["resistor"].built
    assert by_kind["regulator"].fresh_a / by_kind["regulator"].flat_a < by_kind["resistor"].fresh_a / by_kind[
        "resistor"].flat_a
    assert [row[3] for row in feed_table(made).rows] == ["a resistor", "linear regulator 10 mA"]
    assert {row.built for row in designed(held("none")).power.feeds if row.kind == "resistor"} == {True}


def test_side_by_side_they_give_the_sum() -> None:
    part = PACKAGED.regulator("linear regulator 20 mA")
    assert part_law(part, 3).plateau_a == pytest.approx(3 * part_law(part).plateau_a)


def test_a_break_a_bridge_and_a_turned_regulator_are_foretold_and_told_in_words() -> None:
    made = designed(held())
    bench = known_faults(made)
    faults = {one.kind: one for one in bench.table.faults if one.element == "l0 / 1"}
    assert {"open", "short", "reversed", "regulator bridged", "regulator reversed"} <= set(faults)
    assert "wrong resistor" not in faults
    row = bench.table.strings.index("l0 / 1")
    faults["none"] = bench.table.faults[0]
    amps = {kind: float(bench.table.string_a[bench.table.faults.index(one), row].max()) for kind, one in faults.items()}
    assert amps["open"] < 1e-6
    assert 0.009 < amps["none"] < 0.011
    for kind in ("regulator reversed", "regulator bridged"):  # more than an ampere: the fuse of 0.1 A has gone
        assert faults[kind].blown and amps[kind] == 0.0
    assert "wrong way round" in fault_words(made, faults["regulator reversed"])
    assert "bridged" in fault_words(made, faults["regulator bridged"])


def test_findings_of_resistors_are_not_told_of_regulators() -> None:
    keys = {row.key for row in find(designed(held(more=', {of: all, choice: regulator, value: nearest}')))}
    assert not keys & {"electric.own-resistor", "electric.parallel-differ", "electric.series-headroom", "electric.drift",
                       "plan.pin-without-effect"}


def test_a_held_word_that_is_no_part_is_refused_with_the_nearest() -> None:
    with pytest.raises(DocumentProblem, match="Did you mean 'linear regulator"):
        designed(held("linear regulator 11 mA"))


HULL = "spaces: [{name: inside, parts: [board], size_mm: [60, 40, 30]}]\n"


def test_warmth_widens_the_range_and_the_bench_reads_the_first_moment_too() -> None:
    made = designed(held(ma=20))
    row, part = made.power.regulators[0], PACKAGED.regulator("linear regulator 20 mA")
    # derived: a cold junction in a room of 20 degC against the test's 79 degC
    assert row.cold_share == pytest.approx(math.exp(-part.fall_per_k * (20 - 79)), rel=1e-6)
    assert row.warm_share < row.cold_share
    lit = made.power.states[0].lit[0]
    assert lit.bench_a.high == pytest.approx(0.022 * row.cold_share, rel=0.02)
    assert lit.bench_a.high > lit.current_a.high > lit.current_a.typical > lit.current_a.low
    assert made.power.states[0].bench_a.high > made.power.states[0].supply_a.high


def test_a_closed_space_warms_its_regulators_and_they_give_less() -> None:
    free, shut = designed(held(ma=20)), designed(held(ma=20) + HULL)
    amps = [made.power.states[0].lit[0].current_a for made in (free, shut)]
    rise = shut.heat.spaces[0].air_rise_k
    # derived: k dT of the air that the stage of heat tells, a little less as less current warms less
    fallen = math.log(amps[0].typical / amps[1].typical)
    assert 0.6 * 0.0022 * rise.typical < fallen < 0.0022 * rise.typical
    assert amps[1].low < amps[0].low and amps[1].high == pytest.approx(amps[0].high, rel=1e-3)
    assert shut.power.feeds[1].flat_a < free.power.feeds[1].flat_a


def test_what_warmth_leaves_stands_on_the_sheet_and_in_what_a_meter_should_show() -> None:
    made = designed(held(ma=20))
    assert regulator_table(made).rows[0][6] == f"{made.power.regulators[0].cold_share:.0%} .. " \
                                               f"{min(row.warm_share for row in made.power.regulators):.0%}"
    bench = known_faults(made)
    row = bench.table.strings.index("l0 / 1")
    assert float(bench.table.string_a[0, row].max()) == pytest.approx(
        made.power.states[0].lit[0].current_a.typical, rel=1e-3)


def test_the_fuse_bears_what_the_regulators_give_whatever_is_aimed_at() -> None:
    made = designed(held("linear regulator 30 mA", ma=2))
    most = max(state.bench_a.high for state in made.power.states)
    assert most > 4 * 0.030 and made.power.supply.fuse_a * 0.75 >= most
    assert "electric.fuse-blows" not in {row.key for row in find(made)}
