"""Plans bent at random by their schema: whatever the reader takes, the whole engine answers, in words where it must."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from designed import PACKAGED, planned
from random_plans import bent
from rushlight.files.own_values import own_values
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan
from rushlight.findings import find
from rushlight.sheets import draw
from rushlight.stages.pipeline import design

BASES = tuple(sorted((Path(__file__).parents[1] / "cases" / "bases").glob("*.yaml")))
SEEDS_EACH = 12

KNOWN = (130, 286)
"""Seeds that once broke something."""


def answered(seed: int) -> None:
    """Read, design, find and draw one bent plan."""
    base = planned(BASES[seed % len(BASES)].read_text(encoding="utf-8"))
    plan, _ = bent(base, PACKAGED, seed, 1 + seed % 12)
    made = design(plan, own_values(PACKAGED, plan))
    findings = find(made)
    assert draw(made, findings)
    for finding in findings:
        assert finding.says.endswith(".") and "nan" not in finding.says.split(), finding
        assert finding.number is None or math.isfinite(finding.number), finding


@pytest.mark.parametrize("block", range(4))
def test_every_bent_plan_is_answered(block: int) -> None:
    for seed in range(block * SEEDS_EACH, (block + 1) * SEEDS_EACH):
        answered(seed)


@pytest.mark.slow
@pytest.mark.parametrize("block", range(4, 168))
def test_two_thousand_bent_plans_are_answered(block: int) -> None:
    test_every_bent_plan_is_answered(block)


@pytest.mark.parametrize("seed", KNOWN)
def test_what_once_broke(seed: int) -> None:
    answered(seed)


@pytest.mark.parametrize("seed", range(40))
def test_a_bent_plan_is_written_and_read_alike(seed: int) -> None:
    base = planned(BASES[seed % len(BASES)].read_text(encoding="utf-8"))
    plan, _ = bent(base, PACKAGED, seed, 6)
    assert parse_plan(dump_plan(plan), "plan.yaml", PACKAGED) == plan
