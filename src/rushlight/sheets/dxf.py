"""Drawings as DXF in true millimetres, for cutters and drilling machines."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rushlight.model.sheet import (
    TEXT_SIZES_MM,
    Anchor,
    Arc,
    Band,
    Circle,
    Dimension,
    Drawing,
    Ink,
    Layer,
    Mark,
    Pattern,
    Point,
    Polyline,
    Text,
)
from rushlight.sheets.dimension import dimension_marks
from rushlight.sheets.place import CAP_HEIGHT_EM
from rushlight.sheets.words import label

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

_LINETYPES: dict[Pattern, tuple[str, tuple[float, ...]]] = {
    "dashed": ("DASHED_MM", (5.0, 3.0, -2.0)),
    "dotted": ("DOTTED_MM", (1.0, 0.0, -1.0)),
    "chain": ("CHAIN_MM", (8.0, 5.0, -1.2, 0.6, -1.2)),
}
_COLOURS = {
    "outline": 7, "openings": 5, "holes": 1, "keep-outs": 8, "leads": 3, "tails": 4, "splices": 6, "dimensions": 2,
}
_ALIGN: dict[Anchor, str] = {
    "sw": "LEFT", "s": "CENTER", "se": "RIGHT", "w": "MIDDLE_LEFT", "c": "MIDDLE_CENTER", "e": "MIDDLE_RIGHT",
    "nw": "TOP_LEFT", "n": "TOP_CENTER", "ne": "TOP_RIGHT",
}
_FIXED_DATE = "2451545.0"  # Julian date of 2000-01-01 12:00: a file says nothing of when it was made
_FIXED_GUID = "{00000000-0000-0000-0000-000000000000}"


def to_dxf(drawing: Drawing) -> str:
    """The drawing as DXF R2010: the part's own coordinates, true millimetres, one DXF layer for each layer.

    Parameters
    ----------
    drawing : Drawing
        Any drawing; coordinates are counted from `origin_mm` and divided by its scale.
    Returns
    -------
    str
        The same text for the same drawing, always. Write it as UTF-8.
    Notes
    -----
    Fills, pictures and bands of colour 'paper' have no geometry and are left out; a dimension becomes lines and text.
    """
    document = _new_document()
    for layer in drawing.layers:
        _write_layer(document, layer, drawing)
    return _without_traces(_written(document))


def _new_document() -> Document:
    from ezdxf import units
    from ezdxf.filemanagement import new

    document = new("R2010", units=units.MM)
    for name, pattern in _LINETYPES.values():
        document.linetypes.add(name, list(pattern))
    return document


def _write_layer(document: Document, layer: Layer, drawing: Drawing) -> None:
    if layer.name not in document.layers:
        document.layers.add(layer.name, color=_COLOURS.get(layer.name, 7))
    writer = _Writer(document.modelspace(), layer.name, drawing.origin_mm, drawing.scale or 1.0)
    for mark in layer.marks:
        writer.mark(mark)


def _written(document: Document) -> str:
    out = io.StringIO()
    classes = document.classes
    classes.add_required_classes(document.dxfversion)
    classes.classes = dict(sorted(classes.classes.items()))  # they come out of a set: another order in every run
    document.write(out)
    return out.getvalue()


def _without_traces(dxf: str) -> str:
    """Dates, random identities and the library's time stamps replaced by fixed ones."""
    dxf = re.sub(r"(?m)^(\$TDU?(?:CREATE|UPDATE)\n 40\n).*$", rf"\g<1>{_FIXED_DATE}", dxf)
    dxf = re.sub(r"(?m)^(\$(?:FINGERPRINT|VERSION)GUID\n  2\n).*$", rf"\g<1>{_FIXED_GUID}", dxf)
    return re.sub(r"(?m)^([\d.]+ @ )\d{4}-\d\d-\d\dT[\d:.+]*$", r"\g<1>2000-01-01", dxf)


@dataclass(frozen=True, slots=True)
class _Writer:
    """Writes marks of one layer."""

    space: Modelspace
    layer: str
    origin_mm: Point
    scale: float

    def mark(self, mark: Mark) -> None:
        writers: dict[type, Callable[..., None]] = {
            Polyline: self.polyline, Band: self.band, Circle: self.circle, Arc: self.arc, Text: self.text,
            Dimension: self.dimension,
        }
        if type(mark) in writers:
            writers[type(mark)](mark)

    def true(self, point_mm: Point) -> Point:
        return ((point_mm[0] - self.origin_mm[0]) / self.scale, (point_mm[1] - self.origin_mm[1]) / self.scale)

    def look(self, ink: Ink) -> dict[str, str]:
        line = _LINETYPES.get(ink.pattern)
        return {"layer": self.layer, **({"linetype": line[0]} if line else {})}

    def polyline(self, mark: Polyline) -> None:
        if mark.ink.stroked and mark.points_mm:
            points = [self.true(p) for p in mark.points_mm]
            self.space.add_lwpolyline(points, close=mark.closed, dxfattribs=self.look(mark.ink))

    def band(self, mark: Band) -> None:
        if mark.ink.colour == "paper" or not mark.points_mm:
            return
        look = {**self.look(mark.ink), "const_width": mark.width_mm / self.scale}
        self.space.add_lwpolyline([self.true(p) for p in mark.points_mm], dxfattribs=look)

    def circle(self, mark: Circle) -> None:
        if mark.ink.stroked:
            centre, radius = self.true(mark.centre_mm), mark.radius_mm / self.scale
            self.space.add_circle(centre, radius, dxfattribs=self.look(mark.ink))

    def arc(self, mark: Arc) -> None:
        centre, radius = self.true(mark.centre_mm), mark.radius_mm / self.scale
        self.space.add_arc(centre, radius, mark.start_deg, mark.end_deg, dxfattribs=self.look(mark.ink))

    def text(self, mark: Text) -> None:
        from ezdxf.enums import TextEntityAlignment

        words = label(mark.text)
        if not words:
            return
        height = CAP_HEIGHT_EM * TEXT_SIZES_MM[mark.size] / self.scale
        text = self.space.add_text(words, height=height, rotation=mark.angle_deg, dxfattribs={"layer": self.layer})
        text.set_placement(self.true(mark.at_mm), align=TextEntityAlignment[_ALIGN[mark.anchor]])

    def dimension(self, mark: Dimension) -> None:
        for part in dimension_marks(mark):
            self.mark(part)
