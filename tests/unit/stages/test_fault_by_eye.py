"""The whole test without a meter, against the search for a fault and by reason."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from book_designs import small
from designed import designed
from plans import board, windows
from rushlight.electric.fault import Fault
from rushlight.model.sheet import Table
from rushlight.sheets.by_eye import draw, eye_words, hidden_words, left_words, places_words, sum_words
from rushlight.stages.fault_by_eye import KINDS, EyeTest, Likes, eye_test, marks_of, place_of
from rushlight.stages.fault_finding import Probe, Seen, known_faults, verdict
from rushlight.stages.fault_known import KnownFaults, identity
from rushlight.stages.fault_looks import Looks, beside, looks_of
from rushlight.stages.fault_next import alike
from rushlight.stages.parts_law import emitter_light_a
from seeded_faults import bench


@cache
def looked_at(name: str) -> tuple[KnownFaults, EyeTest]:
    design = small() if name == "small" else bench(name).design
    known = known_faults(design, exact=True, usual=True)
    return known, eye_test(known)


def test_one_dark_lamp_is_its_own_led_or_one_of_its_two_leads() -> None:
    _, test = looked_at("lantern")
    row = next(row for row in test.rows if [sorted(look.dark) for _, look in row.looks] == [[], ["green glass"]])
    assert row.enough == "lamp" and row.branch == "green glass"
    assert set(row.places) == {"lead B3", "lead R4", "green glass"}
    assert {fault.kind for fault in row.faults} >= {"open", "reversed"}


def test_dim_is_what_gives_little_light_not_what_takes_little_current() -> None:
    """Red LEDs at a milliampere, far below their best: a cold joint takes more of the light than of the current."""
    lamps = "\n".join(f"{{name: {name}, part: board, at_mm: [{20 + 30 * k}, 50], colour: red, model_mm: 3, "
                      "states: day}" for k, name in enumerate("abc"))
    known = known_faults(designed(board(lamps, supply="supply: {kind: adapter, adapter_v: 5, bay: bay}\n",
                                        more="pinned: [{of: A, choice: resistor_ohm, value: '2400'}]\n")), exact=True)
    bank, looks = known.bank, looks_of(known.bank, known.bank, 0)
    amps, light = (each[:, :, 0] / each[0, :, 0] for each in (bank.amps, bank.light_a))
    apart = (amps > 0.7) & (light < 0.7) & (amps.max(axis=1, keepdims=True) > 0.98)
    row, lamp = np.argwhere(apart)[0].tolist()
    case = next(k for k, one in enumerate(bank.cases) if row in (one.low, one.high))
    assert looks.perhaps[case, lamp] and not looks.dark[case, lamp]
    names = bank.emitters[lamp], bank.emitters[int(amps[row].argmax())]
    assert beside(bank, bank, Probe("beside", "day", *names), cases=[case])[0, 0] == -1
    emitter = known.design.loom.emitter(names[0])
    assert bank.light_a[row, lamp, 0] == pytest.approx(
        emitter_light_a(known.design.drawer, emitter, bank.amps[row, lamp, 0]).typical)


def test_a_contact_that_sticks_is_named_by_the_eye_alone() -> None:
    known, test = looked_at("lantern")
    row = next(row for row in test.rows if any(look.lit for _, look in row.looks))
    assert row.enough == "place" and [fault.kind for fault in row.faults] == ["stuck"]
    assert "switch" in places_words(known.design, row.places)


def test_each_row_holds_what_the_search_finds_with_the_same_looks() -> None:
    """The search asks the same faults one finding after another."""
    known, test = looked_at("lantern")
    for row in test.rows:
        seen = [Seen(Probe("look", state), dark=look.dark, dim=look.dim, lit=look.lit) for state, look in row.looks]
        found = verdict(known, seen, ways=("look",))
        places = {place_of(fault) for group in found.suspects for fault in group.faults} | {
            place_of(fault) for fault in found.further}
        assert places - {""} == set(row.places)


def test_every_fault_that_shows_stands_in_a_row_and_every_other_is_hidden() -> None:
    for name in ("lantern", "small"):
        known, test = looked_at(name)
        told = {place_of(fault) for row in test.rows for fault in row.faults} | {place_of(one) for one in test.hidden}
        assert {place_of(identity(case.fault)) for case in known.bank.cases} <= {*told, ""}


def test_two_lamps_beside_each_other_part_what_looks_alike() -> None:
    lamp = "{{name: l{n}, part: board, at_mm: [{x}, 70], colour: red, model_mm: 3, states: night}}"
    four = designed(board("\n".join(lamp.format(n=n, x=20 + 20 * n) for n in range(4))))
    test = eye_test(known_faults(four, exact=True, usual=True))
    compared = [row for row in test.rows if row.compare]
    assert compared and all(row.enough == "no" for row in compared)
    dim = next(row for row in compared if row.looks[1][1].dim == {"l3"})
    assert dim.compare and dim.compare.plus == "l3" and set(dict(dim.parts)[-1]) == {"l0", "l3"}  # or l0 is too bright
    assert "compare l3 with" in left_words(four, dim)
    for row in compared:
        assert set().union(*(places for _, places in row.parts)) == set(row.places)
        assert min(len(places) for _, places in row.parts) < len(row.places)


def test_the_sheet_has_a_row_for_each_look_and_counts_them() -> None:
    known, test = looked_at("lantern")
    words = eye_words(known, test)
    assert len(words) == len(test.rows) and all(all(row) for row in words)
    assert sum_words(test).startswith(f"Of {len(words)} looks")
    (sheet,) = draw(known.design)
    tables = [block for block in sheet.blocks if isinstance(block, Table)]
    assert sheet.key == "by-eye" and sum(len(table.rows) for table in tables) == len(test.rows) >= 9
    assert hidden_words(test) in tables[-1].caption


def test_what_is_seen_stands_by_its_kind_with_few_lamps_first() -> None:
    known, test = looked_at("lantern")
    kinds = [KINDS.index(row.kind) for row in test.rows]
    assert kinds == sorted(kinds) and {"one", "dim", "lit"} <= {row.kind for row in test.rows}
    for kind in KINDS:
        lamps = [len(set().union(*(look.dark | look.dim | look.lit for _, look in row.looks)))
                 for row in test.rows if row.kind == kind]
        assert lamps == sorted(lamps)
    (sheet,) = draw(known.design)
    alone = next(block for block in sheet.blocks if isinstance(block, Table) and block.key == "by-eye-one")
    assert ("green glass", "lead B3 (yellow) or lead R4 (black) or the LED") in alone.rows


def test_places_are_named_as_the_loom_names_them() -> None:
    assert place_of(Fault("wrong resistor", "dimmer flame")) == place_of(Fault("open", "flame / 1")) == "flame"
    assert place_of(Fault("bridged", "node SB1", other="node SR1")) == "SB1 and SR1"


def test_an_led_behind_fibres_is_told_by_the_lamps_that_are_seen() -> None:
    known, test = looked_at("small")
    told = " ".join(see for see, *_ in eye_words(known, test))
    assert "I1 (" in told and "bow" in told and "bow (" not in told


def test_most_lamps_are_told_by_those_that_are_left_out() -> None:
    lamp = ("{{name: l{n}, part: board, at_mm: [{x}, 50], colour: red, model_mm: 3, states: night, "
            "brightness: {{intensity_mcd: 50}}}}")
    made = designed(board("\n".join(lamp.format(n=n, x=20 + 12 * n) for n in range(8))))
    known = known_faults(made, usual=True)
    test = eye_test(known)
    told = {len(row.looks[1][1].dark): see for row, (see, *_) in zip(test.rows, eye_words(known, test), strict=True)}
    assert told[8] == "dark: all"
    assert told[1].startswith("dark: l") and "all" not in told[1]
    most = [(row, see) for row, (see, *_) in zip(test.rows, eye_words(known, test), strict=True)
            if "all but" in see and not row.looks[1][1].dim]
    assert most
    for row, see in most:
        lit = sorted({f"l{n}" for n in range(8)} - set(row.looks[1][1].dark))
        assert see == f"dark: all but {', '.join(lit)}" and len(lit) < 4


def test_a_strip_that_is_called_after_its_lamps_is_not_told_twice() -> None:
    known = known_faults(designed(windows(6)), usual=True)
    told = " ".join(see for see, *_ in eye_words(known, eye_test(known)))
    assert "lamp a and 5 more" in told and "more (" not in told


def test_an_led_whose_legs_touch_is_dark_though_its_current_flows() -> None:
    """By reason: the current passes the LED by; its resistor reads more than before."""
    known, test = looked_at("lantern")
    row = next(row for row in test.rows if Fault("short", "flame / 1") in row.faults)
    assert all("flame" in look.dark for _, look in row.looks)
    table = known.table
    case = table.faults.index(Fault("short", "flame / 1"))
    string = table.strings.index("flame / 1")
    assert (table.string_a[case, string] > table.string_a[0, string]).all() and (table.light_a()[case, string] == 0).all()
    assert (table.light_a()[0] == table.string_a[0]).all()


def drawn_looks(seed: int, cases: int = 60, lamps: int = 5) -> Looks:
    """Looks drawn at random, in which what is sure is also perhaps so."""
    chance = np.random.default_rng(seed)
    state = chance.choice(6, size=(cases, lamps), p=[0.55, 0.1, 0.1, 0.1, 0.1, 0.05])
    dark, dim, lit = (state == k for k in (0, 1, 2)) if seed % 2 else (state == k for k in (1, 2, 3))
    doubt = chance.random((cases, lamps)) < 0.3
    return Looks(tuple(f"l{k}" for k in range(lamps)), dark, dim, dim | doubt & ~dark, doubt & ~dark & (state == 4), lit,
                 lit | doubt)


@pytest.mark.parametrize("seed", range(12))
def test_looks_that_fit_are_those_of_the_plain_comparison_of_every_pair(seed: int) -> None:
    """Against the plain way: every case asked about every look, and numpy's own sorting of the looks."""
    looks = [drawn_looks(seed), drawn_looks(seed + 100)]
    marks = marks_of(looks)
    plain = np.unique(marks.sure, axis=0, return_index=True)[1].tolist()
    assert marks.heads() == plain and len(plain) > 20
    for head in plain:
        seen = [Seen(Probe("look", ""), dark=one.one(head).dark, dim=one.one(head).dim, lit=one.one(head).lit) for one in looks]
        fits = [k for k in range(len(marks.sure))
                if all(one.one(k).allows(row) for one, row in zip(looks, seen, strict=True))]
        assert marks.fits(head) == fits and head in fits


def test_looks_that_fit_in_a_whole_loom_are_those_of_the_plain_comparison() -> None:
    known, _ = looked_at("small")
    looks = [looks_of(known.bank, known.bank, number) for number in range(len(known.table.states))]
    marks = marks_of(looks)
    for head in marks.heads():
        fits = np.ones(len(known.bank.cases), bool)
        for one in looks:
            shown = one.one(head)
            fits &= one.allows(Seen(Probe("look", ""), dark=shown.dark, dim=shown.dim, lit=shown.lit))
        assert marks.fits(head) == np.flatnonzero(fits).tolist()


def test_the_like_of_a_lamp_is_that_of_the_plain_search_through_all() -> None:
    emitters = bench("tug").design.loom.emitters
    likes, found = Likes(emitters), 0
    for own in emitters:
        for among in ({row.name for row in emitters}, {row.name for row in emitters[1::2]}):
            plain = next((row.name for row in emitters if row.name in among and row is not own and alike(own, row)), "")
            assert likes.first(own.name, among) == plain
            found += bool(plain)
    assert found > 10


def test_two_lamps_beside_each_other_show_the_same_when_some_cases_are_asked_for() -> None:
    known, _ = looked_at("small")
    lit = [name for name, now in zip(known.bank.emitters, known.bank.amps[0, :, 1], strict=True) if now > 1e-3]
    probe = Probe("beside", known.table.states[1], lit[0], lit[1])
    whole, some = beside(known.bank, known.bank, probe), list(range(3, len(known.bank.cases), 7))
    assert np.array_equal(beside(known.bank, known.bank, probe, cases=some), whole[some]) and np.ptp(whole) > 0
