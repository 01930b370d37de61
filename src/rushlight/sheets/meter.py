"""The meter as it is set and held: display, dial, sockets, and where the two probes go. A drawing of our own."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.model.sheet import (
    DETAIL,
    EDGE,
    THIN,
    Arc,
    Circle,
    Drawing,
    Ink,
    Layer,
    Mark,
    Point,
    Polyline,
    Text,
)
from rushlight.sheets import strokes
from rushlight.sheets.meter_use import DialSetting, MeterUse, dial_settings, shown_unit
from rushlight.sheets.place import Place, all_placed, on_circle, translated
from rushlight.sheets.probes import contacts, probe
from rushlight.sheets.words import shortened

CELL_MM = (86.0, 74.0)
GAP_MM = 4.0

BODY_MM = (1.0, 9.0, 43.0, 73.0)
DIAL_MM = (22.0, 39.0)
KNOB_MM, TICK_MM, MARK_MM = 7.5, 10.6, 14.2
SOCKETS_MM = {"10 A": 6.5, "mA": 16.5, "COM": 27.0, "V": 37.5}
SOCKET_Y = 13.0
PANEL_X = 46.0
LANES_Y = (3.0, 5.6)
TIP_Y = 38.0

RED = Ink("detail", "solid", "accent")
BLACK = Ink("detail", "solid", "ink")
FILLED = Ink("detail", fill="ink")
WHITE = Ink("detail", fill="paper")
CHOSEN = Ink("edge", "solid", "accent", "accent")


def meter_drawing(use: MeterUse, *, key: str, title: str, caption: str = "") -> Drawing:
    """One use of the meter.

    Parameters
    ----------
    use : MeterUse
        Setting, places of the probes, what should show.
    key, title, caption : str
        As in Drawing.
    Returns
    -------
    Drawing
        Without scale, CELL_MM large.
    """
    layers = (Layer("symbols", meter_marks(use)),)
    return Drawing(key, title, *CELL_MM, layers, scale=None, caption=caption)


def meter_drawings(uses: Sequence[MeterUse], *, key: str, title: str, caption: str = "") -> Drawing:
    """Several uses, two abreast, the first at the upper left; on a phone one below the other."""
    def abreast(most: int, narrow: Drawing | None) -> Drawing:
        lines = math.ceil(len(uses) / most)
        marks: list[Mark] = []
        for n, use in enumerate(uses):
            across, up = n % most, lines - 1 - n // most
            marks += translated(meter_marks(use), across * (CELL_MM[0] + GAP_MM), up * (CELL_MM[1] + GAP_MM))
        width = min(most, len(uses)) * (CELL_MM[0] + GAP_MM) - GAP_MM
        height = lines * (CELL_MM[1] + GAP_MM) - GAP_MM
        layers = (Layer("symbols", tuple(marks)),)
        return Drawing(key, title, width, height, layers, scale=None, caption=caption, narrow=narrow)

    return abreast(2, abreast(1, None) if len(uses) > 1 else None)


def meter_marks(use: MeterUse) -> tuple[Mark, ...]:
    """Marks of one use in a cell whose lower left corner is (0, 0)."""
    return (*_body(), *_display(use), *_dial(use.setting), *_sockets(use), *_panel(use))


# --- the meter ----------------------------------------------------------------------------------------------------


def _body() -> tuple[Mark, ...]:
    left, low, right, top = BODY_MM
    return (_rounded((left, low, right, top), 3.0, EDGE),)


def _rounded(box: tuple[float, float, float, float], radius: float, ink: Ink) -> Polyline:
    left, low, right, top = box
    corners = ((right - radius, top - radius, 0), (left + radius, top - radius, 90), (left + radius, low + radius, 180),
               (right - radius, low + radius, 270))
    points = [on_circle((x, y), radius, start + turn) for x, y, start in corners for turn in (0, 30, 60, 90)]
    return Polyline(tuple(points), ink, closed=True)


def _display(use: MeterUse) -> tuple[Mark, ...]:
    glass = _rounded((4.0, 60.5, 40.0, 71.0), 1.0, WHITE)
    unit = "" if use.shows == "OL" else shown_unit(use.setting)
    return (glass, Text((30.0, 63.4), use.shows, size=5, anchor="se", bold=True),
            Text((31.0, 63.4), unit, size=3, anchor="sw"),
            Text((22.0, 57.2), shortened(use.expect, 31), size=2, anchor="s", bold=True))


def _dial(setting: DialSetting) -> tuple[Mark, ...]:
    """Every position, the chosen one last: its plate lies over its neighbours."""
    every = dial_settings()
    ways = {row.key: 90.0 - 360.0 * n / len(every) for n, row in enumerate(every)}
    others = [mark for row in every if row.key != setting.key for mark in _position(row, ways[row.key])]
    return (*_groups(), *others, *_knob(ways[setting.key]), *_chosen(setting, ways[setting.key]))


def _position(row: DialSetting, way: float) -> tuple[Mark, ...]:
    tick = Polyline((on_circle(DIAL_MM, KNOB_MM + 0.9, way), on_circle(DIAL_MM, TICK_MM, way)), THIN)
    at = on_circle(DIAL_MM, MARK_MM, way)
    if row.group == "diode":
        return (tick, *all_placed(_diode_sign(), Place(shift_mm=at)))
    return (tick, Text(at, row.mark, size=2, anchor="c"))


def _chosen(row: DialSetting, way: float) -> tuple[Mark, ...]:
    at = on_circle(DIAL_MM, MARK_MM + 0.4, way)
    half = 3.0 + 1.0 * max(len(row.mark) - 2, 0)
    box = (at[0] - half, at[1] - 2.4, at[0] + half, at[1] + 2.4)
    plate = _rounded(box, 1.6, Ink("edge", "solid", "accent", "paper"))
    if row.group == "diode":
        return (plate, *all_placed(_diode_sign(), Place(shift_mm=at)))
    return (plate, Text(at, row.mark, size=3, anchor="c", bold=True))


def _knob(way: float) -> tuple[Mark, ...]:
    """Round, with a pointer that cannot be overlooked."""
    pointer = ((KNOB_MM + 1.6, 0.0), (KNOB_MM - 2.4, 1.6), (KNOB_MM - 2.4, -1.6))
    grip = ((KNOB_MM - 2.4, 1.3), (-KNOB_MM + 1.0, 1.3), (-KNOB_MM + 1.0, -1.3), (KNOB_MM - 2.4, -1.3))
    place = Place(angle_deg=way, shift_mm=DIAL_MM)
    turned = all_placed((Polyline(grip, WHITE, closed=True), Polyline(pointer, CHOSEN, closed=True)), place)
    return (Circle(DIAL_MM, KNOB_MM, Ink("detail", fill="pale")), *turned)


def _groups() -> tuple[Mark, ...]:
    """The letters of each quarter, in the corners about the dial."""
    x, y = DIAL_MM
    return (
        Text((x + 15.4, y + 13.8), "V", size=4, anchor="e", bold=True), *_dc_sign((x + 18.2, y + 13.8)),
        Text((x + 15.4, y - 15.4), "A", size=4, anchor="e", bold=True), *_dc_sign((x + 18.2, y - 15.4)),
        *_ohm_sign((x - 16.4, y - 15.0)),
        Text((x - 16.4, y + 13.8), "V", size=4, anchor="e", bold=True), *_ac_sign((x - 14.0, y + 13.8)),
    )


def _dc_sign(at: Point) -> tuple[Mark, ...]:
    """A line over three dashes: direct current (IEC 60417-5031, from memory)."""
    x, y = at
    dashes = (Polyline(((x + a, y - 0.6), (x + a + 0.9, y - 0.6)), DETAIL) for a in (-1.9, -0.45, 1.0))
    return (Polyline(((x - 1.9, y + 0.6), (x + 1.9, y + 0.6)), DETAIL), *dashes)


def _ac_sign(at: Point) -> tuple[Mark, ...]:
    """One wave: alternating current (IEC 60417-5032, from memory)."""
    x, y = at
    return (Arc((x - 0.9, y), 0.9, 0.0, 180.0, DETAIL), Arc((x + 0.9, y), 0.9, 180.0, 360.0, DETAIL))


def _ohm_sign(at: Point) -> tuple[Mark, ...]:
    """The capital omega, which the book's letters lack."""
    x, y = at
    left, right = on_circle(at, 1.7, 240.0), on_circle(at, 1.7, 300.0)
    foot = y - 1.9
    return (Arc(at, 1.7, -60.0, 240.0, EDGE), Polyline((left, (left[0], foot), (x - 2.1, foot)), EDGE),
            Polyline((right, (right[0], foot), (x + 2.1, foot)), EDGE))


def _diode_sign() -> tuple[Mark, ...]:
    triangle = Polyline(((-1.0, -1.0), (-1.0, 1.0), (0.9, 0.0)), FILLED, closed=True)
    return (triangle, Polyline(((0.9, -1.0), (0.9, 1.0)), DETAIL), Polyline(((-2.2, 0.0), (2.0, 0.0)), DETAIL))


# --- sockets and leads --------------------------------------------------------------------------------------------


def _sockets(use: MeterUse) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for name, x in SOCKETS_MM.items():
        used = name in (use.setting.socket, "COM")
        marks += [Circle((x, SOCKET_Y), 1.7, EDGE if used else DETAIL),
                  Text((x, SOCKET_Y + 2.6), name, size=2, anchor="s", bold=used)]
    if use.setting.socket != "V":
        marks += _back_to_volts(SOCKETS_MM[use.setting.socket])
    return tuple(marks)


def _back_to_volts(x: float) -> tuple[Mark, ...]:
    """A dashed way from a current socket to V: where the red lead belongs when the reading is done."""
    end, y = SOCKETS_MM["V"], SOCKET_Y + 6.2
    way = Polyline(((x, y - 1.0), (x, y), (end, y)), Ink("detail", "dashed", "accent"))
    head = Polyline(((end - 0.8, y), (end + 0.8, y), (end, y - 1.4)), CHOSEN, closed=True)
    words = Text(((x + end) / 2, y + 0.7), "then back to V", size=1, anchor="s")
    return (way, head, words)


def _panel(use: MeterUse) -> tuple[Mark, ...]:
    """Switch position, what is touched, the two probes with their leads."""
    things, red_x, black_x = contacts(use, PANEL_X)
    state = use.head or (f"Switch at: {use.state}" if use.state else "Switch: off")
    head = Text((PANEL_X, 69.5), shortened(state, 25), size=3, anchor="sw", bold=True)
    lanes = _lanes(use, red_x, black_x)
    return (head, *lanes, *things, *probe((red_x, TIP_Y), RED, "red"), *probe((black_x, TIP_Y), BLACK, "black"))


def _lanes(use: MeterUse, red_x: float, black_x: float) -> tuple[Mark, ...]:
    """The leads from their sockets to the probes; what comes later lies over, with a pale gap where they cross."""
    high, low = LANES_Y[1], LANES_Y[0]
    red_y, black_y = (high, low) if red_x < black_x and use.setting.socket == "V" else (low, high)
    foot = TIP_Y - 14.0
    from_x = SOCKETS_MM[use.setting.socket]
    black = ((SOCKETS_MM["COM"], SOCKET_Y), (SOCKETS_MM["COM"], black_y), (black_x, black_y), (black_x, foot))
    red = ((from_x, SOCKET_Y), (from_x, red_y), (red_x, red_y), (red_x, foot))
    plugs = (Circle((SOCKETS_MM["COM"], SOCKET_Y), 0.9, FILLED), Circle((from_x, SOCKET_Y), 0.9, CHOSEN))
    return (*strokes.lead(black, 0.7, BLACK), *strokes.lead(red, 0.7, RED), *plugs)
