"""A sheet for each part: what is drilled where, how the fibres lie, how the leads lie."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Block, Cell, Circle, Column, Drawing, Ink, Layer, Note, Point, Sheet, Table
from rushlight.sheets import part_marks as marks
from rushlight.sheets.amounts import amount, mm_words, resistor_text, sentence
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.lamp_list import made_by
from rushlight.sheets.legend import legend
from rushlight.sheets.numbering import emitters_on, ends_on, lamps_on
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.place import bounds, fit_scale, framed, merged_layers
from rushlight.sheets.regulators import regulator_words
from rushlight.sheets.resistor_bands import band_words
from rushlight.sheets.words import slug

ROOM_MM = (168.0, 96.0)
"""Room on paper for each of a sheet's two drawings, labels left out."""

TALL_ROOM_MM = (80.0, 195.0)
"""Room for a tall part: its two drawings stand beside each other."""

ALONE_ROOM_MM = (168.0, 195.0)
"""Room for one drawing a page: taken where the part gets larger on it, up to true size."""

SIDEWAYS_ROOM_MM = (228.0, 145.0)
FINE_SCALES = (2.0, 1.5, 1.25, 1.0, 0.8, 2 / 3, 0.5, 0.4)
CROWDED_LEADS = 16
"""With more leads than this on one part their drawing takes a page laid on its side, if it gets larger there."""

LABEL_SPACE_MM = 9.0


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet a part, in the plan's order."""
    return tuple(part_sheet(design, part) for part in design.plan.parts)


def part_sheet(design: Design, part: Part) -> Sheet:
    """The sheet of one part."""
    paper = OnPaper(part_scale(part))
    blocks: list[Block] = [Note(part.note)] if part.note else []
    blocks.append(lamp_drawing(design, part, paper))
    leads = marks.leads_on(design, part.name)
    wide = OnPaper(crowded_scale(part, paper.scale)) if len(leads) > CROWDED_LEADS else paper
    loom = lead_drawing(design, part, wide) if leads else None
    if loom and wide == paper:
        blocks.append(loom)
    blocks.append(legend())
    blocks += [table for table in (lamp_table(design, part), emitter_table(design, part), splice_table(design, part))
               if table.rows]
    if loom and wide != paper:
        blocks.append(loom)  # on a page of its own, which must not part the others
    return Sheet(f"part-{slug(part.name)}", sentence(part.name), tuple(blocks), part=part.name)


def part_scale(part: Part) -> float:
    """The largest usual scale at which the part fits: two drawings on a page where it is wide, one where it is tall."""
    size = _size_mm(part)
    room = ROOM_MM if size[0] >= size[1] else TALL_ROOM_MM
    shared = fit_scale(*size, page_width_mm=room[0], page_height_mm=room[1], largest=2.0)
    alone = fit_scale(*size, page_width_mm=ALONE_ROOM_MM[0], page_height_mm=ALONE_ROOM_MM[1])
    return max(shared, alone)


def crowded_scale(part: Part, usual: float) -> float:
    """The scale for a crowd of leads: on a page laid on its side, in finer steps, never smaller than the usual one."""
    width, height = _size_mm(part)
    fits = (s for s in FINE_SCALES if s * width <= SIDEWAYS_ROOM_MM[0] and s * height <= SIDEWAYS_ROOM_MM[1])
    return max(next(fits, usual), usual)


def _size_mm(part: Part) -> tuple[float, float]:
    xs, ys = [p[0] for p in part.outline_mm], [p[1] for p in part.outline_mm]
    return (max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0))


def side_words(part: Part) -> str:
    """From which side the drawing shows the part."""
    side = "far" if part.drawn_from == "outside" else "near"
    return f"Seen from {part.drawn_from}; leads and fibres run on the {side} side"


# --- the two drawings ---------------------------------------------------------------------------------------------


def lamp_drawing(design: Design, part: Part, paper: OnPaper) -> Drawing:
    """Lamps with their numbers, openings, keep-outs, bays, crossings, illuminators and fibres."""
    layers = (
        marks.outline(part, paper), marks.seams(part, paper), marks.openings(part, paper), marks.keep_outs(part, paper),
        marks.bays(part, paper), marks.row_lines(design, part.name, paper), marks.tails(design, part.name, paper),
        marks.crossings(design, part.name, paper), marks.illuminators(design, part.name, paper),
        marks.lamps(design, part.name, paper),
    )
    wanted = (*_lamp_labels(design, part, paper), *_illuminator_labels(design, part, paper),
              *_crossing_labels(design, part, paper), *_place_labels(part, paper))
    title = f"{part.name}: lamps and fibres" if marks.tails_on(design, part.name) else f"{part.name}: lamps"
    return _framed(layers, wanted, (f"part-{slug(part.name)}-lamps", title, side_words(part)), paper)


def lead_drawing(design: Design, part: Part, paper: OnPaper) -> Drawing:
    """Leads, splices and anchors over the part."""
    thin = Ink("detail")
    layers = (
        marks.outline(part, paper, thin), marks.openings(part, paper), marks.keep_outs(part, paper),
        marks.bays(part, paper),
        marks.leads(design, part.name, paper), marks.crossings(design, part.name, paper),
        marks.illuminators(design, part.name, paper), _emitter_dots(design, part, paper),
        marks.splices(design, part.name, paper), marks.anchors(design, part.name, paper),
    )
    wanted = (*_splice_labels(design, part, paper), *_emitter_labels(design, part, paper),
              *_crossing_labels(design, part, paper), *_place_labels(part, paper), *_lead_labels(design, part, paper))
    caption = f"{side_words(part)}. Leads that share a way are drawn side by side"
    return _framed(layers, wanted, (f"part-{slug(part.name)}-leads", f"{part.name}: leads and splices", caption), paper)


def _framed(
    layers: Iterable[Layer], wanted: Iterable[Wanted], words: tuple[str, str, str], paper: OnPaper
) -> Drawing:
    drawn = tuple(layers)
    every = [mark for layer in drawn for mark in layer.marks]
    box = bounds(every)
    assert box is not None
    clutter = Clutter(box.grown(LABEL_SPACE_MM))
    for layer in drawn:
        clutter.add(layer.marks, _WEIGHTS.get(layer.name, 1.0))
    labels = Layer("text", placed_labels(wanted, clutter))
    key, title, caption = words
    return framed(merged_layers((*drawn, labels)), key=key, title=title, scale=paper.scale, caption=caption)


_WEIGHTS = {"lamps": 8.0, "splices": 6.0, "symbols": 6.0, "crossings": 6.0, "tails": 0.6, "keep-outs": 0.8,
            "outline": 2.0, "detail": 0.4}


# --- labels -------------------------------------------------------------------------------------------------------


def _lamp_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    return [
        Wanted(paper.at(lamp.spot.at_mm), str(number), max((source.hole_mm or 0.0) * paper.scale, 1.0) / 2)
        for number, lamp, source in lamps_on(design, part.name) if lamp.spot
    ]


def _illuminator_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    kinds = ("illuminator", "strip")
    return [
        Wanted(paper.at(row.spot.at_mm), row.name, 1.2, bold=True)
        for row in emitters_on(design, part.name) if row.kind in kinds
    ]


def _emitter_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    numbers = {lamp.name: str(number) for number, lamp, _ in lamps_on(design, part.name)}
    return [
        Wanted(paper.at(row.spot.at_mm), numbers.get(row.name, row.name), 1.0, bold=True)
        for row in emitters_on(design, part.name)
    ]


def _emitter_dots(design: Design, part: Part, paper: OnPaper) -> Layer:
    ink = Ink("detail", fill="paper")
    own = (row for row in emitters_on(design, part.name) if row.kind == "led")
    return Layer("symbols", tuple(Circle(paper.at(row.spot.at_mm), 0.7, ink) for row in own))


def _splice_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    own = (row for row in design.loom.splices if row.spot.part == part.name)
    return [Wanted(paper.at(row.spot.at_mm), row.name, 1.0) for row in own]


def _crossing_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    return [Wanted(paper.at(at), name, 1.5) for name, at, _ in ends_on(design, part.name)]


def _place_labels(part: Part, paper: OnPaper) -> list[Wanted]:
    """Names of bays and keep-outs, beside their middles."""
    bays = [(row.name,
             ((row.rect_mm[0] + row.rect_mm[2] / 2), row.rect_mm[1] + row.rect_mm[3] / 2)) for row in part.bays]
    outs = [(row.name, _middle(row.shape_mm)) for row in part.keep_outs if row.shape_mm]
    return [Wanted(paper.at(at), name, 0.2) for name, at in (*bays, *outs)]


def _middle(shape: tuple[Point, ...]) -> Point:
    xs, ys = [p[0] for p in shape], [p[1] for p in shape]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _lead_labels(design: Design, part: Part, paper: OnPaper) -> list[Wanted]:
    """A lead's label near the middle of its longest straight on the part."""
    found: dict[str, Wanted] = {}
    for row in marks.drawn_leads(design, part.name, paper):
        a, b = max(zip(row.points_mm, row.points_mm[1:], strict=False), key=lambda pair: math.dist(*pair))
        if math.dist(a, b) > 4.0:
            found.setdefault(row.lead.name, Wanted(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), row.lead.name, 0.2))
    return list(found.values())


# --- tables -------------------------------------------------------------------------------------------------------


def lamp_table(design: Design, part: Part) -> Table:
    """Holes and lamps of the part."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True),
        Column("colour", "Colour"),
        Column("x_mm", "x", "mm", "right", 1), Column("y_mm", "y", "mm", "right", 1), Column("hole", "Hole"),
        Column("drill", "Drill"), Column("made_by", "Made by", wide=True), Column("fed", "Fed by"),
    )
    feeds = {lamp: emitter.name for emitter in design.loom.emitters for lamp in emitter.lamps}
    rows = tuple(
        (number, lamp.name, lamp.colour.name, lamp.spot.x_mm, lamp.spot.y_mm, mm_words(source.hole_mm) or "opening",
         source.drill or "",
         made_by(source), _fed(design, feeds.get(lamp.name), lamp))
        for number, lamp, source in lamps_on(design, part.name) if lamp.spot
    )
    return Table(f"part-{slug(part.name)}-holes", "Lamps and holes", columns, rows)


def _fed(design: Design, emitter: str | None, lamp: PlacedLamp) -> str:
    if lamp.dark:
        return "stays dark"
    string = design.loom.string_of(emitter) if emitter else None
    if string is not None:
        return string.name
    return "nothing" if emitter is None else "its own leads" if emitter == lamp.name else emitter


def emitter_table(design: Design, part: Part) -> Table:
    """What is wired on the part."""
    columns = (
        Column("emitter", "LED or strip"), Column("kind", "Kind"), Column("part", "Part of the drawer", wide=True),
        Column("x_mm", "x", "mm", "right", 1), Column("y_mm", "y", "mm", "right", 1), Column("circuit", "Circuit"),
        Column("resistor", _set_by(design), wide=True), Column("current_ma", "Current", "mA", "right"),
    )
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (row.name, row.kind, row.part_row + (f", {row.segments} segments" if row.segments else ""), row.spot.x_mm,
         row.spot.y_mm, row.circuit, resistor_words(design, row.name), current_words(design, row.name))
        for row in emitters_on(design, part.name)
    )
    return Table(f"part-{slug(part.name)}-leds", "LEDs and strips", columns, rows)


def _set_by(design: Design) -> str:
    return "Resistor and its bands, or regulator" if design.power.regulators else "Resistor and its bands"


def resistor_words(design: Design, emitter: str) -> str:
    """The emitter's own resistor with its colour bands, or its regulator."""
    regulator, string = design.power.regulator(emitter), design.loom.string_of(emitter)
    if regulator:
        return f"{regulator_words(regulator)}{f'; for {len(string.emitters)} in series' if string else ''}"
    row = design.power.resistor(emitter)
    if row is None:
        return _in_string(design, emitter) or "none"
    bands = band_words(design, row)
    words = f"{resistor_text(row)}: {bands}" if bands else resistor_text(row)
    return f"{words}; for {len(string.emitters)} in series" if string else words


def _in_string(design: Design, emitter: str) -> str:
    """Whose minus leads to this LED's plus."""
    string = design.loom.string_of(emitter)
    return f"after {string.emitters[string.emitters.index(emitter) - 1]}" if string else ""


def current_words(design: Design, emitter: str) -> str:
    """The emitter's largest typical current over all states."""
    found = [row.current_a.typical for state in design.power.states for row in state.lit if row.emitter == emitter]
    return amount(1000 * max(found)) if found else ""


def splice_table(design: Design, part: Part) -> Table:
    """Splices of the part."""
    columns = (
        Column("splice", "Splice"), Column("x_mm", "x", "mm", "right", 0), Column("y_mm", "y", "mm", "right", 0),
        Column("net", "Net"), Column("leads", "Joins", wide=True), Column("sleeve_mm", "Sleeve", "mm", "right", 0),
    )
    rows = tuple(
        (row.name, row.spot.x_mm, row.spot.y_mm, f"{row.net} {row.circuit or ''}".strip(), ", ".join(row.leads),
         row.sleeve.cut_mm)
        for row in design.loom.splices if row.spot.part == part.name
    )
    return Table(f"part-{slug(part.name)}-splices", "Splices", columns, rows)


