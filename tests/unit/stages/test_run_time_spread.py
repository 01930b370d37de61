"""Run time holds what LEDs differ by; readings that narrow the current narrow it, as was foretold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench_entries import entry, yard
from designed import PACKAGED, designed, planned
from rushlight.electric.led import voltage_at_current
from rushlight.model.design import Design
from rushlight.model.drawer import OwnLaw
from rushlight.stages.parts_law import led_spread
from rushlight.stages.pipeline import design
from rushlight.stages.reading_answers import stops_of
from rushlight.stages.readings import Reading, answers_of, every_reading
from rushlight.units import Range

BLUE = """lamps:
  - {name: single, part: yard, at_mm: [30, 20], colour: blue, model_mm: 3, states: [night]}
pinned: [{of: single, choice: current_ma, value: '10'}]
"""
WEAK = yard(BLUE, supply="{kind: cells, cell: AA, in_series: 3, bay: bay, run_h: 180}")
BANK = yard(BLUE, supply="{kind: usb power bank, bank_mah: 5000, bay: bay, run_h: 300}")


def read_of(made: Design, method: str) -> Reading:
    [row] = [row for row in every_reading(made) if row.method == method]
    return row


def hours(made: Design) -> Range:
    return made.power.states[0].run_time_h


@pytest.mark.parametrize("text", [WEAK, BANK], ids=["cells", "bank"])
def test_run_time_holds_leds_of_low_and_high_voltage(text: str) -> None:
    """Charge alone spreads by 1.25 / 0.75; currents of LEDs that all lie to one side come on top."""
    made = designed(text)
    lit = made.power.states[0].lit[0].current_a
    assert lit.high / lit.low > 1.3
    assert hours(made).high / hours(made).low > 1.2 * 1.25 / 0.75
    assert hours(made).high / hours(made).low == pytest.approx(1.25 / 0.75 * lit.high / lit.low, rel=0.3)


@pytest.mark.parametrize("part", [-0.9, -0.6, -0.3, 0.3, 0.6, 0.9])
def test_leds_anywhere_in_the_spread_run_for_as_long_as_was_told(part: float) -> None:
    """Second method: an LED that was read at that voltage, solved whole behind the same resistor."""
    text = WEAK.replace("pinned: [", "pinned: [{of: single, choice: resistor_ohm, value: '100'}, ")
    made = designed(text)
    led = made.drawer.led(made.loom.emitters[0].part_row)
    usual, amps = led_spread(led), led.test_ma / 1000
    end = usual.high if part > 0 else usual.low
    middle = float(voltage_at_current(usual.typical, amps))
    moved_v = abs(part) * (float(voltage_at_current(end, amps)) - middle)
    law = OwnLaw(saturation_a=usual.typical.saturation_a * math.exp(-moved_v / usual.typical.slope_v),
                 ideality=usual.typical.ideality, series_ohm=usual.typical.series_ohm, low_v=0.0, high_v=0.0,
                 least_ma=0.1, most_ma=20.0)
    drawer = replace(PACKAGED, leds=tuple(replace(row, own_law=law) if row.name == led.name else row
                                          for row in PACKAGED.leds))
    moved = design(planned(text), drawer).power.states[0]
    assert moved.run_time_h.typical != pytest.approx(hours(made).typical, rel=0.01)
    # derived: the charge's own spread taken off both ends
    assert 0.98 * hours(made).low / 0.75 <= moved.run_time_h.typical <= 1.02 * hours(made).high / 1.25


@pytest.mark.parametrize("method", ["led voltage", "feed power"])
@pytest.mark.parametrize("text", [WEAK, BANK], ids=["cells", "bank"])
def test_a_reading_of_the_current_narrows_run_time_as_foretold(text: str, method: str) -> None:
    made = designed(text)
    reading = read_of(made, method)
    gain = reading.gain_in("lasts")
    assert gain is not None and gain.before == hours(made)
    said = entry(method, made, reading)  # with the error that the ranking reckons with
    said = said.replace("}\n", ", off_share: 0.05}\n") if method == "feed power" else said
    after = hours(designed(text + said))
    assert after.typical == pytest.approx(hours(made).typical, rel=0.02)
    assert hours(made).low * 0.999 <= after.low and after.high <= hours(made).high * 1.001
    assert stops_of(after) < stops_of(hours(made)) - 0.1
    assert stops_of(after) == pytest.approx(stops_of(gain.after), rel=0.06)


def test_a_feed_that_takes_twice_the_power_lasts_half_of_it_whatever_leds_do() -> None:
    made = designed(BANK)
    watts = made.power.states[0].meter_w.typical
    read = designed(BANK + f"measured: [{{what: feed power, of: night, readings: [{2 * watts}], off_share: 0}}]\n")
    assert hours(read).typical == pytest.approx(hours(made).typical / 2)
    assert hours(read).high / hours(read).low == pytest.approx(1.25 / 0.75)  # derived: the bank's own spread is left


def test_warmth_keeps_its_middle_where_fresh_cells_take_what_was_reckoned() -> None:
    text = WEAK + "spaces: [{name: hull, parts: [yard], size_mm: [100, 60, 30]}]\n"
    made = designed(text)
    row = read_of(made, "feed power")
    read = designed(text + entry("feed power", made, row))
    was, now = made.heat.spaces[0].power_w, read.heat.spaces[0].power_w
    assert now.typical == pytest.approx(was.typical, rel=1e-6)
    assert was.low < now.low and now.high < was.high
    gain = row.gain_in("warm")
    assert gain is not None
    assert stops_of(answers_of(read)["warmth of hull"].value) == pytest.approx(stops_of(gain.after), rel=0.05)
    assert PACKAGED.measured("feed power", "night") is None
