"""LEDs that run at a current far from those at which one was read, for its voltage or for its light."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import LedPart
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.led_light import light_laws
from rushlight.stages.parts_law import most_apart

BEYOND = 4.0
"""How many times outside the currents read a law still holds well enough (project rule)."""


NOUGHT = 10.0


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for led in design.drawer.leds:
        own = led.own_law
        if own is None:
            continue
        these = [one for one in design.loom.emitters if one.part_row == led.name]
        times = {one: _times(one, own.least_ma, own.most_ma) for one in these}
        far = [one for one, value in times.items() if value > BEYOND]
        if far:
            worst = max(far, key=lambda one: times[one])
            found.append(Trouble(
                item=led.name, spot=worst.spot, number=times[worst], limit=BEYOND,
                says=f"'{led.name}' was read at {plain(own.least_ma)} to {plain(own.most_ma)} mA; "
                     f"{listed([one.name for one in far])} will run at {plain(1000 * worst.aim_current_a)} mA.",
                cure=_cure(1000 * worst.aim_current_a, own.least_ma, own.most_ma),
            ))
    return (*found, *_light_elsewhere(design))


def _light_elsewhere(design: Design) -> Iterator[Trouble]:
    """LEDs whose light was read at one current and that run at others, at which it is then hardly known."""
    even = most_apart(design.drawer)
    for led in design.drawer.leds:
        if led.read_ma is None:
            continue
        runs_ma = {one: 1000 * one.aim_current_a for one in design.loom.emitters
                   if one.part_row == led.name and one.aim_current_a > 0}
        open_times = {one: light_open_times(led, led.read_ma, ma) for one, ma in runs_ma.items()}
        far = [one for one, times in open_times.items() if times > even]
        if not far:
            continue
        worst = max(far, key=lambda one: open_times[one])
        away = max(runs_ma[worst] / led.read_ma, led.read_ma / runs_ma[worst])
        yield Trouble(
            item=led.name, spot=worst.spot, number=away, limit=None,
            says=f"The light of '{led.name}' was read at {plain(led.read_ma)} mA; {listed([one.name for one in far])} "
                 f"will run at {plain(runs_ma[worst])} mA, where it is open by {plain(open_times[worst])} times.",
            cure=_middle(led, list(runs_ma.values())),
        )


def light_open_times(led: LedPart, read_ma: float, ma: float) -> float:
    """How many times its least light at a current its most is, by what light does between the current read and it."""
    laws = light_laws(led.law).times(ma / led.test_ma, read_ma / led.test_ma)
    return laws.high / laws.low if laws.low > 0 else math.inf


def _middle(led: LedPart, runs_ma: list[float]) -> str:
    """The one current at which a reading leaves least open, of all that its lamps have."""
    low, high = min(runs_ma), max(runs_ma)
    tries = [low * (high / low) ** (k / 20) for k in range(21)]
    best = min(tries, key=lambda at: max(light_open_times(led, at, ma) for ma in (low, high)))
    left = max(light_open_times(led, best, ma) for ma in (low, high))
    if high < 1.05 * low:
        return f"Read its light once more at {plain(low)} mA, as it will run; strike the other entry."
    return (f"Read its light once more at {plain(best)} mA, between the {plain(low)} and {plain(high)} mA of its "
            f"lamps, and strike the other entry: that leaves {plain(left)} times open at either.")


def _cure(amps_ma: float, least_ma: float, most_ma: float) -> str:
    """Where resistors with a nought more or less would put the readings round the lamp's current, these come first."""
    more = NOUGHT if amps_ma > most_ma else 1.0 / NOUGHT
    if not least_ma * more / BEYOND <= amps_ma <= most_ma * more * BEYOND:
        return ""
    word = "less" if more > 1.0 else "more"
    return (f"Look at the bands of its resistors first: with a nought {word} they let {plain(least_ma * more)} to "
            f"{plain(most_ma * more)} mA through. If they are as told: {RULE.cure[0].lower()}{RULE.cure[1:]}")


def _times(emitter: Emitter, least_ma: float, most_ma: float) -> float:
    """How many times outside the currents read an LED runs; 1 within them."""
    amps_ma = 1000 * emitter.aim_current_a
    return max(1.0, least_ma / amps_ma, amps_ma / most_ma) if amps_ma > 0 else 1.0


RULE = Rule(
    key="plan.led-read-elsewhere",
    grade=Grade.DOUBTFUL,
    title="LED read at other currents than it runs at",
    unit="times",
    why="Between the currents that were read its voltage is known well, a little beyond them too; far off it is again "
        "a guess, and the resistor with it. So is its light far from the current at which that was read.",
    cure="Read it once more with a resistor that lets about as much through as the lamp will get.",
    source="Shockley's law through the readings, the limit is a project rule; light: early and late LEDs of its "
           "colour, habit equal",
    look=_look,
)
