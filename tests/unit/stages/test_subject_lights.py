"""Asking what a subject must show, checking lamps against it, and putting lamps into a plan."""

from dataclasses import replace

import pytest

from rushlight.errors import OutOfRange, UnknownName
from rushlight.geometry.ship_light_places import (
    fishing_pair_height_m,
    forward_masthead_from_stem_m,
    forward_masthead_height_m,
    lights_between_ends,
    masthead_pair_distance_m,
    sidelight_height_m,
    vertical_spacing_m,
)
from rushlight.model.subject_light import FOR_MODELS, RULE_DECIDES
from rushlight.optics.visible_range import intensity_for_range_cd
from rushlight.stages.subject_lights import (
    KINDS,
    ShownLamp,
    SubjectRequest,
    as_lamp_entries,
    check_against,
    colour_family,
    kind_of_subject,
    known_states,
    required_lights,
)
from rushlight.tables import rows
from rushlight.timing.character import parse_rhythm


def asked(kind="ship", state="under way", **facts):
    return required_lights(SubjectRequest(kind=kind, state=state, **facts))


def shown_from(lights, **changes):
    """Every lamp that must show, as a model would carry it, without rule keys."""
    return tuple(
        ShownLamp(name=f"{lamp.light} {k}", colour=lamp.colour, arc_from_deg=lamp.bearing_from_deg,
                  arc_to_deg=lamp.bearing_to_deg, **changes)
        for lamp in lights.lamps if lamp.requirement in ("must", "if practicable") for k in range(lamp.count)
    )


def every_answer():
    ship = {"breadth_m": 10.0, "tow_length_m": 150.0}
    for kind in KINDS:
        for propulsion in ("power", "sailing", "oars", "being towed") if kind == "ship" else ("power",):
            for length_m in (6.0, 11.0, 15.0, 30.0, 60.0, 150.0) if kind == "ship" else (None,):
                for state in known_states(kind, length_m, propulsion):
                    facts = ship if kind == "ship" else {"height_m": 120.0}
                    yield SubjectRequest(kind=kind, state=state, length_m=length_m, propulsion=propulsion, **facts)


def test_every_known_state_has_an_answer_whose_parts_hold_together():
    count = 0
    for request in every_answer():
        try:
            answer = required_lights(request)
        except OutOfRange as refused:  # words such as 'not under command' that stand for a state of larger ships
            assert "length_m" in str(refused), request
            continue
        count += 1
        assert answer.statements == (FOR_MODELS, RULE_DECIDES)
        for lamp in answer.lamps:
            assert lamp.count >= 1 and lamp.name and lamp.source and lamp.colour in lamp.colours, (request, lamp)
            rate = parse_rhythm(lamp.rhythm).patterns_per_min
            assert rate >= (lamp.rate_min_per_min or 0) or lamp.rhythm == "steady" or "Al" in lamp.rhythm, lamp
            assert rate <= (lamp.rate_max_per_min or 1e9), lamp
            assert lamp.bearing_from_deg is None or 0 <= lamp.bearing_from_deg < lamp.bearing_to_deg <= 360 or (
                lamp.bearing_from_deg > lamp.bearing_to_deg
            )
        assert check_against(answer, shown_from(answer)) == (), request
    assert count > 300


def test_statements_say_models_only_and_defer_to_the_rule():
    assert "Never use it to equip" in FOR_MODELS and "rule's own text decides" in RULE_DECIDES


def test_sources_are_told_once():
    assert len(asked(length_m=60).sources) == len(set(asked(length_m=60).sources)) >= 1


@pytest.mark.parametrize(
    ("facts", "error", "match"),
    [
        ({"kind": "shp"}, UnknownName, "Did you mean 'ship'"),
        ({"state": "agrund", "length_m": 20}, UnknownName, "Did you mean 'aground'"),
        ({"propulsion": "oar", "length_m": 5}, UnknownName, "Did you mean 'oars'"),
        ({"state": "power under way", "propulsion": "sailing", "length_m": 20}, UnknownName, "state of a ship"),
        ({}, OutOfRange, "length_m is missing"),
        ({"length_m": -3}, OutOfRange, "length_m"), ({"length_m": 2000}, OutOfRange, "length_m"),
        ({"length_m": float("nan")}, OutOfRange, "length_m"),
        ({"state": "towing", "length_m": 30}, OutOfRange, "tow_length_m"),
        ({"state": "inconspicuous tow", "length_m": 30, "propulsion": "towed"}, OutOfRange, "breadth_m"),
        ({"state": "trawling", "length_m": 30, "moving": "at anchor"}, OutOfRange, "making way"),
        ({"state": "trawling", "length_m": 30, "moving": "makin way"}, UnknownName, "Did you mean 'making way'"),
        ({"state": "power under way, all-round option", "length_m": 30}, OutOfRange, "under 12 m"),
        ({"state": "power under way, small and slow", "length_m": 5, "speed_kn": 9}, OutOfRange, "7 kn"),
        ({"kind": "aircraft", "state": "cruse"}, UnknownName, "Did you mean 'cruise'"),
        ({"kind": "road", "state": "turning at night", "side": "lft"}, UnknownName, "Did you mean 'left'"),
        ({"kind": "rail", "state": "runing"}, UnknownName, "state on a railway"),
        ({"kind": "obstruction", "state": "night"}, OutOfRange, "height_m is missing"),
        ({"kind": "obstruction", "state": "night", "height_m": 0}, OutOfRange, "height_m"),
        ({"kind": "obstruction", "state": "night", "height_m": 50, "scheme": "ICA"}, UnknownName, "ICAO"),
        ({"kind": "obstruction", "state": "night, steady red", "height_m": 50, "scheme": "FAA"}, OutOfRange, "FAA has"),
        ({"kind": "sea mark", "state": "nort cardinal"}, UnknownName, "north cardinal"),
        ({"kind": "sea mark", "state": "special", "region": "C"}, UnknownName, "region"),
        ({"kind": "airfield", "state": "taxiway"}, UnknownName, "taxiway"),
    ],
)
def test_bad_questions_get_one_clear_error(facts, error, match):
    with pytest.raises(error, match=match):
        asked(**facts)


def test_words_of_a_plan_are_understood():
    assert [kind_of_subject(word) for word in ("road vehicle", "Rail vehicle", "building", " sea  mark ")] == [
        "road", "rail", "obstruction", "sea mark"]
    assert asked(length_m=20, propulsion="sail").state == "sailing under way"
    assert asked(length_m=20, propulsion="air cushion").state == "power under way"


def test_known_states_follow_length_and_propulsion():
    assert "under oars" in known_states("ship", 5, "oars") and "trawling" not in known_states("ship", 5, "oars")
    assert "power under way, small and slow" in known_states("ship", 6)
    assert "power under way, small and slow" not in known_states("ship", 60)
    assert "sailing under way, tricolour" not in known_states("ship", 30, "sailing")
    assert "cruise" in known_states("aircraft")


def test_the_set_that_another_builds_on_comes_first_and_whole():
    anchored, aground = asked(state="at anchor", length_m=60), asked(state="aground", length_m=60)
    kept = [lamp.rule_key for lamp in anchored.lamps if lamp.light != "deck lights"]
    assert [lamp.rule_key for lamp in aground.lamps] == [*kept, "allround_red/vertical-line"]


def test_every_composed_state_names_states_that_exist():
    known = set(known_states("ship", None, "power"))
    for row in rows("ship_compose"):
        assert row["base"] in known, row


def test_facts_change_the_answer():
    assert sum(lamp.count for lamp in asked(state="towing", length_m=30, tow_length_m=200.1).lamps) == 8  # derived
    right = asked("road", "turning at night", side="right")
    assert [lamp.where[:5] for lamp in right.lamps if lamp.light == "indicator"] == ["right"]
    assert asked("sea mark", "lateral port", region="B").lamps[0].colour == "green"


def test_obstruction_levels_grow_with_height():
    low, tall = asked("obstruction", "night", height_m=30), asked("obstruction", "night", height_m=140)
    assert [(lamp.light, lamp.count) for lamp in low.lamps] == [("ICAO low B", 1)]
    assert [(lamp.light, lamp.count) for lamp in tall.lamps] == [("ICAO medium B", 1), ("ICAO low B", 2)]
    by_day = asked("obstruction", "day and night, white", height_m=200)
    assert by_day.lamps[0].light == "ICAO high A" and by_day.lamps[0].note == "200000 cd by day"


# --- the check ------------------------------------------------------------------------------------------


def kinds(found):
    return [(difference.kind, difference.rule_key or difference.lamp) for difference in found]


def test_what_is_left_out_is_missing():
    lights = asked(length_m=30)
    model = tuple(lamp for lamp in shown_from(lights) if not lamp.name.startswith("stern"))
    (found,) = check_against(lights, model)
    assert (found.kind, found.rule_key, found.lamp) == ("missing", "stern", "")
    assert "Rule 23(a)" in found.rule and "112.5 to 247.5 deg" in found.expected


def test_lamps_that_only_may_show_are_neither_missing_nor_extra():
    lights = asked(length_m=30)
    after = ShownLamp(name="aft", colour="white", rule_key="masthead_after", arc_from_deg=247.5, arc_to_deg=112.5)
    assert check_against(lights, shown_from(lights)) == ()
    assert check_against(lights, (*shown_from(lights), after)) == ()


def test_wrong_colour_with_and_without_key():
    lights = asked(length_m=30)
    for key in ("side_port", None):
        model = tuple(
            replace(lamp, colour="green", rule_key=key) if lamp.name.startswith("side_port") else lamp
            for lamp in shown_from(lights)
        )
        (found,) = check_against(lights, model)
        assert (found.kind, found.rule_key) == ("wrong colour", "side_port")
        assert (found.expected, found.found) == ("red", "green")


def test_wrong_arc_with_and_without_key():
    lights = asked(length_m=30)
    for key in ("side_port", None):
        model = tuple(
            replace(lamp, arc_from_deg=180.0, rule_key=key) if lamp.name.startswith("side_port") else lamp
            for lamp in shown_from(lights)
        )
        (found,) = check_against(lights, model)
        assert (found.kind, found.expected, found.found) == ("wrong arc", "247.5 to 360 deg", "180 to 360 deg")


def test_swapped_sidelights_are_found():
    port = ShownLamp(name="p", colour="green", arc_from_deg=247.5, arc_to_deg=0.0)
    starboard = ShownLamp(name="s", colour="red", arc_from_deg=0.0, arc_to_deg=112.5)
    lights = asked(length_m=30)
    model = (*(lamp for lamp in shown_from(lights) if not lamp.name.startswith("side")), port, starboard)
    assert kinds(check_against(lights, model)) == [("wrong colour", "side_port"), ("wrong colour", "side_starboard")]


@pytest.mark.parametrize(("off_deg", "right"), [(0.0, True), (5.0, True), (-5.0, True), (5.1, False), (-5.1, False)])
def test_edges_of_a_sector_may_lie_five_degrees_off(off_deg, right):
    lights = asked(length_m=30)
    model = tuple(
        replace(lamp, arc_to_deg=(lamp.arc_to_deg + off_deg) % 360, rule_key="side_port")
        if lamp.name.startswith("side_port") else lamp
        for lamp in shown_from(lights)
    )
    assert (check_against(lights, model) == ()) == right


def test_extra_lamps():
    lights = asked(length_m=30)
    model = shown_from(lights)
    keyed = ShownLamp(name="tow", colour="yellow", rule_key="towing")
    stray = ShownLamp(name="bar sign", colour="red")
    portlight = ShownLamp(name="portlight 1", colour="warm white", count=20)
    found = kinds(check_against(lights, (*model, keyed, stray, portlight)))
    assert found == [("extra", "towing"), ("extra", "bar sign")]


def test_too_few_and_too_many_of_one_light():
    lights = asked(state="not under command", length_m=30, moving="not making way")
    for count, expected in ((1, ["missing"]), (2, []), (3, ["extra"])):
        red = ShownLamp(name="nuc", colour="red", rule_key="allround_red", count=count)
        assert [found.kind for found in check_against(lights, (red,))] == expected


def test_only_lamps_of_the_state_count():
    lights = asked(length_m=30)
    lit = shown_from(lights, states=("sea",))
    unlit = ShownLamp(name="tow", colour="yellow", rule_key="towing", states=("tow",))
    assert check_against(lights, (*lit, unlit), state="sea") == ()
    assert [found.kind for found in check_against(lights, lit, state="harbour")] == ["missing"] * 4


def test_tolerance_has_limits():
    with pytest.raises(OutOfRange, match="tolerance_deg"):
        check_against(asked(length_m=30), (), tolerance_deg=60)


@pytest.mark.parametrize(
    ("colour", "family"),
    [("warm white", "white"), ("3000 K", "white"), ("525 nm", "green"), ("625 nm", "red"), ("590nm", "yellow"),
     ("470 nm", "blue"), ("Deep Red", "red"), ("amber", "yellow"), ("golden white", "white"), ("", "")],
)
def test_colours_of_a_plan_pass_for_the_rules(colour, family):
    assert colour_family(colour) == family


# --- entries of a plan ----------------------------------------------------------------------------------


def test_one_lamp_serves_every_state_that_asks_for_it():
    answers = [("sea", asked(length_m=32)), ("tow", asked(state="towing", length_m=32, tow_length_m=300))]
    entries = as_lamp_entries(answers)
    by_name = {entry["name"]: entry for entry in entries}
    assert len(by_name) == len(entries) == 7  # derived: 3 masthead, 2 sides, stern, towing
    assert by_name["masthead light 1"]["states"] == ["sea", "tow"]
    assert by_name["masthead light 3"]["states"] == ["tow"]


def test_entries_go_round_the_check():
    answers = [("sea", asked(length_m=60)), ("stuck", asked(state="aground", length_m=60)),
               ("anchor", asked(state="at anchor", length_m=60))]
    lamps = tuple(
        ShownLamp(name=e["name"], colour=e["colour"], rule_key=e["rule"], states=tuple(e["states"]),
                  arc_from_deg=e["arc_deg"][0], arc_to_deg=e["arc_deg"][1])
        for e in as_lamp_entries(answers)
    )
    for state, lights in answers:
        assert check_against(lights, lamps, state=state) == ()


def test_an_entry_has_plain_values_under_the_plan_s_keys():
    (entry, *_) = as_lamp_entries([("sea", asked(length_m=32))])
    assert entry == {
        "name": "masthead light", "colour": "white", "rule": "masthead", "arc_deg": [247.5, 112.5], "facing": "ahead",
        "brightness": {"subject_intensity_cd": 52.0}, "states": ["sea"], "rhythm": "steady",
        "evidence": [{"kind": "rule", "of": "COLREGs 1972 Rule 23(a) (public copy read)", "certainty": 1.0}],
        "worth": "must", "note": "forward",
    }


def test_lamps_that_alternate_take_turns():
    entries = as_lamp_entries([("closed", asked("rail", "level crossing closed to the road (USA)"))])
    rhythms = [parse_rhythm(entry["rhythm"]) for entry in entries]
    assert [entry["rhythm"] for entry in entries] == ["alternate 50/min", "alternate 50/min second"]
    assert all(rhythms[0].level_at(t / 10) + rhythms[1].level_at(t / 10) == 1.0 for t in range(60))


def test_lamps_that_may_show_are_put_in_on_request():
    lights = [("sea", asked(length_m=32))]
    extra = {e["rule"]: e["worth"] for e in as_lamp_entries(lights, include_may=True)}
    assert extra["masthead_after"] == "wished"
    assert "masthead_after" not in {e["rule"] for e in as_lamp_entries(lights)}


# --- the laws -------------------------------------------------------------------------------------------


def test_intensity_grows_faster_than_the_square_of_the_range():
    ranges = [k / 4 for k in range(1, 100)]
    found = [intensity_for_range_cd(r) for r in ranges]
    assert found == sorted(found)
    assert all(cd > 3.43e6 * 2e-7 * r**2 for cd, r in zip(found, ranges, strict=True))
    assert intensity_for_range_cd(4.0, transmissivity=1.0) == pytest.approx(2e-7 * (4 * 1852.0) ** 2, rel=1e-3)


def test_places_never_shrink_with_the_ship():
    sizes = [k / 2 for k in range(1, 800)]
    for law in (forward_masthead_height_m, masthead_pair_distance_m, forward_masthead_from_stem_m, vertical_spacing_m):
        found = [law(size) for size in sizes]
        assert found == sorted(found)
    for length_m in sizes:
        between = lights_between_ends(length_m, 45.0)
        assert length_m / (between + 1) <= 45.0 + 1e-9
        assert between == 0 or length_m / between > 45.0


@pytest.mark.parametrize(
    "law",
    [forward_masthead_height_m, masthead_pair_distance_m, forward_masthead_from_stem_m, vertical_spacing_m,
     sidelight_height_m, fishing_pair_height_m, intensity_for_range_cd, lambda size: lights_between_ends(size, 10.0),
     lambda size: lights_between_ends(10.0, size), lambda size: intensity_for_range_cd(5.0, transmissivity=size)],
)
@pytest.mark.parametrize("size", [0.0, -1.0, float("nan"), float("inf")])
def test_edges_of_the_laws_raise(law, size):
    with pytest.raises(OutOfRange):
        law(size)


def test_lamps_of_a_rule_face_the_middle_of_their_sector():
    sea = {e["rule"]: e.get("facing") for e in as_lamp_entries([("sea", asked(length_m=32)),
                                                                ("anchor", asked(state="at anchor", length_m=32))])}
    assert sea["side_port"] == "port" and sea["side_starboard"] == "starboard" and sea["stern"] == "astern"
    assert all(facing is None for rule, facing in sea.items() if rule.startswith("allround"))
    air = {e["rule"]: e.get("facing") for e in as_lamp_entries([("air", asked("aircraft", "cruise"))])}
    assert (air["pos_left"], air["pos_right"], air["pos_tail"]) == ("port", "starboard", "astern")


def test_what_is_merely_usual_is_no_certain_evidence():
    made = as_lamp_entries([("air", asked("aircraft", "taxi moving"))])
    sure = {e["rule"]: (e["evidence"][0]["kind"], e["evidence"][0]["certainty"]) for e in made}
    assert sure["pos_left"] == ("rule", 1.0) and sure["cabin"] == ("guess", 0.7) and sure["taxi"] == ("rule", 0.7)
    (cabin,) = [e for e in made if e["rule"] == "cabin"]
    assert cabin["evidence"][0]["of"] == "common practice, no source"


def test_what_explains_a_lamp_is_no_part_of_its_name():
    made = as_lamp_entries([("air", asked("aircraft", "cruise"))])
    assert {"position light left wing", "anti-collision beacon 1", "anti-collision beacon 2"} <= {e["name"] for e in made}
