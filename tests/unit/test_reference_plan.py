"""Pages made from the code are as the code would make them now."""

from pathlib import Path

import pytest

from rushlight.model.plan import Lamp, Plan
from rushlight.model.schema import keys_of
from rushlight.reference_plan import drawer_reference, plan_reference

GENERATED = Path(__file__).parents[2] / "docs" / "generated"


@pytest.mark.parametrize(("name", "made"), [("plan.md", plan_reference), ("drawer.md", drawer_reference)])
def test_page_is_not_stale(name, made):
    """If this fails: write what the function gives into the file."""
    assert (GENERATED / name).read_text(encoding="utf-8") == made()


def test_every_key_is_told():
    page = plan_reference()
    for item in (Plan, Lamp):
        for field in keys_of(item):
            assert f"| `{field.name}` |" in page
    assert "| `fuse_a` | a current from 0.005 to 20 A | nothing |" in page
