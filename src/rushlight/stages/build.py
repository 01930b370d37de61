"""What is handed to the stages that follow the loom and its currents."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.design_power import Power
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan


@dataclass(frozen=True, slots=True)
class Build:
    """The plan, the drawer and what is made so far: what light, heat and the order of work are worked out from."""

    plan: Plan
    drawer: Drawer
    lamps: tuple[PlacedLamp, ...]
    sources: tuple[Source, ...]
    circuits: tuple[Circuit, ...]
    loom: Loom
    power: Power
