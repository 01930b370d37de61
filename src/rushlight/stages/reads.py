"""What each stage reads of a plan: nothing else is handed to it, so that what it did not read cannot have mattered."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, TypeVar

from rushlight.model.plan import Evidence, Plan, Subject
from rushlight.model.plan_bench import Supply

T = TypeVar("T")

LAMPS = ("lamps", "rows", "strips")
PLACES = ("parts", "crossings", "supply")

READS: dict[str, tuple[str, ...]] = {
    "lamps": ("subject", "parts", "version", *LAMPS),
    "sources": ("subject", "parts", "spaces", "supply", "pinned", *LAMPS),
    "circuits": (),
    "aim": ("subject", "parts", "spaces", "supply", "pinned", *LAMPS),
    "loom": ("pinned", "strips", *PLACES),
    "strings": ("subject", "spaces", "states", "pinned", "at_hand", "rows", "rhythms", "controller", *PLACES),
    "power": (
        "subject", "spaces", "states", "pinned", "at_hand", "parts", "rows", "supply", "evening", "rhythms",
        "controller",
    ),
    "light": ("subject", "states", "parts", "spaces", "pinned", *LAMPS),
    "heat": ("subject", "parts", "spaces", "states", "evening", "supply"),
    "order": ("spaces", "at_hand", "rhythms", "controller", *PLACES),
    "shopping": ("pinned", "at_hand", "rhythms", "controller", *PLACES),
}
"""The plan's sections that each stage reads; a stage that reads another stops with a word on it."""

BRIGHTNESS = ("aim", "light")
"""Stages that read how bright the lamps should be."""


ROOM_ALONE = ("strings", "power")
"""Stages that read of the subject only how warm the room is."""

BAY_ALONE = ("loom",)
"""Stages that read of the supply only the bay that it sits in."""


@dataclass(frozen=True, slots=True)
class Unread:
    """Stands where a section was that the stage does not read."""

    stage: str
    section: str

    def __getattr__(self, name: str) -> Any:
        raise AttributeError(f"stage '{self.stage}' reads the plan's {self.section}: add it to READS")

    def __iter__(self) -> Any:
        raise AttributeError(f"stage '{self.stage}' reads the plan's {self.section}: add it to READS")

    def __bool__(self) -> bool:
        raise AttributeError(f"stage '{self.stage}' reads the plan's {self.section}: add it to READS")


def parts_read(plan: Plan) -> dict[str, Plan]:
    """For each stage the plan with what it reads alone.

    Parameters
    ----------
    plan : Plan
        The whole plan.
    Returns
    -------
    dict
        By stage. Notes are left out everywhere, evidence but for its counts, and brightness where it is not read.
    """
    bare = without_words(plan)
    return {stage: _only(bare, stage) for stage in READS}


def _only(plan: Plan, stage: str) -> Plan:
    kept: dict[str, Any] = {
        field.name: getattr(plan, field.name) if field.name in READS[stage] else Unread(stage, field.name)
        for field in fields(plan)
    }
    if stage not in BRIGHTNESS:
        unread: Any = Unread(stage, "brightness")
        for section in set(LAMPS) & set(READS[stage]):
            kept[section] = tuple(replace(row, brightness=unread) for row in kept[section])
    if stage in BAY_ALONE and plan.supply is not None:
        kept["supply"] = _bay_alone(plan.supply, stage)
    if stage in ROOM_ALONE:
        kept["subject"] = Subject(title="", scale=1.0, room_c=plan.subject.room_c)
    if stage == "strings":  # how long a state is shown on an evening does not change how long it could run
        kept.update(states=tuple(replace(state, minutes=None) for state in plan.states), evening=())
    return replace(plan, **kept)


def _bay_alone(supply: Supply, stage: str) -> Supply:
    unread: Any = Unread(stage, "supply beyond its bay")
    return replace(supply, **{row.name: unread for row in fields(supply) if row.name != "bay"})


def without_words(value: T) -> T:
    """A value of the plan, notes and evidence left out all through it; the counts of evidence stay."""
    if isinstance(value, tuple):
        if value and isinstance(value[0], (float, int, str)):
            return value
        return tuple(without_words(one) for one in value)  # type: ignore[return-value]
    if isinstance(value, Evidence):
        return replace(value, of=None, mark=None, certainty=1.0, note="")
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {field.name: _cleared(value, field.name) for field in fields(value)}
    return replace(value, **changed)


def _cleared(value: Any, name: str) -> Any:
    return "" if name == "note" else without_words(getattr(value, name))
