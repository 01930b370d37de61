"""The loom: emitters, fibres and wires as they lie on the parts."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

from rushlight.geometry.layout import RouteMap
from rushlight.model.design import Aim, FibreClass, PlacedLamp, Source
from rushlight.model.design_loom import Circuit, Emitter, Lead, LedString, Loom, Plug
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Crossing, Plan
from rushlight.stages.emitters import led_emitters, strip_emitters
from rushlight.stages.lamps import points_along
from rushlight.stages.layouts import feed_spot, wire_map
from rushlight.stages.splices import staggered
from rushlight.stages.tails import Fibres, lay_fibres
from rushlight.stages.wiring import wire_all, wire_strings


def lay_loom(
    plan: Plan, drawer: Drawer, lamps: tuple[PlacedLamp, ...], *, sources: tuple[Source, ...],
    aims: tuple[Aim, ...], classes: tuple[FibreClass, ...], circuits: tuple[Circuit, ...],
) -> Loom:
    """Everything that runs inside the model.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    lamps, sources, aims, classes, circuits
        Results of the stages before.
    Returns
    -------
    Loom
        Every lit and placed lamp is fed once, or named in `unrouted` with the reason; every LED has a lead of its own.
    """
    wires = wire_map(plan)
    leds, no_led = led_emitters(lamps, sources, aims=aims, circuits=circuits, route_map=wires)
    strips, no_strip = strip_emitters(
        plan, drawer, lamps, sources=sources, aims=aims, circuits=circuits, route_map=wires
    )
    lit = {name for row in classes for name in row.lamps}
    fibres = _laid(_Asked(plan, drawer, lamps, tuple(aim for aim in aims if aim.lamp in lit), classes, wires))
    emitters = leds + strips + fibres.emitters
    feed = feed_spot(plan, wires)
    if feed is None:
        return Loom(emitters=emitters, tails=fibres.tails, bundles=fibres.bundles, leads=(), splices=(), plugs=(),
                    unrouted=no_led + no_strip + fibres.unrouted, anchors=())
    wiring = wire_all(plan, drawer, route_map=wires, feed=feed, emitters=emitters, circuits=circuits)
    return Loom(
        emitters=emitters, tails=fibres.tails, bundles=fibres.bundles, leads=wiring.leads,
        splices=staggered(wiring.splices), plugs=_plugs(plan, drawer, wiring.leads),
        unrouted=no_led + no_strip + fibres.unrouted + wiring.unrouted, anchors=_anchors(drawer, wiring.leads),
    )


@dataclass(frozen=True, slots=True)
class _Asked:
    """All that fibres hang on: of the aims those of their own lamps. The map is the plan's, so it is not compared."""

    plan: Plan
    drawer: Drawer
    lamps: tuple[PlacedLamp, ...]
    aims: tuple[Aim, ...]
    classes: tuple[FibreClass, ...]
    wires: RouteMap = field(compare=False)


@lru_cache(maxsize=4)
def _laid(asked: _Asked) -> Fibres:
    """Kept, because another supply often changes how strips are lit, and no fibre."""
    return lay_fibres(asked.plan, asked.drawer, lamps=asked.lamps, aims=asked.aims, classes=asked.classes,
                      wires=asked.wires)


def lay_strings(
    plan: Plan, drawer: Drawer, loom: Loom, *, circuits: tuple[Circuit, ...], strings: tuple[LedString, ...],
    effort: float = 1.0,
) -> Loom:
    """The loom with LEDs in series: the plus of their circuits and the return are wired anew.

    Parameters
    ----------
    plan, drawer, circuits
        As the loom was laid with.
    loom : Loom
        Every LED with a lead of its own.
    strings : tuple of LedString
        None leave the loom as it is.
    effort : float
        Share of the rounds that each splice tree is searched for.
    Returns
    -------
    Loom
        Fibres, strips and circuits without strings stay.
    """
    wires = wire_map(plan)
    feed = feed_spot(plan, wires)
    if not strings or feed is None:
        return loom
    made = wire_strings(plan, drawer, loom, route_map=wires, feed=feed, circuits=circuits, strings=strings,
                        effort=effort)
    return replace(
        loom, leads=made.leads, splices=staggered(made.splices), plugs=_plugs(plan, drawer, made.leads),
        unrouted=loom.unrouted + tuple(row for row in made.unrouted if row not in loom.unrouted),
        anchors=_anchors(drawer, made.leads), strings=strings,
    )


def _plugs(plan: Plan, drawer: Drawer, leads: tuple[Lead, ...]) -> tuple[Plug, ...]:
    """A plug on each crossing that comes apart: its kind is plug, or it leads from what stays to what is removable."""
    removable = {part.name for part in plan.parts if part.removable}
    made = []
    for crossing in plan.crossings:
        apart = crossing.kind == "plug" or len({end.part in removable for end in crossing.ends}) == 2
        own = tuple(lead.name for lead in leads if crossing.name in lead.crossings)
        if apart and own:
            made.append(_plug(drawer, crossing, own))
    return tuple(made)


def _plug(drawer: Drawer, crossing: Crossing, leads: tuple[str, ...]) -> Plug:
    """The narrowest small plug with contacts enough; the one with most contacts where none has."""
    small = [row for row in drawer.connectors if row.pitch_mm is not None and 1.2 <= row.pitch_mm <= 2.6]
    enough = [row for row in small if row.contacts >= len(leads)]
    most = max((row.contacts for row in small), default=0)
    connector = min(
        enough or [row for row in small if row.contacts == most] or drawer.connectors,
        key=lambda row: (row.plug_mm, row.contacts, row.name),
    )
    return Plug(name=f"plug {crossing.name}", crossing=crossing.name, connector=connector.name, leads=leads,
                contacts=len(leads))


def _anchors(drawer: Drawer, leads: tuple[Lead, ...]) -> tuple[Spot, ...]:
    """Where leads are held down: near both ends of each leg, and between them no farther apart than the habit says.

    Leads that run side by side share an anchor, so places closer than half the pitch are merged.
    """
    pitch = drawer.habit("anchor_pitch").high or 40.0
    first = drawer.habit("strain").high or 15.0
    spots: list[Spot] = []
    squares: dict[tuple[str, int, int], list[Point]] = {}
    for lead in leads:
        for leg in lead.legs:
            for at in _along(leg.points_mm, first=first, pitch=pitch):
                square = (leg.part, math.floor(4 * at[0] / pitch), math.floor(4 * at[1] / pitch))
                if all(math.dist(other, at) >= pitch / 4 for other in _around(squares, square)):
                    squares.setdefault(square, []).append(at)
                    spots.append(Spot(leg.part, *at))
    return tuple(spots)


def _around(squares: Mapping[tuple[str, int, int], list[Point]], square: tuple[str, int, int]) -> list[Point]:
    """The anchors in a square and the eight round it."""
    part, column, row = square
    near = [(part, column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    return [at for one in near for at in squares.get(one, ())]


def _along(points: tuple[Point, ...], *, first: float, pitch: float) -> tuple[Point, ...]:
    total = sum(math.dist(a, b) for a, b in pairwise(points))
    if total < 1.0:
        return ()
    if total <= 2 * first:
        return points_along(points, [total / 2])
    gaps = math.ceil((total - 2 * first) / pitch)
    step = (total - 2 * first) / gaps
    return points_along(points, [first + step * k for k in range(gaps + 1)])


def lamps_of(loom: Loom) -> dict[str, Emitter]:
    """The emitter that makes each lamp."""
    return {lamp: emitter for emitter in loom.emitters for lamp in emitter.lamps}
