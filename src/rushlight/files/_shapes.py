"""Shapes that could not be: outlines that cross themselves, openings and lamps outside their part."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from rushlight.files._drafts import Draft
from rushlight.files._faults import Faults, Place
from rushlight.files._refs import Names
from rushlight.model.place import Point

ROUNDING_MM = 1e-3
SMALLEST_MM2 = 1e-4
MOST_LAMPS = 100_000


def check_shapes(plan: Draft, names: Names, faults: Faults) -> None:
    """Check every outline, then what has to lie inside it."""
    areas = {}
    for part in plan.items("parts"):
        area = _area(part, "outline_mm", faults)
        if area is not None and part.name is not None and names["parts"].get(part.name) is part:
            areas[part.name] = area
        _check_inside_of(part, area, faults)
    _check_placed(plan, areas, faults)


def _area(draft: Draft, key: str, faults: Faults) -> Any:
    """The outline as an area, or None where it is not one (then said)."""
    from shapely import Polygon
    from shapely.validation import explain_validity

    corners = draft.get(key)
    if corners is None:
        return None
    area = Polygon(corners)
    if area.is_valid and area.area >= SMALLEST_MM2:
        return area
    told = explain_validity(area)
    found = "an outline without area"
    if "[" in told and area.convex_hull.area >= SMALLEST_MM2:
        found = f"an outline that crosses itself near [{_crossing_place(told)}]"
    faults.add(draft.place(key), draft.label, found, "corners in order round the shape")
    return None


def _crossing_place(told: str) -> str:
    numbers = told[told.index("[") + 1 : told.index("]")].split()
    return ", ".join(f"{float(number):.4g}" for number in numbers)


def _check_inside_of(part: Draft, area: Any, faults: Faults) -> None:
    for keep_out in part.items("keep_outs"):
        _area(keep_out, "outline_mm", faults)
    for obstacle in part.items("obstacles"):
        _area(obstacle, "outline_mm", faults)
    for opening in part.items("openings"):
        _area(opening, "outline_mm", faults)
        key = "outline_mm" if opening.given("outline_mm") else "rect_mm"
        corners = opening.get("outline_mm") or _corners(opening.get("rect_mm"))
        _check_points(opening, key, corners, area, faults, whole=True)
    for bay in part.items("bays"):
        _check_points(bay, "rect_mm", _corners(bay.get("rect_mm")), area, faults, whole=True)


def _corners(rect: tuple[float, float, float, float] | None) -> tuple[Point, ...]:
    if rect is None:
        return ()
    x, y, width, height = rect
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _check_placed(plan: Draft, areas: dict[str, Any], faults: Faults) -> None:
    _check_lamps(plan.items("lamps"), areas, faults)
    for crossing in plan.items("crossings"):
        for end in crossing.items("ends"):
            _check_points(end, "at_mm", _single(end.get("at_mm")), areas.get(end.get("part")), faults)
    for strip in plan.items("strips"):
        _check_points(strip, "along_mm", strip.get("along_mm") or (), areas.get(strip.get("part")), faults)
        _check_channel(plan, strip, faults)
    _check_rows(plan.items("rows"), areas, faults, len(plan.items("lamps")))


def _check_channel(plan: Draft, strip: Draft, faults: Faults) -> None:
    """A channel is as wide as its openings reach to either side of the strip."""
    width, line = strip.get("channel_width_mm"), strip.get("along_mm") or ()
    part = next((row for row in plan.items("parts") if row.get("name") == strip.get("part")), None)
    if width is None or part is None or len(line) < 2:
        return
    for opening in part.items("openings"):
        corners = opening.get("outline_mm") or _corners(opening.get("rect_mm"))
        if corners and opening.get("name") in (strip.get("openings") or ()):
            reach = _reach_mm(corners, line)
            if width < 2 * reach - 0.01:
                faults.add(strip.place("channel_width_mm"), strip.label,
                           f"channel_width_mm is {width:g}, and the opening '{opening.get('name')}' reaches "
                           f"{reach:.4g} mm to one side of the strip",
                           f"at least {2 * reach:.4g} mm, or the strip in its middle")
                return


def _reach_mm(corners: tuple[Point, ...], line: tuple[Point, ...]) -> float:
    """How far corners reach across the straight piece that lies nearest to their middle."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    middle = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    pieces = [(a, b) for a, b in itertools.pairwise(line) if a != b] or [(line[0], (line[0][0] + 1.0, line[0][1]))]
    (x, y), (u, v) = min(pieces, key=lambda piece: _away_mm(middle, *piece))
    long = math.hypot(u - x, v - y)
    return max(abs((cy - y) * (u - x) - (cx - x) * (v - y)) / long for cx, cy in corners)


def _away_mm(at: Point, start: Point, end: Point) -> float:
    """Distance of a point from a straight piece."""
    span = (end[0] - start[0], end[1] - start[1])
    share = ((at[0] - start[0]) * span[0] + (at[1] - start[1]) * span[1]) / (span[0] ** 2 + span[1] ** 2)
    share = min(max(share, 0.0), 1.0)
    return math.dist(at, (start[0] + share * span[0], start[1] + share * span[1]))


def _single(point: Point | None) -> tuple[Point, ...]:
    return () if point is None else (point,)


def _check_lamps(lamps: tuple[Draft, ...], areas: dict[str, Any], faults: Faults) -> None:
    """All lamps of a part at once, so that very many stay quick."""
    by_part: dict[str, list[Draft]] = {}
    for lamp in lamps:
        if lamp.get("at_mm") is not None and lamp.get("part") in areas:
            by_part.setdefault(lamp.get("part"), []).append(lamp)
    for part, placed in by_part.items():
        points = [lamp.get("at_mm") for lamp in placed]
        for index in _outside(points, areas[part]):
            _say_outside(placed[index], placed[index].place("at_mm"), points[index], areas[part], faults)


def _check_points(
    draft: Draft, key: str, points: tuple[Point, ...], area: Any, faults: Faults, *, whole: bool = False
) -> None:
    """Say the first of the points that lies outside; for a shape that must lie inside as a whole, its place."""
    if area is None or not points:
        return
    outside = _outside(points, area)
    if len(outside):
        index = int(outside[0])
        place = draft.place(key) if whole or key == "at_mm" else draft.place(key, index)
        _say_outside(draft, place, (points[index][0], points[index][1]), area, faults,
                     what="a corner" if whole else "it")


def _outside(points: Any, area: Any) -> Any:
    """Indexes of the points that lie outside the area, its border counted as inside."""
    import shapely

    xy = np.asarray(points, dtype=float)
    found = np.flatnonzero(~shapely.contains_xy(area, xy[:, 0], xy[:, 1]))
    if len(found):
        away = shapely.distance(area, shapely.points(xy[found]))
        found = found[away > ROUNDING_MM]
    return found


def _say_outside(
    draft: Draft, place: Place, point: Point, area: Any, faults: Faults, *, what: str = "it"
) -> None:
    from shapely import Point as Dot
    from shapely.ops import nearest_points

    if faults.full:
        faults.count += 1
        return
    near = nearest_points(area, Dot(point))[0]
    away_mm = math.dist(point, (near.x, near.y))
    faults.add(place, draft.label, f"{what} lies {away_mm:.3g} mm outside the part, at [{_xy(*point)}]",
               f"a place on the part; the nearest is [{_xy(near.x, near.y)}]")


def _xy(x: float, y: float) -> str:
    return f"{x:.6g}, {y:.6g}"


def _check_rows(rows: tuple[Draft, ...], areas: dict[str, Any], faults: Faults, lamps: int) -> None:
    total = lamps
    for row in rows:
        count = _count(row)
        total += count * (2 if row.given("mirror") else 1)
        if total > MOST_LAMPS:
            faults.add(row.node, row.label, "more than 100 000 lamps in all", "at most 100 000 lamps")
            return
        _check_row(row, count, areas, faults)


def _check_row(row: Draft, count: int, areas: dict[str, Any], faults: Faults) -> None:
    line = row.get("along_mm")
    if not line or not count:
        return
    spots = _spaced(np.asarray(line, dtype=float), count, row.get("pitch_mm"))
    for mark, part, points in _with_mirrored(row, spots):
        area = areas.get(part)
        outside = [] if area is None else _outside(points, area).tolist()
        if outside:
            index = outside[0]
            _say_outside(row, row.place("along_mm"), (points[index][0], points[index][1]), area, faults,
                         what=f"its lamp {mark}{index + 1}")


def _count(row: Draft) -> int:
    line, pitch_mm = row.get("along_mm"), row.get("pitch_mm")
    if row.get("count"):
        return int(row.get("count"))
    if not line or not pitch_mm:
        return 0
    length_mm = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
    return int(length_mm / pitch_mm + 1e-9) + 1


def _spaced(line: Any, count: int, pitch_mm: float | None) -> Any:
    """Lamps spaced along the line: from end to end by count, from its start by pitch."""
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    along = np.concatenate(([0.0], np.cumsum(steps)))
    wanted = np.arange(count) * pitch_mm if pitch_mm else np.linspace(0, along[-1], count)
    return np.column_stack([np.interp(wanted, along, line[:, axis]) for axis in (0, 1)])


def _with_mirrored(row: Draft, spots: Any) -> Iterator[tuple[str, str, Any]]:
    yield "", row.get("part") or "", spots
    mirror = row.get("mirror")
    if isinstance(mirror, Draft):
        flip = mirror.get("flip") is not False
        other = spots.copy()
        if flip:
            other[:, 0] = 2 * (mirror.get("axis_x_mm") or 0.0) - other[:, 0]
        yield "m", mirror.get("part") or "", other
