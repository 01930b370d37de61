"""The design: everything that has to be built, worked out from plan and drawer. Frozen values only.

One dataclass for each stage's result, in the order in which stages run:
lamps -> sources -> aim -> circuits -> loom -> strings -> power -> light -> heat -> order -> shopping.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rushlight.model.design_light import Heat, Light
from rushlight.model.design_loom import Circuit, Loom
from rushlight.model.design_power import Power, SeriesTrade
from rushlight.model.drawer import Drawer
from rushlight.model.place import Spot
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
    tip: str = "polished"
    """How a fibre's end at the lamp is finished."""
    run: str | None = None
    """The strip that lamps of the plan share without an entry of its own under `strips`."""
    room: str | None = None
    """The space whose one LED is seen through this lamp's opening and others."""


# --- aim: flux and current before the loom is known ---------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """What a lamp should give, and the LED current meant to give it.

    `wanted_cd` is the axial intensity wanted; where it is looked at from beside its axis it shows `seen_share` of that.
    `current_a` is the current of its LED (of the LED that feeds its bundle, for a fibre). `floor`
    tells that the least sensible current gives more than wanted, `short` that the LED's most gives less.
    """

    lamp: str
    wanted_cd: float
    wanted_why: str
    current_a: float
    expected_cd: Range
    floor: bool
    short: bool
    seen_share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FibreClass:
    """Fibre lamps that may share an illuminator: same colour, states, rhythm; each with its own fibre and end.

    `capacity` tails go on one LED at the most, in a bundle that is `widest_mm` wide at the most as made by hand.
    `bundle` is the modeller's name for a bundle that is held together on one LED; empty where the design chose. `why`
    says in numbers why unlike lamps share an LED; empty where they are alike.
    """

    name: str
    lamps: tuple[str, ...]
    fibres_mm: tuple[float, ...]
    tips: tuple[str, ...]
    led: str
    capacity: int
    widest_mm: float
    current_a: float
    circuit: str
    bundle: str = ""
    why: str = ""


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

    first_loom: Loom | None = None
    """The loom with a lead for each LED, before any were put in series."""

    series: tuple[SeriesTrade, ...] = ()
    """Own resistors and strings in series side by side, for every group of like LEDs."""

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
