"""No finding crashes on a strange design, whatever is missing from it; texts stay whole."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from finding_cases import CASES, design_of, edited
from rushlight.findings import FINDINGS, find
from rushlight.findings.cures import cure_of
from rushlight.working_plan import changed

FAR = [{"name": "loose", "colour": "red", "states": ["on"]}]

STRANGE: dict[str, tuple[str, list[dict[str, Any]]]] = {
    "no lamps": ("one-lamp", [{"lamps": None}]),
    "no supply": ("one-lamp", [{"supply": None}]),
    "no supply and fibres": ("fibre-row", [{"supply": None}]),
    "no place": ("one-lamp", [{"lamps": FAR}]),
    "no states": ("one-lamp", [{"lamps/flame/states": []}]),
    "all left out": ("one-lamp", [{"lamps/flame/worth": "left out"}]),
    "all dark": ("fibre-row", [{"rows/portlights/dark_share": 1}]),
    "runs for ever": ("one-lamp", [{"supply": {"kind": "adapter", "adapter_v": 5, "limit_a": 1}}]),
    "too few volts": ("one-lamp", [{"supply/in_series": 1}]),
    "strip on one cell": ("strip", [{"supply": {"kind": "cells", "cell": "AA", "in_series": 1}}]),
    "one lamp in a row": ("fibre-row", [{"rows/portlights/count": 1}]),
    "two lamps on one spot": ("one-lamp", [{"lamps/+": {"name": "twin", "part": "board", "at_mm": [150, 50],
                                                        "colour": "red", "states": ["on"]}}]),
    "nowhere to run": ("one-lamp", [{"parts/board/keep_outs": [
        {"name": "all", "rect_mm": [0, 0, 200, 100]}]}]),
    "tiny scale": ("fibre-row", [{"subject/scale": 10_000}]),
    "scale of one": ("one-lamp", [{"subject/scale": 1}]),
    "seen from 20 m": ("one-lamp", [{"subject/viewing_distance_mm": 20_000}]),
    "a ship without length": ("one-lamp", [{"subject": {"title": "x", "kind": "ship", "scale": 96}},
                                           {"states/0/rule": "under way"}]),
    "a space of nothing": ("one-lamp", [{"spaces": [{"name": "s", "parts": ["board"], "size_mm": [1, 1, 1]}]}]),
    "room without opening": ("one-lamp", [{"lamps/flame/source": {"kind": "room"}}]),
    "off": ("one-lamp", [{"lamps/flame/rhythm": "off"}]),
    "like one that is left out": ("one-lamp", [{"lamps/+": {
        "name": "twin", "part": "board", "at_mm": [100, 50], "colour": "red", "states": ["on"],
        "brightness": {"like": "flame"}}}, {"lamps/flame/worth": "left out"}]),
    "no wish": ("one-lamp", [{"lamps/flame/brightness": {"intensity_mcd": 0.000001}}]),
    "a crossing that nothing uses": ("halves", [{"lamps/flame/part": "left"}]),
    "no bay": ("halves", [{"parts/left/bays": None}, {"supply/bay": None}]),
    "a crossing without slack": ("halves", [{"crossings/hinge/slack_mm": 0}, {"crossings/hinge/hinge_distance_mm": 0}]),
    "a seam of no length": ("halves", [{"parts/right/seams_mm": [[[5, 5], [5, 5]], [[0, 50], [200, 50]]]}]),
    "opened round and round": ("halves", [{"crossings/hinge/opening_deg": 360}]),
    "called like an LED of fibres": ("fibre-row", [{"lamps": [{"name": "I1", "part": "board", "at_mm": [120, 40],
                                                             "colour": "red", "size_mm": 300, "states": ["on"]}]}]),
    "a log of nonsense": ("fibre-row", [{"as_built": [
        {"step": "tail I1.1", "length_mm": 0.01}, {"step": "lead", "length_mm": 5}, {"step": "close", "sealed": True},
        {"step": "x", "readings": [{"gate": "y", "what": "z", "value": -1e9}]}, {"step": "solder", "used": " "}]}]),
    "sealed at once": ("halves", [{"as_built": [{"step": "close", "part": "right", "sealed": True}]}]),
    "one coin cell": ("strip", [{"supply": {"kind": "cells", "cell": "CR2032", "in_series": 1}}]),
    "a bank for one strip": ("strip", [{"supply": {"kind": "usb power bank"}}]),
    "a current beyond reason": ("one-lamp", [{"pinned": [{"of": "flame", "choice": "resistor_ohm", "value": "0.1"}]}]),
    "wants the sun": ("fibre-row", [{"rows/portlights/brightness": {"intensity_mcd": 10_000_000}}]),
}


@pytest.mark.parametrize("name", STRANGE)
def test_no_finding_crashes(name: str) -> None:
    base, edits = STRANGE[name]
    plan = yaml.safe_load((CASES / "bases" / f"{base}.yaml").read_text(encoding="utf-8"))
    units = {rule.key: rule.unit for rule in FINDINGS}
    made = design_of(edited(plan, edits))
    for finding in find(made):
        edit = cure_of(made, finding)
        assert edit is None or changed(made.plan, edit.changes) != made.plan, finding.key
        assert finding.says.endswith("."), finding
        assert "nan" not in finding.says.split() and "None" not in finding.says and "Range(" not in finding.says
        assert finding.number is None or units[finding.key]


def test_the_worst_come_first() -> None:
    plan = yaml.safe_load((CASES / "bases" / "one-lamp.yaml").read_text(encoding="utf-8"))
    edits = [{"supply": None}, {"lamps/flame/evidence": None}, {"lamps/+": FAR[0]}]
    grades = [finding.grade for finding in find(design_of(edited(plan, edits)))]
    assert len(grades) > 2 and grades == sorted(grades, reverse=True)
