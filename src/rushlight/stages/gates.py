"""Gates: what a meter should show before a step that cannot be undone."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from rushlight.model.design import PredictedReading
from rushlight.model.design_power import EmitterCurrent, Regulator, StatePower
from rushlight.model.drawer import LedPart
from rushlight.stages.at_hand import resistors_offered
from rushlight.stages.parts_law import led_law_range
from rushlight.stages.regulator_test import PartTest, part_test
from rushlight.stages.shopping import ohm_text
from rushlight.units import Range

if TYPE_CHECKING:
    from rushlight.stages.build import Build

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
    if step == "test_regulators":
        return tuple(_regulator_as_received(name, test) for name, test in regulator_tests(build).items())
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


def regulator_tests(build: Build) -> dict[str, PartTest]:
    """How each kind of regulator of this build is tested before it is soldered in."""
    supply, kinds = build.power.supply, {row.part: row.drop_out_v for row in build.power.regulators}
    if supply is None:
        return {}
    resistors = resistors_offered(build.plan, build.drawer)
    return {
        name: part_test(build.drawer.regulator(name), fresh_v=supply.fresh_v, nominal_v=supply.nominal_v,
                        drop_out_v=volts, resistors=resistors)
        for name, volts in sorted(kinds.items())
    }


def _regulator_as_received(name: str, test: PartTest) -> PredictedReading:
    """Its current through a resistor: the dial bears that of one the wrong way round too."""
    amps = test.right_a
    return PredictedReading(
        name=f"current of one {name}", dial=_current_dial(max(test.turned_a, amps.high)),
        red_probe="plus of the supply",
        black_probe=f"resistor of {ohm_text(test.resistor_ohm)}; its other end on the end without the ring, the ring "
                    "on minus",
        state=None, unit="mA",
        reading=Range(amps.low * 1000 * (1 - METER_SPREAD), amps.typical * 1000, amps.high * 1000 * (1 + METER_SPREAD)),
    )


def _current_dial(most_a: float) -> str:
    return "200 mA DC" if most_a < 0.18 else "10 A DC"


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
    """Supply current; on the bench also the voltage across each circuit's first resistor, or its regulator."""
    if not state.lit:
        return ()
    amps = state.bench_a
    current = PredictedReading(
        name=f"supply current, {state.state}", dial=_current_dial(amps.high),
        red_probe="plus of the supply", black_probe="plus of the trunk (meter in the lead)", state=state.state,
        reading=Range(
            amps.low * 1000 * (1 - METER_SPREAD), amps.typical * 1000, amps.high * 1000 * (1 + METER_SPREAD)
        ),
        unit="mA",
    )
    drops = (*_resistor_drops(build, state), *_regulator_drops(build, state)) if step == "bench_test" else ()
    return (current, *drops)


def _regulator_drops(build: Build, state: StatePower) -> tuple[PredictedReading, ...]:
    """One regulator a circuit: at least its drop-out stands across one that holds its current."""
    first: dict[str, Regulator] = {}
    lit = {current.emitter for current in state.lit}
    for row in build.power.regulators:
        if row.emitter in lit:
            first.setdefault(build.loom.emitter(row.emitter).circuit, row)
    return tuple(_across(row, state.state) for row in first.values())


def _across(row: Regulator, state: str) -> PredictedReading:
    """From its drop-out on, where it holds; of one that does not hold, what is left to it."""
    volts = dict(row.bench_v)[state]
    least = max(volts.low * (1 - METER_SPREAD), min(row.drop_out_v, volts.typical))
    most = max(volts.high * (1 + METER_SPREAD), least)
    return PredictedReading(
        name=f"across the regulator of {row.emitter}", dial="20 V DC" if most < 19 else "200 V DC",
        red_probe="supply side, the end without the ring", black_probe="LED side, the ring",
        state=state,
        reading=Range(least, min(max(volts.typical, least), most), most), unit="V",
    )


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
