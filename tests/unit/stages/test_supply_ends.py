"""What the supply may give is in the ends of currents, light, gates and the evening, and a reading of it draws them in."""

from __future__ import annotations

import pytest

from bench_entries import COIN, ROOTED, WEAK, yard
from designed import designed
from rushlight.electric.cell import cell
from rushlight.findings.electric.parallel_differ import RULE as DIFFER
from rushlight.model.design import Design
from rushlight.stages.readings import every_reading
from rushlight.stages.supplies import supply_ages

READ = "measured: [{{what: adapter volts, of: adapter, printed_v: {}, readings: [{}]{}}}]\n"


def span(made: Design) -> float:
    amps = made.power.states[0].lit[0].current_a
    return amps.high / amps.low


def test_an_adapter_as_read_draws_in_current_gate_light_and_power_at_once() -> None:
    made, read = designed(WEAK), designed(WEAK + READ.format(3.6, "3.62, 3.62, 3.62", ""))
    told, now = made.power.states[0], read.power.states[0]
    assert span(read) < span(made) / 1.3
    for one in ("bench_a", "power_w", "current_a"):
        before, after = getattr(told.lit[0], one), getattr(now.lit[0], one)
        assert after.high / after.low < before.high / before.low, one
    light = [one.light.lamps[0].intensity_cd for one in (made, read)]
    assert light[1].high / light[1].low < light[0].high / light[0].low
    fresh, nominal, flat = supply_ages(read.plan, read.drawer)
    assert (flat.emf_v, nominal.emf_v, fresh.emf_v) == pytest.approx((0.99 * 3.62, 3.62, 1.01 * 3.62))  # derived: 1 % of a plain meter
    assert read.power.supply is not None
    assert read.power.supply.nominal_v == pytest.approx(3.62)


def test_an_adapter_of_another_print_changes_nothing() -> None:
    made, other = designed(WEAK), designed(WEAK + READ.format(5, 5.1, ""))
    assert made.power == other.power


def test_what_an_adapter_falls_by_under_its_load_takes_part() -> None:
    """A long thin lead: 2 V lost at an ampere, so less for each lamp (derived: Ohm's law)."""
    stiff, soft = (designed(yard(
        "rows:\n  - {name: l, part: yard, along_mm: [[20, 40], [180, 40]], count: 20, colour: warm white, model_mm: 3, states: [night],\n"
        "     source: {kind: led}}\npinned: [{of: l, choice: resistor_ohm, value: '100'}]\n")
        + READ.format(5, 5, f", against: [{loaded}], at_ma: 500")) for loaded in (5.0, 4.0))
    amps = [one.power.states[0].supply_a.typical for one in (stiff, soft)]
    assert amps[1] < 0.9 * amps[0]


def test_cells_of_much_and_little_resistance_are_in_the_ends_of_current_and_light() -> None:
    read = COIN + "measured: [{what: cell resistance, of: CR2032, readings: [2.6, 2.6, 2.6], against: [3.0], at_ma: 20}]\n"
    made, known = designed(COIN), designed(read)
    assert dict(made.power.states[0].lit[0].apart)["supply"] > 1.1
    assert span(known) < span(made) / 1.05
    light = [one.light.lamps[0].intensity_cd for one in (made, known)]
    assert light[1].high / light[1].low < light[0].high / light[0].low
    [ranked] = [row for row in every_reading(made) if row.method == "cell resistance"]
    assert {gain.question for gain in ranked.gains} == {"bright", "lasts"}


def test_the_evening_holds_cells_of_much_and_little_resistance() -> None:
    """A cell read to have the usual resistance leaves the middle where it is, and both ends nearer to it."""
    text = COIN + "evening: [{state: night, minutes: 30}]\n"
    volts = 3.0 - 0.02 * cell("CR2032").fresh_ohm  # derived: Ohm's law
    entry = f"{{what: cell resistance, of: CR2032, readings: [{volts}, {volts}, {volts}], against: [3.0], at_ma: 20}}"
    wide, close = designed(text).power.evening, designed(f"{text}measured: [{entry}]\n").power.evening
    assert wide is not None
    assert close is not None
    assert close.ends_h.typical == pytest.approx(wide.ends_h.typical)
    assert close.ends_h.high / close.ends_h.low < 0.9 * wide.ends_h.high / wide.ends_h.low
    lasts = designed(text).power.states[0].run_time_h
    assert wide.ends_h.low == pytest.approx(lasts.low, rel=0.1)  # the evening and the run time of its one state agree
    assert wide.ends_h.high == pytest.approx(lasts.high, rel=0.1)


def test_the_supply_moves_lamps_together_and_so_never_parts_lamps_of_a_row() -> None:
    """An adapter a twentieth off makes all 1.2 times as bright, and none beside another."""
    text = yard("rows:\n  - {name: l, part: yard, along_mm: [[20, 40], [180, 40]], count: 3, colour: warm white, model_mm: 3, states: [night],\n"
                "     source: {kind: led}}\n")
    made, read = designed(text), designed(text + READ.format(5, "5, 5, 5", ""))
    assert span(made) > 1.5 > span(read) * 0.99
    assert not DIFFER.look(made)
    assert dict(made.power.states[0].lit[0].apart)["supply"] > 1.15


def test_the_root_of_a_post_lets_through_as_many_times_the_wall_as_was_read() -> None:
    """Never more than the bare wall, and with the paint of the open wall at the least."""
    made = designed(ROOTED)
    rows = [designed(f"{ROOTED}measured: [{{what: post paint, of: yard, readings: [{times}], against: [1]}}]\n").light.ways_out[0]
            for times in (1, 3, 1e6)]
    glow = [row.luminance_cd_m2 for row in rows]
    told = made.light.ways_out[0].luminance_cd_m2
    assert glow[0].typical == pytest.approx(told.typical)  # derived: one coat in all, so the root's is the wall's
    assert glow[1].typical == pytest.approx(3 * glow[0].typical)
    assert glow[1].high < told.high
    assert glow[2].high == pytest.approx(told.high)
    assert glow[1].high / glow[1].low < told.high / told.low
