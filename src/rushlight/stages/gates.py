"""Gates: what a meter should show before a step that cannot be undone."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from rushlight.model.design import PredictedReading
from rushlight.model.design_power import EmitterCurrent, StatePower
from rushlight.model.drawer import LedPart
from rushlight.stages.parts_law import led_law_range
from rushlight.units import Range

if TYPE_CHECKING:
    from rushlight.stages.order import Build

TEST_A = 0.001
"""A meter's diode range drives about a milliampere (from memory, typical)."""

METER_SPREAD = 0.03
"""A hand meter reads within about 3 % on its lower ranges (from memory, typical)."""

OPEN_OHM = 20_000.0
"""Least resistance of a sound loom, probes reversed so that no LED conducts (common practice, no source)."""


def gate_readings(build: Build, step: str) -> tuple[PredictedReading, ...]:
    """The readings of one gate; a gate that is judged by eye has none."""
    if step == "test_parts":
        return _leds_as_received(build)
    if step in ("bench_test", "fit_test", "soak", "close_test", "final_test"):
        short = (_no_short(),) if step in ("bench_test", "fit_test") else ()
        return short + _named_apart(
            tuple(reading for state in build.power.states for reading in _of_state(build, state, step)))
    return ()


def _named_apart(readings: tuple[PredictedReading, ...]) -> tuple[PredictedReading, ...]:
    """The log knows a reading by its name, so that one that is taken in several states gets its state too."""
    count = Counter(row.name for row in readings)
    return tuple(replace(row, name=f"{row.name}, {row.state}") if count[row.name] > 1 else row for row in readings)


def _leds_as_received(build: Build) -> tuple[PredictedReading, ...]:
    """Forward voltage of each kind of LED at about 1 mA, as a meter's diode range shows it."""
    names = sorted({emitter.part_row for emitter in build.loom.emitters if emitter.kind != "strip"})
    readings = []
    for name in names:
        led = build.drawer.led(name)
        volts = led_law_range(led, TEST_A).plus(built_in_ohm(led) * TEST_A)
        readings.append(
            PredictedReading(
                name=name, dial="diode test", red_probe="long leg (anode)", black_probe="short leg (cathode)",
                state=None, reading=volts, unit="V",
            )
        )
    return tuple(readings)


def built_in_ohm(led: LedPart) -> float:
    """Resistor inside a pre-wired LED; 0 in a bare one."""
    if led.pre_wired_v is None:
        return 0.0
    return (led.pre_wired_v - led_law_range(led, led.test_ma / 1000).typical) / (led.test_ma / 1000)


def _no_short() -> PredictedReading:
    return PredictedReading(
        name="no short", dial="20 kohm, supply taken out", red_probe="return of the trunk",
        black_probe="plus of the trunk", state=None, reading=Range(OPEN_OHM, OPEN_OHM, float("inf")), unit="ohm",
    )


def _of_state(build: Build, state: StatePower, step: str) -> tuple[PredictedReading, ...]:
    """Supply current, voltage at the trunk; on the bench also the voltage across each circuit's first resistor."""
    if not state.lit:
        return ()
    amps = state.bench_a
    current = PredictedReading(
        name=f"supply current, {state.state}", dial="200 mA DC" if amps.high < 0.18 else "10 A DC",
        red_probe="plus of the supply", black_probe="plus of the trunk (meter in the lead)", state=state.state,
        reading=Range(
            amps.low * 1000 * (1 - METER_SPREAD), amps.typical * 1000, amps.high * 1000 * (1 + METER_SPREAD)
        ),
        unit="mA",
    )
    resistors = _resistor_drops(build, state) if step == "bench_test" else ()
    return (current, *resistors)


def _resistor_drops(build: Build, state: StatePower) -> tuple[PredictedReading, ...]:
    """One resistor a circuit: the voltage across it tells its LED's current without breaking the lead."""
    first: dict[str, EmitterCurrent] = {}
    for current in state.lit:
        circuit = build.loom.emitter(current.emitter).circuit
        if build.power.resistor(current.emitter) is not None:
            first.setdefault(circuit, current)
    return tuple(_drop(build, state, current) for current in first.values())


def _drop(build: Build, state: StatePower, current: EmitterCurrent) -> PredictedReading:
    resistor = build.power.resistor(current.emitter)
    branches = max(build.loom.emitter(current.emitter).segments, 1)
    ohm = resistor.value_ohm * branches if resistor else 0.0
    amps = current.bench_a
    return PredictedReading(
        name=f"across the resistor of {current.emitter}", dial="20 V DC", red_probe="supply side of the resistor",
        black_probe="LED side of the resistor", state=state.state,
        reading=Range(
            amps.low * ohm * (1 - METER_SPREAD), amps.typical * ohm, amps.high * ohm * (1 + METER_SPREAD)
        ),
        unit="V",
    )
