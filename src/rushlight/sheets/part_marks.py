"""Marks of one part, scaled to paper: outline, openings, keep-outs, bays, crossings, lamps, fibres, leads, splices."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle, Emitter, Lead, Tail
from rushlight.model.plan_part import Part
from rushlight.model.sheet import (
    DETAIL,
    EDGE,
    THIN,
    Band,
    Circle,
    Ink,
    Layer,
    Mark,
    Point,
    Polyline,
)
from rushlight.sheets import strokes
from rushlight.sheets.lanes import in_lanes
from rushlight.sheets.numbering import ends_on, lamps_on
from rushlight.sheets.place import on_circle

SMALLEST_LAMP_MM = 1.0
FIBRE_PITCH_MM = 0.25
STRIP = Ink("edge", "chain", "ink")
SEAM = Ink("dimension", "chain")
OPENING = Ink("detail", "solid", "ink", "paper")
BAY = Ink("detail", "dashed", "ink")
CROSSING_MM = 1.3


@dataclass(frozen=True, slots=True)
class OnPaper:
    """A part's plane on paper: its scale; `mirrored` shows the other side."""

    scale: float
    mirrored: bool = False

    def at(self, point: Point) -> Point:
        """Where a point of the part lands."""
        return ((-point[0] if self.mirrored else point[0]) * self.scale, point[1] * self.scale)

    def run(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Where a run lands."""
        return tuple(self.at(point) for point in points)


def outline(part: Part, paper: OnPaper, ink: Ink = EDGE) -> Layer:
    """The part's edge."""
    return Layer("outline", (Polyline(paper.run(part.outline_mm), ink, closed=True),))


def openings(part: Part, paper: OnPaper) -> Layer:
    """Windows and clear parts."""
    return Layer("openings", tuple(Polyline(paper.run(row.shape_mm), OPENING, closed=True) for row in part.openings))


def seams(part: Part, paper: OnPaper) -> Layer:
    """Mating edges and folds."""
    lines = [Polyline(paper.run(line), SEAM) for line in part.seams_mm]
    folds = [Polyline(paper.run((fold.from_mm, fold.to_mm)), Ink("dimension", "dashed")) for fold in part.relief.folds]
    return Layer("detail", (*lines, *folds))


def keep_outs(part: Part, paper: OnPaper) -> Layer:
    """Where nothing may run, hatched."""
    shapes = (paper.run(row.shape_mm) for row in part.keep_outs)
    return Layer("keep-outs", tuple(mark for shape in shapes if len(shape) >= 3 for mark in strokes.keep_out(shape)))


def bays(part: Part, paper: OnPaper) -> Layer:
    """Places for supply and switch, dashed."""
    marks = []
    for row in part.bays:
        x, y, width, height = row.rect_mm
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        marks.append(Polyline(paper.run(corners), BAY, closed=True))
    return Layer("supply", tuple(marks))


def crossings(design: Design, part: str, paper: OnPaper) -> Layer:
    """Where leads and fibres leave the part: two rings, the outer at the pass hole where it is large enough."""
    marks: list[Mark] = []
    for _, at, hole_mm in ends_on(design, part):
        radius = max((hole_mm or 0.0) * paper.scale / 2, CROSSING_MM)
        marks += [Circle(paper.at(at), radius, Ink("detail", fill="paper")), Circle(paper.at(at), radius * 0.5, DETAIL)]
    return Layer("crossings", tuple(marks))


def lamps(design: Design, part: str, paper: OnPaper) -> Layer:
    """Every lamp of the part at its true hole; one behind an opening as a thin ring in it."""
    marks: list[Mark] = []
    for _, lamp, source in lamps_on(design, part):
        assert lamp.spot is not None
        at = paper.at(lamp.spot.at_mm)
        if source.hole_mm:
            marks += strokes.lamp(at, source.hole_mm * paper.scale, smallest_mm=SMALLEST_LAMP_MM)
        else:
            marks.append(Circle(at, SMALLEST_LAMP_MM / 2, THIN))
        if lamp.dark:
            reach = SMALLEST_LAMP_MM * 0.7
            ends = (on_circle(at, reach, 225.0), on_circle(at, reach, 45.0))
            marks.append(Polyline(ends, DETAIL))
    return Layer("lamps", tuple(marks))


def row_lines(design: Design, part: str, paper: OnPaper) -> Layer:
    """A hairline through the lamps of each row."""
    marks: list[Mark] = []
    found = lamps_on(design, part)
    for group in dict.fromkeys(lamp.group for _, lamp, _ in found if lamp.made_of == "rows"):
        spots = [lamp.spot.at_mm for _, lamp, _ in found if lamp.group == group and lamp.spot]
        if len(spots) > 1:
            marks.append(Polyline(paper.run(spots), SEAM))
    return Layer("detail", tuple(marks))


# --- fibres -------------------------------------------------------------------------------------------------------


def tails(design: Design, part: str, paper: OnPaper) -> Layer:
    """One hairline a fibre along its run; fibres that share a run lie side by side, as in their bundle."""
    runs = [paper.run(leg.points_mm) for tail in design.loom.tails for leg in tail.legs if leg.part == part]
    return Layer("tails", tuple(Polyline(run, strokes.FIBRE) for run in in_lanes(runs, FIBRE_PITCH_MM) if len(run) > 1))


def tails_on(design: Design, part: str) -> tuple[Tail, ...]:
    """Fibres that lie on the part, wholly or in part."""
    return tuple(tail for tail in design.loom.tails if any(leg.part == part for leg in tail.legs))


def bundles_on(design: Design, part: str) -> tuple[Bundle, ...]:
    """Bundles whose LED sits on the part."""
    own = {emitter.name for emitter in design.loom.emitters if emitter.spot.part == part}
    return tuple(bundle for bundle in design.loom.bundles if bundle.emitter in own)


def illuminators(design: Design, part: str, paper: OnPaper) -> Layer:
    """LEDs that feed bundles, as filled rings of their face; strips as a chain line with their LEDs as dots."""
    own = [emitter for emitter in design.loom.emitters if emitter.spot.part == part]
    return Layer("symbols", tuple(mark for emitter in own for mark in _emitter(design, emitter, paper)))


def _emitter(design: Design, emitter: Emitter, paper: OnPaper) -> tuple[Mark, ...]:
    if emitter.kind == "strip":
        points = paper.run(emitter.strip_points_mm)
        line = (Polyline(points, STRIP),) if len(points) > 1 else ()
        return (*line, *(Circle(point, 0.45, Ink("dimension", fill="ink")) for point in points))
    at = paper.at(emitter.spot.at_mm)
    body = design.drawer.led(emitter.part_row).body_mm * paper.scale / 2
    if emitter.kind == "illuminator":
        return (Circle(at, max(body, 1.1), Ink("edge", fill="pale")), Circle(at, 0.3, Ink("detail", fill="ink")))
    if emitter.kind == "room":
        return (Circle(at, max(body, 0.9), Ink("detail", fill="pale")),)
    return ()


# --- leads --------------------------------------------------------------------------------------------------------


def leads_on(design: Design, part: str) -> tuple[Lead, ...]:
    """Leads that lie on the part, wholly or in part."""
    return tuple(lead for lead in design.loom.leads if any(leg.part == part for leg in lead.legs))


@dataclass(frozen=True, slots=True)
class DrawnLead:
    """One leg of a lead as it is drawn."""

    lead: Lead
    points_mm: tuple[Point, ...]


def drawn_leads(design: Design, part: str, paper: OnPaper) -> tuple[DrawnLead, ...]:
    """Legs of leads on the part, those that share a run side by side."""
    pairs = [(lead, leg) for lead in design.loom.leads for leg in lead.legs if leg.part == part]
    runs = in_lanes([paper.run(leg.points_mm) for _, leg in pairs], lead_pitch_mm(design, paper))
    return tuple(DrawnLead(lead, run) for (lead, _), run in zip(pairs, runs, strict=True) if len(run) > 1)


def lead_pitch_mm(design: Design, paper: OnPaper) -> float:
    """Distance of leads that are drawn side by side."""
    thickest = max((design.drawer.wire(lead.wire).outer_mm for lead in design.loom.leads), default=0.5)
    return max(thickest * paper.scale, strokes.SMALLEST_BAND_MM) + 0.35


INKS = {"plus": strokes.PLUS, "return": strokes.RETURN, "link": strokes.SIGNAL}
"""How a lead is drawn; a link runs from LED to LED of a string."""


def leads(design: Design, part: str, paper: OnPaper) -> Layer:
    """Leads at true thickness over a pale core; the core leaves a neighbour in the next lane whole."""
    pitch, marks = lead_pitch_mm(design, paper), []
    for row in drawn_leads(design, part, paper):
        width = max(design.drawer.wire(row.lead.wire).outer_mm * paper.scale, strokes.SMALLEST_BAND_MM)
        ink = INKS[row.lead.net]
        core = min(width + 2 * strokes.HALO_MM, max(2 * pitch - width - 0.05, width + 0.1))
        marks += [Band(row.points_mm, core, Ink(ink.weight, "solid", "paper")), Band(row.points_mm, width, ink)]
    return Layer("leads", tuple(marks))


def splices(design: Design, part: str, paper: OnPaper) -> Layer:
    """Sleeves of splices at true length, along the first lead that leaves each."""
    marks: list[Mark] = []
    for splice in design.loom.splices:
        if splice.spot.part != part:
            continue
        length = max(splice.sleeve.cut_mm * paper.scale, 1.0)
        width = max((splice.sleeve.grips_mm + 0.6) * paper.scale, 0.9)
        at = paper.at(splice.spot.at_mm)
        marks += strokes.splice(at, length, diameter_mm=width, angle_deg=_direction_deg(design, splice.name, paper))
    return Layer("splices", tuple(marks))


def _direction_deg(design: Design, splice: str, paper: OnPaper) -> float:
    """The way of a lead at that splice."""
    for lead in design.loom.leads:
        if lead.legs and splice in (lead.start, lead.end):
            points = lead.legs[0].points_mm if lead.start == splice else lead.legs[-1].points_mm[::-1]
            for a, b in pairwise(paper.run(points)):
                if math.dist(a, b) > 1e-6:
                    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    return 0.0


def anchors(design: Design, part: str, paper: OnPaper) -> Layer:
    """Places where leads and fibres are held down: small crosses."""
    marks: list[Mark] = []
    for spot in design.loom.anchors:
        if spot.part == part:
            x, y = paper.at(spot.at_mm)
            marks += [Polyline(((x - 0.6, y - 0.6), (x + 0.6, y + 0.6)), THIN),
                      Polyline(((x - 0.6, y + 0.6), (x + 0.6, y - 0.6)), THIN)]
    return Layer("symbols", tuple(marks))
