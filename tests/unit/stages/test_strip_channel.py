"""A strip's channel as the plan describes it: read, reckoned with, told."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.errors import DocumentProblem
from rushlight.findings.cures._light import tried_edit
from rushlight.model.design import Design
from rushlight.sheets.windows import cut_mark_table
from rushlight.stages.strip_cures import strip_cures
from strip_plans import ODD, wall


def channel(said: str, walls: float = 0.85, **kept: object) -> Design:
    text = wall(walls=walls, along="[[55, 26], [105, 26]]", **kept)  # type: ignore[arg-type]
    return designed(text.replace(f"walls_reflect: {walls}", f"walls_reflect: {walls}{said}"))


def per_led(made: Design) -> float:
    """Luminance for an ampere of the strip."""
    emitter = made.loom.emitters[0]
    return made.light.strips[0].luminance_cd_m2.typical / emitter.aim_current_a


def test_walls_across_the_ends_give_light_where_they_throw_back() -> None:
    bare, walled, dark = channel(""), channel(", channel_ends: walled"), channel(", channel_ends: walled", walls=0.05)
    assert 1.05 < per_led(walled) / per_led(bare) < 1.35
    assert per_led(dark) == pytest.approx(per_led(channel("", walls=0.05)), rel=0.01)


def test_walls_across_even_a_window_that_the_strip_hardly_covers() -> None:
    bare, walled = channel(""), channel(", channel_ends: walled")
    assert walled.light.strips[0].ratio_spots < bare.light.strips[0].ratio_spots


def test_a_wider_channel_throws_less_on_the_window_and_a_darker_board_too() -> None:
    lit = [per_led(channel(f", channel_width_mm: {wide}")) for wide in (8, 16, 60)]
    assert lit == sorted(lit, reverse=True) and lit[0] > 1.1 * lit[-1]
    assert per_led(channel(", board_reflects: 0.05")) < per_led(channel("")) < per_led(channel(", board_reflects: 0.9"))
    assert per_led(channel(", channel_width_mm: 8")) == pytest.approx(per_led(channel("")), rel=1e-9)  # 6 mm high, 1 mm each side


def test_what_is_said_narrows_the_range_and_foil_is_brighter_and_wide() -> None:
    def spread(said: str) -> float:
        light = channel(said).light.strips[0].luminance_cd_m2
        return light.high / light.low

    steps = [spread(said) for said in ("", ", channel_ends: open", ", channel_ends: open, channel_walls: matt",
                                       ", channel_ends: open, channel_walls: matt, board_reflects: 0.6")]
    assert steps == sorted(steps, reverse=True) and steps[0] > 1.2 * steps[-1]
    assert per_led(channel(", channel_walls: foil")) == pytest.approx(1.12 * per_led(channel(", channel_walls: matt")))


def test_a_channel_narrower_than_its_opening_is_refused_with_the_least_that_does() -> None:
    with pytest.raises(DocumentProblem) as told:
        channel(", channel_width_mm: 5")
    assert "channel_width_mm is 5, and the opening 'w0' reaches 3 mm to one side of the strip" in str(told.value)
    assert "at least 6 mm" in str(told.value)


def test_the_table_of_cuts_says_the_channel_as_it_was_reckoned() -> None:
    def words(said: str) -> str:
        return str(cut_mark_table(channel(said)).rows[0][-1])

    assert words("") == "8 mm wide, 25 mm deep; walls throw back 0.85"
    assert words(", channel_width_mm: 20, channel_walls: matt, channel_ends: walled, board_reflects: 0.1") == (
        "20 mm wide, 25 mm deep; matt walls throw back 0.85, board 0.1; both ends walled")


def test_painted_foil_is_matt() -> None:
    made = designed(ODD["black"].replace("walls_reflect: 0.05", "walls_reflect: 0.05, channel_walls: foil"))
    cures = strip_cures(made, "glow")
    trial = next(row for row in cures.tried if row.kinds == ("walls",))
    edit = tried_edit(made, cures, trial)
    assert trial.laid.run.channel_walls == "matt" and edit is not None
    assert edit.changes[0].values["channel_walls"] == "matt"
