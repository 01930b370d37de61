"""Settings of every test run."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no fault of the code: speed is measured in benchmarks/, never in tests.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
