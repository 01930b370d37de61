"""Places on a part."""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]
"""x and y in millimetres on a part's own plane, x to the right, y up, seen as the part is drawn."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point on a part."""

    part: str
    x_mm: float
    y_mm: float

    @property
    def at_mm(self) -> Point:
        """The point on the part's plane."""
        return (self.x_mm, self.y_mm)


@dataclass(frozen=True, slots=True)
class Leg:
    """A piece of a route that lies on one part; two points or more."""

    part: str
    points_mm: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Bend:
    """One bend of a route."""

    angle_deg: float
    radius_mm: float
