"""Plans bent at random by their own schema: every key may get any value that its kind allows, its ends among them."""

from __future__ import annotations

import dataclasses
import math
import random
from typing import Any

from rushlight.errors import DocumentProblem
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.model.schema import Kind, keys_of

RHYTHMS = ("steady", "flicker", "F", "Fl W 5s", "Fl(2) R 10s", "Iso G 4s", "Oc 6s", "Q(9) 15s", "Mo(A) 8s", "VQ", "LFl 10s")
COLOURS = ("white", "warm white", "red", "green", "blue", "yellow", "amber", "cyan", "525 nm", "2700 K", "10000 K")
WORDS = ("", "a", "Tail 1", "x" * 200, "<b>&amp;</b>", "=1+1", "nöst", "#", "'", "close", "gate 1")


def bent(plan: Plan, drawer: Drawer, seed: int, bends: int) -> tuple[Plan, int]:
    """The plan with so many random changes that its reader takes, and how many it refused on the way."""
    chance, refused = random.Random(seed), 0
    while bends > 0:
        changed = _bend(plan, plan, drawer, chance)
        try:
            plan = parse_plan(dump_plan(changed), "plan.yaml", drawer)
            bends -= 1
        except DocumentProblem:
            refused += 1
    return plan, refused


def _bend(item: Any, plan: Plan, drawer: Drawer, chance: random.Random) -> Any:
    """One change somewhere at or below an item."""
    fields = [field for field in keys_of(type(item)) if field.name != "rushlight"]
    deep = [field for field in fields if field.metadata["kind"].item and getattr(item, field.name)]
    if deep and chance.random() < 0.8:
        field = chance.choice(deep)
        return dataclasses.replace(item, **{field.name: _bent_inside(getattr(item, field.name), plan, drawer, chance)})
    field = chance.choice(fields)
    return dataclasses.replace(item, **{field.name: _any_value(field, plan, drawer, chance)})


def _bent_inside(value: Any, plan: Plan, drawer: Drawer, chance: random.Random) -> Any:
    if not isinstance(value, tuple):
        return _bend(value, plan, drawer, chance)
    at = chance.randrange(len(value))
    how = chance.random()
    if how < 0.08:
        return value[:at] + value[at + 1:]
    if how < 0.16:
        twin = value[at]
        if any(field.name == "name" for field in dataclasses.fields(twin)):
            twin = dataclasses.replace(twin, name=f"{twin.name} again")
        return (*value, twin)
    return (*value[:at], _bend(value[at], plan, drawer, chance), *value[at + 1:])


def _any_value(field: Any, plan: Plan, drawer: Drawer, chance: random.Random) -> Any:
    kind: Kind = field.metadata["kind"]
    if field.default is not dataclasses.MISSING and chance.random() < 0.2:
        return field.default
    return _of_kind(kind, plan, drawer, chance)


def _of_kind(kind: Kind, plan: Plan, drawer: Drawer, chance: random.Random) -> Any:
    makers = {
        "text": lambda: chance.choice(WORDS), "name": lambda: chance.choice(WORDS[1:3]),
        "names": lambda: (chance.choice(WORDS[1:3]),),
        "flag": lambda: chance.random() < 0.5, "choice": lambda: chance.choice(kind.choices),
        "colour": lambda: chance.choice(COLOURS), "rhythm": lambda: chance.choice(RHYTHMS),
        "quantity": lambda: _number(kind, chance), "number": lambda: _number(kind, chance),
        "ratio": lambda: _number(kind, chance), "any_number": lambda: _number(kind, chance),
        "count": lambda: int(_number(dataclasses.replace(kind, high=min(kind.high, 60)), chance)),
        "count_range": lambda: tuple(sorted(chance.randrange(0, 9) for _ in range(2))),
        "point": lambda: _point(chance), "points": lambda: tuple(_point(chance) for _ in range(chance.randint(2, 6))),
        "point_lists": lambda: tuple(tuple(_point(chance) for _ in range(2)) for _ in range(chance.randint(0, 3))),
        "rect": lambda: (*_point(chance), chance.choice((0.1, 5.0, 60.0)), chance.choice((0.1, 5.0, 60.0))),
        "numbers": lambda: tuple(_number(kind, chance) for _ in range(max(kind.least, 1))),
        "pair": lambda: (_number(kind, chance), _number(kind, chance)),
        "ref": lambda: chance.choice(_names(kind.target, plan, drawer)),
        "refs": lambda: tuple(chance.sample(names := _names(kind.target, plan, drawer), min(len(names), 2))),
        "file": lambda: "none.png",
        "item": lambda: _new(kind.item, plan, drawer, chance),
        "items": lambda: tuple(_new(kind.item, plan, drawer, chance) for _ in range(chance.randint(0, 2))),
    }
    return makers[kind.name]()


def _new(kind: Any, plan: Plan, drawer: Drawer, chance: random.Random) -> Any:
    """A new entry: what must be given, and a few keys besides."""
    fields = keys_of(kind)
    needed = [field for field in fields if field.default is dataclasses.MISSING]
    others = [field for field in fields if field not in needed and chance.random() < 0.3]
    return kind(**{field.name: _of_kind(field.metadata["kind"], plan, drawer, chance) for field in (*needed, *others)})


def _number(kind: Kind, chance: random.Random) -> float:
    low, high = max(kind.low, -1e6), min(kind.high, 1e6)
    how = chance.random()
    if how < 0.2:
        return float(low)
    if how < 0.4:
        return float(high)
    if low >= 0:
        least = max(low, 1e-3)
        return float(round(math.exp(chance.uniform(math.log(least), math.log(max(high, least)))), 3))
    return float(round(chance.uniform(max(low, -300), min(high, 300)), 2))


def _point(chance: random.Random) -> tuple[float, float]:
    reach = chance.choice((60.0, 200.0, 200.0, 1000.0))
    return round(chance.uniform(-0.1 * reach, reach), 1), round(chance.uniform(-0.1 * reach, reach), 1)


def _names(target: str, plan: Plan, drawer: Drawer) -> list[str]:
    """Names that a reference may hold; one that is nowhere if there are none."""
    if target.startswith("drawer."):
        return [row.name for row in getattr(drawer, target.removeprefix("drawer."))]
    if target == "bays":
        return [bay.name for part in plan.parts for bay in part.bays] or ["none"]
    return [row.name for row in getattr(plan, target)] or ["none"]
