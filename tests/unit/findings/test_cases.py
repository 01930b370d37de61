"""Every kind of finding: a plan that trips it, and one just inside the limit."""

from __future__ import annotations

import math

import pytest

from finding_cases import case_keys, design_of, read_case, spoiled
from rushlight.findings import FINDINGS
from rushlight.model.finding import Finding

RULES = {rule.key: rule for rule in FINDINGS}


@pytest.mark.parametrize("key", case_keys())
def test_the_case_trips_its_kind_and_only_beyond_the_limit(key: str) -> None:
    case, rule = read_case(key), RULES[key]
    found = rule.find(spoiled(design_of(case.trips), case.spoils))
    assert found, f"{key} does not trip"
    for finding in found:
        _well_told(finding, rule.unit)
        _on_its_side(finding, case.side)
    inside = rule.find(design_of(case.inside))
    assert not inside, f"{key} trips inside its limit: {inside[0].says}"


def _on_its_side(finding: Finding, side: str | None) -> None:
    """Number and limit come together; the case says on which side of the limit the trouble lies."""
    assert (finding.number is None) == (finding.limit is None)
    if finding.number is None or finding.limit is None:
        assert side is None, f"{finding.key} has no number"
    else:
        assert {"over": finding.number > finding.limit, "under": finding.number < finding.limit}[side or "unsaid"]


def _well_told(finding: Finding, unit: str) -> None:
    """A number has its unit and a finite limit; texts are whole sentences."""
    if finding.limit is not None:
        assert unit, f"{finding.key} has a number without unit"
        assert math.isfinite(finding.limit)
    for text in (finding.says, finding.why, finding.cure):
        assert text and text[0] == text[0].upper() and text.endswith(".") and "  " not in text, text
        assert "nan" not in text.split() and "None" not in text and "inf " not in text, text
    assert finding.item and finding.source
