"""Circuits: lamps that always switch and flash together."""

from __future__ import annotations

from rushlight.model.design import PlacedLamp
from rushlight.model.design_loom import Circuit, Loom
from rushlight.timing.character import parse_rhythm

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which read as figures on a label."""


def find_circuits(lamps: tuple[PlacedLamp, ...]) -> tuple[Circuit, ...]:
    """Group lit lamps by their states and rhythm, in the order in which they first appear; named A, B, C, ...

    Parameters
    ----------
    lamps : tuple of PlacedLamp
        All lamps; those that are lit in no state belong to no circuit.
    Returns
    -------
    tuple of Circuit
        Every lit lamp in exactly one of them.
    """
    groups: dict[tuple[tuple[str, ...], str], list[str]] = {}
    for lamp in lamps:
        if lamp.states:
            groups.setdefault((tuple(sorted(lamp.states)), lamp.rhythm), []).append(lamp.name)
    return tuple(
        Circuit(name=circuit_name(number), states=states, rhythm=rhythm, lamps=tuple(names))
        for number, ((states, rhythm), names) in enumerate(groups.items())
    )


def circuit_name(number: int) -> str:
    """A, B, ... Z, AA, AB, ...; number counts from 0."""
    first, last = divmod(number, len(LETTERS))
    return (LETTERS[first - 1] if first else "") + LETTERS[last]


def flashing_circuits(circuits: tuple[Circuit, ...], loom: Loom) -> tuple[Circuit, ...]:
    """The wired circuits whose rhythm is not steady: each needs a part in its feed that makes the rhythm."""
    wired = {emitter.circuit for emitter in loom.emitters}
    return tuple(circuit for circuit in circuits if circuit.name in wired and _changes(circuit.rhythm))


def _changes(rhythm: str) -> bool:
    return len({(step.colour, step.level) for step in parse_rhythm(rhythm).steps}) > 1
