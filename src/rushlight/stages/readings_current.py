"""What knowing one cause of a current's spread leaves of the current, and so of light and power."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from rushlight.model.design_loom import Emitter, Loom
from rushlight.model.design_power import EmitterCurrent, Power
from rushlight.model.drawer import Drawer
from rushlight.stages.apart import SUPPLY
from rushlight.stages.parts_law import emitter_light_a, lit_range_a
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class Cut:
    """Shares of a cause's span that a reading takes off the end of most current, and off that of least [-]."""

    most: float
    least: float


def cut_of(now: Range, left: Range, *, high_takes_most: bool) -> Cut:
    """What a reading takes off a range; nothing of one that is known already."""
    span = now.high - now.low
    if span <= 0.0:
        return Cut(0.0, 0.0)
    low, high = max(left.low - now.low, 0.0) / span, max(now.high - left.high, 0.0) / span
    return Cut(high, low) if high_takes_most else Cut(low, high)


def with_cause_read(drawer: Drawer, loom: Loom, power: Power, cause: str, cuts: Mapping[str, Cut]) -> Power:
    """The same currents with what is left of them once a cause of their spread was read to come out as believed.

    Parameters
    ----------
    drawer, loom : Drawer, Loom
        Laws of the LEDs' light, and emitters.
    power : Power
        Solved with every cause at both ends.
    cause : str
        One of `apart.CAUSES`.
    cuts : mapping of str to Cut
        What the reading takes off, by emitter; the others stay.
    Returns
    -------
    Power
        Ends of the current, and of light and power with it, drawn in, and what the cause alone does.
    Notes
    -----
    The cause alone makes the current A times as much at one end as at the other (`EmitterCurrent.apart`); a part s of
    its span makes it A^s times as much. What the others do stays.
    Source
    ------
    `stages.apart` for A; straight in the logarithm in between, compared with a whole solve in tests.
    """
    def drawn_in(row: EmitterCurrent) -> EmitterCurrent:
        if row.emitter not in cuts:
            return row
        return relit(drawer, loom.emitter(row.emitter), _narrowed(row, cause, cuts[row.emitter]))

    return replace(power, states=tuple(replace(state, lit=tuple(map(drawn_in, state.lit))) for state in power.states))


def with_supply_read(drawer: Drawer, loom: Loom, power: Power, cut: Cut) -> Power:
    """The same once the supply was read: all lamps hang on it alike."""
    cuts = {row.emitter: cut for state in power.states for row in state.lit}
    return with_cause_read(drawer, loom, power, SUPPLY, cuts)


def with_light_read(drawer: Drawer, loom: Loom, power: Power, led: str) -> Power:
    """The same currents, with the light of an LED as a drawer that holds its reading has it."""
    own = {one.name: one for one in loom.emitters if one.kind != "strip" and one.part_row == led}
    return replace(power, states=tuple(
        replace(state, lit=tuple(relit(drawer, own[row.emitter], row) if row.emitter in own else row
                                 for row in state.lit)) for state in power.states))


def relit(drawer: Drawer, emitter: Emitter, row: EmitterCurrent) -> EmitterCurrent:
    """A current with the light that a drawer's law makes of it."""
    return replace(row, lit_a=lit_range_a(drawer, emitter, row.current_a),
                   lit_typical_a=emitter_light_a(drawer, emitter, row.current_a.typical))


def _narrowed(row: EmitterCurrent, cause: str, cut: Cut) -> EmitterCurrent:
    times = dict(row.apart).get(cause, 1.0)
    less, more = times**-cut.most, times**cut.least

    def drawn_in(value: Range) -> Range:
        return Range(min(value.low * more, value.typical), value.typical, max(value.high * less, value.typical))

    apart = tuple((name, each ** max(1.0 - cut.most - cut.least, 0.0) if name == cause else each)
                  for name, each in row.apart)
    return replace(row, current_a=drawn_in(row.current_a), power_w=drawn_in(row.power_w), apart=apart)
