"""Switches whose answer the electrical trade knows, and what a stuck contact of each shows.

Sources: changeover (single pole, double throw) and centre-off switches, two-pole switches and steering diodes as any
handbook of electrical installation or of model railway wiring gives them; the symbols' positions are those of
IEC 60617 (make, break, changeover contact). The words are common practice, no source beyond that. Colours of a ring
and of a complete graph: any text on graph theory.
"""

from __future__ import annotations

from rushlight.electric.switch import least_colouring, switch_plans
from rushlight.electric.switch_proof import proof
from rushlight.electric.switch_stuck import shown, stuck_contacts
from rushlight.files.drawer_csv import read_drawer


def of_family(states, circuits, name):
    return next(plan for plan in switch_plans(states, circuits) if plan.family == name)


def test_one_lamp_or_the_other_takes_one_changeover_with_centre_off() -> None:
    plan = switch_plans(["under way", "anchor"], {"masthead": ["under way"], "all round": ["anchor"]})[0]
    assert plan.kind is not None
    assert (plan.kind.poles, plan.kind.throws, plan.kind.centre_off, plan.master) == (1, 2, True, False)
    assert proof(plan).wrong == ()


def test_a_lamp_that_always_burns_takes_the_on_off_switch_alone() -> None:
    plan = switch_plans(["on"], {"lamp": ["on"]})[0]
    assert plan.poles == 0 and plan.master and plan.always == ("lamp",)


def test_one_lamp_in_both_throws_takes_a_diode_or_a_second_pole() -> None:
    """Parking lamps burn with head lamps too: joined without a diode the head lamps would burn with the parking."""
    lit = {"head": ["road"], "side": ["road", "park"], "spare": ["third"]}
    assert of_family(["road", "park", "third"], lit, "poles").poles == 2
    plan = of_family(["road", "park", "third"], lit, "diodes")
    assert len(plan.diodes) == 1 and proof(plan).wrong == ()


def test_a_welded_contact_burns_on_and_a_broken_one_stays_dark() -> None:
    """Welded: the lamp of that throw burns in the other position and at centre off. Open: dark in its own alone."""
    plan = switch_plans(["up", "down"], {"red": ["up"], "green": ["down"]})[0]
    shows = {(row.terminal, row.welded): shown(row) for row in stuck_contacts(plan)}
    assert shows == {
        ("1", True): "'down': red lit too; off: red lit too", ("1", False): "'up': red dark",
        ("3", True): "'up': green lit too; off: green lit too", ("3", False): "'down': green dark",
    }


def test_contacts_in_the_plus_alone_never_short_the_supply() -> None:
    """Every contact sits between plus and a lamp, so one that welds can only light lamps."""
    lit = {"a": ["1", "2"], "b": ["1", "3"], "c": ["2", "3"], "d": ["1", "2", "3"]}
    for name in ("poles", "diodes", "plain"):
        assert not any(row.shorts for row in stuck_contacts(of_family(["1", "2", "3"], lit, name)))


def test_least_poles_are_least_colours() -> None:
    ring = [{(k - 1) % 5, (k + 1) % 5} for k in range(5)]
    full = [set(range(4)) - {k} for k in range(4)]
    assert max(least_colouring(ring)) + 1 == 3 and max(least_colouring(full)) + 1 == 4
    assert least_colouring([]) == ()
    colours = least_colouring(ring)
    assert all(colours[a] != colours[b] for a, near in enumerate(ring) for b in near)


def test_the_latching_reed_keeps_to_the_power_of_its_data_sheet() -> None:
    """Contact form E (latching): 10 W resistive, 14 mm of glass (manufacturers' tables of latching reed switches)."""
    reed = next(part for part in read_drawer(None).switches if part.name == "reed 1P1T, latching")
    assert reed.contact_a * 18.0 <= 10.0  # 18 V: the most that a driver bears
    assert (reed.poles, reed.throws, reed.off) == (1, 1, True) and reed.length_mm >= 14.0
