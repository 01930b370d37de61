"""The answer to where the fault is, as the screens show it."""

from __future__ import annotations

import json
from dataclasses import replace

from book_designs import BARE, of, small
from rushlight.model.design import Design
from rushlight.model.plan_bench import Done, Look, Reading
from rushlight.sheets.meter_use import mind
from rushlight.sheets.probe_use import probe_use
from rushlight.stages.fault_finding import Probe
from rushlight.stages.fault_names import FIND_STEP
from rushlight.web import fault_plain
from rushlight.web.fault_plain import fault_json


def told(*readings: Reading, looks: tuple[Look, ...] = ()) -> dict:
    return fault_json(noted(*readings, looks=looks))


def noted(*readings: Reading, looks: tuple[Look, ...] = (), sealed: bool = False) -> Design:
    design = small()
    log = (Done(step=FIND_STEP, how="begun", readings=readings, looks=looks, sealed=sealed),)
    return replace(design, plan=replace(design.plan, as_built=log))


DARK = (Look(state="dusk", dark=("bow",)), Look(state="night", dark=("bow",)))


def test_nothing_seen_yet_says_what_to_look_at() -> None:
    found = told()
    assert found["verdict"]["kind"] == "nothing yet" and found["verdict"]["suspects"] == []
    assert found["next"]["kind"] == "look" and found["next"]["meter"] is None
    dusk = next(row for row in found["states"] if row["state"] == "dusk")
    assert set(dusk["lamps"]) == {"bow", "stern"}
    assert found["lamps"]["bow"]["at"] == [190, 50] and {row["part"] for row in found["parts"]} == {"hull", "House"}
    assert any("longer leg" in text for text in found["how"])


def test_the_whole_test_without_a_meter_is_told() -> None:
    by_eye = told()["by_eye"]
    assert by_eye["says"].startswith(f"Of {len(by_eye['rows'])} looks")
    assert all(row["see"] and row["is"] for row in by_eye["rows"])


def test_a_dark_lamp_gives_ranked_faults_their_places_and_a_drawn_measurement() -> None:
    found = told(looks=DARK)
    judged, ahead = found["verdict"], found["next"]
    assert judged["kind"] == "found" and judged["counted"] == 2
    assert all(row["says"] and "fit" in row["sure"] for row in judged["suspects"])
    assert judged["drawings"] and "<svg" in judged["drawings"][0]["svg"]
    assert ahead["kind"] == "volts" and ahead["red"] and ahead["black"] and ahead["dial"] == "20 V DC"
    assert "<svg" in ahead["meter"] and ahead["drawings"] and "socket V" in ahead["mind"][0]
    numbers = {number for row in ahead["outcomes"] for number in row["means"]}
    assert numbers <= set(range(1, len(judged["suspects"]) + judged["more"] + 1))


def test_the_proposed_reading_narrows_it() -> None:
    """Typed in by its own name with the value that the first suspect would give, fewer are left."""
    before = told(looks=DARK)
    ahead = before["next"]
    low = float(ahead["outcomes"][0]["shows"].split()[0])
    after = told(Reading(gate=FIND_STEP, what=ahead["what"], value=low), looks=DARK)
    assert [row["counts"] for row in after["evidence"]] == [True] * 3
    assert 0 < len(after["verdict"]["suspects"]) + after["verdict"]["more"] < len(before["verdict"]["suspects"]) + before["verdict"]["more"]


def test_nothing_has_no_minus() -> None:
    probe = Probe("volts", "dusk", "bay A", "bay R")
    use = probe_use(probe, [(-1e-9, -1e-12), (4.5, 4.5)])
    assert use and (use.shows, use.expect, use.setting.words) == ("0.00", "0.00 V if it is 1", "20 V DC")
    assert probe_use(Probe("look", "dusk"), []) is None


def test_a_large_current_is_proposed_at_ten_ampere() -> None:
    use = probe_use(Probe("supply", "dusk"), [(350.0, 350.0)])
    assert use and (use.setting.socket, use.shows, use.where) == ("10 A", "0.35", "in the lead")
    assert use.lower is None and not any("turn down" in text for text in mind(use))


def test_a_current_that_may_be_much_or_little_is_begun_high_and_turned_down() -> None:
    use = probe_use(Probe("supply", "dusk"), [(40.0, 60.0), (350.0, 350.0)])
    assert use and use.setting.socket == "10 A" and use.lower and use.lower.words == "200 mA DC"
    assert any("shows less than 0.18 A" in text and "socket mA" in text for text in mind(use))
    branch = probe_use(Probe("supply", "dusk"), [(40.0, 60.0), (0.0, 0.0)])
    assert branch and branch.setting.words == "200 mA DC" and branch.lower is None


def test_all_fine_is_sound_and_a_contradiction_fits_nothing() -> None:
    fine = tuple(Look(state=state) for state in ("dusk", "night"))
    assert told(looks=fine)["verdict"]["kind"] == "sound"
    wrong = told(Reading(gate=FIND_STEP, what="supply current, dusk", value=5000.0), looks=fine)
    assert wrong["verdict"]["kind"] == "no fit" and wrong["next"] is None


def test_one_dark_fibre_is_the_fibre() -> None:
    design = small()
    bundle = next(row for row in design.loom.emitters if len(row.lamps) > 1 and row.kind == "illuminator")
    found = told(looks=(Look(state="night", dark=bundle.lamps[:1]),))
    assert "look at the fibre" in found["verdict"]["odd"][0] and bundle.lamps[0] in found["verdict"]["odd"][0]


def test_a_closed_model_is_measured_in_the_bay_alone() -> None:
    found = fault_json(noted(looks=DARK, sealed=True))
    assert found["next"] is None or found["next"]["kind"] in ("look", "supply") or "bay" in found["next"]["what"]


def test_without_a_loom_it_says_so() -> None:
    assert "no loom" in fault_json(of(BARE))["none"]


def test_faults_are_solved_once_while_readings_come(monkeypatch) -> None:
    told()
    monkeypatch.setattr(fault_plain, "known_faults", lambda design: (_ for _ in ()).throw(AssertionError("solved again")))
    told(looks=DARK)


def test_it_is_plain_data() -> None:
    assert json.loads(json.dumps(told(looks=DARK), allow_nan=False))


def test_a_short_that_blew_the_fuse_is_sought_with_the_ohmmeter() -> None:
    """All dark, no current, and full voltage before the fuse's far side: what is left is told apart with the supply off."""
    lit = {state.state: tuple(one.emitter for one in state.lit) for state in small().power.states}
    dark = tuple(Look(state=state, dark=tuple(lamp for name in on for lamp in small().loom.emitter(name).lamps))
                 for state, on in lit.items() if on)
    gone = [Reading(gate=FIND_STEP, what=f"supply current, {state}", value=0.0) for state in lit]
    bare = Reading(gate=FIND_STEP, what="dusk: bay R to bow+", value=0.0)
    found = told(*gone, bare, looks=dark)
    assert any("The fuse has gone because of it" in row["says"] for row in found["verdict"]["suspects"])
    assert found["next"]["kind"] == "ohms" and found["next"]["dial"] == "200 ohm" and found["next"]["unit"] == "ohm"


def test_what_was_mended_is_a_fact_and_the_others_are_ranked_again() -> None:
    first = told(looks=DARK)["verdict"]["suspects"][0]
    mended = Reading(gate=FIND_STEP, what=first["mend"], value=1.0, when="2026-01-01 11:00:00")
    old = tuple(replace(look, when="2026-01-01 10:00:00") for look in DARK)
    since = told(mended, looks=(*old[1:], replace(DARK[0], when="2026-01-01 12:00:00")))
    assert since["verdict"]["kind"] == "found" and first["says"] not in [row["says"] for row in since["verdict"]["suspects"]]
    rows = {row["what"]: row for row in since["evidence"]}
    assert rows[first["mend"]]["says"] == "taken as a fact" and rows[first["mend"]]["counts"]
    assert not rows["look, night"]["counts"] and "before the mend" in rows["look, night"]["why"]
    alone = told(mended, looks=old)
    assert alone["verdict"]["kind"] == "found" and alone["next"] is not None
