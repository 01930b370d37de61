"""The pipeline: every stage in order, from plan and drawer to the whole design."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.aim import take_aim
from rushlight.stages.assumptions import assumptions_of
from rushlight.stages.circuits import find_circuits
from rushlight.stages.heat import heat_of
from rushlight.stages.lamps import place_lamps
from rushlight.stages.light import light_of
from rushlight.stages.loom import lay_loom
from rushlight.stages.order import Build, order_of_work
from rushlight.stages.power import power_of
from rushlight.stages.shopping import shopping_list
from rushlight.stages.sources import choose_sources

STAGES = ("lamps", "sources", "circuits", "aim", "loom", "power", "light", "heat", "order", "shopping")
"""Names of the stages in the order in which they run; progress is told by them."""

Progress = Callable[[str], None]


def design(plan: Plan, drawer: Drawer, *, progress: Progress | None = None) -> Design:
    """Everything that has to be built, worked out from a plan and a drawer.

    Parameters
    ----------
    plan : Plan
        A plan that the reader has checked.
    drawer : Drawer
        The parts, with the plan's own values put in.
    progress : callable, optional
        Told the name of each stage as it starts.
    Returns
    -------
    Design
        Immutable; the same plan and drawer give the same design, byte for byte.
    """
    tell: Progress = progress or _silent
    tell("lamps")
    lamps = place_lamps(plan)
    tell("sources")
    first = choose_sources(plan, drawer, lamps)
    tell("circuits")
    circuits = find_circuits(lamps)
    tell("aim")
    aimed = take_aim(plan, drawer, lamps, sources=first, circuits=circuits)
    sources = aimed.sources
    tell("loom")
    loom = lay_loom(
        plan, drawer, lamps, sources=sources, aims=aimed.aims, classes=aimed.classes, circuits=circuits
    )
    tell("power")
    power = power_of(plan, drawer, loom=loom, circuits=circuits)
    build = Build(plan, drawer, lamps, sources, circuits, loom, power)
    tell("light")
    light = light_of(build, aimed.aims)
    tell("heat")
    heat = heat_of(build)
    tell("order")
    order = order_of_work(build)
    tell("shopping")
    shopping = shopping_list(plan, drawer, sources=sources, loom=loom, power=power)
    return Design(
        plan=plan, drawer=drawer, lamps=lamps, sources=sources, aims=aimed.aims, fibre_classes=aimed.classes,
        circuits=circuits, loom=loom, power=power, light=light, heat=heat, order=order, shopping=shopping,
        assumptions=assumptions_of(build),
    )


def _silent(stage: str) -> Any:
    """Progress that nobody asked for."""
