"""The controller's program under the real MicroPython interpreter: what each pin does, when.

Source: MicroPython 1.27.0 (its WebAssembly build), which runs the very program that the book holds; only the pins and
the clock are stand-ins. The wanted times are those of the rhythms themselves, which have their own outside checks.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from rushlight.timing.character import parse_rhythm
from rushlight.timing.program import DEBOUNCE_MS, Button, Channel, pin_test_text, program_text
from rushlight.timing.rhythm import slowed

RUNNER = Path(__file__).parent / "run_program.mjs"
LATE_MS = 3
SLACK_MS = 2 + LATE_MS + 1
"""A change comes at most one rest of the loop, its lateness and a rounded millisecond after its time."""

RHYTHMS = (
    "Fl(2) W 10s", "Iso Y 4s", "Oc(2) W 8s", "Q(9) 15s", "VQ(6)+LFl W 10s", "Mo(A) 8s", "flicker", "fade 3 s",
    "double strobe 1.2 s", "random windows", "Fl R 4s (fl 0.3 ec 3.7)", "steps W:0.333;-:0.667",
)

pytestmark = pytest.mark.skipif(
    shutil.which("node") is None and not os.environ.get("CI"), reason="node is not installed"
)


def run(
    program: str, *, until_ms: int, start_ms: int = 0, late_ms: int = LATE_MS,
    button: Sequence[tuple[float, int]] = (),
) -> dict[str, Any]:
    asked = {"program": program, "until_ms": until_ms, "start_ms": start_ms, "late_ms": late_ms,
             "button": list(button)}
    done = subprocess.run(["node", str(RUNNER)], input=json.dumps(asked), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    answer: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return answer


def duty_at(log: list[list[int]], pin: int, ms: float) -> int:
    return [duty for at, number, duty in log if number == pin and at <= ms][-1]


def changes_ms(channel: Channel, until_ms: float) -> list[float]:
    """Times at which the rhythm itself changes."""
    at, found = 0.0, []
    while at < until_ms:
        for step in channel.rhythm.steps:
            at += 1000 * step.seconds
            found.append(at)
    return found


@pytest.mark.parametrize("start_ms", [0, (1 << 30) - 7_000], ids=["from zero", "the clock runs over"])
def test_every_pin_keeps_its_rhythm(start_ms: int) -> None:
    channels = tuple(Channel(f"C{n}", n + 2, parse_rhythm(text, seed=n)) for n, text in enumerate(RHYTHMS))
    until_ms = 61_000
    answer = run(program_text("a test", channels, pwm_hz=2000), until_ms=until_ms, start_ms=start_ms)
    assert set(answer["hz"]) == {2000}
    for channel in channels:
        changes = changes_ms(channel, until_ms)
        for ms in range(5, until_ms - 20, 97):
            if min(abs(ms - at) for at in changes) <= SLACK_MS:
                continue
            wanted = round(65535 * channel.rhythm.level_at(ms / 1000))
            given = duty_at(answer["log"], channel.pin, ms)
            assert abs(given - wanted) <= 1, (channel.rhythm.text, ms, given, wanted)


@pytest.mark.parametrize("minutes", [20, pytest.param(60, marks=pytest.mark.slow)])
def test_many_late_looks_do_not_add_up(minutes: int) -> None:
    """After so long with loops that are up to 3 ms late the flash still begins on its second."""
    channel = Channel("A", 0, parse_rhythm("steps W:0.5;-:4.5"))
    log = run(program_text("late looks", (channel,), pwm_hz=2000), until_ms=60_000 * minutes)["log"]
    onsets = [at for at, _, duty in log if duty == 65535]
    assert len(onsets) == 12 * minutes + 1
    assert max(at - 5000 * number for number, at in enumerate(onsets[1:-1], 1)) <= SLACK_MS


def test_rhythms_that_stray_part_and_meet() -> None:
    """Two circuits 2 % apart are in step again after one period over 0.02."""
    even = parse_rhythm("steps W:0.5;-:0.5")
    channels = (Channel("A", 0, slowed(even, 0.99)), Channel("B", 1, slowed(even, 1.01)))
    log = run(program_text("drift", channels, pwm_hz=2000), until_ms=60_000, late_ms=0)["log"]
    both = [duty_at(log, 0, ms) == duty_at(log, 1, ms) for ms in range(0, 60_000, 50)]
    apart, met = sum(both[440:560]) / 120, sum(both[980:1020]) / 40
    assert apart < 0.2 and met > 0.9


def test_what_happens_once_stays() -> None:
    once = parse_rhythm("spool-up 4 s")
    assert not once.repeats
    log = run(program_text("once", (Channel("A", 0, once),), pwm_hz=2000), until_ms=700_000)["log"]
    assert log[-1][0] <= 1000 * once.period_s + SLACK_MS and log[-1][2] == round(65535 * once.steps[-1].level)


def test_the_pin_test_lights_one_after_the_other_and_then_all() -> None:
    channels = tuple(Channel(name, pin, parse_rhythm("flicker")) for name, pin in (("A", 4), ("B'", 7)))
    answer = run(pin_test_text('a "title"\nwith two lines', channels, pwm_hz=2000), until_ms=10_000, late_ms=0)
    assert answer["printed"] == ["circuit A", "circuit B'", "all"]
    assert [(at, pin) for at, pin, duty in answer["log"] if duty == 65535] == [(0, 4), (1000, 7), (2000, 4), (2000, 7)]
    assert duty_at(answer["log"], 4, 1500) == 0


def test_words_cannot_end_their_comment() -> None:
    channel = Channel("A'); import os  #", 1, parse_rhythm("Iso 2s"))
    text = program_text("x\nimport machine; machine.reset()", (channel,), pwm_hz=1000)
    assert text.splitlines()[0] == "# x import machine; machine.reset()"
    assert len(run(text, until_ms=5_000)["log"]) > 3


# --- states stepped by a button -----------------------------------------------------------------------------------

STATES = ("under way", "towing", "at anchor", "off")
STEPPED = (
    Channel("A", 2, parse_rhythm("steady"), ("under way", "towing")),
    Channel("B", 3, parse_rhythm("steps W:0.5;-:0.5"), ("towing", "at anchor")),
    Channel("C", 4, parse_rhythm("steady"), ("at anchor",)),
)
BUTTON = Button("push button", 9, STATES)
BOUNCE_MS = 8.0
"""How long contacts of small buttons bounce: seldom over 6 ms (usual data sheets promise 5 to 10 at most)."""


def pressed(downs_ms: Sequence[float], *, hold_ms: float = 120.0, seed: int = 1) -> list[tuple[float, int]]:
    """Levels of a pin (0 while the contact is closed) that bounces at each press and each release."""
    rng, levels = random.Random(seed), []
    for down in downs_ms:
        for start, level in ((down, 0), (down + hold_ms, 1)):
            at = start
            while at < start + BOUNCE_MS:
                levels += [(at, level), (at + rng.uniform(0.2, 1.0), 1 - level)]
                at += rng.uniform(1.2, 2.5)
            levels.append((start + BOUNCE_MS + 1, level))
    return levels


def stepped(button: Sequence[tuple[float, int]], until_ms: int, **how: int) -> list[list[int]]:
    answer = run(program_text("steps", STEPPED, pwm_hz=2000, button=BUTTON), until_ms=until_ms, button=button, **how)
    assert answer["pulls"] == [[BUTTON.pin, 0, 1]]  # an input that the board itself pulls up
    log: list[list[int]] = answer["log"]
    return log


def lit_at(log: list[list[int]], ms: float) -> set[str]:
    return {channel.name for channel in STEPPED if duty_at(log, channel.pin, ms) > 0}


@pytest.mark.parametrize("start_ms", [0, (1 << 30) - 4_000], ids=["from zero", "the clock runs over"])
def test_each_press_is_one_step_however_its_contact_bounces(start_ms: int) -> None:
    """Nine presses through four states and round again; circuit B is asked in the first half second of a state."""
    downs = [1000.0 * number for number in range(1, 10)]
    log = stepped(pressed(downs), 10_500, start_ms=start_ms)
    for number in range(10):
        lit = {channel.name for channel in STEPPED if STATES[number % 4] in channel.states}
        again = {"B"} if number % 4 == 2 else set()  # its rhythm goes on from the state before
        assert lit_at(log, 1000 * number + 300) - again == lit - again, number


def test_a_step_comes_within_the_debounce_time_and_its_rhythm_starts_then() -> None:
    log = stepped(pressed([2000.0]), 6_000)
    onset = min(at for at, pin, duty in log if pin == 3 and duty == 65535)
    settled = 2000 + BOUNCE_MS + 1
    assert 2000 + DEBOUNCE_MS <= onset <= settled + DEBOUNCE_MS + 2 * SLACK_MS
    onsets = [at for at, pin, duty in log if pin == 3 and duty == 65535]
    assert all(abs(at - onset - 1000 * number) <= 2 * SLACK_MS for number, at in enumerate(onsets)) and len(onsets) > 3


def test_a_lamp_of_both_states_neither_blinks_nor_loses_its_place() -> None:
    log = stepped(pressed([1000.0, 2250.0]), 5_000)
    assert not [row for row in log if row[1] == 2 and row[2] == 65535 and row[0] > 0]  # A: on once, off once
    onsets = [at for at, pin, duty in log if pin == 3 and duty == 65535]
    assert all(abs(b - a - 1000) <= 2 * SLACK_MS for a, b in pairwise(onsets))  # B: no hitch at the second press


def test_spikes_a_held_button_and_one_held_at_the_start_do_not_step() -> None:
    spikes = [(500.0 + 40 * number + part, level) for number in range(40) for part, level in ((0, 0), (DEBOUNCE_MS / 2, 1))]
    assert lit_at(stepped(spikes, 4_000), 3_900) == {"A"}
    assert lit_at(stepped([(0.0, 0)], 4_000), 3_900) == {"A"}
    assert lit_at(stepped([(0.0, 0), (1000.0, 1), (1200.0, 0), (1300.0, 1)], 4_000, late_ms=0), 1_700) == {"A", "B"}
    assert lit_at(stepped([(1000.0, 0)], 9_000, late_ms=0), 8_200) - {"B"} == {"A"}  # one step, not many


def test_the_pin_test_goes_dark_while_the_button_is_pressed() -> None:
    text = pin_test_text("a test", STEPPED, pwm_hz=2000, button=BUTTON)
    answer = run(text, until_ms=8_000, button=[(5000.0, 0), (6000.0, 1)])
    assert [lit_at(answer["log"], ms) for ms in (4_900, 5_500, 6_500)] == [{"A", "B", "C"}, set(), {"A", "B", "C"}]
    assert answer["pulls"] == [[BUTTON.pin, 0, 1]]
