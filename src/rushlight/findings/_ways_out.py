"""What the findings on light at seams, posts, holes and openings share."""

from __future__ import annotations

from collections.abc import Iterable

from rushlight.findings._words import capital, likely_ends, listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import Leak, WayOut
from rushlight.model.finding import Trouble
from rushlight.model.place import Spot
from rushlight.stages.leaks import ROOMS
from rushlight.units import Range

SOURCE = (
    "light thrown about in a closed room, what of it shows in a slit, a ring or a hole, and Ricco's law; "
    "usual widths are common practice: measure yours"
)


def seen_parts(design: Design, kinds: Iterable[str]) -> dict[str, list[WayOut]]:
    """Ways out of some kinds that are seen in the plan's room, by part, the brightest first."""
    wanted, found = set(kinds), dict[str, list[WayOut]]()
    for row in design.light.ways_out:
        if row.kind in wanted and row.seen_as_cd_m2.typical > row.allowed_cd_m2:
            found.setdefault(row.part, []).append(row)
    return {part: sorted(rows, key=lambda row: -row.seen_as_cd_m2.typical) for part, rows in found.items()}


def trouble(rows: list[WayOut], what: str, cure: str = "", *, shows: str = "shows") -> Trouble:
    """One part's ways out of like kind; `what` names them."""
    first = rows[0]
    says = (f"{capital(what)} of '{first.part}' {shows} {plain(first.luminance_cd_m2.typical)} cd/m2 "
            f"({one_digit(first.likely_cd_m2, first.luminance_cd_m2)}) in '{first.state}', "
            f"{width_words(first)}: {room_words(first)}.")
    return Trouble(item=first.part, spot=Spot(first.part, *first.outlines_mm[0][0]), says=says, cure=cure,
                   number=first.seen_as_cd_m2.typical, limit=first.allowed_cd_m2)


def one_digit(likely: Range, outer: Range) -> str:
    """A luminance that is hardly known, as is likely and at the outside."""
    return likely_ends(likely, outer, lambda value: plain(value, 1))


def width_words(row: WayOut) -> str:
    """How wide a slit, ring or hole is."""
    if row.kind == "opening":
        return "as wide as it is cut"
    low, high = plain(row.width_mm.low), plain(row.width_mm.high)
    return f"{low} mm wide" if low == high else f"{low} to {high} mm wide"


def room_words(row: WayOut | Leak) -> str:
    """In which rooms it is seen, and in which it may be."""
    sure = "seen in every room" if len(row.seen_in) == len(ROOMS) else f"seen in a {listed(list(row.seen_in))}"
    if not row.seen_in:
        sure = "hardly seen"
    return f"{sure}, perhaps in a {listed(list(row.may_in))} too" if row.may_in else sure


def names_of(rows: list[WayOut]) -> str:
    """Their names, in quotes."""
    return listed([f"'{row.name}'" for row in rows])
