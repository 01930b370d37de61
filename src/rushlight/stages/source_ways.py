"""The ways to make each lamp or row: LED, fibre, LED in a room, strip behind, weighed beside each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import StripPart
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Strip
from rushlight.model.plan_part import Diffuser, Opening
from rushlight.stages.aim import weighing_of
from rushlight.stages.emitters import strip_points
from rushlight.stages.lamps import colour_of
from rushlight.stages.led_currents import DERATE, least_a
from rushlight.stages.rooms import opening_mm2, opening_named, room_light
from rushlight.stages.source_choice import CLEARLY, Way, Weighing, right_led
from rushlight.stages.sources import fibre, led
from rushlight.stages.sources.common import SAME_COLOUR_XY
from rushlight.stages.sources.room import brightest
from rushlight.stages.sources.strip import strip_of_colour
from rushlight.stages.strips import behind_luminance

LEAST_HOLES = 3
"""So many lamps in a line at least are worth a strip (project rule)."""

OFF_LINE_MM = 3.0
"""Lamps that lie farther beside a straight strip are not over it (project rule)."""

STRIP_PIECES = 2.0
"""A strip with its one pair of leads, and its sheet (project rule)."""

SHEET = "opal diffusing film"
"""The sheet behind holes that have none yet."""

BUILT, AS_YOU_SAY = "taken", "as you say"


@dataclass(frozen=True, slots=True)
class Weighed:
    """The ways of one lamp or row (`group`), the one that is built first; `verdict` says of each what came of it."""

    group: str
    ways: tuple[Way, ...]
    verdicts: tuple[str, ...]

    @property
    def settled(self) -> bool:
        """Whether the modeller's word stands and no number speaks against it."""
        return self.verdicts[0] == AS_YOU_SAY and not any("fewer" in verdict for verdict in self.verdicts)


def source_ways(design: Design) -> tuple[Weighed, ...]:
    """Each lit lamp and row with the ways to make it, weighed as if it were alone.

    Parameters
    ----------
    design : Design
        The whole design.
    Returns
    -------
    tuple of Weighed
        In the order of the lamps. LED and fibre for what sits in a hole; a room or a strip for what is seen through
        openings; a strip also behind LEAST_HOLES lamps or more that lie in a line on one part, at a gap of one pitch
        and behind an opal sheet. A floodlight has its LED alone and is left out.
    Source
    ------
    Light by `optics.fibre`, `optics.window` and the LEDs' data; rules in `stages.source_choice`.
    """
    weighing = weighing_of(design.plan, design.drawer, design.lamps, {row.lamp: row for row in design.sources})
    groups: dict[str, list[tuple[PlacedLamp, Source]]] = {}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if lamp.states and not lamp.dark and lamp.spot is not None and not led.is_flood(design.plan, lamp):
            groups.setdefault(lamp.group, []).append((lamp, source))
    known: dict[tuple[object, ...], tuple[Way, ...]] = {}
    made = []
    for group, row in groups.items():
        lamps, source = [lamp for lamp, _ in row], row[0][1]
        key = (*_alike(weighing, lamps, source),)
        if key not in known:
            known[key] = _ways(weighing, lamps, source)
        made.append(Weighed(group, known[key], _verdicts(weighing, known[key], source)))
    return tuple(made)


def _alike(weighing: Weighing, lamps: list[PlacedLamp], source: Source) -> tuple[object, ...]:
    """Lamps that are weighed alike; rows each for itself, for their places tell."""
    first = lamps[0]
    if len(lamps) >= LEAST_HOLES or source.kind in ("room", "strip"):
        return (first.group,)
    return (len(lamps), first.model_mm, first.colour, source.kind, source.led, source.fibre_mm, source.tip,
            source.insisted, weighing.want_cd(first, source),
            tuple((pin.choice, pin.value) for pin in weighing.plan.pinned if pin.of in (first.group, first.name)))


def _ways(weighing: Weighing, lamps: list[PlacedLamp], source: Source) -> tuple[Way, ...]:
    """The way that is built first."""
    plan, drawer, first = weighing.plan, weighing.drawer, lamps[0]
    if source.kind in ("room", "strip"):
        ways = [_by_room(weighing, lamps, source)]
        behind = _by_strip(weighing, lamps, source)
        ways += [behind] if behind else []
    else:
        own = {source.kind: source}
        by = {"led": own.get("led") or right_led(weighing, lamps, led.choose(plan, drawer, first, None)),
              "fibre": own.get("fibre") or fibre.choose(plan, drawer, first, None)}
        ways = [weighing.by_led(lamps, by["led"]), weighing.by_fibre(lamps, by["fibre"])]
        behind = _by_strip(weighing, lamps, source) if len(lamps) >= LEAST_HOLES else None
        ways += [behind] if behind else []
    return tuple(sorted(ways, key=lambda way: way.kind != source.kind))


def _by_room(weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source) -> Way:
    """An LED in the room behind each opening."""
    plan, drawer = weighing.plan, weighing.drawer
    part = drawer.led(source.led if source.kind == "room" else brightest(drawer, lamps[0]))
    most_a = part.test_ma / 1000 if part.pre_wired_v is not None else part.max_ma * DERATE / 1000
    lit = [
        room_light(plan, drawer, part, opening=opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening),
                   current_a=most_a) for lamp in lamps
    ]
    enough = min(one[1].typical / max(weighing.want_cd(lamp, source), 1e-12)
                 for lamp, one in zip(lamps, lit, strict=True))
    seen = [one[2].typical for one in lit]
    return Way("room", part.name, None, leds=len(lamps), tails=0, holes=len(lamps), enough=enough,
               least=enough * min(least_a(drawer) / most_a, 1.0), oversize=0.0, pieces=float(len(lamps)),
               uneven=max(seen) / min(seen) if min(seen) > 0 else math.inf)


def _verdicts(weighing: Weighing, ways: tuple[Way, ...], source: Source) -> tuple[str, ...]:
    """Of the way that is built that it is, and what it lacks; of the others why not."""
    own = ways[0]
    told = []
    for way in ways:
        lacks = ", ".join(way.lacks(weighing.most_oversize))
        if way is own:
            word = AS_YOU_SAY if source.insisted else BUILT
            told.append(f"{word}; {lacks}" if lacks else word)
        elif lacks:
            told.append(f"not: {lacks}")
        elif way.pieces * CLEARLY < own.pieces:
            behind = ", where there is room behind (write it under strips)" if way.kind == "strip" else ""
            told.append(f"would serve with far fewer pieces{behind}")
        else:
            told.append("would serve too")
    return tuple(told)


# --- a strip behind -----------------------------------------------------------------------------------------------


def _by_strip(weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source) -> Way | None:
    """A strip behind the lamps' openings or holes; None on several parts, in no line, or in a colour that none has."""
    plan, drawer = weighing.plan, weighing.drawer
    written = next((row for row in plan.strips if row.name == lamps[0].group), None)
    spots = [lamp.spot for lamp in lamps if lamp.spot is not None]
    if len({spot.part for spot in spots}) != 1:
        return None
    openings = [_opening(weighing, lamp, source) for lamp in lamps]
    part = drawer.strip(source.led) if written else strip_of_colour(plan, drawer, lamps[0].colour)
    other = colour_of(part.colour)
    if not written and math.dist((other.x, other.y), (lamps[0].colour.x, lamps[0].colour.y)) > SAME_COLOUR_XY:
        return None
    run = written or _run(lamps, openings, part, spots[0].part)
    if run is None:
        return None
    emitter = _emitter(part, run)
    rated_a = part.segment_ma / 1000
    lit = [behind_luminance(plan, drawer, (run, emitter), opening, rated_a).typical for opening in openings]
    gives = [value * opening_mm2(opening) * 1e-6 for value, opening in zip(lit, openings, strict=True)]
    wants = [weighing.want_cd(lamp, source) for lamp in lamps]
    enough = min(give / max(want, 1e-12) for give, want in zip(gives, wants, strict=True))
    return Way(
        "strip", part.name, None, leds=emitter.segments * part.leds_per_segment, tails=0, holes=len(lamps),
        enough=enough, least=enough * min(least_a(drawer) / rated_a, 1.0),
        uneven=max(lit) / min(lit) if min(lit) > 0 else math.inf, oversize=0.0, pieces=STRIP_PIECES,
    )


def _opening(weighing: Weighing, lamp: PlacedLamp, source: Source) -> Opening:
    """The lamp's opening, or a square one of its hole's area behind a sheet."""
    assert lamp.spot is not None
    found = opening_named(weighing.plan, lamp.spot.part, lamp.opening)
    sheets = (Diffuser(sheet=SHEET),) if any(row.name == SHEET for row in weighing.drawer.diffusers) else ()
    if found is not None:
        return found if found.diffusers else replace(found, diffusers=sheets)
    half = (lamp.model_mm or source.seen_mm) * math.sqrt(math.pi) / 4
    x, y = lamp.spot.at_mm
    return Opening(name=lamp.name, rect_mm=(x - half, y - half, 2 * half, 2 * half), clear=False, diffusers=sheets)


def _run(lamps: Sequence[PlacedLamp], openings: Sequence[Opening], part: StripPart, on: str) -> Strip | None:
    """A straight strip of whole cut lengths, one pitch behind the openings; None where they lie in no line."""
    middles = np.array([np.mean(opening.shape_mm, axis=0) for opening in openings])
    away = middles - middles.mean(axis=0)
    way = np.linalg.svd(away)[2][0] if len(lamps) > 1 else np.array([1.0, 0.0])
    along, across = away @ way, away @ np.array([-way[1], way[0]])
    if np.abs(across).max() > OFF_LINE_MM:
        return None
    wide = max(float(np.ptp(np.array(opening.shape_mm) @ way)) for opening in openings)
    length = math.ceil((float(np.ptp(along)) + wide + part.pitch_mm) / part.segment_mm) * part.segment_mm
    middle = middles.mean(axis=0) + way * (along.max() + along.min()) / 2
    ends = [middle - way * length / 2, middle + way * length / 2]
    return Strip(name=lamps[0].group, part=on, openings=(), along_mm=(_point(ends[0]), _point(ends[1])),
                 gap_mm=part.pitch_mm, states=lamps[0].states)


def _point(at: np.ndarray) -> Point:
    return (float(at[0]), float(at[1]))


def _emitter(part: StripPart, run: Strip) -> Emitter:
    length = sum(math.dist(a, b) for a, b in zip(run.along_mm, run.along_mm[1:], strict=False))
    segments = max(1, math.floor(length / part.segment_mm + 1e-6))
    return Emitter(
        name=run.name, kind="strip", part_row=part.name, spot=Spot(run.part, *run.along_mm[0]), circuit="", lamps=(),
        aim_current_a=0.0, segments=segments,
        strip_points_mm=strip_points(run, segments * part.leds_per_segment, part.pitch_mm),
    )
