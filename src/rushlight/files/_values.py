"""One value of each kind, from its node."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from typing import Any

from rushlight.errors import OutOfRange, UnknownName
from rushlight.files import _quantity
from rushlight.files._faults import Place, shown
from rushlight.files._nearest_ohm import nearest_ohm
from rushlight.files._nodes import Mapping, Node, Sequence, Text, Unread
from rushlight.files._quantity import NotThat
from rushlight.files._words import entry_in_words, quantity_in_words
from rushlight.model.schema import Kind

LONGEST_NAME = 80
LONGEST_TEXT = 20_000
LONGEST_WORD = 200
YES = ("true", "yes", "on")
NO = ("false", "no", "off")
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)


class Bad(Exception):
    """A value that is wrong: where, what stands there; `expected` only where the kind's own words do not fit."""

    def __init__(
        self, place: Place, found: str, expected: str = "", *, word: str | None = None, known: Iterable[str] = ()
    ) -> None:
        super().__init__(found)
        self.place, self.found, self.expected, self.word, self.known = place, found, expected, word, known

    def at(self, place: Place) -> Bad:
        """The same fault at another place."""
        return Bad(place, self.found, self.expected, word=self.word, known=self.known)

    def expecting(self, expected: str) -> Bad:
        """The same fault with other words for what may stand there."""
        return Bad(self.place, self.found, expected, word=self.word, known=self.known)


class BadEntries(Exception):
    """Entries of a list that are wrong, each with its own place."""

    def __init__(self, each: tuple[Bad, ...]) -> None:
        super().__init__(f"{len(each)} entries")
        self.each = each


class Silent(Exception):
    """A value that was refused already."""


def value_of(kind: Kind, node: Node) -> Any:
    """The value that a node holds, for every kind but nested items.

    Raises
    ------
    Bad
        If it holds no such value.
    BadEntries
        If it is a list and entries of it are wrong.
    Silent
        If a problem was named already.
    """
    if isinstance(node, Unread):
        raise Silent
    return _READERS[kind.name](kind, node)


def _each(read: Callable[[Node], Any], nodes: Iterable[Node]) -> tuple[Any, ...]:
    """Every entry read; all the wrong ones are told together."""
    found: list[Any] = []
    wrong: list[Bad] = []
    silent = False
    for node in nodes:
        try:
            found.append(read(node))
        except Bad as bad:
            wrong.append(bad)
        except BadEntries as many:
            wrong.extend(many.each)
        except Silent:
            silent = True
    if wrong:
        raise BadEntries(tuple(wrong))
    if silent:
        raise Silent
    return tuple(found)


def scalar(node: Node) -> str:
    """The text of a single value."""
    if isinstance(node, Unread):
        raise Silent
    if isinstance(node, Mapping):
        raise Bad(node, "keys with values")
    if isinstance(node, Sequence):
        raise Bad(node, "a list")
    return node.value


def entries(node: Node) -> tuple[Node, ...]:
    """The entries of a list."""
    if isinstance(node, Unread):
        raise Silent
    if isinstance(node, Mapping):
        raise Bad(node, "keys with values")
    if isinstance(node, Text):
        raise Bad(node, "nothing" if node.empty else shown(node.value))
    return node.items


def _each_told(kind: Kind, read: Callable[[Kind, Node], Any], nodes: Iterable[Node]) -> tuple[Any, ...]:
    """As `_each`; of a wrong entry it is told what one entry may be, not what the list may."""
    try:
        return _each(lambda entry: read(kind, entry), nodes)
    except BadEntries as many:
        raise BadEntries(tuple(bad.expecting(bad.expected or entry_in_words(kind)) for bad in many.each)) from None


def _long(node: Node, most: int) -> str:
    text = scalar(node)
    if len(text) > most:
        raise Bad(node, f"a text of {len(text)} characters", f"at most {most} characters")
    hidden = next((letter for letter in text if _hidden(letter)), "")
    if hidden:
        raise Bad(node, f"a text with the hidden character U+{ord(hidden):04X}", "characters that can be seen")
    return text


def _hidden(letter: str) -> bool:
    return letter not in "\n\t" and unicodedata.category(letter) in ("Cc", "Cs")


def _text(kind: Kind, node: Node) -> str:
    return _long(node, LONGEST_TEXT)


def _name(kind: Kind, node: Node) -> str:
    text = scalar(node)
    name = " ".join(text.split()) if len(text) <= LONGEST_WORD else text
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise Bad(node, shown(text) if text else "nothing")
    return name


def _word(node: Node) -> str:
    text = " ".join(_long(node, LONGEST_WORD).split())
    if not text:
        raise Bad(node, "nothing")
    return text


def _names(kind: Kind, node: Node) -> tuple[str, ...]:
    if isinstance(node, Text):
        return (_name(kind, node),)
    return _each(lambda entry: _name(kind, entry), entries(node))


def _flag(kind: Kind, node: Node) -> bool:
    word = scalar(node).casefold()
    if word not in YES + NO:
        raise Bad(node, shown(scalar(node)))
    return word in YES


def _choice(kind: Kind, node: Node) -> str:
    text = scalar(node)
    word = " ".join(text[:LONGEST_WORD].split()).casefold()
    if word not in kind.choices:
        raise Bad(node, shown(text), word=word, known=kind.choices)
    return word


def _number(kind: Kind, node: Node, reader: Callable[[str], float]) -> float:
    """A number inside the kind's interval; what is wrong with the text stands after it."""
    text = scalar(node)
    try:
        value = reader(text)
    except NotThat as error:
        raise _no_number(kind, node, error.found, error.expected) from None
    if not kind.low <= value <= kind.high:
        raise _no_number(kind, node, "", quantity_in_words(kind) if kind.unit else "")
    return value


def _no_number(kind: Kind, node: Node, why: str, expected: str) -> Bad:
    """A number that cannot be; of a resistance the nearest that can, which says more than 'a temperature' of 4k7k."""
    text = scalar(node)
    near = nearest_ohm(text, kind.low, kind.high) if kind.unit == "ohm" else None
    told = f"{shown(text)}, {why}" if why and (expected or near is None) else shown(text)
    return Bad(node, told, expected, word=near, known=(near or "",))


def _quantity_of(kind: Kind, node: Node) -> float:
    return _number(kind, node, lambda text: _quantity.quantity(text, kind.unit))


def _plain(kind: Kind, node: Node) -> float:
    return _number(kind, node, _quantity.plain_number)


def _count(kind: Kind, node: Node) -> int:
    return int(_number(kind, node, _quantity.whole_number))


def _ratio(kind: Kind, node: Node) -> float:
    return _number(kind, node, _quantity.scale)


def _count_range(kind: Kind, node: Node) -> tuple[int, int]:
    text = scalar(node)
    try:
        low, high = _quantity.count_range(text)
    except NotThat as error:
        raise Bad(node, f"{shown(text)}, {error.found}" if error.found else shown(text)) from None
    if not kind.low <= low <= high <= kind.high:
        raise Bad(node, shown(text))
    return low, high


def _sized(node: Node, least: int, most: int) -> tuple[Node, ...]:
    found = entries(node)
    if len(found) < least or len(found) > most:
        raise Bad(node, f"a list of {len(found)}")
    return found


def _row_of_numbers(kind: Kind, node: Node, least: int, most: int) -> tuple[float, ...]:
    return _each(lambda entry: _quantity_of(kind, entry), _sized(node, least, most))


def _point(kind: Kind, node: Node) -> tuple[float, ...]:
    return _row_of_numbers(kind, node, 2, 2)


def _points(kind: Kind, node: Node) -> tuple[tuple[float, ...], ...]:
    """A line or an outline; an outline that repeats its first corner at its end loses that one."""
    points = _each_told(kind, _point, _sized(node, kind.least, kind.most))
    closed = kind.least >= 3 and len(points) > 3 and points[0] == points[-1]
    return points[:-1] if closed else points


def _point_lists(kind: Kind, node: Node) -> tuple[tuple[tuple[float, ...], ...], ...]:
    line = Kind("points", kind.unit, kind.low, kind.high, least=2)
    return _each(lambda entry: _points(line, entry), entries(node))


def _rect(kind: Kind, node: Node) -> tuple[float, ...]:
    place = Kind("quantity", kind.unit, -100_000, 100_000)
    x, y, width, height = _row_of_numbers(place, node, 4, 4)
    if width <= 0 or height <= 0:
        raise Bad(node, f"a width of {width:g} and a height of {height:g}")
    return (x, y, width, height)


def _pair(kind: Kind, node: Node) -> tuple[float, ...]:
    return _row_of_numbers(kind, node, 2, 2)


def _numbers(kind: Kind, node: Node) -> tuple[float, ...]:
    if isinstance(node, Text) and not node.empty:
        _told_as_list(kind, node)
    return _each_told(kind, _quantity_of, _sized(node, kind.least, kind.most))


def _told_as_list(kind: Kind, node: Text) -> None:
    """Numbers without brackets are shown with them; what reads as none is told as any text is."""
    try:
        for part in node.value.split(", "):
            _quantity_of(kind, Text(part.strip(), node.line, node.column))
    except Bad:
        return
    listed = f"[{' '.join(node.value.split())}]"
    raise Bad(node, shown(node.value), word=listed, known=(listed,))


def _reference(kind: Kind, node: Node) -> str:
    return _word(node)


def _references(kind: Kind, node: Node) -> tuple[str, ...]:
    if isinstance(node, Text):
        return (_word(node),)
    return _each(_word, _sized(node, kind.least, kind.most))


def _colour(kind: Kind, node: Node) -> str:
    from rushlight.optics.colour import trade_colour

    return _understood(node, trade_colour)


def _rhythm(kind: Kind, node: Node) -> str:
    from rushlight.timing.character import parse_rhythm

    return _understood(node, parse_rhythm)


def _understood(node: Node, law: Callable[[str], object]) -> str:
    """A text that a law understands; the law's own words say what is wrong."""
    text = _word(node)
    try:
        law(text)
    except UnknownName as error:
        raise Bad(node, shown(text), word=error.nearest, known=(error.nearest or "",)) from None
    except OutOfRange as error:
        raise Bad(node, f"{shown(text)}: {error.name} is {error.value}", str(error.expected)) from None
    return text


def _file(kind: Kind, node: Node) -> str:
    text = _word(node)
    parts = text.split("/")
    climbs = any(part in ("", ".", "..") or part != part.strip() or part.endswith(".") for part in parts)
    if climbs or any(letter in text for letter in '\\:*?"<>|') or any(_DEVICES.fullmatch(part) for part in parts):
        raise Bad(node, shown(text))
    return text


_READERS: dict[str, Callable[[Kind, Node], Any]] = {
    "text": _text, "name": _name, "names": _names, "flag": _flag, "choice": _choice, "quantity": _quantity_of,
    "number": _plain, "count": _count, "count_range": _count_range, "ratio": _ratio, "point": _point,
    "points": _points, "point_lists": _point_lists, "rect": _rect, "pair": _pair, "numbers": _numbers,
    "ref": _reference, "refs": _references, "colour": _colour, "rhythm": _rhythm, "file": _file,
}
