"""Programs from outside that some checks need."""

from __future__ import annotations

import os
import shutil

import pytest


def needed_program(name: str, package: str) -> str:
    """The path of a program; without it the test is skipped at home and fails under CI."""
    path = shutil.which(name)
    if path is not None:
        return path
    words = f"{name} is not installed: apt-get install {package}"
    if os.environ.get("CI"):
        pytest.fail(words)
    pytest.skip(words)
