"""The lights that a new plan begins with: the same questions to the same tables as `rushlight lights`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rushlight.errors import OutOfRange
from rushlight.model.subject_light import SubjectLights, SubjectRequest
from rushlight.stages.subject_lights import as_lamp_entries, kind_of_subject, required_lights

MOST_STATES = 12

ASKS: dict[str, tuple[str, ...]] = {
    "ship": ("length_m", "breadth_m", "propulsion", "moving", "tow_length_m", "speed_kn"), "aircraft": (),
    "road": ("side",), "rail": (), "obstruction": ("height_m", "scheme"), "sea mark": ("region",),
}
"""What each kind of subject is asked beside its states."""

CHOICES = {
    "propulsion": ("power", "sailing", "oars", "being towed", "air cushion"),
    "moving": ("making way", "not making way", "at anchor"), "side": ("left", "right"), "scheme": ("ICAO", "FAA"),
    "region": ("A", "B"),
}
"""Words that a question may be answered with; the others take a number."""


def request_of(answers: Mapping[str, Any], state: str) -> SubjectRequest:
    """What the rules are asked about one state.

    Raises
    ------
    OutOfRange
        If a number is none.
    UnknownName
        If the kind of subject is not known.
    """
    kind = kind_of_subject(str(answers.get("kind", "")))
    facts = {key: _fact(answers, key) for key in ASKS.get(kind, ()) if answers.get(key) not in (None, "")}
    return SubjectRequest(kind=kind, state=state, **facts)


def _fact(answers: Mapping[str, Any], key: str) -> Any:
    value = answers[key]
    if key in CHOICES:
        return str(value)
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = 0.0
    if not 0 < number <= 100_000:
        raise OutOfRange(key, repr(value), "a number above 0")
    return number


def lights_of(answers: Mapping[str, Any]) -> list[tuple[str, SubjectLights]]:
    """The rule's answer for each state that was chosen.

    Raises
    ------
    UnknownName, OutOfRange
        As `required_lights`, and if no state or too many were chosen.
    """
    states = answers.get("states")
    if not isinstance(states, list) or not 0 < len(states) <= MOST_STATES:
        raise OutOfRange("states", "none or too many", f"1 to {MOST_STATES} states")
    return [(str(state), required_lights(request_of(answers, str(state)))) for state in states]


def lamp_entries(answers: Mapping[str, Any]) -> tuple[dict[str, object], ...]:
    """The lamps that a plan begins with, by plan key; left to be placed."""
    return as_lamp_entries(lights_of(answers), include_may=bool(answers.get("may")))
