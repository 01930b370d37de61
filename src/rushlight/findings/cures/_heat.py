"""Edits that cure findings on heat: vents."""

from __future__ import annotations

from rushlight.findings.cures._edits import edit, up
from rushlight.model.change import Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding


def vents(design: Design, finding: Finding) -> Edit | None:
    """Vents with which the hottest state may stay on."""
    row = next((row for row in design.heat.spaces if row.space == finding.item), None)
    if row is None or row.vents_for_mm2 is None:
        return None
    area = up(row.vents_for_mm2, 10)
    return edit("spaces", row.space, {"vents_mm2": area},
                f"give '{row.space}' vents of {area:g} mm2 in all, half of them low, half high.")
