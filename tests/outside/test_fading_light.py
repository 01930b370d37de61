"""Light as the supply runs down: the rate equation itself, solved by a general-purpose root finder at each current.

Source: H.-Y. Ryu, H.-S. Kim, J.-I. Shim, Appl. Phys. Lett. 95 (2009) 081114 (A n + B n^2 + C n^3, light with B n^2).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from designed import designed
from plans import board
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.findings import find
from rushlight.stages import power as power_stage
from rushlight.stages.evening import Drain
from rushlight.stages.supply_trial import own_trial
from rushlight.tables import row_by

COLOURS = ("red", "green", "cool white")
FALLS = {"red": (0.002, 0.008), "green": (0.003, 0.003), "cool white": (0.003, 0.003)}
"""Volts and light lost by a kelvin, from memory as the tables say."""

TEXT = board(
    "\n".join(f"{{name: lamp {k}, part: board, at_mm: [{20 + 30 * k}, 50], colour: {colour}, model_mm: 3, "
              f"states: s{k}}}" for k, colour in enumerate(COLOURS)),
    supply="supply: {kind: cells, cell: AA, in_series: 3, bay: bay}\nevening: [{state: s0, minutes: 60}, "
           "{state: s1, minutes: 60}, {state: s2, minutes: 60}]\n",
).replace("states: [{name: day}, {name: night}]", "states: [{name: s0}, {name: s1}, {name: s2}]")


def light(colour: str, rated_share: float) -> float:
    """B n^2 where A n + B n^2 + C n^3 is the current; A and C follow from where the efficiency peaks and how high."""
    row = row_by("led_light_current", "key", colour.replace(" ", "_"))
    peak, best = float(row["peak_usual"]), float(row["best_efficiency"])
    b = best * peak  # the carriers of the peak are the unit: light b, the rest shared evenly by defects and Auger
    a = c = 0.5 * (1.0 - best) * peak
    n = brentq(lambda n: a * n + b * n**2 + c * n**3 - rated_share, 0.0, 1e4, xtol=1e-16, rtol=1e-14)
    return b * n * n


@pytest.mark.parametrize(("number", "colour"), list(enumerate(COLOURS)))
def test_lamps_fade_by_the_rate_equation(number: int, colour: str, monkeypatch: pytest.MonkeyPatch) -> None:
    drains: list[Drain] = []
    whole = power_stage.evening_of
    monkeypatch.setattr(power_stage, "evening_of", lambda *given: (drains.append(given[3][0]), whole(*given))[1])
    made = designed(TEXT)
    lamp, drain = made.loom.emitters[number], drains[0]
    led = made.drawer.led(lamp.part_row)
    fall_v, fall_light = FALLS[colour]

    def gives(amps: float) -> float:
        volts, room_c = float(voltage_at_current(law_spread(led.law).typical, amps)), 23.0
        heat = led.r_th_ja_k_per_w * amps
        junction_c = (room_c + heat * (volts + 27 * fall_v)) / (1 + heat * fall_v)
        return light(colour, 1000 * amps / led.test_ma) * math.exp(-fall_light * junction_c)

    amps, lit = drain.amps[number], drain.lit[number][lamp.name]
    theirs = np.array([gives(float(one)) for one in amps]) / gives(float(amps[0]))  # source: brentq in the same run
    assert amps[-1] < 0.7 * amps[0]
    assert lit / lit[0] == pytest.approx(theirs, rel=2e-3)
    assert drain.light[number] == pytest.approx(theirs, rel=2e-3)
    evening = made.power.evening
    assert evening is not None
    faded = next(row for row in evening.faded if row.group == f"lamp {number}")
    assert theirs[-1] < faded.last_share < faded.kept_share < 1
    flat_a = made.power.states[number].lit[0].flat_a
    trial = light(colour, 1000 * flat_a / led.test_ma) / light(colour, 1000 * lamp.aim_current_a / led.test_ma)
    shown = own_trial(made)
    assert shown.flat_share == pytest.approx(trial, rel=1e-9) if shown.dim_lamp == lamp.lamps[0] else trial
    apart = abs(theirs - amps / amps[0]).max()
    assert apart > 0.01  # it is not the current


PAIR = "\n".join(f"{{name: l{k}, part: board, at_mm: [{20 + 30 * k}, 50], colour: red, model_mm: 3, states: day}}"
                 for k in range(2))


@pytest.mark.parametrize(("key", "more"), [
    ("electric.parallel-differ", "supply: {kind: cells, cell: AA, in_series: 2, bay: bay}\n"),
    ("electric.regulators-differ", "supply: {kind: adapter, adapter_v: 12, bay: bay}\n"
     "pinned: [{of: A, choice: regulator, value: linear regulator 10 mA}]\n"),
])
def test_how_far_like_lamps_may_be_apart_is_told_of_their_light(key: str, more: str) -> None:
    made = designed(board(PAIR, supply=more))
    (told,) = [one for one in find(made) if one.key == key]
    regulators, state = made.power.regulators, made.power.states[0]
    amps = regulators[0].current_a if regulators else state.lit[0].current_a
    supply = 1.0 if regulators else math.sqrt(dict(state.lit[0].apart).get("supply", 1.0))
    led = made.drawer.led(made.loom.emitters[0].part_row)
    high, low = (light("red", 1000 * one / led.test_ma) for one in (amps.high / supply, amps.low * supply))
    assert told.number == pytest.approx(high / low, rel=1e-4)  # source: brentq in the same run
    assert told.number > 1.005 * amps.high / amps.low / supply**2  # a red one's light falls faster than its current
