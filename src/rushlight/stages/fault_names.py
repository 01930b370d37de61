"""Names of what is read on the way to a fault, as the log holds them; needs no solver."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

FIND_STEP = "find_fault"
"""The entry of the log that holds what was seen and read on the way to a fault."""

FIND_TITLE = "find the fault"

Meant = tuple[str, str, str, str]
"""Kind (supply, resistor, volts), state, plus or the LED, back."""


@dataclass(frozen=True, slots=True)
class Named:
    """What readings may name: states in which something is lit, LEDs with a resistor, places for probes."""

    states: tuple[str, ...]
    resistors: Mapping[str, tuple[str, ...]]
    places: frozenset[str]


def probe_named(what: str, names: Named) -> Meant | None:
    """Kind, state and places of the probe that a reading's name means; None if it names nothing of this loom.

    Examples
    --------
    'supply current, under way'; 'across the resistor of stern'; 'across the resistor of stern, moored';
    'under way: SA1 to bay R'.
    """
    if what.startswith("supply current, "):
        state = what.removeprefix("supply current, ")
        return ("supply", state, "", "") if state in names.states else None
    if what.startswith("across the resistor of "):
        return _resistor(what.removeprefix("across the resistor of "), names)
    for state in names.states:
        if what.startswith(f"{state}: "):
            return _volts(state, what.removeprefix(f"{state}: "), names)
    return None


def _resistor(rest: str, names: Named) -> Meant | None:
    for emitter, states in names.resistors.items():
        if rest == emitter and states:
            return ("resistor", states[0], emitter, "")
        for state in states:
            if rest == f"{emitter}, {state}":
                return ("resistor", state, emitter, "")
    return None


def _volts(state: str, rest: str, names: Named) -> Meant | None:
    """Both places by trying every ' to ': an LED's own name may hold one."""
    at = rest.find(" to ")
    while at >= 0:
        plus, back = rest[:at], rest[at + 4 :]
        if plus in names.places and back in names.places:
            return ("volts", state, plus, back)
        at = rest.find(" to ", at + 1)
    return None
