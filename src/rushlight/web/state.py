"""What the screens show at once, whole or as what changed since a revision that the page still holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rushlight.model.plan import Plan
from rushlight.web.plain import PLAN_KEYS, lamp_json, look_json, part_json, plain, plan_json
from rushlight.working_plan import FirstLook

if TYPE_CHECKING:
    from rushlight.model.design import PlacedLamp, Source

MOST_HELD = 6
"""So many revisions are kept to tell changes from; a page that holds an older one gets the whole."""

Pieces = list[Any]
"""A list told by what it was: [first, end] of the old list, or a new item."""

Row = tuple["PlacedLamp", "Source | None", "str | None"]


@dataclass(slots=True)
class Looks:
    """The last looks by revision, the newest last."""

    held: dict[str, FirstLook]

    def add(self, revision: str, look: FirstLook) -> None:
        """Keep one more, and let the oldest go."""
        self.held.pop(revision, None)
        self.held[revision] = look
        while len(self.held) > MOST_HELD:
            self.held.pop(next(iter(self.held)))

    @property
    def newest(self) -> FirstLook | None:
        """The last one that was kept."""
        return next(reversed(self.held.values()), None)


def shown_json(look: FirstLook, since: FirstLook | None) -> dict[str, Any]:
    """Plan and look: whole, or under `plan_now` and `look_now` what changed since another look.

    Parameters
    ----------
    look : FirstLook
        As it is now.
    since : FirstLook or None
        What the page holds; None: it gets the whole.
    Returns
    -------
    dict
        Lists in `plan_now` and `look_now` are pieces: [first, end] of the list that the page holds, or a new item;
        what did not change is left out.
    """
    if since is None:
        return {"plan": plan_json(look.plan), "look": look_json(look)}
    return {"plan_now": _plan_now(look.plan, since.plan), "look_now": _look_now(look, since)}


def _plan_now(plan: Plan, since: Plan) -> dict[str, Any]:
    now: dict[str, Any] = {}
    for key in (*PLAN_KEYS, "parts"):
        value, old = getattr(plan, key), getattr(since, key)
        if value is old:
            continue
        shown = part_json if key == "parts" else plain
        now[key] = pieces(value, old, shown) if isinstance(value, tuple) else plain(value)
    return now


def _look_now(look: FirstLook, since: FirstLook) -> dict[str, Any]:
    rows, old = look_rows(look), look_rows(since)
    now: dict[str, Any] = {}
    told = pieces(rows, old, lambda row: lamp_json(*row), _marked)
    if told != [[0, len(old)]]:
        now["lamps"] = told
    if look.circuits != since.circuits:
        now["circuits"] = plain(look.circuits)
    return now


def look_rows(look: FirstLook) -> list[Row]:
    """Every lamp with what makes it and the name of its circuit."""
    circuits = {lamp: circuit.name for circuit in look.circuits for lamp in circuit.lamps}
    sources = {source.lamp: source for source in look.sources}
    return [(lamp, sources.get(lamp.name), circuits.get(lamp.name)) for lamp in look.lamps]


def _marked(row: Row) -> Any:
    lamp, source, circuit = row
    return id(lamp), id(source), circuit


def pieces(
    now: Sequence[Any], old: Sequence[Any], shown: Callable[[Any], Any], mark: Callable[[Any], Any] = id
) -> Pieces:
    """A list told by the old one: the very same values stay, others are shown."""
    places = {mark(item): place for place, item in enumerate(old)}
    told: Pieces = []
    for item in now:
        place = places.get(mark(item))
        if place is None:
            told.append(shown(item))
        elif told and isinstance(told[-1], list) and told[-1][1] == place:
            told[-1][1] = place + 1
        else:
            told.append([place, place + 1])
    return told
