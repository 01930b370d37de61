"""Outside lights of aircraft: 14 CFR part 25 and usual practice, from the tables."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.subject_light import RequiredLamp, SubjectLights, SubjectRequest
from rushlight.stages.subjects.common import kind_row, known_word, lamp_of_kind, states_of
from rushlight.tables import Row, number, rows

BY_RULE = ("position", "beacon", "strobe", "riding", "water_forward")
"""Lights that a rule asks for; the others are usual where fitted."""


def aircraft_lights(request: SubjectRequest) -> SubjectLights:
    """Every light that is usually on in one state of an aircraft; a photograph beats this table.

    Raises
    ------
    UnknownName
        If the state is not known.
    Source
    ------
    Tables aircraft_states, aircraft_lamps, aircraft_light_kinds, aircraft_position_intensity.
    """
    state = known_word("state of an aircraft", request.state, states_of("aircraft_states"))
    lamps = [
        _lamp(place, setting)
        for setting in rows("aircraft_states")
        if setting["state"] == state and setting["setting"] != "off"
        for place in rows("aircraft_lamps")
        if place["light"] == setting["light"]
    ]
    return SubjectLights(request, state, tuple(lamps), ("operators differ; a photograph of the subject goes first",))


def _lamp(place: Row, setting: Row) -> RequiredLamp:
    kind = lamp_of_kind("aircraft", kind_row("aircraft_light_kinds", place["kind"]))
    intensity_cd = _intensity_cd(place["kind"])
    return replace(
        kind, where=place["where"], count=int(place["count"]), requirement=_requirement(setting),
        intensity_cd=intensity_cd, range_nmi=2.0 if place["kind"] == "riding" else None,
        colours=("red", "white") if place["kind"] in ("beacon", "strobe") else kind.colours,
        colour=kind.colour, note="; ".join(p for p in (setting["setting"], kind.note) if p),
        source=f"{kind.source}; {setting['source']}",
    )


def _requirement(setting: Row) -> str:
    if setting["setting"] == "may":
        return "may"
    return "must" if setting["light"] in BY_RULE and setting["setting"] == "on" else "usual"


def _intensity_cd(kind: str) -> float | None:
    """Least candela in the brightest part of the sector; effective candela for flashing lights."""
    if kind in ("beacon", "strobe"):
        return max(number(row, "min_effective_cd") or 0.0 for row in rows("aircraft_anticollision_intensity"))
    light = {"pos_left": "red and green", "pos_right": "red and green", "pos_tail": "rear white"}.get(kind)
    found = [number(row, "min_cd") or 0.0 for row in rows("aircraft_position_intensity") if row["light"] == light]
    return max(found) if found else None
