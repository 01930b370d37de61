"""Symbols of the circuit drawing, after IEC 60617 (shapes and proportions from memory of the standard).

Every two-ended symbol lies along x about its middle, its ends at -REACH_MM and +REACH_MM; `at_mm` and `angle_deg`
place it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rushlight.errors import OutOfRange
from rushlight.model.sheet import DETAIL, EDGE, Circle, Ink, Mark, Point, Polyline, Text
from rushlight.sheets.place import Place, all_placed, on_circle

REACH_MM = 6.0
"""Distance from a symbol's middle to each of its ends."""


@dataclass(frozen=True, slots=True)
class _At:
    """Where a symbol lies and what stands beside it."""

    at_mm: Point
    angle_deg: float
    label: str
    value: str


SOLID = Ink("detail", fill="ink")
WHITE = Ink("detail", fill="paper")


def ends_mm(at_mm: Point, angle_deg: float = 0.0) -> tuple[Point, Point]:
    """Where wires join a two-ended symbol: its first (plus, anode, fixed) end, then its second."""
    return on_circle(at_mm, REACH_MM, angle_deg + 180.0), on_circle(at_mm, REACH_MM, angle_deg)


def resistor(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A resistor: a rectangle three times as long as wide."""
    body = _box(6.0, 2.0)
    return _two_ended((body,), 3.0, _At(at_mm, angle_deg, label, value), (1.0, 1.0))


def fuse(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A fuse: the resistor's rectangle with the wire drawn through."""
    body = (_box(6.0, 2.0), _line((-3.0, 0.0), (3.0, 0.0)))
    return _two_ended(body, 3.0, _At(at_mm, angle_deg, label, value), (1.0, 1.0))


def regulator(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A constant-current regulator: the circle of an ideal current source, a bar across it, an arrow along the current.

    Source
    ------
    IEC 60617, ideal current source (from memory): a circle, and a line at right angles to the leads within it.
    """
    head = Polyline(((3.6, 2.9), (2.6, 3.4), (2.6, 2.4)), SOLID, closed=True)
    body = (Circle((0.0, 0.0), 2.2, WHITE), _line((0.0, -2.2), (0.0, 2.2)), _line((-3.0, 2.9), (2.8, 2.9)), head)
    return _two_ended(body, 2.2, _At(at_mm, angle_deg, label, value), (3.4, 2.4))


def led(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A light emitting diode: triangle from the anode to the cathode's bar, two arrows leaving it."""
    body = (*_diode_body(), *_arrow((0.4, 2.2)), *_arrow((-1.2, 2.6)))
    return _two_ended(body, 1.5, _At(at_mm, angle_deg, label, value), (4.6, 1.8))


def diode(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A diode: triangle from the anode to the cathode's bar."""
    return _two_ended(_diode_body(), 1.5, _At(at_mm, angle_deg, label, value), (1.8, 1.8))


def _diode_body() -> tuple[Mark, ...]:
    triangle = Polyline(((-1.5, -1.7), (-1.5, 1.7), (1.5, 0.0)), WHITE, closed=True)
    return (triangle, Polyline(((1.5, -1.7), (1.5, 1.7)), EDGE), _line((-1.5, 0.0), (1.5, 0.0)))


def _arrow(foot: Point) -> tuple[Mark, ...]:
    x, y = foot
    tip = (x + 1.7, y + 1.7)
    head = Polyline((tip, (tip[0] - 1.0, tip[1] - 0.35), (tip[0] - 0.35, tip[1] - 1.0)), SOLID, closed=True)
    return (_line(foot, tip), head)


def mosfet_p(at_mm: Point, angle_deg: float = 0.0) -> tuple[Mark, ...]:
    """A P-channel enhancement MOSFET, its body diode left out; see `transistor_ends_mm` for where wires join.

    Source at (4, 5), drain at (4, -5), gate at (-6, 0), which stands level with the middle of the channel.
    Source
    ------
    IEC 60617 (from memory): a channel in three pieces, since none is there without a gate voltage; the gate beside it;
    the arrow on the substrate, which is joined to the source, points away from the channel.
    """
    channel = tuple(Polyline(((0.0, y - 1.0), (0.0, y + 1.0)), EDGE) for y in (-2.6, 0.0, 2.6))
    leads = (_line((0.0, 2.6), (4.0, 2.6)), _line((4.0, 5.0), (4.0, 0.0)), _line((0.0, 0.0), (4.0, 0.0)),
             _line((0.0, -2.6), (4.0, -2.6)), _line((4.0, -2.6), (4.0, -5.0)))
    gate = (Polyline(((-1.4, -3.6), (-1.4, 3.6)), EDGE), _line((-6.0, 0.0), (-1.4, 0.0)))
    arrow = Polyline(((3.2, 0.0), (1.6, 0.8), (1.6, -0.8)), SOLID, closed=True)
    dot = Circle((4.0, 2.6), 0.5, SOLID)
    return all_placed((*channel, *leads, *gate, arrow, dot), Place(angle_deg=angle_deg, shift_mm=at_mm))


def npn(at_mm: Point, angle_deg: float = 0.0) -> tuple[Mark, ...]:
    """An NPN transistor: collector at (4, 5), emitter at (4, -5), base at (-6, 0); see `transistor_ends_mm`.

    Source
    ------
    IEC 60617 (from memory): a bar for the base, collector and emitter aslant, the emitter's arrow points outward.
    """
    tip, foot = (4.0, -3.6), (0.0, -1.2)
    marks = (Polyline(((0.0, -3.2), (0.0, 3.2)), EDGE), _line((-6.0, 0.0), (0.0, 0.0)),
             _line((0.0, 1.2), (4.0, 3.6)), _line((4.0, 3.6), (4.0, 5.0)), _line(foot, tip), _line(tip, (4.0, -5.0)),
             Polyline(((3.2, -3.12), (1.5, -3.0), (2.3, -1.65)), SOLID, closed=True))
    return all_placed(marks, Place(angle_deg=angle_deg, shift_mm=at_mm))


def transistor_ends_mm(at_mm: Point, angle_deg: float = 0.0) -> tuple[Point, Point, Point]:
    """Where wires join a transistor: gate or base, then source or collector, then drain or emitter."""
    place = Place(angle_deg=angle_deg, shift_mm=at_mm)
    return place.point((-6.0, 0.0)), place.point((4.0, 5.0)), place.point((4.0, -5.0))


def battery(at_mm: Point, angle_deg: float = 0.0, *, cells: int = 1, label: str = "",
            value: str = "") -> tuple[Mark, ...]:
    """A battery: long thin bar for plus, short thick bar for minus, a dashed line between the first and last cell.

    Parameters
    ----------
    at_mm, angle_deg : Point, float
        Middle and direction; the first end is plus.
    label, value : str
        Words above and below.
    cells : int
        One cell is drawn alone; more as a first and a last cell.
    Returns
    -------
    tuple of Mark
        In paper coordinates.
    Raises
    ------
    OutOfRange
        If cells is below 1.
    """
    if cells < 1:
        raise OutOfRange("cells", cells, "1 or more")
    plus = (Text((-1.6 if cells == 1 else -3.7, 1.0), "+", size=2, anchor="s"),)
    if cells == 1:
        return _two_ended((*_cell(0.0), *plus), 0.6, _At(at_mm, angle_deg, label, value), (3.2, 3.2))
    between = Polyline(((-1.5, 0.0), (1.5, 0.0)), Ink("detail", "dotted"))
    return _two_ended((*_cell(-2.1), between, *_cell(2.1), *plus), 2.7, _At(at_mm, angle_deg, label, value), (3.2, 3.2))


def _cell(x_mm: float) -> tuple[Mark, ...]:
    return (_line((x_mm - 0.6, -2.6), (x_mm - 0.6, 2.6)), Polyline(((x_mm + 0.6, -1.3), (x_mm + 0.6, 1.3)), EDGE))


def switch(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A make contact, drawn open: the blade turns on its left end."""
    blade = _line((-2.5, 0.0), (2.2, 2.3))
    return _two_ended((blade,), 2.5, _At(at_mm, angle_deg, label, value), (3.0, 1.0))


def push_button(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A make contact that is closed while it is pressed: the contact, a dashed link, the actuator of a push button.

    Source
    ------
    IEC 60617 (from memory): operated by pushing.
    """
    cap = (Polyline(((-1.6, 4.6), (-1.6, 5.4), (1.6, 5.4), (1.6, 4.6)), Ink("detail")), _link((0.0, 5.4), (0.0, 1.4)))
    return (*switch(at_mm, angle_deg, label=label, value=value),
            *all_placed(cap, Place(angle_deg=angle_deg, shift_mm=at_mm)))


def reed(at_mm: Point, angle_deg: float = 0.0, *, label: str = "", value: str = "") -> tuple[Mark, ...]:
    """A make contact that a magnet near it closes: the contact, a dashed link, a magnet's bent bar.

    Source
    ------
    IEC 60617 (from memory): operated by the nearness of a magnet, its frame left out.
    """
    bar = (Polyline(((-1.2, 6.2), (-1.2, 4.4), (1.2, 4.4), (1.2, 6.2)), EDGE), _link((0.0, 4.4), (0.0, 1.4)))
    return (*switch(at_mm, angle_deg, label=label, value=value),
            *all_placed(bar, Place(angle_deg=angle_deg, shift_mm=at_mm)))


def _link(a: Point, b: Point) -> Polyline:
    return Polyline((a, b), Ink("detail", "dashed"))


def selector(at_mm: Point, positions: int, *, angle_deg: float = 0.0, label: str = "",
             pitch_mm: float = 6.0) -> tuple[Mark, ...]:
    """One pole of a rotary or slide switch: a common contact, its blade on position 1, numbered contacts.

    Parameters
    ----------
    at_mm, angle_deg : Point, float
        The common end; contacts lie one REACH_MM * 2 further along.
    positions : int
        Contacts, >= 2; the first stands highest.
    pitch_mm : float
        Distance between contacts [mm]; see `selector_ends_mm` for where wires join.
    Returns
    -------
    tuple of Mark
        In paper coordinates.
    Raises
    ------
    OutOfRange
        If positions is below 2.
    """
    contacts = _contacts(positions, pitch_mm)
    reach = 2 * REACH_MM
    marks: list[Mark] = [_line((0.0, 0.0), (3.0, 0.0)), Circle((3.0, 0.0), 0.6, WHITE),
                         _line((3.6, 0.3), (reach - 3.6, contacts[0][1]))]
    for number, (x, y) in enumerate(contacts, start=1):
        number_text = Text((x - 1.4, y + 0.5), str(number), size=1, anchor="s")
        marks += [Circle((x - 3.0, y), 0.6, WHITE), _line((x - 2.4, y), (x, y)), number_text]
    if label:
        marks.append(Text((reach / 2, contacts[0][1] + 3.0), label, size=2, anchor="s"))
    return all_placed(marks, Place(angle_deg=angle_deg, shift_mm=at_mm))


def selector_ends_mm(at_mm: Point, positions: int, *, angle_deg: float = 0.0,
                     pitch_mm: float = 6.0) -> tuple[Point, ...]:
    """Where wires join a selector's numbered contacts, in order."""
    place = Place(angle_deg=angle_deg, shift_mm=at_mm)
    return tuple(place.point(end) for end in _contacts(positions, pitch_mm))


def _contacts(positions: int, pitch_mm: float) -> tuple[Point, ...]:
    if positions < 2:
        raise OutOfRange("positions", positions, "2 or more")
    return tuple((2 * REACH_MM, ((positions - 1) / 2 - k) * pitch_mm) for k in range(positions))


def junction(at_mm: Point) -> tuple[Mark, ...]:
    """A joint of wires: a filled dot."""
    return (Circle(at_mm, 0.6, SOLID),)


def terminal(at_mm: Point, label: str = "") -> tuple[Mark, ...]:
    """A terminal or one pin of a plug: an open circle with its name above."""
    name = (Text((at_mm[0], at_mm[1] + 1.6), label, size=1, anchor="s"),) if label else ()
    return (Circle(at_mm, 0.8, WHITE), *name)


def block(at_mm: Point, width_mm: float, height_mm: float, label: str) -> tuple[Mark, ...]:
    """A board or module: a rectangle about its middle with its name inside."""
    box = _box(width_mm, height_mm)
    return all_placed((box, Text((0.0, 0.0), label, size=2, anchor="c")), Place(shift_mm=at_mm))


def wire(*points_mm: Point) -> Polyline:
    """A connection of the circuit drawing."""
    return Polyline(points_mm, DETAIL)


def _line(a: Point, b: Point) -> Polyline:
    return Polyline((a, b), DETAIL)


def _box(width_mm: float, height_mm: float) -> Polyline:
    x, y = width_mm / 2, height_mm / 2
    return Polyline(((-x, -y), (x, -y), (x, y), (-x, y)), WHITE, closed=True)


def _two_ended(body: tuple[Mark, ...], half_mm: float, at: _At, lift_mm: tuple[float, float]) -> tuple[Mark, ...]:
    """Body with its wires placed, its words beside it at `lift_mm` (label's side, value's side)."""
    wires = (_line((-REACH_MM, 0.0), (-half_mm, 0.0)), _line((half_mm, 0.0), (REACH_MM, 0.0)))
    drawn = all_placed((*wires, *body), Place(angle_deg=at.angle_deg, shift_mm=at.at_mm))
    label = _words(at.at_mm, at.angle_deg + 90.0, at.label, lift_mm[0] + 0.7)
    value = _words(at.at_mm, at.angle_deg - 90.0, at.value, lift_mm[1] + 0.7)
    return (*(_upright(mark) for mark in drawn), *label, *value)


def _upright(mark: Mark) -> Mark:
    return replace(mark, angle_deg=0.0) if isinstance(mark, Text) else mark


def _words(at_mm: Point, way_deg: float, words: str, away_mm: float) -> tuple[Text, ...]:
    """Words that lie upright, away from the symbol in the given direction."""
    if not words:
        return ()
    at = on_circle(at_mm, away_mm, way_deg)
    dx, dy = round(at[0] - at_mm[0], 6), round(at[1] - at_mm[1], 6)
    if abs(dy) >= abs(dx):
        return (Text(at, words, size=2, anchor="s" if dy > 0 else "n"),)
    return (Text(at, words, size=2, anchor="w" if dx > 0 else "e"),)
