"""A lamp that takes its brightness from one that is not built."""

from __future__ import annotations

from rushlight.findings._lights import mcd
from rushlight.findings._words import Entry, entries, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    built = {lamp.group for lamp in design.lamps}
    return tuple(
        _trouble(design, entry, like) for entry in entries(design)
        if (like := entry.brightness.like) is not None and like not in built
    )


def _trouble(design: Design, entry: Entry, like: str) -> Trouble:
    wanted = [aim.wanted_cd * aim.seen_share for aim in design.aims if design.lamp(aim.lamp).group == entry.name]
    instead = f" ({mcd(wanted[0])})" if wanted else ""
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name),
        says=f"'{entry.name}' takes its brightness from '{like}', which {_why_not(design, like)}; it is aimed to be "
             f"plainly seen in a {design.plan.subject.viewing_room} instead{instead}.",
        cure=f"Name a lamp that is built, or say how bright '{entry.name}' should be (plan file: "
             "intensity_mcd or seen_in).",
    )


def _why_not(design: Design, like: str) -> str:
    plan = design.plan
    written: tuple[Entry, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    left_out = any(row.name == like and row.worth == "left out" for row in written)
    return "is left out" if left_out else f"is not in the version '{plan.version}'"


RULE = Rule(
    key="plan.like-not-built",
    grade=Grade.DOUBTFUL,
    title="As bright as a lamp that is not built",
    unit="",
    why="What it was to be measured by is missing, so its brightness is a guess that nobody made.",
    cure="Name a lamp that is built.",
    source="the plan's own wish",
    look=_look,
)
