"""LEDs that make up for their warmth: a textbook's worked example, a data sheet's limit, and a general solver.

source: V. K. Khanna, Fundamentals of Solid-State Lighting (2014), ch. 14, eqs. 14.1 to 14.3 (abstract read): an LED of
3.0 V at 25 C and -3 mV/K takes 2.7 V at 125 C; at 300 mA 0.81 W in place of 0.9 W, 10 % less.
source: data sheet 83030 rev 1.9 (2018) of a 5 mm low-current lamp, as in led_datasheet_values.csv: 500 K/W from junction
to air, 100 C at most: at an air T it bears (100 - T) / 500 W.
source: `scipy.optimize.brentq` in the same run on the definition: the light of the settled LED is that of the cold one.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from designed import designed
from plans import board
from rushlight.electric.led import DiodeLaw, forward_fall_v_per_k, law_spread, voltage_at_current
from rushlight.optics.led_light import light_laws
from rushlight.stages.led_heat import MOUNT_SPREAD
from rushlight.stages.network import EmitterLaw
from rushlight.stages.settled_aim import _Kind, _settled
from rushlight.tables import row_by

WHITE = law_spread("cool_white").typical


def kind(law: DiodeLaw, *, unwarmed_a: float = 0.01, k_per_w: float = 0.0, most_a: float = 1.0, fall: float = 0.003,
         flux_fall: float = 0.003) -> _Kind:
    light = light_laws("cool_white").usual
    return _Kind(unwarmed_a, 0.001, most_a, EmitterLaw((law,), 0.0, 1), light, 0.02, k_per_w, 0.0, fall, flux_fall, "")


def light(key: str, rated_share: float) -> float:
    """Light at a current over the rated one, of a law of carriers: x^2 where x + x^2 / q + x^3 is that current."""
    row = row_by("led_light_current", "key", key)
    loss, peak = 0.5 * (1.0 / float(row["best_efficiency"]) - 1.0), float(row["peak_usual"])
    wanted = (2.0 + 1.0 / loss) * rated_share / peak
    return float(brentq(lambda x: x + x * x / loss + x**3 - wanted, 0.0, 1e4, xtol=1e-15, rtol=1e-14)) ** 2


def test_the_textbooks_led_of_three_volts() -> None:
    volts_27 = 3.0 - 0.006  # 3.0 V at 25 C
    law = DiodeLaw(saturation_a=0.3 * math.exp(-volts_27 / 0.0517), ideality=2.0, series_ohm=1e-6)
    fall = forward_fall_v_per_k("cool_white").typical
    at = {temp_c: float(kind(law, fall=fall).drop_v(np.array([0.3]), np.array([temp_c]))[0]) for temp_c in (25.0, 125.0)}
    assert at[25.0] == pytest.approx(3.0, abs=0.005)
    assert at[25.0] - at[125.0] == pytest.approx(0.3, abs=1e-9)  # source: eq. 14.1
    watts = {temp_c: 0.3 * 3.0 + 0.3 * (volts - at[25.0]) for temp_c, volts in at.items()}
    assert (watts[25.0], watts[125.0]) == (pytest.approx(0.9), pytest.approx(0.81))  # source: eqs. 14.2, 14.3


@pytest.mark.parametrize("air_c", [40.0, 60.0, 80.0])
def test_a_hot_lamp_is_given_no_more_than_its_data_sheet_bears(air_c: float) -> None:
    """Its 500 K/W are those of the worst mounting here."""
    bears_w = (100.0 - air_c) / 500.0  # source: data sheet 83030
    most = brentq(lambda amps: amps * (float(voltage_at_current(WHITE, amps)) - 0.003 * 73) - bears_w, 1e-4, 0.2)
    own = kind(WHITE, unwarmed_a=0.98 * most, k_per_w=500.0 / MOUNT_SPREAD[1])
    made = _settled(own, np.array([air_c]), np.array([air_c]))
    assert made.bound == ("junction",) and made.aim_a[0] == pytest.approx(most, rel=1e-3)
    cool = _settled(own, np.array([air_c]), np.array([0.0]))
    assert cool.bound == ("",) and cool.aim_a[0] > most


@pytest.mark.parametrize(("colour", "fall", "flux_fall"), [("red", 0.002, 0.008), ("warm white", 0.003, 0.003)])
@pytest.mark.parametrize("room_c", [0, 22, 40])
def test_the_current_is_the_one_whose_settled_light_is_the_wanted(colour, fall, flux_fall, room_c) -> None:
    lamp = (f"{{name: l, part: board, at_mm: [20, 80], colour: {colour}, model_mm: 3, states: day, source: {{kind: led}}, "
            "brightness: {intensity_mcd: 180}}")
    text = board(lamp, supply="supply: {kind: adapter, adapter_v: 5, limit_a: 1, bay: bay}\n")
    made = designed(text.replace("invented: true", f"invented: true, room_c: {room_c}"))
    (aim,), law = made.power.aims, law_spread(colour.replace(" ", "_")).typical
    r_th = made.drawer.led(made.loom.emitters[0].part_row).r_th_ja_k_per_w

    def junction_c(amps: float) -> float:
        def over(temp_c: float) -> float:
            volts = float(voltage_at_current(law, amps)) - fall * (temp_c - 27)
            return room_c + r_th * amps * volts - temp_c
        return brentq(over, -40, 150, xtol=1e-12)

    key, rated_a = colour.replace(" ", "_"), made.drawer.led(made.loom.emitters[0].part_row).test_ma / 1000
    wanted = light(key, aim.unwarmed_a / rated_a)
    theirs = brentq(lambda amps: light(key, amps / rated_a) * math.exp(-flux_fall * (junction_c(amps) - 25)) - wanted,
                    1e-4, 0.05, xtol=1e-14)
    # source: brentq in the same run
    assert not aim.bound and aim.aim_a == pytest.approx(theirs, rel=1e-5)
    assert aim.junction_c == pytest.approx(junction_c(theirs), abs=0.02)
