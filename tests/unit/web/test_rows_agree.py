"""Places of a row on the screen and in the engine: the same lengths, the same rounding of count and pitch."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

import rushlight.web
from rushlight.model.plan import Row
from rushlight.stages.lamps import row_places

CURVES = (Path(rushlight.web.__file__).parent / "static" / "js" / "curves.js").as_uri()
LINES = ([[0, 0], [30, 0], [30, 40]], [[0, 0], [0, 0], [7, 24]], [[1, 2], [4, 6], [9, 6], [9, 18.5]])
HOWS = ({"count": 1}, {"count": 2}, {"count": 7}, {"pitch_mm": 5}, {"pitch_mm": 12.5}, {"pitch_mm": 3.3333}, {"pitch_mm": 500})


@pytest.mark.skipif(shutil.which("node") is None and not os.environ.get("CI"), reason="node is not installed")
def test_rows_agree() -> None:
    cases = [(line, how) for line in LINES for how in HOWS]
    code = f"const {{ rowPlaces }} = await import({CURVES!r}); console.log(JSON.stringify({json.dumps(cases)}.map(([l, h]) => rowPlaces(l, h))));"
    done = subprocess.run(["node", "--input-type=module", "-e", code], capture_output=True, text=True, check=True)
    for (line, how), shown in zip(cases, json.loads(done.stdout), strict=True):
        row = Row(name="r", part="p", along_mm=tuple((x, y) for x, y in line), colour="white", states=(), **how)
        assert [list(place) for place in row_places(row)] == pytest.approx([pytest.approx(place) for place in shown])
