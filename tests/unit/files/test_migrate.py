"""Old documents are brought up to date; newer ones are refused in words."""

import pytest

from rushlight.errors import DocumentProblem
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.migrate import MIGRATIONS
from rushlight.files.plan_write import append_lamps, dump_plan
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.plan import DOCUMENT_VERSION, Lamp

DRAWER = read_drawer()
OLD = """rushlight: 0
subject: {title: A shed, scale: 1:72}
states: [{name: night}]
parts:
  - {name: wall, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}
lights:
  - {name: door, part: wall, at: [50, 30], colour: white, states: night}
"""


def test_there_is_a_migration_from_each_older_version():
    assert [migration.version for migration in MIGRATIONS] == list(range(DOCUMENT_VERSION))
    assert all(migration.what for migration in MIGRATIONS)


def test_version_0_is_read():
    plan = parse_plan(OLD, "plan.yaml", DRAWER)
    assert plan.lamps[0].at_mm == (50, 30)
    assert dump_plan(plan).startswith("rushlight: 1\n")


def test_an_old_document_keeps_the_places_of_its_problems():
    text = OLD.replace("[50, 30]", "[50, 3V]")
    with pytest.raises(DocumentProblem) as caught:
        parse_plan(text, "plan.yaml", DRAWER)
    assert [(p.line, p.column) for p in caught.value.problems] == [(7, text.splitlines()[6].index("3V") + 1)]


def test_the_new_words_are_not_known_in_an_old_document_twice_over():
    with pytest.raises(DocumentProblem, match="the key 'at' is not known"):
        parse_plan(OLD.replace("rushlight: 0", "rushlight: 1").replace("lights:", "lamps:"), "plan.yaml", DRAWER)


def test_lamps_added_to_an_old_document_are_refused_in_words():
    lamp = Lamp(name="new", part="wall", at_mm=(1.0, 1.0), colour="red", states=("night",))
    with pytest.raises(DocumentProblem, match="version 0"):
        append_lamps(OLD, [lamp], DRAWER)


@pytest.mark.parametrize(
    ("version", "says"), [("2", "newer than this program"), ("-1", "'-1'"), ("x", "'x'"), ("[1]", "no version")]
)
def test_versions_that_cannot_be_read(version, says):
    with pytest.raises(DocumentProblem, match=says) as caught:
        parse_plan(OLD.replace("rushlight: 0", f"rushlight: {version}"), "plan.yaml", DRAWER)
    assert len(caught.value.problems) == 1
