"""A rule's lamps as entries of a plan, one lamp each, lit in every state that asks for it."""

from __future__ import annotations

from collections.abc import Sequence

from rushlight.model.subject_light import RequiredLamp, SubjectLights

Entry = dict[str, object]

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
        Plain values by plan key: name, colour, rule, arc_deg, brightness, states, rhythm, evidence, worth, note. Part
        and place are left for the modeller.
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
    if lamp.intensity_cd is not None:
        entry["brightness"] = {"subject_intensity_cd": lamp.intensity_cd}
    entry["states"] = states
    entry["rhythm"] = rhythm
    entry["evidence"] = [{"kind": "rule", "of": lamp.source, "certainty": 1.0}]
    entry["worth"] = WORTH.get(lamp.requirement, "wished")
    if lamp.where:
        entry["note"] = lamp.where
    return entry
