"""Lights of buoyage marks, from the tables."""

from __future__ import annotations

from rushlight.errors import UnknownName
from rushlight.model.subject_light import RequiredLamp, SubjectLights, SubjectRequest
from rushlight.stages.subjects.common import known_word, states_of
from rushlight.tables import Row, rows

REGIONS = ("A", "B")


def sea_mark_lights(request: SubjectRequest) -> SubjectLights:
    """The light of one mark; the first rhythm is the usual one, the others serve as well.

    Raises
    ------
    UnknownName
        If the mark or the region is not known.
    Source
    ------
    Tables aton_marks and aton_usual (IALA Maritime Buoyage System).
    """
    region = known_word("buoyage region", request.region, REGIONS)
    mark = _mark(request.state, region)
    found = [row for row in rows("aton_marks") if row["mark"] == mark]
    return SubjectLights(request, mark, (_lamp(mark, found),), tuple(row["note"] for row in found if row["note"]))


def sea_mark_states() -> tuple[str, ...]:
    """Marks by their names, those of both regions also without the region."""
    marks = states_of("aton_marks", "mark")
    return tuple(dict.fromkeys([_short(mark) for mark in marks] + list(marks)))


def _short(mark: str) -> str:
    return mark.partition(", region")[0]


def _mark(word: str, region: str) -> str:
    name = known_word("sea mark", word, sea_mark_states())
    marks = states_of("aton_marks", "mark")
    for mark in (name, f"{name}, region {region}"):
        if mark in marks:
            return mark
    raise UnknownName("sea mark", word, marks)


def _lamp(mark: str, found: list[Row]) -> RequiredLamp:
    usual = tuple(row["rhythm"] for row in rows("aton_usual") if row["mark"] == mark)
    colour = found[0]["colour"].split(" ")[0]
    periods = [f" {row['period_s']} s" if row["period_s"] else "" for row in found]
    allowed = "; ".join(row["character"] + period for row, period in zip(found, periods, strict=True))
    return RequiredLamp(
        rule_key=f"mark/{_short(mark).replace(' ', '-')}", light=mark, name=f"light of the {_short(mark)} mark",
        colour=colour, colours=tuple(found[0]["colour"].split(" and ")), arc_deg=360.0, bearing_from_deg=0.0,
        bearing_to_deg=360.0, where="top of the mark", count=1, requirement="must", rhythm=usual[0],
        rhythm_choices=usual, note=f"allowed: {allowed}", source=found[0]["source"],
    )
