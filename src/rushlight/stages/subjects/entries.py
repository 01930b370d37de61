"""A rule's lamps as entries of a plan, one lamp each, lit in every state that asks for it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rushlight.model.subject_light import RequiredLamp, SubjectLights

Entry = dict[str, object]

FACINGS = ("ahead", "starboard", "astern", "port")
"""Where a lamp shines whose sector has its middle nearest to 0, 90, 180 or 270 degrees."""

UNSOURCED = "common practice, no source"
SURE = {"must": 1.0, "if practicable": 1.0}
USUAL_SURE = 0.7
"""How sure a rule makes of a lamp that it asks for, and usage of one that is merely usual or allowed (project rule)."""

WORTH = {"must": "must", "if practicable": "must", "usual": "wished", "may": "wished", "ready to show": "wished"}
"""A plan's word for how much a lamp is wanted, by what the rule says."""


def as_lamp_entries(
    required: Sequence[tuple[str, SubjectLights]], *, include_may: bool = False
) -> tuple[Entry, ...]:
    """Plan entries for the lamps of several states, each lamp once.

    Parameters
    ----------
    required : sequence of (str, SubjectLights)
        The plan's name of a state, and what the rule asks in it.
    include_may : bool
        Whether lamps that the rule only allows are put in too.
    Returns
    -------
    tuple of dict
        Plain values by plan key: name, colour, rule, arc_deg, facing, brightness, states, rhythm, evidence, worth,
        note. Part and place are left for the modeller.
    Notes
    -----
    A light that shows in several states is one lamp; where one state asks for three and another for one, the
    first of the three serves both.
    Source
    ------
    The rules named in each answer.
    """
    made: dict[tuple[str, int], tuple[RequiredLamp, list[str]]] = {}
    for state, lights in required:
        taken: dict[str, int] = {}
        for lamp in lights.lamps:
            if lamp.requirement == "may" and not include_may:
                continue
            for _ in range(lamp.count):
                taken[lamp.rule_key] = taken.get(lamp.rule_key, 0) + 1
                _, states = made.setdefault((lamp.rule_key, taken[lamp.rule_key]), (lamp, []))
                states.append(state)
    counts = {key: max(number for other, number in made if other == key) for key, _ in made}
    names = _names(made, counts)
    return tuple(
        _entry(names[place], lamp, list(dict.fromkeys(states)), _rhythm(lamp, place[1]))
        for place, (lamp, states) in made.items()
    )


def _names(
    made: dict[tuple[str, int], tuple[RequiredLamp, list[str]]], counts: dict[str, int]
) -> dict[tuple[str, int], str]:
    names: dict[tuple[str, int], str] = {}
    for (key, number), (lamp, _) in made.items():
        place = key.partition("/")[2].replace("-", " ")
        shown = f"{lamp.colour} {lamp.name}" if lamp.light.startswith("allround") else lamp.name
        shown = re.sub(r" \([^)]*\)", "", shown)  # what explains the lamp is no part of its name
        parts = [shown, place, str(number) if counts[key] > 1 else ""]
        names[(key, number)] = " ".join(part for part in parts if part).replace(",", "")
    return names


def _rhythm(lamp: RequiredLamp, number: int) -> str:
    """Lamps that alternate take turns: every second one is the partner."""
    return f"{lamp.rhythm} second" if lamp.rhythm.startswith("alternate") and number % 2 == 0 else lamp.rhythm


def _entry(name: str, lamp: RequiredLamp, states: list[str], rhythm: str) -> Entry:
    entry: Entry = {"name": name, "colour": lamp.colour, "rule": lamp.rule_key}
    if lamp.bearing_from_deg is not None and lamp.bearing_to_deg is not None:
        entry["arc_deg"] = [lamp.bearing_from_deg, lamp.bearing_to_deg]
        if lamp.arc_deg is not None and lamp.arc_deg < 360:
            entry["facing"] = FACINGS[round((lamp.bearing_from_deg + lamp.arc_deg / 2) % 360 / 90) % 4]
    if lamp.intensity_cd is not None:
        entry["brightness"] = {"subject_intensity_cd": lamp.intensity_cd}
    entry["states"] = states
    entry["rhythm"] = rhythm
    entry["evidence"] = [_evidence(lamp)]
    entry["worth"] = WORTH.get(lamp.requirement, "wished")
    if lamp.where:
        entry["note"] = lamp.where
    return entry


def _evidence(lamp: RequiredLamp) -> Entry:
    """The rule where one asks for the lamp; what is merely usual is less sure, and a guess where nothing names it."""
    sources = list(dict.fromkeys(lamp.source.split("; ")))
    kind = "guess" if all(source == UNSOURCED for source in sources) else "rule"
    return {"kind": kind, "of": "; ".join(sources), "certainty": SURE.get(lamp.requirement, USUAL_SURE)}
