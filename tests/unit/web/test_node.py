"""The logic of the pages, under node's own test runner."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[2] / "js"
CI = bool(os.environ.get("CI"))


@pytest.mark.skipif(shutil.which("node") is None and not CI, reason="node is not installed")
def test_the_logic_of_the_pages():
    files = sorted(str(path) for path in TESTS.glob("*.test.mjs"))
    done = subprocess.run(["node", "--test", *files], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "# fail 0" in done.stdout or "fail 0" in done.stdout
