"""A changed plan in the user's own layout."""

import random
from dataclasses import replace
from pathlib import Path

import pytest

import rushlight
from rushlight.errors import DocumentProblem
from rushlight.files import _drafts as drafts
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_patch import changed_document
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_document, parse_plan
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
    return changed(parse_document(text, "plan.yaml", DRAWER), new).text


def changed(document, new):
    """The changed document, which is what reading it whole would give."""
    made = changed_document(document, new, DRAWER)
    whole = parse_document(made.text, "plan.yaml", DRAWER)
    assert whole.plan == new == made.plan
    assert made.layout == whole.layout
    assert built(made.draft.values) == built(whole.draft.values)
    return made


def built(values):
    return {key: drafts.built(value) for key, value in values.items()}


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
        changed_document(parse_document(TEXT, "plan.yaml", DRAWER), with_lamp(old, "stern", states=("sunk",)), DRAWER)


@pytest.mark.parametrize("demo", ["tug", "lighthouse", "lantern"])
def test_every_lamp_row_and_strip_of_the_demos_can_be_changed_in_place(demo):
    text = (DEMOS / demo / "plan.yaml").read_text(encoding="utf-8")
    plan = parsed(text)
    for kind in ("lamps", "rows", "strips"):
        items = getattr(plan, kind)
        for item in items[:4]:
            new = replace(plan, **{kind: tuple(replace(one, note="seen to") if one is item else one for one in items)})
            out = written(text, lambda plan, new=new: new)
            assert out != dump_plan(new)  # the user's layout, not the canonical one
            assert "# Everything here is invented" in out or demo != "tug"


def random_change(plan, chance):
    """One to three edits as a modeller makes them: move, rename, note, add, remove, reorder, a key of its own."""
    for _ in range(chance.randint(1, 3)):
        lamps = list(plan.lamps)
        place = chance.randrange(len(lamps)) if lamps else 0
        act = chance.choice(["note", "name", "add", "remove", "swap", "plan note", "subject", "row", "state"])
        if act == "note" and lamps:
            lamps[place] = replace(lamps[place], note=chance.choice(["", "a: b # c", "two\nlines", "x" * 130]))
        elif act == "name" and lamps:
            lamps[place] = replace(lamps[place], name=f"lamp {chance.random():.12f}")
        elif act == "add":
            new = Lamp(name=f"new {chance.random():.12f}", colour="red", states=(plan.states[0].name,))
            lamps.insert(chance.randint(0, len(lamps)), new)
        elif act == "remove" and lamps:
            del lamps[place]
        elif act == "swap" and len(lamps) > 1:
            lamps[0], lamps[-1] = lamps[-1], lamps[0]
        elif act == "plan note":
            plan = replace(plan, note=chance.choice(["", "Remember.", "one\n\ntwo\n"]))
        elif act == "subject":
            plan = replace(plan, subject=replace(plan.subject, title=f"Boat {chance.randint(0, 99)}"))
        elif act == "row" and plan.rows:
            plan = replace(plan, rows=tuple(replace(row, note=f"{chance.randint(0, 9)}") for row in plan.rows))
        elif act == "state":
            first, *rest = plan.states
            plan = replace(plan, states=(replace(first, note=f"seen {chance.randint(0, 9)}"), *rest))
        plan = replace(plan, lamps=tuple(lamps))
    return plan


@pytest.mark.parametrize("name", ["small", "tug", "lighthouse"])
def test_many_changes_one_after_the_other_give_what_reading_the_whole_gives(name):
    text = TEXT if name == "small" else (DEMOS / name / "plan.yaml").read_text(encoding="utf-8")
    chance, kept = random.Random(7), 0
    document = parse_document(text, "plan.yaml", DRAWER)
    for _ in range(80 if name == "small" else 12):
        new = random_change(document.plan, chance)
        try:
            parsed(dump_plan(new))
        except DocumentProblem:  # a lamp that another one names went
            continue
        document = changed(document, new)
        kept += document.text != dump_plan(new)
    assert kept >= 3


ODD_ITEMS = [
    "  - name: stern\n    colour: white\n    states: moving\n    note: |+\n      kept\n\n\n  - {name: next, colour: red, states: moving}\n",
    "  - name: stern\n    colour: white\n    states: moving\n    note: >-\n      folded\n      on\n  # between\n  - {name: next, colour: red, states: moving}\n",
    "  - {name: stern,\n     colour: white, states: moving\n    }\n  - {name: next, colour: red, states: moving}\n",
    "  - name: stern\n    colour: white\n    states: moving\n    note: plain\n      goes on\n\n  - {name: next, colour: red, states: moving}\n",
    '  - name: stern\n    colour: white\n    states: moving\n    note: "a\n  - b"\n  - {name: next, colour: red, states: moving}\n',
]


@pytest.mark.parametrize("items", ODD_ITEMS)
def test_items_that_end_in_odd_ways_are_left_whole(items):
    document = parse_document(TEXT[: TEXT.index("lamps:")] + "lamps:\n" + items, "plan.yaml", DRAWER)
    lamp = Lamp(name="between", colour="blue", states=("moving",))
    first, second = document.plan.lamps
    changed(document, replace(document.plan, lamps=(first, lamp, second)))
    changed(document, replace(document.plan, lamps=(replace(first, colour="green"), second)))
    changed(document, replace(document.plan, lamps=(second,)))
