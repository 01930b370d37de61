"""From where each lamp is seen: eight bearings round the subject, with the candela that a real one would show there."""

from __future__ import annotations

from dataclasses import replace

from rushlight.geometry.bearing import direction
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.sheet import Block, Cell, Column, Sheet, Table
from rushlight.optics.toward import Beam
from rushlight.sheets.amounts import amount, sentence
from rushlight.sheets.night_words import turned_away
from rushlight.sheets.words import slug
from rushlight.stages.outlook import beams_of, outlook

BEARINGS = {
    0.0: "Ahead", 45.0: "45 starboard", 90.0: "Starboard", 135.0: "135 starboard", 180.0: "Astern",
    225.0: "135 port", 270.0: "Port", 315.0: "45 port",
}

LEAST_SHARE = 1e-3
"""A lamp that shows less than this of its axial intensity is called dark there."""


def draw(design: Design) -> tuple[Sheet, ...]:
    """A table for each state; none where nobody said how any lamp lies or over which sector it shows."""
    out = {name: beam for name, beam in beams_of(design).items() if not turned_away(design, design.lamp(name))}
    told = {name: beam for name, beam in out.items() if beam.axis or beam.arc_deg}
    blocks = tuple(table for state in design.plan.states for table in [_table(design, state.name, told)] if table.rows)
    left = len(out) - len(told)
    return (Sheet("seen-from", "Seen from all sides", _captioned(design, blocks, left)),) if blocks else ()


def _captioned(design: Design, blocks: tuple[Table, ...], left: int) -> tuple[Block, ...]:
    """The words below the first table; `left` lamps are left out."""
    height = design.plan.subject.viewing_height_deg
    level = "level with the horizon" if height == 0.0 else f"{amount(abs(height), digits=3)} degrees " + (
        "over the horizon" if height > 0.0 else "below the horizon")
    words = (f"Candela of the subject's lamp, seen {level}: the model's intensity that way times the square of the "
             "scale; a dash is dark. Screens as the sheet of screens makes them; no part hides a lamp of another.")
    if left:
        words += f" Left out, because where they look is not said: {left} lamp{'' if left == 1 else 's'}."
    return (replace(blocks[0], caption=words), *blocks[1:])


def _table(design: Design, state: str, told: dict[str, Beam]) -> Table:
    columns = (
        Column("lamps", "Lamp", wide=True), Column("count", "Lamps", align="right", decimals=0),
        Column("sector", "Sector"),
        *(Column(f"from_{bearing:.0f}", word, "cd", "right") for bearing, word in BEARINGS.items()),
    )
    looks = [outlook(design, state, direction(bearing, design.plan.subject.viewing_height_deg), told).lamps
             for bearing in BEARINGS]
    groups: dict[tuple[str, tuple[float, ...]], list[LampLight]] = {}
    for light in design.light.lamps:
        if light.state == state and light.lamp in told and light.luminance_cd_m2.high > 0.0:
            shares = tuple(round(look[light.lamp], 3) for look in looks)
            groups.setdefault((design.lamp(light.lamp).group, shares), []).append(light)
    rows = tuple(_row(design, name, shares, lights) for (name, shares), lights in groups.items())
    return Table(f"seen-from-{slug(state)}", sentence(state), columns, rows)


def _row(design: Design, group: str, shares: tuple[float, ...], lights: list[LampLight]) -> tuple[Cell, ...]:
    """Lamps of one group that are seen from the same sides; the candela are the mean of theirs."""
    arc = design.lamp(lights[0].lamp).arc_deg
    sector = f"{arc[0]:g} to {arc[1]:g} deg" if arc else ""
    subject_cd = sum(row.intensity_cd.typical for row in lights) / len(lights) * design.plan.subject.scale**2
    cells = (amount(subject_cd * share) if share >= LEAST_SHARE else "-" for share in shares)
    return (group, len(lights), sector, *cells)
