"""Evidence of one side taken together."""

from __future__ import annotations

import pytest

from rushlight.model.plan import Evidence
from rushlight.stages.evidence import belief


def told(certainty: float, says: str = "for") -> Evidence:
    return Evidence(kind="text", certainty=certainty, says=says)


def test_two_witnesses_are_surer_than_one() -> None:
    both = belief([told(0.5), told(0.5)], "for")
    assert both == pytest.approx(0.75)  # derived: 1 - 0.5 * 0.5


def test_nothing_told_is_no_belief_and_one_sure_witness_is_enough() -> None:
    assert belief([], "for") == 0.0
    assert belief([told(1.0), told(0.1)], "for") == 1.0


def test_each_side_is_weighed_alone() -> None:
    heard = [told(0.8), told(0.3, "against")]
    assert belief(heard, "for") == pytest.approx(0.8)
    assert belief(heard, "against") == pytest.approx(0.3)


def test_more_evidence_never_lowers_belief() -> None:
    steps = [belief([told(0.3)] * count, "for") for count in range(6)]
    assert steps == sorted(steps) and all(0 <= step <= 1 for step in steps)
