"""The drawer: components at hand or on sale. Frozen rows, each with its source.

The fields of a row are the columns of its table in data/, unit suffixes included; a Range is written in three columns
(`x_low`, `x`, `x_high`, the unit after the name: `intensity_low_mcd`, `intensity_mcd`, `intensity_high_mcd`).
"""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.units import Range

ANGLE_SHARE = 0.15
"""How far an LED's half angle lies off its data sheet's, which states the typical one (from memory, typical)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLaw:
    """An LED's law as read at the bench: `electric.led.DiodeLaw`'s numbers, its span, and the currents it was read at.

    `low_v` and `high_v` say how far LEDs of the bag lie under and over it, at the same current.
    """

    saturation_a: float
    ideality: float
    series_ohm: float
    low_v: float
    high_v: float
    least_ma: float
    most_ma: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LedPart:
    """An LED. `law` names the row of led_laws.csv; `face_mm` is the width of the face that a bundle can sit on.

    `own_law` is no column: it takes the place of the tabled law where the plan holds readings of this LED.

    `pre_wired_v` is the one supply voltage that a pre-wired LED with built-in resistor suits, else None. `angle_share`
    is how far the half angle may be off, as a share of it. `read_ma` is no column: the current at which its light was
    read at the bench; None: its light is known at `test_ma`.
    """

    name: str
    package: str
    lens: str
    colour: str
    dominant_nm: float | None
    cct_k: float | None
    half_angle_deg: float
    intensity_mcd: Range
    test_ma: float
    max_ma: float
    law: str
    face_mm: float
    body_mm: float
    height_mm: float
    hole_mm: float | None
    r_th_ja_k_per_w: float
    pre_wired_v: float | None
    pack: int
    price_eur: float
    source: str
    confidence: str
    own_law: OwnLaw | None = None
    angle_share: float = ANGLE_SHARE
    read_ma: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FibrePart:
    """An end-glow fibre."""

    name: str
    diameter_mm: float
    core_mm: float
    tolerance_mm: float
    numerical_aperture: float
    bend_radius_mm: float
    max_temp_c: float
    pack_m: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StripPart:
    """An LED strip. `segment_mm` is the distance of its cut marks, `leds_per_segment` the LEDs in series there."""

    name: str
    colour: str
    cct_k: float | None
    supply_v: float
    pitch_mm: float
    segment_mm: float
    leds_per_segment: int
    segment_ma: float
    power_w_per_m: float
    flux_lm_per_m: Range
    half_angle_deg: float
    width_mm: float
    law: str
    pack_m: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WirePart:
    """A wire. `kind` is hook-up or enamelled."""

    name: str
    kind: str
    awg: int
    copper_mm: float
    outer_mm: float
    bears_c: float
    loom_limit_a: float
    pack_m: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TubePart:
    """A heat-shrink tube: guaranteed least bore as supplied, largest bore and wall after recovery."""

    name: str
    ratio: float
    supplied_bore_mm: float
    recovered_bore_mm: float
    recovered_wall_mm: float
    recovery_c: float
    pack_m: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CellPart:
    """A cell or battery of one size. `law` names the row of cell_laws.csv."""

    name: str
    iec: str
    chemistry: str
    shape: str
    length_mm: float | None
    width_mm: float | None
    height_mm: float | None
    nominal_v: float
    fresh_v: float
    end_v: float
    capacity_mah: float
    inner_ohm: float
    drain_limit_ma: float
    rechargeable: bool
    coin: bool
    law: str
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPart:
    """A switch: poles, throws, whether it has a dark middle or off stand, what its contacts bear."""

    name: str
    kind: str
    poles: int
    throws: int
    off: bool
    contact_a: float
    length_mm: float
    width_mm: float
    depth_mm: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillPart:
    """A drill: metric, or by number."""

    name: str
    diameter_mm: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DiffuserPart:
    """A diffuser sheet: transmittance and reflectance as ranges."""

    name: str
    thickness_mm: float
    transmittance: Range
    reflectance: Range
    hides_source: bool
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPart:
    """A wall material: transmittance at 1 mm as a range; `scatters` tells Kubelka from Beer.

    `softens_c` is the lowest temperature at which it bends under a load within minutes (ISO 75); `stop_c` is for good.
    """

    name: str
    transmittance_1mm: Range
    reflectance: Range
    scatters: bool
    conductivity_w_per_mk: float
    advise_c: float
    stop_c: float
    softens_c: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatPart:
    """One coat of paint or foil: optical density as a range, and how it reflects inside."""

    name: str
    kind: str
    density: Range
    reflectance: Range
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ResistorPart:
    """A series of resistors of one size."""

    name: str
    series: str
    rating_w: float
    tolerance: float
    length_mm: float
    pack: int
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RegulatorPart:
    """A constant-current regulator with two leads: `current_ma` at `test_v` across it, `knee_share` of it at `knee_v`.

    `slope_siemens` is what is left above the knee; `fall_per_k` the share of current lost per kelvin of the junction
    over `test_junction_c`, which it has while its current is stated.
    """

    name: str
    kind: str
    package: str
    current_ma: Range
    test_v: float
    knee_v: float
    knee_share: float
    slope_siemens: float
    fall_per_k: float
    test_junction_c: float
    max_v: float
    max_w: float
    max_junction_c: float
    r_th_ja_k_per_w: float
    length_mm: float
    pack: int
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FusePart:
    """A fuse or resettable fuse."""

    name: str
    kind: str
    rating_a: float
    inner_ohm: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorPart:
    """A small plug with its socket."""

    name: str
    contacts: int
    pitch_mm: float | None
    contact_a: float
    height_mm: float
    plug_mm: float
    price_eur: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Habit:
    """One row of practice_rules.csv that carries numbers; None where it has no such end."""

    name: str
    low: float | None
    high: float | None
    own: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchValue:
    """A value that was measured for this plan: of which method or column, of what; what was believed without it, and
    what an entry before it came to, which it took the place of.

    Those that no row of the drawer holds (a fibre's end, stray light, a lamp) are looked up here.
    """

    what: str
    of: str
    value: Range
    believed: Range | None = None
    before: Range | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawer:
    """All components, and the habits of the trade with their numbers."""

    leds: tuple[LedPart, ...]
    fibres: tuple[FibrePart, ...]
    strips: tuple[StripPart, ...]
    wires: tuple[WirePart, ...]
    tubes: tuple[TubePart, ...]
    cells: tuple[CellPart, ...]
    switches: tuple[SwitchPart, ...]
    drills: tuple[DrillPart, ...]
    diffusers: tuple[DiffuserPart, ...]
    walls: tuple[WallPart, ...]
    coats: tuple[CoatPart, ...]
    resistors: tuple[ResistorPart, ...]
    regulators: tuple[RegulatorPart, ...]
    fuses: tuple[FusePart, ...]
    connectors: tuple[ConnectorPart, ...]
    habits: tuple[Habit, ...]
    bench: tuple[BenchValue, ...] = ()
    """What the plan's readings say of guesses that stand in no table."""

    def measured(self, what: str, of: str) -> Range | None:
        """What was measured at the bench of a guess that stands in no table; None: nothing."""
        return next((row.value for row in self.bench if (row.what, row.of) == (what, of)), None)

    def led(self, name: str) -> LedPart:
        """The LED of that name."""
        return next(row for row in self.leds if row.name == name)

    def fibre(self, diameter_mm: float) -> FibrePart:
        """The fibre nearest to that diameter."""
        return min(self.fibres, key=lambda row: abs(row.diameter_mm - diameter_mm))

    def strip(self, name: str) -> StripPart:
        """The strip of that name."""
        return next(row for row in self.strips if row.name == name)

    def wire(self, name: str) -> WirePart:
        """The wire of that name."""
        return next(row for row in self.wires if row.name == name)

    def tube(self, name: str) -> TubePart:
        """The tube of that name."""
        return next(row for row in self.tubes if row.name == name)

    def cell(self, name: str) -> CellPart:
        """The cell of that name."""
        return next(row for row in self.cells if row.name == name)

    def diffuser(self, name: str) -> DiffuserPart:
        """The diffuser sheet of that name."""
        return next(row for row in self.diffusers if row.name == name)

    def wall(self, name: str) -> WallPart:
        """The wall material of that name."""
        return next(row for row in self.walls if row.name == name)

    def coat(self, name: str) -> CoatPart:
        """The coat of that name."""
        return next(row for row in self.coats if row.name == name)

    def regulator(self, name: str) -> RegulatorPart:
        """The constant-current regulator of that name."""
        return next(row for row in self.regulators if row.name == name)

    def habit(self, name: str) -> Habit:
        """The habit of that name."""
        return next(row for row in self.habits if row.name == name)
