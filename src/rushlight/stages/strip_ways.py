"""Ways in which a strip could be laid anew behind its windows, each as a ladder of ever more change."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

import numpy as np

from rushlight.model.drawer import Drawer
from rushlight.model.place import Point
from rushlight.model.plan_part import Diffuser, Opening
from rushlight.stages.coats import BLACK, WHITE
from rushlight.stages.parts_law import most_apart
from rushlight.stages.rooms import opening_through
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strip_looks import looks_of
from rushlight.stages.strip_place import Laid, Room, ends_of, laid_along, lengths_of, moved, run_on
from rushlight.stages.window_panes import Behind, behind_opening, post_radii_mm
from rushlight.stages.window_sheets import sheets_behind, thin_sheets, with_sheet

STEP_MM = 0.5
"""Gaps and moves of posts are told in such steps."""

FARTHEST = 3.0
"""Strips are set back up to so many times their gap or their pitch, whichever is more (project rule)."""

NEAREST = 0.4
"""And brought nearer down to such a share of their gap (project rule)."""

SHEET_STEP_MM, SHEET_STEPS = 1.0, 30
"""Free gaps of a second sheet that are tried."""

OVER_STEP_MM, OVER_STEPS = 5.0, 40
"""How far past the last windows a strip should reach, step by step."""

SHIFT_MM = 1.0
"""Lesser moves are not told (project rule)."""

TURN_DEG = 2.0
"""Lesser turns are not told (project rule)."""

LEAST_LIGHTER, LEAST_DARKER = 0.1, 0.2
"""Painting the channel's walls changes their reflectance by more than this, or is not tried (project rule)."""

Step = Callable[[int], Laid | None]


@dataclass(frozen=True, slots=True)
class Ladder:
    """Ever more of one kind of change: `step(1)` is the least of it, `steps` the last; `work` ranks it by labour."""

    kind: str
    work: int
    steps: int
    step: Step


KINDS = ("post", "move", "turn", "run on", "gap", "walls", "sheet", "strip")
"""Kinds of change against uneven windows, the least work first."""

ALIKE_KINDS = ("post", "move", "turn", "shorten", "run on", "dim", "gap", "walls")
"""Kinds of change against windows that are unlike each other."""


def ladders(room: Room, laid: Laid, *, kinds: Collection[str] = KINDS) -> tuple[Ladder, ...]:
    """Every kind of change, the least work first.

    Parameters
    ----------
    room : Room
        Where the strip may lie; the drawer with other strips, sheets, paint.
    laid : Laid
        From where the changes are made.
    kinds : collection of str
        Those that are asked for, of KINDS and ALIKE_KINDS.
    Returns
    -------
    tuple of Ladder
        Steps that would not fit their place give None.
    """
    drawer = room.drawer
    makers: dict[str, Callable[[], list[Ladder]]] = {
        "post": lambda: _post_ladders(room, laid), "move": lambda: [_listed("move", 1, _moves(room, laid))],
        "turn": lambda: [_listed("turn", 2, _turns(drawer, laid))],
        "run on": lambda: [_listed("run on", 3, _runs_on(room, laid))],
        "shorten": lambda: _shorter(drawer, laid),
        "dim": lambda: [_listed("dim", 4, _dimmed(room, laid))],
        "gap": lambda: _gap_ladders(drawer, laid), "walls": lambda: [_listed("walls", 5, _walls(drawer, laid))],
        "sheet": lambda: _sheet_ladders(drawer, laid),
        "strip": lambda: [_listed("strip", 7, other_rows(drawer, laid))],
    }
    found = [row for kind in makers if kind in kinds for row in makers[kind]()]
    return tuple(replace(row, step=_fitting(room, row.step)) for row in found if row.steps > 0)


def _fitting(room: Room, step: Step) -> Step:
    def made(count: int) -> Laid | None:
        laid = step(count)
        return laid if laid is not None and room.fits(laid) else None
    return made


def _listed(kind: str, work: int, rows: Iterable[Laid]) -> Ladder:
    made = tuple(rows)
    return Ladder(kind, work, len(made), lambda count: made[count - 1])


# --- where it lies ---------------------------------------------------------------------------------------------------


def behinds_of(drawer: Drawer, laid: Laid) -> list[Behind]:
    """Every window in the frame of the piece of strip behind it."""
    points = run_emitter(drawer.strip(laid.row), laid.run).strip_points_mm
    return [behind_opening(laid.run, opening, points) for opening in laid.openings]


def _moves(room: Room, laid: Laid) -> Iterable[Laid]:
    """To the middle of the windows across, along, and both; along only as far as there is room; a bent one whole."""
    part, behinds = room.drawer.strip(laid.row), behinds_of(room.drawer, laid)
    if len({row.way for row in behinds}) > 1 or len(laid.run.along_mm) > 2:
        yield from _bent_moves(room, laid, behinds)
        return
    aside = [row.aside_mm for row in behinds]
    across = (min(aside) + max(aside)) / 2
    middle = (min(row.from_mm for row in behinds) + max(row.to_mm for row in behinds)) / 2
    along = middle - lengths_of(part, laid.run) * part.segment_mm / 2
    (ux, uy) = behinds[0].way
    for far, wide in ((0.0, across), (along, 0.0), (along, across)):
        if max(abs(far), abs(wide)) < SHIFT_MM or (far and wide and min(abs(far), abs(wide)) < SHIFT_MM):
            continue
        for share in (1.0, 0.75, 0.5, 0.25):
            made = moved(laid, (far * share * ux - wide * uy, far * share * uy + wide * ux))
            if far == 0.0 or room.fits(made):
                yield made
                break


def _bent_moves(room: Room, laid: Laid, behinds: list[Behind]) -> Iterable[Laid]:
    """A bent strip straight over, to lie as near as can be in the middle of the windows of each of its pieces."""
    across = np.array([(-uy, ux) for ux, uy in (row.way for row in behinds)])
    shift = np.linalg.lstsq(across, np.array([row.aside_mm for row in behinds]), rcond=None)[0]
    if float(np.linalg.norm(shift)) < SHIFT_MM:
        return
    for share in (1.0, 0.75, 0.5, 0.25):
        made = moved(laid, _point(share * shift))
        if room.fits(made):
            yield made
            return


def _turns(drawer: Drawer, laid: Laid) -> Iterable[Laid]:
    """A straight strip along the line of its windows, its middle in theirs; across it where it lies along."""
    part = drawer.strip(laid.row)
    if len(laid.run.along_mm) != 2:
        return
    line = _line(laid.openings)
    start, end = (np.array(at) for at in ends_of(part, laid.run))
    now = math.atan2(end[1] - start[1], end[0] - start[0])
    length = lengths_of(part, laid.run) * part.segment_mm
    for middle, angle in line:
        turn = (angle - now + math.pi / 2) % math.pi - math.pi / 2
        if abs(math.degrees(turn)) < TURN_DEG:
            continue
        half = length / 2 * np.array([math.cos(now + turn), math.sin(now + turn)])
        yield laid_along(laid, (_point(middle - half), _point(middle + half)))


def _line(openings: tuple[Opening, ...]) -> list[tuple[np.ndarray, float]]:
    """Middle of the windows, and the way of their longest line: from the first to the last, or a window's long side."""
    boxes = [np.array(opening.shape_mm) for opening in openings]
    middles = np.array([(box.max(axis=0) + box.min(axis=0)) / 2 for box in boxes])
    centre = (middles.max(axis=0) + middles.min(axis=0)) / 2
    if len(openings) > 1:
        way = np.linalg.svd(middles - middles.mean(axis=0))[2][0]
        return [(centre, math.atan2(way[1], way[0]))]
    edges = [(np.array(a), np.array(b)) for a, b in pairwise((*openings[0].shape_mm, openings[0].shape_mm[0]))]
    start, end = max(edges, key=lambda edge: float(np.linalg.norm(edge[1] - edge[0])))
    return [(centre, math.atan2(*(end - start)[::-1]))]


def _runs_on(room: Room, laid: Laid) -> list[Laid]:
    """By whole cut lengths, so far past the last windows on both sides; as far as there is room on each."""
    part, behinds = room.drawer.strip(laid.row), behinds_of(room.drawer, laid)
    first_behind, last_behind = behinds_at_ends(laid, behinds)
    start, end = ends_of(part, laid.run)
    over_first = first_behind.from_mm - first_behind.framed(start)[0]
    over_last = last_behind.framed(end)[0] - last_behind.to_mm
    wants = [number * OVER_STEP_MM for number in range(1, OVER_STEPS + 1)]
    counts = dict.fromkeys((_lengths(want - over_first, part.segment_mm), _lengths(want - over_last, part.segment_mm))
                           for want in wants)
    firsts = _most_of([first for first, _ in counts], lambda count: room.fits(run_on(part, laid, first=count, last=0)))
    lasts = _most_of([last for _, last in counts], lambda count: room.fits(run_on(part, laid, first=0, last=count)))
    longer = dict.fromkeys((firsts[first], lasts[last]) for first, last in counts)
    return [run_on(part, laid, first=first, last=last) for first, last in longer if first + last]


def _shorter(drawer: Drawer, laid: Laid) -> list[Ladder]:
    """Cut off at its first end or at its last, by ever more cut lengths, within its first or last straight piece."""
    part = drawer.strip(laid.row)
    count = lengths_of(part, laid.run)
    pieces = [math.dist(*piece) for piece in pairwise(laid.run.along_mm)]
    room = [pieces[0], count * part.segment_mm - sum(pieces[:-1])]
    most = [min(math.ceil(far / part.segment_mm - 1e-6) - 1, count - 1) for far in room]
    return [Ladder("shorten", 2, most[0], lambda number: run_on(part, laid, first=-number, last=0)),
            Ladder("shorten", 2, most[1], lambda number: run_on(part, laid, first=0, last=-number))]


def _most_of(counts: Iterable[int], fits: Callable[[int], bool]) -> dict[int, int]:
    """For each of some counts the most up to it that fits, else 0; each number is tried once."""
    found, least, most = {0: 0}, 0, 0
    for count in sorted(set(counts)):
        most = next((number for number in range(count, least, -1) if fits(number)), most)
        found[count], least = most, count
    return found


def _lengths(lacks_mm: float, segment_mm: float) -> int:
    return max(math.ceil(lacks_mm / segment_mm - 1e-6), 0)


def behinds_at_ends(laid: Laid, behinds: list[Behind]) -> tuple[Behind, Behind]:
    """The windows nearest to the first and to the last end of a run, each in its piece's frame."""
    first, last = laid.run.along_mm[0], laid.run.along_mm[-1]
    return (min(behinds, key=lambda row: math.dist(row.ends_mm[0], first)),
            min(behinds, key=lambda row: math.dist(row.ends_mm[1], last)))


def _point(at: np.ndarray) -> Point:
    return (float(at[0]), float(at[1]))


# --- gap, walls, sheets, strip ---------------------------------------------------------------------------------------


def _gap_ladders(drawer: Drawer, laid: Laid) -> list[Ladder]:
    gap, pitch = laid.run.gap_mm, drawer.strip(laid.row).pitch_mm
    back = math.floor((FARTHEST * max(gap, pitch) - gap) / STEP_MM)
    near = math.floor((1 - NEAREST) * gap / STEP_MM)

    def at(value: float) -> Laid:
        return replace(laid, run=replace(laid.run, gap_mm=round(value, 3)))

    return [Ladder("gap", 4, back, lambda count: at(_step_up(gap, count))),
            Ladder("gap", 4, near, lambda count: at(_step_down(gap, count)))]


def _step_up(value: float, count: int) -> float:
    """The count-th whole step above a value."""
    return (math.floor(value / STEP_MM + 1e-9) + count) * STEP_MM


def _step_down(value: float, count: int) -> float:
    return (math.ceil(value / STEP_MM - 1e-9) - count) * STEP_MM


def _walls(drawer: Drawer, laid: Laid) -> Iterable[Laid]:
    """White paint, black paint, where they are not what is there."""
    now = laid.run.walls_reflect
    finish = "matt" if laid.run.channel_walls == "foil" else laid.run.channel_walls
    white, black = (drawer.coat(name).reflectance.typical for name in (WHITE, BLACK))
    if white > now + LEAST_LIGHTER:
        yield replace(laid, run=replace(laid.run, walls_reflect=white, channel_walls=finish))
    if black < now - LEAST_DARKER:
        yield replace(laid, run=replace(laid.run, walls_reflect=black, channel_walls=finish))


def _sheet_ladders(drawer: Drawer, laid: Laid) -> list[Ladder]:
    """A second sheet like the first: with the strip where it is, then with the strip set back by as much."""
    if any(len(opening.diffusers) != 1 for opening in laid.openings):
        return []
    thick = max(drawer.diffuser(opening.diffusers[0].sheet).thickness_mm for opening in laid.openings)
    room = laid.run.gap_mm * (1 - NEAREST) - thick
    within = max(min(math.floor(room / SHEET_STEP_MM), SHEET_STEPS), 0)

    def put(count: int, *, stays: bool) -> Laid:
        free = count * SHEET_STEP_MM
        gap = round(laid.run.gap_mm - free - thick, 3) if stays else laid.run.gap_mm
        openings = tuple(replace(row, diffusers=(*row.diffusers, Diffuser(sheet=row.diffusers[0].sheet, gap_mm=free)))
                         for row in laid.openings)
        return replace(laid, run=replace(laid.run, gap_mm=gap), openings=openings)

    return [Ladder("sheet", 6, within, lambda count: put(count, stays=True)),
            Ladder("sheet", 6, SHEET_STEPS, lambda count: put(count, stays=False))]


def _dimmed(room: Room, laid: Laid) -> Iterable[Laid]:
    """A thin sheet more behind the brighter windows: of one kind for all, then of the kind that suits each."""
    drawer = room.drawer
    every = tuple(range(len(laid.openings)))
    lit = [row.luminance_cd_m2 for row in looks_of(room, laid, every, posts=True, coarser=2)]
    options = []
    for opening, now in zip(laid.openings, lit, strict=True):
        through = opening_through(drawer, opening).typical
        options.append({name: now * opening_through(drawer, with_sheet(opening, name)).typical / through
                        for name in thin_sheets(drawer)})
    for chosen in sheets_behind(lit, options, most_apart(drawer)):
        yield replace(laid, openings=tuple(with_sheet(row, name) if name else row
                                           for row, name in zip(laid.openings, chosen, strict=True)))


def other_rows(drawer: Drawer, laid: Laid) -> list[Laid]:
    """Strips of the same colour and voltage with a finer pitch, the coarsest first."""
    now = drawer.strip(laid.row)
    finer = [row for row in drawer.strips
             if (row.colour, row.supply_v) == (now.colour, now.supply_v) and row.pitch_mm < now.pitch_mm - 1e-6]
    # Of several of one pitch the one that is nearest in power: fewest other things change.
    by_pitch = {row.pitch_mm: min((one for one in finer if one.pitch_mm == row.pitch_mm),
                                  key=lambda one: (abs(one.power_w_per_m - now.power_w_per_m), one.name))
                for row in finer}
    return [replace(laid, row=row.name) for _, row in sorted(by_pitch.items(), reverse=True)]


# --- posts -----------------------------------------------------------------------------------------------------------

POST_STEPS = 80


def _post_ladders(room: Room, laid: Laid) -> list[Ladder]:
    """All posts moved along the windows either way, the same for each; then cut away."""
    line = _line(laid.openings)[0][1]
    ways = [(math.cos(line) * side, math.sin(line) * side) for side in (1, -1)]

    def at(way: Point, count: int) -> Laid:
        far = count * STEP_MM
        return _with_posts(as_wide, lambda foot: (round(foot[0] + way[0] * far, 2), round(foot[1] + way[1] * far, 2)))

    # Away from the keep-out that gives it its width, a post keeps it.
    as_wide = replace(laid, openings=tuple(
        replace(row, posts_width_mm=2 * max(post_radii_mm(room.place.part, row).values(), default=1.0))
        if row.posts_mm else row for row in laid.openings))
    some = any(opening.posts_mm for opening in laid.openings)
    one = len({foot for opening in laid.openings for foot in opening.posts_mm}) == 1
    apart = [Ladder("post", 0, POST_STEPS, partial(at, way)) for way in ways] if one else []
    return [*apart, Ladder("post", 1, 1, lambda _: _with_posts(laid, lambda _: None))] if some else []


def _with_posts(laid: Laid, to: Callable[[Point], Point | None]) -> Laid:
    openings = []
    for row in laid.openings:
        feet = [to(foot) for foot in row.posts_mm]
        openings.append(replace(row, posts_mm=tuple(foot for foot in feet if foot is not None)))
    return replace(laid, openings=tuple(openings))
