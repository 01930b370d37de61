"""What is said beside a picture by night: walls that let light through, and what of stray light it cannot show."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.plan_part import Part
from rushlight.sheets.amounts import amount
from rushlight.stages.leaks import ROOMS, least_seen_in


def glow_words(design: Design, state: str, shown: tuple[Part, ...]) -> tuple[str, ...]:
    """Sentences on stray light in a state.

    Parameters
    ----------
    design : Design
        With its leaks.
    state : str
        Which state.
    shown : tuple of Part
        Parts on the picture.
    Returns
    -------
    tuple of str
        What glows and in which rooms it is seen, walls that are not on the picture, ways out that it does not show;
        empty without stray light.
    """
    names = {part.name for part in shown}
    glows = {leak.part: glow.luminance_cd_m2.typical
             for leak in design.light.leaks for glow in leak.glows if glow.state == state}
    seen = {part: cd_m2 for part, cd_m2 in glows.items() if cd_m2 > _least()}
    words = [*_walls("Light comes through the wall of", {part: at for part, at in seen.items() if part in names}),
             *_walls("Not on the picture: light through the wall of",
                     {part: at for part, at in seen.items() if part not in names})]
    if glows and len(seen) < len(glows):
        words.append("No other wall glows so that an eye sees it." if seen else
                     "Stray light comes through no wall so that an eye sees it.")
    return (*words, *_ways_out(design, set(glows)))


def _least() -> float:
    return min(least_seen_in(room) for room in ROOMS)


def _walls(start: str, walls: dict[str, float]) -> list[str]:
    told = [f"{part} ({amount(cd_m2, 'cd/m2')}, {_rooms(cd_m2)})" for part, cd_m2 in walls.items()]
    return [f"{start} {', '.join(told)}."] if told else []


def _rooms(cd_m2: float) -> str:
    """The rooms in which a wall's glow is seen, the brightest first."""
    rooms = [room for room in ROOMS if cd_m2 > least_seen_in(room)]
    return "seen in every room" if len(rooms) == len(ROOMS) else f"seen in a {' or '.join(rooms)}"


def _ways_out(design: Design, lit: set[str]) -> tuple[str, ...]:
    """Ways out of a lit part whose light is not worked out: seams, holes of crossings, posts."""
    parts = [part for part in design.plan.parts if part.name in lit]
    ways = [
        *(["seams"] if any(part.seams_mm for part in parts) else []),
        *(["holes"] if any(end.part in lit for row in design.plan.crossings for end in row.ends) else []),
        *(["posts"] if any(row.why == "post" for part in parts for row in part.keep_outs) else []),
    ]
    return (f"Light at {' or '.join(ways)} is not worked out: look for it in the dark.",) if ways else ()
