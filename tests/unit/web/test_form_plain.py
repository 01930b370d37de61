"""What the late forms offer is what a plan may hold."""

from __future__ import annotations

import pytest

from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_yaml import parse_plan
from rushlight.web.form_plain import RULE_TABLES, forms_json

PARTS = read_drawer(None)
PLAN = """rushlight: 1
subject: {{title: A boat, scale: 1:72, kind: {kind}}}
states: [{{name: moving}}]
parts: [{{name: hull, outline_mm: [[0, 0], [90, 0], [90, 40]]}}]
lamps: [{{name: one, colour: white, states: moving, {more}}}]
"""


@pytest.mark.parametrize("kind", RULE_TABLES)
def test_every_sector_of_a_rule_is_one_that_a_lamp_may_have(kind):
    rules = forms_json(PARTS, kind)["rules"]
    assert rules and len({row["key"] for row in rules}) == len(rules)
    for row in rules:
        more = f"rule: {row['key']}" + (f", arc_deg: {row['arc_deg']}" if row["arc_deg"] else "")
        (lamp,) = parse_plan(PLAN.format(kind=kind, more=more), "plan.yaml", PARTS).lamps
        assert lamp.arc_deg == (tuple(row["arc_deg"]) if row["arc_deg"] else None)


def test_what_the_drawer_offers_is_taken(client):
    told = client.get(f"/api/plans/{client.plan}/forms").json()
    assert told["rules"] == []  # a boat of no kind has no rules
    for n, led in enumerate(told["leds"]):
        mm = told["fibres_mm"][n % len(told["fibres_mm"])]
        more = f"source: {{kind: fibre, led: {led!r}, fibre_mm: {mm}}}"
        (lamp,) = parse_plan(PLAN.format(kind="other", more=more), "plan.yaml", PARTS).lamps
        assert lamp.source.led == led and lamp.source.fibre_mm == mm
    assert {"like", "ratio", "intensity_mcd", "subject_intensity_cd", "carry", "seen_in"} <= {row["key"] for row in told["keys"]["brightness"]}
