"""Lamps put into a plan on disk, in the user's own layout."""

import pytest

from rushlight.errors import DocumentProblem
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.history import revisions
from rushlight.files.plan_edit import add_lamps, lamp_of
from rushlight.files.plan_yaml import read_plan
from rushlight.model.plan import Brightness, Evidence

DRAWER = read_drawer()
TEXT = """rushlight: 1
subject: {title: A boat, scale: 1:72, kind: ship}
states:  # two of them
  - {name: moving, rule: Under way}
  - {name: moored}
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60]]}]
lamps:
  - {name: stern, rule: pos_stern, colour: white, states: moving}  # mine
"""
ENTRY = {
    "name": "masthead",
    "colour": "white",
    "rule": "masthead",
    "arc_deg": [247.5, 112.5],
    "states": ["under way", "moored"],
    "brightness": {"subject_intensity_cd": 94},
    "evidence": [{"kind": "rule", "of": "Rule 23", "certainty": 1.0}],
}


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "plan.yaml").write_text(TEXT, encoding="utf-8")
    return tmp_path


def test_plain_values_become_a_lamp():
    lamp = lamp_of(ENTRY)
    assert lamp.arc_deg == (247.5, 112.5)
    assert lamp.brightness == Brightness(subject_intensity_cd=94)
    assert lamp.evidence == (Evidence(kind="rule", of="Rule 23", certainty=1.0),)


def test_lamps_are_added_once_and_states_are_called_as_the_plan_does(folder):
    stern = {"name": "stern", "colour": "white", "states": ["moving"]}
    same = {**stern, "rule": "pos_stern"}
    assert add_lamps(folder, [ENTRY, stern, same], DRAWER) == ("masthead", "stern (2)")
    read = read_plan(folder, DRAWER)
    assert read.plan.lamps[1].states == ("moving", "moored")
    assert "# mine" in read.text and "# two of them" in read.text
    assert add_lamps(folder / "plan.yaml", [ENTRY, same], DRAWER) == ()
    assert [revision.what for revision in revisions(folder)] == ["as found", "2 lamps added"]


def test_lamps_that_do_not_fit_change_nothing(folder):
    for wrong in ({**ENTRY, "states": ["flying"]}, {**ENTRY, "colour": "blak"}, {**ENTRY, "arc_deg": [0, 500]}):
        with pytest.raises(DocumentProblem):
            add_lamps(folder, [wrong], DRAWER)
    assert (folder / "plan.yaml").read_text(encoding="utf-8") == TEXT


def test_a_lamp_of_the_rule_under_another_name_counts(folder):
    """Who calls the sternlight 'stern lamp' has one; of three lights that the rule wants only the missing two come."""
    stern = {"name": "sternlight", "colour": "white", "rule": "pos_stern", "states": ["moving"]}
    assert add_lamps(folder, [stern], DRAWER) == ()
    three = [{**stern, "name": f"sternlight {number}"} for number in (1, 2, 3)]
    assert add_lamps(folder, three, DRAWER) == ("sternlight 2", "sternlight 3")
