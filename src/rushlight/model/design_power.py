"""What the design says of power: resistors, currents in every state, switch, supply. Frozen values only."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from rushlight.likely import Guesses, joined, ln_apart
from rushlight.model.design_evening import Evening
from rushlight.units import Range

# --- power ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistor:
    """The series resistor of one emitter. `exact_ohm` is what the aim asks for, `value_ohm` what is sold.

    `made_of_ohm` are the two at hand that stand in its place, in a row or side by side; empty where it is one.
    """

    emitter: str
    exact_ohm: float
    value_ohm: float
    series: str
    size: str
    rating_w: float
    dissipated_w: float
    made_of_ohm: tuple[float, ...] = ()
    side_by_side: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledAim:
    """The current that makes one emitter, once it is as warm as it gets, as bright as was wanted of it.

    `unwarmed_a` is what would do it were the LED as its data sheet has it, `aim_a` what does it at the junction of
    `junction_c`, where its light is `light_share` of the data sheet's at the same current; of all states the one that
    settles its resistor. `bound` is empty where the whole loss is made up for, else what keeps the current back:
    'rating' (of the LED, derated), 'junction' (its limit), 'held' (by the modeller), 'least' (it is brighter than
    wanted anyway), 'built in' (nothing can be set).
    """

    emitter: str
    unwarmed_a: float
    aim_a: float
    junction_c: float
    light_share: float
    bound: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Regulator:
    """The constant-current regulators in the plus lead of one emitter or string, `count` of them side by side.

    `current_a` is what they give with their spread; `most_v` the voltage across them and `dissipated_w` the heat of all
    at the worst, on the fresh supply; `rise_k` how much warmer than the air each one's junction then gets. `flat_share`
    of their own current and `flat_v` across them are left at the worst on the flat supply. `warm_share` is what warmth
    leaves of the stated current on the nominal supply once all has settled, `cold_share` in the first moment. Under
    `drop_out_v` it gives less than nine tenths of its current; `bench_v` is what a meter may show across it in each
    state that lights it, with a supply between fresh and nominal.
    `max_v`, `rating_w` and `max_junction_c` are what each one bears.
    """

    emitter: str
    part: str
    count: int
    current_a: Range
    most_v: float
    max_v: float
    dissipated_w: float
    rating_w: float
    rise_k: float
    max_junction_c: float
    flat_share: float
    flat_v: float
    warm_share: float
    cold_share: float
    drop_out_v: float
    bench_v: tuple[tuple[str, Range], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedTrade:
    """One way to set the current of like LEDs or strings: 'resistor', or 'regulator' (`count` of `part` side by side).

    For one LED or string alone on the supply: `current_a` on the nominal supply over the spread of LEDs and regulators;
    `fresh_a`, `flat_a` for typical ones; `supply_w` what it draws; `heat_w` the most that the resistor or the
    regulators turn to heat. `built`: it is what is planned.
    """

    circuit: str
    emitters: tuple[str, ...]
    in_series: int
    kind: str
    part: str
    count: int
    aim_a: float
    current_a: Range
    fresh_a: float
    flat_a: float
    supply_w: float
    heat_w: float
    built: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SeriesTrade:
    """One way to feed a group of like LEDs: at most `in_series` in a string (1: each by itself), by what it costs.

    `by` says what sets the current of each LED or string: 'resistor' or 'regulator', `resistors` how many. The loom
    is laid and solved whole for each, all other LEDs by themselves. `state` is the one that
    takes most of those that light the group; in it `supply_a` is what the group takes at the nominal supply, `mean_a`
    the whole state over its rhythms, `run_h` how long it runs (infinite where nothing runs down). On the flat supply
    `flat_share` is the dimmest LED's light over that of the aimed current and `match` the brightest over the dimmest,
    on the fresh one `fresh_share` the brightest one's; all three at the worst of LEDs and resistors. `left_v` is what
    LEDs of high voltage leave for it when the supply is flat, `wire_mm` all leads of the loom as cut, `dark_share`
    the most that one open joint darkens of any state's LEDs. `best`: it is what the rule takes; `built`: it is what is
    planned; `offered`: it would pay, but for a risk that the modeller may take; `why` it is taken or not.
    """

    circuit: str
    part: str
    emitters: tuple[str, ...]
    in_series: int
    by: str
    resistors: int
    state: str
    supply_a: float
    mean_a: float
    run_h: float
    flat_share: float
    fresh_share: float
    match: float
    left_v: float
    wire_mm: float
    dark_share: float
    best: bool
    built: bool
    offered: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EmitterCurrent:
    """Current of one emitter in one state: low, typical, high over LED spread; on the fresh and the flat supply.

    `flat_spread_a` is the spread on the flat supply. All are of LEDs as warm as they get on the nominal supply
    (`junction_c`: its low end an LED that takes least, well mounted, in the coolest air; its high end one that takes
    most, badly mounted, in the warmest; `light_share`: what its light then is over that of its data sheet at the same
    current; `lit_a`: the currents that would give their light if light went with current, `lit_typical_a` those of a
    typical current alone, at the first moment `lit_first_a`), but `first_a` and `first_share`, a typical one's
    in the first moment, in the room's air, and `bench_a`: what a meter may show with a supply between fresh and
    nominal, over the same spread, from the first moment on. All are currents while lit; `on_share` is the share of time
    that its rhythm lights it. `power_w` is the
    mean power over its rhythm between its terminals, with what sets its current, and `led_w` that in its diodes alone:
    from LEDs and a flat supply that give least to a fresh one that gives most. The spread is that of LEDs, resistors,
    contacts and the supply (an adapter's volts, a cell's resistance) together; `apart` says for each of them alone how
    many times the least current the most is.
    """

    emitter: str
    current_a: Range
    fresh_a: float
    flat_a: float
    flat_spread_a: Range
    bench_a: Range
    first_a: float
    first_share: float
    junction_c: Range
    light_share: Range
    lit_a: Range
    lit_typical_a: Range
    lit_first_a: float
    terminal_v: float
    on_share: float
    power_w: Range
    led_w: Range
    apart: tuple[tuple[str, float], ...] = ()

    @property
    def light_a(self) -> float:
        """The current at which a typical LED would give as much light if it stayed as cool as its data sheet has it and
        its light went with current [A]."""
        return self.lit_a.typical * self.light_share.typical

    @property
    def light_range(self) -> Range:
        """What the spread of the current and warmth may make of the light, over a typical LED's [-]."""
        typical = self.light_a
        return self.light_share.times(self.lit_a).times(1.0 / typical) if typical > 0 else Range.exactly(1.0)

    @property
    def light_guesses(self) -> Guesses:
        """What the light hangs on by this current: each cause of its spread by itself, warmth, and the LED's law."""
        causes = tuple((f"current: {cause}", math.log(times)) for cause, times in self.apart if times > 1.0)
        return joined(causes or (("current", ln_apart(self.current_a)),), (
            ("warmth", ln_apart(self.light_share)), ("light against current", ln_apart(self.lit_typical_a))))

    @property
    def first_times(self) -> float:
        """How many times as bright as settled a typical LED is in the first moment [-]; 1 for a dark one."""
        return self.lit_first_a * self.first_share / self.light_a if self.light_a > 0 else 1.0


OHM_AS_TOLD = Range.exactly(1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StatePower:
    """One state solved whole: what is lit, what leaks where nothing should be lit, what the supply gives.

    `feed_w` is the mean power, over the same range as a lamp's, of all that feeds the lamps: switch, steering diodes,
    drivers and board, fuse, leads, and what cells lose within themselves. `meter_w` is what volts times amperes where
    the feed enters come to, over the same spread: of cells fresh, else at the nominal
    voltage. `run_time_h` holds that spread and the supply's own; `run_at` says how many hours a usual supply bears
    so many times the usual current, from the least to the most that LEDs may make of it, `run_by_ohm` what the inner
    resistance of cells may make of the hours [-].
    """

    state: str
    position: int
    lit: tuple[EmitterCurrent, ...]
    dark_most_a: float
    supply_v: float
    supply_a: Range
    bench_a: Range
    mean_a: float
    power_w: float
    feed_w: Range
    meter_w: Range
    run_time_h: Range
    node_v: tuple[tuple[str, float], ...]
    lit_wrongly: tuple[str, ...]
    dark_wrongly: tuple[str, ...]
    run_at: tuple[tuple[float, float], ...] = ()
    run_by_ohm: Range = OHM_AS_TOLD


@dataclass(frozen=True, slots=True, kw_only=True)
class SolderPoint:
    """What to solder to one terminal of the switch."""

    terminal: str
    to: str
    through: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchShort:
    """Why no switch at hand brings up the states, and the nearest sets that one does.

    `at_hand` are the rows that were looked through. Without the states `states_out` the switch `by` brings up all
    others; `lamps_out` and `lamps_by` the same for lamps while every state stays. Both may be empty: there is none.
    """

    at_hand: tuple[str, ...]
    why: str
    states_out: tuple[str, ...]
    by: str
    lamps_out: tuple[str, ...]
    lamps_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StuckContact:
    """One contact of the switch that is welded closed, or never closes, and what that does.

    `shows` says what one would see; `lit` holds for each position its name and the circuits lit then; `wrong` says
    what must not be even then: lamps lit by a sneak path, current that passes the lamps by.
    """

    terminal: str
    pole: int
    welded: bool
    shows: str
    lit: tuple[tuple[str, tuple[str, ...]], ...]
    wrong: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelsOffer:
    """The controller that the plan has anyway could step the states: why it is worth a thought, and what it takes.

    `channels` circuits would each get a driver, `more` of them beyond those that its rhythms take; `pins` are named.
    """

    why: str
    channels: int
    more: int
    pins: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPlan:
    """The switch that brings up the states. `positions` holds the state of each position (off included).

    `parts` are the rows of the drawer that it takes, one name a piece, the master switch included; `mixed` are circuits
    that pass a steering diode in some of their states only; `short` is None
    unless the plan names switches at hand and none of them does it; `stuck` holds every contact in use, twice.
    `stepped_by` is 'button' or 'reed' where a controller's channels bring up the states, else empty; `offer` is None
    unless they could do it better than this switch.
    """

    name: str
    part_row: str | None
    poles: int
    throws: int
    positions: tuple[str, ...]
    solder: tuple[SolderPoint, ...]
    parts: tuple[str, ...]
    diodes: int
    proved: bool
    why: str
    mixed: tuple[str, ...] = ()
    short: SwitchShort | None = None
    stuck: tuple[StuckContact, ...] = ()
    stepped_by: str = ""
    offer: ChannelsOffer | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyPlan:
    """What feeds the loom: open-circuit voltage fresh and flat, inner resistance, what it can bear, if it fits."""

    name: str
    fresh_v: float
    nominal_v: float
    flat_v: float
    inner_ohm: float
    capacity_mah: float
    limit_a: float
    size_mm: tuple[float, float, float] | None
    bay: str | None
    fits_bay: bool | None
    fuse: str | None
    fuse_a: float | None
    short_a: float
    thinnest_wire_a: float


@dataclass(frozen=True, kw_only=True)
class Power:
    """The whole DC network solved in every state."""

    supply: SupplyPlan | None
    switch: SwitchPlan | None
    resistors: tuple[Resistor, ...]
    states: tuple[StatePower, ...]
    evening_h: Range | None
    """Hours of running of the described evening, again and again, until the supply is spent."""

    evening: Evening | None
    faults: tuple[str, ...]
    """Why the network has no solution or should not be switched on, in words; empty when all is well."""

    regulators: tuple[Regulator, ...] = ()
    """Constant-current regulators that stand in place of resistors."""

    feeds: tuple[FeedTrade, ...] = ()
    """A resistor and regulators side by side, for like LEDs or strings of each circuit."""

    aims: tuple[SettledAim, ...] = ()
    """What each wired emitter is to take once it is as warm as it gets."""

    def aimed_a(self, emitter: str, otherwise_a: float) -> float:
        """The current that an emitter is to take once settled [A]; another where nothing was worked out."""
        found = self._aim_of.get(emitter)
        return found.aim_a if found else otherwise_a

    @cached_property
    def _aim_of(self) -> dict[str, SettledAim]:
        return {row.emitter: row for row in self.aims}

    def regulator(self, emitter: str) -> Regulator | None:
        """The regulators of that emitter, if it has any."""
        return next((row for row in self.regulators if row.emitter == emitter), None)

    def resistor(self, emitter: str) -> Resistor | None:
        """The resistor of that emitter, if it has one of its own."""
        return self._resistor_of.get(emitter)

    @cached_property
    def _resistor_of(self) -> dict[str, Resistor]:
        return {row.emitter: row for row in self.resistors[::-1]}
