"""Which placement rules of Annex I bind which lamp, with their limits computed for this ship."""

from __future__ import annotations

from collections.abc import Callable

from rushlight.geometry import ship_light_places as law
from rushlight.model.subject_light import PlacementRule, RequiredLamp, SubjectRequest
from rushlight.tables import Row, number, row_by, rows

Limits = tuple[float | None, float | None]


def placement_rules(
    lamp: RequiredLamp, shown: tuple[RequiredLamp, ...], request: SubjectRequest, state: str
) -> tuple[PlacementRule, ...]:
    """Placement rules that bind one lamp among those shown with it; a rule on length waits for a known length."""
    return tuple(
        _rule(row_by("ship_geometry", "key", row["rule"]), request)
        for row in rows("ship_geometry_lamps")
        if _binds(row, lamp, request) and _CONDITIONS[row["when"]](lamp, shown, state)
    ) + _sectors(lamp, request, state)


def _sectors(lamp: RequiredLamp, request: SubjectRequest, state: str) -> tuple[PlacementRule, ...]:
    if lamp.arc_deg is None or lamp.light == "hand torch white":
        return ()
    sailing = state.startswith("sailing under way")
    return (_rule(row_by("ship_geometry", "key", "vertical_sector_sail" if sailing else "vertical_sector"), request),)


def _binds(row: Row, lamp: RequiredLamp, request: SubjectRequest) -> bool:
    if row["light"] != lamp.light and not (row["light"] == "allround" and lamp.light.startswith("allround")):
        return False
    low_m, high_m = number(row, "length_min_m"), number(row, "length_max_m")
    if low_m is None and high_m is None:
        return True
    length_m = request.length_m
    return length_m is not None and (low_m or 0.0) <= length_m and (high_m is None or length_m < high_m)


def _rule(row: Row, request: SubjectRequest) -> PlacementRule:
    low, high = _limits(row, request)
    text = row["rule_text"] or _cells(row)
    return PlacementRule(row["key"], row["quantity"], low, high, row["unit"], text, row["source"])


def _cells(row: Row) -> str:
    return "; ".join(f"{word} {row[word]}" for word in ("min", "max") if row[word])


def _limits(row: Row, request: SubjectRequest) -> Limits:
    computed = _COMPUTED.get(row["key"])
    return computed(request) if computed else (_plain(row["min"]), _plain(row["max"]))


def _plain(cell: str) -> float | None:
    try:
        return float(cell)
    except ValueError:
        return None


def _masthead_height(request: SubjectRequest) -> Limits:
    return (None if request.breadth_m is None else law.forward_masthead_height_m(request.breadth_m)), None


def _pair_distance(request: SubjectRequest) -> Limits:
    return (None if request.length_m is None else law.masthead_pair_distance_m(request.length_m)), None


def _from_stem(request: SubjectRequest) -> Limits:
    return None, (None if request.length_m is None else law.forward_masthead_from_stem_m(request.length_m))


def _fishing_height(request: SubjectRequest) -> Limits:
    if request.length_m is None:
        return None, None
    return law.fishing_pair_height_m(law.vertical_spacing_m(request.length_m)), None


_COMPUTED: dict[str, Callable[[SubjectRequest], Limits]] = {
    "mast_fwd_height": _masthead_height,
    "mast_pair_length": _pair_distance,
    "mast_fwd_from_stem": _from_stem,
    "fishing_pair_height": _fishing_height,
}


def _alone(lamp: RequiredLamp, shown: tuple[RequiredLamp, ...], state: str) -> bool:
    return not _pair(lamp, shown, state)


def _pair(lamp: RequiredLamp, shown: tuple[RequiredLamp, ...], state: str) -> bool:
    return any(other.light == "masthead_after" for other in shown)


def _masthead_shown(lamp: RequiredLamp, shown: tuple[RequiredLamp, ...], state: str) -> bool:
    return any(other.light == "masthead" for other in shown)


def _anchor_light(lamp: RequiredLamp) -> bool:
    return lamp.light == "allround_white" and "Rule 30" in lamp.source


def _vertical(lamp: RequiredLamp, shown: tuple[RequiredLamp, ...], state: str) -> bool:
    stacked = ("top", "middle", "bottom", "upper", "lower", "vertical line")
    return lamp.where.startswith(stacked) or (lamp.light == "masthead" and lamp.count > 1)


_CONDITIONS: dict[str, Callable[[RequiredLamp, tuple[RequiredLamp, ...], str], bool]] = {
    "": lambda lamp, shown, state: True,
    "highest": lambda lamp, shown, state: lamp.where.startswith("highest"),
    "masthead shown": _masthead_shown,
    "vertical line": _vertical,
    "fishing lower": lambda lamp, shown, state: "Rule 26" in lamp.source and lamp.where.startswith("lower"),
    "anchor pair": lambda lamp, shown, state: _anchor_light(lamp) and sum(map(_anchor_light, shown)) > 1,
    "fore part": lambda lamp, shown, state: lamp.where.startswith("fore part"),
    "pair": _pair,
    "single": _alone,
    "toward the gear": lambda lamp, shown, state: lamp.where.startswith("toward the gear"),
    "dredger side": lambda lamp, shown, state: "side" in lamp.where and "27(d)" in lamp.source,
    "not anchor": lambda lamp, shown, state: not _anchor_light(lamp),
}
