"""What a bench needs of a design, as plain data: steps with their gates, what to cut, the loom, the lamps."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

from rushlight.model.design import Design, PredictedReading, Step
from rushlight.model.design_loom import Lead, Tail, tube_name
from rushlight.model.sheet import Drawing
from rushlight.sheets.amounts import compressed, sentence
from rushlight.sheets.cut_list import end_words
from rushlight.sheets.gates import expected
from rushlight.sheets.hues import swatch
from rushlight.sheets.lamp_list import made_by
from rushlight.sheets.led_trial import supply_words, trial_uses
from rushlight.sheets.meter import meter_drawing
from rushlight.sheets.meter_use import MeterUse, mind, use_of_reading
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.order import caution_of, cautions_at
from rushlight.sheets.part_marks import OnPaper, leads_on
from rushlight.sheets.parts import lamp_drawing, lead_drawing, part_scale
from rushlight.sheets.readings import first_words
from rushlight.sheets.svg import PAPER, to_svg
from rushlight.stages.fault_log import named
from rushlight.stages.led_trial import LedTrial, led_trials
from rushlight.stages.readings import every_reading, worth_first
from rushlight.web.bands_plain import band_code
from rushlight.web.plain import letter, plain


def bench_json(design: Design) -> dict[str, Any]:
    """Everything that the bench's pages show, except what is done; `find` and `meters` are for the server itself."""
    names, trials = named(design), led_trials(design)
    return {
        "title": design.plan.subject.title,
        "steps": [_step_json(design, step) for step in design.order.steps],
        "sittings": design.order.sittings,
        "pieces": [*_leads(design), *_tails(design), *_tubes(design)],
        "lamps": _lamps(design),
        "drawings": [_drawing_json(drawing, part) for part, drawing in _drawings(design)],
        "bands": band_code(),
        "trials": [_trial_json(trial) for trial in trials],
        "measure": first_words(worth_first(every_reading(design))),
        "meters": {step.key: [_meter(reading) for reading in step.readings]
                   for step in design.order.steps if step.readings}
        | {"led_trial": [_drawn(row.name, use) for trial in trials
                         for row, use in zip(trial.readings, trial_uses(trial), strict=True)]},
        "find": {"states": list(names.states), "resistors": plain(dict(names.resistors)),
                 "places": sorted(names.places)},
    }


# --- the order and its gates --------------------------------------------------------------------------------------


def _step_json(design: Design, step: Step) -> dict[str, Any]:
    same = ("number", "key", "title", "kind", "part", "undo", "wait_h", "sitting", "after_close", "photograph")
    return {
        **{name: getattr(step, name) for name in same}, "after": list(step.after), "says": sentence(step.title),
        "details": [sentence(text) for text in step.details], "items": compressed(step.items) if step.items else "",
        "cautions": [plain(caution) for caution in cautions_at(design, step)],
        "all_cautions": [caution_of(key).hazard for key in step.cautions],
        "readings": [reading_json(reading) for reading in step.readings],
    }


def _trial_json(trial: LedTrial) -> dict[str, Any]:
    """An LED without a data sheet: what it is put on, and its four readings."""
    return {"led": trial.led, "on": supply_words(trial), "readings": [reading_json(row) for row in trial.readings]}


def reading_json(reading: PredictedReading) -> dict[str, Any]:
    """A reading as it is foretold; `shown` is the unit that is typed, so many of which are one of the log's unit."""
    value = reading.reading
    in_kohm = reading.unit == "ohm" and value.low >= 1000
    return {
        "name": reading.name, "says": sentence(reading.name), "dial": reading.dial, "state": reading.state,
        "red": sentence(reading.red_probe), "black": sentence(reading.black_probe), "expect": expected(reading),
        "unit": reading.unit, "shown": "kohm" if in_kohm else reading.unit, "per_shown": 1000 if in_kohm else 1,
        "low": value.low, "high": value.high if math.isfinite(value.high) else None,
    }


@lru_cache(4096)
def _meter(reading: PredictedReading) -> dict[str, Any]:
    """The meter drawn for one reading, and what to mind; a tick in the log changes none of them."""
    return _drawn(reading.name, use_of_reading(reading))


@lru_cache(512)
def _drawn(title: str, use: MeterUse) -> dict[str, Any]:
    return {"title": title, "svg": to_svg(meter_drawing(use, key="meter", title=title), PAPER), "mind": list(mind(use))}


# --- what to cut --------------------------------------------------------------------------------------------------


def _leads(design: Design) -> list[dict[str, Any]]:
    numbers = lamp_numbers(design)
    return [_lead(design, lead, numbers) for lead in design.loom.leads]


def _lead(design: Design, lead: Lead, numbers: dict[str, int]) -> dict[str, Any]:
    ends = f"{end_words(design, lead.start, numbers)} to {end_words(design, lead.end, numbers)}"
    return {"piece": f"lead {lead.name}", "kind": "lead", "label": lead.name, "cut_mm": lead.cut_mm,
            "of": f"{lead.wire}, {lead.colour}", "ends": ends}


def _tails(design: Design) -> list[dict[str, Any]]:
    return [_tail(tail) for tail in design.loom.tails]


def _tail(tail: Tail) -> dict[str, Any]:
    return {"piece": f"tail {tail.name}", "kind": "tail", "label": tail.name, "cut_mm": tail.cut_mm,
            "of": f"fibre {tail.fibre_mm:g} mm", "ends": f"{tail.emitter} to {tail.lamp}"}


def _tubes(design: Design) -> list[dict[str, Any]]:
    return [
        {"piece": tube_name(over, sleeve), "kind": "tube", "label": over, "cut_mm": sleeve.cut_mm, "of": sleeve.tube,
         "ends": sleeve.name if sleeve.where == over else f"{sleeve.name}, {sleeve.where}"}
        for over, sleeve in design.loom.tubes
    ]


# --- lamps and drawings -------------------------------------------------------------------------------------------


def _lamps(design: Design) -> list[dict[str, Any]]:
    numbers = lamp_numbers(design)
    lamps = sorted(design.lamps, key=lambda lamp: numbers[lamp.name])
    return [
        {"number": numbers[lamp.name], "name": lamp.name, "part": lamp.spot.part if lamp.spot else None,
         "at_mm": [lamp.spot.x_mm, lamp.spot.y_mm] if lamp.spot else None, "colour": lamp.colour.name,
         "letter": letter(lamp.colour), "rgb": swatch((lamp.colour.x, lamp.colour.y)), "states": list(lamp.states),
         "rhythm": lamp.rhythm, "dark": lamp.dark, "drill": source.drill, "hole_mm": source.hole_mm,
         "made_by": made_by(source)}
        for lamp in lamps for source in (design.source(lamp.name),)
    ]


def _drawings(design: Design) -> list[tuple[str, Drawing]]:
    """The loom of each part: its leads, and its lamps with their fibres."""
    found: list[tuple[str, Drawing]] = []
    for part in design.plan.parts:
        paper = OnPaper(part_scale(part))
        if leads_on(design, part.name):
            found.append((part.name, lead_drawing(design, part, paper)))
        found.append((part.name, lamp_drawing(design, part, paper)))
    return found


def _drawing_json(drawing: Drawing, part: str) -> dict[str, Any]:
    return {"part": part, "title": drawing.title, "caption": drawing.caption, "width_mm": drawing.width_mm,
            "svg": to_svg(drawing, PAPER)}
