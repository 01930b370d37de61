"""Which rows of the ship tables a request means: words, conditions, and sets that build on others."""

from __future__ import annotations

from dataclasses import replace

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.subject_light import SubjectRequest
from rushlight.stages.subjects.common import known_word, states_of
from rushlight.tables import Row, number, rows

PROPULSIONS = {
    "power": "power", "sailing": "sailing", "sail": "sailing", "oars": "oars", "being towed": "being towed",
    "towed": "being towed", "none": "being towed", "air cushion": "power",
}
"""Words for propulsion, with the rules' own."""

MOVING = ("making way", "not making way", "at anchor")


def ship_propulsion(word: str) -> str:
    """The rules' word for a means of propulsion.

    Raises
    ------
    UnknownName
        If it is not known.
    """
    if word.casefold() not in PROPULSIONS:
        raise UnknownName("propulsion", word, PROPULSIONS)
    return PROPULSIONS[word.casefold()]


def known_ship_states(length_m: float | None, propulsion: str) -> tuple[str, ...]:
    """States that a ship of this length and propulsion can be in, short words first."""
    moved_by = ship_propulsion(propulsion)
    words = [row["word"] for row in rows("ship_state_words") if moved_by in row["propulsion"].split(";")]
    tables = [s for s in states_of("ship_states") if moved_by in _moved(s) and _has_length(s, length_m)]
    return tuple(dict.fromkeys(words + tables))


def table_state(request: SubjectRequest) -> str:
    """The state of `ship_states` that a request means.

    Raises
    ------
    UnknownName
        If no state of this propulsion has that name.
    OutOfRange
        If the state depends on a fact that is missing.
    """
    known = known_ship_states(None, request.propulsion)
    word = known_word("state of a ship", request.state, known)
    if word in states_of("ship_states"):
        return word
    moved_by = ship_propulsion(request.propulsion)
    found = [r for r in rows("ship_state_words") if r["word"] == word and moved_by in r["propulsion"].split(";")]
    for row in found:
        if not row["when"] or row["when"] in facts(request, row["when"]):
            return row["state"]
    raise OutOfRange("moving", f"'{request.moving}'", " or ".join(f"'{row['when']}'" for row in found))


def facts(request: SubjectRequest, asked: str) -> tuple[str, ...]:
    """Conditions that hold for a request, among those that the tables ask for."""
    if asked.startswith("tow "):
        tow_m = _given("tow_length_m", request.tow_length_m)
        return ("tow up to 200 m" if tow_m <= 200.0 else "tow over 200 m",)
    if asked.startswith("breadth "):
        breadth_m = _given("breadth_m", request.breadth_m)
        return ("breadth under 25 m" if breadth_m < 25.0 else "breadth 25 m and over",)
    return (known_word("moving", request.moving, MOVING),)


def rows_of_state(request: SubjectRequest, state: str) -> tuple[Row, ...]:
    """Rows of a state, with those of the set that it builds on first.

    Raises
    ------
    OutOfRange
        If the rule has no set for this length, or needs a length that is missing.
    """
    own = tuple(row for row in rows("ship_states") if row["state"] == state and _fits(row, request.length_m))
    if not own:
        raise _wrong_length(state, request.length_m)
    if all(row["requirement"] == "exempt" for row in own) and not _base(request, state):
        return own
    base = _base(request, state)
    shown = tuple(row for row in own if not row["light"].startswith("see "))
    if base is None:
        return shown
    below = rows_of_state(request, table_state(replace(request, state=base["base"], propulsion="power")))
    kept = tuple(row for row in below if row["light"] != base["without"])
    return kept + tuple(row for row in shown if row["requirement"] != "exempt")


def _base(request: SubjectRequest, state: str) -> Row | None:
    for row in rows("ship_compose"):
        if row["state"] == state and (not row["when"] or row["when"] in facts(request, row["when"])):
            return row
    return None


def _fits(row: Row, length_m: float | None) -> bool:
    low_m, high_m = number(row, "length_min_m"), number(row, "length_max_m")
    if low_m is None and high_m is None:
        return True
    if length_m is None:
        raise OutOfRange("length_m", "missing", "the length in m, for the rule depends on it")
    return (low_m or 0.0) <= length_m and (high_m is None or length_m < high_m)


def _has_length(state: str, length_m: float | None) -> bool:
    if length_m is None:
        return True
    return any(row["state"] == state and _fits(row, length_m) for row in rows("ship_states"))


def _wrong_length(state: str, length_m: float | None) -> OutOfRange:
    spans = {(row["length_min_m"] or "0", row["length_max_m"]) for row in rows("ship_states") if row["state"] == state}
    text = " or ".join(f"{low} m to under {high} m" if high else f"{low} m and over" for low, high in sorted(spans))
    return OutOfRange("length_m", length_m, f"{text} for the state '{state}'")


def _moved(state: str) -> tuple[str, ...]:
    for row in rows("ship_state_propulsion"):
        if state.startswith(row["starts_with"]):
            return tuple(row["propulsion"].split(";"))
    return ("power", "sailing", "oars", "being towed")


def _given(name: str, value: float | None) -> float:
    if value is None:
        raise OutOfRange(name, "missing", "a size in m, for the rule depends on it")
    return value
