"""What makes each circuit keep its rhythm: a channel of a controller, a flasher, or LEDs that time themselves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from rushlight.electric.elements import Element, resistor, wire
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Controller, RhythmMaker
from rushlight.stages.circuits import flashing_circuits
from rushlight.stages.switching import Switching, terminal_of
from rushlight.tables import rows
from rushlight.timing.character import parse_rhythm
from rushlight.timing.program import Channel
from rushlight.timing.rhythm import slowed

IN_FEED = ("controller", "flasher")
"""Makers that sit in the plus of a circuit."""


@dataclass(frozen=True, slots=True)
class MadeRhythm:
    """One circuit with a rhythm and what makes it; `by` is None where nothing does, `pin` None without a channel."""

    circuit: Circuit
    by: str | None
    pin: int | None = None
    stretch: float = 1.0
    """Its period over the rhythm's own, where circuits of one rhythm are to stray."""


@cache
def value(key: str) -> float:
    """Typical value of one row of rhythm_makers.csv."""
    return float(next(row["typical"] for row in rows("rhythm_makers") if row["key"] == key))


def board_of(plan: Plan) -> Controller:
    """The controller as the plan says, or a usual one."""
    return plan.controller or Controller()


def made_rhythms(plan: Plan, circuits: tuple[Circuit, ...], loom: Loom) -> tuple[MadeRhythm, ...]:
    """Every wired circuit whose rhythm is not steady, with what makes it.

    Parameters
    ----------
    plan : Plan
        Its `rhythms` and `controller`.
    circuits, loom
        Results of the stages before.
    Returns
    -------
    tuple of MadeRhythm
        Channels take the controller's pins in the order of the circuits; beyond its last pin a channel has none.
    """
    makers = {maker.rhythm: maker for maker in reversed(plan.rhythms)}
    flashing = flashing_circuits(circuits, loom)
    by_board = [row for row in flashing if row.rhythm in makers and makers[row.rhythm].by == "controller"]
    pins = dict(zip((row.name for row in by_board), (int(pin) for pin in board_of(plan).pins), strict=False))
    return tuple(
        MadeRhythm(row, makers[row.rhythm].by if row.rhythm in makers else None, pins.get(row.name),
                   _stretch(makers.get(row.rhythm), row, flashing))
        for row in flashing
    )


def _stretch(maker: RhythmMaker | None, circuit: Circuit, flashing: tuple[Circuit, ...]) -> float:
    """Periods spread evenly about the rhythm's own, so that circuits of one rhythm drift through one another."""
    alike = [row.name for row in flashing if row.rhythm == circuit.rhythm]
    if maker is None or len(alike) < 2:
        return 1.0
    place = 2 * alike.index(circuit.name) / (len(alike) - 1) - 1
    return 1.0 + place * maker.drift_share / 2


def unmade(made: tuple[MadeRhythm, ...]) -> tuple[Circuit, ...]:
    """Circuits whose rhythm nothing makes."""
    return tuple(row.circuit for row in made if row.by is None)


def channels(made: tuple[MadeRhythm, ...]) -> tuple[Channel, ...]:
    """What the controller's program drives, a channel for each circuit that has a pin."""
    found = [row for row in made if row.by == "controller" and row.pin is not None]
    return tuple(
        Channel(row.circuit.name, row.pin or 0, slowed(parse_rhythm(row.circuit.rhythm, seed=number), row.stretch))
        for number, row in enumerate(found)
    )


# --- in the network -----------------------------------------------------------------------------------------------


def with_makers(found: Switching, plan: Plan, made: tuple[MadeRhythm, ...], *, nominal_v: float) -> Switching:
    """The switch with what makes the rhythms behind it: a resistance in each such feed, and what the makers draw."""
    ohm = {row.circuit.name: value(f"{_part(row)}_ohm") for row in made if row.by in IN_FEED}
    if not ohm:
        return found
    out = {terminal_of(name): f"made {name}" for name in ohm}
    moved = [replace(row, node_b=out.get(row.node_b, row.node_b)) for row in found.elements]
    feeds = [wire(f"maker {name}", f"made {name}", terminal_of(name), ohm=each) for name, each in ohm.items()]
    return replace(found, elements=(*moved, *feeds, *_idle(plan, made, nominal_v)))


def _idle(plan: Plan, made: tuple[MadeRhythm, ...], nominal_v: float) -> list[Element]:
    amps = idle_a(plan, made)
    return [resistor("makers", "bus", terminal_of("R"), ohm=nominal_v / amps)] if amps > 0 else []


def _part(row: MadeRhythm) -> str:
    return "driver" if row.by == "controller" else "flasher"


def idle_a(plan: Plan, made: tuple[MadeRhythm, ...]) -> float:
    """What the board and the flashers draw by themselves, in every state [A]."""
    board = board_of(plan).idle_ma if any(row.by == "controller" for row in made) else 0.0
    flashers = sum(row.by == "flasher" for row in made) * value("flasher_idle_ma")
    return (board + flashers) / 1000
