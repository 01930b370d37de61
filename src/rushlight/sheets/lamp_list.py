"""The lamp list: every lamp with what makes it and why it is believed in."""

from __future__ import annotations

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.design_light import LampLight
from rushlight.model.plan import Evidence, Lamp, Row, Strip
from rushlight.model.sheet import Cell, Column, Sheet, Table
from rushlight.optics.eye import is_point, visual_angle_deg
from rushlight.sheets.amounts import LIKELY, amount, compressed, mm_words, range_words, span
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.source_ways import ways_tables


def draw(design: Design) -> tuple[Sheet, ...]:
    """Lamps as they are seen, lamps as they are made, what else could make them, and the evidence for them."""
    blocks = (lamp_table(design), making_table(design), *ways_tables(design), evidence_table(design))
    return (Sheet("lamps", "Lamp list", blocks),)


def lamp_table(design: Design) -> Table:
    """One line a lamp: where it is and what is seen."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True), Column("part", "Part"),
        Column("x_mm", "x", "mm", "right", 1), Column("y_mm", "y", "mm", "right", 1), Column("colour", "Colour"),
        Column("rhythm", "Rhythm"), Column("subject_mm", "Subject", "mm", "right"),
        Column("model_mm", "Model", "mm", "right", 2), Column("states", "Lit in"),
    )
    marks = state_marks(design)
    rows = tuple(_seen_row(number, lamp, marks) for number, lamp in enumerate(design.lamps, start=1))
    legend = "; ".join(f"{mark} {name}" for name, mark in marks.items())
    caption = (f"States: {legend}. x and y are places on the part as drawn; sizes are diameters on the subject and "
               "the model.")
    return Table("lamp-list", "What is seen", columns, rows, caption)


def _seen_row(number: int, lamp: PlacedLamp, marks: dict[str, str]) -> tuple[Cell, ...]:
    lit = "dark" if lamp.dark else " ".join(mark for name, mark in marks.items() if name in lamp.states)
    x, y = (lamp.spot.x_mm, lamp.spot.y_mm) if lamp.spot else (None, None)
    return (
        number, lamp.name, lamp.spot.part if lamp.spot else "not placed", x, y, lamp.colour.name, lamp.rhythm,
        lamp.subject_mm, lamp.model_mm, lit or "never",
    )


def making_table(design: Design) -> Table:
    """One line a lamp: what makes it and what it gives."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True),
        Column("made_by", "Made by", wide=True), Column("lit_mm", "Lit width", "mm", "right"),
        Column("subject_mm", "On the subject", "mm", "right"), Column("seen_as", "Seen as"), Column("hole", "Hole"),
        Column("drill", "Drill"),
        Column("circuit", "Circuit"), Column("wanted_mcd", "Wanted", "mcd", "right"),
        Column("expected", "Likely", "mcd", "right"), Column("outside", "At the outside", "mcd", "right"),
    )
    lights, wanted = strongest(design), {aim.lamp: aim.wanted_cd * aim.seen_share for aim in design.aims}
    circuits = {lamp: circuit.name for circuit in design.circuits for lamp in circuit.lamps}
    rows = tuple(
        (number, lamp.name, made_by(source), amount(source.seen_mm), amount(source.seen_subject_mm),
         _seen_as(design, source), mm_words(source.hole_mm) or "opening", source.drill or "",
         circuits.get(lamp.name, ""), amount(1000 * wanted[lamp.name]) if lamp.name in wanted else "",
         *_given(lights.get(lamp.name)))
        for number, (lamp, source) in enumerate(zip(design.lamps, design.sources, strict=True), start=1)
    )
    distance = amount(design.plan.subject.viewing_distance_mm, "mm")
    caption = (f"What is lit is so wide on the model, and would be so wide on the subject; from {distance} away it is "
               "seen as a point, or as a disc of so many minutes of arc. "
               "Intensity along the axis in the state in which the lamp is brightest; of one with a sector that points "
               f"past it, as of one tip up, level into it. {LIKELY}")
    return Table("lamp-making", "What makes it", columns, rows, caption)


def _given(light: LampLight | None) -> tuple[Cell, Cell]:
    """Intensity as is likely, and at the outside; nothing for a lamp that is never lit."""
    if light is None:
        return "", ""
    seen = light.looked_at
    return range_words(seen.likely_cd, times=1000), range_words(seen.intensity_cd, times=1000)


def _seen_as(design: Design, source: Source) -> str:
    """Point or disc at the viewing distance, of what is really lit."""
    distance_mm = design.plan.subject.viewing_distance_mm
    if is_point(source.seen_mm, distance_mm):
        return "point"
    return f"disc, {amount(60 * visual_angle_deg(source.seen_mm, distance_mm))}'"


def made_by(source: Source) -> str:
    """What makes the lamp, in a few words."""
    if source.kind == "fibre":
        return f"fibre {mm_words(source.fibre_mm)}{'' if source.tip == 'polished' else f', {source.tip} end'}"
    if source.kind == "room":
        return f"room{f' {source.room}' if source.room else ''}: {source.led}"
    return source.strip or source.led


def state_marks(design: Design) -> dict[str, str]:
    """A short mark for each state: its number, as the positions of the switch are numbered."""
    return {state.name: str(number) for number, state in enumerate(design.plan.states, start=1)}


def strongest(design: Design) -> dict[str, LampLight]:
    """Each lamp's light in the state in which it is brightest."""
    found: dict[str, LampLight] = {}
    for row in design.light.lamps:
        held = found.get(row.lamp)
        if held is None or row.intensity_cd.typical > held.intensity_cd.typical:
            found[row.lamp] = row
    return found


# --- evidence -----------------------------------------------------------------------------------------------------


def evidence_table(design: Design) -> Table:
    """What speaks for and against each lamp, row and strip."""
    columns = (
        Column("numbers", "No."), Column("lamp", "Lamp, row or strip"), Column("worth", "Worth"),
        Column("says", "Says"), Column("evidence", "Evidence", wide=True),
        Column("certainty_percent", "Sure", "%", "right", 0),
        Column("count", "How many", align="right"),
    )
    numbers = lamp_numbers(design)
    rows: list[tuple[Cell, ...]] = []
    items: tuple[Lamp | Row | Strip, ...] = (*design.plan.lamps, *design.plan.rows, *design.plan.strips)
    for item in items:
        own = [numbers[lamp.name] for lamp in design.lamps if lamp.group == item.name]
        if own:
            rows += _evidence_rows(span(min(own), max(own), digits=9), item.name, (item.worth, item.evidence))
    return Table("lamp-evidence", "Evidence", columns, tuple(rows))


def _evidence_rows(numbers: str, name: str, known: tuple[str, tuple[Evidence, ...]]) -> list[tuple[Cell, ...]]:
    worth, evidence = known
    if not evidence:
        return [(numbers, name, worth, "", "none given", None, "")]
    return [
        (numbers if k == 0 else "", name if k == 0 else "", worth if k == 0 else "", row.says, _told(row),
         100 * row.certainty, span(*row.count, digits=9) if row.count else "")
        for k, row in enumerate(evidence)
    ]


def _told(row: Evidence) -> str:
    of = compressed(word for word in (row.of, row.mark and f"mark '{row.mark}'") if word)
    parts = (f"{row.kind}: {of}" if of else row.kind, row.note)
    return ". ".join(part.rstrip(".") for part in parts if part)
