"""Where marks lie: bounds, moving, scaling, mirroring, framing a drawing, choosing its scale."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from rushlight.errors import OutOfRange
from rushlight.model.sheet import (
    LAYERS,
    PAGE_HEIGHT_MM,
    PAGE_WIDTH_MM,
    TEXT_SIZES_MM,
    WEIGHTS_MM,
    Anchor,
    Arc,
    Band,
    Circle,
    Dimension,
    Drawing,
    Layer,
    Mark,
    Picture,
    Point,
    Polyline,
    Text,
)
from rushlight.sheets.dimension import dimension_marks
from rushlight.sheets.words import label

SCALES = (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
"""Scales recommended by ISO 5455 (enlarging, full size, reducing), the largest first."""

CAP_HEIGHT_EM = 0.668
"""Height of capitals of the book's font, from its OS/2 table."""

WIDE_LETTER_EM = 0.6
"""A letter's width when the font is not at hand: on the wide side, so that boxes hold their text."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        """Extent along x."""
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        """Extent along y."""
        return self.top_mm - self.bottom_mm

    def grown(self, by_mm: float) -> Box:
        """The same box, larger on every side."""
        return Box(self.left_mm - by_mm, self.bottom_mm - by_mm, self.right_mm + by_mm, self.top_mm + by_mm)

    def touches(self, other: Box) -> bool:
        """Whether the two boxes share at least a point."""
        apart = (self.right_mm < other.left_mm or other.right_mm < self.left_mm
                 or self.top_mm < other.bottom_mm or other.top_mm < self.bottom_mm)
        return not apart


@dataclass(frozen=True, slots=True)
class Place:
    """A similarity: mirror at the y axis (if asked), scale, turn counter-clockwise, then shift."""

    scale: float = 1.0
    angle_deg: float = 0.0
    shift_mm: Point = (0.0, 0.0)
    mirrored: bool = False

    def point(self, point_mm: Point) -> Point:
        """Where a point lands."""
        x = (-point_mm[0] if self.mirrored else point_mm[0]) * self.scale
        y = point_mm[1] * self.scale
        if self.angle_deg == 0.0:
            return (x + self.shift_mm[0], y + self.shift_mm[1])
        cos, sin = _cos_sin(self.angle_deg)
        return (cos * x - sin * y + self.shift_mm[0], sin * x + cos * y + self.shift_mm[1])


def _cos_sin(angle_deg: float) -> tuple[float, float]:
    quarter, rest = divmod(angle_deg % 360.0, 90.0)
    if rest == 0.0:  # exact quarter turns keep straight lines straight
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))


def placed(mark: Mark, place: Place) -> Mark:
    """The mark moved by a similarity; text and line weights keep their size on paper, text stays readable.

    Parameters
    ----------
    mark : Mark
        Any mark.
    place : Place
        The similarity; its scale is > 0.
    Returns
    -------
    Mark
        A new mark of the same kind.
    Raises
    ------
    OutOfRange
        If the scale is not above 0, or a picture would be turned by other than a full turn.
    """
    if not place.scale > 0:
        raise OutOfRange("scale", place.scale, "above 0")
    return _PLACERS[type(mark)](mark, place)


def _placed_line(mark: Polyline, place: Place) -> Mark:
    return replace(mark, points_mm=tuple(place.point(p) for p in mark.points_mm))


def _placed_band(mark: Band, place: Place) -> Mark:
    points = tuple(place.point(p) for p in mark.points_mm)
    return replace(mark, points_mm=points, width_mm=mark.width_mm * place.scale)


def _placed_circle(mark: Circle, place: Place) -> Mark:
    return replace(mark, centre_mm=place.point(mark.centre_mm), radius_mm=mark.radius_mm * place.scale)


def _placed_arc(mark: Arc, place: Place) -> Mark:
    start, end = mark.start_deg, mark.end_deg
    if place.mirrored:
        start, end = 180.0 - end, 180.0 - start
    return replace(mark, centre_mm=place.point(mark.centre_mm), radius_mm=mark.radius_mm * place.scale,
                   start_deg=start + place.angle_deg, end_deg=end + place.angle_deg)


_MIRRORED: dict[Anchor, Anchor] = {"e": "w", "w": "e", "ne": "nw", "nw": "ne", "se": "sw", "sw": "se"}


def _placed_text(mark: Text, place: Place) -> Mark:
    anchor = _MIRRORED.get(mark.anchor, mark.anchor) if place.mirrored else mark.anchor
    angle = (-mark.angle_deg if place.mirrored else mark.angle_deg) + place.angle_deg
    return replace(mark, at_mm=place.point(mark.at_mm), anchor=anchor, angle_deg=angle)


def _placed_dimension(mark: Dimension, place: Place) -> Mark:
    offset = -mark.offset_mm if place.mirrored else mark.offset_mm
    return replace(mark, a_mm=place.point(mark.a_mm), b_mm=place.point(mark.b_mm), offset_mm=offset)


def _placed_picture(mark: Picture, place: Place) -> Mark:
    if place.angle_deg % 360.0:
        raise OutOfRange("angle_deg of a picture", place.angle_deg, "0: turn its pixels instead")
    x, y = mark.corner_mm
    corner = place.point((x + mark.width_mm, y) if place.mirrored else (x, y))
    return replace(mark, corner_mm=corner, width_mm=mark.width_mm * place.scale,
                   height_mm=mark.height_mm * place.scale, mirrored=mark.mirrored != place.mirrored)


_PLACERS: dict[type, Callable[..., Mark]] = {
    Polyline: _placed_line, Band: _placed_band, Circle: _placed_circle, Arc: _placed_arc, Text: _placed_text,
    Dimension: _placed_dimension, Picture: _placed_picture,
}


def all_placed(marks: Iterable[Mark], place: Place) -> tuple[Mark, ...]:
    """Every mark moved by the same similarity."""
    return tuple(placed(mark, place) for mark in marks)


def translated(marks: Iterable[Mark], dx_mm: float, dy_mm: float) -> tuple[Mark, ...]:
    """Every mark shifted."""
    return all_placed(marks, Place(shift_mm=(dx_mm, dy_mm)))


def scaled(marks: Iterable[Mark], factor: float) -> tuple[Mark, ...]:
    """Every mark scaled about (0, 0); text and line weights keep their size."""
    return all_placed(marks, Place(scale=factor))


def mirrored(marks: Iterable[Mark], axis_x_mm: float = 0.0) -> tuple[Mark, ...]:
    """Every mark mirrored at the upright line x = axis_x_mm; text stays readable."""
    return all_placed(marks, Place(mirrored=True, shift_mm=(2.0 * axis_x_mm, 0.0)))


def bounds(marks: Iterable[Mark]) -> Box | None:
    """The box round all marks with their line widths and text (text by estimate), or None when there are none."""
    boxes = [box for mark in marks if (box := mark_bounds(mark)) is not None]
    if not boxes:
        return None
    return Box(min(b.left_mm for b in boxes), min(b.bottom_mm for b in boxes),
               max(b.right_mm for b in boxes), max(b.top_mm for b in boxes))


def mark_bounds(mark: Mark) -> Box | None:
    """The box round one mark with its line width; None for a line without points."""
    if isinstance(mark, Dimension):
        return bounds(dimension_marks(mark))
    if isinstance(mark, Picture):
        x, y = mark.corner_mm
        return Box(x, y, x + mark.width_mm, y + mark.height_mm)
    if isinstance(mark, Text):
        return _round_points(_text_corners(mark))
    half = (mark.width_mm if isinstance(mark, Band) else WEIGHTS_MM[mark.ink.weight]) / 2
    if isinstance(mark, Circle | Arc):
        corners = _arc_extremes(mark) if isinstance(mark, Arc) else _circle_extremes(mark)
    else:
        corners = mark.points_mm
    box = _round_points(corners)
    return box.grown(half) if box else None


def _round_points(points_mm: Iterable[Point]) -> Box | None:
    points = tuple(points_mm)
    if not points:
        return None
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _circle_extremes(mark: Circle) -> tuple[Point, ...]:
    (x, y), r = mark.centre_mm, mark.radius_mm
    return ((x - r, y - r), (x + r, y + r))


def _arc_extremes(mark: Arc) -> tuple[Point, ...]:
    sweep = (mark.end_deg - mark.start_deg) % 360.0 or 360.0
    quarters = [90.0 * k for k in range(8) if 0 < (90.0 * k - mark.start_deg % 360.0) < sweep]
    angles = [mark.start_deg, mark.end_deg, *quarters]
    return tuple(on_circle(mark.centre_mm, mark.radius_mm, angle) for angle in angles)


def on_circle(centre_mm: Point, radius_mm: float, angle_deg: float) -> Point:
    """The point of a circle at an angle from the x axis."""
    cos, sin = _cos_sin(angle_deg)
    return (centre_mm[0] + radius_mm * cos, centre_mm[1] + radius_mm * sin)


def text_box_mm(text: str, size_mm: float) -> tuple[float, float]:
    """Width and height that a text of this font size needs, by estimate."""
    return WIDE_LETTER_EM * size_mm * len(label(text)), CAP_HEIGHT_EM * size_mm


def anchor_shift(anchor: Anchor) -> tuple[float, float]:
    """Where the anchor lies in the text's box: shares of width from the left and of height from the base."""
    across = 0.0 if "w" in anchor else 1.0 if "e" in anchor else 0.5
    up = 0.0 if "s" in anchor else 1.0 if "n" in anchor else 0.5
    return across, up


def _text_corners(mark: Text) -> tuple[Point, ...]:
    width, height = text_box_mm(mark.text, TEXT_SIZES_MM[mark.size])
    across, up = anchor_shift(mark.anchor)
    left, low = -across * width, -up * height
    drop = 0.25 * height  # letters that hang below the base line
    place = Place(angle_deg=mark.angle_deg, shift_mm=mark.at_mm)
    corners = ((left, low - drop), (left + width, low - drop), (left + width, low + height), (left, low + height))
    return tuple(place.point(corner) for corner in corners)


def framed(layers: Iterable[Layer], *, key: str, title: str, scale: float | None = 1.0, margin_mm: float = 2.0,
           template: bool = False, caption: str = "") -> Drawing:
    """A drawing with a frame just round its marks; layers are put in drawing order, equal names joined.

    Parameters
    ----------
    layers : iterable of Layer
        Marks in paper millimetres about the part's own origin.
    key, title, scale, template, caption
        As in Drawing.
    margin_mm : float
        Free space inside the frame [mm], >= 0.
    Returns
    -------
    Drawing
        With `origin_mm` set so that a DXF file keeps the part's coordinates.
    Raises
    ------
    OutOfRange
        If there is nothing to draw.
    """
    merged = merged_layers(layers)
    box = bounds(mark for layer in merged for mark in layer.marks)
    if box is None:
        raise OutOfRange(f"marks of drawing '{key}'", 0, "at least one")
    shift = (margin_mm - box.left_mm, margin_mm - box.bottom_mm)
    moved = tuple(Layer(layer.name, translated(layer.marks, *shift)) for layer in merged)
    return Drawing(key, title, box.width_mm + 2 * margin_mm, box.height_mm + 2 * margin_mm, moved, scale=scale,
                   template=template, origin_mm=shift, caption=caption)


def merged_layers(layers: Iterable[Layer]) -> tuple[Layer, ...]:
    """Layers in drawing order, those of one name joined, empty ones left out."""
    found = tuple(layers)
    joined = ((name, tuple(m for layer in found if layer.name == name for m in layer.marks)) for name in LAYERS)
    return tuple(Layer(name, marks) for name, marks in joined if marks)


def fit_scale(width_mm: float, height_mm: float, *, page_width_mm: float = PAGE_WIDTH_MM,
              page_height_mm: float = PAGE_HEIGHT_MM, largest: float = 1.0) -> float:
    """The largest usual scale at which something of this true size fits the page.

    Parameters
    ----------
    width_mm, height_mm : float
        True size [mm], > 0.
    page_width_mm, page_height_mm : float
        Room on paper [mm].
    largest : float
        No larger scale than this (1.0: never enlarged).
    Returns
    -------
    float
        Paper mm per true mm; below 1:100 the exact ratio, since no usual scale is left.
    Raises
    ------
    OutOfRange
        If a size is not above 0.
    Source
    ------
    Series of ISO 5455.
    """
    if not (width_mm > 0 and height_mm > 0):
        raise OutOfRange("size", (width_mm, height_mm), "above 0")
    most = min(page_width_mm / width_mm, page_height_mm / height_mm)
    return next((s for s in SCALES if s <= largest and s <= most * (1 + 1e-12)), most)


def refitted(drawing: Drawing, width_mm: float, height_mm: float, *, any_scale: bool = False) -> Drawing:
    """The drawing itself where it fits the room; otherwise redrawn smaller, its stated scale kept true.

    Parameters
    ----------
    drawing : Drawing
        Not a template.
    width_mm, height_mm : float
        Room on paper [mm].
    any_scale : bool
        A picture that nobody measures on need not keep to the usual scales.
    Returns
    -------
    Drawing
        At a usual scale where it has one, unless `any_scale`; a diagram without scale at whatever ratio fits.
    Raises
    ------
    OutOfRange
        If the drawing is a template, which must not be scaled.
    """
    if drawing.template:
        raise OutOfRange(f"template '{drawing.key}'", "to be fitted", "printed at true size, in tiles")
    if drawing.width_mm <= width_mm and drawing.height_mm <= height_mm:
        return drawing
    return _shrunk(drawing, _shrink_factor(drawing, width_mm, height_mm, any_scale))


def _shrink_factor(drawing: Drawing, width_mm: float, height_mm: float, any_scale: bool) -> float:
    if drawing.scale is None or any_scale:
        return min(width_mm / drawing.width_mm, height_mm / drawing.height_mm)
    true = (drawing.width_mm / drawing.scale, drawing.height_mm / drawing.scale)
    fitting = fit_scale(*true, page_width_mm=width_mm, page_height_mm=height_mm, largest=drawing.scale)
    return fitting / drawing.scale


def _shrunk(drawing: Drawing, factor: float) -> Drawing:
    layers = tuple(Layer(layer.name, scaled(layer.marks, factor)) for layer in drawing.layers)
    x, y = drawing.origin_mm
    return replace(drawing, layers=layers, width_mm=drawing.width_mm * factor, height_mm=drawing.height_mm * factor,
                   scale=None if drawing.scale is None else drawing.scale * factor, origin_mm=(x * factor, y * factor))


def scale_words(scale: float | None) -> str:
    """A scale in words for people: '1:1', '1:5', '2:1', 'not to scale'."""
    if scale is None:
        return "not to scale"
    return f"{scale:.4g}:1" if scale > 1 else f"1:{1 / scale:.4g}"
