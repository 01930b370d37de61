"""One file for each kind of thing that makes a lamp's light; `choose_sources` asks them in order."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Lamp, MadeBy, Plan, Row
from rushlight.stages.pins import held, held_number
from rushlight.stages.sources import fibre, led, room, strip


class Kind(Protocol):
    """What each file of this folder offers."""

    def suits(self, plan: Plan, lamp: PlacedLamp) -> bool:
        """Whether this kind is the right one for a lamp that the modeller left open."""

    def choose(self, plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
        """The parts that make the lamp, and why."""


SOURCES: tuple[Kind, ...] = (strip, room, led, fibre)
"""Asked in this order; the first whose `suits` says yes makes the lamp."""

INSISTED: dict[str, Kind] = {"led": led, "fibre": fibre, "room": room, "strip": strip}
"""The kinds by the word of a plan's `source`."""


def choose_sources(plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...]) -> tuple[Source, ...]:
    """What makes each lamp's light: as the modeller insists, else the first kind that suits."""
    written: tuple[Lamp | Row, ...] = (*plan.lamps, *plan.rows)
    entries = {entry.name: entry for entry in written}
    return tuple(_choose(plan, drawer, lamp, _insisted(entries.get(lamp.group))) for lamp in lamps)


def choose_again(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, before: Plan, chosen: Mapping[str, Source]
) -> tuple[Source, ...]:
    """The same after an edit of lamps, rows or strips: of a lamp that is the very same, what was chosen stands.

    Parameters
    ----------
    plan, drawer, lamps : Plan, Drawer, tuple of PlacedLamp
        As they are now.
    before : Plan
        As it was; what did not change in it is the same object.
    chosen : mapping of str to Source
        What was chosen, of lamps that are still the same values, by lamp.
    Returns
    -------
    tuple of Source
        As `choose_sources` gives them.
    """
    for key in ("subject", "parts", "pinned", "drawer", "practice", "measured"):
        if getattr(plan, key) is not getattr(before, key):
            return choose_sources(plan, drawer, lamps)
    written: tuple[Lamp | Row, ...] = (*plan.lamps, *plan.rows)
    entries = {entry.name: entry for entry in written}
    return tuple(
        chosen.get(lamp.name) or _choose(plan, drawer, lamp, _insisted(entries.get(lamp.group))) for lamp in lamps
    )


def _insisted(entry: Lamp | Row | None) -> MadeBy | None:
    return None if entry is None else entry.source


def _choose(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    """The modeller's word on the kind, the LED or the fibre first, the tool's choice where they leave it open."""
    chosen = _by_kind(plan, drawer, lamp, insisted)
    led = held(plan, "led", lamp.group, lamp.name)
    fibre_mm = held_number(plan, "fibre_mm", lamp.group, lamp.name) if chosen.kind == "fibre" else None
    if lamp.made_of == "strips" or (led is None and fibre_mm is None):
        return chosen
    own = insisted.led if insisted else None
    return _by_kind(plan, drawer, lamp, MadeBy(
        kind=chosen.kind, led=led or own, fibre_mm=fibre_mm or chosen.fibre_mm, tip=chosen.tip
    ))


def _by_kind(plan: Plan, drawer: Drawer, lamp: PlacedLamp, insisted: MadeBy | None) -> Source:
    if insisted is not None and lamp.made_of != "strips":
        return INSISTED[insisted.kind].choose(plan, drawer, lamp, insisted)
    kind = next(kind for kind in SOURCES if kind.suits(plan, lamp))
    return kind.choose(plan, drawer, lamp, None)
