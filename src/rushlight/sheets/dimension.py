"""A dimension broken into plain lines and text."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange
from rushlight.model.sheet import TEXT_SIZES_MM, THIN, Anchor, Dimension, Point, Polyline, Text

GAP_MM = 1.0
OVERSHOOT_MM = 1.0
TICK_MM = 1.2
LIFT_MM = 0.8
LETTER = 0.55
"""Width of a letter over its size."""


def dimension_marks(mark: Dimension) -> tuple[Polyline | Text, ...]:
    """Two extension lines, the dimension line, two oblique ticks, and the text over the line's middle; beside an
    upright one that is shorter than its text.

    Parameters
    ----------
    mark : Dimension
        The two points must differ.
    Returns
    -------
    tuple
        Lines of the dimension weight, then the text, readable from below or from the right.
    Raises
    ------
    OutOfRange
        If the two points are one.
    Source
    ------
    Layout after ISO 129-1 (oblique-stroke terminations).
    """
    length = math.dist(mark.a_mm, mark.b_mm)
    if not length > 0:
        raise OutOfRange("dimension", (mark.a_mm, mark.b_mm), "two points apart")
    along = ((mark.b_mm[0] - mark.a_mm[0]) / length, (mark.b_mm[1] - mark.a_mm[1]) / length)
    left = (-along[1], along[0])
    ends = tuple(_moved(p, left, mark.offset_mm) for p in (mark.a_mm, mark.b_mm))
    ticks = tuple(_tick(end, along, left) for end in ends)
    return (*_extensions(mark, left), Polyline(ends, THIN), *ticks, _label(mark, ends, along))


def _moved(point: Point, way: Point, by_mm: float) -> Point:
    return (point[0] + way[0] * by_mm, point[1] + way[1] * by_mm)


def _extensions(mark: Dimension, left: Point) -> tuple[Polyline, ...]:
    if abs(mark.offset_mm) <= GAP_MM:
        return ()
    sign = math.copysign(1.0, mark.offset_mm)
    near, far = sign * GAP_MM, mark.offset_mm + sign * OVERSHOOT_MM
    return tuple(Polyline((_moved(p, left, near), _moved(p, left, far)), THIN) for p in (mark.a_mm, mark.b_mm))


def _tick(end: Point, along: Point, left: Point) -> Polyline:
    oblique = (along[0] + left[0], along[1] + left[1])
    return Polyline((_moved(end, oblique, -TICK_MM / 2), _moved(end, oblique, TICK_MM / 2)), THIN)


def _label(mark: Dimension, ends: tuple[Point, ...], along: Point) -> Text:
    angle = math.degrees(math.atan2(along[1], along[0]))
    if not -90.0 < round(angle, 9) <= 90.0:  # never upside down
        angle -= math.copysign(180.0, angle)
    beside = (-along[1] * math.copysign(1.0, mark.offset_mm), along[0] * math.copysign(1.0, mark.offset_mm))
    if abs(beside[0]) > abs(beside[1]) and LETTER * TEXT_SIZES_MM[1] * len(mark.text) > math.dist(*ends) - TICK_MM:
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        anchor: Anchor = "w" if beside[0] > 0 else "e"
        return Text(_moved(middle, beside, OVERSHOOT_MM + LIFT_MM), mark.text, size=1, anchor=anchor)
    up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    return Text(_moved(middle, up, LIFT_MM), mark.text, size=1, anchor="s", angle_deg=angle)
