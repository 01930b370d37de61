"""Marks of the loom as it lies: leads, fibres, splices, lamps, keep-outs."""

from __future__ import annotations

import itertools
import math

from rushlight.errors import OutOfRange
from rushlight.model.sheet import (
    DETAIL,
    EDGE,
    TEXT_SIZES_MM,
    THIN,
    Anchor,
    Band,
    Circle,
    Colour,
    Ink,
    Mark,
    Pattern,
    Point,
    Polyline,
    Text,
    TextSize,
)
from rushlight.sheets.place import Place, on_circle, placed, text_box_mm

PLUS = Ink("detail", "solid", "accent")
"""A lead on the plus side."""

RETURN = Ink("detail", "dashed", "ink")
"""A lead on the return side: told from plus by its pattern first, by colour second."""

FIBRE = Ink("dimension", "solid", "ink")
"""One fibre of a tail."""

SIGNAL = Ink("detail", "chain", "ink")
"""A lead that carries a signal."""

HALO_MM = 0.5
"""Free paper on each side of a lead, so that a crossing reads as over and under."""

TICK_MM = 2.0
"""Length of the tick that shows a lamp's direction."""

SIN_22_5 = 0.3827
"""Beyond an eighth of a turn a name stands at the corner of its text box."""

_ANCHORS: dict[str, Anchor] = {
    "s": "s", "n": "n", "e": "e", "w": "w", "sw": "sw", "se": "se", "nw": "nw", "ne": "ne",
}

SMALLEST_BAND_MM = 0.25
"""Leads thinner than this on paper are drawn this thick, or they would not print."""


def lead(points_mm: tuple[Point, ...], thickness_mm: float, ink: Ink = PLUS) -> tuple[Band, Band]:
    """A lead at true thickness over a wider pale core that breaks whatever it crosses.

    Parameters
    ----------
    points_mm : tuple of Point
        Its run on paper, two points or more.
    thickness_mm : float
        Diameter over insulation on paper [mm], > 0.
    ink : Ink
        PLUS, RETURN or SIGNAL.
    Returns
    -------
    tuple of Band
        The pale core, then the lead. Drawn later means: lies over.
    Raises
    ------
    OutOfRange
        If there are fewer than two points or the thickness is not above 0.
    """
    _check_run(points_mm, thickness_mm)
    width = max(thickness_mm, SMALLEST_BAND_MM)
    core = Ink(ink.weight, "solid", "paper")
    return (Band(points_mm, width + 2 * HALO_MM, core), Band(points_mm, width, ink))


def _check_run(points_mm: tuple[Point, ...], width_mm: float) -> None:
    if len(points_mm) < 2:
        raise OutOfRange("points of a run", len(points_mm), "two or more")
    if not width_mm > 0:
        raise OutOfRange("thickness_mm", width_mm, "above 0")


def fibres(points_mm: tuple[Point, ...], count: int, *, pitch_mm: float,
           gather_mm: float = 0.0) -> tuple[Polyline, ...]:
    """Fine parallel hairlines along a run, one a fibre.

    Parameters
    ----------
    points_mm : tuple of Point
        Middle of the run on paper, two points or more.
    count : int
        Fibres, >= 1.
    pitch_mm : float
        Distance between neighbours on paper [mm], > 0 (a fibre's diameter at scale).
    gather_mm : float
        Where above 0, the hairlines spread from one point over this length at the run's start.
    Returns
    -------
    tuple of Polyline
        From the right of the run to its left.
    Raises
    ------
    OutOfRange
        If count is below 1 or the run has fewer than two points.
    """
    _check_run(points_mm, pitch_mm)
    if count < 1:
        raise OutOfRange("fibres", count, "1 or more")
    run = _with_gather_point(points_mm, gather_mm)
    offsets = [(k - (count - 1) / 2) * pitch_mm for k in range(count)]
    lines = (parallel(run, offset) for offset in offsets)
    if gather_mm > 0:
        lines = ((run[0], *line[1:]) for line in lines)
    return tuple(Polyline(tuple(line), FIBRE) for line in lines)


def _with_gather_point(points: tuple[Point, ...], gather_mm: float) -> tuple[Point, ...]:
    first = math.dist(points[0], points[1])
    if not 0 < gather_mm < first:
        return points
    share = gather_mm / first
    (ax, ay), (bx, by) = points[0], points[1]
    return (points[0], (ax + (bx - ax) * share, ay + (by - ay) * share), *points[1:])


def parallel(points_mm: tuple[Point, ...], offset_mm: float) -> tuple[Point, ...]:
    """The run beside a run, `offset_mm` to its left, corners mitred (a mitre is at most four offsets long).

    Parameters
    ----------
    points_mm : tuple of Point
        Two points or more; a repeated point is left out.
    offset_mm : float
        Distance [mm], negative to the right.
    Returns
    -------
    tuple of Point
        One point for each different point of the run.
    """
    run = tuple(p for i, p in enumerate(points_mm) if i == 0 or p != points_mm[i - 1])
    if len(run) < 2:
        return run
    lefts = tuple(_left_of(a, b) for a, b in itertools.pairwise(run))
    before, after = (lefts[0], *lefts), (*lefts, lefts[-1])
    return tuple(_mitred(p, u, v, offset_mm) for p, u, v in zip(run, before, after, strict=True))


def _left_of(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)


def _mitred(point: Point, before: Point, after: Point, offset_mm: float) -> Point:
    x, y = before[0] + after[0], before[1] + after[1]
    # |before + after|^2 = 2 + 2 cos(turn); a mitre grows as 1/cos(turn / 2), so it is held below 4
    stretch = 2.0 / max(x * x + y * y, 0.25)
    return (point[0] + x * stretch * offset_mm, point[1] + y * stretch * offset_mm)


def splice(at_mm: Point, length_mm: float, *, diameter_mm: float, angle_deg: float = 0.0,
           name: str = "") -> tuple[Mark, ...]:
    """A splice: its sleeve at true length and thickness, with its name beside it.

    Parameters
    ----------
    at_mm : Point
        Middle of the sleeve on paper.
    length_mm, diameter_mm : float
        The shrunk sleeve on paper [mm], > 0.
    angle_deg : float
        Its direction.
    name : str
        Drawn beside it where given.
    Returns
    -------
    tuple of Mark
        The sleeve filled pale with rounded ends, then its name.
    Raises
    ------
    OutOfRange
        If a size is not above 0.
    """
    if not (length_mm > 0 and diameter_mm > 0):
        raise OutOfRange("splice size", (length_mm, diameter_mm), "above 0")
    half, end = length_mm / 2, min(diameter_mm, length_mm) / 2
    right = [on_circle((half - end, 0.0), end, angle) for angle in range(-90, 91, 30)]
    left = [on_circle((end - half, 0.0), end, angle) for angle in range(90, 271, 30)]
    sleeve = Polyline(tuple(right + left), Ink("detail", fill="pale"), closed=True)
    shape = placed(sleeve, Place(angle_deg=angle_deg, shift_mm=at_mm))
    return (shape, *_beside(at_mm, max(end, 0.6) + 0.8, angle_deg + 90.0, name))


def _beside(at_mm: Point, away_mm: float, way_deg: float, name: str) -> tuple[Text, ...]:
    """A name in the given direction, its near edge `away_mm` off."""
    if not name:
        return ()
    across, up = (round(v, 6) for v in on_circle((0.0, 0.0), 1.0, way_deg))
    upright = "s" if up > SIN_22_5 else "n" if up < -SIN_22_5 else ""
    level = "w" if across > SIN_22_5 else "e" if across < -SIN_22_5 else ""
    return (Text(on_circle(at_mm, away_mm, way_deg), name, size=1, anchor=_ANCHORS[upright + level]),)


def lamp(at_mm: Point, hole_mm: float, *, direction_deg: float | None = None, letter: str = "", name: str = "",
         smallest_mm: float = 1.0) -> tuple[Mark, ...]:
    """A lamp as what will be seen: a circle of its true hole, a tick for its direction, a letter for its colour.

    Parameters
    ----------
    at_mm : Point
        Middle of the hole on paper.
    hole_mm : float
        Diameter of the hole on paper [mm], > 0.
    direction_deg : float or None
        Where its light goes in the plane of the drawing; None for straight out of the part (no tick).
    letter : str
        Colour as on sea charts: W, R, G, Y, Bu; or any rhythm notation.
    name : str
        Its label, drawn after the letter.
    smallest_mm : float
        A smaller hole gets a second, thin ring of this diameter so that it can be found.
    Returns
    -------
    tuple of Mark
        The hole first.
    Raises
    ------
    OutOfRange
        If the hole is not above 0.
    """
    if not hole_mm > 0:
        raise OutOfRange("hole_mm", hole_mm, "above 0")
    reach = max(hole_mm, smallest_mm) / 2
    edge = Ink("edge" if hole_mm > 2.0 else "detail", fill="paper")
    ring = (Circle(at_mm, smallest_mm / 2, THIN),) if hole_mm < smallest_mm else ()
    words = " ".join(word for word in (letter, name) if word)
    return (Circle(at_mm, hole_mm / 2, edge), *ring, *_direction(at_mm, reach, direction_deg),
            *_lamp_words(at_mm, reach, direction_deg, words))


def _direction(at_mm: Point, reach_mm: float, direction_deg: float | None) -> tuple[Polyline, ...]:
    if direction_deg is None:
        return ()
    ends = (on_circle(at_mm, reach_mm, direction_deg), on_circle(at_mm, reach_mm + TICK_MM, direction_deg))
    return (Polyline(ends, EDGE),)


def _lamp_words(at_mm: Point, reach_mm: float, direction_deg: float | None, words: str) -> tuple[Text, ...]:
    """Beside the lamp, on the side away from its tick."""
    if not words:
        return ()
    rightward = direction_deg is not None and math.cos(math.radians(direction_deg)) > 0
    across = -reach_mm - 0.5 if rightward else reach_mm + 0.5
    at = (at_mm[0] + across, at_mm[1] + reach_mm + 0.3)
    return (Text(at, words, size=1, anchor="se" if rightward else "sw"),)


def hole(at_mm: Point, diameter_mm: float, *, cross_mm: float = 1.0) -> tuple[Mark, ...]:
    """A hole to drill: its circle and a centre cross that reaches `cross_mm` beyond the edge."""
    if not diameter_mm > 0:
        raise OutOfRange("diameter_mm", diameter_mm, "above 0")
    reach, (x, y) = diameter_mm / 2 + cross_mm, at_mm
    cross = (Polyline(((x - reach, y), (x + reach, y)), THIN), Polyline(((x, y - reach), (x, y + reach)), THIN))
    return (Circle(at_mm, diameter_mm / 2, DETAIL), *cross)


def keep_out(points_mm: tuple[Point, ...], name: str = "") -> tuple[Mark, ...]:
    """A region where nothing may run: hatched, with a dotted edge and its name in the middle."""
    if len(points_mm) < 3:
        raise OutOfRange("points of a keep-out", len(points_mm), "three or more")
    region = Polyline(points_mm, Ink("detail", "dotted", fill="hatch"), closed=True)
    if not name:
        return (region,)
    xs, ys = [p[0] for p in points_mm], [p[1] for p in points_mm]
    return (region, *plated(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), name))


def plated(at_mm: Point, words: str, *, size: TextSize = 1, colour: Colour = "ink",
           pattern: Pattern = "solid") -> tuple[Mark, ...]:
    """Words centred on a plate of paper of their own, so that they read over anything."""
    width, height = text_box_mm(words, TEXT_SIZES_MM[size])
    (x, y), w, h = at_mm, width / 2 + 0.6, height / 2 + 0.7
    box = ((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h))
    plate = Polyline(box, Ink("dimension", pattern, fill="paper"), closed=True)
    return (plate, Text(at_mm, words, size=size, anchor="c", colour=colour))
