"""Fibre: which lamps share an illuminator, where it sits, how each tail runs."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

import numpy as np
import numpy.typing as npt

from rushlight.geometry.assign import Assignment, Illuminator, assign_tails
from rushlight.geometry.bends import bends
from rushlight.geometry.capacity import HAND_MADE
from rushlight.geometry.circles import fits_within
from rushlight.geometry.ease import eased
from rushlight.geometry.layout import Place, RouteMap
from rushlight.geometry.routes import NoRoute, Route, distances, shortest_routes
from rushlight.model.design import Aim, FibreClass, PlacedLamp
from rushlight.model.design_loom import Bundle, Emitter, Tail, Unrouted
from rushlight.model.drawer import Drawer
from rushlight.model.place import Bend, Leg, Spot
from rushlight.model.plan import Plan
from rushlight.stages.bundle_choice import LOOSEST, OPEN_COST_MM, bend_over_width, bundles_that_fit, surely_mm
from rushlight.stages.bundles import bundle_of
from rushlight.stages.fibre_light import led_joint
from rushlight.stages.layouts import fibre_map, relief_mm, roomy_spot, settled
from rushlight.stages.net_tree import grid_points, place_of
from rushlight.stages.pins import held, held_number
from rushlight.stages.tail_places import TailWants
from rushlight.units import Range

SITE_PITCH_MM = 30.0
"""Grid of places where an illuminator may sit."""

LEAST_TAIL_MM = 30.0
"""An illuminator sits no nearer to its lamps: room for the joint and the fan-out (common practice, no source)."""

ENDS_MM = 25.0
"""Fibre cut extra for squaring, the stub before trimming and the joint (habit `fibre_trim`, and a little)."""

MOST_SITES, SITES_EACH = 60, 3

AREA_STEP_MM2 = 0.01
"""Step in which the areas of mixed fibres are counted when they are shared out to illuminators."""

EPS_MM = 1e-9

ROOM_MM = 10.0
"""Two illuminators lie no nearer than this: an LED with its sleeve is some 6 mm wide (common practice)."""


@dataclass(frozen=True, slots=True)
class Fibres:
    """Illuminators with their bundles and tails, and what could not be reached."""

    emitters: tuple[Emitter, ...]
    bundles: tuple[Bundle, ...]
    tails: tuple[Tail, ...]
    unrouted: tuple[Unrouted, ...]


@dataclass(frozen=True, slots=True)
class _Group:
    """Lamps on one illuminator."""

    row: FibreClass
    lamps: tuple[PlacedLamp, ...]
    site: Place


def lay_fibres(
    plan: Plan, drawer: Drawer, *, lamps: tuple[PlacedLamp, ...], aims: tuple[Aim, ...],
    classes: tuple[FibreClass, ...], wires: RouteMap,
) -> Fibres:
    """Illuminators, bundles and tails for every class of fibre lamps.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    lamps, aims, classes
        Results of the stages before.
    wires : RouteMap
        Where leads may run: an illuminator must be reached by them.
    Returns
    -------
    Fibres
        One emitter and one bundle for each illuminator.
    Source
    ------
    Single-source capacitated location, see `geometry.assign`; bend habit `fibre_bend`.
    """
    by_name = {lamp.name: lamp for lamp in lamps}
    widths = sorted({mm for row in classes for mm in row.fibres_mm})
    maps = {mm: fibre_map(plan, bend_radius_mm(drawer, mm)) for mm in widths}
    most = max(MOST_SITES, SITES_EACH * sum(math.ceil(len(row.lamps) / row.capacity) for row in classes))
    sites = {mm: _sites(plan, wires, fibres, most) for mm, fibres in maps.items()}
    groups: list[_Group] = []
    lost: list[Unrouted] = []
    for row in classes:
        own = [by_name[name] for name in row.lamps]
        made, missed = _grouped(row, own, maps=maps, sites=_allowed(plan, own, sites[max(row.fibres_mm)]))
        groups += made
        lost += missed
    groups = _apart(groups, maps, sites)
    numbers = (number for number in count(1) if f"I{number}" not in by_name)  # a lamp may be called I1
    wants = TailWants(
        {lamp.name: lamp.group for lamp in lamps}, {aim.lamp: aim.wanted_cd for aim in aims},
        {lamp.name: led_joint(plan, drawer, lamp.group, lamp.name) for lamp in lamps},
    )
    built = [
        _build(plan, drawer, maps, group, number=number, wants=wants)
        for group, number in zip(groups, numbers, strict=False)
    ]
    return Fibres(
        emitters=tuple(emitter for emitter, _, _ in built), bundles=tuple(bundle for _, bundle, _ in built),
        tails=tuple(tail for _, _, tails in built for tail in tails), unrouted=tuple(lost),
    )


def bend_radius_mm(drawer: Drawer, fibre_mm: float) -> float:
    """The lasting bend radius that a fibre is laid with (habit `fibre_bend`)."""
    return bend_over_width(drawer) * fibre_mm


# --- illuminators -------------------------------------------------------------------------------------------------


def _sites(plan: Plan, wires: RouteMap, fibres: RouteMap, most: int) -> list[Place]:
    """Places for illuminators: a grid on the parts that have room for them, moved to where fibres can bend freely."""
    parts = [part for part in plan.parts if part.room_for_illuminators]
    area = sum(_box_mm2(part.outline_mm) for part in parts)
    pitch = max(SITE_PITCH_MM, math.sqrt(area / most))
    spots = [
        roomy_spot(fibres, Spot(part.name, x, y)) for part in parts for x, y in grid_points(part.outline_mm, pitch)
    ]
    fits = [settled(wires, spot) for spot in dict.fromkeys(spots) if spot is not None]
    return list(dict.fromkeys(place_of(fit.spot) for fit in fits if fit is not None))


def _box_mm2(outline: tuple[tuple[float, float], ...]) -> float:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return (max(xs) - min(xs)) * (max(ys) - min(ys))


def _allowed(plan: Plan, lamps: list[PlacedLamp], sites: list[Place]) -> list[Place]:
    """The sites on the part that the modeller holds fast for these lamps' illuminators; all where none is held."""
    part = held(plan, "illuminator_part", *(name for lamp in lamps for name in (lamp.group, lamp.name)))
    return [site for site in sites if site.part == part] if part else sites


def _grouped(
    row: FibreClass, lamps: list[PlacedLamp], *, maps: Mapping[float, RouteMap], sites: list[Place]
) -> tuple[list[_Group], list[Unrouted]]:
    placed = [lamp for lamp in lamps if lamp.spot is not None]
    if not placed or not sites:
        return [], [_unplaced(lamp) for lamp in placed]
    length = _lengths(row, placed, maps, sites)
    near = np.where(length < LEAST_TAIL_MM, LEAST_TAIL_MM + 2 * (LEAST_TAIL_MM - length), length)
    shared = _on_one_led(near) if row.bundle else _assigned(row, placed, near)
    made = [
        _Group(row, own, sites[one.site]) for one in shared.illuminators
        for own in _fitting(row, tuple(placed[k] for k in one.tails))
    ]
    widths = _widths(row, placed)
    lost = [_no_way(maps[widths[k]], placed[k], sites) for k in shared.unreached]
    return made, lost


def _widths(row: FibreClass, lamps: Sequence[PlacedLamp]) -> list[float]:
    """Width of each lamp's fibre [mm]."""
    of = dict(zip(row.lamps, row.fibres_mm, strict=True))
    return [of[lamp.name] for lamp in lamps]


def _lengths(
    row: FibreClass, placed: list[PlacedLamp], maps: Mapping[float, RouteMap], sites: list[Place]
) -> npt.NDArray[np.float64]:
    """Route length of each tail to each site, shape (tails, sites): a thicker fibre takes wider bends."""
    length = np.full((len(placed), len(sites)), np.inf)
    widths = _widths(row, placed)
    for mm in sorted(set(widths)):
        mine = [k for k, width in enumerate(widths) if width == mm]
        length[mine] = distances(maps[mm], [place_of(spot) for k in mine if (spot := placed[k].spot)], sites)
    return length


def _assigned(row: FibreClass, placed: list[PlacedLamp], length: npt.NDArray[np.float64]) -> Assignment:
    """Tails to illuminators: by count where they are of one width, by the area that they take where not."""
    keys, widths = [row.name] * len(placed), _widths(row, placed)
    if len(set(widths)) == 1:
        return assign_tails(length, keys, capacity=row.capacity, open_mm=OPEN_COST_MM)
    areas = [math.ceil(mm**2 / AREA_STEP_MM2) for mm in widths]
    room = math.floor(LOOSEST * (row.widest_mm / HAND_MADE) ** 2 / AREA_STEP_MM2)
    once = length / np.array(areas)[:, None]  # lengths count once for each fibre, and here fibres stand for area
    return assign_tails(once, keys, capacity=max(room, *areas), open_mm=OPEN_COST_MM, fibres=areas)


def _on_one_led(length: npt.NDArray[np.float64]) -> Assignment:
    """A bundle that is held: every tail to the one site that reaches most of them with the least fibre."""
    reached = np.isfinite(length)
    site = int(np.lexsort((np.where(reached, length, 0.0).sum(axis=0), -reached.sum(axis=0)))[0])
    tails = tuple(np.flatnonzero(reached[:, site]).tolist())
    total = float(length[reached[:, site], site].sum())
    held_on = (Illuminator(site, "", tails, len(tails), total),) if tails else ()
    return Assignment(held_on, tuple(np.flatnonzero(~reached[:, site]).tolist()), total, total, math.nan)


def _fitting(row: FibreClass, lamps: tuple[PlacedLamp, ...]) -> list[tuple[PlacedLamp, ...]]:
    """Lamps of one illuminator as bundles that fit its face: what area alone promised is packed and measured."""
    widths = _widths(row, lamps)
    fits = len(lamps) <= row.capacity and (
        len(lamps) == 1 or surely_mm(widths) * HAND_MADE <= row.widest_mm + EPS_MM
        or fits_within(widths, (row.widest_mm + EPS_MM) / HAND_MADE)
    )
    if row.bundle or len({*widths}) == 1 or fits:
        return [lamps]
    shared = bundles_that_fit(widths, widest_mm=row.widest_mm, most=row.capacity)
    return [tuple(lamps[k] for k in own) for own in shared]


def _unplaced(lamp: PlacedLamp) -> Unrouted:
    part = lamp.spot.part if lamp.spot else ""
    return Unrouted(item=lamp.name, part=part, why="no part has room for an illuminator")


def _no_way(fibres: RouteMap, lamp: PlacedLamp, sites: list[Place]) -> Unrouted:
    assert lamp.spot is not None
    answers = shortest_routes(fibres, [(place_of(lamp.spot), site) for site in sites[:1]])
    why = answers[0].text if isinstance(answers[0], NoRoute) else "no fibre reaches it"
    return Unrouted(item=lamp.name, part=lamp.spot.part, why=why)


def _apart(
    groups: list[_Group], maps: Mapping[float, RouteMap], sites: Mapping[float, list[Place]]
) -> list[_Group]:
    """Illuminators moved off places that are taken, to the nearest free one, of the same part first, that reaches
    all of their lamps; where there is none they stay.
    """
    taken: list[Place] = []
    placed = []
    for group in groups:
        site = here = group.site
        if _crowded(here, taken):
            free = [site for site in sites[max(group.row.fibres_mm)] if not _crowded(site, taken)]
            near = sorted(free, key=lambda at: (at.part != here.part, math.dist(at[1:], here[1:]), at))
            site = next((at for at in near if _reaches(maps, group, at)), here)
        taken.append(site)
        placed.append(replace(group, site=site))
    return placed


def _reaches(maps: Mapping[float, RouteMap], group: _Group, site: Place) -> bool:
    """Whether each of an illuminator's fibres finds a way from a place to its lamp."""
    ways = zip(group.lamps, _widths(group.row, group.lamps), strict=True)
    return all(bool(np.isfinite(distances(maps[mm], [place_of(lamp.spot)], [site])).all())
               for lamp, mm in ways if lamp.spot is not None)


def _crowded(site: Place, taken: list[Place]) -> bool:
    return any(other.part == site.part and math.dist(other[1:], site[1:]) < ROOM_MM for other in taken)


# --- tails --------------------------------------------------------------------------------------------------------


def _build(
    plan: Plan, drawer: Drawer, maps: Mapping[float, RouteMap], group: _Group, *, number: int, wants: TailWants
) -> tuple[Emitter, Bundle, tuple[Tail, ...]]:
    emitter = Emitter(
        name=f"I{number}", kind="illuminator", part_row=group.row.led,
        spot=Spot(group.site.part, group.site.x_mm, group.site.y_mm), circuit=group.row.circuit,
        lamps=tuple(lamp.name for lamp in group.lamps),
        aim_current_a=(held_number(plan, "current_ma", f"I{number}") or group.row.current_a * 1000) / 1000,
    )
    tails = tuple(
        replace(_tail(plan, drawer, way), tip=group.row.tips[group.row.lamps.index(way.lamp)])
        for way in _ways(maps, group, emitter.name)
    )
    bundle, placed = bundle_of(drawer, emitter, tails, wants)
    named = tuple(replace(tail, name=f"{emitter.name}.{k}") for k, tail in enumerate(placed, 1))
    return emitter, replace(bundle, tails=tuple(tail.name for tail in named)), named


def _ways(maps: Mapping[float, RouteMap], group: _Group, emitter: str) -> list[_Way]:
    """How each tail of an illuminator runs, in the lamps' order."""
    found: dict[str, _Way] = {}
    widths = dict(zip((lamp.name for lamp in group.lamps), _widths(group.row, group.lamps), strict=True))
    for mm in sorted(set(widths.values())):
        own, fibres = [lamp for lamp in group.lamps if widths[lamp.name] == mm and lamp.spot is not None], maps[mm]
        routes = shortest_routes(fibres, [(group.site, place_of(lamp.spot)) for lamp in own if lamp.spot is not None])
        found.update({
            lamp.name: _Way(lamp.name, emitter, mm, _eased_legs(fibres, route), route.crossings, route.length_mm,
                            fibres.margin_mm)
            for lamp, route in zip(own, routes, strict=True) if isinstance(route, Route)
        })
    return [found[name] for name in widths if name in found]


@dataclass(frozen=True, slots=True)
class _Way:
    """How one tail runs."""

    lamp: str
    emitter: str
    fibre_mm: float
    legs: tuple[Leg, ...]
    crossings: tuple[str, ...]
    length_mm: float
    grow_mm: float


def _eased_legs(fibres: RouteMap, route: Route) -> tuple[Leg, ...]:
    """The route's legs, their ends eased where the part has room for it."""
    grow = max(fibres.margin_mm, fibres.bend_radius_mm)
    raw = {sheet.sheet.name: sheet.space.raw for sheet in fibres.sheets}
    return tuple(Leg(leg.part, eased(leg.points_mm, raw[leg.part], grow_mm=grow)) for leg in route.legs)


def _tail(plan: Plan, drawer: Drawer, way: _Way) -> Tail:
    """One tail: its route on the parts, and the last quarter turn from the wall into its hole."""
    radius = bend_radius_mm(drawer, way.fibre_mm)
    grow = max(way.grow_mm, radius)
    turns = [bend for leg in way.legs for bend in bends(leg.points_mm, grow_mm=grow)]
    laid = (*(Bend(bend.angle_deg, bend.radius_mm) for bend in turns), Bend(90.0, radius))
    slack = sum(crossing.slack_mm for crossing in plan.crossings if crossing.name in way.crossings)
    carried = sum(relief_mm(plan.part(leg.part), leg.points_mm) for leg in way.legs)
    length = max(way.length_mm + carried, LEAST_TAIL_MM) + math.pi / 2 * radius
    return Tail(
        name=way.lamp, lamp=way.lamp, emitter=way.emitter, fibre_mm=way.fibre_mm, legs=way.legs,
        crossings=way.crossings, length_mm=length, slack_mm=slack + carried,
        cut_mm=math.ceil((length + ENDS_MM) / 5) * 5.0, bends=laid,
        least_bend_mm=min(bend.radius_mm for bend in laid), ring=0, offset_mm=Range.exactly(0.0),
    )
