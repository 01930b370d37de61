"""A wall with its coats, from outside in: what gets through it, and what its inner face throws back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import shapely

from rushlight.likely import Guesses, known_apart
from rushlight.model.drawer import CoatPart, Drawer, WallPart
from rushlight.model.plan_part import Part
from rushlight.optics.wall import absorbing_coats, stacked, stacked_reflectance
from rushlight.units import Range

SCATTERING = ("white", "primer")
"""Kinds of coats that stop light by throwing it back; the others swallow it."""

HALVINGS = 40
"""Of a bracket of densities: to 1e-11 of it."""


@dataclass(frozen=True, slots=True)
class _Face:
    """A wall with some coats: its transmittance, and the reflectance of the face that the next coat goes on."""

    through: float
    back: float


def wall_through(drawer: Drawer, part: Part) -> Range:
    """Transmittance of the wall with its planned coats.

    Source
    ------
    Kubelka 1954 where a coat scatters, Beer's law where it swallows; `optics.wall`.
    """
    low, typical, high = (_painted(drawer, part, (end, end, thick)).through for end, thick in
                          (("low", "high"), ("typical", "typical"), ("high", "low")))
    return Range(low, typical, high)


def wall_guesses(drawer: Drawer, part: Part) -> Guesses:
    """What `wall_through` hangs on: the wall itself, what it and its paints throw back, how dense each paint is."""
    wall, coats = drawer.wall(part.wall), tuple(drawer.coat(name) for name in part.coats)

    def over(name: str, place: int, known: tuple[CoatPart, ...] = coats) -> tuple[str, Range]:
        """With one of the three at its ends; which end lets more through depends on what it is."""
        found = [_faced(wall, part.wall_mm, known, _with_end(place, end)).through for end in ("low", "typical", "high")]
        return name, Range(min(found), found[1], max(found))

    return known_apart([
        over("the wall", 0), over("what paints throw back", 1),
        *(over(name, 2, tuple(one if one.name == name else _as_usual(one) for one in coats))
          for name in dict.fromkeys(part.coats)),
    ])


def _with_end(place: int, end: str) -> tuple[str, str, str]:
    one, two, three = (end if place == k else "typical" for k in range(3))
    return one, two, three


def _as_usual(coat: CoatPart) -> CoatPart:
    """The same paint as if its density were known."""
    return replace(coat, density=Range.exactly(coat.density.typical))


def inside_reflectance(drawer: Drawer, part: Part) -> Range:
    """What the inner face throws back: a coat that does not cover lets what lies under it show.

    Source
    ------
    Kubelka 1954, `optics.wall.stacked_reflectance`; between what lies under a coat and what the paint throws back where
    it covers.
    """
    typical = usual_inside_reflectance(drawer, part)
    low = [_painted(drawer, part, ("high", "low", thick)).back for thick in ("low", "high")]
    high = [_painted(drawer, part, ("low", "high", thick)).back for thick in ("low", "high")]
    return Range(min(*low, typical), typical, max(*high, typical))


def usual_inside_reflectance(drawer: Drawer, part: Part) -> float:
    """The typical value of `inside_reflectance` alone."""
    return _painted(drawer, part, ("typical", "typical", "typical")).back


def room_reflectance(drawer: Drawer, parts: Sequence[Part]) -> Range:
    """What the inside of a room throws back that several parts form: the mean over them, each by its area.

    Source
    ------
    Integrating-sphere relation: it has the mean reflectance of all that the light meets (Goebel, Appl. Opt. 6 (1967)
    125, from memory). Parts are taken to line the room in proportion to their outlines.
    """
    own = [inside_reflectance(drawer, part) for part in parts]
    areas = [max(shapely.Polygon(part.outline_mm).area, 1e-9) for part in parts]

    def mean(values: Sequence[float]) -> float:
        return math.fsum(area * value for area, value in zip(areas, values, strict=True)) / math.fsum(areas)

    return Range(mean([one.low for one in own]), mean([one.typical for one in own]), mean([one.high for one in own]))


def _painted(drawer: Drawer, part: Part, ends: tuple[str, str, str]) -> _Face:
    """At one end each of what the wall lets through, of what wall and paints throw back, and of how dense coats are."""
    return _faced(drawer.wall(part.wall), part.wall_mm, tuple(drawer.coat(name) for name in part.coats), ends)


@lru_cache(maxsize=1024)
def _faced(wall: WallPart, wall_mm: float, coats: tuple[CoatPart, ...], ends: tuple[str, str, str]) -> _Face:
    """Kept, because every window, hole and room of a part asks for its wall."""
    passes, throws, thick = ends
    through = _bare(wall, getattr(wall.transmittance_1mm, passes), wall_mm)
    face = _Face(through, min(getattr(wall.reflectance, throws), 1.0 - through))
    for coat in coats:
        face = _coated(face, coat, getattr(coat.density, thick), getattr(coat.reflectance, throws))
    return face


def _coated(under: _Face, coat: CoatPart, density: float, covers: float) -> _Face:
    """One coat more; `covers` is what its paint throws back where nothing shows through."""
    passes = 10.0**-density
    throws, back = min(covers, 1.0 - passes), min(under.back, 1.0 - under.through)
    both = stacked_reflectance(under.back, passes, reflectance=throws)
    low, high = sorted((under.back, covers))
    if coat.kind in SCATTERING:
        through = stacked(under.through, passes, first_reflectance=back, second_reflectance=throws)
    else:
        through = absorbing_coats(under.through, density, coats=1)
    return _Face(through, min(max(both, low), high))


def density_of_one(coat: CoatPart, share: float, *, coats: int) -> float:
    """Optical density of one coat [-] where several on something clear let a share through.

    Parameters
    ----------
    coat : CoatPart
        The paint.
    share : float
        With the coats over without them [-], above 0, at most 1.
    coats : int
        How many, 1 or more.
    Returns
    -------
    float
        Density [-], 0 or more.
    Source
    ------
    The stack of `wall_through`, solved by halving. Where light is swallowed, coats multiply; what throws it back lets
    more through than the product, so that one coat lies between the coats' density shared out and the whole of it.
    """
    whole = -math.log10(share)
    low, high = whole / coats, whole
    if coat.kind not in SCATTERING:
        return low
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _over_clear(coat, middle, coats) > share else (low, middle)
    return (low + high) / 2.0


def _over_clear(coat: CoatPart, density: float, coats: int) -> float:
    """What coats let through on something that throws nothing back."""
    face = _Face(1.0, 0.0)
    for _ in range(coats):
        face = _coated(face, coat, density, coat.reflectance.typical)
    return face.through


def _bare(wall: WallPart, at_1mm: float, wall_mm: float) -> float:
    """From 1 mm to the real thickness: Kubelka's T = 1 / (1 + S X) where it scatters, Beer's law where it absorbs."""
    if at_1mm <= 0.0:
        return 0.0
    if wall.scatters:
        return 1.0 / (1.0 + (1.0 / at_1mm - 1.0) * wall_mm)
    return float(at_1mm**wall_mm)
