"""Edits of a plan on disk that keep the user's own layout and comments."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from rushlight.errors import UnknownName
from rushlight.files._paths import plan_path
from rushlight.files.plan_write import append_lamps, write_text
from rushlight.files.plan_yaml import read_plan
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Lamp, Plan
from rushlight.model.schema import Kind, keys_of


def add_lamps(
    folder: Path, entries: Sequence[Mapping[str, object]], drawer: Drawer, *, now: datetime | None = None
) -> tuple[str, ...]:
    """Put lamps into the plan in a folder, as one new revision.

    Parameters
    ----------
    folder : Path
        The plan's folder, or its plan.yaml.
    entries : sequence of mappings
        Plain values by plan key (lists for tuples, mappings for nested items). A state may be called by the plan's
        own name or by the name that the plan's state has in the rule tables.
    drawer : Drawer
        What the plan is read with.
    now : datetime or None
        Time of the revision; None: the clock's.
    Returns
    -------
    tuple of str
        Names of the lamps that were added. A lamp of the rule that the plan holds already, under whatever name, is
        left as it is, so many as it holds; one whose name is taken gets a number.
    Raises
    ------
    DocumentProblem
        If the plan, or the plan with these lamps, has problems; nothing is written then.
    StaleRevision
        If plan.yaml changed meanwhile.
    """
    read = read_plan(folder, drawer)
    lamps = _new_lamps(read.plan, entries)
    if lamps:
        text = append_lamps(read.text, lamps, drawer)
        write_text(plan_path(folder).parent, text, drawer=drawer, expected_revision=read.revision_checksum,
                   what=f"{len(lamps)} lamps added", now=now)
    return tuple(lamp.name for lamp in lamps)


def _new_lamps(plan: Plan, entries: Sequence[Mapping[str, object]]) -> tuple[Lamp, ...]:
    held = {(lamp.name, lamp.rule) for lamp in plan.lamps} | {(row.name, row.rule) for row in plan.rows}
    taken = {name for name, _ in held} | {strip.name for strip in plan.strips}
    wanted = [_with_plan_states(lamp_of(entry), plan) for entry in entries]
    named = {(lamp.name, lamp.rule) for lamp in wanted} & held
    spare = Counter(lamp.rule for lamp in plan.lamps if lamp.rule and (lamp.name, lamp.rule) not in named)
    rows = {row.rule for row in plan.rows}
    lamps = []
    for lamp in wanted:
        if (lamp.name, lamp.rule) in held or (lamp.rule and lamp.rule in rows):
            continue
        if lamp.rule and spare[lamp.rule] > 0:
            spare[lamp.rule] -= 1
            continue
        free = _free_name(lamp.name, taken)
        taken.add(free)
        lamps.append(dataclasses.replace(lamp, name=free))
    return tuple(lamps)


def _free_name(name: str, taken: set[str]) -> str:
    number = 2
    free = name
    while free in taken:
        free, number = f"{name} ({number})", number + 1
    return free


def _with_plan_states(lamp: Lamp, plan: Plan) -> Lamp:
    """States by the plan's own names; a name that the plan does not know stays, and becomes a problem."""
    by_rule = {state.rule.casefold(): state.name for state in plan.states if state.rule}
    own = {state.name for state in plan.states}
    states = (state if state in own else by_rule.get(state.casefold(), state) for state in lamp.states)
    return dataclasses.replace(lamp, states=tuple(dict.fromkeys(states)))


def lamp_of(entry: Mapping[str, object]) -> Lamp:
    """The lamp that plain values give; what is wrong with them, the reader says later."""
    lamp = _item(Lamp, entry)
    assert isinstance(lamp, Lamp)
    return lamp


def _item(item: type, entry: Mapping[str, object]) -> Any:
    kinds = {field.name: field.metadata["kind"] for field in keys_of(item)}
    for key in entry:
        if key not in kinds:
            raise UnknownName("key", key, kinds)
    return item(**{key: plain_value(kinds[key], value) for key, value in entry.items()})


def plain_value(kind: Kind, value: Any) -> Any:
    """A value of a key from plain data: lists become tuples, mappings the item that the key holds."""
    if kind.item is not None and isinstance(value, Mapping):
        return _item(kind.item, value)
    if isinstance(value, list | tuple):
        return tuple(plain_value(kind, inner) for inner in value)
    return value
