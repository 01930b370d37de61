"""Drilling templates at true size, and a plan of the inner side to lay the loom by."""

from __future__ import annotations

from collections import Counter

from rushlight.model.design import Design
from rushlight.model.plan_part import Part
from rushlight.model.sheet import EDGE, PAGE_HEIGHT_MM, PAGE_WIDTH_MM, Block, Drawing, Layer, Mark, Note, Sheet
from rushlight.sheets import part_marks as marks
from rushlight.sheets import strokes
from rushlight.sheets.amounts import sentence
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.numbering import emitters_on, ends_on, lamps_on
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.place import bounds, framed, merged_layers
from rushlight.sheets.screens import screen_sheets
from rushlight.sheets.tile import tile_count
from rushlight.sheets.words import slug

MOST_PAGES = 40
"""A part that would take more pages is not printed at true size."""


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet for each part that has something to drill, cut or lay; one for the screens of sector lights."""
    found = (template_sheet(design, part) for part in design.plan.parts)
    return (*(sheet for sheet in found if sheet is not None), *screen_sheets(design))


def template_sheet(design: Design, part: Part) -> Sheet | None:
    """Templates of one part, or None where there is nothing to drill, cut or lay."""
    wanted = []
    if has_holes(design, part):
        wanted.append(drilling(design, part))
    if emitters_on(design, part.name) or marks.leads_on(design, part.name):
        wanted.append(inner_side(design, part))
    if not wanted:
        return None
    blocks: tuple[Block, ...] = tuple(row if _printable(row) else _too_large(row) for row in wanted)
    return Sheet(f"template-{slug(part.name)}", f"{sentence(part.name)}: templates", blocks, part=part.name)


def has_holes(design: Design, part: Part) -> bool:
    """Whether anything is drilled or cut in the part."""
    drilled = any(source.hole_mm for _, _, source in lamps_on(design, part.name))
    return drilled or bool(part.openings) or any(hole for _, _, hole in ends_on(design, part.name))


def _printable(drawing: Drawing) -> bool:
    return tile_count(drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM) <= MOST_PAGES


def _too_large(drawing: Drawing) -> Note:
    pages = tile_count(drawing, PAGE_WIDTH_MM, PAGE_HEIGHT_MM)
    return Note(f"It would take {pages} pages at true size; mark it out by the places in the table of holes.",
                drawing.title)


# --- drilling -----------------------------------------------------------------------------------------------------


def drilling(design: Design, part: Part) -> Drawing:
    """Holes at true size as the part is drawn, with their numbers and drills."""
    paper = OnPaper(1.0)
    layers = (marks.outline(part, paper, EDGE), marks.openings(part, paper), _holes(design, part))
    labels = (*_hole_labels(design, part), *_pass_labels(design, part), *_opening_labels(part))
    caption = f"Seen from {part.drawn_from}. {drill_words(design, part)}"
    return _template(layers, labels, (f"template-{slug(part.name)}-holes", f"{part.name}: drilling template", caption))


def _holes(design: Design, part: Part) -> Layer:
    found = [(lamp.spot.at_mm, source.hole_mm) for _, lamp, source in lamps_on(design, part.name) if lamp.spot]
    found += [(at, hole) for _, at, hole in ends_on(design, part.name)]
    return Layer("holes", tuple(mark for at, hole in found if hole for mark in strokes.hole(at, hole)))


def drill_words(design: Design, part: Part) -> str:
    """How many holes with which drill."""
    counts = Counter(
        (source.drill or f"{source.hole_mm:.2f} mm", round(source.hole_mm, 2))
        for _, _, source in lamps_on(design, part.name) if source.hole_mm
    )
    words = (f"{count} with {drill} ({hole:g} mm)" if "mm" not in drill else f"{count} with {drill}"
             for (drill, hole), count in sorted(counts.items(), key=lambda row: row[0][1]))
    return f"Holes: {', '.join(words)}" if counts else "No holes for lamps"


def _hole_labels(design: Design, part: Part) -> list[Wanted]:
    """A number at each hole; its drill where it differs from the hole before in the same row."""
    wanted, before = [], ("", "")
    for number, lamp, source in lamps_on(design, part.name):
        if source.hole_mm and lamp.spot:
            now = (lamp.group, source.drill or f"{source.hole_mm:.2f} mm")
            words = str(number) if now == before else f"{number}: {now[1]}"
            wanted.append(Wanted(lamp.spot.at_mm, words, source.hole_mm / 2 + 0.6))
            before = now
    return wanted


def _pass_labels(design: Design, part: Part) -> list[Wanted]:
    found = ((name, at, hole) for name, at, hole in ends_on(design, part.name) if hole)
    return [Wanted(at, f"{name}: {hole:g} mm", hole / 2 + 0.6) for name, at, hole in found]


def _opening_labels(part: Part) -> list[Wanted]:
    rows = []
    for row in part.openings:
        xs, ys = [p[0] for p in row.shape_mm], [p[1] for p in row.shape_mm]
        rows.append(Wanted(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), row.name, 0.1))
    return rows


# --- the inner side -----------------------------------------------------------------------------------------------


def inner_side(design: Design, part: Part) -> Drawing:
    """The loom's places at true size on the side that it is laid on."""
    flipped = part.drawn_from == "outside"
    paper, name = OnPaper(1.0, mirrored=flipped), part.name
    layers = (
        marks.outline(part, paper, EDGE), marks.openings(part, paper), marks.keep_outs(part, paper),
        marks.bays(part, paper),
        marks.tails(design, name, paper), marks.leads(design, name, paper), marks.crossings(design, name, paper),
        marks.illuminators(design, name, paper), marks.splices(design, name, paper), marks.anchors(design, name, paper),
        Layer("holes", _centres(design, part, paper)),
    )
    turned = ", mirrored" if flipped else ""
    caption = f"Seen from inside{turned}: lay LEDs, splices, fibres and leads by it"
    words = (f"template-{slug(name)}-inside", f"{name}: the inner side", caption)
    return _template(layers, _inner_labels(design, part, paper), words)


def _centres(design: Design, part: Part, paper: OnPaper) -> tuple[Mark, ...]:
    found = ((lamp.spot, source.hole_mm) for _, lamp, source in lamps_on(design, part.name))
    return tuple(mark for spot, hole in found if spot and hole for mark in strokes.hole(paper.at(spot.at_mm), hole))


def _inner_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    numbers = {lamp.name: str(number) for number, lamp, _ in lamps_on(design, part.name)}
    lamps = [
        Wanted(paper.at(lamp.spot.at_mm), numbers[lamp.name], (source.hole_mm or 0.6) / 2)
        for _, lamp, source in lamps_on(design, part.name) if lamp.spot
    ]
    own = (row for row in emitters_on(design, part.name) if row.name not in numbers)
    emitters = [Wanted(paper.at(row.spot.at_mm), row.name, 1.5, bold=True) for row in own]
    joints = [Wanted(paper.at(row.spot.at_mm), row.name,
                     1.2) for row in design.loom.splices if row.spot.part == part.name]
    ends = [Wanted(paper.at(at), name, 1.5) for name, at, _ in ends_on(design, part.name)]
    return [*emitters, *joints, *ends, *lamps]


def _template(layers: tuple[Layer, ...], wanted: tuple[Wanted, ...] | list[Wanted],
              words: tuple[str, str, str]) -> Drawing:
    box = bounds(mark for layer in layers for mark in layer.marks)
    assert box is not None
    clutter = Clutter(box.grown(2.0))
    for layer in layers:
        clutter.add(layer.marks, 8.0 if layer.name in ("holes", "splices") else 1.0)
    labels = Layer("text", placed_labels(wanted, clutter))
    key, title, caption = words
    return framed(merged_layers((*layers, labels)), key=key, title=title, template=True, caption=caption)
