"""Coats against light through a wall: how many more of which, in which order, for which room."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from rushlight.model.design_light import CoatsIn, Paint
from rushlight.model.drawer import Drawer
from rushlight.model.plan_part import Part
from rushlight.units import Range

BLACK, SILVER, WHITE, PRIMER, FOIL = "black lacquer", "silver", "white paint", "white primer", "kitchen foil"
"""Rows of the drawer: what the cure counts in where the part has no black of its own, what stands beside it, what goes
over the black, and what is left where paint does not do it."""

LIGHT_KINDS = ("white", "metallic")
"""Coats that go over the dark ones."""

MOST_COATS = 12
"""So many more coats a builder may spray before foil or a box inside is the better way (project rule)."""

Shine = Callable[[Part], Range]
"""Luminance of a part's wall outside [cd/m2] with some coats."""


@dataclass(frozen=True, slots=True)
class Seen:
    """Least luminance that is seen [cd/m2] in each viewing room, and in the plan's own."""

    rooms_cd_m2: Mapping[str, float]
    own_cd_m2: float


def own_black(drawer: Drawer, part: Part) -> str:
    """The black that the part is painted with, else black lacquer."""
    return next((name for name in reversed(part.coats) if drawer.coat(name).kind == "black"), BLACK)


def with_more(drawer: Drawer, part: Part, coat: str, count: int) -> Part:
    """The part with more coats of one paint, all of them in the order that serves: dark, then silver, then white.

    Parameters
    ----------
    drawer : Drawer
        Where coats are looked up.
    part : Part
        With the coats that it has.
    coat : str
        A coat of the drawer.
    count : int
        How many more; with none the part stays as it is.
    Returns
    -------
    Part
        A dark coat is not left the last: white primer goes over it where nothing light does, but where the part is
        black inside already. White there would light up every hole and seam.
    Source
    ------
    Habit black_then_light: common practice, no source.
    """
    if count == 0:
        return part
    light = tuple(name for name in part.coats if drawer.coat(name).kind in LIGHT_KINDS)
    dark = tuple(name for name in part.coats if name not in light)
    more, kind = (coat,) * count, drawer.coat(coat).kind
    if kind == "white":
        return replace(part, coats=(*dark, *light, *more))
    if kind == "metallic":
        return replace(part, coats=(*dark, *more, *light))
    stays_black = kind == "black" and not light and any(drawer.coat(name).kind == "black" for name in dark)
    return replace(part, coats=(*dark, *more, *(light if light or stays_black else (PRIMER,))))


def order_words(coats: Iterable[str]) -> str:
    """Coats from the wall in: '3 x black lacquer, white primer'."""
    runs = [(name, len(list(run))) for name, run in groupby(coats)]
    return ", ".join(f"{count} x {name}" if count > 1 else name for name, count in runs)


def fewest(drawer: Drawer, part: Part, coat: str, dark_enough: Callable[[Part], bool]) -> int | None:
    """Least number of more coats of one paint that does, up to `MOST_COATS`; None where none does."""
    return next((count for count in range(MOST_COATS + 1) if dark_enough(with_more(drawer, part, coat, count))), None)


def cured(drawer: Drawer, part: Part, dark_enough: Callable[[Part], bool]) -> tuple[str, int, tuple[str, ...]]:
    """Coat, how many more of it, and all coats first to last: the part's own black, else one layer of foil."""
    black = own_black(drawer, part)
    count = fewest(drawer, part, black, dark_enough)
    coat, more = (FOIL, 1) if count is None else (black, count)
    return coat, more, with_more(drawer, part, coat, more).coats


def paints_for(drawer: Drawer, part: Part, shine: Shine, seen: Seen) -> tuple[Paint, ...]:
    """Black, silver and white against a wall's glow.

    Parameters
    ----------
    drawer : Drawer
        Where coats are looked up.
    part : Part
        With the coats that it has.
    shine : callable
        Luminance of the part's wall with some coats [cd/m2].
    seen : Seen
        What is seen in the viewing rooms.
    Returns
    -------
    tuple of Paint
        The part's own black, silver, white paint.
    Source
    ------
    `shine` with each number of coats; nothing is extrapolated.
    """
    return tuple(_paint(drawer, part, coat, shine, seen) for coat in (own_black(drawer, part), SILVER, WHITE))


def _paint(drawer: Drawer, part: Part, coat: str, shine: Shine, seen: Seen) -> Paint:
    glows = [shine(with_more(drawer, part, coat, count)) for count in range(MOST_COATS + 1)]
    usual, worst = [glow.typical for glow in glows], [glow.high for glow in glows]
    told = tuple(CoatsIn(room=room, usual=_first(least, usual), sure=_first(least, worst))
                 for room, least in seen.rooms_cd_m2.items())
    own = _first(seen.own_cd_m2, usual)
    return Paint(coat=coat, rooms=told, order=() if own is None else with_more(drawer, part, coat, own).coats)


def _first(least: float, values: list[float]) -> int | None:
    return next((count for count, value in enumerate(values) if value <= least), None)
