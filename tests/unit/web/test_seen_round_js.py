"""From where lamps are seen: the browser says what the book says, from every side, in every pose."""

from __future__ import annotations

import json
import shutil
import subprocess
from dataclasses import asdict
from pathlib import Path

import numpy as np
import pytest

from designed import designed
from rushlight.geometry.bearing import direction
from rushlight.optics.toward import seen_aslant
from rushlight.sheets.night_words import way_words
from rushlight.sheets.seen_round import seen_round
from rushlight.stages.outlook import outlook

CASE = Path(__file__).parents[2] / "js" / "seen_round_case.mjs"
PLAN = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night, poses: [{part: hut, at: slewed}]}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, faces_deg: 20, leans_deg: 80,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
  - {name: hut, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true},
     poses: [{name: rest, value: 0}, {name: slewed, value: 37}],
     stands: {over: yard, points_mm: [[0, 0], [60, 0]], at_mm: [[70, 30], [130, 30]], pivot_mm: [100, 30]}}
crossings: [{name: c, kind: pivoting, ends: [{part: yard, at_mm: [100, 32]}, {part: hut, at_mm: [30, 1]}]}]
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: a, part: hut, at_mm: [20, 10], colour: red, model_mm: 3, states: [night], source: {kind: led}}
  - {name: b, part: hut, at_mm: [40, 10], colour: red, model_mm: 3, states: [night], source: {kind: led}, facing: port, arc_deg: [247.5, 360]}
  - {name: c, part: yard, at_mm: [30, 40], colour: white, model_mm: 0.5, states: [night], source: {kind: fibre}}
  - {name: d, part: yard, at_mm: [40, 40], colour: white, model_mm: 3, states: [night], source: {kind: led}, facing: astern, arc_deg: [112.5, 247.5]}
"""


@pytest.mark.skipif(shutil.which("node") is None, reason="no node here")
def test_book_and_browser_see_the_same_from_every_side(tmp_path: Path) -> None:
    design = designed(PLAN)
    places = [{"bearing": float(b), "height": float(h)} for b in range(0, 361, 5) for h in (-80, -10, 0, 20, 90)]
    places += [{"bearing": float(b), "height": 0.0} for b in np.linspace(105.0, 120.0, 31)]
    case = tmp_path / "case.json"
    case.write_text(json.dumps({"round": asdict(seen_round(design)), "state": "night", "places": places}), encoding="utf-8")
    said = json.loads(subprocess.run([shutil.which("node") or "node", str(CASE), str(case)], capture_output=True, check=True).stdout)
    shape = ((2.0, 3.0), (9.0, 4.0), (7.0, 11.0))
    assert len({tuple(row["leans"]["c"]) for row in said}) > 50 and all(row["leans"]["a"] is None for row in said)
    assert len({round(row["shares"]["a"], 6) for row in said}) > 50
    for place, row in zip(places, said, strict=True):
        look = outlook(design, "night", direction(place["bearing"], place["height"]))
        assert row["shares"] == pytest.approx(look.lamps, abs=2e-6), place
        assert set(look.leans) == {name for name, lean in row["leans"].items() if lean and look.lamps[name] > 0.0}
        for name, lean in look.leans.items():
            assert row["leans"][name] == pytest.approx(lean, abs=1e-6)
            assert np.array(row["aslant"][name]) == pytest.approx(np.array(seen_aslant(shape, lean, about=(5.5, 7.0))), abs=1e-4)
        assert set(row["behind"]) == look.behind and row["words"] == way_words(place["bearing"], place["height"])
