"""Pages made from the code are as the code would make them now."""

from pathlib import Path

import pytest

from rushlight.model.plan import Lamp, Plan
from rushlight.model.schema import keys_of
from rushlight.reference_plan import drawer_reference, plan_reference, write_pages

GENERATED = Path(__file__).parents[2] / "docs" / "generated"


@pytest.mark.parametrize(("name", "made"), [("plan.md", plan_reference), ("drawer.md", drawer_reference)])
def test_page_is_not_stale(name, made):
    """If this fails: `python -m rushlight.reference_plan`."""
    assert (GENERATED / name).read_text(encoding="utf-8") == made()


def test_every_key_is_told():
    page = plan_reference()
    for item in (Plan, Lamp):
        for field in keys_of(item):
            assert f"| `{field.name}` |" in page
    assert "| `fuse_a` | a current from 0.005 to 20 A | nothing |" in page


def test_pages_are_written(tmp_path):
    assert [path.read_text(encoding="utf-8") for path in write_pages(tmp_path)] == [
        plan_reference(), drawer_reference()]
