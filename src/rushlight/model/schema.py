"""What a key of the plan document may hold. The reader, the writer and the reference page all use it."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import MISSING, dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Kind:
    """The kind of value that a key holds.

    name:  text | name | quantity | number | count | count_range | flag | choice | point | points | rect |
           colour | rhythm | ref | refs | names | item | items | any_number
    unit:  the unit of a quantity, as the key's name says it (mm, m, deg, v, ma, mcd, cd, min, h, nm, k, lx, ...)
    low, high: the allowed interval, both included, for numbers
    choices: the allowed words
    target: the list of the plan that a reference points into (parts, lamps, states, ...)
    item:  the dataclass of a nested item
    least, most: how many entries a list may have
    """

    name: str
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    choices: tuple[str, ...] = ()
    target: str = ""
    item: type | None = None
    least: int = 0
    most: int = 100_000


def key(kind: Kind, doc: str, default: Any = MISSING) -> Any:
    """A field of a plan item: what it may hold, what it means, and what it is when left out."""
    metadata = {"kind": kind, "doc": doc}
    if default is MISSING:
        return dataclasses.field(metadata=metadata)
    return dataclasses.field(default=default, metadata=metadata)


def keys_of(item: type) -> tuple[dataclasses.Field[Any], ...]:
    """The fields of a plan item that the document may hold, in order."""
    return tuple(field for field in dataclasses.fields(item) if "kind" in field.metadata)


TEXT = Kind("text")
NAME = Kind("name")
NAMES = Kind("names")
FLAG = Kind("flag")
POINT = Kind("point", "mm", -100_000, 100_000)
POINTS = Kind("points", "mm", -100_000, 100_000, least=2)
OUTLINE = Kind("points", "mm", -100_000, 100_000, least=3)
COUNT = Kind("count", low=1, high=100_000)
SHARE = Kind("number", low=0, high=1)


def quantity(unit: str, low: float, high: float) -> Kind:
    """A quantity in the unit that its key's name ends in, between low and high."""
    return Kind("quantity", unit, low, high)


def choice(*words: str) -> Kind:
    """One word out of a few."""
    return Kind("choice", choices=words)


def ref(target: str) -> Kind:
    """The name of one entry of another list of the plan."""
    return Kind("ref", target=target)


def refs(target: str, least: int = 0) -> Kind:
    """Names of entries of another list of the plan, so many at least; one alone may stand without a list."""
    return Kind("refs", target=target, least=least)


def item(kind: type) -> Kind:
    """One nested item."""
    return Kind("item", item=kind)


def items(kind: type) -> Kind:
    """A list of nested items."""
    return Kind("items", item=kind)


LENGTH_MM = quantity("mm", 0, 10_000)
PLACE_MM = quantity("mm", -100_000, 100_000)
POSITIVE_MM = quantity("mm", 0.001, 100_000)
PIXEL = Kind("point", "px", 0, 1_000_000)
NOTE = "Anything worth remembering."
