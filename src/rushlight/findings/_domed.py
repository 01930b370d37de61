"""What makes a lamp with a sector show over all of it: a dome that is seen from its side, of the drawer, in numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rushlight.findings._sectors import SectorLamp, sector_lamp
from rushlight.findings._words import plain
from rushlight.geometry.bearing import direction
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.plan import MadeBy
from rushlight.optics.toward import Beam
from rushlight.stages.aim import weighing_of
from rushlight.stages.aside import BEAD, usual_aside
from rushlight.stages.outlook import beams_of
from rushlight.stages.parts_law import led_order
from rushlight.stages.source_choice import MOST_FACE, SIZE_PLAY, STIFF_MM, Weighing, times
from rushlight.stages.sources import fibre, led
from rushlight.stages.sources.common import matching_leds

CALM = 2.0
"""What is offered gives so many times the wanted light at its LED's most: a fresh supply and an LED of low voltage may
double the current that is aimed at, and one that is aimed at its most then burns out (project rule)."""


@dataclass(frozen=True, slots=True)
class Domed:
    """One way to make a lamp with a dome: its source as in the plan, and where it faces if not as now.

    `enough` is what it gives at most over the wanted light, where it is looked at; `wide` its width over the lamp's;
    `aside` whether it is looked at from its side.
    """

    source: MadeBy
    facing: str | None
    enough: float
    wide: float
    aside: bool

    @property
    def serves(self) -> bool:
        """Whether its width is right, and its light without driving its LED to its most."""
        return self.enough >= CALM and 1.0 / MOST_FACE <= self.wide <= MOST_FACE

    @property
    def part(self) -> str:
        """What it is, in words."""
        if self.source.kind == "fibre":
            return f"a fibre of {plain(self.source.fibre_mm or 0.0)} mm, its end melted to a bead and matted"
        return f"the {self.source.led} LED"

    @property
    def words(self) -> str:
        """What it is and gives, in words."""
        wide = f", {plain(self.wide)} times as wide as at scale" if not 1 / SIZE_PLAY <= self.wide <= SIZE_PLAY else ""
        aside = ", seen from its side" if self.aside else ""
        return f"{self.part} (up to {times(self.enough)} times the wanted light{aside}{wide})"


def domed_ways(design: Design, row: SectorLamp) -> tuple[Domed, ...]:
    """A matted bead and a diffused LED for a lamp, the better first.

    Parameters
    ----------
    design : Design
        The whole design.
    row : SectorLamp
        A lamp that does not reach over its sector.
    Returns
    -------
    tuple of Domed
        Those that serve first, of these the one of the kind that makes it now; then the one that lacks least. A bead in
        a wall shows to both sides of it, up to 180 degrees; all else stands tip up.
    Source
    ------
    What domes send aside: led_launch.csv, fibre_finish.csv; light and width as the design weighs its sources.
    """
    lamp, now = design.lamp(row.name), design.source(row.name)
    weighing = weighing_of(design.plan, design.drawer, design.lamps, {one.lamp: one for one in design.sources})
    found = [*_beads(weighing, lamp, row), *_diffused(weighing, lamp, row)]

    def better(way: Domed) -> tuple[bool, bool, float, float]:
        return (not way.serves, way.source.kind != now.kind, -min(way.enough, 1.0), abs(math.log(way.wide)))

    return tuple(sorted(found, key=better))


def _beads(weighing: Weighing, lamp: PlacedLamp, row: SectorLamp) -> Iterator[Domed]:
    facing = "up" if row.width_deg > 180.0 and not row.upright else None
    widths = [part.diameter_mm for part in weighing.drawer.fibres if part.diameter_mm <= STIFF_MM]
    if not widths:
        return
    width = min(widths, key=lambda mm: abs(math.log(mm / (lamp.model_mm or fibre.USUAL_MM))))
    word = MadeBy(kind="fibre", fibre_mm=width, tip=BEAD)
    source = fibre.choose(weighing.plan, weighing.drawer, lamp, word)
    way = weighing.by_fibre((replace(lamp, facing=facing or lamp.facing),), source)
    aside = row.upright or facing is not None
    yield Domed(word, facing, way.enough, source.seen_mm / (lamp.model_mm or source.seen_mm), aside)


def _diffused(weighing: Weighing, lamp: PlacedLamp, row: SectorLamp) -> Iterator[Domed]:
    facing = None if row.upright else "up"
    domes = [part for part in matching_leds(weighing.drawer, lamp.colour)
             if usual_aside(weighing.drawer, part.name).typical > 0.0]
    if not domes:
        return
    near = lamp.model_mm or weighing.drawer.led(domes[0].name).face_mm
    best = min(domes, key=lambda part: (abs(math.log(part.face_mm / near)), part.name))
    word = MadeBy(kind="led", led=best.name)
    source = led.choose(weighing.plan, weighing.drawer, lamp, word)
    way = weighing.by_led((replace(lamp, facing=facing or lamp.facing),), source)
    yield Domed(word, facing, way.enough, best.face_mm / (lamp.model_mm or best.face_mm), True)


def wider_led(design: Design, row: SectorLamp, *, off_deg: float, least: float) -> str | None:
    """The LED of the drawer, of a lamp's colour and nearest to its width, whose beam still gives so much of its light
    that far off its axis."""
    lamp, cosine = design.lamp(row.name), max(math.cos(math.radians(off_deg)), 0.0)
    near = lamp.model_mm or design.source(row.name).seen_mm
    wide = [part for part in matching_leds(design.drawer, lamp.colour)
            if cosine ** led_order(part) >= least and 1.0 / MOST_FACE <= part.face_mm / near <= MOST_FACE]
    return min(wide, key=lambda part: abs(math.log(part.face_mm / near))).name if wide else None


def farthest_off_deg(design: Design, row: SectorLamp) -> float:
    """How far off a lamp's axis the farther edge of its sector lies [deg]."""
    axis = beams_of(design)[row.name].axis or (0.0, 0.0, 1.0)
    edges = [direction(edge) for edge in design.lamp(row.name).arc_deg or (0.0, 0.0)]
    cosines = [sum(a * float(b) for a, b in zip(axis, edge, strict=True)) for edge in edges]
    return math.degrees(math.acos(min(max(min(cosines), -1.0), 1.0)))


def aslant(design: Design, row: SectorLamp) -> tuple[float, float]:
    """The bearing of a sector's middle [deg], and what the lamp gives at the edges over its most if it looks there."""
    arc_deg = design.lamp(row.name).arc_deg or (0.0, 0.0)
    middle = (arc_deg[0] + row.width_deg / 2.0) % 360.0
    way = direction(middle)
    beam: Beam = replace(beams_of(design)[row.name], axis=(float(way[0]), float(way[1]), float(way[2])))
    return middle, sector_lamp(row.name, row.spot, arc_deg, beam).inside
