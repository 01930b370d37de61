"""Names of what is read on the way to a fault, as the log holds them; needs no solver."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

FIND_STEP = "find_fault"
"""The entry of the log that holds what was seen and read on the way to a fault."""

FIND_TITLE = "find the fault"

MENDED = "mended: "
"""Begins the name of a mend in the log, before what was mended."""

OHMS, DIODE_TEST = ", supply off", ", supply off, diode test"
"""Follow the state's name in the log where the supply is taken off."""

Meant = tuple[str, str, str, str]
"""Kind (supply, resistor, volts, ohms, diode, beside), state, plus or the LED, back."""


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
    'under way: SA1 to bay R'; 'under way, supply off: SA1 to bay R';
    'under way, supply off, diode test: bay + to bay R'; 'under way: stern beside bow'.
    """
    if what.startswith("supply current, "):
        state = what.removeprefix("supply current, ")
        return ("supply", state, "", "") if state in names.states else None
    if what.startswith("across the resistor of "):
        return _resistor(what.removeprefix("across the resistor of "), names)
    for state in names.states:
        for kind, off in (("ohms", OHMS), ("diode", DIODE_TEST)):
            if what.startswith(f"{state}{off}: "):
                return _between(kind, state, what.removeprefix(f"{state}{off}: "), names)
        if what.startswith(f"{state}: "):
            rest = what.removeprefix(f"{state}: ")
            return _between("volts", state, rest, names) or _beside(state, rest, names)
    return None


def _resistor(rest: str, names: Named) -> Meant | None:
    for emitter, states in names.resistors.items():
        if rest == emitter and states:
            return ("resistor", states[0], emitter, "")
        for state in states:
            if rest == f"{emitter}, {state}":
                return ("resistor", state, emitter, "")
    return None


def _between(kind: str, state: str, rest: str, names: Named) -> Meant | None:
    found = _split(rest, " to ", names.places)
    return (kind, state, *found) if found else None


def _beside(state: str, rest: str, names: Named) -> Meant | None:
    emitters = frozenset(place[:-1] for place in names.places if place.endswith("+"))
    found = _split(rest, " beside ", emitters)
    return ("beside", state, *found) if found else None


def _split(text: str, word: str, known: Collection[str]) -> tuple[str, str] | None:
    """Two known names with a word between; an LED's own name may hold the word."""
    at = text.find(word)
    while at >= 0:
        one, two = text[:at], text[at + len(word) :]
        if one in known and two in known:
            return one, two
        at = text.find(word, at + 1)
    return None
