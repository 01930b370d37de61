"""The sheet of other supplies: only in the whole book, every row told, reasons that are alike told once."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.model.sheet import Cautions, Table
from rushlight.sheets import SHEETS, draw, supplies
from rushlight.stages.supply_trials import MOST_TRIED, SuppliesTried, supplies_tried
from rushlight.units import Range

AA3 = "supply: {kind: cells, cell: AA, in_series: 3, bay: bay, run_h: 4}\n"
BLUE = "{name: beacon, part: board, at_mm: [20, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"


@cache
def made() -> Design:
    return designed(board(BLUE, supply=AA3))


@cache
def found() -> SuppliesTried:
    return supplies_tried(made())


def tables() -> dict[str, Table]:
    return {block.key: block for block in supplies.supply_blocks(made(), found()) if isinstance(block, Table)}


def test_only_the_whole_book_has_it_between_power_and_controller() -> None:
    assert [kind.module for kind in SHEETS if kind.late] == ["supplies"]
    quick, whole = draw(made(), ()), draw(made(), (), late=True)
    keys = [sheet.key for sheet in whole]
    assert [key for key in keys if key != "other-supplies"] == [sheet.key for sheet in quick]
    assert keys.index("other-supplies") == keys.index("switch-and-supply") + 1


def test_the_book_of_a_large_model_waits_for_fewer(monkeypatch: pytest.MonkeyPatch) -> None:
    large = replace(made(), loom=replace(made().loom, emitters=made().loom.emitters * 300))
    few: list[int] = []

    def counted(design: Design, *, most: int) -> SuppliesTried:
        few.append(most)
        return SuppliesTried(rows=(), out=())

    monkeypatch.setattr(supplies, "supplies_tried", counted)
    assert supplies.draw(large) == () and supplies.draw(made()) == () and few == [2, MOST_TRIED]


def test_every_supply_has_its_row_and_the_plan_s_own_no_changes() -> None:
    shown = tables()
    assert [row[1] for row in shown["other-supplies"].rows] == [row.name for row in found().rows]
    assert [row[0] for row in shown["supply-changes"].rows] == list(range(2, len(found().rows) + 1))
    verdicts = " ".join(str(row[-1]) for row in shown["other-supplies"].rows)
    assert "As planned" in verdicts and "lightest" in verdicts.lower() and "cheapest" in verdicts.lower()


def test_alike_reasons_stand_together() -> None:
    out = tables()["supply-out"].rows
    reasons = [row[1] for row in out]
    assert len(set(reasons)) == len(reasons)
    assert any("blue LED of 'beacon'" in str(why) for why in reasons)
    twins = replace(found(), out=(found().out[0], replace(found().out[0], nominal_v=2.0)))
    assert len(supplies.out_table(made(), twins).rows) == 1


def test_mains_is_warned_of_and_lithium_where_it_is_tried() -> None:
    def hazards(rows: SuppliesTried) -> list[str]:
        return [one.hazard for block in supplies.supply_blocks(made(), rows) if isinstance(block, Cautions) for one in block.items]

    lithium = [row for row in found().rows if "lithium" in row.name]
    assert "mains adapter" in hazards(found()) and ("lithium cells" in hazards(found())) == bool(lithium)
    assert "lithium cells" not in hazards(replace(found(), rows=tuple(row for row in found().rows if row not in lithium)))


def test_what_does_not_last_says_by_how_much() -> None:
    row = replace(found().rows[0], asked_h=1e6)
    assert "of 1000000 h asked" in supplies.against_words(row)[0]
    evening = replace(row, asked_h=0.0, evening_h=Range(1.0, 2.0, 3.0), evening_asked_h=5.0)
    assert supplies.against_words(evening) == ["the evening of 5 h ends after about 2 h"]
    assert not evening.does
    assert "it does not go into the bay" in supplies.against_words(replace(found().rows[0], fits=False))


def test_where_nothing_does_it_says_so() -> None:
    none = SuppliesTried(rows=(replace(found().rows[0], fits=False),), out=())
    assert supplies.best_words(none).startswith("Of what was worked out none")
    assert supplies.supply_blocks(made(), SuppliesTried(rows=(), out=())) == ()
