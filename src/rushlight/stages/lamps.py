"""First stage: the lamps of the chosen version, rows and strips spelled out, placed and sized at scale."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from rushlight.model.design import Colour, PlacedLamp
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Lamp, Plan, Row, Strip
from rushlight.model.plan_part import Opening
from rushlight.optics.colour import trade_colour
from rushlight.optics.eye import is_point, visual_angle_deg

OTHER_SIDE = {"port": "starboard", "starboard": "port"}
"""Where the mirrored half of a row shines, if not where the first does: mirrors stand along the middle."""


@dataclass(frozen=True, slots=True)
class _Size:
    subject_mm: float | None
    model_mm: float | None


def place_lamps(plan: Plan) -> tuple[PlacedLamp, ...]:
    """Every lamp of the chosen version that is not left out, in the plan's order.

    Parameters
    ----------
    plan : Plan
        A plan that the reader has checked.
    Returns
    -------
    tuple of PlacedLamp
        Rows give one lamp a place, mirrored ones included; strips give one lamp an opening.
    """
    return tuple(lamp for entry in _entries(plan) for lamp in _placed(plan, entry))


def place_again(plan: Plan, before: Plan, lamps: tuple[PlacedLamp, ...]) -> tuple[PlacedLamp, ...]:
    """The same after an edit: what the edit did not touch keeps the very values that it had.

    Parameters
    ----------
    plan : Plan
        As it is now.
    before : Plan
        As it was; what did not change in it is the same object.
    lamps : tuple of PlacedLamp
        Its lamps.
    Returns
    -------
    tuple of PlacedLamp
        As `place_lamps` gives them.
    """
    if plan.subject is not before.subject or plan.parts is not before.parts or plan.version != before.version:
        return place_lamps(plan)
    groups: dict[str, list[PlacedLamp]] = {}
    for lamp in lamps:
        groups.setdefault(lamp.group, []).append(lamp)
    was = {entry.name: entry for entry in _entries(before)}
    return tuple(
        lamp for entry in _entries(plan)
        for lamp in (groups[entry.name] if was.get(entry.name) is entry else _placed(plan, entry))
    )


def _entries(plan: Plan) -> list[Lamp | Row | Strip]:
    written: tuple[Lamp | Row | Strip, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    return [entry for entry in written if _wanted(plan, entry)]


def _placed(plan: Plan, entry: Lamp | Row | Strip) -> list[PlacedLamp]:
    if isinstance(entry, Lamp):
        return [_single(plan, entry)]
    return _row(plan, entry) if isinstance(entry, Row) else _strip(plan, entry)


def _wanted(plan: Plan, entry: Lamp | Row | Strip) -> bool:
    in_version = not entry.versions or plan.version is None or plan.version in entry.versions
    return in_version and entry.worth != "left out"


def _size(plan: Plan, subject_mm: float | None, model_mm: float | None) -> _Size:
    """Subject and model size; what the plan gives for the model wins."""
    if model_mm is None and subject_mm is not None:
        model_mm = subject_mm / plan.subject.scale
    if subject_mm is None and model_mm is not None:
        subject_mm = model_mm * plan.subject.scale
    return _Size(subject_mm, model_mm)


def _seen(plan: Plan, model_mm: float | None) -> tuple[str, float | None]:
    if model_mm is None:
        return "point", None
    distance_mm = plan.subject.viewing_distance_mm
    seen_as = "point" if is_point(model_mm, distance_mm) else "disc"
    return seen_as, 60 * visual_angle_deg(model_mm, distance_mm)


@cache
def colour_of(name: str) -> Colour:
    """The colour of a plan's colour word, as a design carries it."""
    seen = trade_colour(name)
    return Colour(name=name, x=seen.xy[0], y=seen.xy[1], dominant_nm=seen.dominant_nm, cct_k=seen.cct_k)


def _single(plan: Plan, lamp: Lamp) -> PlacedLamp:
    size = _size(plan, lamp.size_mm, lamp.model_mm)
    seen_as, angle = _seen(plan, size.model_mm)
    spot = None if lamp.part is None or lamp.at_mm is None else Spot(lamp.part, *lamp.at_mm)
    return PlacedLamp(
        name=lamp.name, group=lamp.name, made_of="lamps", spot=spot, facing=lamp.facing,
        colour=colour_of(lamp.colour), rule=lamp.rule, arc_deg=lamp.arc_deg, subject_mm=size.subject_mm,
        model_mm=size.model_mm, seen_as=seen_as, visual_angle_arcmin=angle, states=lamp.states,
        rhythm=lamp.rhythm, worth=lamp.worth, dark=False, opening=lamp.opening, count=_count(lamp),
    )


def _count(lamp: Lamp) -> tuple[int, int] | None:
    """The widest count that its evidence shows."""
    counts = [evidence.count for evidence in lamp.evidence if evidence.count and evidence.says == "for"]
    return (min(low for low, _ in counts), max(high for _, high in counts)) if counts else None


def row_places(row: Row) -> tuple[Point, ...]:
    """Where the lamps of a row lie: spread by arc length, the first and the last at the line's ends."""
    total = sum(math.dist(a, b) for a, b in pairwise(row.along_mm))
    if row.count is not None:
        gaps = max(row.count - 1, 1)
        wanted = [total * index / gaps for index in range(row.count)]
    else:
        pitch = row.pitch_mm or total
        wanted = [pitch * index for index in range(math.floor(total / pitch + 1e-9) + 1)]
    return points_along(row.along_mm, [min(place, total) for place in wanted])


def points_along(line: tuple[Point, ...], places_mm: Sequence[float]) -> tuple[Point, ...]:
    """Points at given lengths along a line, beyond its end on its last piece drawn out."""
    pieces = [(a, b) for a, b in pairwise(line) if a != b]
    return tuple(_at(pieces, line[0], place) for place in places_mm)


def _at(pieces: list[tuple[Point, Point]], first: Point, place: float) -> Point:
    for number, (a, b) in enumerate(pieces):
        step = math.dist(a, b)
        if place <= step or number == len(pieces) - 1:
            share = place / step
            return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        place -= step
    return first


def _row(plan: Plan, row: Row) -> list[PlacedLamp]:
    places = row_places(row)
    spots = [(f"{row.name} {number}", Spot(row.part, *at), row.facing) for number, at in enumerate(places, 1)]
    if row.mirror is not None:
        mirror, facing = row.mirror, OTHER_SIDE.get(row.facing, row.facing)
        flipped = [(2 * mirror.axis_x_mm - x if mirror.flip else x, y) for x, y in places]
        spots += [(f"{row.name} m{number}", Spot(mirror.part, *at), facing) for number, at in enumerate(flipped, 1)]
    dark = _dark(tuple(name for name, _, _ in spots), row.dark_share)
    size = _size(plan, row.size_mm, row.model_mm)
    seen_as, angle = _seen(plan, size.model_mm)
    colour = colour_of(row.colour)
    return [
        PlacedLamp(
            name=name, group=row.name, made_of="rows", spot=spot, facing=facing, colour=colour, rule=row.rule,
            arc_deg=None, subject_mm=size.subject_mm, model_mm=size.model_mm, seen_as=seen_as,
            visual_angle_arcmin=angle, states=() if name in dark else row.states, rhythm=row.rhythm,
            worth=row.worth, dark=name in dark, opening=None, count=None,
        )
        for name, spot, facing in spots
    ]


def _dark(names: tuple[str, ...], share: float) -> frozenset[str]:
    """Which lamps of a row stay dark: as many as the share asks, chosen by a hash so that the choice never moves."""
    order = sorted(names, key=lambda name: hashlib.sha256(name.encode()).hexdigest())
    return frozenset(order[: round(share * len(names))])


def _strip(plan: Plan, strip: Strip) -> list[PlacedLamp]:
    part = plan.part(strip.part)
    colour = colour_of(strip.colour)
    placed = []
    for opening in part.openings:
        if opening.name not in strip.openings:
            continue
        width_mm = min(_extent(opening))
        seen_as, angle = _seen(plan, width_mm)
        placed.append(
            PlacedLamp(
                name=f"{strip.name}: {opening.name}", group=strip.name, made_of="strips",
                spot=Spot(part.name, *_centre(opening)), facing="outward", colour=colour, rule=None, arc_deg=None,
                subject_mm=width_mm * plan.subject.scale, model_mm=width_mm, seen_as=seen_as,
                visual_angle_arcmin=angle, states=strip.states, rhythm=strip.rhythm, worth=strip.worth, dark=False,
                opening=opening.name, count=None,
            )
        )
    return placed


def _extent(opening: Opening) -> tuple[float, float]:
    xs, ys = zip(*opening.shape_mm, strict=True)
    return (max(xs) - min(xs), max(ys) - min(ys))


def _centre(opening: Opening) -> Point:
    xs, ys = zip(*opening.shape_mm, strict=True)
    return ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
