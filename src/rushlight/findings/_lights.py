"""What findings about light share: the light of each lamp in its dimmest or brightest state, its emitter, its "
"rhythm."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable

from rushlight.errors import OutOfRange, UnknownName
from rushlight.findings._words import likely_ends, plain
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.stages.parts_law import emitter_current_a, emitter_light_a
from rushlight.timing.character import parse_rhythm
from rushlight.timing.rhythm import Rhythm
from rushlight.units import Range


def emitters_of(design: Design) -> dict[str, Emitter]:
    """The emitter of each lamp that has one."""
    return {lamp: emitter for emitter in design.loom.emitters for lamp in emitter.lamps}


def brightest(design: Design) -> dict[str, LampLight]:
    """Each lamp in the state in which it is brightest."""
    best: dict[str, LampLight] = {}
    for light in design.light.lamps:
        if light.lamp not in best or light.intensity_cd.typical > best[light.lamp].intensity_cd.typical:
            best[light.lamp] = light
    return best


def dimmest_of_groups(design: Design) -> dict[str, LampLight]:
    """The dimmest lamp, measured by what it should give, of each lamp, row or strip, in its brightest state."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    least: dict[str, LampLight] = {}
    for name, light in brightest(design).items():
        group = group_of[name]
        if group not in least or _reached(light) < _reached(least[group]):
            least[group] = light
    return least


def brightest_of_groups(design: Design) -> dict[str, LampLight]:
    """The lamp of each lamp, row or strip that gives most, measured by what it should give."""
    group_of = {lamp.name: lamp.group for lamp in design.lamps}
    most: dict[str, LampLight] = {}
    for name, light in brightest(design).items():
        group = group_of[name]
        if group not in most or _reached(light) > _reached(most[group]):
            most[group] = light
    return most


def _reached(light: LampLight) -> float:
    return light.intensity_cd.typical / light.wanted_cd if light.wanted_cd > 0 else 1.0


def currents_a(design: Design) -> dict[str, float]:
    """Largest typical current of each emitter over all states."""
    most: dict[str, float] = {}
    for state in design.power.states:
        for row in state.lit:
            most[row.emitter] = max(most.get(row.emitter, 0.0), row.current_a.typical)
    return most


def heaps(lights: Iterable[LampLight], key: Callable[[LampLight], Hashable]) -> tuple[list[LampLight], ...]:
    """Lights that are alike in something, together: one finding tells of them all."""
    made: dict[Hashable, list[LampLight]] = {}
    for light in lights:
        made.setdefault(key(light), []).append(light)
    return tuple(made.values())


def current_a(design: Design, emitter: str) -> float:
    """Largest typical current of an emitter over all states; 0 if it is never lit."""
    return currents_a(design).get(emitter, 0.0)


def current_for_a(design: Design, emitter: Emitter, times: float) -> float:
    """The current that makes an emitter so many times as bright as its largest typical current does [A]."""
    lit_a = emitter_light_a(design.drawer, emitter, current_a(design, emitter.name)).typical
    return emitter_current_a(design.drawer, emitter, lit_a * times)


def times_current(design: Design, lamp: str, times: float) -> float:
    """How many times its current makes a lamp so many times as bright [-]; as many where nothing lights it."""
    emitter = emitters_of(design).get(lamp)
    now_a = current_a(design, emitter.name) if emitter else 0.0
    return current_for_a(design, emitter, times) / now_a if emitter and now_a > 0 else times


def rhythm_of(text: str) -> Rhythm | None:
    """The rhythm of a plan's words, or None where it cannot be read."""
    try:
        return parse_rhythm(text)
    except (OutOfRange, UnknownName):
        return None


def rhythm_groups(design: Design) -> dict[str, list[str]]:
    """Lamps, rows and strips by the text of their rhythm; steady ones left out."""
    groups: dict[str, list[str]] = {}
    for lamp in design.lamps:
        if lamp.states and lamp.rhythm != "steady":
            own = groups.setdefault(lamp.rhythm, [])
            if lamp.group not in own:
                own.append(lamp.group)
    return groups


def mcd(intensity_cd: float) -> str:
    """An intensity as the user reads it."""
    return f"{plain(intensity_cd)} cd" if intensity_cd >= 9.95 else f"{plain(1000 * intensity_cd)} mcd"


def from_where(light: LampLight) -> str:
    """Where an intensity is counted that is not the one along the axis."""
    return "" if light.seen_share == 1.0 else " towards where it is looked at from, beside its axis"


def mcd_ends(likely: Range, outer: Range) -> str:
    """An intensity's likely range with the outer one."""
    return likely_ends(likely, outer, mcd)
