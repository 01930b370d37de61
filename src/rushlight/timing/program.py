"""The program of a small controller that keeps the rhythms and may step the states: MicroPython, one plain table."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.timing.dimming import pwm_duty, pwm_step
from rushlight.timing.rhythm import Rhythm

FULL = 65535
"""Full light in the 16 bits of MicroPython's `PWM.duty_u16`."""

TICK_MS = 2
"""How long the program rests between two looks at the clock [ms]."""


DEBOUNCE_MS = 30
"""How long the button must stay as it is before it counts [ms]: contacts of small buttons and reeds bounce for a few
milliseconds, seldom for 10 (common practice, no source); a finger holds one for 80 and more."""


@dataclass(frozen=True, slots=True)
class Channel:
    """One circuit that the controller drives: the circuit's name, the pin, the rhythm, the states that light it."""

    name: str
    pin: int
    rhythm: Rhythm
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Button:
    """What steps the states: in words ('push button'), its pin, the states in the order of the presses."""

    words: str
    pin: int
    states: tuple[str, ...]


def program_text(title: str, channels: tuple[Channel, ...], *, pwm_hz: float, button: Button | None = None) -> str:
    """The controller's program, to be saved on the board as main.py.

    Parameters
    ----------
    title : str
        What the model shows; for the first line alone.
    channels : tuple of Channel
        Each with its own pin.
    pwm_hz : float
        Pulses a second [Hz].
    button : Button, optional
        What steps the states; without it every channel keeps its rhythm for ever, and a switch brings up the states.
    Returns
    -------
    str
        A whole program. Light goes with the share of time that a pin is on, so duty is level. A press counts once the
        button has stayed pressed for DEBOUNCE_MS; one that is held while the board starts does not count.
    Source
    ------
    MicroPython documentation: machine.Pin (IN, PULL_UP, value), machine.PWM (freq, duty_u16), time.ticks_ms,
    time.ticks_diff.
    """
    if button is None:
        return _head(title, channels=_table(channels), pwm_hz=pwm_hz, says=_SAYS) + _RUN.format(tick=TICK_MS)
    names = "".join(f"    {state!r},\n" for state in button.states)
    head = _head(title, channels=_stepped_table(channels, button), pwm_hz=pwm_hz,
                 says=_STEP_SAYS.format(words=button.words),
                 states=_PIN.format(pin=button.pin) + _STATES.format(debounce=DEBOUNCE_MS, states=names))
    return head + _STEP_RUN.format(tick=TICK_MS)


def pin_test_text(title: str, channels: tuple[Channel, ...], *, pwm_hz: float, button: Button | None = None) -> str:
    """A program to try first: each channel alone for a second, by name, then all of them until the plug is pulled.

    With a button all are dark while it is pressed.
    """
    says = _TEST_SAYS + (_TEST_BUTTON_SAYS.format(words=button.words) if button else "")
    pin = _PIN.format(pin=button.pin) if button else ""
    head = _head(title, channels=_pins(channels), pwm_hz=pwm_hz, says=says, states=pin)
    return head + _TEST + (_TEST_BUTTON if button else "")


def _head(title: str, *, channels: str, pwm_hz: float, says: str, states: str = "") -> str:
    return _HEAD.format(title=_comment(title), hz=round(pwm_hz), table=channels, says=says, states=states)


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


def _stepped_table(channels: tuple[Channel, ...], button: Button) -> str:
    return "".join(
        f"    # {_comment(', '.join(state for state in button.states if state in channel.states))}: "
        f"{_comment(channel.rhythm.text)}\n"
        f"    ({channel.name!r}, {channel.pin}, {_numbers(channel, button)}, {channel.rhythm.repeats}, "
        f"{_steps(channel.rhythm)}),\n"
        for channel in channels
    )


def _numbers(channel: Channel, button: Button) -> tuple[int, ...]:
    """Places of the states that light a channel, from 0."""
    return tuple(number for number, state in enumerate(button.states) if state in channel.states)


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

_STEP_SAYS = """\
# Save this on the board as main.py; it starts by itself whenever the board gets power, in the first state.
# Each press of the {words} is a step to the next state; after the last comes the first again.
# A line of the table is a circuit: its name, the pin of its driver, the states that light it (0 is the first), whether
# the rhythm repeats, and its steps, each (how bright, 0 to 65535; how long, in milliseconds). Change the numbers as you
# like."""

_TEST_SAYS = """\
# Save this on the board as main.py first. Each circuit lights alone for one second, in the order of the table, then all
# stay lit, so that you can measure. A wrong one or none: mend the wire before the real program takes its place."""

_TEST_BUTTON_SAYS = """
# Then close the {words}: while it is closed all go dark. If nothing changes, its two wires are wrong."""

_PIN = """
BUTTON_PIN = {pin}
"""

_STATES = """\
# A press counts once the button has stayed pressed for so many milliseconds; a worn one may need more.
DEBOUNCE_MS = {debounce}

STATES = (
{states})
"""

_HEAD = """\
# {title}
# Rhythms of the lamps, made by rushlight for a controller that runs MicroPython.
{says}

import time
from machine import PWM, Pin

PWM_HZ = {hz}
{states}
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

_STEP_RUN = """
class Lamp:
    def __init__(self, name, pin, states, repeats, steps):
        self.pulses = opened(pin)
        self.states = states
        self.repeats = repeats
        self.steps = steps
        self.lit = False

    def show(self, state):
        lit = state in self.states
        if lit and not self.lit:
            self.step = 0
            self.left = self.steps[0][1]
            self.pulses.duty_u16(self.steps[0][0])
        elif self.lit and not lit:
            self.pulses.duty_u16(0)
        self.lit = lit

    def passed(self, ms):
        if not self.lit:
            return
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


class Presses:
    def __init__(self, pin):
        self.pin = Pin(pin, Pin.IN, Pin.PULL_UP)
        self.held = True
        self.stayed = None

    def passed(self, ms):
        if (self.pin.value() == 0) == self.held:
            self.stayed = None
            return False
        self.stayed = 0 if self.stayed is None else self.stayed + ms
        if self.stayed < DEBOUNCE_MS:
            return False
        self.held = not self.held
        self.stayed = None
        return self.held


lamps = [Lamp(*channel) for channel in CHANNELS]
presses = Presses(BUTTON_PIN)
state = 0
for lamp in lamps:
    lamp.show(state)
last = time.ticks_ms()
while True:
    now = time.ticks_ms()
    ms = time.ticks_diff(now, last)
    last = now
    for lamp in lamps:
        lamp.passed(ms)
    if presses.passed(ms):
        state = (state + 1) % len(STATES)
        for lamp in lamps:
            lamp.show(state)
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

_TEST_BUTTON = """
button = Pin(BUTTON_PIN, Pin.IN, Pin.PULL_UP)
while True:
    for name, pulses in all_pulses:
        pulses.duty_u16(65535 if button.value() else 0)
    time.sleep_ms(20)
"""
