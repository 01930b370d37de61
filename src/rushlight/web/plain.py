"""Engine values as plain data for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from functools import cache
from hashlib import sha256
from math import isfinite
from typing import TYPE_CHECKING, Any

from rushlight.errors import UnknownName
from rushlight.files.rectified import pixel_to_mm, shown_box
from rushlight.model.plan import Crossing, Lamp, Plan, Row, State, Strip, Subject
from rushlight.model.plan_bench import Camera, Controller, Supply
from rushlight.model.plan_part import Bay, Fold, Height, KeepOut, Obstacle, Opening, Part, Relief, StringLength
from rushlight.model.problem import Problem
from rushlight.model.schema import keys_of
from rushlight.sheets.hues import swatch
from rushlight.tables import rows
from rushlight.working_plan import FirstLook

if TYPE_CHECKING:
    from rushlight.model.design import Colour, PlacedLamp, Source


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
    "references", "as_built", "pinned", "note", "evening", "rhythms", "controller", "camera", "practice", "drawer",
    "measured", "at_hand",
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
        "keep_outs": [{**plain(row), "shape": plain(row.shape_mm)} for row in part.keep_outs],
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


DRAWN = ("walls", "coats", "diffusers", "cells")
"""Tables of the drawer that a form chooses rows from."""


def words_json() -> dict[str, Any]:
    """What each key of a plan item may hold and what it means, for the forms."""
    kinds = {"lamps": Lamp, "rows": Row, "strips": Strip, "subject": Subject, "supply": Supply, "states": State,
             "controller": Controller, "camera": Camera, "parts": Part, "openings": Opening, "keep_outs": KeepOut,
             "obstacles": Obstacle, "bays": Bay, "crossings": Crossing, "heights": Height, "strings": StringLength,
             "folds": Fold, "relief": Relief}
    return {
        "keys": {name: [key_json(field) for field in keys_of(kind)] for name, kind in kinds.items()},
        "colours": [row["name"] for row in rows("colour_names")],
        "drawer": {name: [row["name"] for row in rows(f"drawer_{name}")] for name in DRAWN},
    }


def key_json(field: Any) -> dict[str, Any]:
    """What one key of the plan may hold, for a form."""
    kind = field.metadata["kind"]
    low, high = (number if isfinite(number) else None for number in (kind.low, kind.high))
    return {"key": field.name, "kind": kind.name, "unit": kind.unit, "low": low, "high": high,
            "choices": list(kind.choices), "says": field.metadata["doc"], "target": kind.target,
            "must": field.default is MISSING,
            "usual": field.default if isinstance(field.default, int | float) else None}


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


# --- trouble ------------------------------------------------------------------------------------------------------


def problems_json(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """Problems of a document, each with its sentence."""
    return [{**plain(problem), "says": str(problem)} for problem in problems]


def nearest_of(error: Exception) -> str | None:
    """The known word that was perhaps meant."""
    return error.nearest if isinstance(error, UnknownName) else None
