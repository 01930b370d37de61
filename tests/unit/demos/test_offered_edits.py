"""What a finding offers on a demo never brings about what will fail."""

from __future__ import annotations

from pathlib import Path

import pytest

from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.finding import Grade
from rushlight.open_plan import copy_demo, open_plan
from rushlight.stages.pipeline import design
from rushlight.working_plan import changed


@pytest.mark.parametrize("demo", ["tug", "lighthouse"])
def test_no_edit_that_is_offered_brings_a_finding_that_will_fail(demo: str, tmp_path: Path) -> None:
    whole = open_plan(copy_demo(demo, tmp_path / demo))
    edits = [edit for finding in whole.findings if (edit := cure_of(whole.design, finding)) is not None]
    assert edits
    for edit in {edit.says: edit for edit in edits}.values():
        after = find(design(changed(whole.design.plan, edit.changes), whole.design.drawer))
        assert not [row.key for row in after if row.grade is Grade.WILL_FAIL], edit.says
