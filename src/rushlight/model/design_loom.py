"""What the design says of circuits and the loom: LEDs, fibres, bundles, leads, splices, plugs. Frozen values only."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rushlight.model.place import Bend, Leg, Point, Spot
from rushlight.model.plan import Strip
from rushlight.units import Range

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

    `strip_points_mm` is where a strip's LEDs lie along its line; `segments` how many cut lengths it has; `run` where
    and how it runs, `windows` the opening of each of its lamps.
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
    run: Strip | None = None
    windows: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class LedString:
    """Single LEDs of one circuit in series, from the one that its plus feeds to the one that leads to the return.

    The first has the string's one resistor in its plus lead.
    """

    name: str
    circuit: str
    emitters: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """One fibre from its illuminator to its lamp. `ring` counts from 0 at the bundle's centre; `tip` is that end.

    `offset_mm` is how far from the LED's axis it lies in the bundle as tied by hand.
    """

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
    offset_mm: Range
    tip: str = "polished"


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

    `net` is plus, return, or link: from the minus of one LED of a string to the plus of the next. `circuit` is None
    for the shared return alone.
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
    """lead, branch, trunk or link"""


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
    strings: tuple[LedString, ...] = ()

    def string_of(self, emitter: str) -> LedString | None:
        """The string that an LED stands in; None if it has plus and return of its own."""
        return self._string_of.get(emitter)

    def beyond(self, emitter: str) -> bool:
        """Whether an LED takes the current of one before it in a string: it has no resistor and no feed of its own."""
        string = self.string_of(emitter)
        return string is not None and string.emitters[0] != emitter

    def emitter(self, name: str) -> Emitter:
        """The emitter of that name."""
        return self._emitter_of[name]

    def has_emitter(self, name: str) -> bool:
        """Whether an emitter has that name."""
        return name in self._emitter_of

    def lead(self, name: str) -> Lead | None:
        """The lead of that name; None where there is none."""
        return self._lead_of.get(name)

    @property
    def tubes(self) -> tuple[tuple[str, Sleeve], ...]:
        """Pieces of tube with what they sit on: splices first, as they are soldered first, then bundles."""
        over_splices = tuple((splice.name, splice.sleeve) for splice in self.splices)
        return over_splices + tuple((bundle.name, sleeve) for bundle in self.bundles for sleeve in bundle.sleeves)

    @cached_property
    def _string_of(self) -> dict[str, LedString]:
        return {name: row for row in self.strings for name in row.emitters}

    @cached_property
    def _emitter_of(self) -> dict[str, Emitter]:
        return {row.name: row for row in self.emitters[::-1]}

    @cached_property
    def _lead_of(self) -> dict[str, Lead]:
        return {row.name: row for row in self.leads[::-1]}
