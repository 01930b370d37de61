"""Screens of sector lights: strips to cut at true size and fold once round the lamp."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.model.sheet import (
    DETAIL,
    EDGE,
    Block,
    Circle,
    Column,
    Dimension,
    Drawing,
    Ink,
    Layer,
    Mark,
    Note,
    Point,
    Polyline,
    Sheet,
    Table,
    Text,
)
from rushlight.optics.sector import penumbra_deg, screen_flank_mm
from rushlight.sheets.amounts import amount
from rushlight.sheets.bearings import bearing_drawings, bearing_table, sectors_of
from rushlight.sheets.place import framed, on_circle, translated
from rushlight.stages.long_screens import long_screen
from rushlight.stages.outlook import screen_mm, screened

UP_DEG = 7.5
"""The screen still covers the lamp for an eye so far above or below (COLREGs 1972 Annex I 10)."""

GAP_MM = 9.0


@dataclass(frozen=True, slots=True)
class Screen:
    """One size of screen, and the lamps that take it."""

    size_mm: float
    width_deg: float
    length_mm: float
    flank_mm: float
    high_mm: float
    lamps: tuple[str, ...]


def screens_of(design: Design) -> tuple[Screen, ...]:
    """The screens that the lit sector lights need, equal ones together."""
    made: dict[tuple[float, float, float], list[str]] = {}
    for lamp, size_mm in screened(design):
        assert lamp.arc_deg is not None, "only a lamp with a sector is screened"
        width = (lamp.arc_deg[1] - lamp.arc_deg[0]) % 360.0 or 360.0
        made.setdefault((size_mm, width, screen_mm(size_mm, lamp.arc_deg)), []).append(lamp.name)
    return tuple(_screen(*key, tuple(names)) for key, names in sorted(made.items()))


def _screen(size: float, width: float, length: float, lamps: tuple[str, ...]) -> Screen:
    high = size + 2 * length * math.tan(math.radians(UP_DEG))
    return Screen(size, width, length, screen_flank_mm(size, length, width), high, lamps)


def screen_sheets(design: Design) -> tuple[Sheet, ...]:
    """One sheet of all screens; none where no lamp has a sector."""
    screens = screens_of(design)
    if not screens:
        return ()
    templates: tuple[Block, ...] = tuple(_drawing(row, k) for k, row in enumerate(screens, 1))
    sectors, ship = sectors_of(design), design.plan.subject.kind == "ship"
    roses = bearing_drawings(sectors, kind=design.plan.subject.kind)
    bearings: tuple[Block, ...] = (bearing_table(sectors, ship=ship), *roses)
    blocks = (_table(screens), *_long_notes(design), *bearings, *templates)
    return (Sheet("template-screens", "Screens of sector lights: templates", blocks),)


def _long_notes(design: Design) -> tuple[Block, ...]:
    """What is said of screens that are longer than any on the subject, those of like numbers together."""
    told: dict[str, list[str]] = {}
    for lamp, size_mm in screened(design):
        assert lamp.arc_deg is not None, "only a lamp with a sector is screened"
        long = long_screen(design.drawer, design.plan.subject.scale, size_mm, lamp.arc_deg)
        if long is not None:
            told.setdefault(long.words, []).append(lamp.name)
    lines = [f"For {', '.join(names)}: {words}" for words, names in told.items()]
    return (Note("\n\n".join(lines), "Long for this scale"),) if lines else ()


def _table(screens: tuple[Screen, ...]) -> Table:
    columns = (
        Column("number", "Screen", align="right", decimals=0), Column("lamps", "For", wide=True),
        Column("count", "Cut", align="right", decimals=0), Column("lamp_mm", "Lamp", "mm", "right", 2),
        Column("fold_deg", "Opened to", "deg", "right", 1), Column("flank_mm", "Each flank", "mm", "right", 1),
        Column("high_mm", "Height", "mm", "right", 1),
        Column("penumbra_deg", "Gone past the edge by", "deg", "right", 1),
    )
    rows = tuple(
        (k, ", ".join(Counter(row.lamps)), len(row.lamps), row.size_mm, row.width_deg, row.flank_mm, row.high_mm,
         penumbra_deg(row.size_mm, row.length_mm))
        for k, row in enumerate(screens, 1)
    )
    caption = ("Matt black, thin. Fold at the middle until the flanks stand open by the sector, measured on the lamp's "
               "side; the lamp touches both, over 180 degrees it sits on the fold. Shorter flanks make a softer edge: "
               "half the length, twice the angle.")
    return Table("template-screens-list", "Screens", columns, rows, caption)


def _drawing(row: Screen, number: int) -> Drawing:
    """The flat strip with its fold, and how it stands round the lamp, seen from above."""
    long, high = 2 * row.flank_mm, row.high_mm
    strip: list[Mark] = [
        Polyline(((0.0, 0.0), (long, 0.0), (long, high), (0.0, high)), EDGE, closed=True),
        Dimension((0.0, 0.0), (row.flank_mm, 0.0), -4.0, amount(row.flank_mm, "mm", 3)),
        Dimension((row.flank_mm, 0.0), (long, 0.0), -4.0, amount(row.flank_mm, "mm", 3)),
        Dimension((long, 0.0), (long, high), -4.0, amount(high, "mm")),
    ]
    if row.width_deg != 180.0:
        strip.append(Polyline(((row.flank_mm, 0.0), (row.flank_mm, high)), Ink("detail", "chain")))
    standing = translated(_standing(row), long / 2, high + GAP_MM + _below(row))
    layers = (Layer("outline", tuple(strip)), Layer("detail", standing))
    names = ", ".join(row.lamps[:3]) + (f" and {len(row.lamps) - 3} more" if len(row.lamps) > 3 else "")
    caption = (f"For {names}. Below, the flat strip with its fold; above, folded, seen from above, with the lamp of "
               f"{amount(row.size_mm, 'mm')}; dashed, where the light ends.")
    return framed(layers, key=f"template-screen-{number}", title=f"Screen {number}: {row.width_deg:g} degrees",
                  template=True, caption=caption)


def _below(row: Screen) -> float:
    """How far the standing view reaches below the fold."""
    half = math.radians(row.width_deg / 2)
    return max(0.0, -(row.flank_mm + 4.0) * math.cos(half)) + row.size_mm


def _standing(row: Screen) -> list[Mark]:
    """Seen from above, the middle of the sector pointing up; the fold at (0, 0)."""
    half = row.width_deg / 2
    centre: Point = (0.0, row.size_mm / 2 / math.sin(math.radians(half)))
    marks: list[Mark] = [Circle(centre, row.size_mm / 2, DETAIL)]
    cut = penumbra_deg(row.size_mm, row.length_mm)
    for side in (-1.0, 1.0):
        end = on_circle((0.0, 0.0), row.flank_mm, 90.0 + side * half)
        marks.append(Polyline(((0.0, 0.0), end), EDGE))
        past = on_circle(end, min(8.0, row.length_mm), 90.0 + side * (half + cut))
        marks.append(Polyline((end, past), Ink("detail", "dashed", "accent")))
    over = max(centre[1] + row.size_mm / 2 + 2.0, row.flank_mm * math.cos(math.radians(half)) if half < 45.0 else 0.0)
    marks.append(Text((0.0, over), f"{row.width_deg:g} deg", size=1, anchor="s"))
    return marks
