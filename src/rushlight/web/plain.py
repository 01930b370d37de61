"""Engine values as plain data for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from functools import cache
from hashlib import sha256
from math import isfinite
from typing import Any

from rushlight.errors import UnknownName
from rushlight.files.rectified import pixel_to_mm, shown_box
from rushlight.model.change import Change, Edit
from rushlight.model.design import Colour, Design, PlacedLamp, Source
from rushlight.model.design_loom import Lead, Tail
from rushlight.model.finding import Finding
from rushlight.model.place import Leg
from rushlight.model.plan import Crossing, Lamp, Plan, Row, State, Strip, Subject
from rushlight.model.plan_bench import Supply
from rushlight.model.plan_part import Bay, Fold, Height, KeepOut, Opening, Part, Relief, StringLength
from rushlight.model.problem import Problem
from rushlight.model.schema import keys_of
from rushlight.sheets.amounts import run_words
from rushlight.sheets.part_marks import keep_out_shape
from rushlight.sheets.shown import dimmed, shown_levels, shown_rhythms, swatch
from rushlight.tables import rows
from rushlight.working_plan import FirstLook


def plain(value: Any) -> Any:
    """Dataclasses as objects, tuples as lists; a number that JSON cannot hold as null."""
    kind = type(value)
    if kind in (str, int, bool) or value is None:
        return value
    if kind is float:
        return value if isfinite(value) else None
    names = _field_names(kind)
    if names is not None:
        return {name: plain(getattr(value, name)) for name in names}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, tuple | list):
        return [plain(inner) for inner in value]
    if isinstance(value, float) and not isfinite(value):
        return None
    return value


_FIELDS: dict[type, tuple[str, ...] | None] = {}


def _field_names(kind: type) -> tuple[str, ...] | None:
    """Names of a dataclass's fields, looked up once; None for another kind."""
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple(field.name for field in fields(kind)) if is_dataclass(kind) else None
    return _FIELDS[kind]


# --- the plan -----------------------------------------------------------------------------------------------------


PLAN_KEYS = (
    "subject", "states", "versions", "version", "lamps", "rows", "strips", "crossings", "supply", "spaces",
    "references", "as_built", "pinned", "note",
)
"""Keys of the plan that the screens show as they are; parts come with their shapes besides."""


def plan_json(plan: Plan) -> dict[str, Any]:
    """What the screens show and change of a plan."""
    plain_keys = {name: plain(getattr(plan, name)) for name in PLAN_KEYS}
    return {**plain_keys, "parts": [part_json(part) for part in plan.parts]}


def part_json(part: Any) -> dict[str, Any]:
    """A part with the corners of its keep-outs and openings spelled out."""
    return {
        **plain(part),
        "keep_outs": [{**plain(row), "shape": plain(keep_out_shape(row))} for row in part.keep_outs],
        "openings": [{**plain(row), "shape": plain(row.shape_mm)} for row in part.openings],
        "laid": _laid_json(part),
    }


def _laid_json(part: Part) -> dict[str, Any] | None:
    """The box that a part's picture covers, and a word that changes with all that decides how it lies."""
    to_mm = pixel_to_mm(part.picture) if part.picture else None
    if part.picture is None or to_mm is None:
        return None
    box = shown_box(part)
    of = sha256(repr((part.picture.file, to_mm, box)).encode()).hexdigest()[:12]
    return {"box_mm": plain(box), "of": of}


def words_json() -> dict[str, Any]:
    """What each key of a plan item may hold and what it means, for the forms."""
    kinds = {"lamps": Lamp, "rows": Row, "strips": Strip, "subject": Subject, "supply": Supply, "states": State,
             "parts": Part, "openings": Opening, "keep_outs": KeepOut, "bays": Bay, "crossings": Crossing,
             "heights": Height, "strings": StringLength, "folds": Fold, "relief": Relief}
    return {
        "keys": {name: [_key_json(field) for field in keys_of(kind)] for name, kind in kinds.items()},
        "colours": [row["name"] for row in rows("colour_names")],
        "drawer": {name: [row["name"] for row in rows(f"drawer_{name}")] for name in ("walls", "coats", "diffusers")},
    }


def _key_json(field: Any) -> dict[str, Any]:
    kind = field.metadata["kind"]
    low, high = (number if isfinite(number) else None for number in (kind.low, kind.high))
    return {"key": field.name, "kind": kind.name, "unit": kind.unit, "low": low, "high": high,
            "choices": list(kind.choices), "says": field.metadata["doc"], "target": kind.target,
            "must": field.default is MISSING}


# --- what is known at once ----------------------------------------------------------------------------------------


def look_json(look: FirstLook) -> dict[str, Any]:
    """Every lamp in its place, with its hole, its colour and its circuit."""
    circuits = {lamp: circuit.name for circuit in look.circuits for lamp in circuit.lamps}
    sources = {source.lamp: source for source in look.sources}
    return {
        "lamps": [lamp_json(lamp, sources.get(lamp.name), circuits.get(lamp.name)) for lamp in look.lamps],
        "circuits": plain(look.circuits),
    }


def lamp_json(lamp: PlacedLamp, source: Source | None, circuit: str | None) -> dict[str, Any]:
    """A lamp in its place."""
    return {
        "name": lamp.name, "group": lamp.group, "made_of": lamp.made_of, "facing": lamp.facing,
        "part": lamp.spot.part if lamp.spot else None, "at_mm": plain(lamp.spot.at_mm) if lamp.spot else None,
        "colour": lamp.colour.name, "letter": letter(lamp.colour), "rgb": swatch((lamp.colour.x, lamp.colour.y)),
        "states": plain(lamp.states), "rhythm": lamp.rhythm, "dark": lamp.dark, "opening": lamp.opening,
        "seen_as": lamp.seen_as, "circuit": circuit, "kind": source.kind if source else None,
        "hole_mm": source.hole_mm if source else None, "drill": source.drill if source else None,
        "seen_mm": source.seen_mm if source else lamp.model_mm, "led": source.led if source else None,
        "why": source.why if source else "",
    }


@cache
def letter(colour: Colour) -> str:
    """The light list's letter: of a word of the colour's name, white for a temperature, else of the nearest hue."""
    letters = {row["colour"]: row["abbr"] for row in reversed(rows("aton_colours"))}
    found = next((letters[word] for word in reversed(colour.name.split()) if word in letters), None)
    if found or colour.dominant_nm is None:
        return found or "W"
    hues = [row for row in rows("colour_names") if row["dominant_nm"] and row["name"] in letters]
    near = min(hues, key=lambda row: abs(float(row["dominant_nm"]) - (colour.dominant_nm or 0.0)))
    return letters[near["name"]]


# --- the whole answer ---------------------------------------------------------------------------------------------


def answer_json(design: Design, findings: tuple[Finding, ...]) -> dict[str, Any]:
    """All that follows from the plan and is drawn or said on the screens."""
    from rushlight.findings.cures import cure_of  # the server itself needs none of the findings

    return {
        "findings": [finding_json(finding, cure_of(design, finding)) for finding in findings],
        "glow": glow_json(design),
        "loom": loom_json(design),
        "power": power_json(design),
        "rhythms": rhythms_json(design),
    }


def finding_json(finding: Finding, edit: Edit | None = None) -> dict[str, Any]:
    """A finding with its grade as a word, its place, and the edit that cures it."""
    spot = finding.spot
    same = ("key", "item", "number", "limit", "unit", "says", "why", "cure", "source")
    return {
        **{name: getattr(finding, name) for name in same},
        "grade": finding.grade.words, "rank": int(finding.grade),
        "part": spot.part if spot else None, "at_mm": plain(spot.at_mm) if spot else None,
        "edit": {"says": edit.says, "changes": [change_json(change) for change in edit.changes]} if edit else None,
    }


def change_json(change: Change) -> dict[str, Any]:
    """A change as the API takes it back."""
    return {"action": change.action, "kind": change.kind, "name": change.name, "values": plain(dict(change.values))}


def glow_json(design: Design) -> dict[str, Any]:
    """For each state the lamps that are lit: their screen colour and how bright they look beside each other."""
    levels = shown_levels(design)
    hues = {lamp.name: (lamp.colour.x, lamp.colour.y) for lamp in design.lamps}
    states: dict[str, dict[str, Any]] = {state.name: {} for state in design.plan.states}
    for row in design.light.lamps:
        level = levels[row.state][row.lamp]
        states[row.state][row.lamp] = {
            "level": level, "rgb": dimmed(hues[row.lamp], level), "mcd": 1000 * row.intensity_cd.typical,
            "low_mcd": 1000 * row.intensity_cd.low, "high_mcd": 1000 * row.intensity_cd.high,
        }
    return states


def loom_json(design: Design) -> dict[str, Any]:
    """Leads, fibres, joints and LEDs as they lie on the parts."""
    loom = design.loom
    wires = {row.name: row.outer_mm for row in design.drawer.wires}
    return {
        "leads": [_lead_json(lead, wires.get(lead.wire, 0.6)) for lead in loom.leads],
        "tails": [_tail_json(tail) for tail in loom.tails],
        "splices": [
            {"name": row.name, "net": row.net, "part": row.spot.part, "at_mm": plain(row.spot.at_mm),
             "length_mm": row.sleeve.cut_mm} for row in loom.splices
        ],
        "emitters": [
            {"name": row.name, "kind": row.kind, "part": row.spot.part, "at_mm": plain(row.spot.at_mm),
             "circuit": row.circuit, "lamps": plain(row.lamps), "strip_mm": plain(row.strip_points_mm)}
            for row in loom.emitters
        ],
        "unrouted": plain(loom.unrouted),
        "lead_mm": sum(lead.cut_mm for lead in loom.leads), "tail_mm": sum(tail.cut_mm for tail in loom.tails),
    }


def _lead_json(lead: Lead, outer_mm: float) -> dict[str, Any]:
    return {"name": lead.name, "net": lead.net, "role": lead.role, "circuit": lead.circuit, "outer_mm": outer_mm,
            "cut_mm": lead.cut_mm, "legs": _legs(lead.legs)}


def _tail_json(tail: Tail) -> dict[str, Any]:
    return {"name": tail.name, "lamp": tail.lamp, "emitter": tail.emitter, "fibre_mm": tail.fibre_mm,
            "cut_mm": tail.cut_mm, "legs": _legs(tail.legs)}


def _legs(legs: tuple[Leg, ...]) -> list[dict[str, Any]]:
    return [{"part": leg.part, "points": [[round(x, 2), round(y, 2)] for x, y in leg.points_mm]} for leg in legs]


def power_json(design: Design) -> dict[str, Any]:
    """Currents and run times of each state."""
    power = design.power
    return {
        "supply": power.supply.name if power.supply else None,
        "switch": {"name": power.switch.name, "part_row": power.switch.part_row,
                   "positions": plain(power.switch.positions)} if power.switch else None,
        "evening_h": plain(power.evening_h), "faults": plain(power.faults),
        "states": [
            {"state": row.state, "position": row.position, "supply_ma": 1000 * row.supply_a.typical,
             "mean_ma": 1000 * row.mean_a, "power_w": row.power_w, "lit": len(row.lit),
             "runs": run_words(row.run_time_h)}
            for row in power.states
        ],
    }


def rhythms_json(design: Design) -> dict[str, Any]:
    """Rhythms of the plan as a screen may show them: slowed where they would flash too often."""
    return {text: plain(rhythm) for text, rhythm in shown_rhythms(design).items()}


# --- trouble ------------------------------------------------------------------------------------------------------


def problems_json(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """Problems of a document, each with its sentence."""
    return [{**plain(problem), "says": str(problem)} for problem in problems]


def nearest_of(error: Exception) -> str | None:
    """The known word that was perhaps meant."""
    return error.nearest if isinstance(error, UnknownName) else None
