"""How to read the drawings of parts."""

from __future__ import annotations

from functools import cache

from rushlight.model.sheet import DETAIL, THIN, Circle, Drawing, Ink, Layer, Mark, Polyline, Text
from rushlight.sheets import strokes
from rushlight.sheets.place import translated

CELL_MM = (43.0, 5.0)
WIDE_MM = 176.0


@cache
def legend() -> Drawing:
    """Every stroke with its meaning, four beside each other."""
    rows = _entries()
    marks: list[Mark] = []
    for k, (sample, words) in enumerate(rows):
        x, y = (k % 4) * CELL_MM[0] + 2.0, -(k // 4) * CELL_MM[1]
        marks += [*translated(sample, x + 5.0, y), Text((x + 11.0, y), words, size=1, anchor="w")]
    height = CELL_MM[1] * ((len(rows) + 3) // 4)
    moved = translated(marks, 0.0, height - CELL_MM[1] / 2)
    return Drawing("legend", "How to read it", WIDE_MM, height, (Layer("text", moved),), scale=None)


def _entries() -> tuple[tuple[tuple[Mark, ...], str], ...]:
    line = ((-4.5, 0.0), (4.5, 0.0))
    box = ((-4.0, -1.6), (4.0, -1.6), (4.0, 1.6), (-4.0, 1.6))
    tick = (Polyline(((-0.6, -0.6), (0.6, 0.6)), THIN), Polyline(((-0.6, 0.6), (0.6, -0.6)), THIN))
    return (
        (strokes.lamp((0.0, 0.0), 2.0), "lamp: its true hole, its number"),
        (strokes.lamp((0.0, 0.0), 0.5), "lamp with a hole under 1 mm"),
        ((Circle((0.0, 0.0), 1.2, Ink("edge", fill="pale")), Circle((0.0, 0.0), 0.3, Ink("detail", fill="ink"))),
         "LED that feeds a bundle"),
        ((Polyline(line, Ink("edge", "chain")),), "LED strip"),
        (strokes.fibres(line, 4, pitch_mm=0.3, gather_mm=4.0), "fibres, gathered"),
        (strokes.lead(line, 0.4), "plus lead"),
        (strokes.lead(line, 0.4, strokes.RETURN), "return lead"),
        (strokes.lead(line, 0.4, strokes.SIGNAL), "link, LED to LED in series"),
        (strokes.splice((0.0, 0.0), 6.0, diameter_mm=1.2), "splice in its sleeve"),
        ((Circle((0.0, 0.0), 1.3, DETAIL), Circle((0.0, 0.0), 0.65, DETAIL)), "crossing to another part"),
        (tick, "held down here"),
        (strokes.keep_out(box), "keep-out"),
        ((Polyline(box, Ink("detail", "dashed"), closed=True),), "bay"),
    )
