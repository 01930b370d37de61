"""LEDs in rooms, seen through openings: the opening glows with the light that the room throws about."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from rushlight.likely import Guesses, joined, known_apart
from rushlight.model.drawer import DiffuserPart, Drawer, LedPart
from rushlight.model.plan import Plan, Space
from rushlight.model.plan_part import Opening, Part
from rushlight.optics import lit_room
from rushlight.optics.doorway import OPEN, Doorway
from rushlight.optics.lit_room import BoxRoom, OtherWindow
from rushlight.optics.sheet import overlap_factor
from rushlight.optics.wall import stacked, stacked_reflectance
from rushlight.stages.painted_wall import room_reflectance
from rushlight.stages.parts_law import led_flux_lm, led_guesses, led_order
from rushlight.stages.poses import doorway_in
from rushlight.units import Range

ROOM_PAINT = Range(0.4, 0.6, 0.8)
"""Reflectance of a room painted light inside (from memory, typical)."""

BOXED_ROOM = "boxed room"
"""What a reading of such a room's paint is of."""

ROOM_SPREAD = (0.4, 2.0)
"""What is not known of a room's size and paint, as factors (project proposal)."""

PLACE_SPREAD = (0.6, 1.6)
"""What is not known of a room of known size and paint: where its LED sits and what stands in it (project proposal)."""

MOST_REFLECTANCE = 0.95

BOXED_ROOM_MM = 30.0
"""Side of the cube into which a lit room is boxed, unless a space of the opening's name gives its size."""

CLEAR_PART = Range(0.85, 0.9, 0.92)
"""Transmittance of a clear window (from memory, typical)."""


def room_light(
    plan: Plan, drawer: Drawer, led: LedPart, *, opening: Opening | None, light_a: float, state: str | None = None
) -> tuple[Range, Range, Range]:
    """Flux out of the opening, axial intensity and luminance of a lit room, at a current as `led_light_a` counts it.

    Without a sheet the luminance is that of the back wall seen through the opening; a sheet in it is matt and glows
    with what falls on it from inside, E T / pi, and throws some of it back. Both from the light that the room's walls
    throw to one another. What a door keeps in, its own or that of another window, goes on lighting the room; nothing is
    seen of one that is shut. Doors stand as in the state; without one they are wide open.
    """
    doorway = _doorway(plan, opening, state)
    if doorway.seen <= 0.0:
        return (Range.exactly(0.0),) * 3
    seen, spread = _per_lm(plan, drawer, opening, order=led_order(led), state=state)
    luminance = led_flux_lm(led, light_a).times(seen.times(spread)).times(opening_through(drawer, opening))
    intensity = luminance.times(opening_mm2(opening) * 1e-6)
    return intensity.times(math.pi * doorway.passes), intensity.times(doorway.seen), luminance


def room_guesses(
    plan: Plan, drawer: Drawer, led: LedPart, *, opening: Opening | None, state: str | None = None
) -> Guesses:
    """What the light of `room_light` hangs on: its LED, the room and its paint, what stands in the opening."""
    if _doorway(plan, opening, state).seen <= 0.0:
        return ()
    paint, room = _per_lm(plan, drawer, opening, order=led_order(led), state=state)
    return joined(*led_guesses(led), known_apart([("the room's paint", paint), ("the room", room)]),
                  through_guesses(drawer, opening))


def _doorway(plan: Plan, opening: Opening | None, state: str | None) -> Doorway:
    return OPEN if state is None else doorway_in(plan, opening, state)


def _per_lm(
    plan: Plan, drawer: Drawer, opening: Opening | None, *, order: float, state: str | None
) -> tuple[Range, Range]:
    """Luminance seen for each lumen of the LED, over what its paint may be, and what else is not known of the room.

    Of a room whose size and paint the plan knows, else of a boxed one, whose paint is among what else is not known.
    """
    size = _box_mm(plan, opening)
    middle, others = _beside(plan, drawer, opening, size_mm=size, state=state)
    box = BoxRoom(size, _free_mm(plan, opening, state), order,
                  sheet_reflects=sheets_back(drawer, opening), middle_mm=middle, others=others,
                 lamp_mm=lamp_mm(plan, opening))
    space, read = _space_behind(plan, opening), drawer.measured("room paint", BOXED_ROOM)
    if space is None and read is None:
        return Range.exactly(_seen(box, ROOM_PAINT.typical)), Range(ROOM_SPREAD[0], 1.0, ROOM_SPREAD[1])
    paint = room_reflectance(drawer, lined_by(plan, space)) if space else read or ROOM_PAINT
    seen = Range(*(_seen(box, min(rho, MOST_REFLECTANCE)) for rho in (paint.low, paint.typical, paint.high)))
    return seen, Range(PLACE_SPREAD[0], 1.0, PLACE_SPREAD[1])


@lru_cache(maxsize=1024)
def _seen(room: BoxRoom, reflectance: float) -> float:
    """What a lumen of the LED makes of the back wall, or of a sheet that lets all through [cd/m2].

    Kept, because every window of a row asks for the same.
    """
    light = lit_room.room_light(room, reflectance)
    return light.seen_cd_m2 if room.sheet_reflects is None else light.opening_lx / math.pi


def _space_behind(plan: Plan, opening: Opening | None) -> Space | None:
    if opening is None:
        return None
    own = next((space for space in plan.spaces if space.name == opening.name), None)
    return shared_space(plan, opening) or own


def shared_space(plan: Plan, opening: Opening | None) -> Space | None:
    """The space whose one LED is seen through this opening and others; None where it has a room of its own."""
    return next((space for space in plan.spaces if opening is not None and opening.name in space.windows
                 and any(found is opening for _, found in windows_of(plan, space))), None)


def doors_about(plan: Plan, opening: Opening) -> bool:
    """Whether a door stands in an opening or in another window of its room: what is seen then goes by the state."""
    space = shared_space(plan, opening)
    rows = [opening, *(row for _, row in windows_of(plan, space))] if space else [opening]
    return any(row.door is not None for row in rows)


def windows_of(plan: Plan, space: Space) -> tuple[tuple[Part, Opening], ...]:
    """Openings through which a space's one LED is seen, each with its part, in the order of the plan's parts."""
    return tuple((part, row) for part in plan.parts if part.name in space.parts
                 for row in part.openings if row.name in space.windows)


WALLS = ((1, 0), (1, 1), (0, 0), (0, 1), (2, 1), (2, 0))
"""Walls of a room in which windows lie: those of the window's own part in front, those of the next part across, those
of further parts at the sides, then in the ceiling and in the floor (project rule)."""


def _beside(
    plan: Plan, drawer: Drawer, opening: Opening | None, *, size_mm: tuple[float, float, float], state: str | None
) -> tuple[tuple[float, float] | None, tuple[OtherWindow, ...]]:
    """Where in the front wall an opening lies, and the other windows of its room that let light out."""
    space = shared_space(plan, opening)
    if space is None or opening is None:
        return None, ()
    windows = windows_of(plan, space)
    own = next(part.name for part, row in windows if row is opening)
    parts = [own, *(name for name in dict.fromkeys(part.name for part, _ in windows) if name != own)]
    middle, others = None, []
    for name, wall in zip(parts, WALLS, strict=False):
        rows = [row for part, row in windows if part.name == name]
        wide, tall = (size_mm[axis] for axis in lit_room.AXES[wall[0]])
        for row, at in zip(rows, _places(rows, wide, tall), strict=True):
            if row is opening:
                middle = at
            elif _doorway(plan, row, state).seen > 0.0:
                others.append(OtherWindow(wall, at, _free_mm(plan, row, state), sheets_back(drawer, row) or 0.0))
    return middle, tuple(others)


def _places(rows: list[Opening], wide: float, tall: float) -> list[tuple[float, float]]:
    """Middles of windows in a wall: as they lie to each other on their part, together in its middle, none outside."""
    middles = []
    for row in rows:
        xs, ys = [p[0] for p in row.shape_mm], [p[1] for p in row.shape_mm]
        middles.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    u, v = ((min(at[k] for at in middles) + max(at[k] for at in middles)) / 2 for k in (0, 1))
    return [
        (_within(x - u + wide / 2, _front_mm(row)[0], wide), _within(y - v + tall / 2, _front_mm(row)[1], tall))
        for row, (x, y) in zip(rows, middles, strict=True)
    ]


def _within(middle: float, size: float, room: float) -> float:
    half = min(size, room) / 2
    return min(max(middle, half), room - half)


def lamp_mm(plan: Plan, opening: Opening | None) -> tuple[float, float] | None:
    """Where a room's LED hangs as one stands before this window: seen from the wall across, the other way round."""
    space = shared_space(plan, opening)
    if space is None or space.led_mm is None:
        return None
    parts = list(dict.fromkeys(part.name for part, _ in windows_of(plan, space)))
    own = next(part.name for part, row in windows_of(plan, space) if row is opening)
    (x, y), (width, depth, _) = space.led_mm, space.size_mm
    return (width - x, depth - y) if parts.index(own) == 1 else (x, y)


def space_depth_mm(plan: Plan, opening: str | None) -> float | None:
    """Depth of the space behind an opening of that name; None where there is none."""
    return next((space.size_mm[1] for space in plan.spaces
                 if opening is not None and (space.name == opening or opening in space.windows)), None)


def _box_mm(plan: Plan, opening: Opening | None) -> tuple[float, float, float]:
    """Width, depth, height of the room; a boxed one is never smaller than its window."""
    space = _space_behind(plan, opening)
    if space is not None:
        width, depth, height = space.size_mm
        return (width, depth, height)
    wide, tall = _front_mm(opening)
    return (max(BOXED_ROOM_MM, wide), BOXED_ROOM_MM, max(BOXED_ROOM_MM, tall))


def _front_mm(opening: Opening | None) -> tuple[float, float]:
    """Width and height of a rectangle of the opening's proportions and area."""
    if opening is None:
        return (5.0, 5.0)
    xs, ys = [p[0] for p in opening.shape_mm], [p[1] for p in opening.shape_mm]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    shrunk = math.sqrt(opening_mm2(opening) / (wide * tall))
    return (wide * shrunk, tall * shrunk)


def _free_mm(plan: Plan, opening: Opening | None, state: str | None) -> tuple[float, float]:
    """Width and height of such a rectangle of what lets light out past the door."""
    shrunk = math.sqrt(_doorway(plan, opening, state).passes)
    wide, tall = _front_mm(opening)
    return (wide * shrunk, tall * shrunk)


def opening_through(drawer: Drawer, opening: Opening | None) -> Range:
    """Transmittance of what stands in an opening: its clear part and its sheets."""
    if opening is None:
        return CLEAR_PART
    through = CLEAR_PART if opening.clear else Range.exactly(1.0)
    return through.times(_sheets_through(tuple(drawer.diffuser(row.sheet) for row in opening.diffusers)))


def through_guesses(drawer: Drawer, opening: Opening | None) -> Guesses:
    """What the transmittance of an opening hangs on: its clear part, and each kind of sheet at its ends by itself."""
    clear = [("the clear part", CLEAR_PART)] if opening is None or opening.clear else []
    if opening is None or not opening.diffusers:
        return known_apart(clear)
    sheets = [drawer.diffuser(row.sheet) for row in opening.diffusers]
    kinds = dict.fromkeys(sheet.name for sheet in sheets)
    each = ((name, _sheets_through(tuple(sheet if sheet.name == name else _as_usual(sheet) for sheet in sheets)))
            for name in kinds)
    return known_apart((*clear, *each))


def _as_usual(sheet: DiffuserPart) -> DiffuserPart:
    """The same sheet as if it were known."""
    return replace(sheet, transmittance=Range.exactly(sheet.transmittance.typical),
                   reflectance=Range.exactly(sheet.reflectance.typical))


@lru_cache(maxsize=1024)
def _sheets_through(sheets: tuple[DiffuserPart, ...]) -> Range:
    """Transmittance of sheets one behind another: what one throws back the other throws on again."""
    return Range(*sorted(_stack(sheets, end)[0] for end in ("low", "typical", "high")))


def sheets_back(drawer: Drawer, opening: Opening | None) -> float | None:
    """What the sheets of an opening throw back into the room [-]; None where it has none."""
    if opening is None or not opening.diffusers:
        return None
    return min(_stack([drawer.diffuser(row.sheet) for row in opening.diffusers], "typical")[1], MOST_REFLECTANCE)


def overlap_share(drawer: Drawer, opening: Opening, other: Opening) -> float:
    """Luminance where the sheets of another opening lie over this one's too, over that beside it [-].

    Source: Kubelka, J. Opt. Soc. Am. 44 (1954) 330; which of them lies outside makes no difference.
    """
    own, over = ([drawer.diffuser(row.sheet) for row in rows.diffusers] for rows in (opening, other))
    through = _stack(over, "typical")[0]
    faces = min(_stack(over[::-1], "typical")[1], 1.0 - through), _stack(own, "typical")[1]
    return overlap_factor(through, faces[0], own_reflectance=faces[1]) if through > 0.0 else 0.0


def _stack(sheets: Sequence[DiffuserPart], end: str) -> tuple[float, float]:
    """Transmittance of sheets from the outside inward, and the reflectance of their inner face.

    Source: Kubelka, J. Opt. Soc. Am. 44 (1954) 330.
    """
    through, back = 1.0, 0.0
    for sheet in sheets:
        passes = getattr(sheet.transmittance, end)
        throws = min(getattr(sheet.reflectance, end), 1.0 - passes)
        both = stacked(through, passes, first_reflectance=min(back, 1.0 - through), second_reflectance=throws)
        back = stacked_reflectance(back, passes, reflectance=throws)
        through = both
    return through, back


def opening_named(plan: Plan, part: str | None, name: str | None) -> Opening | None:
    """An opening of a part by name; None if there is no such."""
    parts = [row for row in plan.parts if row.name == part]
    return next((row for found in parts for row in found.openings if row.name == name), None)


def lined_by(plan: Plan, space: Space) -> tuple[Part, ...]:
    """The parts that form a space."""
    return tuple(plan.part(name) for name in space.parts)


def parts_round(plan: Plan, part: str) -> tuple[Part, ...]:
    """The parts of the first space that a part belongs to; the part alone where none is known."""
    space = next((space for space in plan.spaces if part in space.parts), None)
    return lined_by(plan, space) if space else (plan.part(part),)


def space_area_m2(plan: Plan, part: str) -> float:
    """Inner surface of the first space that a part belongs to; of a boxed cube where none is known."""
    sizes = [space.size_mm for space in plan.spaces if part in space.parts]
    return box_area_m2(sizes[0] if sizes else (BOXED_ROOM_MM,) * 3)


def box_area_m2(size_mm: tuple[float, ...]) -> float:
    """Surface of a box."""
    length, width, height = (size / 1000 for size in size_mm)
    return 2 * (length * width + width * height + length * height)


def opening_mm2(opening: Opening | None) -> float:
    """Area of an opening; of one 5 mm wide where none is named."""
    if opening is None:
        return 25.0
    corners = opening.shape_mm
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
