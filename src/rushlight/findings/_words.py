"""Words that many findings share: lists of names, numbers with sensible digits, the plan's entries that are built."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.place import Spot
from rushlight.model.plan import Lamp, Row, Strip
from rushlight.units import Range

Entry = Lamp | Row | Strip


def listed(names: Sequence[str], most: int = 3) -> str:
    """Names as a modeller says them: 'a, b and 4 more'."""
    if len(names) > most + 1:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def plain(value: float, digits: int = 2) -> str:
    """A number with so many digits that count, never in powers of ten."""
    rounded = float(f"{value:.{digits}g}")
    return f"{rounded:.10f}".rstrip("0").rstrip(".")


VAGUE = 1000.0
"""A range whose ends lie farther apart is told in words; a ratio beyond it is not told as a number."""


def times_words(ratio: float) -> str:
    """How many times as much, without digits that say nothing."""
    return plain(ratio) if ratio <= VAGUE else f"over {plain(VAGUE)}"


LEAST_PERCENT = 0.1
"""Of less nobody needs the digits."""

LEAST_SHEET_PERCENT = 2.0
"""No sheet or film that still looks like a lit window lets less through (project rule)."""


def percent_words(percent: float) -> str:
    """A share without noughts that nobody counts."""
    return f"{plain(percent)} %" if percent >= LEAST_PERCENT else f"under {plain(LEAST_PERCENT)} %"


def likely_ends(likely: Range, outer: Range, say: Callable[[float], str]) -> str:
    """The likely range with the outer one: 'likely 2 to 6; at the outside 0.4 to 20'; one where both read alike."""
    inner, outside = (
        f"{say(value.high)} at most, perhaps next to nothing" if value.high > VAGUE * value.low
        else f"{say(value.low)} to {say(value.high)}" for value in (likely, outer)
    )
    return inner if inner == outside else f"likely {inner}; at the outside {outside}"


def capital(text: str) -> str:
    """The text as the start of a sentence."""
    return text[:1].upper() + text[1:]


def entries(design: Design) -> tuple[Entry, ...]:
    """Lamps, rows and strips of the plan that are built in this version."""
    built = {lamp.group for lamp in design.lamps}
    written: tuple[Entry, ...] = (*design.plan.lamps, *design.plan.rows, *design.plan.strips)
    return tuple(entry for entry in written if entry.name in built)


def spot_of(design: Design, group: str) -> Spot | None:
    """Where the first placed lamp of a lamp, row or strip lies."""
    return next((lamp.spot for lamp in design.lamps if lamp.group == group and lamp.spot), None)


def by_group(lamps: Iterable[PlacedLamp]) -> dict[str, list[PlacedLamp]]:
    """Lamps under the lamp, row or strip that they came from, in the plan's order."""
    groups: dict[str, list[PlacedLamp]] = {}
    for lamp in lamps:
        groups.setdefault(lamp.group, []).append(lamp)
    return groups
