"""Cases of the findings: a tiny base plan, and edits to it that trip a kind of finding or stay just inside its limit.

A case file `tests/cases/findings/<key>.yaml` holds

    base: one-lamp                  # tests/cases/bases/one-lamp.yaml
    side: over                      # a number over its limit trips it (or: under); left out for a logical rule
    trips:                          # edits, in order: a path and the value that it gets
      - lamps/flame/at_mm: [99, 5]
      - lamps/+: {name: second, colour: red, states: [on]}
    inside:
      - lamps/flame/at_mm: [10, 5]

A path goes down by keys; in a list by number (from 0), by the item's name, or `+` for a new item at the end. The value
null takes the thing out. Names that hold a slash cannot be walked through; use the number.

What the engine never does by itself (a splice of five leads, a lamp lit in the wrong state) is guarded too: `spoils:`
holds edits of the same form to the design of `trips`, whose tuples go by number.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.design import Design
from rushlight.stages.pipeline import design

CASES = Path(__file__).parent / "cases"
FOLDER = CASES / "findings"
SIDES = ("trips", "inside")


@dataclass(frozen=True, slots=True)
class Case:
    """One kind's case: its key and the two plans, as plain values."""

    key: str
    side: str | None
    trips: Any
    inside: Any
    spoils: tuple[tuple[str, Any], ...]


def case_keys() -> tuple[str, ...]:
    """The keys that have a case file."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.yaml")))


def read_case(key: str) -> Case:
    """The case of one kind of finding."""
    raw = yaml.safe_load((FOLDER / f"{key}.yaml").read_text(encoding="utf-8"))
    unknown = set(raw) - {"base", "about", "side", "spoils", *SIDES}
    assert not unknown, f"{key}.yaml holds {unknown}"
    base = yaml.safe_load((CASES / "bases" / f"{raw['base']}.yaml").read_text(encoding="utf-8"))
    trips, inside = (edited(base, raw.get(side) or []) for side in SIDES)
    spoils = tuple(pair for edit in raw.get("spoils") or [] for pair in edit.items())
    return Case(key, raw.get("side"), trips, inside, spoils)


def edited(base: Any, edits: list[dict[str, Any]]) -> Any:
    """A copy of a plan with edits put in, one after the other."""
    plan = copy.deepcopy(base)
    for edit in edits:
        for path, value in edit.items():
            _put(plan, path.split("/"), value)
    return plan


def _put(plan: Any, path: list[str], value: Any) -> None:
    at = plan
    for step in path[:-1]:
        at = at[_index(at, step)] if isinstance(at, list) else at.setdefault(step, {})
    last = path[-1]
    if isinstance(at, list) and last == "+":
        at.append(value)
    elif isinstance(at, list) and value is None:
        del at[_index(at, last)]
    elif isinstance(at, list):
        at[_index(at, last)] = value
    elif value is None:
        at.pop(last, None)
    else:
        at[last] = value


def _index(items: list[Any], step: str) -> int:
    if step.lstrip("-").isdigit():
        return int(step)
    return next(k for k, item in enumerate(items) if isinstance(item, dict) and item.get("name") == step)


@cache
def _packaged() -> Any:
    return read_drawer(None)


def design_of(plan: Any) -> Design:
    """The design of a plan given as plain values, read as a document is."""
    drawer = _packaged()
    read = parse_plan(yaml.safe_dump(plan, allow_unicode=True, sort_keys=False), "plan.yaml", drawer)
    return design(read, own_values(drawer, read))


def spoiled(made: Design, spoils: tuple[tuple[str, Any], ...]) -> Design:
    """A design with values put in that no plan would give."""
    for path, value in spoils:
        made = _spoiled(made, path.split("/"), value)
    return made


def _spoiled(at: Any, path: list[str], value: Any) -> Any:
    if not path:
        return tuple(value) if isinstance(value, list) else value
    step, rest = path[0], path[1:]
    if isinstance(at, tuple):
        number = int(step)
        return (*at[:number], _spoiled(at[number], rest, value), *at[number + 1:])
    return replace(at, **{step: _spoiled(getattr(at, step), rest, value)})
