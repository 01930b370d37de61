"""Lamps of several versions built together, because none is chosen."""

from __future__ import annotations

from rushlight.findings._words import Entry, entries, listed, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    plan = design.plan
    every = {version.name for version in plan.versions}
    if not every or plan.version is not None:
        return ()
    some = [entry for entry in entries(design) if entry.versions and set(entry.versions) != every]
    return (_trouble(design, some),) if some else ()


def _trouble(design: Design, some: list[Entry]) -> Trouble:
    names = listed([f"'{entry.name}'" for entry in some])
    versions = [f"'{version.name}'" for version in design.plan.versions]
    one = len(some) == 1
    return Trouble(
        item=some[0].name, spot=spot_of(design, some[0].name),
        says=f"No version is chosen, so lamps of all versions are built together; {names} "
             f"{'belongs' if one else 'belong'} to some of them only.",
        cure=f"Write version: and one of {listed(versions, most=5)}, or take the versions off "
             f"{'this lamp' if one else 'these lamps'}.",
    )


RULE = Rule(
    key="plan.version-unset",
    grade=Grade.DOUBTFUL,
    title="No version chosen",
    unit="",
    why="The subject never carried the lamps of all its versions at one time, and each is a hole in the kit.",
    cure="Choose the version that you build.",
    source="the plan's versions",
    look=_look,
)
