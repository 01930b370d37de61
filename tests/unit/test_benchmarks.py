"""The benchmarks' own parts: the made-up plan has as many lamps as it is asked for, the tables are whole."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import numpy as np
import pytest

from designed import planned
from large_plan import large_plan
from rushlight.stages.lamps import place_lamps

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))


@pytest.mark.parametrize("lamps", [1, 10, 99, 100, 250, 500])
def test_a_made_up_plan_has_as_many_lamps_as_asked(lamps: int) -> None:
    placed = place_lamps(planned(large_plan(lamps)))
    assert len(placed) == lamps
    assert all(lamp.states and lamp.spot for lamp in placed)


def test_a_step_that_cannot_be_done_says_why() -> None:
    import bench_scale

    def broken() -> None:
        raise ValueError("no typesetter")

    assert bench_scale._tried(broken) == {"seconds": None, "peak_mb": None, "why": "ValueError: no typesetter"}


def test_growth_is_told_against_the_size_before() -> None:
    import bench_scale

    steps = {step: {"seconds": 3.0, "peak_mb": 90.0, "why": None} for step in bench_scale.STEPS}
    row = bench_scale._row(100, "design", {"lamps": 100, **steps}, (10, 0.5))
    assert row["grown"] == "6.0 for 10 times the lamps"
    assert bench_scale._row("tug", "design", {"lamps": 125, **steps}, (10, 0.5))["grown"] is None


def test_a_sheet_that_grows_with_the_square_of_the_lamps_stands_on_top() -> None:
    import bench_sheets

    steps = {size: {"whole book": size / 10, "straight": size / 50, "square": size**2 / 1e4, "short": 1e-3} for size in (50, 100, 200)}
    rows = bench_sheets.rows_of(steps)
    assert [(row["step"], row["power"]) for row in rows] == [("whole book", 1.0), ("square", 2.0), ("straight", 1.0)]
    assert rows[1]["s_at_50"] == 0.25 and rows[1]["s_at_200"] == 4.0


def test_the_networks_growth_is_told_against_the_size_before_and_its_memory_with_it() -> None:
    import bench_network

    rows: list[dict[str, object]] = [{"set_up_ms": 1.0, "solve_ms": 1.0}, {"set_up_ms": 4.0, "solve_ms": 8.0}]
    first, then = bench_network._with_growth((10, 100), rows)
    assert first["grown"] is None and then["grown"] == "6.0 for 10 times the LEDs"
    small, large = (bench_network._peak_mb(bench_network.made_loom(leds, 1)) for leds in (10, 100))
    assert 0 < small < large


def test_tables_leave_out_what_no_row_fills() -> None:
    import prove

    rows: list[dict[str, object]] = [{"task": "a|b", "why": None, "s": 1.5}, {"task": "c", "why": None, "s": None}]
    assert prove.table(rows) == "| task | s |\n| --- | --- |\n| a/b | 1.5 |\n| c |  |\n"


def test_the_direct_double_loop_agrees_with_the_map() -> None:
    import bench_light

    row = bench_light._pools()
    assert float(str(row["note"]).split()[-1]) < 1e-9
    assert isinstance(row["ratio"], float) and row["ratio"] > 1


def test_what_is_likely_agrees_with_draws() -> None:
    import bench_light

    row = bench_light._likely()
    assert float(re.findall(r"[\d.]+", str(row["note"]))[0]) < 10  # 2,000 draws scatter by 1.6 %, the worst of 2,000 by some four times
    assert isinstance(row["ratio"], float) and row["ratio"] > 1


def test_the_ranking_of_readings_is_timed_beside_the_light_stage() -> None:
    import bench_light

    row = bench_light._readings(10)
    assert int(str(row["note"]).split()[0]) > 10 and row["size"] == 10
    assert isinstance(row["ratio"], float)


def test_shares_of_light_agree_with_general_ways() -> None:
    import bench_coupling

    from rushlight.optics import fibre

    asked: bench_coupling.Asked = []
    before = fibre.point_fraction, fibre.patch_fraction
    with bench_coupling.listened(asked):
        fibre.point_fraction(4.8, gap_mm=2.0, core_radius_mm=0.49, offset_mm=0.9, na=0.5)
        fibre.patch_fraction(patch_radius_mm=1.1, gap_mm=0.5, core_radius_mm=0.24, offset_mm=0.0, na=0.5)
        fibre.patch_fraction(patch_radius_mm=2.4, gap_mm=0.5, core_radius_mm=0.24, offset_mm=1.0, na=0.5, order=4.8)
    assert (fibre.point_fraction, fibre.patch_fraction) == before and [kind for kind, _ in asked] == ["point", *["patch"] * 2]
    ours, mine, general, other = bench_coupling.asked_again(asked)
    assert ours == pytest.approx(general, rel=0.05) and other > mine  # the coarse grid of the sums over pairs


def test_light_in_a_matt_channel_agrees_with_parcels_followed_by_chance() -> None:
    import bench_coupling

    note = str(bench_coupling.window_row()["note"])
    # Some 15,000 parcels meet each of the eight bands: their own scatter is under 1 %.
    assert float(note.partition("bands ")[2].partition(" %")[0]) < 2


def test_every_switch_is_found_and_proved() -> None:
    import bench_switch

    row = bench_switch._row(2)
    assert (row["classes"], row["wrong"]) == (5, 0) and int(str(row["plans"])) >= 5


def test_the_picture_by_night_agrees_with_a_direct_sum() -> None:
    import bench_night

    rows = bench_night._engine(160, 120, 8)
    assert all("median" in str(row["note"]) and float(str(row["note"]).split("median ")[1].split("%")[0]) < 10 for row in rows[:2])


def test_calls_are_timed_in_turn_and_the_first_turn_is_not_counted() -> None:
    from in_turn import in_turn, ratio_of

    order: list[str] = []
    took = in_turn([lambda: order.append("ours"), lambda: order.append("theirs")], 3)
    assert order == ["ours", "theirs"] * 4 and took.shape == (2, 3)
    ratio, half = ratio_of(np.array([2.0, 4.0, 60.0]), np.array([1.0, 1.0, 10.0]))
    assert ratio == 4.0 and half == "3.0 to 5.0"  # derived: 2, 4 and 6 times; one slow turn slows both


def test_the_network_and_ngspice_take_turns(monkeypatch) -> None:
    import bench_network

    order: list[str] = []
    real = bench_network.operating_point

    def ours(*args, **named):
        order.append("ours")
        return real(*args, **named)

    monkeypatch.setattr(bench_network, "operating_point", ours)
    monkeypatch.setattr(bench_network, "_spice", lambda loom, folder: lambda: order.append("ngspice"))
    monkeypatch.setattr(bench_network, "_worst", lambda loom, node_v: 0.0)
    row = bench_network._row(10, 2)
    assert order[:6] == ["ours", "ngspice"] * 3 and isinstance(row["ngspice_over_ours"], float)


def test_strings_are_measured_beside_the_loom_of_the_same_design() -> None:
    import bench_strings

    row = bench_strings._row(1, 8, 1)
    assert row["strings_built"] and row["lengths_weighed"] and float(str(row["strings_over_loom"])) > 0


def test_another_supply_is_measured_beside_the_whole_design_and_is_the_same() -> None:
    import bench_supplies

    row = bench_supplies._row("lantern", "a USB adapter", {"kind": "usb adapter"}, 1)
    assert row["same"] is True and float(str(row["design_over_candidate"])) > 0


def test_some_benchmarks_may_be_measured_anew_and_the_others_stay() -> None:
    import prove

    page = "# Benchmarks\n\nhead\n\n## Light\n\nold light\n\n## The evening\n\nold evening\n"
    found = prove.renewed(page, {"The evening": "## The evening\n\nnew\n", "The DC network": "## The DC network\n\nn\n"})
    assert found == ("# Benchmarks\n\nhead\n\n## Light\n\nold light\n\n## The DC network\n\nn\n\n"
                     "## The evening\n\nnew\n")
    with pytest.raises(SystemExit, match="not a benchmark: nonsense"):
        prove._only(["prove.py", "--only", "nonsense"])
