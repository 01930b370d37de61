"""Where light gets out past the wall, as a table and in words."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design_light import Leak, WayOut
from rushlight.model.sheet import Column, Table
from rushlight.sheets.amounts import LIKELY, amount, range_words
from rushlight.stages.leaks import ROOMS, least_seen_in
from rushlight.units import Range

LEAST_SHOWN = 0.001

WHAT = {
    "seam": "seam", "post": "post through the wall", "post root": "foot of a post", "fibre": "ring round a fibre",
    "LED": "ring round an LED", "dark hole": "hole of a dark lamp", "opening": "opening that nothing lights",
}
AGAINST = {
    "seam": "fill it, a lip behind it, or tape inside", "post": "putty round it", "fibre": "black in its glue",
    "post root": "black by brush into the corner", "LED": "black round it and over its back",
    "dark hole": "fill it, or a stub with a black end", "opening": "a black box behind it",
}


def way_out_table(design: Design) -> Table:
    """Slits, rings and holes through which the light inside shows."""
    columns = (
        Column("part", "Part"), Column("what", "Where", wide=True), Column("state", "Brightest in"),
        Column("width_mm", "Width", "mm", "right"), Column("shines", "Shines", "cd/m2", "right"),
        Column("seen", "Seen in", wide=True), Column("against", "Against it", wide=True),
    )
    rows = tuple(
        (row.part, f"{row.name}: {WHAT[row.kind]}", row.state, range_words(row.width_mm),
         _shines(row), rooms_seen(row), AGAINST[row.kind] if row.seen_in or row.may_in else "")
        for row in design.light.ways_out
    )
    caption = (
        f"Shines: what is likely, in brackets at the outside. {LIKELY} "
        "What of the light inside shows where the wall is not closed: from the mean over all directions to the "
        "brightest way to look, straight in. Widths are usual ones unless the plan gives them. Whether it is seen: "
        "from the plan's viewing distance, thin lines and small rings by their width and area. Black as the last coat "
        "inside dims all."
    )
    return Table("light-ways-out", "Light that gets out past the walls", columns, rows, caption)


def rooms_seen(row: WayOut | Leak) -> str:
    """The rooms in which it is seen, and those in which it may be."""
    if len(row.seen_in) == len(ROOMS):
        return "every room"
    sure = _rooms(row.seen_in) or "no room"
    return f"{sure}; perhaps {_rooms(row.may_in)}" if row.may_in else sure


def _rooms(names: tuple[str, ...]) -> str:
    """'dim and dark room'."""
    return "every room" if len(names) == len(ROOMS) else " and ".join(names).replace(" room and", " and")


def _seen_words(row: WayOut) -> str:
    """The same within a sentence: 'seen in a dark room, perhaps in a lit and dim room too'."""
    if len(row.seen_in) == len(ROOMS):
        return "seen in every room"
    sure = f"seen in a {_rooms(row.seen_in)}" if row.seen_in else "seen in no room for sure"
    may = "every room" if len(row.may_in) == len(ROOMS) else f"a {_rooms(row.may_in)} too"
    return f"{sure}, perhaps in {may}" if row.may_in else sure


def _shines(row: WayOut) -> str:
    """What is likely, in brackets at the outside."""
    likely, outer = _luminance(row.likely_cd_m2), _luminance(row.luminance_cd_m2)
    return likely if likely == outer else f"{likely} ({outer})"


def _luminance(value: Range) -> str:
    """A luminance of which nobody needs the ten-thousandths."""
    high = f"under {LEAST_SHOWN:g}" if value.high < LEAST_SHOWN else amount(value.high)
    low = f"under {LEAST_SHOWN:g}" if value.low < LEAST_SHOWN else amount(value.low)
    return low if low == high else f"{low} to {high}"


def way_out_words(design: Design, state: str, most: int = 3) -> tuple[str, ...]:
    """One sentence on the ways out that are seen in a state in one room or another, the brightest first."""
    lit = [
        (glow.luminance_cd_m2.typical, row) for row in design.light.ways_out if row.seen_in
        for glow in row.glows if glow.state == state
    ]
    if not lit:
        return ()
    ranked = sorted(lit, key=lambda pair: -pair[0])
    told = [f"{row.name} of {row.part} ({WHAT[row.kind]}, {amount(cd_m2, 'cd/m2')}, {_seen_words(row)})"
            for cd_m2, row in ranked[:most]]
    more = f"; and {len(ranked) - most} more" if len(ranked) > most else ""
    return (f"Light gets out at {', '.join(told)}{more}.",)


def spot_words(design: Design, state: str, most: int = 3) -> tuple[str, ...]:
    """One sentence on the spots beside sources that are seen in a state in one room or another, the brightest first."""
    least = min(least_seen_in(room) for room in ROOMS)
    lit = sorted(((glow.luminance_cd_m2.typical, spot) for spot in design.light.spots for glow in spot.glows
                  if glow.state == state and glow.luminance_cd_m2.typical > least), key=lambda pair: -pair[0])
    if not lit:
        return ()
    told = ", ".join(f"{spot.emitter} on {spot.part} ({amount(cd_m2, 'cd/m2')})" for cd_m2, spot in lit[:most])
    more = f"; and {len(lit) - most} more" if len(lit) > most else ""
    return (f"Spots on walls beside {told}{more}.",)
