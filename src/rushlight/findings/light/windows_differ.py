"""Windows that should look alike and do not: of one strip, of one LED in a room, of several sources."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.findings.light.like_mismatch import RULE as LIKE_MISMATCH
from rushlight.model.design import Design
from rushlight.model.design_light import WindowsAlike
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import most_apart
from rushlight.stages.room_match import tried_sheets
from rushlight.stages.room_places import place_words, tried_places
from rushlight.stages.strip_cures import strip_cures
from rushlight.stages.strip_words import capital, cure_words, ratio_words, sheets_words

BEHIND = {"strip": "the strip", "room": "the LED"}


def _look(design: Design) -> tuple[Trouble, ...]:
    most = most_apart(design.drawer)
    told = [row for row in design.light.alike if row.ratio > most]
    return tuple(_trouble(design, row, most) for row in told if row.kind != "like" or not _told_else(design, row))


def _told_else(design: Design, row: WindowsAlike) -> bool:
    """Whether the windows of one source are told, or one that is not as its like."""
    pairs = [set(dict(own.over_dimmest)) for own in design.light.alike if own.kind != "like"]
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    groups = {group_of[lamp] for lamp, _ in row.over_dimmest}
    return (any({row.brightest, row.dimmest} <= own for own in pairs)
            or any(trouble.item in groups for trouble in LIKE_MISMATCH.look(design)))


def _trouble(design: Design, row: WindowsAlike, most: float) -> Trouble:
    if row.kind == "like":
        behind = f"should be as bright as '{row.name}', and so as each other"
    else:
        behind = f"are lit by {BEHIND[row.kind]} '{row.name}'"
    return Trouble(
        item=row.name, spot=design.lamp(row.dimmest).spot, number=min(row.ratio, 1e6), limit=most,
        says=f"'{row.brightest}' and '{row.dimmest}' {behind}: the one is {plain(min(row.ratio, 1e6))} times as bright "
             f"as the other in '{row.state}'; {plain(most)} times at most looks alike.",
        cure=_cure(design, row),
    )


def _cure(design: Design, row: WindowsAlike) -> str:
    if row.kind == "strip":
        return cure_words(strip_cures(design, row.name, goal="alike"))
    if row.kind == "like":
        return f"Give the source of '{row.dimmest}' {plain(row.ratio)} times its current."
    return _room_cure(design, row)


OTHERWISE = "give each window a room and an LED of its own"


def _room_cure(design: Design, row: WindowsAlike) -> str:
    """The LED elsewhere, thin sheets, two LEDs: those that do, and which leaves least."""
    sheets = tried_sheets(design, row)
    ways = [("place" if len(one.places_mm) == 1 else "pair", place_words(one), one.apart, one.reaches)
            for one in tried_places(design, row)]
    if sheets is not None:
        put = sheets_words({opening: sheet for _, opening, sheet in sheets.sheets})
        ways.append(("sheets", put, sheets.apart, sheets.reaches))
    ways.sort(key=lambda way: tuple(MOST_HELP).index(way[0]))
    if not ways:
        return f"{capital(OTHERWISE)}: nothing that was tried makes them more alike."
    best = min(ways, key=lambda way: way[2])
    doing = [way for way in ways if way[3]]
    if not doing:
        return f"{capital(OTHERWISE)}: the most that was tried is to {best[1]} ({_left(row, best[2], first=True)})."
    told = [f"{way[1]} ({_left(row, way[2], first=not number)})" for number, way in enumerate(doing)]
    most = f" {MOST_HELP[best[0]]} most." if len(ways) > 1 else ""
    return f"{capital('. Or '.join(told))}. Or {OTHERWISE}.{most}"


MOST_HELP = {"place": "The other place of the LED helps", "sheets": "The sheets help", "pair": "The two LEDs help"}
"""Ways by their work, the least first, and who helps."""


def _left(row: WindowsAlike, apart: float, *, first: bool) -> str:
    if not first:
        return f"tried: {ratio_words(apart)}"
    return f"tried: brightest window to dimmest {ratio_words(apart)} instead of {ratio_words(row.ratio)}"


RULE = Rule(
    key="light.windows-differ",
    grade=Grade.DOUBTFUL,
    title="Windows unlike each other",
    unit="times",
    why="The eye compares neighbours: of two windows of one room a dim one looks like a fault.",
    cure="A thin sheet behind the brighter window, the strip moved or longer: as it was tried.",
    source="mean luminance behind the sheets; habit equal: common practice, no source; each cure tried so on the plan",
    practice="equal",
    look=_look,
)
