"""Which single reading at the bench would narrow the answer most: each guess in turn is taken as known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight, Leak
from rushlight.model.drawer import Drawer
from rushlight.optics.fibre import joint_factor
from rushlight.stages.leaks import leaks_of
from rushlight.stages.light import lamp_lights
from rushlight.stages.order import Build
from rushlight.stages.parts_law import joint_of
from rushlight.stages.strays import strays_of
from rushlight.tables import rows
from rushlight.units import Range

JOINT = ("practice", "fibre_joint", "value")
"""The one guess that is no row of the drawer: it goes under `practice`, as `value` and `to`."""

METHODS = {
    "leds": "LED luminous", "strips": "LED luminous", "diffusers": "diffuser", "walls": "wall", "coats": "wall",
    "reflectance": "cavity", "practice": "LED-to-bundle",
}
"""How the bench method of a table's (or a column's) values begins in uncertain_inputs.csv."""

WIDEST = 1e-6
"""A range that begins at nothing counts from this share of its upper end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One guess, and what knowing it would do.

    `table`, `row` and `column` say where the reading goes: an own value of the plan's `drawer`, or a number under its
    `practice`.
    `stops` is by how much it narrows the answers that it touches, all in all (a stop is a factor of 2); `undecided` how
    many of them are undecided today, so that a finding hangs on them; `most` the answer that it narrows most.
    """

    table: str
    row: str
    column: str
    measure: str
    stops: float
    touched: int
    undecided: int
    most: str
    before: Range
    after: Range


@dataclass(frozen=True, slots=True)
class _Answer:
    """A number that findings are about; `lamps` is how many lamps it stands for."""

    value: Range
    undecided: bool
    lamps: int = 1


def readings_of(design: Design) -> tuple[Reading, ...]:
    """Every guess about light that this design hangs on, the one worth measuring first in front.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of Reading
        Those that narrow something. Answers are the intensity of each lamp or row (against what is wanted) and the
        stray light of each part (against what is allowed). Only undecided answers count, if there are any: a range that
        lies on one side of its limits gives the same finding whatever is measured.
    Source
    ------
    One at a time, each range exchanged for its middle and the light worked out anew; nothing is linearised.
    """
    build = _thinned(design)
    even = design.drawer.habit("equal").high or 1.5
    counts = _counts(design)
    now = _answers(build, design, even, counts)
    deciding = any(answer.undecided for answer in now.values())
    found = []
    for place in _guesses(build):
        then = _answers(replace(build, drawer=_known(build.drawer, place)), design, even, counts)
        reading = _reading(place, now, then, deciding)
        if reading is not None:
            found.append(reading)
    return tuple(sorted(found, key=lambda row: -row.stops))


def _thinned(design: Design) -> Build:
    """The design with one lamp of each row on each emitter: its sisters hang on the same guesses.

    Lamps that shine inward all stay: their light adds up inside.
    """
    group = {lamp.name: lamp.name if lamp.facing == "inward" else lamp.group for lamp in design.lamps}
    seen: set[tuple[str, str]] = set()
    emitters = []
    for emitter in design.loom.emitters:
        kept = []
        for lamp in emitter.lamps:
            key = (group[lamp], emitter.part_row)
            if key not in seen:
                seen.add(key)
                kept.append(lamp)
        emitters.append(replace(emitter, lamps=tuple(kept)))
    loom = replace(design.loom, emitters=tuple(emitters))
    return Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, loom, design.power)


def _counts(design: Design) -> dict[str, int]:
    counts: dict[str, int] = {}
    for lamp in design.lamps:
        counts[lamp.group] = counts.get(lamp.group, 0) + 1
    return counts


def _answers(build: Build, design: Design, even: float, counts: dict[str, int]) -> dict[str, _Answer]:
    strongest: dict[str, LampLight] = {}
    lights = lamp_lights(build, design.aims)
    for light in lights:
        best = strongest.get(light.lamp)
        if best is None or light.intensity_cd.typical > best.intensity_cd.typical:
            strongest[light.lamp] = light
    made = {}
    for name, light in strongest.items():
        group = design.lamp(name).group
        wanted = light.wanted_cd
        made[group] = _Answer(light.intensity_cd, _crosses(light.intensity_cd, (wanted / even, wanted * even)),
                              counts[group])
    return made | {f"stray light of {leak.part}": _stray(leak) for leak in leaks_of(build, strays_of(build, lights))}


def _stray(leak: Leak) -> _Answer:
    return _Answer(leak.luminance_cd_m2, _crosses(leak.luminance_cd_m2, (leak.allowed_cd_m2,)))


def _crosses(value: Range, limits: Iterable[float]) -> bool:
    return any(value.low < limit < value.high for limit in limits)


def _guesses(build: Build) -> Iterator[tuple[str, str, str]]:
    """Ranges of the drawer that this build's light uses, each once."""
    drawer = build.drawer
    places: list[tuple[str, str, str]] = []
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            places.append(("strips", emitter.part_row, "flux_lm_per_m"))
        else:
            places.append(("leds", emitter.part_row, "intensity_mcd"))
    for part in build.plan.parts:
        sheets = {row.sheet for opening in part.openings for row in opening.diffusers}
        for sheet in sorted(sheets):
            places += [("diffusers", sheet, "transmittance"), ("diffusers", sheet, "reflectance")]
        places += [("walls", part.wall, "transmittance_1mm"), ("walls", part.wall, "reflectance")]
        places += [("coats", coat, column) for coat in part.coats for column in ("density", "reflectance")]
    for place in dict.fromkeys(places):
        value = getattr(_row(drawer, place), place[2])
        if value.low < value.high:
            yield place
    joint = joint_of(drawer) or joint_factor()
    if build.loom.tails and joint.low < joint.high:
        yield JOINT


def _row(drawer: Drawer, place: tuple[str, str, str]) -> Any:
    return next(row for row in getattr(drawer, place[0]) if row.name == place[1])


def _known(drawer: Drawer, place: tuple[str, str, str]) -> Drawer:
    """The drawer in which one guess is known to be its middle, as a reading would make it."""
    table, name, column = place
    if place == JOINT:
        middle = (joint_of(drawer) or joint_factor()).typical
        own = replace(drawer.habit(name), low=middle, high=middle, own=True)
        return replace(drawer, habits=tuple(own if row.name == name else row for row in drawer.habits))
    old = _row(drawer, place)
    known = replace(old, **{column: Range.exactly(getattr(old, column).typical)})
    changed: dict[str, Any] = {table: tuple(known if row.name == name else row for row in getattr(drawer, table))}
    return replace(drawer, **changed)


def _reading(
    place: tuple[str, str, str], now: dict[str, _Answer], then: dict[str, _Answer], deciding: bool
) -> Reading | None:
    gains = {key: _stops(answer.value) - _stops(then[key].value) for key, answer in now.items()}
    touched = {key: gain for key, gain in gains.items() if gain > 1e-6 and (now[key].undecided or not deciding)}
    if not touched:
        return None
    most = max(touched, key=lambda key: touched[key])
    table, row, column = place
    start = METHODS.get(column, METHODS[table])
    measure = next(entry["how_to_measure"] for entry in rows("uncertain_inputs") if entry["input"].startswith(start))
    return Reading(
        table=table, row=row, column=column, measure=measure,
        stops=sum(gain * now[key].lamps for key, gain in touched.items()),
        touched=sum(now[key].lamps for key in touched),
        undecided=sum(now[key].lamps for key in touched if now[key].undecided),
        most=most, before=now[most].value, after=then[most].value,
    )


def _stops(value: Range) -> float:
    if value.high <= 0.0:
        return 0.0
    return math.log2(value.high / max(value.low, WIDEST * value.high))
