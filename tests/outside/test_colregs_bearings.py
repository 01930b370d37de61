"""Edges and cut-offs of sector lights as bearings, against the rules' own words.

COLREGs 1972 (also printed as 33 CFR 83.21 and part 84). Rule 21: (a) masthead light 225 degrees, from right ahead to
22.5 degrees abaft the beam on either side; (b) sidelights 112.5 degrees, from right ahead to 22.5 degrees abaft the
beam on its respective side; (c) sternlight 135 degrees, 67.5 degrees from right aft on each side. Annex I 9(a)(i):
forward, sidelights cut off between 1 and 3 degrees outside; (ii) others at most 5 degrees outside.
"""

from __future__ import annotations

import math

import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.model.sheet import Drawing, Polyline, Table
from rushlight.sheets.bearings import bearing_words, sectors_of
from rushlight.sheets.screens import screen_sheets
from rushlight.stages.subject_lights import SubjectRequest, required_lights

ABAFT = {"starboard": "22.5° abaft the starboard beam", "port": "22.5° abaft the port beam"}


def _arcs() -> dict[str, tuple[float, float]]:
    lamps = required_lights(SubjectRequest(kind="ship", state="under way", length_m=30)).lamps
    return {lamp.light: (lamp.bearing_from_deg, lamp.bearing_to_deg) for lamp in lamps}


def _ship(lights: dict[str, tuple[float, float]]) -> Design:
    rows = "\n".join(
        f"{{name: {name}, part: board, at_mm: [{20 + 30 * k}, 60], colour: white, model_mm: 1.5, states: day, "
        f"arc_deg: [{start}, {end}]}}" for k, (name, (start, end)) in enumerate(lights.items()))
    return designed(board(rows).replace("invented: true", "invented: true, kind: ship"))


@pytest.mark.parametrize(("light", "start", "end"), [  # source: Rule 21
    ("masthead", ABAFT["port"], ABAFT["starboard"]),
    ("side_starboard", "right ahead", ABAFT["starboard"]),
    ("side_port", ABAFT["port"], "right ahead"),
    ("stern", ABAFT["starboard"], ABAFT["port"]),
])
def test_edges_are_told_as_the_rule_tells_them(light: str, start: str, end: str) -> None:
    edges = _arcs()[light]
    assert tuple(bearing_words(edge, ship=True) for edge in edges) == (start, end)


def test_the_sternlight_is_67_5_degrees_from_right_aft_on_each_side() -> None:
    start, end = _arcs()["stern"]
    assert (180 - start, end - 180) == (67.5, 67.5)
    assert bearing_words(180.0, ship=True) == "right aft" and bearing_words(90.0, ship=True) == "on the starboard beam"


def test_cut_offs_lie_where_the_annex_has_them() -> None:
    arcs = _arcs()
    for row in sectors_of(_ship({light: arcs[light] for light in ("masthead", "side_starboard", "side_port", "stern")})):
        if row.lamps[0].startswith("side"):
            assert 1.0 <= row.cut_deg <= 3.0  # source: Annex I 9(a)(i)
        assert row.cut_deg <= 5.0  # source: Annex I 9(a)(ii)


def test_edges_and_cut_offs_are_drawn_at_their_bearings() -> None:
    (sheet,) = screen_sheets(_ship({"side_port": _arcs()["side_port"]}))
    table = next(block for block in sheet.blocks if isinstance(block, Table) and block.key == "sector-bearings")
    assert table.rows == (("side_port", "247.5°, 22.5° abaft the port beam", "0°, right ahead", "244.5", "3"),)
    rose = next(block for block in sheet.blocks if isinstance(block, Drawing) and block.key == "sector-bearings-1")
    rays = [mark for layer in rose.layers for mark in layer.marks if isinstance(mark, Polyline) and len(mark.points_mm) == 2]
    found = {(round(_bearing(mark), 1) % 360.0, mark.ink.pattern) for mark in rays if mark.ink.pattern != "chain"}
    assert found == {(247.5, "solid"), (0.0, "solid"), (244.5, "dashed"), (3.0, "dashed")}


def _bearing(ray: Polyline) -> float:
    (x, y), (u, v) = ray.points_mm
    return math.degrees(math.atan2(u - x, v - y)) % 360.0
