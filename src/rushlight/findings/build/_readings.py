"""Readings of the log beside what was foretold."""

from __future__ import annotations

from collections.abc import Iterator

from rushlight.findings._as_built import step_keys
from rushlight.model.design import Design, PredictedReading
from rushlight.model.plan_bench import Reading

MINUTES = "minutes"
"""How long a soak ran is a reading too."""


def read_at_bench(design: Design) -> Iterator[tuple[Reading, str, PredictedReading | None]]:
    """Every reading of the log, the key of its gate, and what was foretold for it."""
    keys = step_keys()
    told = {
        (step.key, _bare(row.name)): row for step in design.order.steps for row in step.readings
    }
    for done in design.plan.as_built:
        for reading in done.readings:
            gate = keys.get(_bare(reading.gate), "")
            yield reading, gate, told.get((gate, _bare(reading.what)))


def _bare(text: str) -> str:
    return " ".join(text.replace("_", " ").replace("-", " ").casefold().split())


def names_of(design: Design, gate: str) -> list[str]:
    """Names of all readings of a gate."""
    return [row.name for step in design.order.steps if step.key == gate for row in step.readings]
