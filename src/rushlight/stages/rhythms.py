"""What makes each circuit keep its rhythm: a channel of a controller, a flasher, or LEDs that time themselves.

Where the controller steps the states, every circuit has a channel, those that burn steadily too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from rushlight.electric.elements import Element, resistor, wire
from rushlight.electric.switch import BUTTONS
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import RhythmMaker
from rushlight.stages.circuits import flashing_circuits
from rushlight.stages.drivers import Driver, driver_for
from rushlight.stages.supplies import Age
from rushlight.stages.switching import Switching, board_of, stepped_by, terminal_of, wired_circuits
from rushlight.tables import rows
from rushlight.timing.character import parse_rhythm
from rushlight.timing.program import Button, Channel
from rushlight.timing.rhythm import Rhythm, slowed

IN_FEED = ("controller", "flasher")
"""Makers that sit in the plus of a circuit."""


@dataclass(frozen=True, slots=True)
class MadeRhythm:
    """One circuit with a rhythm and what makes it; `by` is None where nothing does, `pin` None without a channel.

    `driven`: a driver of the controller stands in its feed, for its rhythm or to step the states. One that burns
    steadily is here only where it is driven.
    """

    circuit: Circuit
    by: str | None
    pin: int | None = None
    stretch: float = 1.0
    """Its period over the rhythm's own, where circuits of one rhythm are to stray."""

    driven: bool = False

    @property
    def flashes(self) -> bool:
        """Whether it has a rhythm that is not steady."""
        return self.by != STEADY


STEADY = "no rhythm"
"""What makes a circuit that burns steadily: nothing has to."""


@cache
def value(key: str) -> float:
    """Typical value of one row of rhythm_makers.csv."""
    return float(next(row["typical"] for row in rows("rhythm_makers") if row["key"] == key))


def made_rhythms(plan: Plan, circuits: tuple[Circuit, ...], loom: Loom) -> tuple[MadeRhythm, ...]:
    """Every wired circuit whose rhythm is not steady, with what makes it, and those that the controller switches.

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
    stepped = bool(stepped_by(plan))
    rows = wired_circuits(circuits, loom) if stepped else flashing
    by = {row.name: _by(row, flashing, makers) for row in rows}
    driven = [row.name for row in rows if stepped or by[row.name] == "controller"]
    pins = dict(zip(driven, (int(pin) for pin in board_of(plan).pins), strict=False))
    return tuple(
        MadeRhythm(row, by[row.name], pins.get(row.name), _stretch(makers.get(row.rhythm), row, flashing),
                   row.name in driven)
        for row in rows
    )


def _by(circuit: Circuit, flashing: tuple[Circuit, ...], makers: Mapping[str, RhythmMaker]) -> str | None:
    if circuit not in flashing:
        return STEADY
    return makers[circuit.rhythm].by if circuit.rhythm in makers else None


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
    """What the controller's program drives, a channel for each circuit that has a pin.

    A circuit whose rhythm something else makes, or nothing, is fed steadily in its states.
    """
    found = [row for row in made if row.driven and row.pin is not None]
    return tuple(
        Channel(row.circuit.name, row.pin or 0, _kept(row, number), row.circuit.states)
        for number, row in enumerate(found)
    )


def _kept(row: MadeRhythm, seed: int) -> Rhythm:
    text = row.circuit.rhythm if row.by == "controller" else "steady"
    return slowed(parse_rhythm(text, seed=seed), row.stretch)


def button_of(plan: Plan) -> Button | None:
    """What steps the states in the controller's program; None where a switch brings them up.

    Without a master switch one more press than there are states makes all dark.
    """
    kind = stepped_by(plan)
    if not kind:
        return None
    dark = () if plan.supply is not None and plan.supply.master else ("off",)
    return Button(BUTTONS[kind], board_of(plan).button_pin, (*(state.name for state in plan.states), *dark))


# --- in the network -----------------------------------------------------------------------------------------------


def with_makers(
    found: Switching, plan: Plan, made: tuple[MadeRhythm, ...], *, ages: tuple[Age, ...]
) -> Switching:
    """The switch with what makes the rhythms behind it: a resistance in each such feed, and what the makers draw."""
    driver = driver_for(ages)
    stepped = bool(stepped_by(plan))
    ohm = {row.circuit.name: in_feed_ohm(row, driver, apart=stepped) for row in made}
    ohm = {name: each for name, each in ohm.items() if each > 0}
    if not ohm and not stepped:
        return found
    out = {terminal_of(name): f"made {name}" for name in ohm}
    moved = [replace(row, node_b=out.get(row.node_b, row.node_b)) for row in found.elements]
    if stepped:  # the driver is the contact itself
        moved = [replace(row, ohm=driver.ohm) if row.kind == "switch" else row for row in moved]
    feeds = [wire(f"maker {name}", f"made {name}", terminal_of(name), ohm=each) for name, each in ohm.items()]
    return replace(found, elements=(*moved, *feeds, *_idle(plan, made, ages[1].emf_v)))


def _idle(plan: Plan, made: tuple[MadeRhythm, ...], nominal_v: float) -> list[Element]:
    amps = idle_a(plan, made)
    return [resistor("makers", "bus", terminal_of("R"), ohm=nominal_v / amps)] if amps > 0 else []


def in_feed_ohm(row: MadeRhythm, driver: Driver, *, apart: bool = False) -> float:
    """What stands in a circuit's feed: the driver (unless it is told apart), a flasher, both, or nothing [ohm]."""
    flasher = value("flasher_ohm") if row.by == "flasher" else 0.0
    return (driver.ohm if row.driven and not apart else 0.0) + flasher


def idle_a(plan: Plan, made: tuple[MadeRhythm, ...]) -> float:
    """What the board and the flashers draw by themselves, in every state [A]."""
    board = board_of(plan).idle_ma if any(row.driven for row in made) else 0.0
    flashers = sum(row.by == "flasher" for row in made) * value("flasher_idle_ma")
    return (board + flashers) / 1000
