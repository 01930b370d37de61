"""Windows before a strip: how bright and even each is, drawn, and where the strip is cut."""

from __future__ import annotations

import math

from rushlight.geometry.shadow import level_lines
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight, WindowMap
from rushlight.model.design_loom import Emitter
from rushlight.model.sheet import (
    DETAIL,
    EDGE,
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
from rushlight.optics.window import seen_words
from rushlight.sheets.amounts import LIKELY, amount, likely_words, range_words, sentence
from rushlight.sheets.cure_pictures import cure_pictures
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.place import bounds, fit_scale, framed
from rushlight.sheets.words import shortened, slug
from rushlight.stages.parts_law import most_apart
from rushlight.stages.strip_cures import strip_cures, uneven_strips
from rushlight.stages.strip_cut import drawn_mm
from rushlight.stages.strip_words import ratio_words, trial_words
from rushlight.stages.strips import find_opening, run_of
from rushlight.stages.window_panes import behind_opening

STEPS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5)
"""Lines of equal luminance stand so far apart, over the mean: the least step that needs no more than MOST_LINES."""

MOST_LINES = 8

AS_IT_IS = {"spots": "", "posts": ", with its posts", "alike": ", windows unlike each other"}

MOST_DRAWN = 6
"""Windows drawn: the least even ones first."""

PICTURE_MM = (56.0, 40.0)
LED_MM = 0.7


FADES = "no gap does"


def window_blocks(design: Design) -> list[Block]:
    """The table of windows, the pictures of the least even ones, and where each strip is cut."""
    if not design.light.strips:
        return []
    worst = sorted(design.light.strips, key=lambda row: -row.times_seen)[:MOST_DRAWN]
    tried = [tried_table(design)] if uneven_strips(design) else []
    return [strip_table(design), *tried, *cure_pictures(design), *(window_drawing(row) for row in worst),
            cut_mark_table(design)]


def strip_table(design: Design) -> Table:
    """Strips behind their openings."""
    columns = (
        Column("opening", "Opening", wide=True), Column("strip", "Strip"),
        Column("gap_mm", "Gap", "mm", "right", 1), Column("needed_mm", "Needed gap", "mm", "right", 1),
        Column("luminance", "Luminance", "cd/m2", "right"), Column("swing_percent", "Least to most", "%", "right"),
        Column("times", "Times just seen", align="right", decimals=1), Column("looks", "Looks", wide=True),
    )
    rows = tuple(
        (row.opening, row.strip, row.gap_mm, FADES if row.needed_gap_mm is None else row.needed_gap_mm,
         likely_words(row.likely_cd_m2, row.luminance_cd_m2),
         f"{100 * row.least_share:.0f} to {100 * row.most_share:.0f}", row.times_seen, seen_words(row.times_seen))
        for row in design.light.strips
    )
    distance = amount(design.plan.subject.viewing_distance_mm, "mm")
    caption = ("Least and most are the luminance at the darkest and brightest spot over the mean of the window. Times "
               f"just seen: the swing from {distance} away over what a trained eye just sees; ordinary looking needs 3 "
               "to 10. The needed gap is where the single LEDs fall below that, behind these sheets; where no gap "
               f"does, the window fades to a rim or to the strip's end: see what was tried. {LIKELY}")
    return Table("light-strips", "Strips behind openings", columns, rows, caption)


def tried_table(design: Design) -> Table:
    """What was tried against uneven windows, strip by strip, and what each change leaves."""
    columns = (
        Column("strip", "Strip"), Column("change", "Tried", wide=True), Column("ratio", "Brightest to darkest"),
        Column("apart", "Brightest window to dimmest"),
        Column("times", "Times just seen", align="right", decimals=1),
        Column("light", "Light, times now", align="right", decimals=2), Column("enough", "Enough"),
    )
    rows: list[tuple[Cell, ...]] = []
    for name, goal in uneven_strips(design):
        cures = strip_cures(design, name, goal=goal)
        rows.append((name, f"as it is{AS_IT_IS[goal]}", ratio_words(cures.ratio), ratio_words(cures.apart), cures.times,
                     1.0, "no"))
        rows += [(name, sentence(trial_words(cures, row)), ratio_words(row.ratio), ratio_words(row.apart), row.times,
                  row.share, "yes" if row.reaches else "no") for row in sorted(cures.tried, key=lambda one: one.work)]
    return Table("strip-cures", "What would make windows even and alike, as tried", columns, tuple(rows),
                 "Each change was made on this plan and its windows lit anew, the strip dimmed to what is wanted; the "
                 "worst window is told. Least work stands first; where no change is enough by itself, or only one with "
                 "much work, pairs were tried. Enough: ordinary looking passes over it, or windows are as like each "
                 f"other as they should be ({amount(most_apart(design.drawer))} to 1), and of the two the other is not "
                 "made worse. Light is that of the window that loses most.")


def alike_table(design: Design) -> Table:
    """How alike windows are that should be."""
    columns = (
        Column("windows", "Windows of", wide=True), Column("state", "In"), Column("brightest", "Brightest"),
        Column("dimmest", "Dimmest"), Column("ratio", "Ratio", align="right", decimals=2),
        Column("each", "Each, times the dimmest", wide=True),
    )
    strips = {row.lamp: row.opening for row in design.light.strips}
    rows = tuple(
        (f"like {row.name}" if row.kind == "like" else row.name, row.state, strips.get(row.brightest, row.brightest),
         strips.get(row.dimmest, row.dimmest), row.ratio,
         ", ".join(f"{strips.get(lamp, lamp)} {times:.2f}" for lamp, times in row.over_dimmest))
        for row in design.light.alike
    )
    return Table("windows-alike", "How alike windows look", columns, rows,
                 "Mean luminance over that of the dimmest, over what is asked of each, of windows that one source "
                 f"lights or that should be like one lamp; up to {amount(most_apart(design.drawer))} the eye takes "
                 "them for equal.")


def cut_mark_table(design: Design) -> Table:
    """Where each strip is cut, and where its two ends lie."""
    columns = (
        Column("strip", "Strip", wide=True), Column("part_row", "Of", wide=True), Column("part", "On"),
        Column("count", "Pieces between marks", align="right", decimals=0),
        Column("cut_mm", "Cut at the mark", "mm", "right", 0), Column("drawn_mm", "As drawn", "mm", "right", 0),
        Column("leds", "LEDs", align="right", decimals=0),
        Column("first", "First LED at", "mm"), Column("last", "Last LED at", "mm"),
        Column("channel", "Channel as reckoned", wide=True),
    )
    rows = []
    for emitter in design.loom.emitters:
        if emitter.kind == "strip":
            part = design.drawer.strip(emitter.part_row)
            first, last = (f"{amount(x, digits=3)}, {amount(y, digits=3)}" for x, y in
                           (emitter.strip_points_mm[0], emitter.strip_points_mm[-1]))
            rows.append((emitter.name, emitter.part_row, emitter.spot.part, emitter.segments,
                         emitter.segments * part.segment_mm, drawn_mm(run_of(emitter)), len(emitter.strip_points_mm),
                         first, last,
                         _channel_words(design, emitter)))
    return Table("strip-cuts", "Where to cut the strips", columns, tuple(rows),
                 "Count the marks from the end where the leads go on. Places are those of an LED's middle on the part.")


def _channel_words(design: Design, emitter: Emitter) -> str:
    """How wide and deep a strip's channel is and what throws light back there: '20 mm wide, 25 mm deep; walls ...'."""
    strip = run_of(emitter)
    wide = [2 * behind_opening(strip, find_opening(design.plan, emitter, lamp), emitter.strip_points_mm).half_width_mm
            for lamp in emitter.lamps]
    across = " to ".join(dict.fromkeys(amount(value) for value in (min(wide), max(wide))))
    finish = {"matt": "matt ", "foil": "shiny "}.get(strip.channel_walls or "", "")
    board = "" if strip.board_reflects is None else f", board {strip.board_reflects:.2g}"
    ends = {"walled": "; both ends walled", "open": "; ends open"}.get(strip.channel_ends or "", "")
    return (f"{across} mm wide, {amount(strip.gap_mm)} mm deep; {finish}walls throw back {strip.walls_reflect:.2g}"
            f"{board}{ends}")


def window_drawing(row: StripLight) -> Drawing:
    """One window as it is lit: lines of equal luminance, LEDs behind it, posts, sheets that overlap."""
    window = row.window
    xs, ys = [x for x, _ in window.outline_mm], [y for _, y in window.outline_mm]
    scale = fit_scale(max(xs) - min(xs), max(ys) - min(ys), page_width_mm=PICTURE_MM[0], page_height_mm=PICTURE_MM[1],
                      largest=5.0)
    paper = OnPaper(scale)
    found = _lines(window)
    layers = [
        Layer("outline", (Polyline(paper.run(window.outline_mm), EDGE, closed=True),)),
        Layer("tails", tuple(Polyline(paper.run(line), _ink(level)) for level, lines in found for line in lines)),
        Layer("keep-outs", tuple(_posts(window, paper))), Layer("lamps", tuple(_leds(window, paper))),
    ]
    layers.append(Layer("text", _labels(found, paper, layers)))
    caption = (f"Per cent of the mean, likely {range_words(row.likely_cd_m2)} cd/m2; dotted is darker, drawn through "
               f"brighter. Rings are LEDs{', filled a post' if window.posts_mm else ''}"
               f"{', hatched where sheets overlap' if window.overlaps_mm else ''}. Looks {seen_words(row.times_seen)}.")
    return framed(layers, key=f"window-{slug(row.lamp)}"[:80], title=shortened(row.lamp, 48), scale=scale,
                  caption=caption)


def _ink(level: float) -> Ink:
    return Ink("dimension", "dotted") if level < 1.0 else THIN


def _lines(window: WindowMap) -> list[tuple[float, list[tuple[tuple[float, float], ...]]]]:
    if len(window.relative) < 2 or len(window.relative[0]) < 2:
        return []
    return level_lines(window.relative, _levels(window), corner_mm=window.corner_mm, step_mm=window.step_mm,
                       within_mm=window.outline_mm)


def _levels(window: WindowMap) -> tuple[float, ...]:
    """Round levels between the darkest and the brightest spot, the mean left out."""
    values = [value for row in window.relative for value in row]
    least, most = min(values), max(values)
    step = next((step for step in STEPS if (most - least) / step <= MOST_LINES), STEPS[-1])
    counts = range(math.ceil((least - 1) / step), math.floor((most - 1) / step) + 1)
    return tuple(1 + step * count for count in counts if count)


def _posts(window: WindowMap, paper: OnPaper) -> list[Mark]:
    marks: list[Mark] = [Polyline(paper.run(outline), Ink("dimension", fill="hatch"), closed=True)
                         for outline in window.overlaps_mm]
    return marks + [Circle(paper.at((x, y)), radius * paper.scale, Ink("detail", fill="ink"))
                    for x, y, radius in window.posts_mm]


def _leds(window: WindowMap, paper: OnPaper) -> list[Mark]:
    """Those in or near the window."""
    xs, ys = [x for x, _ in window.outline_mm], [y for _, y in window.outline_mm]
    reach = 0.25 * (max(xs) - min(xs))
    return [Circle(paper.at((x, y)), LED_MM, DETAIL) for x, y in window.leds_mm
            if min(xs) - reach <= x <= max(xs) + reach and min(ys) - reach <= y <= max(ys) + reach]


def _labels(
    found: list[tuple[float, list[tuple[tuple[float, float], ...]]]], paper: OnPaper, layers: list[Layer]
) -> tuple[Mark, ...]:
    """Each level by its per cent, on its longest line."""
    marks = [mark for layer in layers for mark in layer.marks]
    box = bounds(marks)
    assert box is not None
    clutter = Clutter(box)
    clutter.add(marks)
    wanted = []
    for k, (level, lines) in enumerate(found):
        if lines:
            longest = max(lines, key=len)
            wanted.append(Wanted(paper.at(longest[(1 + k % 6) * len(longest) // 8]), f"{100 * level:.4g}", 0.2))
    return placed_labels(wanted, clutter)
