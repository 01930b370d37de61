"""The program of a small controller that keeps the rhythms: MicroPython, plain, one table of channels."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.timing.dimming import pwm_duty, pwm_step
from rushlight.timing.rhythm import Rhythm

FULL = 65535
"""Full light in the 16 bits of MicroPython's `PWM.duty_u16`."""

TICK_MS = 2
"""How long the program rests between two looks at the clock [ms]."""


@dataclass(frozen=True, slots=True)
class Channel:
    """One circuit that the controller drives: the circuit's name, the pin, the rhythm."""

    name: str
    pin: int
    rhythm: Rhythm


def program_text(title: str, channels: tuple[Channel, ...], *, pwm_hz: float) -> str:
    """The controller's program, to be saved on the board as main.py.

    Parameters
    ----------
    title : str
        What the model shows; for the first line alone.
    channels : tuple of Channel
        Each with its own pin.
    pwm_hz : float
        Pulses a second [Hz].
    Returns
    -------
    str
        A whole program. Light goes with the share of time that a pin is on, so duty is level.
    Source
    ------
    MicroPython documentation: machine.Pin, machine.PWM (freq, duty_u16), time.ticks_ms, time.ticks_diff.
    """
    return _HEAD.format(title=_comment(title), hz=round(pwm_hz), table=_table(channels), says=_SAYS) + _RUN.format(
        tick=TICK_MS)


def pin_test_text(title: str, channels: tuple[Channel, ...], *, pwm_hz: float) -> str:
    """A program to try first: each channel alone for a second, by name, then all of them until the plug is pulled."""
    return _HEAD.format(title=_comment(title), hz=round(pwm_hz), table=_pins(channels), says=_TEST_SAYS) + _TEST


def steps_ms(rhythm: Rhythm) -> tuple[tuple[int, int], ...]:
    """Duty of 16 bits and whole milliseconds of each step; the times are rounded so that a period stays a period.

    Raises
    ------
    OutOfRange
        From `pwm_step`, for a level outside 0 to 1.
    """
    found: list[tuple[int, int]] = []
    end_s, end_ms = 0.0, 0
    for step in rhythm.steps:
        end_s += step.seconds
        length = round(1000 * end_s) - end_ms
        end_ms += length
        duty = pwm_step(pwm_duty(step.level), bits=16).count
        if found and found[-1][0] == duty:
            found[-1] = (duty, found[-1][1] + length)
        elif length > 0:
            found.append((duty, length))
    return tuple(found)


def _table(channels: tuple[Channel, ...]) -> str:
    return "".join(
        f"    # {_comment(channel.rhythm.text)}\n"
        f"    ({channel.name!r}, {channel.pin}, {channel.rhythm.repeats}, {_steps(channel.rhythm)}),\n"
        for channel in channels
    )


def _steps(rhythm: Rhythm) -> str:
    inner = ", ".join(f"({duty}, {length})" for duty, length in steps_ms(rhythm))
    return f"({inner},)"


def _pins(channels: tuple[Channel, ...]) -> str:
    return "".join(f"    ({channel.name!r}, {channel.pin}),\n" for channel in channels)


def _comment(text: str) -> str:
    """Words that cannot end the comment that they stand in."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())[:100]


_SAYS = """\
# Save this on the board as main.py; it starts by itself whenever the board gets power.
# A line of the table is a circuit: its name, the pin of its driver, whether the rhythm repeats, and its steps, each
# (how bright, 0 to 65535; how long, in milliseconds). Change the numbers as you like."""

_TEST_SAYS = """\
# Save this on the board as main.py first. Each circuit lights alone for one second, in the order of the table, then all
# stay lit, so that you can measure. A wrong one or none: mend the wire before the real program takes its place."""

_HEAD = """\
# {title}
# Rhythms of the lamps, made by rushlight for a controller that runs MicroPython.
{says}

import time
from machine import PWM, Pin

PWM_HZ = {hz}

CHANNELS = (
{table})


def opened(number):
    pulses = PWM(Pin(number))
    pulses.freq(PWM_HZ)
    pulses.duty_u16(0)
    return pulses

"""

_RUN = """
class Lamp:
    def __init__(self, name, pin, repeats, steps):
        self.pulses = opened(pin)
        self.repeats = repeats
        self.steps = steps
        self.step = 0
        self.left = steps[0][1]
        self.pulses.duty_u16(steps[0][0])

    def passed(self, ms):
        self.left -= ms
        before = self.step
        while self.left <= 0:
            if self.step + 1 == len(self.steps) and not self.repeats:
                self.left = 1 << 29
                break
            self.step = (self.step + 1) % len(self.steps)
            self.left += self.steps[self.step][1]
        if self.step != before:
            self.pulses.duty_u16(self.steps[self.step][0])


lamps = [Lamp(*channel) for channel in CHANNELS]
last = time.ticks_ms()
while True:
    now = time.ticks_ms()
    ms = time.ticks_diff(now, last)
    last = now
    for lamp in lamps:
        lamp.passed(ms)
    time.sleep_ms({tick})
"""

_TEST = """
all_pulses = [(name, opened(pin)) for name, pin in CHANNELS]
for name, pulses in all_pulses:
    print("circuit", name)
    pulses.duty_u16(65535)
    time.sleep_ms(1000)
    pulses.duty_u16(0)
print("all")
for name, pulses in all_pulses:
    pulses.duty_u16(65535)
"""
