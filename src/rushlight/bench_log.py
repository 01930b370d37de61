"""What is done at the bench, entered into a plan's log: ticks, readings, lengths as cut, photographs.

Acts may come late, twice, and from several devices: each is worked out on the log as it stands, so that a second
tick changes nothing, and two readings of one thing that do not know of each other are both kept.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rushlight.errors import Clash, OutOfRange, RushlightError
from rushlight.model.change import Change
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Done, Look, Reading
from rushlight.working_plan import WorkingPlan, changed, make_changes, read_again

KINDS = ("tick", "untick", "read", "cut", "uncut", "photo", "look", "unlook", "mended")
HOW = ("done", "by eye")
TRIES = 3
LONGEST_WORD = 200


@dataclass(frozen=True, slots=True)
class Act:
    """One thing done at the bench.

    `step` is a step's key, or a piece's name ('lead A1'); `when` the local time 'YYYY-MM-DD HH:MM:SS'; `seen` the
    values of a reading that the device knew of when it was typed; `says` the step's title. A look has its state as
    `what`, and the lamps that were dark, dim, or lit though they should be dark.
    """

    kind: str
    step: str
    part: str | None = None
    when: str = ""
    by: str = ""
    how: str = "done"
    note: str = ""
    what: str = ""
    value: float | None = None
    seen: tuple[float, ...] = ()
    length_mm: float | None = None
    file: str = ""
    says: str = ""
    dark: tuple[str, ...] = ()
    dim: tuple[str, ...] = ()
    lit: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Taken:
    """The plan after an act, and why the act was refused; empty if it was not."""

    working: WorkingPlan
    refused: str


Needs = Mapping[tuple[str, str | None], Sequence[str]]
"""For each gate, by key and part, the names of the readings that it asks for."""


def take_act(working: WorkingPlan, act: Act, needs: Needs) -> Taken:
    """Enter one act as a step of the history; an act that is in the log already changes nothing.

    Parameters
    ----------
    working : WorkingPlan
        The plan as last read; read again if the disk is newer.
    act : Act
        What was done.
    needs : mapping
        Readings that each gate asks for, from the design.
    Returns
    -------
    Taken
        With a sentence where the act does not fit this build; nothing is written then.
    """
    try:
        for _ in range(TRIES):
            working = read_again(working)
            changes = changes_of(working.plan, act, needs)
            if changed(working.plan, changes) == working.plan:
                return Taken(working, "")
            try:
                return Taken(make_changes(working, changes, seen=working.revision, what=_what(act)), "")
            except Clash:
                continue
    except RushlightError as error:
        return Taken(working, str(error))
    return Taken(working, "The plan was changed elsewhere at the same instant; send it again.")


def changes_of(plan: Plan, act: Act, needs: Needs) -> tuple[Change, ...]:
    """What an act changes in a plan; nothing where the log holds it already.

    Raises
    ------
    OutOfRange
        If the act is of no known kind, or ticks a gate without its readings.
    """
    if act.kind not in KINDS:
        raise OutOfRange("act", repr(act.kind), ", ".join(KINDS))
    held = entry_of(plan.as_built, act)
    made = {"tick": _ticked, "untick": _unticked, "read": _read, "cut": _cut, "uncut": _gone, "photo": _photo,
            "look": _looked, "unlook": _unlooked, "mended": _gone}
    if act.kind == "tick":
        _refuse_unread(held, act, needs)
    after = made[act.kind](held, act)
    return _as_changes(plan, held, after)


def entry_of(log: Iterable[Done], act: Act) -> Done | None:
    """The entry that an act speaks of, whether the log calls its step by key or by title; the first of several."""
    names = {act.step.casefold(), act.says.casefold()} - {""}
    return next((row for row in log if row.step.casefold() in names and row.part == act.part), None)


def missing_readings(held: Done | None, wanted: Sequence[str]) -> tuple[str, ...]:
    """Names of the readings that a gate still lacks."""
    found = {row.what.casefold() for row in held.readings} if held else set()
    return tuple(name for name in wanted if name.casefold() not in found)


def _refuse_unread(held: Done | None, act: Act, needs: Needs) -> None:
    if act.how not in HOW:
        raise OutOfRange("how a step was done", repr(act.how), " or ".join(HOW))
    missing = missing_readings(held, needs.get((act.step, act.part), ()))
    if missing and act.how != "by eye":
        raise OutOfRange(f"gate '{act.says or act.step}'", f"{len(missing)} of its readings not there",
                         "every reading typed in, or 'passed by eye'")


# --- what an entry becomes ----------------------------------------------------------------------------------------


def _fresh(act: Act, how: str) -> Done:
    return Done(step=act.step, part=act.part, how=how)


def _ticked(held: Done | None, act: Act) -> Done:
    if held and held.how != "begun":
        return held
    row = held or _fresh(act, act.how)
    note = "; ".join(word for word in (row.note, act.note[:LONGEST_WORD]) if word)
    return dataclasses.replace(row, how=act.how, when=act.when or None, by=act.by or None, note=note,
                               sealed=act.step == "close")


def _unticked(held: Done | None, act: Act) -> Done | None:
    if held is None or held.how == "begun":
        return held
    empty = not (held.readings or held.looks or held.photo or held.note or held.used or held.length_mm)
    return None if empty else dataclasses.replace(held, how="begun", when=None, by=None, sealed=False)


def _read(held: Done | None, act: Act) -> Done | None:
    """A reading typed, mended or taken out; one that the device did not know of stays beside it."""
    row = held or _fresh(act, "begun")
    same = [old for old in row.readings if old.what.casefold() == act.what.casefold()]
    if act.value is not None and any(old.value == act.value for old in same) and len(same) == 1:
        return held
    kept = tuple(old for old in row.readings if old not in same or old.value not in act.seen)
    new = () if act.value is None else (_reading(act, act.value),)
    kept = tuple(old for old in kept if not (old in same and old.value == act.value))
    row = dataclasses.replace(row, readings=(*kept, *new))
    return None if row == _fresh(act, "begun") else row


def _reading(act: Act, value: float) -> Reading:
    return Reading(gate=act.step, what=act.what, value=value, when=act.when or None, by=act.by or None,
                   note=act.note[:LONGEST_WORD])


def _cut(held: Done | None, act: Act) -> Done:
    if held and held.how != "begun" and held.length_mm == act.length_mm:
        return held
    row = held or _fresh(act, "done")
    return dataclasses.replace(row, how="done", when=act.when or None, by=act.by or None, length_mm=act.length_mm)


def _gone(held: Done | None, act: Act) -> Done | None:
    """Nothing is left of the entry; the history still has it."""
    return None


def _looked(held: Done | None, act: Act) -> Done:
    """A look takes the place of the last one with the switch at the same state."""
    row = held or _fresh(act, "begun")
    same = [old for old in row.looks if old.state.casefold() == act.what.casefold()]
    told = (act.dark, act.dim, act.lit, act.when or None)
    if any((old.dark, old.dim, old.lit, old.when) == told for old in same):
        return row
    look = Look(state=act.what, dark=act.dark, dim=act.dim, lit=act.lit, when=act.when or None, by=act.by or None,
                note=act.note[:LONGEST_WORD])
    return dataclasses.replace(row, looks=(*(old for old in row.looks if old not in same), look))


def _unlooked(held: Done | None, act: Act) -> Done | None:
    if held is None:
        return None
    kept = tuple(old for old in held.looks if old.state.casefold() != act.what.casefold())
    row = dataclasses.replace(held, looks=kept)
    return None if row == _fresh(act, "begun") else row


def _photo(held: Done | None, act: Act) -> Done:
    return dataclasses.replace(held or _fresh(act, "begun"), photo=act.file)


# --- as changes of the plan ---------------------------------------------------------------------------------------


def _as_changes(plan: Plan, held: Done | None, after: Done | None) -> tuple[Change, ...]:
    """A step that is done now moves to its place by time; what else changed, changes where it stands."""
    if after == held:
        return ()
    gone = () if held is None else (Change("remove", "as_built", held.name, {}),)
    if after is None:
        return gone
    if held is not None and after.how in (held.how, "begun"):
        return (Change("set", "as_built", held.name, _values(after)),)
    later = next((row.name for row in plan.as_built if row is not held and _is_later(row, after)), None)
    return (*gone, Change("add", "as_built", after.name, _values(after), later))


def _is_later(row: Done, than: Done) -> bool:
    """Whether an entry was done later; only times in the log's own form are compared."""
    return bool(row.when and than.when and len(row.when) == len(than.when) and row.when > than.when)


def _values(row: Done) -> dict[str, Any]:
    return {field.name: getattr(row, field.name) for field in dataclasses.fields(row)}


def _what(act: Act) -> str:
    words = {"tick": "ticked" if act.how == "done" else "passed by eye", "untick": "no longer ticked", "cut": "cut",
             "uncut": "no longer cut", "photo": "photographed",
             "look": f"looked, {act.what}", "unlook": f"look taken out, {act.what}", "mended": "mended, begun anew",
             "read": f"{act.what} read" if act.value is not None else f"{act.what} no longer read"}
    by = f" ({act.by})" if act.by else ""
    return f"{act.says or act.step}: {words[act.kind]}{by}"[:120]
