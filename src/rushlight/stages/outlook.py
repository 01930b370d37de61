"""From where lamps are seen: how parts face the world round the subject, and what each lamp sends towards an eye there.

Directions are unit vectors (ahead, port, up) of the subject. What a lamp is, is told at pose value 0; a pose turns the
eye about the part instead.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry.bearing import WAYS, direction, leaned, turned_to
from rushlight.geometry.folded import panel_at
from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.model.plan_part import Part
from rushlight.optics.fibre_loss import scatters
from rushlight.optics.sector import penumbra_deg, screen_length_mm
from rushlight.optics.toward import Beam, Way, beam_share
from rushlight.stages.aside import aside
from rushlight.stages.parts_law import fibre_part, led_order
from rushlight.stages.stands import base_point, frame_to_root, outward, panels_of, values_in
from rushlight.tables import row_by
from rushlight.units import Range

Array = NDArray[np.float64]

CUT_DEG, CUT_AHEAD_DEG = 5.0, 3.0
"""A screen takes the light away so far past the edge of its sector, and past one that lies right ahead (COLREGs 1972
Annex I 9(a)(ii) and (i))."""

LONGEST_MM = 60.0
"""A longer screen is cut short and its penumbra told: no model has the room (project proposal)."""

LEAST_DEG, WHOLE_DEG = 10.0, 350.0
"""A sector narrower or wider than this gets no screen."""

LEAST_SEEN, ALL_SEEN = 0.01, 0.999
"""Of its light along the axis: less does not count as seen (project rule), more counts as all of it."""

LAID_IN = ("strip", "room")
"""Kinds of lamp of which an opening is seen, which shines squarely out of its wall."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What is seen from one place in one state: each lamp's share of its axial intensity, and parts seen from behind.

    Parts and lamps of which nobody said how they lie are taken to look at the eye. `leans` has the flat ones that do
    not: the way to the eye along their drawing's x and y, for `toward.seen_aslant`.
    """

    lamps: dict[str, float]
    behind: frozenset[str]
    leans: dict[str, tuple[float, float]]


# --- how parts lie -------------------------------------------------------------------------------------------------


def attitude(plan: Plan, part: str, at: Point) -> Array | None:
    """How the piece of a part at a point lies at pose value 0; None where nobody said.

    Parameters
    ----------
    plan : Plan
        The plan.
    part : str
        The part.
    at : (x, y)
        A point of it [mm].
    Returns
    -------
    array (3, 3) or None
        Columns: the directions of its drawing's x, y and of the way to whoever looks at the drawing. Told by the part
        itself, else by the nearest one that it stands on, else by any that stands on the same.
    """
    root = root_attitude(plan, plan.part(part))
    return None if root is None else root @ frame_to_root(plan, part, at, {})[0][:3, :3]


def root_attitude(plan: Plan, part: Part) -> Array | None:
    """How the drawing at the end of a part's stands lies."""
    told = next((row for row in _told_by(plan, part) if row.faces or row.faces_deg is not None), None)
    if told is None:
        return None
    frame, _ = frame_to_root(plan, told.name, base_point(told), {})
    return np.asarray(_own_attitude(told) @ frame[:3, :3].T)


def _told_by(plan: Plan, part: Part) -> Iterator[Part]:
    chain = [part]
    while chain[-1].stands is not None:
        chain.append(plan.part(chain[-1].stands.over))
    yield from chain
    for other in plan.parts:
        end = other
        while end.stands is not None:
            end = plan.part(end.stands.over)
        if end.name == chain[-1].name:
            yield other


def _own_attitude(part: Part) -> Array:
    """As its own keys say; the top of an upright drawing leans back as its face leans up."""
    face = np.array(WAYS[part.faces]) if part.faces else direction(part.faces_deg or 0.0)
    top = np.array(WAYS[part.top_edge]) if part.top_edge else _usual_top(part.faces, face, part.leans_deg)
    return turned_to(leaned(face, part.leans_deg), top, seen_from_outside=part.drawn_from == "outside")


def _usual_top(faces: str | None, face: Array, leans_deg: float = 0.0) -> Array:
    return np.array(WAYS["ahead"]) if faces in ("up", "down") else leaned(face, leans_deg + 90.0)


def outer_way(plan: Plan, part: str, at: Point) -> Array | None:
    """Where the outer face of a part looks at a point; None where nobody said."""
    lies = attitude(plan, part, at)
    return None if lies is None else lies[:, 2] * outward(plan.part(part))


def turned_in(plan: Plan, part: str, state: str) -> Array | None:
    """The turn (3, 3) by which a state's poses take a part from how it lies at pose value 0; None where they do not."""
    row = plan.part(part)
    values = values_in(plan, state) if row.stands is not None else {}
    root = root_attitude(plan, row) if any(values.values()) else None
    if root is None:
        return None
    base = base_point(row)
    posed, still = (frame_to_root(plan, part, base, at)[0][:3, :3] for at in (values, {}))
    return None if np.allclose(posed, still, atol=1e-9) else np.asarray(root @ posed @ still.T @ root.T)


# --- what lamps send -----------------------------------------------------------------------------------------------


def beams_of(design: Design) -> dict[str, Beam]:
    """How every lamp with light sends it out, by its name."""
    cones = {row.lamp: (row.beam_order, row.beam_edge_deg) for row in reversed(design.light.lamps)}
    known: dict[tuple[str, int], Array | None] = {}
    kinds = {source.lamp: source.kind for source in design.sources}
    return {lamp.name: _beam(design, lamp, _frame(design.plan, lamp, kinds[lamp.name], known), *cones[lamp.name])
            for lamp in design.lamps if lamp.name in cones}


def seen_share(plan: Plan, drawer: Drawer, lamp: PlacedLamp, source: Source) -> float:
    """The typical value of `seen_range` [-], 0 to 1."""
    return seen_range(plan, drawer, lamp, source).typical


def seen_range(plan: Plan, drawer: Drawer, lamp: PlacedLamp, source: Source) -> Range:
    """What a lamp with a sector sends level into it where it is brightest, over what it sends along its axis.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        How its part lies, and what makes it.
    lamp : PlacedLamp
        The lamp.
    source : Source
        What makes it.
    Returns
    -------
    Range
        Share [-], 0 to 1: 1 for a lamp without a sector, for an opening, and where nobody said how it lies; 0 for one
        that typically shows next to nothing there (under LEAST_SEEN), such as a chip that stands tip up. Its ends are
        what is not known of its dome.
    Source
    ------
    `toward.beam_share` at the level bearing of the sector that is nearest to the axis.
    """
    frame = None if lamp.arc_deg is None or source.kind in LAID_IN else _frame(plan, lamp, source.kind, {})
    if frame is None or lamp.arc_deg is None:
        return Range.exactly(1.0)
    axis, near, cone = _plain(frame[:, 2]), _nearest_level(frame[:, 2], lamp.arc_deg), _cone(drawer, source)

    def share(side: float) -> float:
        return beam_share(Beam(axis, *cone, side=side), near)

    side = aside(drawer, source)
    seen = Range(share(side.low), share(side.typical), share(side.high))
    return Range.exactly(0.0) if seen.typical < LEAST_SEEN else seen if seen.low < ALL_SEEN else Range.exactly(1.0)


def _cone(drawer: Drawer, source: Source) -> tuple[float, float]:
    """Exponent and edge [deg] of what it sends before its loom is known; a fibre's cone is as wide as it passes."""
    if source.kind != "fibre":
        return led_order(drawer.led(source.led)), 90.0
    aperture = fibre_part(drawer, source.fibre_mm or 0.0).numerical_aperture
    return 1.0, 90.0 if scatters(source.tip) else math.degrees(math.asin(min(aperture, 1.0)))


def _nearest_level(axis: Array, arc_deg: tuple[float, float]) -> Way:
    """The level way within a sector that lies nearest to an axis."""
    bearing = math.degrees(math.atan2(-axis[1], axis[0]))
    width, on = (arc_deg[1] - arc_deg[0]) % 360.0 or 360.0, (bearing - arc_deg[0]) % 360.0
    if on > width:
        bearing = arc_deg[1] if on - width < 360.0 - on else arc_deg[0]
    return _plain(direction(bearing))


def _beam(design: Design, lamp: PlacedLamp, frame: Array | None, order: float, edge_deg: float) -> Beam:
    axis = lies = None
    if frame is not None:
        x, y, axis = (_plain(way) for way in frame.T)
        lies = (x, y) if _is_flat(design, design.source(lamp.name)) else None
    side = aside(design.drawer, design.source(lamp.name)).typical
    if lamp.arc_deg is None or ((lamp.arc_deg[1] - lamp.arc_deg[0]) % 360.0 or 360.0) > WHOLE_DEG:
        return Beam(axis, order, edge_deg, lies=lies, side=side)
    size = design.source(lamp.name).seen_mm
    return Beam(axis, order, edge_deg, lamp.arc_deg, penumbra_deg(size, screen_mm(size, lamp.arc_deg)), lies, side)


def _is_flat(design: Design, source: Source) -> bool:
    """Whether what is seen of a lamp is flat: an opening, a fibre's end without a dome, an LED without a lens."""
    if source.kind == "fibre":
        return source.tip != "domed"
    return source.kind in LAID_IN or row_by("led_launch", "lens", design.drawer.led(source.led).lens)["face"] == "flat"


def screened(design: Design) -> Iterator[tuple[PlacedLamp, float]]:
    """Lit lamps whose sector is cut by a screen, each with its own size to the hundredth [mm]."""
    sizes_mm = {source.lamp: source.seen_mm for source in design.sources}
    for lamp in design.lamps:
        if lamp.arc_deg is None or lamp.name not in sizes_mm or lamp.dark:
            continue
        if LEAST_DEG <= ((lamp.arc_deg[1] - lamp.arc_deg[0]) % 360.0 or 360.0) <= WHOLE_DEG:
            yield lamp, round(sizes_mm[lamp.name], 2)


def screen_mm(size_mm: float, arc_deg: tuple[float, float]) -> float:
    """How far the screen of a lamp of that size [mm] and sector [deg] reaches beyond it [mm]."""
    ahead = any(edge % 360.0 == 0.0 for edge in arc_deg)
    return min(screen_length_mm(size_mm, CUT_AHEAD_DEG if ahead else CUT_DEG), LONGEST_MM)


def _frame(plan: Plan, lamp: PlacedLamp, kind: str, known: dict[tuple[str, int], Array | None]) -> Array | None:
    """Ways of its drawing's x and y and its axis as columns; `known` holds pieces of parts that were asked for before.

    One that shines its own way is taken as on a part that faces there.
    """
    part = plan.part(lamp.spot.part) if lamp.spot else None
    if part and lamp.spot and (lamp.facing == "outward" or kind in LAID_IN):
        at = lamp.spot.at_mm
        piece = (part.name, panel_at(panels_of(part, base_point(part)), at) if part.relief.folds else 0)
        if piece not in known:
            lies = attitude(plan, part.name, at)
            known[piece] = None if lies is None else _outer(lies, outside=part.drawn_from == "outside")
        if known[piece] is not None:
            return known[piece]
    if lamp.facing not in WAYS:
        return None
    outside, face = part is None or part.drawn_from == "outside", np.array(WAYS[lamp.facing])
    return _outer(turned_to(face, _usual_top(lamp.facing, face), seen_from_outside=outside), outside=outside)


def _outer(lies: Array, *, outside: bool) -> Array:
    """An attitude with the way that the outer face looks in place of the way to whoever looks at the drawing."""
    return np.column_stack([lies[:, :2], lies[:, 2] if outside else -lies[:, 2]])


def eye_of(plan: Plan) -> Array | None:
    """The way to the eye that the plan names; None where every part is looked at square on."""
    subject = plan.subject
    if subject.viewing_bearing_deg is None:
        return None
    return direction(subject.viewing_bearing_deg, subject.viewing_height_deg)


def outlook(design: Design, state: str, to_eye: Array | None, beams: dict[str, Beam] | None = None) -> Outlook:
    """What reaches an eye in a state.

    Parameters
    ----------
    design : Design
        With its light.
    state : str
        Which state.
    to_eye : array (3,) or None
        The way to the eye; None looks at every part square on.
    beams : dict, optional
        Of `beams_of`, for whoever asks often.
    Returns
    -------
    Outlook
        Shares of all lamps with light, and all parts whose outer face looks away; empty when square on.
    Source
    ------
    `toward.beam_share`.
    """
    if to_eye is None:
        return Outlook({}, frozenset(), {})
    ways = {part.name: _way(turned_in(design.plan, part.name, state), to_eye) for part in design.plan.parts}
    beams, still = beams_of(design) if beams is None else beams, _way(None, to_eye)
    seen = {name: ways.get(_part_of(design, name), still) for name in beams}
    lamps = {name: beam_share(beam, seen[name]) for name, beam in beams.items()}
    leans = {name: _lean(beam.lies, seen[name]) for name, beam in beams.items() if beam.lies and lamps[name] > 0.0}
    away = (part.name for part in design.plan.parts if _looks_away(design.plan, part, ways[part.name]))
    return Outlook(lamps, frozenset(away), leans)


def _lean(lies: tuple[Way, Way], to_eye: Way) -> tuple[float, float]:
    x, y = (sum(a * b for a, b in zip(way, to_eye, strict=True)) for way in lies)
    return (x, y)


def _part_of(design: Design, lamp: str) -> str:
    spot = design.lamp(lamp).spot
    return spot.part if spot else ""


def _way(turn: Array | None, to_eye: Array) -> Way:
    """The way to the eye as a part at pose value 0 has it."""
    way = to_eye if turn is None else turn.T @ to_eye
    return _plain(way)


def _plain(way: Array) -> Way:
    return (float(way[0]), float(way[1]), float(way[2]))


def _looks_away(plan: Plan, part: Part, to_eye: Way) -> bool:
    out = outer_way(plan, part.name, base_point(part))
    return out is not None and float(out @ np.array(to_eye)) < 1e-9
