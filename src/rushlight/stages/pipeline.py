"""The pipeline: every stage in order, from plan and drawer to the whole design."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.design_power import Power
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.aim import Aims, take_aim
from rushlight.stages.assumptions import assumptions_of
from rushlight.stages.build import Build
from rushlight.stages.circuits import find_circuits
from rushlight.stages.heat import heat_of
from rushlight.stages.lamps import place_lamps
from rushlight.stages.light import light_of
from rushlight.stages.limits import refuse_lamps, refuse_leds, refuse_plan
from rushlight.stages.loom import lay_loom
from rushlight.stages.order import order_of_work
from rushlight.stages.power import power_of
from rushlight.stages.reads import parts_read
from rushlight.stages.series_choice import Strung, choose_strings
from rushlight.stages.shopping import shopping_list
from rushlight.stages.sources import choose_sources

STAGES = ("lamps", "sources", "circuits", "aim", "loom", "strings", "power", "light", "heat", "order", "shopping")
"""Names of the stages in the order in which they run; progress is told by them."""

Progress = Callable[[str], None]

T = TypeVar("T")


def design(
    plan: Plan, drawer: Drawer, *, previous: Design | None = None, progress: Progress | None = None
) -> Design:
    """Everything that has to be built, worked out from a plan and a drawer.

    Parameters
    ----------
    plan : Plan
        A plan that the reader has checked.
    drawer : Drawer
        The parts, with the plan's own values put in.
    previous : Design, optional
        A design of an earlier form of the plan: a stage whose inputs are as they were then takes its result from it.
    progress : callable, optional
        Told the name of each stage as it starts; stages that need not run are not told.
    Returns
    -------
    Design
        Immutable; the same plan and drawer give the same design, byte for byte, whatever the previous one was.
    Raises
    ------
    OutOfRange
        If the plan is larger than one design can be, see `stages.limits`.
    """
    past = _Past(plan, drawer, previous, progress or _silent)
    fed = _powered(past, plan, drawer)
    read, lamps, sources, circuits = past.read, fed.lamps, fed.aimed.sources, fed.circuits
    loom, power = fed.strung.loom, fed.power

    def build(stage: str) -> Build:
        return Build(read[stage], drawer, lamps, sources, circuits, loom, power)

    light = past.take("light", lambda old: old.light, lambda: light_of(build("light"), fed.aimed.aims))
    heat = past.take("heat", lambda old: old.heat, lambda: heat_of(build("heat")))
    order = past.take("order", lambda old: old.order, lambda: order_of_work(build("order")))
    shopping = past.take("shopping", lambda old: old.shopping, lambda: shopping_list(
        read["shopping"], drawer, sources=sources, circuits=circuits, loom=loom, power=power
    ))
    whole = Build(plan, drawer, lamps, sources, circuits, loom, power)
    return Design(
        plan=plan, drawer=drawer, lamps=lamps, first_sources=fed.first_sources, sources=sources, aims=fed.aimed.aims,
        fibre_classes=fed.aimed.classes, circuits=circuits, loom=loom, power=power, light=light, heat=heat, order=order,
        shopping=shopping, assumptions=assumptions_of(whole), first_loom=fed.first_loom, series=fed.strung.trades,
    )


@dataclass(frozen=True, slots=True)
class Powered:
    """What a supply decides: everything up to the currents."""

    lamps: tuple[PlacedLamp, ...]
    first_sources: tuple[Source, ...]
    circuits: tuple[Circuit, ...]
    aimed: Aims
    first_loom: Loom
    strung: Strung
    power: Power


def powered(
    plan: Plan, drawer: Drawer, *, previous: Design | None = None, progress: Progress | None = None
) -> Powered:
    """The design up to its currents: the same values that `design` has, without light, heat, order and shopping.

    Parameters
    ----------
    plan, drawer, previous, progress
        As for `design`. With the same plan but for its supply as the previous one, the loom is laid anew only where
        another strip or another bay is taken.
    Returns
    -------
    Powered
        Strings, resistors, switch, fuse and every current are worked out anew for the supply.
    Raises
    ------
    OutOfRange
        If the plan is larger than one design can be, see `stages.limits`.
    """
    return _powered(_Past(plan, drawer, previous, progress or _silent), plan, drawer)


def _powered(past: _Past, plan: Plan, drawer: Drawer) -> Powered:
    """The stages from lamps to power, each taken from the earlier design where it read the same."""
    refuse_plan(plan)
    read, done = past.read, past.done
    lamps = past.take("lamps", lambda old: old.lamps, lambda: place_lamps(read["lamps"]))
    refuse_lamps(lamps)
    done["lamps"] = lamps
    first = past.take(
        "sources", lambda old: old.first_sources, lambda: choose_sources(read["sources"], drawer, lamps)
    )
    refuse_leds(lamps, first)
    circuits = past.take("circuits", lambda old: old.circuits, lambda: find_circuits(lamps))
    done.update(first_sources=first, circuits=circuits)
    aimed = past.take(
        "aim", lambda old: Aims(aims=old.aims, classes=old.fibre_classes, sources=old.sources),
        lambda: take_aim(read["aim"], drawer, lamps, sources=first, circuits=circuits),
    )
    sources = aimed.sources
    done.update(sources=sources, aims=aimed.aims, fibre_classes=aimed.classes)
    done["first_loom"] = first_loom = past.take("loom", lambda old: old.first_loom, lambda: lay_loom(
        read["loom"], drawer, lamps, sources=sources, aims=aimed.aims, classes=aimed.classes, circuits=circuits
    ))
    assert first_loom is not None
    strung = past.take("strings", lambda old: Strung(old.loom, old.series), lambda: choose_strings(
        read["strings"], drawer, lamps, loom=first_loom, circuits=circuits
    ))
    done["loom"] = loom = strung.loom
    power = past.take(
        "power", lambda old: old.power, lambda: power_of(read["power"], drawer, loom=loom, circuits=circuits)
    )
    done["power"] = power
    return Powered(lamps, first, circuits, aimed, first_loom, strung, power)


NEEDS: dict[str, tuple[str, ...]] = {
    "lamps": (),
    "sources": ("lamps",),
    "circuits": ("lamps",),
    "aim": ("lamps", "first_sources", "circuits"),
    "loom": ("lamps", "sources", "aims", "fibre_classes", "circuits"),
    "strings": ("lamps", "first_loom", "circuits"),
    "power": ("loom", "circuits"),
    "light": ("lamps", "sources", "aims", "circuits", "loom", "power"),
    "heat": ("lamps", "sources", "circuits", "loom", "power"),
    "order": ("lamps", "sources", "circuits", "loom", "power"),
    "shopping": ("sources", "circuits", "loom", "power"),
}
"""The results of earlier stages that each stage is given, by their names in the design."""


class _Past:
    """What may be taken from an earlier design: the result of a stage all of whose inputs are equal."""

    def __init__(self, plan: Plan, drawer: Drawer, previous: Design | None, tell: Progress) -> None:
        self.read = parts_read(plan)
        self.done: dict[str, object] = {}
        self.previous = previous if previous is not None and previous.drawer == drawer else None
        self.tell = tell
        before = parts_read(self.previous.plan) if self.previous is not None else {}
        self.same = {stage for stage, part in before.items() if part == self.read[stage]}

    def take(self, stage: str, result: Callable[[Design], T], make: Callable[[], T]) -> T:
        """The earlier result if the stage read the same then, else a new one."""
        old = self.previous
        if old is not None and stage in self.same and all(getattr(old, n) == self.done[n] for n in NEEDS[stage]):
            return result(old)
        self.tell(stage)
        return make()


def _silent(stage: str) -> None:
    """Progress that nobody asked for."""
