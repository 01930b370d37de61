"""What a fibre loses between its ends: length, bends, cut faces; and the fibres on sale."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from rushlight.errors import UnknownName
from rushlight.tables import Row, number, rows
from rushlight.units import Range, checked

WHITE = "white_phosphor"
"""Key of the row of pof_attenuation.csv for a white lamp."""


@dataclass(frozen=True, slots=True)
class Fibre:
    """A fibre by its widths and numerical aperture in air."""

    outer_mm: float
    core_mm: float
    na: float


@dataclass(frozen=True, slots=True)
class Bend:
    """A turn of a route: radius of the fibre's axis and angle turned through."""

    radius_mm: float
    angle_deg: float


def stock_fibre(outer_mm: float) -> Fibre:
    """The usual fibre of a nominal diameter, from pof_fibre.csv.

    Parameters
    ----------
    outer_mm : float
        Outer diameter [mm], 0.1 to 3; core and aperture come from the nearest width of the table.
    Returns
    -------
    Fibre
        Widths and aperture.
    Raises
    ------
    OutOfRange
        If the diameter lies outside its range.
    Source
    ------
    pof_fibre.csv.
    """
    checked("fibre diameter (mm)", outer_mm, 0.1, 3.0)
    plain = [row for row in rows("pof_fibre") if row["fibre"].startswith("generic")]
    near = min(plain, key=lambda row: abs(math.log(float(row["outer_mm"]) / outer_mm)))
    ratio = float(near["core_mm"]) / float(near["outer_mm"])
    return Fibre(outer_mm, outer_mm * ratio, float(near["NA"]))


def decibels(transmittance: float) -> float:
    """Loss of a transmittance.

    Parameters
    ----------
    transmittance : float
        Share passed [-], above 0, at most 1.
    Returns
    -------
    float
        Loss [dB], 0 or more.
    Raises
    ------
    OutOfRange
        If the share lies outside its range.
    Source
    ------
    Definition of the decibel.
    """
    return max(0.0, -10.0 * math.log10(checked("transmittance", transmittance, 0.0, 1.0, above=True)))


def transmittance(loss_db: Range) -> Range:
    """Transmittance of a loss; the least loss gives the high end.

    Parameters
    ----------
    loss_db : Range
        Loss [dB].
    Returns
    -------
    Range
        Share passed [-].
    Source
    ------
    Definition of the decibel.
    """
    return Range(*(10.0 ** (-db / 10.0) for db in (loss_db.high, loss_db.typical, loss_db.low)))


def attenuation_db_per_m(wavelength_nm: float | None) -> Range:
    """Loss of a metre of plain PMMA fibre by colour.

    Parameters
    ----------
    wavelength_nm : float or None
        Dominant wavelength [nm], 400 to 680; None for a white lamp.
    Returns
    -------
    Range
        Loss [dB/m].
    Raises
    ------
    OutOfRange
        If the wavelength lies outside the table.
    Notes
    -----
    Interpolated in a straight line between the table's rows. Decorative fibre can lose twice as much.
    Source
    ------
    pof_attenuation.csv, row by row.
    """
    table = rows("pof_attenuation")
    ends = ("low", "typical", "high")
    if wavelength_nm is None:
        white = next(row for row in table if row["wavelength_nm"] == WHITE)
        return Range(*(float(white[f"{end}_dB_per_m"]) for end in ends))
    lines = [row for row in table if row["wavelength_nm"] != WHITE]
    known = [float(row["wavelength_nm"]) for row in lines]
    checked("wavelength (nm)", wavelength_nm, known[0], known[-1])
    return Range(*(float(np.interp(wavelength_nm, known, [float(row[f"{end}_dB_per_m"]) for row in lines]))
                   for end in ends))


def finish_db(finish: str) -> Range:
    """Loss of a fibre's end by its finish; the reflection of the face is not in it.

    Parameters
    ----------
    finish : str
        Row of fibre_finish.csv: polished, hot_cut, cut, domed, sanded.
    Returns
    -------
    Range
        Loss [dB].
    Raises
    ------
    UnknownName
        If the table has no such finish.
    Source
    ------
    fibre_finish.csv, row by row.
    """
    row = _finish(finish)
    return Range(*(number(row, f"{end}_db") or 0.0 for end in ("low", "typical", "high")))


def scatters(finish: str) -> bool:
    """Whether an end of a finish spreads its light to all sides.

    Parameters
    ----------
    finish : str
        Row of fibre_finish.csv.
    Returns
    -------
    bool
        True for domed and sanded ends.
    Raises
    ------
    UnknownName
        If the table has no such finish.
    Source
    ------
    fibre_finish.csv, row by row.
    """
    return _finish(finish)["scatters"] == "yes"


def matt_ahead(finish: str) -> Range:
    """Axial intensity of an end that scatters, over its flux / pi as a flat matt end has it.

    Parameters
    ----------
    finish : str
        Row of fibre_finish.csv.
    Returns
    -------
    Range
        Share [-]: 1 for a flat end; less for a matted bead, which sends light aside and backwards too; its high end is
        a bead that is hardly matted, which gathers light ahead as a lens does.
    Raises
    ------
    UnknownName
        If the table has no such finish.
    Source
    ------
    fibre_finish.csv; own ray trace, tests/outside/test_beaded_end.py.
    """
    row = _finish(finish)
    return Range(*(float(row[key]) for key in ("ahead_low", "ahead", "ahead_high")))


def side_share(finish: str) -> Range:
    """What an end sends at right angles to its axis, over what it sends along it [-].

    Parameters
    ----------
    finish : str
        Row of fibre_finish.csv.
    Returns
    -------
    Range
        Share [-]; 0 for a flat end, of a bead from the widest to the narrowest.
    Raises
    ------
    UnknownName
        If the table has no such finish.
    Source
    ------
    fibre_finish.csv; own ray trace, tests/outside/test_beaded_end.py.
    """
    row = _finish(finish)
    return Range(float(row["side_low"]), float(row["side"]), float(row["side_high"]))


def _finish(finish: str) -> Row:
    known = {row["finish"]: row for row in rows("fibre_finish")}
    if finish not in known:
        raise UnknownName("fibre finish", finish, known)
    return known[finish]


def _curve(na: str, launch: str, level: float) -> float:
    """Quarter-bend loss [dB] along one launch of the ray trace, at a level R na^2 / d."""
    levels, losses = _traced(na, launch)
    if level > levels[-1]:
        return float(losses[-1] * levels[-1] / level)
    return float(np.interp(level, levels, losses))


@cache
def _traced(na: str, launch: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Levels R na^2 / d of one launch of the ray trace, and the losses there [dB]."""
    points = sorted((float(row["R_over_d"]) * float(row["NA"]) ** 2, float(row["loss_dB"]))
                    for row in rows("bend_loss_raytrace") if row["NA"] == na and row["launch"] == launch)
    return tuple(level for level, _ in points), tuple(loss for _, loss in points)


def bend_loss_db(radius_over_diameter: float, *, na: float, launch_na: float, angle_deg: float = 90.0) -> Range:
    """Loss of one bend.

    Parameters
    ----------
    radius_over_diameter : float
        Radius of the fibre's axis over its diameter [-], 5 (scaled by 0.25 / na^2) or more.
    na : float
        Numerical aperture of the fibre [-], 0.3 to 0.7.
    launch_na : float
        Sine of the steepest angle really launched [-]; more than `na` counts as `na`.
    angle_deg : float
        Angle turned through [deg], 0 or more.
    Returns
    -------
    Range
        Loss [dB]. The low end halves the trace (cladding and Fresnel return are left out of it); the high end
        takes a full cone, as after scattering or an earlier bend.
    Raises
    ------
    OutOfRange
        If the bend is tighter than the ray trace reaches, or an argument lies outside its range.
    Notes
    -----
    Rows of the trace are laid on one curve against R na^2 / d, the group of Gloge's leading term; the rows of
    NA 0.58 then lie within 0.25 dB of those of NA 0.50. A narrower launch is taken in a straight line between
    the launches traced (1, 0.6 and 0.17 of na). Rays that a bend sheds go in its first part, so a bend beyond
    45 deg counts whole (typical), beyond 20 deg (high), 90 deg (low).
    Source
    ------
    bend_loss_raytrace.csv (own ray trace); Durana et al., Appl. Opt. 42 (2003) 997 for the cladding's part.
    """
    checked("numerical aperture", na, 0.3, 0.7)
    checked("launch aperture", launch_na, 0.0, 1.0)
    checked("bend angle (deg)", angle_deg, 0.0)
    level = checked("bend radius over fibre diameter", radius_over_diameter, 1.25 / na**2) * na**2
    full = _curve("0.5", "fills NA", level)
    launched = _launched(min(launch_na / na, 1.0), level, full)
    return Range(0.5 * launched * min(1.0, angle_deg / 90.0),
                 launched * min(1.0, angle_deg / 45.0),
                 full * min(1.0, angle_deg / 20.0))


def _launched(filled: float, level: float, full: float) -> float:
    """Loss with only part of the cone filled."""
    part = _curve("0.5", "NA 0.30", level)
    narrow = part * min(1.0, _narrow_ratio())
    return float(np.interp(filled, (0.10 / 0.58, 0.60, 1.0), (narrow, part, full)))


def _narrow_ratio() -> float:
    """Loss of the narrowest launch over that of the 0.6 launch, at the one level where both are traced."""
    level = 10.0 * 0.58**2
    return _curve("0.58", "NA 0.10", level) / _curve("0.5", "NA 0.30", level)


def route_bend_db(bends: tuple[Bend, ...], fibre: Fibre, *, launch_na: float, measured: Range | None = None) -> Range:
    """Loss of all the bends of a route.

    Parameters
    ----------
    bends : tuple of Bend
        Turns of the route [mm, deg]; their order does not matter.
    fibre : Fibre
        The fibre.
    launch_na : float
        Sine of the steepest angle launched [-].
    measured : Range, optional
        What a bend of this fibre really lost, as a multiple of the typical law [-]; takes the place of the law's range.
    Returns
    -------
    Range
        Loss [dB].
    Raises
    ------
    OutOfRange
        If a bend is tighter than the ray trace reaches.
    Notes
    -----
    The worst bend counts whole; of the others a tenth (typical), half (high) or nothing (low), since the rays
    that a bend sheds are gone. Project proposal.
    Source
    ------
    bend_loss_raytrace.csv; the rule for further bends is a project proposal.
    """
    each = [bend_loss_db(bend.radius_mm / fibre.outer_mm, na=fibre.na, launch_na=launch_na,
                         angle_deg=bend.angle_deg) for bend in bends]
    if not each:
        return Range.exactly(0.0)
    if measured is not None:
        each = [measured.times(loss.typical) for loss in each]
    return Range(_worst_and([loss.low for loss in each], 0.0),
                 _worst_and([loss.typical for loss in each], 0.1),
                 _worst_and([loss.high for loss in each], 0.5))


def _worst_and(losses: list[float], share: float) -> float:
    ordered = sorted(losses, reverse=True)
    return ordered[0] + share * sum(ordered[1:])
