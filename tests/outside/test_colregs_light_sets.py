"""Light sets of vessels against the published rules, written out by hand.

Source: Convention on the International Regulations for Preventing Collisions at Sea, 1972 (COLREGs), as amended,
Rules 20 to 30, and Annexes I and II; also printed as 33 CFR part 83. Rule numbers stand beside each set.
"""

import pytest

from rushlight.stages.subject_lights import SubjectRequest, required_lights

MASTHEAD = ("white", 225)
PORT, STARBOARD, STERN = ("red", 112.5), ("green", 112.5), ("white", 135)
TOWING = ("yellow", 135)
WHITE, RED, GREEN = ("white", 360), ("red", 360), ("green", 360)
SIDES_STERN = [PORT, STARBOARD, STERN]


def shown(state, **facts):
    """Colour and arc of each lamp that must be shown, sorted."""
    answer = required_lights(SubjectRequest(kind="ship", state=state, **facts))
    lamps = [lamp for lamp in answer.lamps if lamp.requirement == "must" and lamp.arc_deg is not None]
    return sorted((lamp.colour, lamp.arc_deg) for lamp in lamps for _ in range(lamp.count))


def allowed(state, **facts):
    answer = required_lights(SubjectRequest(kind="ship", state=state, **facts))
    return sorted(lamp.light for lamp in answer.lamps if lamp.requirement == "may")


SETS = [
    # state, facts, lamps  # source: rule
    ("under way", {"length_m": 180}, [MASTHEAD, MASTHEAD, *SIDES_STERN]),  # source: Rule 23(a)(i)-(iv)
    ("under way", {"length_m": 50}, [MASTHEAD, MASTHEAD, *SIDES_STERN]),  # source: 23(a)(ii), not under 50 m
    ("under way", {"length_m": 49.9}, [MASTHEAD, *SIDES_STERN]),  # source: Rule 23(a)(ii), not obliged
    ("under way", {"length_m": 10}, [MASTHEAD, *SIDES_STERN]),  # source: Rule 23(a)
    ("power under way, all-round option", {"length_m": 10}, [WHITE, PORT, STARBOARD]),  # source: Rule 23(d)(i)
    ("power under way, small and slow", {"length_m": 5, "speed_kn": 6}, [WHITE]),  # source: Rule 23(d)(ii)
    ("air-cushion vessel, non-displacement", {"length_m": 25},
     [MASTHEAD, *SIDES_STERN, ("yellow", 360)]),  # source: Rule 23(b)
    ("WIG craft near the surface", {"length_m": 25}, [MASTHEAD, *SIDES_STERN, RED]),  # source: Rule 23(c)
    ("towing", {"length_m": 32, "tow_length_m": 150},
     [MASTHEAD] * 2 + [*SIDES_STERN, TOWING]),  # source: Rule 24(a)(i)-(iv)
    ("towing", {"length_m": 32, "tow_length_m": 200},
     [MASTHEAD] * 2 + [*SIDES_STERN, TOWING]),  # source: Rule 24(a)(i): three only when it exceeds 200 m
    ("towing", {"length_m": 32, "tow_length_m": 300},
     [MASTHEAD] * 3 + [*SIDES_STERN, TOWING]),  # source: Rule 24(a)(i)
    ("towing", {"length_m": 70, "tow_length_m": 300},
     [MASTHEAD] * 4 + [*SIDES_STERN, TOWING]),  # source: Rule 24(a)(i) with 24(d): the after light of 23(a)(ii)
    ("pushing", {"length_m": 30}, [MASTHEAD] * 2 + SIDES_STERN),  # source: Rule 24(c): no towing light
    ("composite unit (rigid push)", {"length_m": 120}, [MASTHEAD] * 2 + SIDES_STERN),  # source: Rule 24(b)
    ("being towed", {"length_m": 60, "propulsion": "being towed"}, SIDES_STERN),  # source: Rule 24(e)
    ("being pushed ahead", {"length_m": 60, "propulsion": "being towed"}, [PORT, STARBOARD]),  # source: Rule 24(f)(i)
    ("being towed alongside", {"length_m": 60, "propulsion": "being towed"}, SIDES_STERN),  # source: Rule 24(f)(ii)
    ("inconspicuous tow", {"length_m": 60, "breadth_m": 10, "propulsion": "being towed"},
     [WHITE] * 2),  # source: Rule 24(g)(i)
    ("inconspicuous tow", {"length_m": 60, "breadth_m": 30, "propulsion": "being towed"},
     [WHITE] * 4),  # source: Rule 24(g)(ii)
    ("inconspicuous tow", {"length_m": 250, "breadth_m": 10, "propulsion": "being towed"},
     [WHITE] * 4),  # source: Rule 24(g)(iii): 250 m in three gaps of at most 100 m
    ("under way", {"length_m": 25, "propulsion": "sailing"}, SIDES_STERN),  # source: Rule 25(a)
    ("sailing under way, tricolour", {"length_m": 12, "propulsion": "sailing"}, SIDES_STERN),  # source: Rule 25(b)
    ("under sail with engine running", {"length_m": 14, "propulsion": "sailing"},
     [MASTHEAD, *SIDES_STERN]),  # source: Rule 3(b), 3(c)
    ("trawling", {"length_m": 60, "moving": "making way"},
     [GREEN, WHITE, MASTHEAD, *SIDES_STERN]),  # source: Rule 26(b)(i)-(iii)
    ("trawling", {"length_m": 60, "moving": "not making way"}, [GREEN, WHITE, MASTHEAD]),  # source: Rule 26(b)(i), (ii)
    ("trawling", {"length_m": 25, "moving": "not making way"}, [GREEN, WHITE]),  # source: 26(b)(ii), under 50 m may
    ("fishing", {"length_m": 25, "moving": "making way"}, [RED, WHITE, *SIDES_STERN]),  # source: Rule 26(c)(i), (iii)
    ("fishing", {"length_m": 25, "moving": "not making way"}, [RED, WHITE]),  # source: Rule 26(c)(i)
    ("fishing, gear out more than 150 m", {"length_m": 25, "moving": "making way"},
     [RED, WHITE, WHITE, *SIDES_STERN]),  # source: Rule 26(c)(ii)
    ("trawling, hauling nets", {"length_m": 25, "moving": "not making way"},
     [GREEN, WHITE, WHITE, RED]),  # source: Annex II 2(a)(ii)
    ("not under command", {"length_m": 80, "moving": "not making way"}, [RED, RED]),  # source: Rule 27(a)(i)
    ("not under command", {"length_m": 80, "moving": "making way"}, [RED, RED, *SIDES_STERN]),  # source: 27(a)(iii)
    ("restricted in ability to manoeuvre", {"length_m": 30, "moving": "making way"},
     [RED, WHITE, RED, MASTHEAD, *SIDES_STERN]),  # source: Rule 27(b)(i), (iii)
    ("restricted in ability to manoeuvre", {"length_m": 80, "moving": "making way"},
     [RED, WHITE, RED, MASTHEAD, MASTHEAD, *SIDES_STERN]),  # source: Rule 27(b)(i), (iii)
    ("restricted in ability to manoeuvre", {"length_m": 30, "moving": "at anchor"},
     [RED, WHITE, RED, WHITE]),  # source: Rule 27(b)(iv) with 30(b)
    ("towing and restricted", {"length_m": 32, "tow_length_m": 300},
     [MASTHEAD] * 3 + [*SIDES_STERN, TOWING, RED, WHITE, RED]),  # source: Rule 27(c)
    ("dredging or underwater work, obstruction one side", {"length_m": 60, "moving": "at anchor"},
     [RED, WHITE, RED, RED, RED, GREEN, GREEN]),  # source: Rule 27(d)(i)-(iii): in place of the anchor lights
    ("dredging or underwater work, obstruction one side", {"length_m": 30, "moving": "making way"},
     [RED, WHITE, RED, RED, RED, GREEN, GREEN, MASTHEAD, *SIDES_STERN]),  # source: Rule 27(d) with 27(b)(iii)
    ("diving, small vessel", {"length_m": 8}, [RED, WHITE, RED]),  # source: Rule 27(e)(i)
    ("mine clearance", {"length_m": 45, "moving": "making way"},
     [GREEN] * 3 + [MASTHEAD, *SIDES_STERN]),  # source: Rule 27(f)
    ("mine clearance", {"length_m": 45, "moving": "at anchor"}, [GREEN] * 3 + [WHITE]),  # source: Rule 27(f) with 30(b)
    ("pilot vessel on duty", {"length_m": 20, "moving": "making way"},
     [WHITE, RED, *SIDES_STERN]),  # source: Rule 29(a)(i), (ii)
    ("pilot vessel on duty", {"length_m": 20, "moving": "not making way"},
     [WHITE, RED, *SIDES_STERN]),  # source: Rule 29(a)(ii) with 3(i): stopped but free is under way
    ("pilot vessel on duty", {"length_m": 20, "moving": "at anchor"}, [WHITE, RED, WHITE]),  # source: Rule 29(a)(iii)
    ("at anchor", {"length_m": 120}, [WHITE, WHITE]),  # source: Rule 30(a)
    ("at anchor", {"length_m": 30}, [WHITE]),  # source: Rule 30(b)
    ("at anchor", {"length_m": 6}, [WHITE]),  # source: Rule 30(b); 30(e) frees only away from a fairway
    ("at anchor, out of the way", {"length_m": 6}, []),  # source: Rule 30(e)
    ("aground", {"length_m": 80}, [WHITE, WHITE, RED, RED]),  # source: Rule 30(d)(i)
    ("aground", {"length_m": 30}, [WHITE, RED, RED]),  # source: Rule 30(d)(i) with 30(b)
    ("aground, small", {"length_m": 11}, [WHITE]),  # source: Rule 30(f)
]


@pytest.mark.parametrize(("state", "facts", "lamps"), SETS, ids=[f"{row[0]} {row[1]}" for row in SETS])
def test_the_lamps_that_must_show(state, facts, lamps):
    assert shown(state, **facts) == sorted(lamps)


@pytest.mark.parametrize(
    ("state", "facts", "lamps"),
    [
        ("under way", {"length_m": 30}, ["masthead_after"]),  # source: Rule 23(a)(ii)
        ("constrained by draught", {"length_m": 200}, ["allround_red"]),  # source: Rule 28 (three, in a vertical line)
        ("trawling", {"length_m": 30, "moving": "making way"}, ["masthead"]),  # source: Rule 26(b)(ii)
        ("under oars", {"length_m": 5, "propulsion": "oars"},
         ["side_port", "side_starboard", "stern"]),  # source: Rule 25(d)(ii)
        ("at anchor", {"length_m": 60}, ["deck lights"]),  # source: Rule 30(c)
    ],
)
def test_the_lamps_that_may_show(state, facts, lamps):
    assert allowed(state, **facts) == lamps


@pytest.mark.parametrize(("length_m", "requirement"), [(99.9, "may"), (100.0, "must")])
def test_deck_lights_at_anchor_from_100_m(length_m, requirement):
    # source: Rule 30(c)
    answer = required_lights(SubjectRequest(kind="ship", state="at anchor", length_m=length_m))
    assert [lamp.requirement for lamp in answer.lamps if lamp.light == "deck lights"] == [requirement]


def test_a_ship_aground_keeps_the_anchor_lights_without_the_deck_lights():
    # source: Rule 30(d): "the lights prescribed in paragraph (a) or (b)"
    answer = required_lights(SubjectRequest(kind="ship", state="aground", length_m=150))
    assert "deck lights" not in [lamp.light for lamp in answer.lamps]


@pytest.mark.parametrize("state", ["not under command, making way", "restricted in ability to manoeuvre, making way"])
def test_under_12_m_these_signals_are_not_required(state):
    # source: Rule 27(g)
    answer = required_lights(SubjectRequest(kind="ship", state=state, length_m=11.9))
    assert answer.lamps == ()
    assert any("exempt" in note for note in answer.notes)


RANGES = [
    # length_m, masthead, sidelight, stern, all-round [nmi]  # source: Rule 22(a)-(c)
    (50, 6, 3, 3, 3), (49, 5, 2, 2, 2), (20, 5, 2, 2, 2), (19, 3, 2, 2, 2), (12, 3, 2, 2, 2), (11, 2, 1, 2, 2),
]


@pytest.mark.parametrize(("length_m", "masthead", "side", "stern", "allround"), RANGES)
def test_visible_ranges(length_m, masthead, side, stern, allround):
    under_way = required_lights(SubjectRequest(kind="ship", state="under way", length_m=length_m))
    anchored = required_lights(SubjectRequest(kind="ship", state="at anchor", length_m=length_m))
    ranges = {lamp.light: lamp.range_nmi for lamp in (*under_way.lamps, *anchored.lamps)}
    found = [ranges[light] for light in ("masthead", "side_port", "stern", "allround_white")]
    assert found == [masthead, side, stern, allround]


def test_inconspicuous_tows_are_seen_three_miles_off():
    # source: Rule 22(d)
    asked = SubjectRequest(kind="ship", state="inconspicuous tow", propulsion="being towed", length_m=9, breadth_m=3)
    assert {lamp.range_nmi for lamp in required_lights(asked).lamps} == {3.0}
