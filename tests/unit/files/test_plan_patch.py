"""A changed plan in the user's own layout."""

from dataclasses import replace
from pathlib import Path

import pytest

import rushlight
from rushlight.errors import DocumentProblem
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_patch import changed_text
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.plan import Lamp

DRAWER = read_drawer()
DEMOS = Path(rushlight.__file__).parent / "demos"
TEXT = """rushlight: 1
subject: {title: A boat, scale: 1:72}
states:  # two of them
  - {name: moving}
  - {name: moored}
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
lamps:
  # the first one
  - {name: stern, colour: white, states: moving}  # mine
  - name: masthead   # in long form
    colour: white
    part: hull
    at_mm: [10, 20]
    states: [moving, moored]
  - {name: spare, colour: red, states: moored}
# the end
"""


def parsed(text):
    return parse_plan(text, "plan.yaml", DRAWER)


def written(text, change):
    """The document after a change; it reads as the changed plan."""
    old = parsed(text)
    new = change(old)
    made = changed_text(text, old, new, DRAWER)
    out = made.text
    assert parsed(out) == new == made.plan
    return out


def with_lamp(plan, of, **values):
    return replace(plan, lamps=tuple(replace(lamp, **values) if lamp.name == of else lamp for lamp in plan.lamps))


def test_only_the_changed_item_is_written_anew():
    out = written(TEXT, lambda plan: with_lamp(plan, "masthead", at_mm=(11.0, 20.0)))
    assert "at_mm: [11, 20]" in out
    for kept in ("# two of them", "# the first one", "# mine", "# the end", "{name: spare, colour: red, states: moored}"):
        assert kept in out


def test_an_item_in_braces_stays_in_braces():
    out = written(TEXT, lambda plan: with_lamp(plan, "spare", colour="green"))
    assert "  - {name: spare, colour: green, states: moored}" in out


def test_items_go_and_come():
    lamp = Lamp(name="new", colour="blue", states=("moving",))
    out = written(TEXT, lambda plan: replace(plan, lamps=(*plan.lamps, lamp)))
    assert out.index("spare") < out.index("new") < out.index("# the end")
    out = written(TEXT, lambda plan: replace(plan, lamps=plan.lamps[1:]))
    assert "stern" not in out
    assert "# the first one" in out


def test_a_new_name_keeps_its_place():
    out = written(TEXT, lambda plan: with_lamp(plan, "stern", name="sternlight"))
    assert out.index("sternlight") < out.index("masthead")


def test_a_whole_key_is_written_where_it_stood_or_at_the_end():
    out = written(TEXT, lambda plan: replace(plan, subject=replace(plan.subject, title="Another boat")))
    assert out.index("Another boat") < out.index("# two of them")
    out = written(TEXT, lambda plan: replace(plan, note="Remember the hatch."))
    assert out.rstrip().endswith("note: Remember the hatch.")


def test_the_last_lamp_goes():
    one = TEXT[: TEXT.index("  - name: masthead")]
    out = written(one, lambda plan: replace(plan, lamps=()))
    assert "stern" not in out


def test_windows_line_ends_stay():
    out = written(TEXT.replace("\n", "\r\n"), lambda plan: with_lamp(plan, "masthead", at_mm=(1.0, 2.0)))
    assert "\n" not in out.replace("\r\n", "")


IN_BRACKETS = TEXT[: TEXT.index("lamps:")] + "lamps: [{name: stern, colour: white, states: moving}]\n"
IN_BRACES = (
    '{"rushlight": 1, "subject": {"title": "x", "scale": "1:72"}, "states": [{"name": "a"}], '
    '"parts": [{"name": "hull", "outline_mm": [[0, 0], [1, 0], [1, 1]]}]}'
)


@pytest.mark.parametrize("text", [IN_BRACKETS, IN_BRACES], ids=["list in brackets", "all in braces"])
def test_another_layout_becomes_the_canonical_one_or_stays_right(text):
    lamp = Lamp(name="new", colour="blue", states=(parsed(text).states[0].name,))
    written(text, lambda plan: replace(plan, lamps=(*plan.lamps, lamp)))


def test_a_plan_with_problems_is_refused():
    old = parsed(TEXT)
    with pytest.raises(DocumentProblem):
        changed_text(TEXT, old, with_lamp(old, "stern", states=("sunk",)), DRAWER)


@pytest.mark.parametrize("demo", ["tug", "lighthouse", "lantern"])
def test_every_lamp_row_and_strip_of_the_demos_can_be_changed_in_place(demo):
    text = (DEMOS / demo / "plan.yaml").read_text(encoding="utf-8")
    plan = parsed(text)
    for kind in ("lamps", "rows", "strips"):
        items = getattr(plan, kind)
        for item in items[:4]:
            new = replace(plan, **{kind: tuple(replace(one, note="seen to") if one is item else one for one in items)})
            out = changed_text(text, plan, new, DRAWER).text
            assert out != dump_plan(new)  # the user's layout, not the canonical one
            assert "# Everything here is invented" in out or demo != "tug"
