"""Sector and all-round lights whose lamp does not reach the edges of what it should show over."""

from __future__ import annotations

from rushlight.findings._domed import Domed, aslant, domed_ways, farthest_off_deg, wider_led
from rushlight.findings._sectors import SectorLamp, sector_lamps
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble

LEAST = 0.1
"""Light at a bearing that still counts as shown (project proposal)."""

SQUARE_DEG = 85.0
"""An edge farther off the axis lies along the wall (project proposal)."""

DOME = "a diffused LED, or a fibre's end melted to a bead and matted"

UP = "stand it free, tip up (plan file: facing: up), as"


def _look(design: Design) -> tuple[Trouble, ...]:
    alike: dict[str, list[SectorLamp]] = {}
    for row in dark_sectors(design):
        alike.setdefault(_cure(design, row), []).append(row)
    return tuple(_trouble(rows, cure) for cure, rows in alike.items())


def dark_sectors(design: Design) -> list[SectorLamp]:
    """Lamps that do not show over the whole of their sector."""
    return [row for row in sector_lamps(design) if row.inside < LEAST]


def told_with(design: Design, item: str) -> list[tuple[SectorLamp, Domed]]:
    """The lamps that one finding tells of, each with its best dome where that serves."""
    rows = dark_sectors(design)
    own = next((row for row in rows if row.name == item), None)
    if own is None:
        return []
    cure = _cure(design, own)
    return [(row, ways[0]) for row in rows if _cure(design, row) == cure
            and (ways := domed_ways(design, row)) and ways[0].serves]


def _trouble(short: list[SectorLamp], cure: str) -> Trouble:
    worst = min(short, key=lambda row: row.inside)
    one = "the lamp" if len(short) == 1 else f"'{worst.name}'"
    names = [f"'{row.name}'" for row in short]
    return Trouble(
        item=worst.name, spot=worst.spot, number=100 * worst.inside, limit=100 * LEAST, cure=cure,
        says=f"{listed(names, 4)} {'does' if len(names) == 1 else 'do'} not reach over the whole sector: where it is "
             f"dimmest in the {plain(worst.width_deg, 4)} degrees {one} gives {plain(100 * worst.inside)} % of its "
             "light.",
    )


def _cure(design: Design, row: SectorLamp) -> str:
    ways = domed_ways(design, row)
    told = [_way_words(way, row) for way in ways if way.serves] or [_way_words(way, row) for way in ways]
    made = ", or ".join(told) or f"{'take' if row.upright else UP} {DOME}"
    if row.upright:
        return f"What points up or down is seen from the side by its dome alone: {made}."
    if row.width_deg > 180.0:
        return f"A lamp on a wall is dark behind it: {made}. A screen then cuts its sector."
    off = farthest_off_deg(design, row)
    if off < SQUARE_DEG:
        wider = _wider(design, row, off)
        return f"Its beam is too narrow for edges {plain(off, 4)} degrees off its axis: {wider}{made}."
    return f"No lamp in a wall shows along it, and no screen brings light there: {made}.{_turned(design, row)}"


def _turned(design: Design, row: SectorLamp) -> str:
    """What setting it aslant brings, where that is enough."""
    middle, edge = aslant(design, row)
    return "" if edge < LEAST else (
        f" Or set it aslant, looking to the middle of its sector at {plain(middle, 4)} degrees (the plan has no word "
        f"for that): {plain(100 * edge)} % at its edges then.")


def _wider(design: Design, row: SectorLamp, off_deg: float) -> str:
    if design.source(row.name).kind == "fibre":
        return "sand its end, or "
    best = wider_led(design, row, off_deg=off_deg, least=LEAST)
    return f"take the {best} LED, or " if best else ""


def _way_words(way: Domed, row: SectorLamp) -> str:
    if way.facing == "up":
        return f"{UP} {way.words}"
    return f"take {way.words}{'' if row.upright else ', standing proud of the wall'}"


RULE = Rule(
    key="light.sector-dark",
    grade=Grade.COULD_BE_BETTER,
    title="Sector only partly lit",
    unit="%",
    why="Seen from the side the lamp is dark, where the subject's lamp is in plain view.",
    cure="Give the lamp a dome that is seen from the side.",
    source="cos^m law of the beam; what a dome sends to its side: tables of LEDs and of fibre ends",
    look=_look,
)
