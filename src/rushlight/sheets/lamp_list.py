"""The lamp list: every lamp with what makes it and why it is believed in."""

from __future__ import annotations

from rushlight.model.design import Design, LampLight, PlacedLamp, Source
from rushlight.model.plan import Evidence
from rushlight.model.sheet import Cell, Column, Sheet, Table
from rushlight.sheets.amounts import compressed, mm_words, range_words, span
from rushlight.sheets.numbering import lamp_numbers


def draw(design: Design) -> tuple[Sheet, ...]:
    """Lamps, and the evidence for them."""
    return (Sheet("lamps", "Lamp list", (lamp_table(design), evidence_table(design))),)


def lamp_table(design: Design) -> Table:
    """One line a lamp."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True), Column("part", "Part"),
        Column("x_mm", "x", "mm", "right", 1), Column("y_mm", "y", "mm", "right", 1), Column("colour", "Colour"),
        Column("rhythm", "Rhythm"), Column("subject_mm", "On the subject", "mm", "right"),
        Column("model_mm", "On the model", "mm", "right", 2),
        Column("made_by", "Made by", wide=True), Column("hole", "Hole"), Column("drill", "Drill"),
        Column("intensity", "Intensity expected", "mcd", "right"), Column("states", "Lit in"),
    )
    numbers, marks = lamp_numbers(design), state_marks(design)
    lights = strongest(design)
    rows = tuple(
        _row(number, lamp, source, (lights.get(lamp.name), marks))
        for number, lamp, source in ((numbers[row.name], row, source) for row, source in _pairs(design))
    )
    legend = "; ".join(f"{mark} {name}" for name, mark in marks.items())
    return Table("lamp-list", "Lamps", columns, rows, f"States: {legend}. x and y are places on the part as drawn.")


def _pairs(design: Design) -> tuple[tuple[PlacedLamp, Source], ...]:
    return tuple(zip(design.lamps, design.sources, strict=True))


def _row(
    number: int, lamp: PlacedLamp, source: Source, known: tuple[LampLight | None, dict[str, str]]
) -> tuple[Cell, ...]:
    light, marks = known
    lit = "dark" if lamp.dark else " ".join(mark for name, mark in marks.items() if name in lamp.states)
    return (
        number, lamp.name, lamp.spot.part if lamp.spot else "not placed",
        lamp.spot.x_mm if lamp.spot else None, lamp.spot.y_mm if lamp.spot else None,
        lamp.colour.name, lamp.rhythm, lamp.subject_mm, lamp.model_mm, made_by(source),
        mm_words(source.hole_mm) or "opening", source.drill or "",
        range_words(light.intensity_cd, times=1000) if light else "", lit or "never",
    )


def made_by(source: Source) -> str:
    """What makes the lamp, in a few words."""
    if source.kind == "fibre":
        return f"fibre {mm_words(source.fibre_mm)}"
    if source.kind == "room":
        return f"room: {source.led}"
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
        Column("says", "Says"), Column("evidence", "Evidence", wide=True), Column("certainty_percent", "Sure", "%", "right", 0),
        Column("count", "How many", align="right"),
    )
    numbers = lamp_numbers(design)
    rows: list[tuple[Cell, ...]] = []
    for item in (*design.plan.lamps, *design.plan.rows, *design.plan.strips):
        own = [numbers[lamp.name] for lamp in design.lamps if lamp.group == item.name]
        if own:
            rows += _evidence_rows(span(min(own), max(own), digits=6), item.name, (item.worth, item.evidence))
    return Table("lamp-evidence", "Evidence", columns, tuple(rows))


def _evidence_rows(numbers: str, name: str, known: tuple[str, tuple[Evidence, ...]]) -> list[tuple[Cell, ...]]:
    worth, evidence = known
    if not evidence:
        return [(numbers, name, worth, "", "none given", None, "")]
    return [
        (numbers if k == 0 else "", name if k == 0 else "", worth if k == 0 else "", row.says, _told(row),
         100 * row.certainty, span(*row.count, digits=6) if row.count else "")
        for k, row in enumerate(evidence)
    ]


def _told(row: Evidence) -> str:
    of = compressed(word for word in (row.of, row.mark and f"mark '{row.mark}'") if word)
    parts = (f"{row.kind}: {of}" if of else row.kind, row.note)
    return ". ".join(part.rstrip(".") for part in parts if part)
