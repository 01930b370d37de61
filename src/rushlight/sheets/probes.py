"""What the two probes touch: an LED's legs, an opened lead, a resistor, two places of the loom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from rushlight.model.sheet import DETAIL, EDGE, Anchor, Circle, Ink, Mark, Point, Polyline, Text
from rushlight.sheets import strokes, symbols
from rushlight.sheets.meter_use import MeterUse
from rushlight.sheets.place import Place, all_placed, translated
from rushlight.sheets.words import shortened

TIP_Y = 38.0
"""Height at which probes touch, in the meter's cell [mm]."""

LEFT_X, RIGHT_X = 7.0, 26.5
"""Where the probes touch, from the panel's left edge."""

MIDDLE_X = (LEFT_X + RIGHT_X) / 2
WIDE_MM = 38.5
LETTERS = 15
"""So many letters stand beside each other over one probe."""

WHITE = Ink("detail", fill="paper")
PALE = Ink("detail", fill="pale")
NEEDLE = Ink("detail", "solid", "ink", "ink")

Things = tuple[tuple[Mark, ...], float, float]


def contacts(use: MeterUse, panel_x: float) -> Things:
    """What is touched, and where along x the red and the black probe touch it [mm]."""
    makers: dict[str, Callable[[MeterUse], Things]] = {
        "led": _led, "lit led": _lit_led, "its resistor": _its_resistor, "no short": _no_short,
        "in the lead": _in_the_lead, "resistor": _resistor,
        "regulator": _regulator, "a part": _a_part, "between": _between, "apart": _apart,
    }
    marks, red, black = makers[use.where](use)
    return translated(marks, panel_x, 0.0), panel_x + red, panel_x + black


def probe(tip: Point, ink: Ink, name: str) -> tuple[Mark, ...]:
    """A probe that points up: needle, handle, its colour as a word beside it."""
    handle = ((-1.0, -3.5), (1.0, -3.5), (1.5, -6.0), (1.1, -14.0), (-1.1, -14.0), (-1.5, -6.0))
    marks = (
        Polyline(((0.0, 0.0), (-0.35, -3.5), (0.35, -3.5)), NEEDLE, closed=True),
        Polyline(handle, replace(ink, fill="accent" if ink.colour == "accent" else "ink"), closed=True),
        Text((2.6, -9.0), name, size=3, anchor="w", bold=True),
    )
    return all_placed(marks, Place(shift_mm=tip))


# --- one picture for each kind of place ---------------------------------------------------------------------------


def _led(use: MeterUse) -> Things:
    """An LED head up, its long leg on the left."""
    base, top = TIP_Y + 10.0, TIP_Y + 14.0
    half = ((4.0, base), (4.0, top), (2.8, top + 2.8), (0.0, top + 4.0), (-2.8, top + 2.8), (-4.0, top), (-4.0, base))
    dome = Polyline(tuple((MIDDLE_X + x, y) for x, y in half), WHITE, closed=True)
    legs = [_line((MIDDLE_X + side, base), (MIDDLE_X + side, base - 3.0), (foot, TIP_Y + 4.0), (foot, TIP_Y - below))
            for side, foot, below in ((-1.6, LEFT_X, 1.5), (1.6, RIGHT_X, 0.0))]
    rim = _line((MIDDLE_X - 5.0, base), (MIDDLE_X + 4.0, base))
    words = (_word((0.0, TIP_Y + 8.0), "long leg", "sw"), _word((0.0, TIP_Y + 5.2), "plus", "sw"),
             _word((WIDE_MM, TIP_Y + 8.0), "short leg,", "se"), _word((WIDE_MM, TIP_Y + 5.2), "flat side", "se"))
    return ((*legs, dome, rim, *words), LEFT_X, RIGHT_X)


def _lit_led(use: MeterUse) -> Things:
    """An LED with its resistor on a supply, a probe on each of the LED's legs."""
    y = TIP_Y + 0.4
    lamp = (_line((LEFT_X, y), (RIGHT_X, y)), *symbols.led((MIDDLE_X, y), 0.0))
    before = symbols.resistor((LEFT_X, y + 8.0), 90.0)
    words = (_word((LEFT_X + 2.0, y + 8.0), "resistor", "w"), _word((LEFT_X - 1.0, y + 3.4), "long", "se"),
             _word((LEFT_X - 1.0, y + 0.6), "leg", "se"), _word((RIGHT_X + 1.0, y + 0.6), "short leg", "sw"))
    return ((*_round(y), *lamp, *before, *words), LEFT_X, RIGHT_X)


def _its_resistor(use: MeterUse) -> Things:
    """The same, a probe on each end of the resistor."""
    y = TIP_Y + 0.4
    before = (_line((LEFT_X, y), (RIGHT_X, y)), *symbols.resistor((MIDDLE_X, y), 0.0))
    lamp = symbols.led((RIGHT_X, y + 8.0), 90.0)
    words = (_word((RIGHT_X + 2.6, y + 6.0), "LED", "w"), _word((MIDDLE_X, y + 2.0), "resistor", "s"))
    return ((*_round(y), *before, *lamp, *words), LEFT_X, RIGHT_X)


def _round(y: float) -> tuple[Mark, ...]:
    """The way from the supply's plus down the left to the touched part, and up the right to its minus."""
    over = y + 18.0
    wires = (_line((12.0, over), (LEFT_X, over), (LEFT_X, y)), _line((22.5, over), (RIGHT_X, over), (RIGHT_X, y)))
    signs = (_word((LEFT_X - 1.0, over), "plus", "e"), _word((RIGHT_X + 1.0, over), "minus", "w"))
    return (*wires, *_box((12.0, over - 4.0), (10.5, 8.0), "supply"), *signs)


def _no_short(use: MeterUse) -> Things:
    """Plus and return of the trunk, with the supply out."""
    roof = TIP_Y + 15.0
    box = _box((1.0, roof), (31.5, 9.0), "the loom")
    plus = strokes.lead(((LEFT_X, roof), (LEFT_X, TIP_Y)), 0.7, strokes.PLUS)
    back = strokes.lead(((RIGHT_X, roof), (RIGHT_X, TIP_Y)), 0.7, strokes.RETURN)
    words = (_word((LEFT_X + 1.5, TIP_Y + 8.0), "plus", "w"), _word((RIGHT_X - 1.5, TIP_Y + 8.0), "return", "e"),
             _word((MIDDLE_X, TIP_Y + 3.0), "supply out", "c", bold=True))
    return ((*box, *plus, *back, *words), RIGHT_X, LEFT_X)


def _in_the_lead(use: MeterUse) -> Things:
    """The plus lead opened between the supply and the loom; the return stays whole."""
    roof = TIP_Y + 10.0
    boxes = (*_box((0.0, roof), (14.0, 13.0), "supply"), *_box((19.5, roof), (14.0, 13.0), "loom"))
    ends = [mark for x in (LEFT_X, RIGHT_X) for mark in strokes.lead(((x, roof), (x, TIP_Y)), 0.7, strokes.PLUS)]
    back = strokes.lead(((14.0, roof + 9.5), (19.5, roof + 9.5)), 0.7, strokes.RETURN)
    gap = Polyline(((LEFT_X + 2.0, TIP_Y + 0.6), (RIGHT_X - 2.0, TIP_Y + 0.6)), Ink("dimension", "dotted"))
    words = (_word((MIDDLE_X, TIP_Y + 1.6), "opened", "s", bold=True), _word((LEFT_X + 1.4, TIP_Y + 6.6), "plus", "w"),
             _word((RIGHT_X - 1.4, TIP_Y + 6.6), "plus", "e"))
    return ((*boxes, *ends, *back, gap, *words), LEFT_X, RIGHT_X)


def _resistor(use: MeterUse) -> Things:
    """A resistor in the plus lead of its LED, a probe on each of its wires."""
    y, right = TIP_Y + 0.4, WIDE_MM - 4.0
    corners = ((-5.0, -1.9), (5.0, -1.9), (5.0, 1.9), (-5.0, 1.9))
    body = Polyline(tuple((MIDDLE_X + a, y + b) for a, b in corners), WHITE, closed=True)
    bands = [_line((MIDDLE_X + a, y - 1.9), (MIDDLE_X + a, y + 1.9)) for a in (-3.4, -1.8, -0.2, 3.2)]
    wires = (_line((0.0, y), (MIDDLE_X - 5.0, y)), _line((MIDDLE_X + 5.0, y), (right, y), (right, y + 10.0)))
    words = (_word((0.0, y + 6.0), "supply side", "sw"), _word((right - 1.5, y + 6.0), "LED side", "se"),
             _word((MIDDLE_X, y + 2.6), "resistor", "s"))
    return ((*wires, body, *bands, *symbols.led((right, y + 15.0), 90.0), *words), LEFT_X, RIGHT_X)


def _regulator(use: MeterUse) -> Things:
    """A regulator in the plus lead of its LED, the ring towards the LED, a probe on each of its wires."""
    y, right = TIP_Y + 0.4, WIDE_MM - 4.0
    wires = (_line((0.0, y), (MIDDLE_X - 4.0, y)), _line((MIDDLE_X + 4.0, y), (right, y), (right, y + 10.0)))
    words = (_word((0.0, y + 6.0), "supply side", "sw"), _word((right - 1.5, y + 6.0), "LED side", "se"),
             _word((MIDDLE_X, y + 2.6), "regulator", "s"), _word((MIDDLE_X + 3.0, y - 2.4), "ring", "n"))
    return ((*wires, *_ringed((MIDDLE_X, y), 2.6), *symbols.led((right, y + 15.0), 90.0), *words), LEFT_X, RIGHT_X)


def _ringed(at_mm: Point, ring_mm: float) -> tuple[Mark, ...]:
    """The body of a regulator with two leads, lying; its ring so far from the middle, left of it below 0."""
    x, y = at_mm
    corners = ((-4.0, -1.9), (4.0, -1.9), (4.0, 1.9), (-4.0, 1.9))
    body = Polyline(tuple((x + a, y + b) for a, b in corners), WHITE, closed=True)
    return (body, *(_line((x + ring_mm + n, y - 1.9), (x + ring_mm + n, y + 1.9)) for n in (-0.25, 0.0, 0.25)))


def _a_part(use: MeterUse) -> Things:
    """One regulator on the bench with its resistor: the meter stands between the supply's plus and the resistor."""
    roof, far = TIP_Y + 10.0, WIDE_MM - 3.0
    over = roof + 9.5
    box = _box((0.0, roof), (12.0, 13.0), "supply")
    plus = strokes.lead(((LEFT_X, roof), (LEFT_X, TIP_Y)), 0.7, strokes.PLUS)
    wires = (_line((12.0, over), (17.0, over)), _line((25.0, over), (far, over), (far, roof + 6.0)),
             _line((far, roof - 2.0), (far, TIP_Y + 4.0), (RIGHT_X, TIP_Y + 4.0), (RIGHT_X, TIP_Y)))
    resistor = Polyline(((far - 1.6, roof - 2.0), (far + 1.6, roof - 2.0), (far + 1.6, roof + 6.0),
                         (far - 1.6, roof + 6.0)), WHITE, closed=True)
    words = (_word((LEFT_X + 1.4, TIP_Y + 6.6), "plus", "w"), _word((13.0, over - 3.0), "minus", "nw"),
             _word((19.0, over + 2.6), "ring", "s"), _word((far - 2.6, roof + 2.0), "resistor", "e"))
    return ((*box, *plus, *wires, *_ringed((21.0, over), -2.6), resistor, *words), LEFT_X, RIGHT_X)


def _between(use: MeterUse) -> Things:
    """Two places by their names; where on the model they are, the drawing of the part shows."""
    return ((*_place(use.red, LEFT_X), *_place(use.black, RIGHT_X)), LEFT_X, RIGHT_X)


def _apart(use: MeterUse) -> Things:
    """Two places with the supply out."""
    marks, red, black = _between(use)
    return ((*marks, _word((MIDDLE_X, TIP_Y + 24.0), "supply out", "c", bold=True)), red, black)


def _place(words: str, x: float) -> tuple[Mark, ...]:
    """A splice in its sleeve, a terminal in the bay, or a leg of an LED, with its name over it."""
    lines = _two_lines(words)
    named = [_word((x, TIP_Y + 12.5 - 3.2 * n), text, "s") for n, text in enumerate(lines)]
    place = Place(shift_mm=(x, TIP_Y))
    if words.lower().startswith("splice"):
        sleeve = (*strokes.lead(((-6.5, 2.2), (6.5, 2.2)), 0.7), *strokes.splice((0.0, 2.2), 8.0, diameter_mm=2.4))
        return (*all_placed((*sleeve, Circle((0.0, 0.6), 0.5, DETAIL)), place), *named)
    if "in the bay" in words or "behind the fuse" in words:
        bay = Polyline(((-6.0, -1.5), (6.0, -1.5), (6.0, 5.5), (-6.0, 5.5)), Ink("detail", "dashed"), closed=True)
        screw = (Circle((0.0, 1.3), 1.5, PALE), Polyline(((-1.0, 1.3), (1.0, 1.3)), DETAIL))
        return (*all_placed((bay, *screw), place), *named)
    head = Polyline(((-2.2, 5.5), (2.2, 5.5), (2.2, 8.0), (-2.2, 8.0)), WHITE, closed=True)
    return (*all_placed((_line((0.0, 5.5), (0.0, 0.0)), head), place), *named)


def _two_lines(words: str) -> tuple[str, ...]:
    """A name over a place, on two lines where it is long."""
    if len(words) <= LETTERS:
        return ("", words)
    cut = words.rfind(" ", 0, LETTERS + 1)
    cut = cut if cut > 3 else LETTERS
    return (words[:cut].strip(), shortened(words[cut:].strip(), LETTERS))


def _line(*points: Point) -> Polyline:
    return Polyline(points, EDGE)


def _word(at: Point, text: str, anchor: Anchor, *, bold: bool = False) -> Text:
    return Text(at, text, size=2, anchor=anchor, bold=bold)


def _box(corner: Point, size: Point, words: str) -> tuple[Mark, ...]:
    (x, y), (wide, high) = corner, size
    shape = Polyline(((x, y), (x + wide, y), (x + wide, y + high), (x, y + high)), PALE, closed=True)
    return (shape, _word((x + wide / 2, y + high / 2), words, "c", bold=True))
