"""Offered edits tried on the plan: what they take away, what they bring, and one that brings nothing."""

from __future__ import annotations

import json
from pathlib import Path

import yaml

from finding_cases import design_of
from rushlight.edits_tried import Offer, tried_offer
from rushlight.findings import find
from rushlight.findings.cures import CURES, OTHERS, cure_of, others_of
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.open_plan import open_plan
from rushlight.web.tried_plain import tried_json
from rushlight.working_plan import changed
from strip_plans import wall
from strip_plans import white_house as house

SHORT = "[[55, 26], [105, 26]]"


def offered(wall_mm: float) -> tuple[Design, Finding, Offer]:
    made = design_of(yaml.safe_load(house(wall_mm)))
    found = find(made)
    uneven = next(row for row in found if row.key == "light.hot-spots")
    offer = tried_offer(made, found, uneven, lambda plan: made.drawer)
    assert offer is not None and offer.first.edit == cure_of(made, uneven)
    return made, uneven, offer


def keys_after(made: Design, offer: Offer) -> set[str]:
    assert offer.other is not None
    return {row.key for row in find(design_of_changed(made, offer.other.edit.changes))}


def design_of_changed(made: Design, changes: tuple) -> Design:  # type: ignore[type-arg]
    from rushlight.stages.pipeline import design

    return design(changed(made.plan, changes), made.drawer)


def test_a_longer_strip_that_shines_through_its_wall_is_told_and_another_way_is_offered() -> None:
    made, _, offer = offered(0.6)
    assert [row.key for row in offer.first.brings] == ["light.leak"] and offer.first.cures
    assert "the finding goes." in offer.first.says and "But then comes, so see to it as well: The wall of 'wall' glows" in offer.first.says
    assert offer.first.says.endswith("(doubtful)")
    assert offer.other is not None and offer.other.clean and "second sheet" in offer.other.edit.says
    assert not {"light.hot-spots", "light.leak"} & keys_after(made, offer)


def test_where_no_other_way_is_clean_the_edit_comes_with_the_cure_of_what_it_brings() -> None:
    made, _, offer = offered(1.5)
    assert [row.key for row in offer.first.brings] == ["light.bare-wall"]
    assert offer.other is not None and offer.other.clean
    assert offer.other.edit.says.startswith(offer.first.edit.says.rstrip(".") + "; and paint 'wall' inside")
    assert not {"light.hot-spots", "light.bare-wall", "light.leak"} & keys_after(made, offer)


def test_an_edit_that_brings_nothing_has_no_other() -> None:
    _, _, offer = offered(2.5)
    assert offer.first.clean and offer.other is None
    assert offer.first.says.startswith("Tried: the finding goes and nothing new comes.")


def test_what_goes_with_it_is_counted_and_a_lesser_one_of_the_same_thing_in_its_place_is_not_brought() -> None:
    made = design_of(yaml.safe_load(house(3).replace(SHORT, "[[0, 26], [75, 26]]")))
    found = find(made)
    offers = {row.key: tried_offer(made, found, row, lambda plan: made.drawer) for row in found}
    fuse = offers["electric.fuse-over-wire"]
    assert fuse is not None and not fuse.first.brings and fuse.first.says.endswith("1 more goes with it.")
    uneven = offers["light.hot-spots"]
    assert uneven is not None and uneven.first.says.endswith("2 more go with it.")
    assert offers["light.bare-wall" if "light.bare-wall" in offers else "light.leak"] is not None


def test_a_finding_that_stays_is_told_with_what_is_left_of_it() -> None:
    spaces = "spaces: [{name: room, parts: [wall], size_mm: [120, 20, 18]}]\n"
    made = design_of(yaml.safe_load(wall(spaces=spaces)))
    found = find(made)
    deep = next(row for row in found if row.key == "plan.strip-too-deep")
    offer = tried_offer(made, found, deep, lambda plan: made.drawer)
    assert offer is not None and not offer.first.cures
    assert "Tried: the finding stays, but only as could be better." in offer.first.says


def test_the_first_of_several_ways_is_the_one_that_is_offered() -> None:
    assert set(OTHERS) <= set(CURES)
    made, uneven, _ = offered(0.6)
    assert next(others_of(made, uneven)) == cure_of(made, uneven)
    other = next(row for row in find(made) if row.key not in OTHERS)
    assert list(others_of(made, other)) == []


def test_the_page_gets_words_and_an_edit_that_the_api_takes_back(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(house(0.6), encoding="utf-8")
    held = open_plan(tmp_path)
    told = json.loads(json.dumps(tried_json(held, "light.hot-spots", "glow", lambda stage: None)))
    assert told["brings"] == ["light.leak"] and told["says"].startswith("Tried: ")
    assert told["other"]["changes"][0]["action"] == "set" and "nothing new comes" in told["other"]["tried"]
    none = tried_json(held, "light.hot-spots", "nobody", lambda stage: None)
    assert (none["says"], none["brings"], none["other"]) == ("", [], None)


def test_a_finding_without_an_edit_has_no_offer() -> None:
    made = design_of(yaml.safe_load(house(0.6)))
    found = find(made)
    bare = next(row for row in found if cure_of(made, row) is None)
    assert tried_offer(made, found, bare, lambda plan: made.drawer) is None
