"""What must this subject show? The answer from the tables, for models alone."""

from __future__ import annotations

from collections.abc import Callable

from rushlight.errors import UnknownName
from rushlight.model.subject_light import Difference, RequiredLamp, ShownLamp, SubjectLights, SubjectRequest
from rushlight.stages.subjects import land
from rushlight.stages.subjects.aircraft import aircraft_lights
from rushlight.stages.subjects.check import check_against, colour_family
from rushlight.stages.subjects.common import states_of
from rushlight.stages.subjects.entries import as_lamp_entries
from rushlight.stages.subjects.sea_mark import sea_mark_lights, sea_mark_states
from rushlight.stages.subjects.ship import ship_lights
from rushlight.stages.subjects.ship_states import known_ship_states

__all__ = [
    "KINDS", "Difference", "RequiredLamp", "ShownLamp", "SubjectLights", "SubjectRequest", "as_lamp_entries",
    "check_against", "colour_family", "kind_of_subject", "known_states", "required_lights",
]

KINDS = ("ship", "aircraft", "road", "rail", "obstruction", "sea mark", "airfield")
"""Kinds of subject that the tables know."""

_ALSO = {"road vehicle": "road", "rail vehicle": "rail", "building": "obstruction", "vessel": "ship"}

_ANSWERS: dict[str, Callable[[SubjectRequest], SubjectLights]] = {
    "ship": ship_lights, "aircraft": aircraft_lights, "road": land.road_lights, "rail": land.rail_lights,
    "obstruction": land.obstruction_lights, "sea mark": sea_mark_lights, "airfield": land.airfield_lights,
}


def required_lights(request: SubjectRequest) -> SubjectLights:
    """What a subject must show in one state, for a model of it.

    Parameters
    ----------
    request : SubjectRequest
        Kind, state, and the sizes [m], tow length [m] and speed [kn] that the rule may need.
    Returns
    -------
    SubjectLights
        Each lamp with colour, bearings [deg], place, count, requirement, rhythm, range [nmi], intensity [cd] and
        placement rules, with notes, and the statements that it is for models and that the rule's own text decides.
    Raises
    ------
    UnknownName
        If the kind, state, propulsion, region or scheme is not known; the nearest is named.
    OutOfRange
        If a fact that the rule depends on is missing, or the rule has no set for this size.
    Notes
    -----
    Sets that build on another (aground: the anchor lights of its length and two red ones) are composed.
    Source
    ------
    Tables ship_*, aircraft_*, road_*, rail_*, obstruction_*, aton_*, airfield_lights, each row with its rule.
    """
    return _ANSWERS[kind_of_subject(request.kind)](request)


def kind_of_subject(word: str) -> str:
    """The table's kind for a word such as `road vehicle`.

    Raises
    ------
    UnknownName
        If it is not known.
    """
    folded = " ".join(word.split()).casefold()
    if folded in KINDS:
        return folded
    if folded in _ALSO:
        return _ALSO[folded]
    raise UnknownName("kind of subject", word, [*KINDS, *_ALSO])


def known_states(kind: str, length_m: float | None = None, propulsion: str = "power") -> tuple[str, ...]:
    """States that a kind of subject can be asked about; length [m] and propulsion narrow those of a ship.

    Raises
    ------
    UnknownName
        If the kind or propulsion is not known.
    """
    word = kind_of_subject(kind)
    if word == "ship":
        return known_ship_states(length_m, propulsion)
    if word == "sea mark":
        return sea_mark_states()
    if word == "airfield":
        return land.airfield_states()
    return states_of({"obstruction": "obstruction_states"}.get(word, f"{word}_states"))
