"""Reading recorded drawings in tests."""

from __future__ import annotations

from rushlight.model.sheet import Drawing, Layer


def layer(drawing: Drawing, name: str) -> Layer:
    """The layer of that name."""
    return next(row for row in drawing.layers if row.name == name)


def in_part_mm(drawing: Drawing, at: tuple[float, float]) -> tuple[float, float]:
    """A place on the drawing as a place on the part."""
    assert drawing.scale is not None
    return ((at[0] - drawing.origin_mm[0]) / drawing.scale, (at[1] - drawing.origin_mm[1]) / drawing.scale)
