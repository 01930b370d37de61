"""Names and what refers to them: unique names, known references, no circle of lamps each as bright as the next."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from rushlight.files._drafts import Draft
from rushlight.files._faults import Faults, Place, shown
from rushlight.files._nodes import Sequence
from rushlight.files._words import kind_in_words
from rushlight.model.drawer import Drawer
from rushlight.model.schema import Kind, keys_of

Names = dict[str, dict[str, Draft]]

_TOP = ("states", "parts", "crossings", "spaces", "versions", "references")
_NESTED = (("parts", "openings"), ("parts", "keep_outs"), ("parts", "obstacles"), ("parts", "poses"),
           ("references", "marks"))
_LAMPS = ("lamps", "rows", "strips")
_NUMBERED = re.compile(r"(.+) (m?)(\d{1,6})")


def check_references(plan: Draft, drawer: Drawer, faults: Faults) -> Names:
    """Check names and references of a whole plan; the names by list are returned for other checks."""
    names = _names(plan, faults)
    known: dict[str, Iterable[str] | None] = {target: _unless_failed(plan, target, names) for target in names}
    for target in ("leds", "strips", "cells", "walls", "coats", "diffusers"):
        known[f"drawer.{target}"] = {row.name: row for row in getattr(drawer, target)}
    for draft in walk(plan):
        _check_item(draft, known, faults)
    _check_numbered(names["lamps"], faults)
    _check_circles(names["lamps"], faults)
    return names


def _unless_failed(plan: Draft, target: str, names: Names) -> Iterable[str] | None:
    """Names of a list; None where the list itself is wrong, so that nothing is known of its names."""
    lists = {"lamps": _LAMPS, "bays": ("parts",)}.get(target, (target,))
    return None if plan.failed.intersection(lists) else names[target]


def walk(draft: Draft) -> Iterator[Draft]:
    """The item and all items inside it, in order."""
    yield draft
    for value in draft.values.values():
        if isinstance(value, Draft):
            yield from walk(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Draft):
            for entry in value:
                yield from walk(entry)


def _names(plan: Draft, faults: Faults) -> Names:
    names: Names = {target: {} for target in (*_TOP, "lamps", "bays")}
    for target in _TOP:
        _register(names[target], plan.items(target), faults)
    for target in _LAMPS:
        _register(names["lamps"], plan.items(target), faults)
    for part in plan.items("parts"):
        _register(names["bays"], part.items("bays"), faults)
    for outer, inner in _NESTED:
        for item in plan.items(outer):
            _register({}, item.items(inner), faults)
    return names


def _register(names: dict[str, Draft], drafts: Iterable[Draft], faults: Faults) -> None:
    for draft in drafts:
        if draft.name is None:
            continue
        first = names.setdefault(draft.name, draft)
        if first is not draft:
            faults.add(draft.place("name"), draft.label,
                       f"the name stands already in line {first.place('name').line} ({first.label})",
                       "a name of its own")


def _check_item(draft: Draft, known: dict[str, Iterable[str] | None], faults: Faults) -> None:
    for key, kind in _reference_keys(draft.kind):
        value = draft.get(key)
        words = (value,) if isinstance(value, str) else value or ()
        there = known[kind.target]
        for place, word in enumerate(words):
            if there is not None and word not in there:
                one = Kind("ref", target=kind.target)
                faults.add(_place(draft, key, place), draft.label, f"{key} {shown(word)} is not known",
                           kind_in_words(one), word=word, known=there)


@cache
def _reference_keys(item: type) -> tuple[tuple[str, Kind], ...]:
    kinds = ((field.name, field.metadata["kind"]) for field in keys_of(item))
    return tuple((key, kind) for key, kind in kinds if kind.name in ("ref", "refs"))


def _place(draft: Draft, key: str, index: int) -> Place:
    """Where one word of a list stands; the value itself where it is not a list."""
    return draft.place(key, index) if isinstance(draft.place(key), Sequence) else draft.place(key)


def _check_numbered(lamps: dict[str, Draft], faults: Faults) -> None:
    """A lamp may not be called like a lamp of a row ('name 3'), nor like an opening lit by a strip."""
    for name, draft in lamps.items():
        match = _NUMBERED.fullmatch(name)
        row = lamps.get(match[1]) if match else None
        strip = lamps.get(name.partition(": ")[0])
        for other, kind in ((row, "Row"), (strip, "Strip")):
            if other is not None and other is not draft and other.kind.__name__ == kind:
                faults.add(draft.place("name"), draft.label, f"the name is that of a lamp of {other.label}",
                           "a name of its own")


def _check_circles(lamps: dict[str, Draft], faults: Faults) -> None:
    """Follow 'like' from lamp to lamp; each lamp is visited once."""
    like = {name: _like(draft) for name, draft in lamps.items()}
    done: set[str] = set()
    for start in like:
        path: dict[str, None] = {}
        here: str | None = start
        while here in like and here not in done and here not in path:
            path[here] = None
            here = like[here]
        if here is not None and here in path:
            _name_circle(lamps[here], list(path)[list(path).index(here):], faults)
        done.update(path)


def _like(draft: Draft) -> str | None:
    brightness = draft.get("brightness")
    return brightness.get("like") if isinstance(brightness, Draft) else None


def _name_circle(draft: Draft, circle: list[str], faults: Faults) -> None:
    told = [*circle[:5], "..."] if len(circle) > 6 else circle
    way = " -> ".join([*told, circle[0]])
    place = draft.get("brightness").place("like")
    faults.add(place, draft.label, f"brightness goes in a circle: {way}", "a lamp whose brightness is given otherwise")
