"""Windows that one LED in a room lights unlike each other: thin sheets behind the brighter ones, as tried."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial

from rushlight.model.design import Design
from rushlight.model.design_light import WindowsAlike
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Opening
from rushlight.stages.parts_law import most_apart
from rushlight.stages.rooms import opening_named, room_light
from rushlight.stages.window_sheets import sheets_behind, thin_sheets, with_sheet

Key = tuple[str, str]
"""Part and opening."""


@dataclass(frozen=True, slots=True)
class SheetTrial:
    """Which sheet goes behind which opening of which part, and how far apart the windows then are."""

    sheets: tuple[tuple[str, str, str], ...]
    apart: float
    reaches: bool


def tried_sheets(design: Design, row: WindowsAlike) -> SheetTrial | None:
    """The choice of sheets that brings the windows of one LED nearest.

    Parameters
    ----------
    design : Design
        The whole design.
    row : WindowsAlike
        Windows of an LED in a room.
    Returns
    -------
    SheetTrial or None
        The one that does with fewest kinds of sheet, else the nearest; None where no sheet helps.
    Source
    ------
    `stages.rooms.room_light` of the changed plan: what a sheet throws back lights the other windows.
    """
    if row.kind != "room":
        return None
    windows = openings_of(design, row)
    seen = partial(_seen, design, row, windows)
    now = seen({})
    names = thin_sheets(design.drawer)
    options = [{name: seen({lamp: name})[lamp] for name in names} for lamp in windows]
    most = most_apart(design.drawer)
    tried = []
    for chosen in sheets_behind(list(now.values()), options, most):
        put = {lamp: name for lamp, name in zip(windows, chosen, strict=True) if name}
        lit = seen(put).values()
        apart = max(lit) / max(min(lit), 1e-12)
        tried.append(SheetTrial(tuple((*windows[lamp], name) for lamp, name in put.items()), apart, apart <= most))
    better = [trial for trial in tried if trial.apart < row.ratio]
    return min(better, key=lambda trial: (not trial.reaches, 0 if trial.reaches else trial.apart), default=None)


def openings_of(design: Design, row: WindowsAlike) -> dict[str, Key]:
    """Part and opening of each window that is lit."""
    spots = {lamp.name: (lamp.spot.part, lamp.opening) for lamp in design.lamps if lamp.spot and lamp.opening}
    return {lamp: spots[lamp] for lamp, _ in row.over_dimmest if lamp in spots}


def _seen(
    design: Design, row: WindowsAlike, windows: Mapping[str, Key], put: Mapping[str, str]
) -> dict[str, float]:
    """Luminance of each window over the dimmest's now, with sheets put behind some."""
    given = dict(row.over_dimmest)
    plan = _changed(design.plan, {windows[lamp]: name for lamp, name in put.items()})
    return {lamp: given[lamp] * law_of(design, plan, key, row) / law_of(design, design.plan, key, row)
            for lamp, key in windows.items()}


def law_of(design: Design, plan: Plan, key: Key, row: WindowsAlike) -> float:
    """Luminance of a window of a room by a changed plan, its LED at one current [cd/m2]."""
    emitter = design.loom.emitter(row.name)
    opening = opening_named(plan, *key)
    assert opening is not None, "the window is one of the plan"
    _, _, luminance = room_light(plan, design.drawer, design.drawer.led(emitter.part_row), opening=opening,
                                 light_a=1.0, state=row.state)
    return luminance.typical


def _changed(plan: Plan, put: Mapping[Key, str]) -> Plan:
    def renewed(part: str, opening: Opening) -> Opening:
        name = put.get((part, opening.name))
        return with_sheet(opening, name) if name else opening

    return replace(plan, parts=tuple(
        replace(part, openings=tuple(renewed(part.name, row) for row in part.openings)) for part in plan.parts))
