"""Frozen values of the question 'what must this subject show?' and of its answer."""

from __future__ import annotations

from dataclasses import dataclass

FOR_MODELS = "This list is for lighting a model. Never use it to equip a real craft, vehicle, mast or mark."
"""First statement that goes with every answer."""

RULE_DECIDES = "The rule's own text decides; this is a short reading of it, and the law of the place may add to it."
"""Second statement that goes with every answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectRequest:
    """What is asked: a kind of subject in one state, with the facts that its rule may need; None is unknown.

    `kind`: ship, aircraft, road, rail, obstruction, sea mark, airfield. `propulsion`: power, sailing, oars, being
    towed, air cushion. `moving`: making way, not making way, at anchor (for states that depend on it).
    `side`: left or right (indicators). `region`: A or B for sea marks. `scheme`: ICAO or FAA for obstructions.
    """

    kind: str
    state: str
    length_m: float | None = None
    propulsion: str = "power"
    breadth_m: float | None = None
    tow_length_m: float | None = None
    speed_kn: float | None = None
    height_m: float | None = None
    moving: str = "making way"
    side: str = "left"
    region: str = "A"
    scheme: str = "ICAO"


@dataclass(frozen=True, slots=True)
class PlacementRule:
    """Where a lamp may sit: a quantity and its limits, computed for this subject where its size is known."""

    key: str
    quantity: str
    minimum: float | None
    maximum: float | None
    unit: str
    text: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RequiredLamp:
    """One kind of lamp that the rule names, `count` times at one kind of place.

    `light` is the key in the tables, `rule_key` adds the place where one light occurs at several. `colours` are all
    allowed ones, the usual first. Bearings run clockwise from ahead; None where the rule lays down no sector.
    """

    rule_key: str
    light: str
    name: str
    colour: str
    colours: tuple[str, ...]
    arc_deg: float | None
    bearing_from_deg: float | None
    bearing_to_deg: float | None
    where: str
    count: int
    requirement: str
    rhythm: str
    rhythm_choices: tuple[str, ...] = ()
    rate_min_per_min: float | None = None
    rate_max_per_min: float | None = None
    range_nmi: float | None = None
    intensity_cd: float | None = None
    placement: tuple[PlacementRule, ...] = ()
    note: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class SubjectLights:
    """The answer: every lamp of one state, notes, and the two statements that always go with it."""

    request: SubjectRequest
    state: str
    lamps: tuple[RequiredLamp, ...]
    notes: tuple[str, ...] = ()
    statements: tuple[str, str] = (FOR_MODELS, RULE_DECIDES)

    @property
    def sources(self) -> tuple[str, ...]:
        """Every rule used, once, in order."""
        return tuple(dict.fromkeys(lamp.source for lamp in self.lamps))


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownLamp:
    """One lamp of a model as the check needs it: bearings clockwise from ahead, None where unknown."""

    name: str
    colour: str
    rule_key: str | None = None
    arc_from_deg: float | None = None
    arc_to_deg: float | None = None
    states: tuple[str, ...] = ()
    count: int = 1


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between what a rule asks and what a model shows.

    `kind`: missing, extra, wrong colour or wrong arc. `lamp` is the model's lamp, or empty when it is missing.
    """

    kind: str
    rule_key: str
    lamp: str
    expected: str
    found: str
    rule: str
