"""Floodlights on what they light: tables, and the map of each ground in lines of equal light."""

from __future__ import annotations

import math
from dataclasses import replace

from rushlight.geometry.shadow import level_lines
from rushlight.model.design import Design
from rushlight.model.design_light import PoolMap
from rushlight.model.plan_part import Part
from rushlight.model.sheet import (
    DETAIL,
    EDGE,
    PHONE_WIDTH_MM,
    THIN,
    Block,
    Cell,
    Circle,
    Column,
    Drawing,
    Ink,
    Layer,
    Mark,
    Polyline,
    Table,
)
from rushlight.sheets import part_marks
from rushlight.sheets.amounts import LIKELY, amount, compressed, in_brackets, likely_words, range_words, sentence
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.place import bounds, fit_scale, framed
from rushlight.sheets.words import shortened, slug

LEVELS = ((0.1, Ink("dimension", "dotted")), (0.25, Ink("dimension", "dashed")), (0.5, Ink("detail", colour="accent")),
          (0.75, Ink("detail")), (0.9, Ink("edge", colour="accent")))
"""Lines of equal light as shares of the peak, each told from the next by its pattern or weight."""

LEVEL_WORDS = ("dotted", "dashed", "thin red", "black", "thick red")

STANDING, HANGING, WALL = Ink("edge", fill="pale"), Ink("detail", "dashed"), Ink("edge")
TOUCHES_MM = 0.05
SHADOW = Ink("dimension", fill="hatch", stroked=True)
MOST_MAPS = 12
TALLEST_MM = 110.0
CROSS_MM = 1.5
MARGIN_MM = 2.5
"""That a drawing's frame and its outermost lines take."""

MOST_NAMED = 8


def pool_blocks(design: Design) -> list[Block]:
    """Tables and maps of floodlights; nothing where there are none."""
    if not design.light.pools:
        return []
    blocks: list[Block] = [pool_table(design), ground_table(design)]
    if any(ground.shadows for ground in design.light.grounds):
        blocks.append(shadow_table(design))
    return [*blocks, *(ground_drawing(design, k) for k in range(min(len(design.light.grounds), MOST_MAPS)))]


def pool_table(design: Design) -> Table:
    """Each floodlight by itself."""
    columns = (
        Column("lamp", "Floodlight", wide=True), Column("height_mm", "Height", "mm", "right", 0),
        Column("tilt_deg", "Tilt", "deg", "right", 0), Column("centre", "Where it is aimed", "lx", "right"),
        Column("half_mm", "Half of it at", "mm", "right", 0),
    )
    alike: dict[tuple[Cell, ...], list[str]] = {}
    for row in design.light.pools:
        cells = (row.height_mm, round(row.tilt_deg, 3), likely_words(row.likely_lx, row.centre_lx),
                 round(row.half_radius_mm, 3))
        alike.setdefault(cells, []).append(row.lamp)
    rows = tuple((compressed(names), *cells) for cells, names in alike.items())
    return Table("light-pools", "Floodlights", columns, rows, LIKELY)


def ground_table(design: Design) -> Table:
    """All floodlights together on each ground."""
    columns = (
        Column("ground", "What they light", wide=True), Column("states", "In"),
        Column("count", "Lamps", align="right", decimals=0), Column("peak", "Peak", "lx", "right"),
        Column("mean", "Mean", "lx", "right"), Column("even", "Least over mean", align="right", decimals=2),
        Column("area", "Pool", "cm2", "right", 1),
    )
    rows = tuple(
        (_name(row), ", ".join(row.states), len(row.lamps), in_brackets(row.likely_peak_lx, row.peak_lx),
         in_brackets(row.likely_mean_lx, row.mean_lx), row.evenness, row.pool_mm2 / 100)
        for row in design.light.grounds
    )
    return Table("light-grounds", "Floodlights together", columns, rows,
                 "The pool is the ground that gets a tenth of the peak or more; mean and least are taken over it. Peak "
                 "and mean: what is likely, in brackets at the outside.")


def shadow_table(design: Design) -> Table:
    """What throws a shadow in which lamp's pool."""
    columns = (
        Column("of", "Shadow of", wide=True), Column("lamp", "In the light of", wide=True), Column("states", "In"),
        Column("tall_mm", "Its height", "mm", "right", 0), Column("reach_mm", "Reaches beyond it", "mm", "right"),
        Column("share", "Share of the pool", "%", "right", 0), Column("left", "Light left in it", "%", "right", 0),
    )
    rows = tuple(
        (row.of, row.lamp, ", ".join(ground.states), row.tall_mm,
         "to the edge" if row.reach_mm is None else amount(row.reach_mm), 100 * row.share, 100 * row.left_share)
        for ground in design.light.grounds for row in ground.shadows
    )
    return Table("light-shadows", "Shadows on the ground", columns, rows)


def ground_drawing(design: Design, number: int) -> Drawing:
    """Lines of equal light on one ground, with feet, aims and shadows; a broad one smaller too, for a phone."""
    ground = design.light.grounds[number]
    size = (ground.step_mm * len(ground.lx[0]), ground.step_mm * len(ground.lx))
    wide = _ground_drawing(design, number, fit_scale(*size, page_height_mm=TALLEST_MM, largest=2.0))
    if wide.width_mm <= PHONE_WIDTH_MM:
        return wide
    assert wide.scale is not None
    less = (PHONE_WIDTH_MM - 2 * MARGIN_MM) / (wide.width_mm - 2 * MARGIN_MM)
    return replace(wide, narrow=_ground_drawing(design, number, wide.scale * less))


def _ground_drawing(design: Design, number: int, scale: float) -> Drawing:
    ground = design.light.grounds[number]
    part = next((row for row in design.plan.parts if row.name == ground.part), None)
    paper = OnPaper(scale)
    layers = [*_part(part, ground, paper), Layer("tails", tuple(_lines(ground, part, paper))),
              Layer("keep-outs", tuple(_shadows(ground, paper))), Layer("lamps", tuple(_lamps(ground, paper)))]
    if part is None:
        layers.append(Layer("outline", (Polyline(paper.run(_frame(ground)), THIN, closed=True),)))
    layers.append(Layer("text", _labels(ground, part, paper, layers)))
    key = "; ".join(f"{words} {amount(share * ground.peak_lx.typical, 'lx')}"
                    for (share, _), words in zip(LEVELS, LEVEL_WORDS, strict=True))
    hangs = any(row.above_mm for row in ground.standing) or any(above for _, _, above in walls_seen(ground))
    caption = (f"{sentence(', '.join(ground.states))}. Lines of equal light: {key}; peak likely "
               f"{range_words(ground.likely_peak_lx)} lx. A ring is a lamp's foot, a cross where it is "
               f"aimed{'; hatched lies in a shadow' if ground.shadows else ''}."
               + (" What is dashed hangs over it." if hangs else "") + _unknown_words(ground))
    return framed(layers, key=f"light-ground-{number + 1}-{slug(_name(ground))}"[:80],
                  title=f"Floodlight: {_name(ground)}", scale=scale, caption=caption)


def _unknown_words(ground: PoolMap) -> str:
    if not ground.unknown:
        return ""
    names = ", ".join(shortened(name, 24) for name in ground.unknown[:MOST_NAMED])
    more = f" and {len(ground.unknown) - MOST_NAMED} more" if len(ground.unknown) > MOST_NAMED else ""
    return f" Not known where these stand, so their shadows are not computed: {names}{more}."


def _name(ground: PoolMap) -> str:
    return ground.part or f"below {ground.lamps[0]}"


def _frame(ground: PoolMap) -> tuple[tuple[float, float], ...]:
    (x, y), step = ground.corner_mm, ground.step_mm
    right, top = x + step * (len(ground.lx[0]) - 1), y + step * (len(ground.lx) - 1)
    return ((x, y), (right, y), (right, top), (x, top))


def _part(part: Part | None, ground: PoolMap, paper: OnPaper) -> list[Layer]:
    if part is None:
        return []
    stood = tuple(Polyline(paper.run(row.shape_mm), HANGING if row.above_mm else STANDING, closed=True)
                  for row in ground.standing)
    walls = tuple(Polyline(paper.run(ring), HANGING if above else WALL, closed=len(ring) > 2)
                  for _, ring, above in walls_seen(ground))
    return [part_marks.outline(part, paper, EDGE), Layer("symbols", (*stood, *walls))]


def walls_seen(ground: PoolMap) -> list[tuple[str, tuple[tuple[float, float], ...], bool]]:
    """Pieces of the model's own parts over a ground, seen from above: name, corners, whether they hang over it.

    An upright one is a line of two points.
    """
    placed = [(wall.name, wall.corners_mm) for wall in ground.walls]
    return [(name, _from_above(corners), min(z for _, _, z in corners) > TOUCHES_MM)
            for name, corners in placed if max(z for _, _, z in corners) > TOUCHES_MM]


def _from_above(corners: tuple[tuple[float, float, float], ...]) -> tuple[tuple[float, float], ...]:
    flat = tuple((x, y) for x, y, _ in corners)
    start = max(flat, key=lambda at: math.dist(at, flat[0]))
    end = max(flat, key=lambda at: math.dist(at, start))
    far = math.dist(start, end)
    aside = max(abs((x - start[0]) * (end[1] - start[1]) - (y - start[1]) * (end[0] - start[0])) for x, y in flat)
    return (start, end) if far > 0.0 and aside / far < TOUCHES_MM else flat


def level_lines_of(ground: PoolMap, part: Part | None) -> list[tuple[float, list[tuple[tuple[float, float], ...]]]]:
    """Lines of equal light at each of LEVELS, in millimetres of the part."""
    levels = [share * ground.peak_lx.typical for share, _ in LEVELS]
    return level_lines(ground.lx, levels, corner_mm=ground.corner_mm, step_mm=ground.step_mm,
                       within_mm=part.outline_mm if part else ())


def _lines(ground: PoolMap, part: Part | None, paper: OnPaper) -> list[Mark]:
    return [Polyline(paper.run(line), ink)
            for (_, lines), (_, ink) in zip(level_lines_of(ground, part), LEVELS, strict=True) for line in lines]


def _labels(ground: PoolMap, part: Part | None, paper: OnPaper, layers: list[Layer]) -> tuple[Mark, ...]:
    """Each lamp by its name, the longest line of each level by its lux, what stands there by its name."""
    marks = [mark for layer in layers for mark in layer.marks]
    box = bounds(marks)
    assert box is not None
    clutter = Clutter(box.grown(2.0))
    clutter.add(marks)
    wanted = [Wanted(paper.at(foot), shortened(lamp, 24), CROSS_MM, bold=True)
              for lamp, foot in zip(ground.lamps, ground.feet_mm, strict=True)]
    for k, (level, lines) in enumerate(level_lines_of(ground, part)):
        if lines:
            longest = max(lines, key=len)
            wanted.append(Wanted(paper.at(longest[(1 + k) * len(longest) // 7]), amount(level, "lx"), 0.2))
    for row in ground.standing:
        shape = row.shape_mm
        middle = (sum(x for x, _ in shape) / len(shape), sum(y for _, y in shape) / len(shape))
        wanted.append(Wanted(paper.at(middle), f"{shortened(row.name, 20)}, {amount(row.height_mm, 'mm')}", 0.2))
    wanted += [Wanted(paper.at(at), f"{shortened(name, 20)}, {amount(tall, 'mm')}", 0.2)
               for name, at, tall in _own_parts(ground)]
    return placed_labels(wanted, clutter)


def _own_parts(ground: PoolMap) -> list[tuple[str, tuple[float, float], float]]:
    """Each part that stands there: its name, the middle of what it covers, its height."""
    found = []
    for name in dict.fromkeys(name for name, _, _ in walls_seen(ground)):
        corners = [corner for wall in ground.walls if wall.name == name for corner in wall.corners_mm]
        middle = tuple((min(row[k] for row in corners) + max(row[k] for row in corners)) / 2 for k in (0, 1))
        found.append((name, (middle[0], middle[1]), max(z for _, _, z in corners)))
    return found


def _shadows(ground: PoolMap, paper: OnPaper) -> list[Mark]:
    return [Polyline(paper.run(ring), SHADOW, closed=True) for row in ground.shadows for ring in row.outlines_mm]


def _lamps(ground: PoolMap, paper: OnPaper) -> list[Mark]:
    marks: list[Mark] = []
    for foot, aim in zip(ground.feet_mm, ground.aims_mm, strict=True):
        (x, y), (u, v) = paper.at(foot), paper.at(aim)
        marks.append(Circle((x, y), CROSS_MM * 0.6, DETAIL))
        marks += [Polyline(((u - CROSS_MM, v), (u + CROSS_MM, v)), DETAIL),
                  Polyline(((u, v - CROSS_MM), (u, v + CROSS_MM)), DETAIL)]
        if math.dist(foot, aim) > 0:
            marks.append(Polyline(((x, y), (u, v)), Ink("dimension", "chain")))
    return marks
