"""LEDs that run at a current far from those at which one was read."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble

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
    return tuple(found)


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
        "a guess, and the resistor with it.",
    cure="Read it once more with a resistor that lets about as much through as the lamp will get.",
    source="Shockley's law through the readings; the limit is a project rule",
    look=_look,
)
