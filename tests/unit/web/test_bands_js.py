"""The pages' reading of a resistor's bands against the terminal's, from both ends."""

from __future__ import annotations

import json
import random
import re
import subprocess
from pathlib import Path

import pytest

import rushlight
from outside.tools import needed_program
from rushlight.cli_drawer import bands_words
from rushlight.electric.resistor_bands import colour_bands, value_of_bands
from rushlight.errors import RushlightError
from rushlight.web.bands_plain import band_code

NUMBER = r"\d+(?:\.\d+)?"
MODULE = Path(rushlight.__file__).parent / "web/static/js/bench/band-value.js"
SCRIPT = """const [module, told] = process.argv.slice(1), { bandsRead } = await import(module), { code, words } = JSON.parse(told);
console.log(JSON.stringify(words.map(row => { const read = bandsRead(code, row); return [read.says, read.mind]; })));"""


def test_bands_are_read_as_in_the_terminal() -> None:
    chance, code = random.Random(5), band_code()
    colours = [row[0] for row in code["colours"]]
    drawn = [tuple(chance.choice(colours) for _ in range(chance.choice((4, 5)))) for _ in range(600)]
    words = [colour_bands(470, 0.05)[::-1], colour_bands(4700, 0.01, bands=5)]
    for row in drawn:
        try:
            if value_of_bands(row)[0] > 0.01:
                words.append(row)
        except RushlightError:
            continue
    assert len(words) > 30
    told = json.dumps({"code": code, "words": words})
    node = [needed_program("node", "nodejs"), "--input-type=module", "-e", SCRIPT, MODULE.as_uri(), told]
    found = json.loads(subprocess.run(node, capture_output=True, text=True, check=True).stdout)
    for row, (says, mind) in zip(words, found, strict=True):
        in_terminal = bands_words(list(row))
        assert [mind] == in_terminal[1:], row
        assert re.sub(NUMBER, "", f"{says}.") == re.sub(NUMBER, "", in_terminal[0]), row
        assert [float(one) for one in re.findall(NUMBER, says)] == pytest.approx(  # a half is rounded either way
            [float(one) for one in re.findall(NUMBER, in_terminal[0])], rel=1e-3)
    assert any("From the other end" in mind for _, mind in found) and any("A value of E" in mind for _, mind in found)
