"""What was tried for a strip, as a modeller would read it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise

from rushlight.model.place import Point
from rushlight.stages.row_words import counted
from rushlight.stages.strip_cures import StripCures, Trial
from rushlight.stages.strip_place import Laid, Room, ends_of, lengths_of
from rushlight.stages.strips import LOOKING

MOST_RATIO = 1000.0
"""A window whose brightest is so many times its darkest is dark somewhere."""

HALF = 0.5
"""A change that is not enough is told where it leaves no more than this share of what is seen."""

MOST_TOLD = 3
"""So many ways are told."""

SIDES = (("right", 0), ("upper", 90), ("left", 180), ("lower", 270))
WAYS = ("to the right", "up", "to the left", "down")


def cure_words(cures: StripCures) -> str:
    """The ways that do, least work first, each with what it leaves; else the nearest, and what else would."""
    reaching = cures.reaching[:MOST_TOLD]
    if not reaching:
        return _nothing_words(cures)
    pair = all(len(row.kinds) > 1 for row in reaching)
    told = [f"{trial_words(cures, row)} ({left_words(cures, row, first=not number)})"
            for number, row in enumerate(reaching)]
    half = _half_words(cures, reaching[0])
    if pair:
        return "No one change is enough; two together are: " + "; or ".join(told) + "." + half
    return ". Or ".join([capital(told[0]), *told[1:]]) + "." + half


def _half_words(cures: StripCures, first: Trial) -> str:
    """A lesser change that does not do, but leaves far less than now."""
    lesser = [row for row in cures.tried if not row.reaches and row.work < first.work and len(row.kinds) == 1
              and row.over <= HALF * cures.over]
    best = min(lesser, key=lambda row: row.over, default=None)
    if best is None:
        return ""
    return f" Not enough alone: {trial_words(cures, best)} ({left_words(cures, best, first=False)})."


def capital(text: str) -> str:
    """As the start of a sentence."""
    return text[:1].upper() + text[1:]


def left_words(cures: StripCures, row: Trial, *, first: bool = True) -> str:
    """What a trial leaves: 'tried: brightest to darkest 1.31 to 1 instead of 31 to 1, 8.2 times'."""
    if cures.goal == "alike":
        return _apart_words(cures, row, first=first)
    rest = ", all of it the LEDs'" if row.reaches and row.times >= LOOKING else ""
    after = _from_to(cures.ratio, row.ratio, what="brightest to darkest") if first else ratio_words(row.ratio)
    return f"tried: {after}, {times_words(row.times)} times{rest}"


def _from_to(was: float, now: float, *, what: str) -> str:
    """Two ratios, with as many digits as tell them apart."""
    digits = next((count for count in (3, 4) if ratio_words(now, count) != ratio_words(was, count)), 3)
    return f"{what} {ratio_words(now, digits)} instead of {ratio_words(was, digits)}"


def _apart_words(cures: StripCures, row: Trial, *, first: bool) -> str:
    """'tried: brightest window to dimmest 1.31 to 1 instead of 2.2 to 1'."""
    uneven = ", but unevenly lit" if row.over < 1.0 and not row.reaches else ""
    if not first:
        return f"tried: {ratio_words(row.apart)}{uneven}"
    return f"tried: {_from_to(cures.apart, row.apart, what='brightest window to dimmest')}{uneven}"


def times_words(times: float) -> str:
    """With two digits, and never up to the aim that it stays under."""
    shown = times if times >= LOOKING else min(round(times, 1), LOOKING - 0.1)
    return f"{shown:.0f}" if shown >= LOOKING else f"{shown:.1f}"


def ratio_words(ratio: float, digits: int = 3) -> str:
    """1.31 to 1."""
    return f"over {MOST_RATIO:g} to 1" if ratio > MOST_RATIO else f"{ratio:.{digits}g} to 1"


def _nothing_words(cures: StripCures) -> str:
    best = cures.best
    otherwise = "Light the windows otherwise: by an LED in the room behind each, or by fibre."
    if best is None:
        better = "makes them more alike" if cures.goal == "alike" else "makes it more even"
        return f"Nothing that was tried {better}. {_bounds_words(cures)}{otherwise}"
    return (f"Nothing that was tried is enough. The most is to {trial_words(cures, best)} "
            f"({left_words(cures, best)}). {_bounds_words(cures)}{otherwise}")


def _bounds_words(cures: StripCures) -> str:
    """Why there is no more: the room behind."""
    room = cures.room
    left = room.place.depth_mm - room.back_mm(cures.now)
    if not math.isfinite(left):
        return ""
    return f"The room behind is {room.place.depth_mm:g} mm, of which the strip leaves {max(left, 0.0):.3g} mm. "


def trial_words(cures: StripCures, row: Trial) -> str:
    """What is done: 'move it 7 mm up and set it back from 12 to 18.5 mm'."""
    laids = (cures.now, *row.steps)
    return " and ".join(_step_words(kind, cures.room, before, after)
                        for kind, (before, after) in zip(row.kinds, pairwise(laids), strict=True))


def _step_words(kind: str, room: Room, before: Laid, after: Laid) -> str:
    told = {"move": _moved, "turn": _turned, "shorten": _shortened, "run on": _run_on, "gap": _gap, "dim": _dim,
            "walls": _walls, "sheet": _sheet, "strip": _strip, "post": _post}
    return told[kind](room, before, after)


def _moved(room: Room, before: Laid, after: Laid) -> str:
    return f"move it {way_words(before.run.along_mm[0], after.run.along_mm[0])}"


def way_words(start: Point, end: Point) -> str:
    """'7 mm up and 3 mm to the left on the drawing'."""
    told = [f"{abs(far):.3g} mm {WAYS[axis if far > 0 else axis + 2]}"
            for axis, far in ((0, end[0] - start[0]), (1, end[1] - start[1])) if abs(far) > 0.05]
    return " and ".join(told) + " on the drawing"


def _turned(room: Room, before: Laid, after: Laid) -> str:
    start, end = (f"[{x:.4g}, {y:.4g}]" for x, y in after.run.along_mm)
    was, now = (math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
                for a, b in (before.run.along_mm, after.run.along_mm))
    return f"turn it by {abs((now - was + 90) % 180 - 90):.3g} deg, to run from {start} to {end}"


def _run_on(room: Room, before: Laid, after: Laid) -> str:
    part = room.drawer.strip(after.row)
    (first, last), (new_first, new_last) = ends_of(part, before.run), ends_of(part, after.run)
    told = []
    for old, new in ((first, new_first), (last, new_last)):
        count = round(math.dist(old, new) / part.segment_mm)
        if count:
            told.append(f"by {counted(count, 'cut length')} ({count * part.segment_mm:.4g} mm) at its "
                        f"{side_words(old, new)} end")
    return f"let it run on {' and '.join(told)}"


def _shortened(room: Room, before: Laid, after: Laid) -> str:
    part = room.drawer.strip(after.row)
    (first, last), (new_first, new_last) = ends_of(part, before.run), ends_of(part, after.run)
    at_first = math.dist(first, new_first) > math.dist(last, new_last)
    old, other = (first, last) if at_first else (last, first)
    count = lengths_of(part, before.run) - lengths_of(part, after.run)
    return (f"cut off {counted(count, 'cut length')} ({count * part.segment_mm:.4g} mm) at its "
            f"{side_words(other, old)} end")


def side_words(start: Point, end: Point) -> str:
    """Which end of a line its last is, as one sees it on the drawing: right, upper, left or lower."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])) % 360
    return min(SIDES, key=lambda side: abs((angle - side[1] + 180) % 360 - 180))[0]


def _gap(room: Room, before: Laid, after: Laid) -> str:
    was, now = before.run.gap_mm, after.run.gap_mm
    return f"{'set it back' if now > was else 'bring it nearer'} from {was:.4g} to {now:.4g} mm"


def _dim(room: Room, before: Laid, after: Laid) -> str:
    added = {new.name: new.diffusers[-1].sheet for old, new in zip(before.openings, after.openings, strict=True)
             if len(new.diffusers) > len(old.diffusers)}
    return sheets_words(added)


def sheets_words(added: Mapping[str, str]) -> str:
    """'put tracing paper behind 'w1' and 'w2', against the sheet that is there'; which sheet goes behind which."""
    kinds = dict.fromkeys(added.values())
    told = [f"{sheet} behind {_names([name for name, own in added.items() if own == sheet])}" for sheet in kinds]
    return f"put {' and '.join(told)}, on the inside against what is there"


def _names(names: list[str]) -> str:
    quoted = [f"'{name}'" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"


def _walls(room: Room, before: Laid, after: Laid) -> str:
    share = after.run.walls_reflect
    paint = "white" if share > before.run.walls_reflect else "black"
    return f"paint the walls of its channel matt {paint} (reflectance {share:.2g})"


def _sheet(room: Room, before: Laid, after: Laid) -> str:
    sheet = after.openings[0].diffusers[-1]
    names = list(dict.fromkeys(row.diffusers[-1].sheet for row in after.openings))
    kept = after.run.gap_mm < before.run.gap_mm
    strip = "the strip where it is" if kept else "the strip back by as much"
    what = names[0] if len(names) == 1 else "the same"
    return (f"put a second sheet ({what}) {sheet.gap_mm:g} mm behind the first, {strip}, {after.run.gap_mm:.4g} mm "
            "behind the second")


def _strip(room: Room, before: Laid, after: Laid) -> str:
    part = room.drawer.strip(after.row)
    lengths = counted(lengths_of(part, after.run), "cut length")
    return f"take the strip '{after.row}' (LEDs {part.pitch_mm:.3g} mm apart, {lengths})"


def _post(room: Room, before: Laid, after: Laid) -> str:
    feet = [foot for row in before.openings for foot in row.posts_mm]
    left = [foot for row in after.openings for foot in row.posts_mm]
    if not left:
        return "cut the post away" if len(set(feet)) == 1 else "cut the posts away"
    return f"move the post {way_words(feet[0], left[0])}"
