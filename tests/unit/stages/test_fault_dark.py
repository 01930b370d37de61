"""Whether a fault leaves a lamp dark: by its light and what an eye sees of it, not by its current."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from designed import designed
from plans import board
from rushlight.stages.fault_dark import shown_light_a
from rushlight.stages.fault_known import KnownFaults, known_faults
from rushlight.stages.fault_looks import looks_of
from rushlight.stages.parts_law import emitter_current_a, emitter_light_a

LAMP = "{{name: {name}, part: board, at_mm: [{x}, 50], colour: {colour}, model_mm: 3, states: day, {more}source: {{kind: led}}}}"


@cache
def made() -> KnownFaults:
    lamps = "\n".join(LAMP.format(name=name, x=x, colour=colour, more="") for name, x, colour in (
        ("red", 20, "red"), ("white", 50, "warm white")))
    return known_faults(designed(board(lamps, supply="supply: {kind: adapter, adapter_v: 5, bay: bay}\n")), usual=True)


def test_what_is_just_seen_is_as_bright_as_the_room_asks() -> None:
    """Second method: the lamp's luminance at that light by hand, beside contrast times background."""
    known = made()
    for name, (dark, plain) in zip(known.bank.emitters, known.bank.shown_a.T, strict=True):
        [light] = [row for row in known.design.light.lamps if row.lamp == name]
        [row] = [row for row in known.design.power.states[0].lit if row.emitter == name]
        per_a = light.luminance_cd_m2.typical / row.light_a
        assert per_a * dark == pytest.approx(0.05 * 0.5 * 10 / math.pi)  # source: viewing_rooms.csv, dim; half white round it
        assert per_a * plain == pytest.approx(3 * 0.02 * 0.5 * 200 / math.pi)  # source: lit; three times just seen


def test_a_red_led_is_dark_at_a_current_at_which_a_white_one_shows() -> None:
    """Red makes next to no light of little current, white as much as ever: no one current tells dark from lit."""
    known = made()
    own = {name: known.design.loom.emitter(name) for name in known.bank.emitters}
    amps = {name: [emitter_current_a(known.design.drawer, own[name], light) for light in known.bank.shown_a[:, k]]
            for k, name in enumerate(known.bank.emitters)}
    assert 2 * amps["white"][1] < amps["red"][1] < 1e-4 and amps["white"][0] < amps["red"][0]
    small_a = math.sqrt(amps["white"][1] * amps["red"][1])
    now = np.array([[2 * [emitter_light_a(known.design.drawer, own[name], small_a).typical] for name in known.bank.emitters]])
    bank = replace(known.bank)
    bank.__dict__.update(light_a=np.concatenate([known.bank.light_a[:1], now]), rows=np.array([[1], [1]]))
    look = looks_of(known.bank, bank, 0).one(0)
    assert "red" in look.dark | look.faint and "white" not in look.dark | look.faint and "white" in look.dim | look.perhaps


def test_a_small_lamp_asks_for_more_light_than_it_is_wide() -> None:
    """Under the eye's summation (2 minutes of arc in a lit room) light counts, not luminance: half the width, 4 times."""
    lamp = LAMP.format(name="red", x=20, colour="red", more="")
    of = designed(board(lamp, supply="supply: {kind: adapter, adapter_v: 5, bay: bay}\n"))
    found = []
    for size in (0.06, 0.12, 3.0, 6.0):
        other = replace(of, sources=tuple(replace(row, seen_mm=size) for row in of.sources))
        found.append(float(shown_light_a(other, ("red",))[1, 0]))
    assert found[0] == pytest.approx(4 * found[1], rel=1e-6) and found[2] == pytest.approx(found[3])


def test_an_led_without_a_lamp_that_is_known_goes_by_its_current() -> None:
    known = made()
    of = replace(known.design, light=replace(known.design.light, lamps=()))
    dark, plain = shown_light_a(of, ("red",))[:, 0]
    assert emitter_current_a(of.drawer, of.loom.emitter("red"), dark) == pytest.approx(1e-5 / 3)
    assert emitter_current_a(of.drawer, of.loom.emitter("red"), plain) == pytest.approx(3e-5)
    assert shown_light_a(of, ()).shape == (2, 0)
