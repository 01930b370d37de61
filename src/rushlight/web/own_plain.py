"""What the modeller may know better: readings worth taking, values of parts, habits, as data for the forms."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rushlight.files._drawer_bounds import bounds
from rushlight.files._drawer_rows import table_named
from rushlight.files.own_values import field_of, number_columns
from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import OwnValue
from rushlight.model.schema import keys_of
from rushlight.sheets.amounts import sentence
from rushlight.sheets.led_trial import trial_drawing
from rushlight.sheets.readings import MOST_ROWS, QUESTION_WORDS, UNITS, first_words, reading_words, taken_words
from rushlight.sheets.svg import PAPER, to_svg
from rushlight.stages.aside import aside_of
from rushlight.stages.led_trial import led_trials
from rushlight.stages.measured_found import LIP_LAP, POST_GAP, POST_PAINT, POST_ROOT, SEAM_GAP
from rushlight.stages.measured_keys import may_be_of
from rushlight.stages.readings import Reading, every_reading, first_by_question, worth_first
from rushlight.stages.supplies import UNIT_VOLTS, in_cells
from rushlight.stages.supplies import UNITS as FINISHED
from rushlight.tables import rows
from rushlight.units import Range

SPARE = {"two": "Lux through two sheets", "against": "Volts with the model on it, if you can"}
"""Lists of readings that may be left out."""


def own_json(design: Design) -> dict[str, Any]:
    """What is worth measuring first in this design, and all values and habits that a plan may hold as its own.

    Returns
    -------
    dict
        `first`: the single reading to take now, in words. `readings`: table, row, column, method, words, unit, the ends
        held now, how many open verdicts hang on it and how many of them it may be expected to settle, by how many stops
        it narrows, and what its entry usually holds besides. `asked`: for each question the best of them.
        `methods`: the bench methods, each with what it may be of and its boxes (`spare`: lists that may be
        left out); `measured`: what the plan's readings come to, in words. What this build uses stands first in every
        list of names.
        `tables`: for each table of the drawer its rows and its columns of numbers, with unit and bounds.
        `habits`: name, words, low and high. `drawn`: for each LED without a data sheet the meter at its readings, SVG.
    """
    every, used = every_reading(design), _used(design)
    found = worth_first(every)[:MOST_ROWS]
    return {
        "methods": _methods(design, used),
        "measured": [{"comes": list(comes)} for _, _, comes in taken_words(design)],
        "first": first_words(found) if found else "",
        "readings": [_reading(row, design.drawer) for row in found],
        "asked": [_asked(question, best) for question, best in first_by_question(every).items()],
        "tables": {name: _table(name, design.drawer, used) for name in _tables()},
        "habits": _habits(design.drawer),
        "drawn": {trial.led: to_svg(trial_drawing(trial), PAPER) for trial in led_trials(design)},
    }


def _asked(question: str, best: tuple[Reading, ...]) -> dict[str, str]:
    """A question and its best reading: one that can be taken at once, if there is any."""
    row = next((row for row in best if row.at_once), best[0])
    lit = "" if row.at_once else ", once the lamps are lit"
    return {"question": QUESTION_WORDS[question], "what": sentence(reading_words(row)) + lit}


def _reading(row: Reading, drawer: Drawer) -> dict[str, Any]:
    led = drawer.led(row.row) if row.table == "leds" else None
    usual = ({"at_ma": led.test_ma} if led else {}) | dict(row.usual)
    return {"of": row.of, "usual": usual, "table": row.table, "row": row.row, "column": row.column,
            "method": row.method,
            "what": sentence(reading_words(row)), "unit": _unit(row.table, row.column),
            "stops": round(row.stops, 1), "open": row.undecided, "settles": round(row.settles, 1),
            "at_once": row.at_once, "test_ma": led.test_ma if led else None, "now": [row.now.low, row.now.high]}


def _used(design: Design) -> frozenset[str]:
    """Names of what this build is made of: LEDs, strips, fibres, walls, coats, sheets, cells."""
    drawer, parts, supply = design.drawer, design.plan.parts, design.plan.supply
    return frozenset((
        *(row.part_row for row in design.loom.emitters),
        *(drawer.fibre(tail.fibre_mm).name for tail in design.loom.tails),
        *(aside_of(source) for source in design.sources),
        *(name for part in parts for name in (part.wall, *part.coats)),
        *(row.sheet for part in parts for opening in part.openings for row in opening.diffusers),
        *((supply.cell,) if supply is not None and supply.cell else ()),
    ))


def _first(names: Iterable[str], used: frozenset[str]) -> list[str]:
    """The same names, those of this build in front."""
    return sorted(names, key=lambda name: name not in used)


def _methods(design: Design, used: frozenset[str]) -> list[dict[str, Any]]:
    """Each bench method: what it may be of, its boxes with their words, how it is done, what error it has."""
    of_plan = {"lamp": [lamp.name for lamp in design.lamps], "hull warmth": [row.name for row in design.plan.spaces],
               "feed power": [state.name for state in design.plan.states],
               SEAM_GAP: [part.name for part in design.plan.parts if part.seams_mm],
               LIP_LAP: [part.name for part in design.plan.parts
                         if part.seams_mm and part.seams_closed == "lip behind"],
               POST_GAP: _posted(design, out=True), POST_ROOT: _posted(design, out=False),
               POST_PAINT: _posted(design, out=False), UNIT_VOLTS: _finished(design)}
    return [{
        "what": row["what"], "of": of_plan.get(row["what"]) or _first(may_be_of(design.drawer, row["what"]), used),
        "how": row["how"],
        "error": sentence(row["error"]),
        "lists": [[key, sentence(row[key])] for key in ("readings", "against") if row[key]]
        + [[key, label] for key, label in SPARE.items() if key in row["may"].split(";")]
        + ([["series_ohm", "The resistors, ohm, in the same order"]] if "series_ohm" in row["must"] else []),
        "spare": [key for key in SPARE if key in row["may"].split(";")],
        "needs": [key for key in row["must"].split(";") if key and key != "series_ohm"],
        "leds": _first((led.name for led in design.drawer.leds), used) if "led" in row["must"] else [],
        "states": [state.name for state in design.plan.states] if "state" in row["must"] else [],
        "may": [key for key in row["may"].split(";") if key and key not in SPARE],
    } for row in rows("bench_methods") if of_plan.get(row["what"], True)]


def _finished(design: Design) -> list[str]:
    """What a finished unit that feeds the build is called; nothing where cells do."""
    supply = design.plan.supply
    return [] if supply is None or in_cells(design.plan) else [FINISHED[supply.kind]]


def _posted(design: Design, *, out: bool) -> list[str]:
    """Parts with posts that stand out through the wall, or that stand inside."""
    return [part.name for part in design.plan.parts
            if any(post.why == "post" and (post.height_mm is not None) == out for post in part.keep_outs)]


def _tables() -> tuple[str, ...]:
    return next(field for field in keys_of(OwnValue) if field.name == "table").metadata["kind"].choices  # type: ignore[no-any-return]


def _table(name: str, drawer: Drawer, used: frozenset[str]) -> dict[str, Any]:
    """A table's rows, and its columns that hold numbers; of a range the middle alone."""
    table = table_named(name)
    ends = {end for field in table.fields if field.kind is Range for end in (field.columns[0], field.columns[2])}
    columns = [column for column in number_columns(table) if column not in ends]
    names = _first((row.name for row in getattr(drawer, name)), used)
    return {"rows": names, "columns": [_column(name, column) for column in columns]}


def _column(table: str, column: str) -> dict[str, Any]:
    bound = bounds().get((table, field_of(table_named(table), column).name))
    return {"key": column, "unit": _unit(table, column), "flag": field_of(table_named(table), column).kind is bool,
            "low": bound.low if bound else None, "high": bound.high if bound else None}


def _unit(table: str, column: str) -> str:
    if table in ("habits", "bench"):
        return UNITS.get(column, "")
    bound = bounds().get((table, field_of(table_named(table), column).name))
    return bound.unit if bound and bound.unit != "-" else ""


def _habits(drawer: Drawer) -> list[dict[str, Any]]:
    words = {row["key"]: row["practice"] for row in rows("practice_rules")}
    return [{"key": habit.name, "says": words.get(habit.name, ""), "low": habit.low, "high": habit.high}
            for habit in drawer.habits]
