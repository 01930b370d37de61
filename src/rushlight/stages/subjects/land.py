"""Lights of road and rail vehicles, of obstructions, and of an airfield, from the tables."""

from __future__ import annotations

import re
from dataclasses import replace

from rushlight.errors import OutOfRange
from rushlight.geometry.ship_light_places import lights_between_ends
from rushlight.model.subject_light import RequiredLamp, SubjectLights, SubjectRequest
from rushlight.stages.subjects.common import kind_row, known_word, lamp_of_kind, states_of
from rushlight.tables import Row, number, rows

SIDES = ("left", "right")
NIGHT_ALL = "all lights"


def road_lights(request: SubjectRequest) -> SubjectLights:
    """Lamps of a road vehicle that are on in one state.

    Raises
    ------
    UnknownName
        If the state, or the side that it turns to, is not known.
    Source
    ------
    Tables road_states and road_light_kinds.
    """
    state = known_word("state of a road vehicle", request.state, states_of("road_states"))
    side = known_word("side", request.side, SIDES)
    found = [row for row in rows("road_states") if row["state"] == state and row["lamp"] != "none"]
    return SubjectLights(request, state, tuple(_road_lamp(row, side) for row in found))


def _road_lamp(row: Row, side: str) -> RequiredLamp:
    one_side = row["lamp"].endswith("(one side)")
    kind_of = kind_row("road_light_kinds", row["lamp"].removesuffix("(one side)").strip())
    kind = lamp_of_kind("road", kind_of)
    count = sum(int(text) for text in re.findall(r"(?:^|, |plus )(\d+)", kind_of["usual_count"])) or 1
    if kind.light == "hazard":
        count = 4
    where = f"{side} side: {kind_of['faces']}" if one_side else kind_of["faces"]
    return replace(
        kind, where=where, count=max(1, count // 2) if one_side else count, source=f"{kind.source}; {row['source']}",
        note="; ".join(part for part in (f"usual count: {kind_of['usual_count']}", kind.note) if part),
    )


def rail_lights(request: SubjectRequest) -> SubjectLights:
    """Lamps of a railway vehicle or crossing in one state.

    Raises
    ------
    UnknownName
        If the state is not known.
    Source
    ------
    Tables rail_states and rail_lights.
    """
    state = known_word("state on a railway", request.state, states_of("rail_states"))
    found = [row for row in rows("rail_states") if row["state"] == state and row["lamp"] != "none"]
    return SubjectLights(request, state, tuple(_rail_lamp(row) for row in found))


def _rail_lamp(row: Row) -> RequiredLamp:
    kind_of = kind_row("rail_lights", row["lamp"])
    kind = lamp_of_kind("rail", kind_of)
    held = kind_of["rhythm"].startswith("steady") and row["setting"] == "on" and row["lamp"] != "rear_marker"
    pairs = row["lamp"] in ("ditch", "marker_front", "grade_crossing")
    return replace(
        kind, where=kind_of["faces"], count=2 if pairs else 1, intensity_cd=number(kind_of, "intensity_min_cd"),
        rhythm="steady" if held else kind.rhythm, requirement="must" if "CFR" in row["source"] else "usual",
        note="; ".join(part for part in (row["setting"], kind.note) if part),
        source=f"{kind.source}; {row['source']}",
    )


def obstruction_lights(request: SubjectRequest) -> SubjectLights:
    """Lights of a mast, tower or building by its height: the top, and the levels between.

    Raises
    ------
    UnknownName
        If the state or scheme is not known.
    OutOfRange
        If the height is missing or not over 0.
    Source
    ------
    Tables obstruction_states and obstruction_lights.
    """
    scheme = known_word("scheme", request.scheme, states_of("obstruction_states", "scheme"))
    state = known_word("state of an obstruction", request.state, states_of("obstruction_states"))
    height_m = request.height_m
    if height_m is None or not 0 < height_m <= 2000:
        raise OutOfRange("height_m", "missing" if height_m is None else height_m, "over 0 to 2000 m")
    for row in rows("obstruction_states"):
        if row["state"] == state and row["scheme"] == scheme and _in_height(row, height_m):
            return SubjectLights(request, state, _obstruction_lamps(row, height_m))
    raise OutOfRange("state", f"'{state}'", f"a state that {scheme} has, such as 'night'")


def _in_height(row: Row, height_m: float) -> bool:
    high_m = number(row, "height_max_m")
    return (number(row, "height_min_m") or 0.0) <= height_m and (high_m is None or height_m < high_m)


def _obstruction_lamps(row: Row, height_m: float) -> tuple[RequiredLamp, ...]:
    gap_m = number(row, "level_gap_max_m") or height_m
    levels = lights_between_ends(height_m, gap_m) if row["between_type"] else 0
    top = _obstruction_lamp(row, row["top_type"], "top", 1)
    if levels == 0:
        return (top,)
    where = f"each of {levels} levels between ground and top, at most {gap_m:g} m apart"
    return top, _obstruction_lamp(row, row["between_type"], where, levels)


def _obstruction_lamp(row: Row, kind_name: str, where: str, count: int) -> RequiredLamp:
    kind_of = next(r for r in rows("obstruction_lights") if r["scheme"] == row["scheme"] and r["type"] == kind_name)
    key = f"{row['scheme']} {kind_name}"
    kind = lamp_of_kind("obstruction", {**kind_of, "key": key, "name": f"obstruction light, {key}"})
    by_day = row["state"].startswith("day") and number(kind_of, "day_cd")
    return replace(
        kind, rule_key=f"{key}/{where.partition(' ')[0]}", where=where, count=count,
        arc_deg=360.0, bearing_from_deg=0.0, bearing_to_deg=360.0, intensity_cd=number(kind_of, "night_cd"),
        source=f"{kind.source}; {row['source']}",
        note=f"{number(kind_of, 'day_cd'):g} cd by day" if by_day else "",
    )


def airfield_lights(request: SubjectRequest) -> SubjectLights:
    """Ground lights of an airfield: one by its name, or `all lights`.

    Raises
    ------
    UnknownName
        If there is no such light.
    Source
    ------
    Table airfield_lights.
    """
    state = known_word("light of an airfield", request.state, airfield_states())
    found = [row for row in rows("airfield_lights") if state in (NIGHT_ALL, row["light"])]
    lamps = [replace(lamp_of_kind("airfield", row, "light"), requirement="usual", where=row["light"]) for row in found]
    return SubjectLights(request, state, tuple(lamps), ("one lamp stands for as many as the airfield has",))


def airfield_states() -> tuple[str, ...]:
    """Names of ground lights, and `all lights`."""
    return (NIGHT_ALL, *states_of("airfield_lights", "light"))
