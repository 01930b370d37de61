"""An LED without a data sheet: the meter drawn for each of the four readings, and what they should come to."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.design import Design
from rushlight.model.sheet import Block, Column, Drawing, Note, Table
from rushlight.sheets.amounts import sentence
from rushlight.sheets.meter import meter_drawings
from rushlight.sheets.meter_use import MeterUse, expect_words, use_of_reading
from rushlight.stages.led_trial import LedTrial, led_trials
from rushlight.stages.shopping import ohm_text

TITLE = "An LED without a data sheet"

HOW = (
    "Put one LED of the bag behind a resistor of {lesser} on {supply}, read the volts across the LED and across the "
    "resistor, then do both again behind one of {greater}. Enter the four: in the app in 'Your own numbers', 'Another "
    "measurement at the bench', or in the plan as 'measured: what led voltage, of' the LED, with the volts across "
    "the LED as 'readings', across the resistor as 'against', and both resistors as 'series_ohm'. Its resistors, "
    "currents and how far such LEDs differ follow from it. The column 'Expect' is what is believed of its colour: "
    "yours may lie outside, that is why you read it; an LED of another colour shows at once."
)


def trial_blocks(design: Design) -> tuple[Block, ...]:
    """Words, the form, and the meter at each reading; nothing where every LED was read."""
    trials = led_trials(design)
    if not trials:
        return ()
    lesser, greater = map(ohm_text, trials[0].resistors_ohm)
    how = HOW.format(lesser=lesser, greater=greater, supply=supply_words(trials[0]))
    return (Note(how, TITLE), _form(trials), trial_drawing(trials[0]))


def supply_words(trial: LedTrial) -> str:
    """The supply for it."""
    return f"the model's own supply ({trial.supply_v.typical:g} V)" if trial.own_supply else "a 9 V block"


def trial_drawing(trial: LedTrial) -> Drawing:
    """The meter at each of the four readings of one kind of LED."""
    caption = f"Expected of {trial.led}; other kinds are read in the same way, what to expect stands in the table."
    return meter_drawings(trial_uses(trial), key="led-trial-meter",
                          title=f"{TITLE}: the meter", caption=caption)


def trial_uses(trial: LedTrial) -> tuple[MeterUse, ...]:
    """The meter at each reading, the resistor named over it."""
    return tuple(replace(use_of_reading(row), head=f"Behind {ohm_text(trial.resistors_ohm[n // 2])}")
                 for n, row in enumerate(trial.readings))


def _form(trials: tuple[LedTrial, ...]) -> Table:
    columns = (
        Column("led", "LED", wide=True), Column("resistor", "Resistor", align="right"),
        Column("across_led", "Across the LED: expect", align="right"), Column("led_read", "Found by you"),
        Column("across_resistor", "Across the resistor: expect", align="right"),
        Column("resistor_read", "Found by you"),
    )
    cells = [
        (sentence(trial.led), ohm_text(ohm), *(cell for row in trial.readings[2 * n:2 * n + 2] for cell in (
            expect_words(row.reading.low, row.reading.high, "V"), "")))
        for trial in trials for n, ohm in enumerate(trial.resistors_ohm)
    ]
    return Table("led-trial", "To write down: each LED behind two resistors", columns, tuple(cells))
