"""The log of what was done, as the findings read it: steps by their key, whether the log calls them by key or title."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.model.design_loom import Lead, Tail, tube_name
from rushlight.model.plan_bench import Done
from rushlight.tables import rows


@dataclass(frozen=True, slots=True)
class Logged:
    """One entry of the log and the key of its step; empty for a step of the modeller's own."""

    key: str
    done: Done


def log(design: Design) -> tuple[Logged, ...]:
    """What is done, in the order of the log; what is only begun is left out."""
    keys = step_keys()
    rows_done = (done for done in design.plan.as_built if done.how != "begun")
    return tuple(Logged(keys.get(_bare(done.step), ""), done) for done in rows_done)


def step_keys() -> dict[str, str]:
    """Keys of the steps by key and by title, in the form in which they are compared."""
    table = rows("build_steps")
    return {_bare(row["step"]): row["key"] for row in table} | {_bare(row["key"]): row["key"] for row in table}


def _bare(text: str) -> str:
    return " ".join(text.replace("_", " ").replace("-", " ").casefold().split())


def cut_piece(design: Design, done: Done) -> Lead | Tail | None:
    """The lead or tail that an entry names as its step: 'A1', 'lead A1', 'tail I1.2'."""
    pieces: tuple[Lead | Tail, ...] = (*design.loom.leads, *design.loom.tails)
    named = {piece.name: piece for piece in pieces}
    return named.get(done.step) or named.get(done.step.partition(" ")[2])


def is_tube(design: Design, done: Done) -> bool:
    """Whether an entry names a piece of tube of this build: 'tube SA1', 'tube I1 tip'."""
    return done.step in {tube_name(over, sleeve) for over, sleeve in design.loom.tubes}


def place_of_first(entries: tuple[Logged, ...], key: str, part: str | None = None) -> int | None:
    """At which place of the log a step comes first (on a part, where both are named); None if it is not there."""
    for place, entry in enumerate(entries):
        same_part = part is None or entry.done.part is None or entry.done.part == part
        if entry.key == key and same_part:
            return place
    return None


def closed_at(entries: tuple[Logged, ...]) -> int | None:
    """At which place of the log the model was closed for good."""
    return next((place for place, row in enumerate(entries) if row.done.sealed or row.key == "close"), None)
