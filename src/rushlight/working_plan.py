"""A plan at work: read, changed item by item, saved with every change, taken back and done again.

Values only: each change returns a new `WorkingPlan`; the disk is the truth, its checksum the revision.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight.errors import Clash, OutOfRange, StaleRevision, UnknownName
from rushlight.files import history
from rushlight.files._paths import checksum, plan_home, plan_path
from rushlight.files.drawer_csv import own_folder, read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.pictures import picture_files, picture_problems
from rushlight.files.plan_edit import plain_value
from rushlight.files.plan_patch import changed_document
from rushlight.files.plan_yaml import PLAN_FILE, Document, ReadPlan, parse_document, parse_plan, read_plan
from rushlight.model.change import Change
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.model.problem import Problem
from rushlight.model.schema import keys_of

if TYPE_CHECKING:
    from rushlight.model.design import PlacedLamp, Source
    from rushlight.model.design_loom import Circuit

LISTS = ("lamps", "rows", "strips", "states", "parts", "crossings", "spaces", "versions", "references", "as_built")
"""Lists of the plan whose items have names and can be changed one by one."""

SINGLES = ("subject", "supply", "controller", "camera")
"""Items of the plan that stand alone."""

TOP = "plan"
"""The kind of a change that sets keys of the plan itself."""

TOP_KEYS = ("version", "evening", "rhythms", "practice", "drawer", "measured", "at_hand", "pinned", "note")
"""Those keys: the version, and lists whose items have no names."""

TRIES = 3

Touched = tuple[str, str, str, str]
"""Kind, name, and key or list with the name of an item in it."""


@dataclass(frozen=True, slots=True)
class WorkingPlan:
    """A plan as it stands on the disk, with what can be taken back."""

    folder: Path
    read: ReadPlan
    parts: Drawer
    steps: history.Steps

    @property
    def revision(self) -> str:
        """Checksum of the document."""
        return self.read.revision_checksum

    @property
    def plan(self) -> Plan:
        """What the document says."""
        return self.read.plan


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What is known at once, before the slow stages: lamps in their places, what makes them, their circuits."""

    plan: Plan
    drawer: Drawer
    lamps: tuple[PlacedLamp, ...]
    first_sources: tuple[Source, ...]
    """As chosen lamp by lamp, before lamps that share an LED were settled."""
    sources: tuple[Source, ...]
    circuits: tuple[Circuit, ...]


def start_work(folder: Path) -> WorkingPlan:
    """Read a plan to work on; what stands there becomes the history's newest revision if it is not yet.

    Raises
    ------
    DocumentProblem
        With every problem of the document.
    """
    parts = read_drawer(own_folder())
    home = plan_home(folder)
    return _read(home, parts)


def read_again(working: WorkingPlan) -> WorkingPlan:
    """The plan as it stands now; the same value if the document did not change.

    Raises
    ------
    DocumentProblem
        With every problem of the changed document.
    """
    return working if on_disk(working.folder) == working.revision else _read(working.folder, working.parts)


def on_disk(folder: Path) -> str | None:
    """Checksum of the document as it stands; None if there is none."""
    try:
        return checksum(plan_path(folder).read_bytes())
    except FileNotFoundError:
        return None


def look_at_pictures(working: WorkingPlan) -> WorkingPlan:
    """The plan with what is wrong with its pictures now; the same value if nothing came or went."""
    missing = {problem.file for problem in working.read.pictures if problem.found == "no such file"}
    files = picture_files(working.plan)
    if all((working.folder / file).is_file() == (file not in missing) for file in files):
        return working
    read = dataclasses.replace(working.read, pictures=picture_problems(working.plan, working.folder))
    return dataclasses.replace(working, read=read)


def make_changes(working: WorkingPlan, changes: Sequence[Change], *, seen: str, what: str) -> WorkingPlan:
    """Change items and save, as one step.

    Parameters
    ----------
    working : WorkingPlan
        The plan as last read; read again if the disk is newer.
    changes : sequence of Change
        Done in order.
    seen : str
        Revision that the changes were made on; an older one is taken if none of its items changed since.
    what : str
        What is done, for the history.
    Returns
    -------
    WorkingPlan
        As saved.
    Raises
    ------
    Clash
        If an item was changed elsewhere since `seen`; nothing is written.
    UnknownName, OutOfRange
        If an item, key or kind is not known, or a value is of the wrong kind.
    DocumentProblem
        If the changed plan has problems; nothing is written.
    """
    for _ in range(TRIES):
        working = read_again(working)
        if seen != working.revision:
            _refuse_clash(working, changes, seen)
        made = _changed_document(working, changed(working.plan, changes))
        try:
            revision = history.save(working.folder, made.text.encode(), expected_revision=working.revision, what=what)
        except StaleRevision:
            continue
        read = ReadPlan(made.plan, revision, made.text, _pictures(working, made.plan), made)
        return WorkingPlan(working.folder, read, working.parts, history.steps(working.folder))
    raise StaleRevision(str(plan_path(working.folder)))


def take_back(working: WorkingPlan) -> WorkingPlan:
    """Undo the last step; errors as for `history.undo`."""
    working = read_again(working)
    history.undo(working.folder, expected_revision=working.revision)
    return _read(working.folder, working.parts)


def do_again(working: WorkingPlan) -> WorkingPlan:
    """Redo the last undone step; errors as for `history.redo`."""
    working = read_again(working)
    history.redo(working.folder, expected_revision=working.revision)
    return _read(working.folder, working.parts)


def first_look(working: WorkingPlan, before: FirstLook | None = None) -> FirstLook:
    """Lamps, sources and circuits of a plan: the stages that answer at once.

    Parameters
    ----------
    working : WorkingPlan
        The plan.
    before : FirstLook or None
        The look before the last edit: what the edit did not touch is taken from it, as the very same values.
    Returns
    -------
    FirstLook
        The same, with and without the one before.
    """
    from rushlight.stages.aim import settled_sources
    from rushlight.stages.circuits import find_circuits
    from rushlight.stages.lamps import place_again, place_lamps
    from rushlight.stages.sources import choose_again, choose_sources

    plan = working.plan
    if before is None:
        drawer = own_values(working.parts, plan)
        lamps = place_lamps(plan)
        first = choose_sources(plan, drawer, lamps)
    else:
        same = all(getattr(plan, key) is getattr(before.plan, key) for key in ("drawer", "practice", "measured"))
        drawer = before.drawer if same else own_values(working.parts, plan)
        lamps = place_again(plan, before.plan, before.lamps)
        first = choose_again(plan, drawer, lamps, before=before.plan, chosen=_still_chosen(before, lamps))
    circuits = find_circuits(lamps)
    settled = settled_sources(plan, drawer, lamps, sources=first, circuits=circuits)
    if before is not None:
        settled = _same_values(settled, before.sources)
    return FirstLook(plan, drawer, lamps, first, settled, circuits)


def _still_chosen(before: FirstLook, lamps: tuple[PlacedLamp, ...]) -> dict[str, Source]:
    was = {lamp.name: (lamp, source) for lamp, source in zip(before.lamps, before.first_sources, strict=True)}
    return {lamp.name: was[lamp.name][1] for lamp in lamps if lamp.name in was and was[lamp.name][0] is lamp}


def _same_values(now: tuple[Source, ...], before: tuple[Source, ...]) -> tuple[Source, ...]:
    """Equal sources as the values that they were, so that what changed is found at a glance."""
    was = {source.lamp: source for source in before}
    return tuple(old if (old := was.get(source.lamp)) == source else source for source in now)


def changed(plan: Plan, changes: Sequence[Change]) -> Plan:
    """The plan with changes made; what is wrong with their values beyond their kind, the reader says.

    Raises
    ------
    UnknownName
        If a kind, an item or a key is not known.
    OutOfRange
        If a new item has the name of another.
    """
    for change in changes:
        if change.kind == TOP:
            plan = _changed_top(plan, change)
        else:
            plan = _changed_single(plan, change) if change.kind in SINGLES else _changed_list(plan, change)
    return plan


def _read(folder: Path, parts: Drawer) -> WorkingPlan:
    read = read_plan(folder, parts)
    history.notice(folder)
    return WorkingPlan(folder, read, parts, history.steps(folder))


def _pictures(working: WorkingPlan, plan: Plan) -> tuple[Problem, ...]:
    """Faults of the pictures; not looked for again where no picture was changed."""
    old = working.plan
    if (plan.parts, plan.references, plan.as_built) == (old.parts, old.references, old.as_built):
        return working.read.pictures
    return picture_problems(plan, working.folder)


def _changed_document(working: WorkingPlan, plan: Plan) -> Document:
    held = working.read.document or parse_document(working.read.text, PLAN_FILE, working.parts)
    try:
        return changed_document(held, plan, working.parts)
    except (TypeError, ValueError, AttributeError) as error:
        raise OutOfRange("a changed value", str(error)[:200], "a value of the kind that its key holds") from error


def _changed_single(plan: Plan, change: Change) -> Plan:
    kind, was = _item_kind(change.kind), getattr(plan, change.kind)
    held = None if change.action == "remove" else _with_values(kind, was, change)
    return _with(plan, change.kind, held)


def _changed_top(plan: Plan, change: Change) -> Plan:
    unknown = next((key for key in change.values if key not in TOP_KEYS), None)
    if unknown is not None:
        raise UnknownName("key of the plan", unknown, TOP_KEYS)
    return _with_values(Plan, plan, change)  # type: ignore[no-any-return]


def _with(plan: Plan, key: str, value: Any) -> Plan:
    values: dict[str, Any] = {key: value}
    return dataclasses.replace(plan, **values)


def _changed_list(plan: Plan, change: Change) -> Plan:
    if change.kind not in LISTS:
        raise UnknownName("kind of item", change.kind, (*LISTS, *SINGLES, TOP))
    return _with(plan, change.kind, _changed_items(getattr(plan, change.kind), _item_kind(change.kind), change))


def _changed_items(held: tuple[Any, ...], kind: type, change: Change) -> tuple[Any, ...]:
    """A list of named items with one of them changed, put in or taken out."""
    items, names = list(held), [item.name for item in held]
    if change.action == "add" and not change.inner_list:
        if change.name in names:
            raise OutOfRange("name", repr(change.name), f"a name that is not yet among the {change.kind}")
        place = names.index(change.before) if change.before in names else len(names)
        items.insert(place, _added(kind, change))
        return tuple(items)
    if change.name not in names:
        raise UnknownName(change.kind.removesuffix("s"), change.name, names)
    place = names.index(change.name)
    if change.inner_list:
        items[place] = _changed_inside(items[place], change)
    elif change.action == "remove":
        del items[place]
    else:
        items[place] = _with_values(kind, items[place], change)
    return tuple(items)


def _changed_inside(item: Any, change: Change) -> Any:
    """The item with one item of its own list changed."""
    lists = {
        field.name: field.metadata["kind"].item for field in keys_of(type(item))
        if field.metadata["kind"].name == "items" and "name" in field.metadata["kind"].item.__dataclass_fields__
    }
    if change.inner_list not in lists:
        raise UnknownName(f"list of {change.kind}", change.inner_list, lists)
    inner = Change(change.action, change.inner_list, change.inner, change.values, change.before)
    held = getattr(item, change.inner_list)
    return dataclasses.replace(item, **{change.inner_list: _changed_items(held, lists[change.inner_list], inner)})


def _added(kind: type, change: Change) -> Any:
    """A new item; an entry of the log has its name from its step and part."""
    own = {"name": change.name} if any(field.name == "name" for field in keys_of(kind)) else {}
    return _with_values(kind, None, Change("add", change.kind, change.name, {**own, **change.values}))


def _item_kind(kind: str) -> type:
    field = next(field for field in keys_of(Plan) if field.name == kind)
    item: type = field.metadata["kind"].item
    return item


def _with_values(kind: type, held: Any, change: Change) -> Any:
    """The item with new values; a value of None is the key's own default."""
    fields = {field.name: field for field in keys_of(kind)}
    for key in change.values:
        if key not in fields:
            raise UnknownName(f"key of {change.kind}", key, fields)
    try:
        values = {
            key: fields[key].default if value is None else plain_value(fields[key].metadata["kind"], value)
            for key, value in change.values.items()
        }
        if any(value is dataclasses.MISSING for value in values.values()):
            raise TypeError("a key that cannot be left out")
        return kind(**values) if held is None else dataclasses.replace(held, **values)
    except (TypeError, ValueError, AttributeError) as error:
        kinds = "values of the kinds that its keys hold"
        raise OutOfRange(f"{change.kind} '{change.name}'", str(error)[:200], kinds) from error


def _refuse_clash(working: WorkingPlan, changes: Sequence[Change], seen: str) -> None:
    """Changes made on an older revision stand only if what they touch is still as it was then."""
    text = history.text_of(working.folder, seen)
    if text is None:
        raise Clash(["the plan"])
    was = parse_plan(text, plan_path(working.folder).name, working.parts)
    touched = {place for change in changes if change.action != "add" or change.inner_list for place in _touched(change)}
    now = working.plan
    differing = [place for place in sorted(touched) if _found(was, place) != _found(now, place)]
    if differing:
        raise Clash(list(dict.fromkeys(_named(place) for place in differing)))


def _touched(change: Change) -> list[Touched]:
    """What a change touches: one item; of a part or the plan, which hold much, one item in it or the keys set."""
    if change.inner_list:
        return [(change.kind, change.name, change.inner_list, change.inner)]
    if change.kind == TOP or (change.kind == "parts" and change.action == "set"):
        return [(change.kind, change.name, key, "") for key in change.values]
    return [(change.kind, change.name, "", "")]


def _found(plan: Plan, place: Touched) -> Any:
    """What stands at a place; None where nothing does."""
    kind, name, key, inner = place
    if kind == TOP:
        return getattr(plan, key)
    item = getattr(plan, kind) if kind in SINGLES else _named_item(getattr(plan, kind, ()), name)
    if item is None or not key:
        return item
    return _named_item(getattr(item, key, ()), inner) if inner else getattr(item, key, None)


def _named_item(items: Any, name: str) -> Any:
    return next((item for item in items if item.name == name), None)


def _named(place: Touched) -> str:
    kind, name, _, inner = place
    return f"{inner} on {name}" if inner else name or kind
