"""Settings of every test run."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

# A busy machine is no fault of the code: speed is measured in benchmarks/, never in tests.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(scope="session", autouse=True)
def _own_folder(tmp_path_factory):
    """No test reads or writes the user's own folder."""
    home = str(tmp_path_factory.mktemp("own"))
    os.environ["XDG_CONFIG_HOME"] = os.environ["APPDATA"] = home
