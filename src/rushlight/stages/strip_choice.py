"""One strip behind openings in place of an LED in each room: which lamps could share it, and where it serves better."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import StripPart
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Plan, Strip
from rushlight.model.plan_part import Opening, Part
from rushlight.stages.lamps import colour_of, points_along
from rushlight.stages.led_currents import DERATE, least_a
from rushlight.stages.parts_law import led_current_a, led_light_a, led_order, strip_current_a, strip_light_a
from rushlight.stages.rooms import BOXED_ROOM_MM, opening_mm2, opening_named, room_light, shared_space
from rushlight.stages.source_choice import CLEARLY, Way, Weighing, kind_words, warm_share
from rushlight.stages.sources.common import SAME_COLOUR_XY
from rushlight.stages.sources.room import brightest
from rushlight.stages.sources.strip import behind, strip_of_colour

OFF_LINE_MM = 3.0
"""Lamps that lie farther beside a straight strip are not over it (project rule)."""

GAP_PITCHES, GAP_HEIGHTS = 1.25, 3.5
"""So many pitches, and so many heights of its openings, a strip is set back: what its LEDs leave on a sheet falls by
exp(-2 pi) with each pitch, and from three and a half heights the slope from middle to rim is passed over (project
rule, tried on `stages.strips`)."""

FAR_MM = 1e5
"""Longer than any part."""

DRAWN_MM = 0.1
"""So much a run may be short of its last cut mark and still have it: nobody draws finer, and makers' cut lengths are
rounded themselves (3 of 16.667 mm are 50.001 mm; project rule)."""

STRIP_PIECES = 2.0
"""A strip with its one pair of leads, and its sheet (project rule)."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A run of strip that lamps of the plan share, and those lamps in its order."""

    run: Strip
    lamps: tuple[PlacedLamp, ...]


# --- which lamps -----------------------------------------------------------------------------------------------------


def in_lines(plan: Plan, lamps: Sequence[PlacedLamp]) -> tuple[tuple[PlacedLamp, ...], ...]:
    """Lamps behind openings that one strip could light: alike in all, on one part, in one line.

    Parameters
    ----------
    plan : Plan
        Parts and the lamps' brightness.
    lamps : sequence of PlacedLamp
        Each tied to an opening.
    Returns
    -------
    tuple of tuple of PlacedLamp
        In the order of the first of each. A room that is a space of its own, or an opening with a door, shares none.
    """
    bright = {lamp.name: lamp.brightness for lamp in plan.lamps}
    walled = {name for space in plan.spaces for name in (space.name, *space.windows)}
    groups: dict[object, list[PlacedLamp]] = {}
    for lamp in lamps:
        opening = _opening_of(plan, lamp)
        assert lamp.spot is not None
        alone = opening.door is not None or opening.name in walled
        key: object = lamp.name if alone else (lamp.spot.part, lamp.colour, lamp.states, lamp.rhythm, bright[lamp.name])
        groups.setdefault(key, []).append(lamp)
    return tuple(line for group in groups.values() for line in _lines(plan, group))


def _lines(plan: Plan, lamps: list[PlacedLamp]) -> list[tuple[PlacedLamp, ...]]:
    """As they are where they lie in a line, else level by level, else each alone."""
    if _line_of([_opening_of(plan, lamp) for lamp in lamps]) is not None:
        return [tuple(lamps)]
    levels: list[list[PlacedLamp]] = []
    height = {lamp.name: _middle(_opening_of(plan, lamp))[1] for lamp in lamps}
    for lamp in sorted(lamps, key=lambda lamp: height[lamp.name]):
        if levels and height[lamp.name] - height[levels[-1][0].name] <= OFF_LINE_MM:
            levels[-1].append(lamp)
        else:
            levels.append([lamp])
    order = {lamp.name: number for number, lamp in enumerate(lamps)}
    ranked = [tuple(sorted(level, key=lambda lamp: order[lamp.name])) for level in levels]
    return sorted(ranked, key=lambda level: order[level[0].name])


def _opening_of(plan: Plan, lamp: PlacedLamp) -> Opening:
    found = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    assert found is not None, "the reader has checked it"
    return found


def _middle(opening: Opening) -> tuple[float, float]:
    x, y = np.mean(opening.shape_mm, axis=0)
    return float(x), float(y)


def _line_of(openings: Sequence[Opening]) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """Middle of the openings, the way along them, and how far along each lies; None where they lie in no line."""
    middles = np.array([_middle(opening) for opening in openings])
    centre = middles.mean(axis=0)
    away = middles - centre
    shape = np.ptp(np.array(openings[0].shape_mm), axis=0)
    way = np.linalg.svd(away)[2][0] if len(openings) > 1 else np.array([1.0, 0.0] if shape[0] >= shape[1] else [0.0, 1])
    if np.abs(away @ np.array([-way[1], way[0]])).max() > OFF_LINE_MM:
        return None
    return centre, way, away @ way


def straight_run(lamps: Sequence[PlacedLamp], openings: Sequence[Opening], part: StripPart, on: Part) -> Strip | None:
    """A straight strip of whole cut lengths behind the openings; None where they lie in no line.

    It lies so far back, and reaches so far past the last openings where the part is long enough, that neither its LEDs
    nor its ends show.
    """
    line = _line_of(openings)
    if line is None:
        return None
    centre, way, along = line
    shapes = [np.array(opening.shape_mm) for opening in openings]
    wide = max(float(np.ptp(shape @ way)) for shape in shapes)
    high = max(float(np.ptp(shape @ np.array([-way[1], way[0]]))) for shape in shapes)
    gap = max(GAP_PITCHES * part.pitch_mm, GAP_HEIGHTS * high)
    middle = centre + way * (along.max() + along.min()) / 2
    behind = float(np.ptp(along)) + wide
    room = 2 * float(shapely.LineString([middle - way * FAR_MM, middle + way * FAR_MM]).intersection(
        shapely.Polygon(on.outline_mm)).boundary.distance(shapely.Point(middle)))
    most = max(math.floor(room / part.segment_mm + 1e-6), 1)
    count = min(math.ceil((behind + 3 * gap) / part.segment_mm), max(most, math.ceil(behind / part.segment_mm)))
    ends = [middle + side * way * count * part.segment_mm / 2 for side in (-1, 1)]
    return Strip(name=lamps[0].group, part=on.name, openings=tuple(opening.name for opening in openings),
                 along_mm=(_point(ends[0]), _point(ends[1])), gap_mm=math.ceil(gap), states=lamps[0].states)


def _point(at: np.ndarray) -> Point:
    return (float(at[0]), float(at[1]))


def cut_lengths(length_mm: float, segment_mm: float) -> int:
    """Whole cut lengths of a strip that a run takes; one that ends within `DRAWN_MM` of a mark reaches it."""
    return math.floor((length_mm + DRAWN_MM) / segment_mm)


def run_emitter(part: StripPart, run: Strip) -> Emitter:
    """The strip of a run as it would be wired."""
    length = sum(math.dist(a, b) for a, b in zip(run.along_mm, run.along_mm[1:], strict=False))
    segments = max(1, cut_lengths(length, part.segment_mm))
    # The first LED lies half a pitch in, the others a pitch apart, past the end straight on.
    points = points_along(run.along_mm, [part.pitch_mm * (number + 0.5)
                                         for number in range(segments * part.leds_per_segment)])
    return Emitter(name=run.name, kind="strip", part_row=part.name, spot=Spot(run.part, *run.along_mm[0]), circuit="",
                   lamps=(), aim_current_a=0.0, segments=segments, strip_points_mm=points, run=run)


def taken_runs(plan_parts: Plan, strips: Sequence[StripPart], lamps: Sequence[PlacedLamp],
               sources: Mapping[str, Source]) -> tuple[Taken, ...]:
    """The runs of strip that lamps of the plan share because the design, or the modeller, takes a strip for them.

    Parameters
    ----------
    plan_parts : Plan
        Its parts alone are read.
    strips : sequence of StripPart
        The drawer's strips.
    lamps : sequence of PlacedLamp
        Lit lamps.
    sources : mapping of str to Source
        What makes each; its `run` names the lamps that share one.
    Returns
    -------
    tuple of Taken
        In the order of the lamps; each run is called after its first lamp.
    """
    groups: dict[str, list[PlacedLamp]] = {}
    for lamp in lamps:
        source = sources[lamp.name]
        if source.run is not None and lamp.states:
            groups.setdefault(source.run, []).append(lamp)
    rows = {row.name: row for row in strips}
    made = []
    for name, group in groups.items():
        openings = [_opening_of(plan_parts, lamp) for lamp in group]
        assert group[0].spot is not None
        run = straight_run(group, openings, rows[sources[group[0].name].led],
                           plan_parts.part(group[0].spot.part))
        assert run is not None, "lamps in a line alone share a run"
        made.append(Taken(replace(run, name=name), tuple(group)))
    return tuple(made)


# --- weighed ---------------------------------------------------------------------------------------------------------


def room_way(weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source) -> Way:
    """An LED in the room behind each opening; behind a sheet a wide one falls off to its ends."""
    plan, drawer = weighing.plan, weighing.drawer
    part = drawer.led(source.led if source.kind == "room" else brightest(drawer, lamps[0]))
    most_a = part.test_ma / 1000 if part.pre_wired_v is not None else part.max_ma * DERATE / 1000
    openings = [opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening) for lamp in lamps]
    most_light_a, least_light_a = (led_light_a(part, amps).typical for amps in (most_a, min(least_a(drawer), most_a)))
    lit = [room_light(plan, drawer, part, opening=opening, light_a=most_light_a) for opening in openings]
    wants = [weighing.want_cd(lamp, source) for lamp in lamps]
    enough = min(one[1].typical / max(want, 1e-12) for want, one in zip(wants, lit, strict=True))
    seen = [one[2].typical for one in lit]
    between = max(seen) / min(seen) if min(seen) > 0 else math.inf
    falls = max((_fall(opening, led_order(part)) for opening in openings if opening), default=1.0)
    rooms: dict[str, list[float]] = {}
    for lamp, opening, want, one in zip(lamps, openings, wants, lit, strict=True):
        space = shared_space(plan, opening)
        rooms.setdefault(f"room {space.name}" if space else lamp.name, []).append(
            min(most_a, led_current_a(part, most_light_a * want / max(one[1].typical, 1e-12))))
    amps = sum(statistics.geometric_mean(one) if min(one) > 0 else max(one) for one in rooms.values())
    return Way("room", part.name, None, leds=len(rooms), tails=0, holes=len(lamps), enough=enough * warm_share(part),
               least=enough * least_light_a / most_light_a, oversize=0.0, pieces=float(len(lamps)),
               uneven=max(between, falls), amps=amps)


def _fall(opening: Opening, order: float) -> float:
    """Middle over end of a sheet's light, its LED in the middle of the room behind and no light from the walls.

    E(x) / E(0) = cos^(m + 3) t, tan t = x / d: inverse square and cosine law for a cos^m lamp.
    """
    if not opening.diffusers:
        return 1.0
    half = max(float(side) for side in np.ptp(np.array(opening.shape_mm), axis=0)) / 2
    return math.pow(math.hypot(1.0, half / BOXED_ROOM_MM), order + 3)


def strip_way(
    weighing: Weighing, lamps: Sequence[PlacedLamp], part: StripPart, *, run: Strip, openings: Sequence[Opening],
    source: Source,
) -> Way:
    """A run of strip behind openings, with its light, evenness and current."""
    plan, drawer = weighing.plan, weighing.drawer
    emitter = run_emitter(part, run)
    rated_a = part.segment_ma / 1000
    from rushlight.stages.strips import behind_luminance  # brings in the routes: only where a strip is weighed

    lit = [behind_luminance(plan, drawer, (run, emitter), opening, rated_a).typical for opening in openings]
    gives = [value * opening_mm2(opening) * 1e-6 for value, opening in zip(lit, openings, strict=True)]
    ratios = [give / max(weighing.want_cd(lamp, source), 1e-12) for give, lamp in zip(gives, lamps, strict=True)]
    least_segment_a = min(least_a(drawer), rated_a)
    least = strip_light_a(part, least_segment_a).typical / rated_a
    middle = math.exp(math.fsum(math.log(max(ratio, 1e-12)) for ratio in ratios) / len(ratios))
    return Way(
        "strip", part.name, None, leds=emitter.segments * part.leds_per_segment, tails=0, holes=len(lamps),
        enough=min(ratios), least=min(ratios) * least,
        uneven=max(lit) / min(lit) if min(lit) > 0 else math.inf, oversize=0.0, pieces=STRIP_PIECES,
        amps=emitter.segments * min(max(strip_current_a(part, rated_a / middle), least_segment_a), rated_a),
        room_mm=run.gap_mm, depth_mm=shallowest_mm(plan, [run.part]),
    )


def choose_strips(
    weighing: Weighing, lamps: Sequence[PlacedLamp], sources: Mapping[str, Source]
) -> dict[str, Source]:
    """Sources of lamps behind openings that share a strip: those that the modeller says, and those that it serves.

    Parameters
    ----------
    weighing : Weighing
        Plan, parts, and how bright each lamp is wanted.
    lamps : sequence of PlacedLamp
        Lamps that are lit.
    sources : mapping of str to Source
        What makes each lamp as far as it is known.
    Returns
    -------
    dict of str to Source
        By lamp, of those alone that a strip makes, and of those left open the numbers of both. A strip is taken by
        itself only behind sheets, where it lacks nothing, where it draws no more than CLEARLY times the rooms' current,
        and where the rooms lack something or take CLEARLY as many pieces.
    Source
    ------
    Project rule; light by `optics.window` and `optics.lit_room`.
    """
    held = {pin.of for pin in weighing.plan.pinned}
    said = [lamp for lamp in lamps if sources[lamp.name].kind == "strip" and lamp.made_of == "lamps"]
    free = [lamp for lamp in lamps if sources[lamp.name].kind == "room" and not sources[lamp.name].insisted
            and sources[lamp.name].room is None and lamp.name not in held and _has_opening(weighing.plan, lamp)]
    made: dict[str, Source] = {}
    for line in in_lines(weighing.plan, said):
        best = _best_strip(weighing, line, [_opening_of(weighing.plan, lamp) for lamp in line], insisted=True)
        if best is not None:
            made |= _shared(line, best[1])
    for line in in_lines(weighing.plan, free):
        made |= _weighed(weighing, line, sources)
    return made


def _has_opening(plan: Plan, lamp: PlacedLamp) -> bool:
    return opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening) is not None


def run_name(lamps: Sequence[str]) -> str:
    """What a strip is called that nobody named: after its first lamp."""
    return lamps[0] if len(lamps) == 1 else f"{lamps[0]} and {len(lamps) - 1} more"


def _shared(line: Sequence[PlacedLamp], own: Mapping[str, Source]) -> dict[str, Source]:
    name = run_name([lamp.name for lamp in line])
    return {lamp.name: replace(own[lamp.name], run=name) for lamp in line}


def _weighed(weighing: Weighing, line: Sequence[PlacedLamp], sources: Mapping[str, Source]) -> dict[str, Source]:
    """The strip for one line of lamps where it serves better than the rooms; what spoke for it stands in the reason."""
    plan, first = weighing.plan, line[0]
    openings = [_opening_of(plan, lamp) for lamp in line]
    assert first.spot is not None
    room = room_way(weighing, line, sources[first.name])
    lacking = room.lacks(weighing.most_oversize)
    if not all(opening.diffusers for opening in openings) or not (lacking or room.pieces >= CLEARLY * STRIP_PIECES):
        return {}
    if any(opening.door is not None or _own_room(plan, opening) for opening in openings):
        return {}
    best = _best_strip(weighing, line, openings)
    if best is None:
        return {}
    run, own, strip = best
    if not _fits(plan, run) or strip.lacks(weighing.most_oversize) or strip.amps > CLEARLY * room.amps:
        return {}
    against = ", ".join((room.count(), *lacking)) if lacking else room.numbers()
    why = (f"{kind_words(room)} would be: {against}, {1000 * room.amps:.2g} mA; a strip, which wants "
           f"{run.gap_mm:.3g} mm of room behind: {strip.numbers()}, {1000 * strip.amps:.2g} mA")
    return _shared(line, {name: replace(source, why=why) for name, source in own.items()})


def _best_strip(
    weighing: Weighing, line: Sequence[PlacedLamp], openings: Sequence[Opening], *, insisted: bool = False
) -> tuple[Strip, dict[str, Source], Way] | None:
    """The strip of the lamps' colour, fed as the plan's supply can, that lacks least; of several the finest pitch."""
    plan, drawer, first = weighing.plan, weighing.drawer, line[0]
    usual = strip_of_colour(plan, drawer, first.colour)
    seen, tried = colour_of(usual.colour), []
    if math.dist((seen.x, seen.y), (first.colour.x, first.colour.y)) > SAME_COLOUR_XY and not insisted:
        return None
    for part in (part for part in drawer.strips if part.colour == usual.colour and part.supply_v == usual.supply_v):
        assert first.spot is not None
        run = straight_run(line, openings, part, plan.part(first.spot.part))
        if run is None:
            return None
        own = {lamp.name: behind(plan, lamp, part, insisted=insisted) for lamp in line}
        way = strip_way(weighing, line, part, run=run, openings=openings, source=own[first.name])
        bad = max(way.badness(weighing.most_oversize), 1.0)
        tried.append(((round(bad, 6), part.pitch_mm, part.power_w_per_m, part.name), (run, own, way)))
    return min(tried, key=lambda one: one[0])[1]


def _own_room(plan: Plan, opening: Opening) -> bool:
    return any(opening.name in (space.name, *space.windows) for space in plan.spaces)


def _fits(plan: Plan, run: Strip) -> bool:
    """Whether each space that the part bounds is deeper than the strip's gap."""
    return shallowest_mm(plan, [run.part]) > run.gap_mm


def shallowest_mm(plan: Plan, parts: Sequence[str]) -> float:
    """Narrowest side of the closed spaces that some parts bound [mm]; endless where none is known."""
    return min((min(space.size_mm) for space in plan.spaces if set(parts) & set(space.parts)), default=math.inf)
