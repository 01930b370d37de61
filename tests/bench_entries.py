"""Small plans in which something hangs on each bench reading, and what a bench would show in them."""

from __future__ import annotations

import math
from functools import cache

from scipy.optimize import brentq

from designed import PACKAGED, designed
from rushlight.electric.cell import cell
from rushlight.electric.led import voltage_at_current
from rushlight.model.design import Design
from rushlight.model.plan_bench import Measured
from rushlight.optics.fibre_loss import finish_db
from rushlight.optics.led_light import light_laws
from rushlight.stages.measured import found_by
from rushlight.stages.parts_law import led_spread
from rushlight.stages.readings import Reading, every_reading

LED = next(row.name for row in PACKAGED.leds if row.lens == "flat top")

YARD = """rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, wall: WALL, wall_mm: MM, coats: COATS,
     bays: [{name: bay, rect_mm: [5, 80, 60, 15], depth_mm: 20, access: open}]OPENINGS}
supply: SUPPLY
"""
ADAPTER = "{kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}"


def yard(more: str, *, wall: str = "black styrene", mm: str = "3", coats: str = "[]", openings: str = "",
         supply: str = ADAPTER) -> str:
    text = YARD.replace("WALL", wall).replace("MM", mm, 1).replace("COATS", coats).replace("SUPPLY", supply)
    return text.replace("OPENINGS", openings) + more


ROW = """rows:
  - {name: ports, part: yard, along_mm: [[60, 40], [160, 40]], count: 7, colour: warm white, model_mm: 0.5, states: [night],
     source: {kind: fibre, fibre_mm: 0.5, led: "LED"}}
""".replace("LED", LED, 1)
HOT = """rows:
  - {name: lights, part: yard, along_mm: [[20, 40], [180, 40]], count: 20, colour: warm white, model_mm: 3, states: [night],
     source: {kind: led}}
pinned: [{of: lights, choice: current_ma, value: '20'}]
spaces: [{name: hull, parts: [yard], size_mm: [100, 60, 30]}]
"""
ONE = "lamps:\n  - {name: single, part: yard, at_mm: [30, 20], colour: red, model_mm: 3, states: [night]}\n"
PANE = ",\n     openings: [{name: w, rect_mm: [20, 40, 8, 8], diffusers: [{sheet: opal acrylic 1 mm, gap_mm: 2}]}]"
DEN = "lamps:\n  - {name: den, part: yard, at_mm: [24, 44], colour: warm white, opening: w, states: [night]}\n"
FADING = ONE.replace("states:", "rhythm: fade 3 s, states:") + "rhythms: [{rhythm: fade 3 s, by: controller}]\n"

TAILS = yard(ROW)
LEAKY = yard(ONE, wall="white styrene", mm="1", coats="[black lacquer]")
WINDOW = yard(DEN, openings=PANE)
WARM = yard(HOT, supply="{kind: adapter, adapter_v: 12, limit_a: 2, bay: bay}")
COIN = yard(ONE + "pinned: [{of: single, choice: current_ma, value: '8'}]\n",
            supply="{kind: cells, cell: CR2032, in_series: 2, bay: bay, run_h: 16}")
BANKED = yard(HOT.replace("value: '20'", "value: '3'").partition("spaces:")[0],
              supply="{kind: usb power bank, bank_mah: 5000, bay: bay, run_h: 50}")
LASTS = yard(ONE, supply="{kind: cells, cell: AA, in_series: 3, bay: bay, run_h: 1800}")

SEAMED = yard(ONE, openings=",\n     seams_mm: [[[0, 50], [200, 50]]]").replace("100}", "100, viewing_room: dark room}")

LIPPED = SEAMED.replace("seams_mm:", "seams_closed: lip behind, seam_gap_mm: 0.15, seams_mm:").replace("black styrene", "white styrene")
POST = ",\n     keep_outs: [{name: mast, why: post, centre_mm: [100, 60], radius_mm: 2MORE}]"
POSTED = yard(ONE, openings=POST.replace("MORE", ", height_mm: 30")).replace("100}", "100, viewing_room: dark room}")
ROOTED = yard(ONE, wall="white styrene", mm="1", coats="[black lacquer]", openings=POST.replace("MORE", "")).replace(
    "100}", "100, viewing_room: dark room}")

BY_DAY = yard(ONE + ONE.partition("\n")[2].replace("single", "other").replace("30, 20", "90, 20").replace("night", "day"))
BY_DAY = BY_DAY.replace("scale: 100}", "scale: 100, viewing_room: dark room}").replace("states: [{name: night}]", "states: [{name: night}, {name: day}]")
"""While one is lit, light shows in the ring round the other."""

GLOW = yard(
    "strips:\n  - {name: glow, part: yard, openings: [w], along_mm: [[20, 45], [140, 45]], gap_mm: 20, colour: warm white,\n"
    "     states: [night]}\n", openings=PANE.replace("[20, 40, 8, 8]", "[60, 40, 40, 10]"),
    supply="{kind: adapter, adapter_v: 12, limit_a: 2, bay: bay}")

WEAK = yard(ONE.replace("red", "blue") + "pinned: [{of: single, choice: current_ma, value: '2.4'}]\n",
            supply="{kind: adapter, adapter_v: 3.6, limit_a: 2, bay: bay}")
"""Little is left for the resistor: the LED's voltage decides its current."""

ROUND = yard(ONE.replace("model_mm: 3,", "model_mm: 3, facing: up, arc_deg: [0, 360], source: {kind: led, led: '3 mm red, diffused'},"))
"""Looked at from its side: its dome decides."""

PLANS = {
    "led intensity": yard(ONE), "led voltage": WEAK, "led half angle": TAILS, "light aside": ROUND, "fibre joint": TAILS, "fibre bend": TAILS, "lamp": TAILS,
    "fibre end": TAILS + "pinned: [{of: ports, choice: fibre_inlet, value: cut}]\n", "bundle width": TAILS, "strip flux": GLOW, "fibre length": TAILS,
    "diffuser": WINDOW, "reflectance": WINDOW, "wall": LEAKY, "coat": LEAKY, "stray light": LEAKY, "room light": LEAKY, "seam gap": SEAMED, "hole play": BY_DAY,
    "lip lap": LIPPED, "post gap": POSTED, "post root": ROOTED, "post paint": ROOTED, "adapter volts": WEAK,
    "hull warmth": WARM, "feed power": WARM, "cell capacity": LASTS, "cell resistance": COIN, "bank energy": BANKED, "bank load": BANKED,
    "pulse rate": yard(FADING + "controller: {pwm_hz: 3500}\n"), "camera readout": yard(FADING),
}
"""For each method a plan in which something hangs on its reading."""

@cache
def before(what: str) -> tuple[Design, Reading]:
    made = designed(PLANS[what])
    return made, max((row for row in every_reading(made) if row.method == what), key=lambda row: row.stops)


def keys_of(what: str, made: Design, row: Reading) -> dict[str, object]:
    """What a bench would show if the truth lay in the middle of what is believed."""
    middle = row.now.typical
    share = {"readings": [middle * 1e4], "against": [1e4]}
    whole = {"readings": [middle]}
    if what == "led intensity":
        led, at_ma = PACKAGED.led(row.row), float(dict(row.usual)["at_ma"])
        there = middle * light_laws(led.law).usual.times(at_ma / led.test_ma)
        return {"readings": [there / 1000 / 0.2**2], "distance_mm": 200, "at_ma": at_ma}  # derived: inverse square
    if what == "led half angle":
        order = math.log(0.5) / math.log(math.cos(math.radians(middle)))
        return {"readings": [200 * math.tan(math.acos(0.5 ** (1 / (order + 3))))], "distance_mm": 200}  # derived: cos^(m+3)
    if what == "led voltage":
        law, ohms = led_spread(PACKAGED.led(row.of)).typical, (330.0, 330.0, 330.0, 1000.0, 1000.0, 1000.0)
        volts = [brentq(lambda v, ohm=ohm: voltage_at_current(law, (5.0 - v) / ohm) - v, 0.5, 4.999) for ohm in ohms]
        return {"readings": volts, "against": [5.0 - v for v in volts], "series_ohm": list(ohms)}  # derived: Kirchhoff
    if what == "lamp":
        return {"readings": [middle / 0.1**2], "distance_mm": 100, "state": row.state}
    if what == "fibre joint":
        return {"readings": [middle / _unit(what, against=(1000.0,), fibre_mm=0.5, length_mm=200)], "against": [1000],
                "fibre_mm": 0.5, "length_mm": 200}
    if what == "fibre end":
        lost = middle - finish_db("polished").typical
        return {"readings": [1e4 * 10 ** (-lost / 10)], "against": [1e4]}
    if what == "fibre bend":
        law = 3.0103 / _unit(what, against=(2.0,), radius_mm=3, turn_deg=90, led=LED)
        return {"readings": [1e4 * 10 ** (-law * middle / 10)], "against": [1e4], "radius_mm": 3, "turn_deg": 90,
                "led": f'"{LED}"'}
    if what == "coat":
        return {"readings": [1e6 * 10**-middle], "against": [1e6], "count": 1}
    if what == "reflectance":
        return {"readings": [middle * 100], "against": [87]}  # source: white paper throws back 0.87, as in optics.bench
    if what == "hull warmth":
        return {"readings": [20 + middle], "against": [20], "power_w": made.heat.spaces[0].power_w.typical}
    if what == "bundle width":
        return {"readings": [middle * made.loom.bundles[0].ideal_mm], "count": 7}
    if what == "cell capacity":
        return {"readings": [middle * float(cell("LR6").rate.capacity_mah(0.05)) / 50], "at_ma": 50}  # derived: mAh over mA
    if what == "strip flux":
        unit = found_by(PACKAGED, Measured(what=what, of=row.of, readings=(1.0,), distance_mm=500, length_mm=50))
        return {"readings": [middle / unit[0].value.typical], "distance_mm": 500, "length_mm": 50}
    if what == "fibre length":
        return {"readings": [1e4 * 10 ** (-10 * middle / 10)], "against": [1e4], "length_mm": 10000, "led": f'"{LED}"'}
    if what == "cell resistance":
        ohm = middle * cell("CR2032").fresh_ohm
        return {"readings": [3.0 - ohm * 0.02], "against": [3.0], "at_ma": 20}  # derived: Ohm's law
    if what == "adapter volts":
        return {"readings": [middle], "printed_v": 3.6}
    if what == "post paint":
        return share
    if what == "bank energy":
        return {"readings": [middle * 5.0 * 3.7 / (5.0 * 0.15)], "at_ma": 150, "printed_mah": 5000}  # derived: Wh over W
    if what == "bank load":
        return {"readings": [1.1 * middle], "against": [0.9 * middle]}
    if what == "camera readout":
        return {"readings": [middle * 2], "pulse_hz": 2000}  # derived: two bands a millisecond
    if what == "wall":
        return share | {"thickness_mm": 1}
    return share if what in ("diffuser", "stray light", "light aside") else whole


def _unit(what: str, **keys: object) -> float:
    """What a reading of 1 comes to."""
    of = "0.5 mm fibre" if what == "fibre bend" else LED
    return found_by(PACKAGED, Measured(what=what, of=of, readings=(1.0,), **keys))[0].value.typical  # type: ignore[arg-type]


def entry(what: str, made: Design, row: Reading) -> str:
    keys = ", ".join(f"{key}: {value}" for key, value in keys_of(what, made, row).items())
    return f'measured:\n  - {{what: {what}, of: "{row.of or LED}", {keys}}}\n'
