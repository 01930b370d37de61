"""What a screen needs to turn a viewer round the model: how lamps send light, how parts face, how poses turn them."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.optics.toward import Beam, Way
from rushlight.stages.outlook import beams_of, outer_way, turned_in
from rushlight.stages.stands import base_point


@dataclass(frozen=True, slots=True)
class RoundBeam:
    """A beam, and the part with which its lamp turns; lamps that send their light alike, and lie alike, share one."""

    axis: Way | None
    order: float
    edge_deg: float
    arc_deg: tuple[float, float] | None
    cut_deg: float
    part: str
    lies: tuple[Way, Way] | None
    side: float


@dataclass(frozen=True, slots=True)
class SeenRound:
    """All round the model: beams and which one each lamp has, where outer faces look at pose value 0, turns by state.

    A turn is a matrix, row by row, that takes directions of a part at pose value 0 to those in the state.
    """

    beams: tuple[RoundBeam, ...]
    beam_of: dict[str, int]
    outer: dict[str, Way]
    turns: dict[str, dict[str, tuple[float, ...]]]


def seen_round(design: Design) -> SeenRound:
    """Of every lamp of which something is known: how it lies, or its sector."""
    found: dict[RoundBeam, int] = {}
    beam_of = {}
    for name, beam in beams_of(design).items():
        if beam.axis or beam.arc_deg:
            spot = design.lamp(name).spot
            beam_of[name] = found.setdefault(_shared(beam, spot.part if spot else ""), len(found))
    parts = design.plan.parts
    outer = {part.name: way for part in parts
             if (way := outer_way(design.plan, part.name, base_point(part))) is not None}
    turns = {state.name: {part.name: turn for part in parts
                          if (turn := turned_in(design.plan, part.name, state.name)) is not None}
             for state in design.plan.states}
    return SeenRound(
        tuple(found), beam_of, {name: _way(way) for name, way in outer.items()},
        {state: {part: tuple(round(float(value), 9) for value in turn.ravel()) for part, turn in each.items()}
         for state, each in turns.items()},
    )


def _shared(beam: Beam, part: str) -> RoundBeam:
    axis = None if beam.axis is None else _way(beam.axis)
    lies = None if beam.lies is None else (_way(beam.lies[0]), _way(beam.lies[1]))
    return RoundBeam(axis, round(beam.order, 6), round(beam.edge_deg, 6), beam.arc_deg, round(beam.cut_deg, 6), part,
                     lies, beam.side)


def _way(way: object) -> Way:
    a, b, c = (round(float(value), 9) + 0.0 for value in way)  # type: ignore[attr-defined]
    return (a, b, c)
