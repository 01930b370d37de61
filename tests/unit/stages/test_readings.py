"""What to measure first: the ranking, proved by taking each reading."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from designed import PACKAGED, designed, planned
from rushlight.files.own_values import own_values
from rushlight.model.design import Design
from rushlight.model.plan_bench import Measured
from rushlight.optics.led_light import light_laws
from rushlight.sheets.readings import reading_blocks
from rushlight.stages.build import Build
from rushlight.stages.light import lamp_lights
from rushlight.stages.measured import found_by
from rushlight.stages.readings import Reading, readings_of

LED = next(row.name for row in PACKAGED.leds if row.lens == "flat top")

PLAN = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, wall: black styrene,
     wall_mm: 3, coats: [black lacquer, black lacquer, black lacquer],
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: single, part: yard, at_mm: [30, 20], colour: red, model_mm: 3, states: [night]}
rows:
  - {name: ports, part: yard, along_mm: [[60, 40], [160, 40]], count: 7, colour: warm white, model_mm: 0.5, states: [night],
     source: {kind: fibre, fibre_mm: 0.5}}
"""


def _width(made: Design) -> float:
    """Stops of what is likely of all lamps together."""
    return sum(math.log2(row.likely_cd.high / row.likely_cd.low) for row in made.light.lamps)


def _taken(made: Design, reading: Reading) -> Design:
    """The design with a reading in its plan that comes to the middle of what is believed, as the sheet says."""
    middle = reading.now.typical
    if reading.table == "habits":
        joint = Measured(what="fibre joint", of=LED, readings=(1.0,), against=(1000.0,), fibre_mm=0.5, length_mm=200)
        whole = found_by(PACKAGED, joint)[0].value.typical  # the law is linear in the reading
        one = replace(joint, readings=(middle / whole,), off_share=0.2)
    else:
        led, at_ma = PACKAGED.led(reading.row), float(dict(reading.usual)["at_ma"])
        there = middle * light_laws(led.law).usual.times(at_ma / led.test_ma)
        one = Measured(what="led intensity", of=reading.row, readings=(there / 1000 / 0.2**2,), distance_mm=200,
                       at_ma=at_ma)
    return designed(replace(made.plan, measured=(one,)))


def test_the_first_reading_narrows_most() -> None:
    made = designed(PLAN)
    ranked = sorted((row for row in readings_of(made) if row.table == "habits" or row.column == "intensity_mcd"),
                    key=lambda row: -row.stops)
    gains = [_width(made) - _width(_taken(made, row)) for row in ranked]
    assert len(gains) >= 3 and min(gains) > 0
    assert gains == sorted(gains, reverse=True)
    assert [row.stops for row in ranked] == pytest.approx(gains, rel=0.1)


def test_the_reading_is_used_up_once_it_is_taken() -> None:
    text = PLAN + "practice: [{habit: fibre_joint, value: 0.5, to: 0.5}]\n"
    assert all(row.table != "habits" for row in readings_of(designed(text)))
    wide = readings_of(designed(text.replace("to: 0.5", "to: 0.9")))
    assert any(row.table == "habits" for row in wide)


def test_only_undecided_answers_count_where_there_are_some() -> None:
    plan = planned(PLAN)
    made = designed(plan)
    for row in readings_of(made):
        assert row.touched >= row.undecided >= 1
        assert row.after.high / row.after.low < row.before.high / row.before.low


def test_a_measured_joint_moves_the_tails_light() -> None:
    low, high = (designed(PLAN + f"pinned: [{{of: ports, choice: current_ma, value: '4'}}]\npractice: [{{habit: "
                          f"fibre_joint, value: {share}, to: {share}}}]\n") for share in (0.4, 0.8))
    first, second = (next(row for row in made.light.lamps if row.lamp == "ports 1") for made in (low, high))
    amps = [next(s.current_a.typical for s in made.power.states[-1].lit if s.emitter.startswith("I")) for made in (low, high)]
    assert second.flux_lm.typical / first.flux_lm.typical == pytest.approx(2 * amps[1] / amps[0], rel=0.02)


ROOM = PLAN.replace("     bays:", "     openings: [{name: w, rect_mm: [20, 60, 8, 8]}],\n     bays:").replace(
    "rows:", "  - {name: den, part: yard, at_mm: [24, 64], colour: warm white, opening: w, states: [night]}\nrows:")


def test_a_boxed_rooms_paint_is_among_the_guesses_until_it_is_read() -> None:
    made = designed(ROOM)
    [row] = [row for row in readings_of(made) if row.column == "room paint"]
    assert (row.method, row.of, row.most) == ("reflectance", "boxed room", "den")
    text = "measured: [{what: reflectance, of: boxed room, readings: [60], against: [87], off_share: 0.05}]\n"
    drawer = own_values(PACKAGED, planned(ROOM + text))
    build = Build(made.plan, drawer, made.lamps, made.sources, made.circuits, made.loom, made.power)
    lights = {light.lamp: light.intensity_cd for light in lamp_lights(build, made.aims)}
    was = next(light.intensity_cd for light in made.light.lamps if light.lamp == "den")
    now = lights["den"]
    assert now.high / now.low < was.high / was.low
    assert now.typical == pytest.approx(was.typical)  # derived: 60 / 87 of paper's 0.87 is the 0.6 that was believed


def test_the_form_names_each_thing_once() -> None:
    form = next(block for block in reading_blocks(designed(PLAN)) if block.key == "light-readings-form")
    names = [row[0] for row in form.rows if row[0]]
    assert len(names) == len(set(names)) < len(form.rows)
