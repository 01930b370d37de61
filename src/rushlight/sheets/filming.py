"""The model before a camera: which exposure shows what, and what pulses and flashes do to a film."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.sheet import (
    THIN,
    Block,
    Cell,
    Column,
    Drawing,
    Ink,
    Layer,
    Mark,
    Note,
    Polyline,
    Sheet,
    Table,
    Text,
)
from rushlight.sheets.amounts import amount, compressed, span
from rushlight.sheets.place import framed
from rushlight.sheets.words import shortened
from rushlight.stages.filming import (
    LOST_STOPS,
    Exposure,
    FilmedLamps,
    Filming,
    Flash,
    Pulsed,
    filming_of,
    shutter_words,
)
from rushlight.units import Range

LINE_MM, BAR_MM = 5.0, 2.2


@dataclass(frozen=True, slots=True)
class _Wide:
    """How wide the exposures are drawn: names with so many letters, the graph, and its marked stops at most."""

    names_mm: float
    graph_mm: float
    letters: int
    steps: int


WIDE, NARROW = _Wide(52.0, 112.0, 30, 9), _Wide(36.0, 48.0, 20, 4)
"""In the book, and for a phone."""

MOST_BARS = 36
MOST_LX = 3000.0
"""More than a desk lamp gives near by (common practice, no source)."""

FASTEST_S, SLOW_ISO, MOST_ISO = 1.0 / 8000.0, 100.0, 51200.0
POINT_PX = 1.5
"""Up to so many pixels wide a lamp is a point in the picture."""

SHOWN = Ink("dimension", fill="pale")
BURNT = Ink("dimension", fill="hatch")


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet where anything is lit."""
    film = filming_of(design)
    if not film.lamps:
        return ()
    blocks: list[Block] = [Note(_set(film), "What is reckoned with"), exposure_drawing(film), choice_table(film),
                           Note(_both(film), "Lamps and model in one picture"), lamp_table(film)]
    if film.pulsed:
        blocks += [pulse_table(film), Note(_pulse_words(film), "Free of bands")]
    if film.flashes:
        blocks.append(flash_table(film))
    return (Sheet("filming", "Photographs and films", tuple(blocks)),)


def _span(times: Range) -> str:
    low, high = shutter_words(_two(times.low)), shutter_words(_two(times.high))
    return low if low == high else f"{low} to {high}"


def _two(seconds: float) -> float:
    """Rounded so that the number that is read has two digits."""
    return 1.0 / float(f"{1.0 / seconds:.2g}") if seconds < 0.28 else float(f"{seconds:.2g}")


# --- exposures ----------------------------------------------------------------------------------------------------


def _set(film: Filming) -> str:
    camera = film.camera
    return (
        f"f/{amount(camera.f_number)}, ISO {amount(camera.iso, digits=4)}, from {amount(film.from_mm, 'mm', 4)}, a "
        f"picture {amount(camera.view_deg)} degrees wide of {amount(camera.across_px, digits=5)} pixels. Yours goes "
        "into the plan as `camera`. Twice the ISO halves every time below, the next aperture up (4, 5.6, 8) doubles "
        "it. All lamps at full light, a flashing one with the most that an exposure can catch of it; the model stands "
        f"in the plan's {film.room}."
    )


def _both(film: Filming) -> str:
    keeps, model = film.exposures[0], film.exposures[1]
    stops = math.log2(model.exposure_s / keeps.exposure_s)
    if stops < 1.0:
        return "One exposure shows both: the model as mid-tone, and no lamp burnt out."
    lit = "" if film.both_lx > MOST_LX else (
        f"light the model with about {amount(film.both_lx, 'lx')} from the side, and expose for the lamps; or ")
    return (
        f"They are {amount(stops)} stops apart. Take two pictures from a tripod, one at {_settings(film, keeps)} for "
        f"the lamps and one at {_settings(film, model)} for the model, and lay them over one another so that the "
        f"lighter one shows; or {lit}let the lamps burn out, which the eye forgives in small ones. Coloured ones then "
        "turn white in the middle."
    )


def _settings(film: Filming, row: Exposure) -> str:
    """Time and ISO; a time that few cameras have is told for ISO 100."""
    iso, seconds = film.camera.iso, row.exposure_s
    if seconds < FASTEST_S and iso > SLOW_ISO:
        iso, seconds = SLOW_ISO, seconds * iso / SLOW_ISO
    return f"{shutter_words(_two(seconds) if seconds < FASTEST_S else seconds)} s and ISO {amount(iso, digits=4)}"


def choice_table(film: Filming) -> Table:
    """Exposures to choose from, and what each does."""
    columns = (
        Column("choice", "Exposure"), Column("time", "Time", "s", "right"), Column("slow", "At ISO 100", "s", "right"),
        Column("burnt", "Burns out", wide=True),
        Column("perhaps", "May burn out", wide=True), Column("lost", "Lost in the dark", wide=True),
        Column("model", "The model", "stops", "right"), Column("iso", "ISO that shows the model", align="right"),
    )
    rows = tuple(_choice(film, row) for row in film.exposures)
    caption = (f"Burnt out: white without its colour. Lost: {LOST_STOPS:g} stops and more under mid-tone. "
               f"The model: white paint as the {film.room} lights it, in stops over or under mid-tone.")
    return Table("filming-choices", "What to set", columns, rows, caption)


def _choice(film: Filming, row: Exposure) -> tuple[Cell, ...]:
    groups = [lamp.group for lamp in film.lamps]
    slow_s = row.exposure_s * film.camera.iso / SLOW_ISO
    named = (_which(names, groups) for names in (row.burnt, row.perhaps, row.lost))
    return (row.name, shutter_words(row.exposure_s), shutter_words(_two(slow_s)), *named, f"{row.model_stops:+.1f}",
            amount(row.model_iso) if row.model_iso < MOST_ISO else "too dark")


def _which(names: tuple[str, ...], groups: list[str]) -> str:
    """Lamps by name, 'all', or 'all but' a few."""
    if not names or len(names) == len(groups):
        return "all" if names else "none"
    rest = [name for name in groups if name not in names]
    return f"all but {compressed(rest)}" if len(rest) < len(names) else compressed(names)


def lamp_table(film: Filming) -> Table:
    """Each lamp, row or strip in the picture."""
    columns = (
        Column("lamps", "Lamp, row or strip", wide=True), Column("count", "Lamps", align="right", decimals=0),
        Column("seen", "In the picture", "cd/m2", "right"), Column("across", "Wide", "px", "right"),
        Column("mid", "Mid-tone at", "s", "right"), Column("clip", "Burns out from", "s", "right"),
        Column("film", "At the last exposure", "stops", "right", 1),
    )
    alike: dict[tuple[Cell, ...], list[FilmedLamps]] = {}
    for row in film.lamps:
        alike.setdefault(_lamp(row, film.film_s), []).append(row)
    rows = tuple((compressed(row.group for row in found), sum(row.count for row in found), *cells)
                 for cells, found in alike.items())
    caption = ("Up to 1.5 pixels wide a lamp is a point: its light at the lens counts, spread over its pixels. Red, "
               "green and blue lamps burn out sooner than white ones, as one channel takes all. The last column: stops "
               "over mid-tone at the last exposure above.")
    return Table("filming-lamps", "Exposure of each lamp", columns, rows, caption)


def _lamp(row: FilmedLamps, film_s: float) -> tuple[Cell, ...]:
    across = "a point" if row.across_px <= POINT_PX else amount(row.across_px)
    return (span(row.seen_cd_m2.low, row.seen_cd_m2.high), across, _span(row.mid_s), _span(row.clip_s),
            round(row.over_mid_stops(film_s), 1))


def exposure_drawing(film: Filming) -> Drawing:
    """Bars over the exposure time: where each lamp shows, and where it burns out."""
    rows = film.lamps[:MOST_BARS]
    ends = [row.shows_s for row in rows] + [row.clip_s.high for row in rows]
    ends += [row.exposure_s for row in film.exposures]
    least = math.log2(min(row.exposure_s for row in film.exposures)) - 2.0
    low = math.floor(max(math.log2(min(ends)), least))
    high = max(math.ceil(math.log2(max(ends)) + 0.5), low + 4)
    caption = ("Grey: the lamp shows, from out of the dark on the left; the tick is mid-tone. White: it may burn out. "
               "Hatched: it burns out, whatever the spread of the parts. Upright lines: the exposures below.")

    def drawn(wide: _Wide) -> Drawing:
        def x(seconds: float) -> float:
            return wide.names_mm + wide.graph_mm / (high - low) * (min(max(math.log2(seconds), low), high) - low)

        marks = [mark for k, row in enumerate(rows) for mark in _bar(row, x, -LINE_MM * (k + 1), high, wide)]
        marks += _axis(film, x, -LINE_MM * (len(rows) + 0.6), (low, high), wide)
        return framed((Layer("symbols", tuple(marks)),), key="filming-exposures", title="What shows at which exposure",
                      scale=None, caption=caption)

    return replace(drawn(WIDE), narrow=drawn(NARROW))


def _bar(row: FilmedLamps, x: Callable[[float], float], y: float, high: int, wide: _Wide) -> list[Mark]:
    start, end = x(row.shows_s), x(2.0**high)
    sure, perhaps = x(row.clip_s.high), x(row.clip_s.low)

    def box(left: float, right: float, ink: Ink) -> list[Mark]:
        if right - left < 0.05:
            return []
        return [Polyline(((left, y), (right, y), (right, y + BAR_MM), (left, y + BAR_MM)), ink, closed=True)]

    name = shortened(row.group, wide.letters) + (f" ({row.count})" if row.count > 1 else "")
    mid = x(row.mid_s.typical)
    return [
        Text((wide.names_mm - 2.0, y + BAR_MM / 2), name, size=2, anchor="e"), *box(start, perhaps, SHOWN),
        *box(perhaps, sure, Ink("dimension", fill="paper")), *box(sure, end, BURNT),
        Polyline(((mid, y - 0.6), (mid, y + BAR_MM + 0.6)), Ink("edge")),
    ]


def _axis(film: Filming, x: Callable[[float], float], y: float, ends: tuple[int, int], wide: _Wide) -> list[Mark]:
    marks: list[Mark] = [Polyline(((x(2.0 ** ends[0]), y), (x(2.0 ** ends[1]), y)), THIN)]
    step = max(1, math.ceil((ends[1] - ends[0]) / wide.steps))
    for power in range(ends[0], ends[1] + 1, step):
        at = x(2.0**power)
        marks += [Polyline(((at, y), (at, y - 1.0)), THIN),
                  Text((at, y - 1.6), f"{_stop_words(power)} s", size=1, anchor="n")]
    for k, row in enumerate(sorted(film.exposures, key=lambda row: row.exposure_s)):
        at = x(row.exposure_s)
        marks += [Polyline(((at, y), (at, 1.0 + 3.2 * k)), Ink("detail", "chain", "accent")),
                  Text((at, 1.4 + 3.2 * k), f"{row.name}: {shutter_words(row.exposure_s)} s", size=1,
                       anchor="sw" if at < wide.names_mm + wide.graph_mm / 2 else "se")]
    return marks


def _stop_words(power: int) -> str:
    """A whole stop as cameras name it: 1/8, 1/15, 1/30, 1/60, 1/125."""
    if power >= -3:
        return f"{2**power:.0f}" if power >= 0 else f"1/{2**-power}"
    return f"1/{ {-4: 15, -5: 30, -6: 60}.get(power) or 125 * 2 ** (-7 - power)}"


# --- pulses and flashes -------------------------------------------------------------------------------------------


def pulse_table(film: Filming) -> Table:
    """Shutters before lamps that a controller dims by pulses."""
    columns = (
        Column("rate", "Pictures a second", align="right"), Column("time", "Shutter", "s", "right"),
        Column("contrast", "Bands of up to", "%", "right", 1), Column("bands", "Bands in a picture", align="right"),
        Column("safe", "None from", "Hz", "right"), Column("instead", "Or shutter", "s"),
    )
    rows = tuple(_pulse(row) for row in film.pulsed)
    caption = (f"Circuits dimmed by {amount(film.pulse_hz, digits=5)} pulses a second: {compressed(film.dimmed)}. At "
               "full light there are no pulses. 180 degrees: the shutter is open for half of each picture's time. "
               "Under 2 % nobody notices.")
    return Table("filming-pulses", "Bands of lamps dimmed by pulses", columns, rows, caption)


def _pulse(row: Pulsed) -> tuple[Cell, ...]:
    rate = "a still" if row.frames_per_s is None else amount(row.frames_per_s)
    return (rate, shutter_words(row.exposure_s), 100 * row.contrast, span(row.bands.low, row.bands.high),
            amount(row.safe_hz, digits=6), " or ".join(map(shutter_words, row.whole_s)) or "none")


def _pulse_words(film: Filming) -> str:
    hz = max(row.safe_hz for row in film.pulsed)
    faster = f"From {amount(hz, digits=6)} Hz no lamp at any level makes bands that are noticed at these shutters. "
    if hz <= film.pulse_hz:
        faster = "The controller pulses fast enough for all of these. "
    return faster + (
        "A shutter time that holds whole pulses is free of them too, as far as both clocks keep their word. On a small "
        "lamp bands are a flicker from picture to picture; on what it lights they are stripes. Film ten seconds as a "
        "trial before the model is closed."
    )


def flash_table(film: Filming) -> Table:
    """Flashes before a film."""
    columns = (
        Column("rhythm", "Rhythm", wide=True), Column("flash_s", "Shortest flash", "s", "right", 2),
        Column("missed_percent", "Falls between two pictures", "%", "right", 0),
        Column("caught_percent", "Of one exposure", "%", "right", 0),
    )
    rows = tuple(_flash(row) for row in film.flashes)
    caption = (f"At {amount(film.camera.frames_per_s)} pictures a second and {shutter_words(film.film_s)} s. A flash "
               "that falls between two pictures is not on the film: a wider shutter angle catches more. One that lasts "
               "a part of an exposure shows so much dimmer.")
    return Table("filming-flashes", "Flashes on a film", columns, rows, caption)


def _flash(row: Flash) -> tuple[Cell, ...]:
    return (row.rhythm, row.flash_s, 100 * row.missed_share, 100 * row.caught_share)
