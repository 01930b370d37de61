"""One fibre tail from lamp to tip: what it takes in, what it loses on the way, what it shows.

Phi_tail = Phi_lamp x coupling x faces x attenuation x bends x tip, every factor a Range, and never more than
the luminance of the lamp allows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from rushlight.errors import OutOfRange
from rushlight.likely import Guesses, known_apart
from rushlight.optics.coupling import (
    CORE_INDEX,
    fresnel_transmittance,
    patch_fraction,
    point_fraction,
    radiance_limit_lm,
)
from rushlight.optics.emitter import peak_cd
from rushlight.optics.fibre_cone import LEAST_SPREAD, axial_intensity_cd, bent_sine
from rushlight.optics.fibre_loss import (
    Bend,
    Fibre,
    attenuation_db_per_m,
    decibels,
    finish_db,
    matt_ahead,
    route_bend_db,
    scatters,
    transmittance,
)
from rushlight.tables import rows
from rushlight.units import Range, checked

ROUNDING = 1.0 + 1e-9
"""An LED's face in contact gives just what its luminance allows: more than this over it is held down."""


AS_TOLD = Range.exactly(1.0)
"""Nothing is left open."""

PLACE, FACE, JOINT = "place in the bundle", "the LED's face", "the joint of LED and bundle"
"""Guesses that say what a fibre takes in."""

ON_THE_WAY = ("inlet finish", "length", "bends", "tip finish")
"""Losses that are not known well."""


@dataclass(frozen=True, slots=True)
class Launch:
    """How a lamp faces a bundle.

    `order` is the exponent of its pattern; `gap_mm` runs from the virtual source (lensed) or the bright patch
    (flat) to the bundle's face; `source_diameter_mm` is the width of the bright patch. A `lensed` lamp is taken
    as a point with a cos^m pattern: one that is farther off than its own width. One that its bundle touches is an
    evenly bright patch, each place of which shines with that pattern: a chip's window, a filed face, a dome; the share
    `by_face` of its flux leaves there.
    `coupling` is the factor of a hand-made joint; None takes fibre_coupling.csv, a reading narrows it. `face_spread` is
    what is not known of `by_face`, as factors; a joint that was read has it in its reading.
    """

    flux_lm: Range
    order: float
    gap_mm: float
    source_diameter_mm: float
    lensed: bool = True
    index_gel: bool = False
    coupling: Range | None = None
    by_face: float = 1.0
    face_spread: Range = AS_TOLD

    @property
    def face(self) -> Range:
        """What is not known of the face [-]; nothing where the joint was read."""
        return self.face_spread if self.coupling is None else AS_TOLD


@dataclass(frozen=True, slots=True)
class KnownLosses:
    """What was measured of a tail's losses, in place of the tables: None where nothing was.

    `length_db_per_m` of the fibre in the lamp's colour, `inlet_db` and `tip_db` of its ends, `bend_times` what its
    bends lose as a multiple of the typical law.
    """

    length_db_per_m: Range | None = None
    inlet_db: Range | None = None
    tip_db: Range | None = None
    bend_times: Range | None = None


@dataclass(frozen=True, slots=True)
class Tail:
    """One fibre of a bundle: its place at the lamp, its way, its ends.

    `offset_mm` is its distance from the lamp's axis: a hand-tied bundle lies looser than the ideal one. `wavelength_nm`
    None is a white lamp. Finishes are rows of fibre_finish.csv. `known` is what was measured.
    """

    offset_mm: Range
    length_mm: float
    bends: tuple[Bend, ...] = ()
    wavelength_nm: float | None = None
    inlet: str = "polished"
    tip: str = "polished"
    known: KnownLosses = KnownLosses()


@dataclass(frozen=True, slots=True)
class Loss:
    """One named loss of a tail; low is the least loss."""

    name: str
    loss_db: Range


@dataclass(frozen=True, slots=True)
class TailLight:
    """What a tail gives at its tip, and where the rest went.

    `exit_half_angle_deg` is the edge of the cone (90 for a scattering tip), `exit_order` the exponent of its cos^m
    profile; `limited` says that the luminance of the lamp held the coupling down.
    """

    flux_lm: Range
    axial_intensity_cd: Range
    luminance_cd_m2: Range
    exit_half_angle_deg: float
    exit_order: float
    limit_lm: Range
    limited: bool
    losses: tuple[Loss, ...]


def launch_sine(launch: Launch, fibre: Fibre, *, offset_mm: float) -> float:
    """Sine of the edge of the even cone that a lamp really sends into a fibre [-], at most the aperture.

    Parameters
    ----------
    launch : Launch
        Lamp and gap.
    fibre : Fibre
        The fibre.
    offset_mm : float
        Distance of the fibre from the lamp's axis [mm], 0 or more.
    Returns
    -------
    float
        Sine [-].
    Notes
    -----
    The far edge of the core from the far edge of the bright patch. A patch that shines ahead more than a Lambertian one
    fills no more than the even cone that is as strong ahead for its flux: sin^2 = 2 / (m + 1).
    Source
    ------
    Geometry; integral of the cos^m law.
    """
    reach_mm = offset_mm + fibre.core_mm / 2.0 + launch.source_diameter_mm / 2.0
    seen = min(fibre.na, math.sin(math.atan2(reach_mm, launch.gap_mm)))
    return seen if launch.lensed or launch.order <= 1.0 else min(seen, math.sqrt(2.0 / (launch.order + 1.0)))


def coupled_fraction(launch: Launch, fibre: Fibre, *, offset_mm: float) -> float:
    """Share of a lamp's flux that falls on a core within its cone [-]; joints and faces left out.

    Parameters
    ----------
    launch : Launch
        Lamp and gap.
    fibre : Fibre
        The fibre.
    offset_mm : float
        Distance of the fibre from the lamp's axis [mm], 0 or more.
    Returns
    -------
    float
        Fraction [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range (a lensed lamp needs a gap above 0).
    Source
    ------
    `point_fraction`, `patch_fraction`.
    """
    core = fibre.core_mm / 2.0
    if launch.lensed:
        return point_fraction(launch.order, gap_mm=launch.gap_mm, core_radius_mm=core, offset_mm=offset_mm,
                              na=fibre.na)
    return launch.by_face * patch_fraction(
        patch_radius_mm=launch.source_diameter_mm / 2.0, gap_mm=launch.gap_mm, core_radius_mm=core,
        offset_mm=offset_mm, na=fibre.na, order=launch.order,
    )


def source_luminance_cd_m2(launch: Launch) -> Range:
    """Greatest luminance of a lamp as a fibre sees it [cd/m2].

    Parameters
    ----------
    launch : Launch
        Lamp.
    Returns
    -------
    Range
        Luminance [cd/m2].
    Raises
    ------
    OutOfRange
        If the bright patch has no width.
    Notes
    -----
    I0 / A, I0 = Phi (m + 1) / (2 pi); A of a lensed point is the patch before the lens enlarges it, so that the limit
    is generous.
    Source
    ------
    Definition of luminance.
    """
    area_mm2 = math.pi * checked("source diameter (mm)", launch.source_diameter_mm, 0.0, above=True) ** 2 / 4.0
    return launch.flux_lm.times(peak_cd(1.0, launch.order) * 1e6 / area_mm2)


def joint_factor() -> Range:
    """What a hand-made joint keeps of the computed coupling.

    Returns
    -------
    Range
        Factor [-].
    Source
    ------
    fibre_coupling.csv.
    """
    row = next(row for row in rows("fibre_coupling") if row["case"] == "hand-made joint")
    return Range(*(float(row[f"{end}_factor"]) for end in ("low", "typical", "high")))


def tail_flux(launch: Launch, fibre: Fibre, tail: Tail) -> TailLight:
    """Flux, axial intensity and luminance at the tip of one fibre tail, with every loss named.

    Parameters
    ----------
    launch : Launch
        Lamp, gap, joint.
    fibre : Fibre
        The fibre.
    tail : Tail
        Its place in the bundle, length, bends, colour, ends.
    Returns
    -------
    TailLight
        Light at the tip [lm, cd, cd/m2] and losses [dB].
    Raises
    ------
    OutOfRange
        If a bend is tighter, a colour redder or bluer, than the tables reach, or a measure is impossible.
    UnknownName
        If a finish is not in fibre_finish.csv.
    Notes
    -----
    Flux is capped at the radiance limit L pi na^2 A_core, end by end, and the tip's luminance at the lamp's.
    Each bend widens the cone (`bent_sine`), so that what was launched narrow, or as a ring off the LED's axis, leaves
    as a wider, filled cone; the low end of the intensity takes the full one. Coupling of 0 (a fibre wholly outside its
    acceptance cone) gives a dark tail with one loss, infinite.
    Source
    ------
    The laws called; Monte Carlo of the coupling in tests/outside/.
    """
    fraction, joint = _places(launch, fibre, tail.offset_mm).times(launch.face), launch.coupling or joint_factor()
    coupled = launch.flux_lm.times(fraction).times(joint)
    limit = _limit_lm(launch, fibre)
    caught = _lesser(coupled, limit)
    way = _way_losses(launch, fibre, tail)
    flux = caught
    for loss in way:
        flux = flux.times(transmittance(loss.loss_db))
    if flux.high > limit.high * (1.0 + 1e-9):
        raise OutOfRange("tail flux (lm)", flux.high, f"at most the radiance limit {limit.high:g}")
    intensity, half_angle, order = _exit(launch, fibre, tail, flux)
    return TailLight(flux, intensity, intensity.times(4e6 / (math.pi * fibre.core_mm**2)), half_angle, order, limit,
                     coupled.high > limit.high * ROUNDING, (*_coupling_losses(fraction, joint, coupled, caught), *way))


def tail_guesses(launch: Launch, fibre: Fibre, tail: Tail, lit: TailLight) -> tuple[Guesses, Guesses]:
    """What the light of a tail hangs on besides its lamp's own.

    Parameters
    ----------
    launch, fibre, tail
        As `tail_flux` takes them.
    lit : TailLight
        What it gave.
    Returns
    -------
    tuple of Guesses
        Of the flux; what intensity and luminance hang on besides. Each guess alone at its ends, the others in the
        middle; the radiance limit holds what is taken in. Two ends of one finish are one guess: one hand makes them.
    Source
    ------
    The laws of `tail_flux`; `rushlight.likely`.
    """
    shares = ((PLACE, _places(launch, fibre, tail.offset_mm)), (FACE, launch.face),
              (JOINT, launch.coupling or joint_factor()))
    usual = launch.flux_lm.typical * math.prod(share.typical for _, share in shares)
    limit = Range.exactly(lit.limit_lm.typical)
    held = ((name, _lesser(share.times(usual / share.typical), limit)) for name, share in shares if share.typical > 0.0)
    ends = {"inlet finish": f"ends {tail.inlet}", "tip finish": f"ends {tail.tip}"}
    way = ((ends.get(loss.name, loss.name), transmittance(loss.loss_db))
           for loss in lit.losses if loss.name in ON_THE_WAY)
    cone = known_apart([("the cone at the tip", _ahead(launch, fibre, tail, lit.flux_lm.typical))])
    return known_apart((*held, *way)), cone


@lru_cache(maxsize=1024)
def _places(launch: Launch, fibre: Fibre, offset_mm: Range) -> Range:
    """Coupled share over the places where a fibre may lie, which falls with the distance from the axis.

    Kept, because the tails of one ring lie alike.
    """
    near, usual, far = (coupled_fraction(launch, fibre, offset_mm=at)
                        for at in (offset_mm.low, offset_mm.typical, offset_mm.high))
    return Range(min(far, usual), usual, max(near, usual))


def _limit_lm(launch: Launch, fibre: Fibre) -> Range:
    return source_luminance_cd_m2(launch).times(
        radiance_limit_lm(1.0, na=fibre.na, core_radius_mm=fibre.core_mm / 2.0))


def _coupling_losses(fraction: Range, joint: Range, coupled: Range, caught: Range) -> tuple[Loss, ...]:
    if fraction.high <= 0.0:
        return (Loss("coupling", Range.exactly(math.inf)),)
    losses = [Loss("coupling", _loss_range(fraction)), Loss("joint", _loss_range(joint))]
    if coupled.high > caught.high * ROUNDING > 0.0:
        high = _ratio_db(coupled.high, caught.high)
        losses.append(Loss("radiance limit", Range(0.0, min(_ratio_db(coupled.typical, caught.typical), high), high)))
    return tuple(losses)


def _ratio_db(before: float, after: float) -> float:
    return 10.0 * math.log10(before / after) if after > 0.0 else 0.0


def _loss_range(kept: Range) -> Range:
    return Range(*(decibels(min(1.0, max(1e-9, share))) for share in (kept.high, kept.typical, kept.low)))


def _way_losses(launch: Launch, fibre: Fibre, tail: Tail) -> tuple[Loss, ...]:
    sine = launch_sine(launch, fibre, offset_mm=tail.offset_mm.typical)
    checked("length (mm)", tail.length_mm, 0.0)
    face = decibels(fresnel_transmittance(CORE_INDEX, sine))
    known = tail.known
    per_m = known.length_db_per_m or attenuation_db_per_m(tail.wavelength_nm)
    return (
        Loss("inlet face", Range.exactly(0.0 if launch.index_gel else face)),
        Loss("inlet finish", known.inlet_db or finish_db(tail.inlet)),
        Loss("length", per_m.times(tail.length_mm / 1000.0)),
        Loss("bends", route_bend_db(tail.bends, fibre, launch_na=sine, measured=known.bend_times)),
        Loss("tip finish", known.tip_db or finish_db(tail.tip)),
        Loss("tip face", Range.exactly(face)),
    )


def _exit(launch: Launch, fibre: Fibre, tail: Tail, flux: Range) -> tuple[Range, float, float]:
    """Axial intensity [cd], half angle [deg] and exponent of the cone that leaves the tip."""
    if scatters(tail.tip):
        share = matt_ahead(tail.tip).times(1.0 / math.pi)
        matt = Range(flux.low * share.low, flux.typical * share.typical, flux.high * share.high)
        return matt, 90.0, 1.0
    launched = launch_sine(launch, fibre, offset_mm=tail.offset_mm.typical)
    sine, order = bent_sine(launched, fibre, tail.bends), _profile(launch, fibre, tail)
    ahead = _per_lm(launch, fibre, tail)
    most = Range(flux.low * ahead.low, flux.typical * ahead.typical, flux.high * ahead.high)
    return _lesser(most, _ceiling_cd(launch, fibre)), math.degrees(math.asin(sine)), order


@lru_cache(maxsize=64)
def _per_lm(launch: Launch, fibre: Fibre, tail: Tail) -> Range:
    """Axial intensity of a lumen in the cone: at the least in a full one, at the most hardly widened by bends [cd].

    Kept, because what is likely asks again.
    """
    launched = launch_sine(launch, fibre, offset_mm=tail.offset_mm.typical)
    order = _profile(launch, fibre, tail)
    edges = (bent_sine(launched, fibre, tail.bends), bent_sine(launched, fibre, tail.bends, share=LEAST_SPREAD))
    usual, narrow = (axial_intensity_cd(1.0, order=order, sine=edge) for edge in edges)
    full = axial_intensity_cd(1.0, order=1.0, sine=fibre.na)
    return Range(min(full, usual), usual, max(narrow, usual))


def _ceiling_cd(launch: Launch, fibre: Fibre) -> Range:
    """Intensity of a core as bright as the lamp [cd]."""
    return source_luminance_cd_m2(launch).times(math.pi * fibre.core_mm**2 / 4e6)


def _ahead(launch: Launch, fibre: Fibre, tail: Tail, flux_lm: float) -> Range:
    """Axial intensity over what is not known of the cone alone [cd]; of a matt end over that of a flat one [-]."""
    if scatters(tail.tip):
        return matt_ahead(tail.tip)
    return _lesser(_per_lm(launch, fibre, tail).times(flux_lm), Range.exactly(_ceiling_cd(launch, fibre).typical))


def _profile(launch: Launch, fibre: Fibre, tail: Tail) -> float:
    """Exponent kept in the cone: the lamp's on its axis in a straight fibre, else an even cone (1)."""
    keeps = launch.lensed and tail.offset_mm.typical < fibre.core_mm / 2.0 and not tail.bends
    return max(1.0, launch.order) if keeps else 1.0


def _lesser(first: Range, second: Range) -> Range:
    return Range(min(first.low, second.low), min(first.typical, second.typical), min(first.high, second.high))
