"""The ways to make each lamp or row: LED, fibre, LED in a room, strip behind, weighed beside each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.plan_part import Diffuser, Opening
from rushlight.stages.aim import weighing_of
from rushlight.stages.lamps import colour_of
from rushlight.stages.rooms import opening_named
from rushlight.stages.row_tails import with_open_leds
from rushlight.stages.source_choice import CLEARLY, Way, Weighing, like_lamps, right_fibre, right_led
from rushlight.stages.sources import fibre, led
from rushlight.stages.sources.common import SAME_COLOUR_XY
from rushlight.stages.sources.strip import strip_of_colour
from rushlight.stages.strip_choice import in_lines, room_way, straight_run, strip_way

LEAST_HOLES = 3
"""So many lamps in a line at least are worth a strip (project rule)."""

SHEET = "opal diffusing film"
"""The sheet behind holes that have none yet."""

BUILT, AS_YOU_SAY = "taken", "as you say"


@dataclass(frozen=True, slots=True)
class Weighed:
    """The ways of one lamp or row (`group`), the one that is built first; `verdict` says of each what came of it.

    `groups` are all that are weighed together: lamps behind openings that one strip could light, and single lamps that
    are alike and near each other; `lamps` those that are lit.
    """

    group: str
    groups: tuple[str, ...]
    lamps: tuple[PlacedLamp, ...]
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
        In the order of the lamps, single ones that are alike and near each other together. LED and fibre for what
        sits in a hole; a room or a strip for what is seen through openings; a strip also behind LEAST_HOLES lamps or
        more that lie in a line on one part, a few pitches away and behind an opal sheet. A floodlight has its LED
        alone and is left out.
    Source
    ------
    Light by `optics.fibre`, `optics.window` and the LEDs' data; rules in `stages.source_choice`.
    """
    weighing = weighing_of(design.plan, design.drawer, design.lamps, {row.lamp: row for row in design.sources})
    groups = lit_groups(design, weighing)
    known: dict[tuple[object, ...], tuple[Way, ...]] = {}
    made = []
    for group, row in groups.items():
        lamps, source = [lamp for lamp, _ in row], row[0][1]
        key = (*_alike(weighing, lamps, source),)
        if key not in known:
            known[key] = _ways(weighing, lamps, source)
        together = tuple(dict.fromkeys(lamp.group for lamp in lamps))
        made.append(Weighed(group, together, tuple(lamps), known[key], _verdicts(weighing, known[key], source)))
    return tuple(made)


def lit_groups(design: Design, weighing: Weighing) -> dict[str, list[tuple[PlacedLamp, Source]]]:
    """What is weighed together, by its first name: rows, strips, lamps in a line behind openings, single lamps that are
    alike and near each other, others alone; without floodlights."""
    lit = [(lamp, source) for lamp, source in zip(design.lamps, design.sources, strict=True)
           if lamp.states and not lamp.dark and lamp.spot is not None and not led.is_flood(design.plan, lamp)]
    behind = [lamp for lamp, source in lit if lamp.made_of == "lamps" and source.kind in ("room", "strip")
              and opening_named(design.plan, lamp.spot.part if lamp.spot else None, lamp.opening)]
    kinds = {lamp.name: (source.kind, source.insisted) for lamp, source in lit}
    leads: dict[str, str] = {}
    for kind in dict.fromkeys(kinds.values()):
        for line in in_lines(design.plan, [lamp for lamp in behind if kinds[lamp.name] == kind]):
            leads |= {lamp.name: line[0].group for lamp in line}
    holes = [lamp for lamp, source in lit if lamp.made_of == "lamps" and source.kind in ("led", "fibre")]
    for heap in like_lamps(weighing, holes, {source.lamp: source for _, source in lit}):
        leads |= {lamp.name: heap[0].group for lamp in heap}
    groups: dict[str, list[tuple[PlacedLamp, Source]]] = {}
    for lamp, source in lit:
        groups.setdefault(leads.get(lamp.name, lamp.group), []).append((lamp, source))
    return groups


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
    if source.kind in ("room", "strip"):
        ways = [room_way(weighing, lamps, source)]
        behind = _by_strip(weighing, lamps, source)
        ways += [behind] if behind else []
    else:
        ways = list(hole_ways(weighing, lamps, source))
        behind = _by_strip(weighing, lamps, source) if len(lamps) >= LEAST_HOLES else None
        ways += [behind] if behind else []
    return tuple(sorted(ways, key=lambda way: way.kind != source.kind))


def hole_ways(weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source) -> tuple[Way, Way]:
    """LED and fibre for lamps in holes: as built, and the other as if nothing of it were named or held."""
    if source.kind == "led":
        free = replace(weighing, plan=with_open_leds(weighing.plan))
        return weighing.by_led(lamps, source), free.by_fibre(lamps, tail_source(weighing, lamps[0]))
    usual = led.choose(weighing.plan, weighing.drawer, lamps[0], None)
    return weighing.by_led(lamps, right_led(weighing, lamps, usual)), weighing.by_fibre(lamps, source)


def tail_source(weighing: Weighing, lamp: PlacedLamp) -> Source:
    """The fibre that would make a lamp that is an LED."""
    return right_fibre(weighing, lamp, fibre.choose(weighing.plan, weighing.drawer, lamp, None))


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
        elif way.spares(own):
            told.append(f"would serve with {own.leds - way.leds} LED{'s' if own.leds - way.leds > 1 else ''} fewer")
        elif way.pieces * CLEARLY < own.pieces:
            behind = _told_how(own) if way.kind == "strip" else ""
            told.append(f"would serve with far fewer pieces{behind}")
        else:
            told.append("would serve too")
    return tuple(told)


def _told_how(own: Way) -> str:
    """How a strip is taken in place of the way that is built."""
    if own.kind == "room":
        return ", where there is room behind and a sheet before it: its kind is strip then"
    return ", where there is room behind (write it under strips)"


# --- a strip behind -----------------------------------------------------------------------------------------------


def _by_strip(weighing: Weighing, lamps: Sequence[PlacedLamp], source: Source) -> Way | None:
    """A strip behind the lamps' openings or holes; None on several parts, in no line, or in a colour that none has."""
    plan, drawer = weighing.plan, weighing.drawer
    written = next((row for row in plan.strips if row.name == lamps[0].group), None)
    spots = [lamp.spot for lamp in lamps if lamp.spot is not None]
    if len({spot.part for spot in spots}) != 1:
        return None
    openings = [_opening(weighing, lamp, source) for lamp in lamps]
    part = drawer.strip(source.led) if source.kind == "strip" else strip_of_colour(plan, drawer, lamps[0].colour)
    other = colour_of(part.colour)
    if not written and math.dist((other.x, other.y), (lamps[0].colour.x, lamps[0].colour.y)) > SAME_COLOUR_XY:
        return None
    run = written or straight_run(lamps, openings, part, plan.part(spots[0].part))
    if run is None:
        return None
    return strip_way(weighing, lamps, part, run=run, openings=openings, source=source)


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
