"""A strip too near to its sheet by the habit, while a second sheet hides it."""

from __future__ import annotations

import re
from pathlib import Path

from designed import designed
from rushlight.findings import find
from rushlight.findings.cures import cure_of

HOUSE = (Path(__file__).parents[2] / "cases" / "bases" / "strip.yaml").read_text(encoding="utf-8")


def test_the_cure_never_moves_the_strip_nearer() -> None:
    sheet = "{sheet: opal acrylic 2 mm, gap_mm: 1}"
    made = designed(HOUSE.replace(sheet, sheet + ", {sheet: opal acrylic 2 mm, gap_mm: 20}").replace("gap_mm: 25", "gap_mm: 10"))
    (window,) = made.light.strips
    assert window.needed_gap_mm <= window.gap_mm, "behind two sheets the LEDs are not seen"
    (found,) = [row for row in find(made) if row.key == "light.diffuser-gap"]
    back, apart = (float(text) for text in re.findall(r"([0-9.]+) mm", found.cure))
    # derived: the habit's 1.5 to 1 at a pitch of 16.7 mm
    assert 11.0 <= back <= 11.2 and apart < window.pitch_mm
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values["gap_mm"] == back, "the edit is the gap that the words name"
