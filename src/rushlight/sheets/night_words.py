"""What is said beside a picture by night: walls that let light through, and what the picture cannot show."""

from __future__ import annotations

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Part
from rushlight.sheets.amounts import amount
from rushlight.sheets.ways_out import spot_words, way_out_words
from rushlight.stages.leaks import ROOMS, least_seen_in
from rushlight.stages.outlook import Array, beams_of, eye_of, outlook
from rushlight.stages.poses import pose_in

ASIDE = ("ahead", "astern", "port", "starboard", "up", "down")
"""Facings of which a part that is laid flat does not tell how they lie to the viewer."""


def night_words(design: Design, state: str, shown: tuple[Part, ...]) -> str:
    """All that is said beside the picture of a state.

    Parameters
    ----------
    design : Design
        With its light.
    state : str
        Which state.
    shown : tuple of Part
        Parts on the picture.
    Returns
    -------
    str
        Sentences on the viewer's place, on stray light, on lamps that point away or may, and on lamps of parts that
        have moved.
    """
    return " ".join((viewer_words(design.plan), *glow_words(design, state, shown), *facing_words(design, state),
                     *moved_words(design, state)))


def viewer_words(plan: Plan) -> str:
    """From where the pictures by night are looked at."""
    subject = plan.subject
    if subject.viewing_bearing_deg is None:
        return "Each part is seen square on."
    flat = "parts are laid out flat."
    if any(part.openings for part in plan.parts):
        flat += " Openings are as narrow as they look from there, and as bright."
    return f"Seen from {way_words(subject.viewing_bearing_deg, subject.viewing_height_deg)}; {flat}"


def way_words(bearing_deg: float, height_deg: float = 0.0) -> str:
    """A bearing and a height over the horizon [deg] in words: 'ahead, 30 degrees to starboard'."""
    at = bearing_deg % 360.0
    aside = min(at, 360.0 - at)
    words = {0.0: "ahead", 90.0: "starboard", 180.0: "astern", 270.0: "port"}.get(at)
    if words is None:
        ends, off = ("ahead", aside) if aside < 90.0 else ("astern", 180.0 - aside)
        words = f"{ends}, {amount(off, digits=3)} degrees to {'starboard' if at < 180.0 else 'port'}"
    if height_deg == 0.0:
        return words
    return f"{words}, {amount(abs(height_deg), digits=3)} degrees {'up' if height_deg > 0.0 else 'down'}"


def facing_words(design: Design, state: str) -> tuple[str, ...]:
    """Lit lamps that shine inward, those dark towards the viewer, and those of which it is not known how they face."""
    lit = {row.lamp for row in design.light.lamps if row.state == state}
    lamps = [lamp for lamp in design.lamps if lamp.name in lit]
    inward = [lamp.name for lamp in lamps if turned_away(design, lamp)]
    many = "lamp shines" if len(inward) == 1 else "lamps shine"
    words = [f"{len(inward)} lit {many} inward and cannot be seen."] if inward else []
    eye = eye_of(design.plan)
    return (*words, *(_square_on(lamps) if eye is None else _from_aside(design, state, lamps, eye)))


def _from_aside(design: Design, state: str, lamps: list[PlacedLamp], eye: Array) -> list[str]:
    """How many lamps are dark from there, and how many are shown as from straight before them for want of a word."""
    beams = beams_of(design)
    shares = outlook(design, state, eye, beams).lamps
    out = [lamp.name for lamp in lamps if not turned_away(design, lamp)]
    dark = sum(shares[name] <= 0.0 for name in out)
    unknown = [name for name in out if beams[name].axis is None]
    words = []
    if dark:
        words.append(f"{dark} lit {'lamp sends' if dark == 1 else 'lamps send'} no light there.")
    if unknown:
        parts = listed(sorted({spot.part for name in unknown if (spot := design.lamp(name).spot)}))
        many = "lamp shows" if len(unknown) == 1 else "lamps show"
        words.append(f"{len(unknown)} {many} as from straight before them: where {parts} faces is not said.")
    return words


def _square_on(lamps: list[PlacedLamp]) -> list[str]:
    aside, words = [lamp for lamp in lamps if lamp.facing in ASIDE], []
    if aside:
        ways = listed([way for way in ASIDE if any(lamp.facing == way for lamp in aside)])
        words.append(f"Lamps that shine {ways} ({len(aside)}) show as from straight before them, without their "
                     "sectors.")
    return words


def turned_away(design: Design, lamp: PlacedLamp) -> bool:
    """Whether nothing of a lamp is seen from outside: it shines inward, and not through an opening that it fills."""
    return lamp.facing == "inward" and design.source(lamp.name).kind not in ("strip", "room")


def moved_words(design: Design, state: str) -> tuple[str, ...]:
    """Parts with lit lamps that stand otherwise in a state than they are drawn."""
    lit = {row.lamp for row in design.light.lamps if row.state == state}
    carrying = {lamp.spot.part for lamp in design.lamps if lamp.name in lit and lamp.spot}
    poses = {part.name: pose_in(design.plan, part.name, state) for part in design.plan.parts if part.name in carrying}
    moved = [name for name, pose in poses.items() if pose is not None and pose.value]
    if not moved:
        return ()
    return (f"Lamps on {listed(moved)} are shown on the part as it lies flat, not where it has moved.",)


def listed(names: list[str]) -> str:
    """Names with commas, the last after "and"."""
    return " and ".join(", ".join(part) for part in (names[:-1], names[-1:]) if part)


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
        What glows and in which rooms it is seen, walls that are not on the picture, seams, posts and holes that
        are seen; empty without stray light.
    """
    names = {part.name for part in shown}
    glows = {leak.part: glow.luminance_cd_m2.typical
             for leak in design.light.leaks for glow in leak.glows if glow.state == state}
    seen = {part: cd_m2 for part, cd_m2 in glows.items() if cd_m2 > _least()}
    words = [*_walls("Light comes through the wall of", {part: at for part, at in seen.items() if part in names}),
             *_walls("Not on the picture: light through the wall of",
                     {part: at for part, at in seen.items() if part not in names})]
    spots = spot_words(design, state)
    if glows and len(seen) < len(glows) and not (spots and not seen):
        words.append("No other wall glows so that an eye sees it." if seen else
                     "Stray light comes through no wall so that an eye sees it.")
    return (*words, *spots, *way_out_words(design, state))


def _least() -> float:
    return min(least_seen_in(room) for room in ROOMS)


def _walls(start: str, walls: dict[str, float]) -> list[str]:
    told = [f"{part} ({amount(cd_m2, 'cd/m2')}, {_rooms(cd_m2)})" for part, cd_m2 in walls.items()]
    return [f"{start} {', '.join(told)}."] if told else []


def _rooms(cd_m2: float) -> str:
    """The rooms in which a wall's glow is seen, the brightest first."""
    rooms = [room for room in ROOMS if cd_m2 > least_seen_in(room)]
    return "seen in every room" if len(rooms) == len(ROOMS) else f"seen in a {' or '.join(rooms)}"
