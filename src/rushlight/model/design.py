"""The design: everything that has to be built, worked out from plan and drawer. Frozen values only.

One dataclass for each stage's result, in the order in which stages run:
lamps -> sources -> aim -> circuits -> loom -> power -> light -> heat -> order -> shopping.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rushlight.model.drawer import Drawer
from rushlight.model.place import Bend, Leg, Point, Spot
from rushlight.model.plan import Plan
from rushlight.units import Range

# --- lamps: placed and sized at scale -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Colour:
    """A colour as seen: chromaticity, and what the plan called it."""

    name: str
    x: float
    y: float
    dominant_nm: float | None
    cct_k: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLamp:
    """One lamp of the chosen version, rows and strips spelled out.

    `group` is the row or strip it came from, or its own name; `made_of` the plan's list: lamps, rows or strips.
    `model_mm` is its wanted diameter on the model; `spot` is None while the plan has not placed it.
    `dark` marks a lamp of a row that is drilled but stays dark (a cabin that nobody lit).
    """

    name: str
    group: str
    made_of: str
    spot: Spot | None
    facing: str
    colour: Colour
    rule: str | None
    arc_deg: tuple[float, float] | None
    subject_mm: float | None
    model_mm: float | None
    seen_as: str
    visual_angle_arcmin: float | None
    states: tuple[str, ...]
    rhythm: str
    worth: str
    dark: bool
    opening: str | None
    count: tuple[int, int] | None


# --- sources: what makes each lamp's light ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """What makes one lamp's light, and why. `kind` is led, fibre, strip or room.

    `hole_mm` is what to drill (None for an opening), `drill` its name in the drawer, `seen_mm` the diameter that the
    eye will see, `seen_subject_mm` the same carried to the subject.
    """

    lamp: str
    kind: str
    led: str
    fibre_mm: float | None
    strip: str | None
    hole_mm: float | None
    drill: str | None
    seen_mm: float
    seen_subject_mm: float
    why: str
    insisted: bool


# --- aim: flux and current before the loom is known ---------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """What a lamp should give, and the LED current meant to give it.

    `wanted_cd` is the axial intensity wanted; `current_a` the current of its LED (of the LED that feeds its bundle,
    for a fibre). `floor` tells that the least sensible current gives more than wanted, `short` that the LED's most
    gives less.
    """

    lamp: str
    wanted_cd: float
    wanted_why: str
    current_a: float
    expected_cd: Range
    floor: bool
    short: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FibreClass:
    """Fibre lamps that may share an illuminator: same colour, fibre, states, rhythm; `capacity` tails fit one LED."""

    name: str
    lamps: tuple[str, ...]
    fibre_mm: float
    led: str
    capacity: int
    current_a: float
    circuit: str


# --- circuits: what always switches and flashes together -----------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """Lamps that always switch and flash together."""

    name: str
    states: tuple[str, ...]
    rhythm: str
    lamps: tuple[str, ...]


# --- loom ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Emitter:
    """One LED, or one run of strip, that is wired: kind is led, room, illuminator or strip.

    `strip_points_mm` is where a strip's LEDs lie along its line; `segments` how many cut lengths it has.
    """

    name: str
    kind: str
    part_row: str
    spot: Spot
    circuit: str
    lamps: tuple[str, ...]
    aim_current_a: float
    segments: int = 0
    strip_points_mm: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """One fibre from its illuminator to its lamp. `ring` counts from 0 at the bundle's centre."""

    name: str
    lamp: str
    emitter: str
    fibre_mm: float
    legs: tuple[Leg, ...]
    crossings: tuple[str, ...]
    length_mm: float
    slack_mm: float
    cut_mm: float
    bends: tuple[Bend, ...]
    least_bend_mm: float | None
    ring: int
    offset_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sleeve:
    """One piece of tube: where it goes, which tube, how long to cut it, on what diameter it grips."""

    name: str
    where: str
    tube: str
    cut_mm: float
    grips_mm: float


def tube_name(over: str, sleeve: Sleeve) -> str:
    """What a piece of tube is called in the log: 'tube SA1', 'tube bundle I1 tip'."""
    return f"tube {over}" if sleeve.where == over else f"tube {over} {sleeve.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """Fibres held together on one LED, in section."""

    name: str
    emitter: str
    tails: tuple[str, ...]
    fibre_mm: tuple[float, ...]
    centres_mm: tuple[Point, ...]
    ideal_mm: float
    hand_made_mm: Range
    lower_bound_mm: float
    status: str
    led_face_mm: float
    sleeves: tuple[Sleeve, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """One wire with its two ends; an end is the name of an emitter, splice, plug side or bay.

    `net` is plus or return; `circuit` is set for plus, None for the shared return.
    """

    name: str
    net: str
    circuit: str | None
    start: str
    end: str
    wire: str
    colour: str
    legs: tuple[Leg, ...]
    crossings: tuple[str, ...]
    length_mm: float
    slack_mm: float
    cut_mm: float
    role: str
    """lead, branch or trunk"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Splice:
    """A soldered and sleeved joint of a few leads."""

    name: str
    net: str
    circuit: str | None
    spot: Spot
    leads: tuple[str, ...]
    sleeve: Sleeve
    stagger_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """A plug on a crossing that comes apart, or that serves a removable part."""

    name: str
    crossing: str
    connector: str
    leads: tuple[str, ...]
    contacts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unrouted:
    """Something that could not be routed, and why."""

    item: str
    part: str
    why: str


@dataclass(frozen=True, kw_only=True)  # no slots: a look-up by name is made once and kept
class Loom:
    """Emitters, fibres and wires as they lie."""

    emitters: tuple[Emitter, ...]
    tails: tuple[Tail, ...]
    bundles: tuple[Bundle, ...]
    leads: tuple[Lead, ...]
    splices: tuple[Splice, ...]
    plugs: tuple[Plug, ...]
    unrouted: tuple[Unrouted, ...]
    anchors: tuple[Spot, ...]

    def emitter(self, name: str) -> Emitter:
        """The emitter of that name."""
        return self._emitter_of[name]

    @property
    def tubes(self) -> tuple[tuple[str, Sleeve], ...]:
        """Pieces of tube with what they sit on: splices first, as they are soldered first, then bundles."""
        over_splices = tuple((splice.name, splice.sleeve) for splice in self.splices)
        return over_splices + tuple((bundle.name, sleeve) for bundle in self.bundles for sleeve in bundle.sleeves)

    @cached_property
    def _emitter_of(self) -> dict[str, Emitter]:
        return {row.name: row for row in self.emitters[::-1]}


# --- power ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistor:
    """The series resistor of one emitter. `exact_ohm` is what the aim asks for, `value_ohm` what is sold."""

    emitter: str
    exact_ohm: float
    value_ohm: float
    series: str
    size: str
    rating_w: float
    dissipated_w: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EmitterCurrent:
    """Current of one emitter in one state: low, typical, high over LED spread; on the fresh and the flat supply.

    `bench_a` is what a meter may show with a supply between fresh and nominal, over the same spread. All are currents
    while lit; `on_share` is the share of time that its rhythm lights it.
    """

    emitter: str
    current_a: Range
    fresh_a: float
    flat_a: float
    bench_a: Range
    terminal_v: float
    on_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StatePower:
    """One state solved whole: what is lit, what leaks where nothing should be lit, what the supply gives."""

    state: str
    position: int
    lit: tuple[EmitterCurrent, ...]
    dark_most_a: float
    supply_v: float
    supply_a: Range
    bench_a: Range
    mean_a: float
    power_w: float
    run_time_h: Range
    node_v: tuple[tuple[str, float], ...]
    lit_wrongly: tuple[str, ...]
    dark_wrongly: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SolderPoint:
    """What to solder to one terminal of the switch."""

    terminal: str
    to: str
    through: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPlan:
    """The switch that brings up the states. `positions` holds the state of each position (off included).

    `parts` are the rows of the drawer to buy, one name a piece, the master switch included.
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
    faults: tuple[str, ...]
    """Why the network has no solution or should not be switched on, in words; empty when all is well."""

    def resistor(self, emitter: str) -> Resistor | None:
        """The resistor of that emitter, if it has one of its own."""
        return self._resistor_of.get(emitter)

    @cached_property
    def _resistor_of(self) -> dict[str, Resistor]:
        return {row.emitter: row for row in self.resistors[::-1]}


# --- light ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One named loss on the way of the light, in decibel."""

    name: str
    loss_db: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LampLight:
    """What one lamp will give."""

    lamp: str
    state: str
    flux_lm: Range
    intensity_cd: Range
    luminance_cd_m2: Range
    effective_cd: float
    wanted_cd: float
    losses: tuple[Loss, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLight:
    """How equal the lamps of one row look: brightest over dimmest, and which they are."""

    group: str
    brightest: str
    dimmest: str
    ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLight:
    """A strip behind one opening."""

    lamp: str
    strip: str
    opening: str
    pitch_mm: float
    gap_mm: float
    contrast: float
    band: str
    needed_gap_mm: float
    luminance_cd_m2: Range
    cycles_per_deg: float
    profile: tuple[tuple[float, float], ...]
    """Place along the opening in mm, luminance relative to its mean."""
    shadows: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """What a floodlight does on the ground."""

    lamp: str
    height_mm: float
    tilt_deg: float
    centre_lx: Range
    half_radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak:
    """Stray light through one part's wall in one state."""

    part: str
    state: str
    inside_lx: Range
    transmittance: Range
    luminance_cd_m2: Range
    allowed_cd_m2: float
    coats_needed: int
    coat: str
    brightest_near: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """All that the eye will see."""

    lamps: tuple[LampLight, ...]
    rows: tuple[RowLight, ...]
    strips: tuple[StripLight, ...]
    pools: tuple[Pool, ...]
    leaks: tuple[Leak, ...]


# --- heat ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceHeat:
    """One closed space in its hottest state."""

    space: str
    state: str
    power_w: float
    room_c: float
    air_rise_k: Range
    wall_c: Range
    advise_c: float
    stop_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LedHeat:
    """One emitter's junction, and the wall under a strip."""

    emitter: str
    state: str
    junction_c: Range
    junction_limit_c: float
    wall_under_c: Range | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """How warm it gets."""

    spaces: tuple[SpaceHeat, ...]
    leds: tuple[LedHeat, ...]


# --- order ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class PredictedReading:
    """What a gate's meter should show: the dial, where the probes go, and the interval."""

    name: str
    dial: str
    red_probe: str
    black_probe: str
    state: str | None
    reading: Range
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the work, in order. `gate` tells a test; `undo` whether it can be undone."""

    number: int
    key: str
    title: str
    kind: str
    part: str | None
    items: tuple[str, ...]
    details: tuple[str, ...]
    after: tuple[int, ...]
    undo: str
    wait_h: float
    sitting: int
    cautions: tuple[str, ...]
    readings: tuple[PredictedReading, ...]
    after_close: str | None
    photograph: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """All steps, in order, grouped in sittings that end where glue or paint must dry."""

    steps: tuple[Step, ...]
    sittings: int
    wait_h: float


# --- shopping ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingLine:
    """One thing to buy: what is needed, spares, the packs it is sold in, a rough cost."""

    group: str
    name: str
    needed: float
    spare: float
    unit: str
    pack: float
    packs: int
    cost_eur: Range
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """What to buy."""

    lines: tuple[ShoppingLine, ...]
    total_eur: Range


# --- the whole ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """A value that the design assumed, how much the answer hangs on it, and how to measure it."""

    what: str
    value: str
    effect: str
    measure: str
    source: str


@dataclass(frozen=True, kw_only=True)
class Design:
    """Everything, immutable."""

    plan: Plan
    drawer: Drawer
    lamps: tuple[PlacedLamp, ...]
    sources: tuple[Source, ...]
    aims: tuple[Aim, ...]
    fibre_classes: tuple[FibreClass, ...]
    circuits: tuple[Circuit, ...]
    loom: Loom
    power: Power
    light: Light
    heat: Heat
    order: Order
    shopping: Shopping
    assumptions: tuple[Assumption, ...]
    first_sources: tuple[Source, ...] = ()
    """The sources before the aim settled the LED of each fibre."""

    def lamp(self, name: str) -> PlacedLamp:
        """The lamp of that name."""
        return self._lamp_of[name]

    def source(self, lamp: str) -> Source:
        """What makes that lamp."""
        return self._source_of[lamp]

    @cached_property
    def _lamp_of(self) -> dict[str, PlacedLamp]:
        return {row.name: row for row in self.lamps[::-1]}

    @cached_property
    def _source_of(self) -> dict[str, Source]:
        return {row.lamp: row for row in self.sources[::-1]}
