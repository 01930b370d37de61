"""Windows that should look alike: which are compared, in which state, and which sheets bring them nearer."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.sheets.windows import alike_table
from rushlight.stages.window_sheets import sheets_behind
from strip_plans import wall

TWO = ("[60, 23, 20, 6]", "[100, 23, 20, 6]")
HOUSE = """rushlight: 1
subject: {title: house, scale: 72, invented: true}
states: [{name: dusk}, {name: night}]
parts:
  - {name: front, outline_mm: [[0, 0], [300, 0], [300, 60], [0, 60]], relief: {flat: true},
     openings: [{name: a, rect_mm: [60, 20, 12, 12], diffusers: [{sheet: %s}]}, {name: b, rect_mm: [120, 20, 12, 12], diffusers: [{sheet: tracing paper}]},
                {name: c, rect_mm: [180, 20, 12, 12], diffusers: [{sheet: tracing paper}]}]}
%slamps:
  - {name: la, part: front, at_mm: [66, 26], opening: a, source: {kind: room}, colour: warm white, states: [dusk, night]}
  - {name: lb, part: front, at_mm: [126, 26], opening: b, source: {kind: room}, colour: warm white, states: [dusk, night]%s}
  - {name: lc, part: front, at_mm: [186, 26], opening: c, source: {kind: room}, colour: warm white, states: [%s]%s}
pinned: [%s]
supply: {kind: adapter, adapter_v: 5, limit_a: 1, run_h: 10}
"""


def house(sheet: str = "tracing paper", *, shared: str = "", b: str = "", c: str = "", lit: str = "dusk, night", held: str = "") -> Design:
    spaces = f"spaces: [{{name: parlour, parts: [front], size_mm: [60, 40, 40], windows: [{shared}]}}]\n" if shared else ""
    return designed(HOUSE % (sheet, spaces, b, lit, c, held))


def test_windows_of_one_strip_are_compared_by_their_mean_luminance() -> None:
    made = designed(wall(TWO, along="[[50, 26], [100, 26]]"))
    (row,) = made.light.alike
    lit = {light.lamp: light.luminance_cd_m2.typical for light in made.light.lamps}
    assert (row.name, row.kind, row.brightest, row.dimmest) == ("glow", "strip", "glow: w0", "glow: w1")
    assert row.ratio == pytest.approx(lit["glow: w0"] / lit["glow: w1"], rel=1e-12)
    assert dict(row.over_dimmest)["glow: w0"] == row.ratio
    assert alike_table(made).rows[0][:5] == ("glow", "on", "w0", "w1", row.ratio)


def test_a_single_window_and_windows_of_other_leds_are_not_compared() -> None:
    assert designed(wall()).light.alike == ()
    assert house().light.alike == ()


def test_windows_of_one_led_are_compared_and_those_that_the_plan_wants_apart_are_not() -> None:
    shared = house("opal acrylic 3 mm", shared="a, b, c")
    (row,) = shared.light.alike
    assert (row.name, row.kind, row.dimmest) == (shared.loom.emitters[0].name, "room", "la")
    apart = house("opal acrylic 3 mm", shared="a, b, c", b=", brightness: {seen_in: beacon}")
    assert [lamp for lamp, _ in apart.light.alike[0].over_dimmest] == ["la", "lc"]


def test_what_is_asked_times_as_bright_counts_so() -> None:
    made = house(shared="a, b, c", b=", brightness: {like: la, ratio: 2}", c=", brightness: {like: la}")
    own = next(row for row in made.light.alike if row.kind == "room")
    lit = {light.lamp: light.luminance_cd_m2.typical for light in made.light.lamps}
    assert own.dimmest == "lb" and own.ratio == pytest.approx(2 * max(lit["la"], lit["lc"]) / lit["lb"])


def test_windows_that_are_like_one_lamp_are_compared_to_each_other() -> None:
    like = {"b": ", brightness: {like: la}", "c": ", brightness: {like: la}"}
    held = '{of: lb, choice: current_ma, value: "%s"}, {of: lc, choice: current_ma, value: "%s"}, {of: la, choice: current_ma, value: "2"}'
    made = house(held=held % (2.6, 1.5), **like)
    (row,) = made.light.alike
    assert (row.name, row.kind, row.brightest, row.dimmest) == ("la", "like", "lb", "lc")
    told = [one for one in find(made) if one.key == "light.windows-differ"]
    assert "light.like-mismatch" not in {one.key for one in find(made)} and len(told) == 1 and "as each other" in told[0].says
    far = house(held=held % (8, 1.5), **like)
    assert {"light.like-mismatch"} == {one.key for one in find(far)} & {"light.like-mismatch", "light.windows-differ"}


def test_only_windows_that_are_lit_together_are_compared() -> None:
    made = designed(wall(TWO, along="[[50, 26], [100, 26]]"))
    assert {row.state for row in made.light.alike} == {"on"}
    apart = house("opal acrylic 3 mm", b=", brightness: {like: la}", lit="night", c=", brightness: {like: la}")
    (row,) = apart.light.alike
    assert row.state in ("dusk", "night") and {lamp for lamp, _ in row.over_dimmest} >= {"la", "lb"}


def test_sheets_go_behind_the_fewest_windows_that_do_and_none_where_none_helps() -> None:
    dims = {"thin": 0.8, "thick": 0.5}

    def chosen(*lit: float) -> tuple[tuple[str | None, ...], ...]:
        return sheets_behind(lit, [{name: share * now for name, share in dims.items()} for now in lit], 1.5)

    assert chosen(1.0, 1.0) == ()
    assert chosen(1.0, 1.6)[0] == (None, "thin")
    assert chosen(2.2, 1.0, 1.0)[0] == ("thick", None, None)
    assert chosen(2.2, 1.7, 1.0)[-1] == ("thick", "thin", None)
