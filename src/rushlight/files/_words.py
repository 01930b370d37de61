"""What a key of the plan may hold, in words; the reader's problems and the reference page say it alike."""

from __future__ import annotations

import math
import re

from rushlight.files._quantity import dimension
from rushlight.model.schema import Kind

OHM_WRITTEN = ", such as 470, 4k7 or 4.7 kohm"
"""How a resistance may be written."""

_NO_END = 1e9
_UNITS = {
    "v": "V", "a": "A", "ma": "mA", "mah": "mAh", "k": "K", "w": "W", "mm2": "mm2", "deg": "deg", "c": "degC",
    "ohm": "ohm",
}


def unit_shown(unit: str) -> str:
    """The unit as it is written: mA for ma."""
    return _UNITS.get(unit, unit)


def item_word(kind: type) -> str:
    """One item of a list, in words: KeepOut gives keep-out, NamedPose pose."""
    words = re.findall(r"[A-Z][a-z]*", kind.__name__)
    return {"KeepOut": "keep-out", "NamedPose": "pose"}.get(kind.__name__, " ".join(words).lower())


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


def span(low: float, high: float, unit: str = "") -> str:
    """An interval, both ends included: 'from 0 to 360 deg'; "" if it has no end."""
    tail = f" {unit_shown(unit)}" if unit else ""
    if abs(low) >= _NO_END and abs(high) >= _NO_END:
        return ""
    if math.isinf(high):
        return f" of {low:g}{tail} or more"
    return f" from {_plain(low)} to {_plain(high)}{tail}"


def _plain(value: float) -> str:
    if math.isinf(value) or value == int(value):
        return f"{value:,.0f}".replace(",", " ")
    return f"{value:.9f}".rstrip("0")


def quantity_in_words(kind: Kind) -> str:
    """A quantity with its bounds: 'a length from 0 to 100 mm'."""
    return _article(dimension(kind.unit)) + span(kind.low, kind.high, kind.unit)


def entry_in_words(kind: Kind) -> str:
    """One entry of a list of numbers or points: 'a resistance from 1 to 100 ohm, such as 470, 4k7 or 4.7 kohm'."""
    if kind.name == "points":
        return f"a point [x, y] in {unit_shown(kind.unit)}"
    if not kind.unit:
        return "a number" + span(kind.low, kind.high)
    return quantity_in_words(kind) + (OHM_WRITTEN if kind.unit == "ohm" else "")


def _count_of(kind: Kind, what: str) -> str:
    if kind.least == kind.most:
        return f"{kind.least} {what}"
    if kind.least and kind.most < 10_000:
        return f"a list of {kind.least} to {kind.most} {what}"
    if kind.least:
        return f"a list of {kind.least} or more {what}"
    return f"a list of {what}"


def _target(kind: Kind) -> str:
    words = {"lamps": "lamp, row or strip", "bays": "bay of a part"}
    if kind.target.startswith("drawer."):
        return f"row of the drawer's {kind.target.removeprefix('drawer.')}"
    return words.get(kind.target, kind.target.removesuffix("s") + " of this plan")


def kind_in_words(kind: Kind) -> str:
    """What a key of this kind may hold."""
    fixed = {
        "text": "a text", "name": "a name of 1 to 80 characters", "flag": "yes or no",
        "colour": "a colour: a name such as 'warm white', a wavelength such as 525 nm, a temperature such as 3000 K",
        "rhythm": "a rhythm such as 'steady', 'Fl(2) W 10s' or 'strobe 1.2 s'",
        "file": "a file in the plan's folder pictures/, without '..' and without a drive",
        "ratio": f"a scale such as 1:72, from 1:{_plain(kind.low)} to 1:{_plain(kind.high)}",
        "names": "a list of names, or one name",
    }
    if kind.name in fixed:
        return fixed[kind.name]
    return _listed(kind) if kind.name in _LISTED else _single(kind)


_LISTED = ("points", "point_lists", "numbers", "refs", "items", "item")


def _single(kind: Kind) -> str:
    unit = unit_shown(kind.unit)
    words = {
        "quantity": quantity_in_words(kind) if kind.name == "quantity" else "",
        "number": "a number" + span(kind.low, kind.high),
        "count": "a whole number" + span(kind.low, kind.high),
        "count_range": "a whole number such as 2, or a range such as 2-3",
        "choice": "one of " + ", ".join(kind.choices),
        "point": f"a point [x, y] in {unit}",
        "rect": f"[x, y, width, height] in {unit}, width and height over 0",
        "pair": f"[from, to]{span(kind.low, kind.high, kind.unit)}",
        "ref": _article(_target(kind)),
    }
    return words[kind.name]


def _listed(kind: Kind) -> str:
    unit = unit_shown(kind.unit)
    words = {
        "points": _count_of(kind, f"points [x, y] in {unit}"),
        "point_lists": f"a list of lines, each a list of points [x, y] in {unit}",
        "numbers": _count_of(kind, f"numbers in {unit}") + (OHM_WRITTEN if unit == "ohm" else ""),
        "refs": f"{_article(_target(kind))}, or a list of them",
        "items": _count_of(kind, f"items with keys ({item_word(kind.item or object)})") + ", each after a dash",
        "item": "keys with values",
    }
    return words[kind.name]
