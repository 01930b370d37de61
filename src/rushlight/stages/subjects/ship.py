"""Lights of ships: COLREGs 1972 Rules 20 to 31 and Annexes I and II, from the tables."""

from __future__ import annotations

from dataclasses import replace

from rushlight.errors import OutOfRange
from rushlight.geometry.ship_light_places import lights_between_ends
from rushlight.model.subject_light import RequiredLamp, SubjectLights, SubjectRequest
from rushlight.optics.visible_range import intensity_for_range_cd
from rushlight.stages.subjects.common import kind_row, lamp_of_kind
from rushlight.stages.subjects.ship_places import placement_rules
from rushlight.stages.subjects.ship_states import rows_of_state, table_state
from rushlight.tables import Row, number, rows

TRICOLOUR = (("side_port", "red"), ("side_starboard", "green"), ("stern", "white"))
"""Sectors of the tricolour lantern, COLREGs 1972 Rule 25(b)."""

INCONSPICUOUS_GAP_M = 100.0
"""Largest gap between the lights of an inconspicuous tow, COLREGs 1972 Rule 24(g)(iii)."""

SLOW_KN = 7.0
"""Largest speed of the small and slow, COLREGs 1972 Rule 23(d)(ii)."""


def ship_lights(request: SubjectRequest) -> SubjectLights:
    """Every lamp that a ship shows in one state, with range, intensity and places.

    Raises
    ------
    UnknownName
        If the state or propulsion is not known.
    OutOfRange
        If the rule has no set for this length, or needs a fact that is missing.
    Source
    ------
    Tables ship_states, ship_compose, ship_light_kinds, ship_visibility, ship_geometry.
    """
    if request.length_m is not None and not 0 < request.length_m <= 1000:
        raise OutOfRange("length_m", request.length_m, "over 0 to 1000 m")
    state = table_state(request)
    found = rows_of_state(request, state)
    _slow_enough(request, state)
    bare = [lamp for row in found if row["requirement"] != "exempt" for lamp in _lamps(row, request)]
    lamps = tuple(replace(lamp, placement=placement_rules(lamp, tuple(bare), request, state)) for lamp in bare)
    return SubjectLights(request, state, lamps, _notes(found))


def _lamps(row: Row, request: SubjectRequest) -> tuple[RequiredLamp, ...]:
    if row["light"].startswith("tricolour"):
        return tuple(_lamp(row, key, request) for key, _ in TRICOLOUR)
    return (_lamp(row, row["light"], request),)


def _lamp(row: Row, light: str, request: SubjectRequest) -> RequiredLamp:
    kind = lamp_of_kind("ship", kind_row("ship_light_kinds", light))
    range_nmi = _range_nmi(light, request, row["state"])
    return replace(
        kind, rule_key=rule_key(light, row["placement"]), where=_where(row), count=_count(row, request),
        requirement=row["requirement"], range_nmi=range_nmi, intensity_cd=_intensity_cd(range_nmi),
        note="; ".join(part for part in (row["condition"], kind.note) if part), source=row["source"],
    )


def rule_key(light: str, placement: str) -> str:
    """Name of a lamp that stays the same from state to state: its light, and its place if it is an all-round light."""
    place = placement.partition(",")[0].strip()
    return f"{light}/{place.replace(' ', '-')}" if light.startswith("allround") and place else light


def _where(row: Row) -> str:
    if row["light"].startswith("tricolour"):
        return f"one sector of a lantern {row['placement']}"
    return row["placement"]


def _count(row: Row, request: SubjectRequest) -> int:
    if row["placement"] == "between the ends" and request.length_m:
        return lights_between_ends(request.length_m, INCONSPICUOUS_GAP_M)
    return int(row["count"])


def _range_nmi(light: str, request: SubjectRequest, state: str) -> float | None:
    if state.startswith("inconspicuous"):
        return number(next(row for row in rows("ship_visibility") if row["light"] == "allround white"), "range_nmi")
    if light == "manoeuvring":
        return 5.0
    group = _visibility_group(light)
    for row in rows("ship_visibility"):
        if row["light"] == group and request.length_m is not None and _in_class(row, request.length_m):
            return number(row, "range_nmi")
    return None


def _visibility_group(light: str) -> str:
    groups = {"masthead": "masthead", "side_": "sidelight", "allround": "allround", "flash": "allround"}
    for start, group in groups.items():
        if light.startswith(start):
            return group
    return light


def _in_class(row: Row, length_m: float) -> bool:
    high_m = number(row, "length_max_m")
    return (number(row, "length_min_m") or 0.0) <= length_m and (high_m is None or length_m < high_m)


def _intensity_cd(range_nmi: float | None) -> float | None:
    if range_nmi is None:
        return None
    for row in rows("ship_intensity"):
        if number(row, "range_nmi") == range_nmi:
            return number(row, "printed_cd")
    return intensity_for_range_cd(range_nmi)


def _slow_enough(request: SubjectRequest, state: str) -> None:
    if state.endswith("small and slow") and request.speed_kn is not None and request.speed_kn > SLOW_KN:
        raise OutOfRange("speed_kn", request.speed_kn, f"at most {SLOW_KN:g} kn for the state '{state}'")


def _notes(found: tuple[Row, ...]) -> tuple[str, ...]:
    told = [row["condition"] for row in found if row["condition"]]
    exempt = [f"exempt: {row['source']}" for row in found if row["requirement"] == "exempt"]
    return tuple(dict.fromkeys(told + exempt))
