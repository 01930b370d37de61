"""An LED without a data sheet, read behind two resistors: which, what should show, and that the readings give its law."""

from __future__ import annotations

from dataclasses import replace

import pytest

from book_designs import small
from rushlight.electric.led import law_spread, shifted, voltage_at_current
from rushlight.electric.led_read import LedReading, law_of_readings
from rushlight.model.drawer import OwnLaw
from rushlight.sheets.led_trial import trial_blocks, trial_uses
from rushlight.sheets.meter_use import mind
from rushlight.stages.led_trial import BLOCK_V, RESISTOR_W, led_trials, shares_v
from rushlight.stages.parts_law import led_spread


def test_the_two_resistors_spare_led_and_resistor_and_lie_apart() -> None:
    design = small()
    for trial in led_trials(design):
        led, (lesser, greater) = design.drawer.led(trial.led), trial.resistors_ohm
        across, drop = shares_v(led, trial.supply_v, lesser)
        assert drop.high / lesser <= led.test_ma / 1000 and drop.high**2 / lesser <= RESISTOR_W
        assert greater >= 3.3 * lesser
        assert across.typical + drop.typical == pytest.approx(trial.supply_v.typical, abs=1e-6)
        assert across.low < across.typical < across.high and drop.low < drop.typical < drop.high


def test_readings_that_are_typical_give_the_typical_law_again() -> None:
    """Put in and found again: the four volts of an LED 0.1 V over its colour's law."""
    design = small()
    trial = led_trials(design)[0]
    led = design.drawer.led(trial.led)
    true = shifted(led_spread(led).typical, 0.1)
    rows = []
    for ohm in trial.resistors_ohm:
        low, high = 0.0, trial.supply_v.typical / ohm
        for _ in range(60):
            amps = (low + high) / 2
            over = float(voltage_at_current(true, amps)) + ohm * amps > trial.supply_v.typical
            low, high = (low, amps) if over else (amps, high)
        rows.append(LedReading(ohm, trial.supply_v.typical - ohm * amps, ohm * amps))
    read = law_of_readings(rows, law_spread(led.law))
    assert float(voltage_at_current(read.law, 0.005)) == pytest.approx(float(voltage_at_current(true, 0.005)), abs=0.005)


def test_the_models_own_supply_serves_from_5_to_12_6_v_else_a_block() -> None:
    design = small()
    assert design.power.supply is not None
    on = {volts: led_trials(replace(design, power=replace(design.power, supply=replace(
        design.power.supply, nominal_v=volts, fresh_v=volts))))[0] for volts in (3.0, 5.0, 12.0, 24.0)}
    assert [trial.own_supply for trial in on.values()] == [False, True, True, False]
    assert on[3.0].supply_v == BLOCK_V and on[12.0].supply_v.typical == 12.0


def test_an_led_that_was_read_is_not_asked_for_again() -> None:
    design = small()
    names = {trial.led for trial in led_trials(design)}
    law = OwnLaw(saturation_a=1e-17, ideality=2.1, series_ohm=4.0, low_v=-0.1, high_v=0.1, least_ma=1.0, most_ma=10.0)
    read = replace(design.drawer, leds=tuple(replace(led, own_law=law) for led in design.drawer.leds))
    assert names and trial_blocks(replace(design, drawer=read)) == ()


def test_each_reading_is_drawn_with_its_resistor_and_its_warning() -> None:
    design = small()
    trial = led_trials(design)[0]
    uses = trial_uses(trial)
    assert [use.where for use in uses] == ["lit led", "its resistor"] * 2
    assert len({use.head for use in uses}) == 2 and all(use.head.startswith("Behind ") for use in uses)
    assert all("never an LED without one" in " ".join(mind(use)) for use in uses)
    _, table, drawing = trial_blocks(design)
    assert len(table.rows) == 2 * len(led_trials(design)) and drawing.key == "led-trial-meter"  # type: ignore[union-attr]
