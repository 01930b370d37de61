"""Sector and all-round lights whose lamp does not reach the edges of what it should show over."""

from __future__ import annotations

from rushlight.findings._sectors import SectorLamp, sector_lamps
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.sector import edge_share

LEAST = 0.1
"""Light at an edge that still counts as shown (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    short = [(row, share) for row in sector_lamps(design) if (share := _edge(row)) < LEAST]
    if not short:
        return ()
    worst, share = min(short, key=lambda pair: pair[1])
    one = "the lamp" if len(short) == 1 else f"'{worst.name}'"
    names = [f"'{row.name}'" for row, _ in short]
    return (Trouble(
        item=worst.name, spot=worst.spot, number=100 * share, limit=100 * LEAST,
        says=f"{listed(names, 4)} {'does' if len(names) == 1 else 'do'} not reach over the whole sector: at the edge "
             f"of the {plain(worst.width_deg, 4)} degrees {one} gives {plain(100 * share)} % of its light.",
    ),)


def _edge(row: SectorLamp) -> float:
    """A lamp that points up or down shows its side all round."""
    if row.axis_deg is None:
        return 1.0 if row.half_angle_deg > 45 else edge_share(row.order, axis_deg=90, from_deg=0, to_deg=90)
    return edge_share(row.order, axis_deg=row.axis_deg, from_deg=row.from_deg, to_deg=row.to_deg)


RULE = Rule(
    key="light.sector-dark",
    grade=Grade.COULD_BE_BETTER,
    title="Sector only partly lit",
    unit="%",
    why="Seen from the side the lamp is dark, where the subject's lamp is in plain view.",
    cure="Let the lamp stand proud of the wall with a round tip: a diffused LED, a mushroomed or sanded fibre end, or "
         "a drop of clear gloss.",
    source="cos^m law of the beam",
    look=_look,
)
