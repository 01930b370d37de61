"""Edits that cure findings on sector lights: a dome that is seen from its side."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.findings.cures._edits import entry_of, pins_out, written
from rushlight.findings.light.sector_dark import told_with
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding

HELD = ("led", "fibre_mm", "current_ma", "resistor_ohm")


def domed(design: Design, finding: Finding) -> Edit | None:
    """The dome that is named, for all lamps that the finding tells of and that it is bright enough for; tip up where it
    must stand free."""
    rows = told_with(design, finding.item)
    if finding.item not in {row.name for row, _ in rows}:
        return None
    told = {design.lamp(row.name).group: way for row, way in rows}
    changes: list[Change] = []
    for group, way in told.items():
        found = entry_of(design, group)
        if found is None or found[0] == "strips":
            return None
        facing = {"facing": way.facing} if way.facing else {}
        changes.append(Change("set", found[0], group, {"source": written(way.source), **facing}))
    out = pins_out(design, HELD, told)
    names = listed([f"'{name}'" for name in told])
    parts = listed(list(dict.fromkeys(way.part for way in told.values())))
    free = " standing free, tip up" if any(way.facing for way in told.values()) else ""
    return Edit((*changes, *(out.changes if out else ())), f"Make {names} by {parts}{',' if free else ''}{free}.")
