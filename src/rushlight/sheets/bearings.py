"""Bearings of sector lights: from where to where each is seen, and where its screen has taken the light away."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.model.sheet import (
    EDGE,
    THIN,
    Anchor,
    Circle,
    Column,
    Drawing,
    Ink,
    Layer,
    Mark,
    Point,
    Polyline,
    Table,
    Text,
)
from rushlight.optics.sector import penumbra_deg
from rushlight.sheets.amounts import sentence
from rushlight.sheets.place import framed, on_circle
from rushlight.stages.outlook import screen_mm, screened

RADIUS_MM = 18.0
"""Of the rose on paper; a bearing has no size."""

NARROW_DEG = 40.0
"""Between the edges of a narrower sector there is no room for words."""


@dataclass(frozen=True, slots=True)
class Sector:
    """Bearings [deg, clockwise, 0 ahead] between which lamps are seen, and how far past either they are dark."""

    from_deg: float
    to_deg: float
    cut_deg: float
    lamps: tuple[str, ...]

    @property
    def width_deg(self) -> float:
        """Degrees from edge to edge."""
        return (self.to_deg - self.from_deg) % 360.0 or 360.0


def sectors_of(design: Design) -> tuple[Sector, ...]:
    """The sectors of lit lamps that get a screen, those with the same edges and cut-off together."""
    made: dict[tuple[float, float, float], list[str]] = {}
    for lamp, size_mm in screened(design):
        assert lamp.arc_deg is not None, "only a lamp with a sector is screened"
        start, end = (edge % 360.0 for edge in lamp.arc_deg)
        cut = round(penumbra_deg(size_mm, screen_mm(size_mm, lamp.arc_deg)), 1)
        made.setdefault((start, end, cut), []).append(lamp.name)
    return tuple(Sector(*key, tuple(names)) for key, names in sorted(made.items()))


def bearing_words(bearing_deg: float, *, ship: bool) -> str:
    """A relative bearing as people say it: '22.5° abaft the starboard beam' of a ship, '110° to the right' else."""
    turn = round(bearing_deg % 360.0, 2) % 360.0
    off = min(turn, 360.0 - turn)
    if off in (0.0, 180.0):
        return {(True, 0.0): "right ahead", (True, 180.0): "right aft", (False, 0.0): "straight ahead",
                (False, 180.0): "straight behind"}[ship, off]
    side = ("starboard" if ship else "right") if turn < 180.0 else ("port" if ship else "left")
    if not ship:
        return f"{off:g}° to the {side}"
    if off == 90.0:
        return f"on the {side} beam"
    return f"{off:g}° on the {side} bow" if off < 90.0 else f"{off - 90.0:g}° abaft the {side} beam"


def bearing_table(sectors: tuple[Sector, ...], *, ship: bool) -> Table:
    """Edges and cut-offs of all sectors, in words and degrees."""
    columns = (
        Column("lamps", "For", wide=True), Column("from", "Seen from", wide=True),
        Column("to", "Clockwise to", wide=True),
        Column("dark_to_deg", "Dark up to", "deg", "right"), Column("dark_from_deg", "Dark from", "deg", "right"),
    )
    rows = tuple(
        (", ".join(row.lamps), f"{row.from_deg:g}°, {bearing_words(row.from_deg, ship=ship)}",
         f"{row.to_deg:g}°, {bearing_words(row.to_deg, ship=ship)}", _degrees(row.from_deg - row.cut_deg),
         _degrees(row.to_deg + row.cut_deg))
        for row in sectors
    )
    caption = ("Bearings clockwise from ahead, seen from above. Between an edge and the dark the screen takes the "
               "light away little by little.")
    if ship:
        caption += (" On a ship the light is to be gone 1 to 3 degrees past ahead for sidelights, at most 5 past other "
                    "edges (COLREGs 1972 Annex I 9).")
    return Table("sector-bearings", "Bearings of the edges", columns, rows, caption)


def bearing_drawings(sectors: tuple[Sector, ...], *, kind: str) -> tuple[Drawing, ...]:
    """One rose a sector, ahead pointing up; `kind` is the subject's."""
    return tuple(_rose(row, k, kind=kind) for k, row in enumerate(sectors, 1))


def _degrees(bearing_deg: float) -> str:
    return f"{round(bearing_deg % 360.0, 1) % 360.0:g}"


def _rose(row: Sector, number: int, *, kind: str) -> Drawing:
    ship = kind == "ship"
    names = ", ".join(row.lamps[:3]) + (f" and {len(row.lamps) - 3} more" if len(row.lamps) > 3 else "")
    caption = (f"{row.width_deg:g} degrees, from {bearing_words(row.from_deg, ship=ship)} to "
               f"{bearing_words(row.to_deg, ship=ship)}, seen from above. Dashed: here its screen has made it dark, "
               f"{row.cut_deg:g} degrees past the edge.")
    layers = (Layer("detail", (*_lit(row), *_ahead(kind))), Layer("outline", _edges(row)), Layer("text", _labels(row)))
    return framed(layers, key=f"sector-bearings-{number}", title=sentence(names), scale=None, caption=caption)


def _lit(row: Sector) -> tuple[Mark, ...]:
    steps = max(2, math.ceil(row.width_deg / 3.0))
    rim = tuple(_at(row.from_deg + row.width_deg * k / steps, RADIUS_MM) for k in range(steps + 1))
    return (Polyline(((0.0, 0.0), *rim), Ink("dimension", fill="pale", stroked=False), closed=True),
            Circle((0.0, 0.0), RADIUS_MM, THIN))


SHAPES = {
    "ship": ((0.0, 4.0), (1.6, 1.0), (1.6, -4.0)),
    "aircraft": ((0.0, 4.0), (0.6, 3.0), (0.6, 1.2), (4.4, -0.2), (4.4, -1.2), (0.6, -0.6), (0.4, -2.8), (1.6, -3.4),
                 (1.6, -4.0)),
}
"""The right half of the subject as seen from above, from its bow or nose aft [mm on paper]."""

OTHER_SHAPE = ((0.0, 4.0), (1.6, 3.0), (1.6, -4.0))


def _ahead(kind: str) -> tuple[Mark, ...]:
    """The subject in the middle, its bow or nose up, and the word ahead."""
    half = SHAPES.get(kind, OTHER_SHAPE)
    whole = (*half, *((-x, y) for x, y in reversed(half) if x > 0))
    return (Polyline(whole, Ink("detail", fill="paper"), closed=True),
            Polyline(((0.0, RADIUS_MM), (0.0, RADIUS_MM + 6.0)), Ink("dimension", "chain")),
            Text((0.0, RADIUS_MM + 6.8), "ahead", size=1, anchor="s"))


def _edges(row: Sector) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for edge, past in ((row.from_deg, -row.cut_deg), (row.to_deg, row.cut_deg)):
        marks.append(Polyline((_at(edge, 5.0), _at(edge, RADIUS_MM + 2.0)), EDGE))
        marks.append(Polyline((_at(edge + past, 5.0), _at(edge + past, RADIUS_MM + 2.0)),
                              Ink("detail", "dashed", "accent")))
    return tuple(marks)


def _labels(row: Sector) -> tuple[Mark, ...]:
    """The bearing of each edge on the side of the light, that of the dark on the other."""
    marks: list[Mark] = []
    for edge, turn in ((row.from_deg, 1.0), (row.to_deg, -1.0)):
        dark = edge - turn * row.cut_deg
        if row.width_deg < NARROW_DEG:
            marks.append(_label(edge, -turn, f"{_degrees(edge)}°, dark {_degrees(dark)}°"))
        else:
            marks += [_label(edge, turn, f"{_degrees(edge)}°"), _label(dark, -turn, f"dark {_degrees(dark)}°")]
    return tuple(marks)


def _label(bearing_deg: float, turn: float, words: str) -> Text:
    """Words at a ray's end, moved a little clockwise (turn 1) or back (-1) from it."""
    east, north = math.sin(math.radians(bearing_deg)), math.cos(math.radians(bearing_deg))
    x, y = _at(bearing_deg, RADIUS_MM + 3.2)
    if abs(east) < 0.5:
        right = turn * north > 0.0
        return Text((x + (0.7 if right else -0.7), y), words, size=1, anchor="w" if right else "e")
    anchor: Anchor = "w" if east > 0.0 else "e"
    return Text((x, y + (-0.9 if turn * east > 0.0 else 0.9)), words, size=1, anchor=anchor)


def _at(bearing_deg: float, radius_mm: float) -> Point:
    return on_circle((0.0, 0.0), radius_mm, 90.0 - bearing_deg)
