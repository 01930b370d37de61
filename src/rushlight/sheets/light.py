"""What the eye will see, what leaks, how warm it gets."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight, LedEvening
from rushlight.model.sheet import Block, Cell, Column, Sheet, Table
from rushlight.sheets.amounts import LIKELY, amount, compressed, in_brackets, range_words, sentence
from rushlight.sheets.coats import coat_table
from rushlight.sheets.doors import door_blocks
from rushlight.sheets.heat_evening import heat_blocks
from rushlight.sheets.lamp_list import strongest
from rushlight.sheets.moving_lamps import moving_lamp_blocks
from rushlight.sheets.pools import pool_blocks
from rushlight.sheets.readings import reading_blocks
from rushlight.sheets.warming import lost_words
from rushlight.sheets.ways_out import rooms_seen, way_out_table
from rushlight.sheets.windows import alike_table, window_blocks
from rushlight.stages.parts_law import most_apart
from rushlight.stages.wanted_look import look_words
from rushlight.units import Range

LEAST_SHOWN = 0.001


def draw(design: Design) -> tuple[Sheet, ...]:
    """Intensities, strips, leaks; then heat."""
    blocks: list[Block] = [intensity_table(design), *reading_blocks(design)]
    blocks += [table for table in (row_table(design), alike_table(design)) if table.rows]
    blocks += [*window_blocks(design), *door_blocks(design), *moving_lamp_blocks(design), *pool_blocks(design)]
    blocks += [table for table in (leak_table(design), coat_table(design), way_out_table(design)) if table.rows]
    heat: tuple[Block, ...] = tuple(table for table in (space_table(design), led_heat_table(design)) if table.rows)
    sheets = (Sheet("light", "Light", tuple(blocks)),)
    return (*sheets, Sheet("heat", "Heat", (*heat, *heat_blocks(design)))) if heat else sheets


def intensity_table(design: Design) -> Table:
    """What each lamp, row and strip gives, beside what is wanted."""
    columns = (
        Column("lamps", "Lamp, row or strip", wide=True), Column("count", "Lamps", align="right", decimals=0),
        Column("wanted", "Wanted", "mcd", "right"), Column("expected", "Likely", "mcd", "right"),
        Column("outside", "At the outside", "mcd", "right"), Column("as_wanted", "As wanted"),
        Column("luminance", "Looks as bright as", "cd/m2", "right"), Column("why", "Why so much", wide=True),
    )
    lights = strongest(design)
    groups: dict[str, list[LampLight]] = {}
    for lamp in design.lamps:
        if lamp.name in lights:
            groups.setdefault(lamp.group, []).append(lights[lamp.name].looked_at)
    why = {aim.lamp: aim.wanted_why for aim in design.aims}
    even = most_apart(design.drawer)
    rows = tuple(_intensity_row(name, found, why, even) for name, found in groups.items())
    caption = (f"In the state in which each is brightest, along its axis; of a lamp with a sector that points past it, "
               f"as of one tip up, level into it. {LIKELY} How bright it looks: what is likely, "
               f"in brackets at the outside. As wanted: within {amount(even)} times, up or down; where it is perhaps "
               "too dim, or too bright, it is likely not the other; open is what only a reading decides.")
    return Table("light-intensity", "Intensity", columns, rows, caption)


def _intensity_row(name: str, found: list[LampLight], why: dict[str, str], even: float) -> tuple[Cell, ...]:
    likely = _over([row.likely_cd for row in found])
    return (
        name, len(found), amount(1000 * found[0].wanted_cd),
        range_words(likely, times=1000), range_words(_over([row.intensity_cd for row in found]), times=1000),
        _as_wanted(found, likely, even),
        in_brackets(_over([row.likely_cd_m2 for row in found]), _over([row.luminance_cd_m2 for row in found])),
        sentence(why.get(found[0].lamp, "")),
    )


def _as_wanted(found: list[LampLight], likely: Range, even: float) -> str:
    """How their light stands to what is wanted, and how many times it that is likely."""
    looks, wanted = ", ".join(dict.fromkeys(look_words(row, even) for row in found)), found[0].wanted_cd
    return f"{looks}: {range_words(likely, times=1 / wanted)} times" if wanted > 0 else looks


def _over(values: list[Range]) -> Range:
    """From the least to the most of several, with the first one's typical value."""
    return Range(min(value.low for value in values), values[0].typical, max(value.high for value in values))


def row_table(design: Design) -> Table:
    """How equal the lamps of each row look."""
    columns = (
        Column("row", "Row", wide=True), Column("state", "In"),
        Column("brightest", "Brightest"), Column("dimmest", "Dimmest"),
        Column("ratio", "Ratio", align="right", decimals=2),
    )
    rows = tuple((row.group, row.state, row.brightest, row.dimmest, row.ratio) for row in design.light.rows)
    return Table("light-rows", "How equal rows look", columns, rows,
                 "Brightest over dimmest, in the state in which it is most; below 1.5 the eye takes them for equal.")


def leak_table(design: Design) -> Table:
    """Stray light through walls."""
    columns = (
        Column("part", "Part", wide=True), Column("state", "Worst in"), Column("near", "Brightest near"),
        Column("shines", "Wall would shine", "cd/m2", "right"), Column("outside", "At the outside", "cd/m2", "right"),
        Column("allowed", "Seen from", "cd/m2", "right"),
        Column("seen", "Seen in", wide=True), Column("spot", "Brightest spot", "cd/m2", "right"),
        Column("coats", "More coats", align="right", decimals=0), Column("coat", "Of"),
    )
    rows = tuple(
        (row.part, row.state, row.brightest_near, shine_words(row.likely_cd_m2), shine_words(row.luminance_cd_m2),
         amount(row.allowed_cd_m2),
         rooms_seen(row), _spot_words(design, row.part), row.coats_needed, row.coat if row.coats_needed else "")
        for row in design.light.leaks
    )
    caption = (f"{LIKELY} The wall as a whole, lit evenly inside; the brightest spot, as is likely, is right beside "
               "a source. Seen from: in the plan's own room. In the colour of the LEDs: walls and coats are taken as "
               "grey unless the plan says the wall's colour.")
    return Table("light-leaks", "Leaks through walls", columns, rows, caption)


def _spot_words(design: Design, part: str) -> str:
    """A part's brightest spot right beside a source."""
    bright = [row.likely_cd_m2 for row in design.light.spots if row.part == part]
    return shine_words(max(bright, key=lambda value: value.typical)) if bright else ""


def shine_words(value: Range) -> str:
    """A luminance of which nobody needs the ten-thousandths."""
    if value.high < LEAST_SHOWN:
        return f"under {LEAST_SHOWN:g}"
    low = f"under {LEAST_SHOWN:g}" if value.low < LEAST_SHOWN else amount(value.low)
    return f"{low} to {amount(value.high)}"


# --- heat ---------------------------------------------------------------------------------------------------------


def space_table(design: Design) -> Table:
    """Closed spaces in their hottest state."""
    columns = (
        Column("space", "Space", wide=True), Column("state", "Hottest in"),
        Column("power_mw", "Power", "mW", "right"), Column("feed_mw", "of it feeding", "mW", "right"),
        Column("room", "Room", "°C", "right"), Column("rise", "Air warmer by", "K", "right"),
        Column("wall", "Wall", "°C", "right"), Column("advise_c", "Advised below", "°C", "right", 0),
        Column("stop_c", "Never above", "°C", "right", 0), Column("hold", "May stay on"),
    )
    rows = tuple(
        (row.space, row.state, range_words(row.power_w, times=1000), range_words(row.feed_w, times=1000),
         range_words(design.heat.room_c), range_words(row.air_rise_k), range_words(row.wall_c), row.advise_c,
         row.stop_c, "for good" if row.hold_h is None else f"{amount(60 * row.hold_h)} min from cold")
        for row in design.heat.spaces
    )
    return Table("heat-spaces", "Closed spaces", columns, rows)


def led_heat_table(design: Design) -> Table:
    """LEDs and strips, like ones together."""
    described = any(row.evening for row in design.heat.leds)
    columns = (
        Column("leds", "LED or strip", wide=True), Column("state", "Hottest in"),
        Column("junction", "Junction", "°C", "right"),
        Column("limit_c", "Its limit", "°C", "right", 0), Column("wall", "Wall under it", "°C", "right"),
        Column("loses", "Light lost", align="right"),
        *((Column("evening", "At most in the evening", wide=True),) if described else ()),
    )
    lit = {(row.emitter, state.state): row for state in design.power.states for row in state.lit}
    groups: dict[tuple[Cell, ...], list[str]] = {}
    for row in design.heat.leds:
        wall = range_words(row.wall_under_c) if row.wall_under_c else ""
        key: tuple[Cell, ...] = (row.state, range_words(row.junction_c), row.junction_limit_c, wall,
                                lost_words([lit[row.emitter, row.state]]))
        key += (_evening_words(row.evening),) if described else ()
        groups.setdefault(key, []).append(row.emitter)
    rows = tuple((compressed(names), *key) for key, names in groups.items())
    return Table("heat-leds", "LEDs and strips", columns, rows,
                 "Junction: at the worst of LEDs, supply and mounting. Light lost: typical, from the first moment on.")


def _evening_words(moment: LedEvening | None) -> str:
    """The hottest moment, in a few words."""
    if moment is None:
        return "not lit in it"
    wall = "" if moment.wall_under_c is None else f", the wall under it {moment.wall_under_c:.0f} °C"
    return f"junction {moment.junction_c:.0f} °C{wall}, after {60 * moment.hour_h:.0f} min"
