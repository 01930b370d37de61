"""Spacing of a few LEDs for the flattest light on a sheet, with and without the cosine at the sheet.

The published forms (2006) leave the cosine at the target plane out of the kernel; a flat diffuser has it, which
puts m + 1 for m. Here `plane=True` (the default) is the flat diffuser.
"""

from __future__ import annotations

import math

from rushlight.optics.diffuser import gap_for_contrast
from rushlight.units import checked


def _effective(order: float, plane: bool) -> float:
    return checked("order", order, 0.0, above=True) + (1.0 if plane else 0.0)


def pair_spacing_mm(gap_mm: float, order: float, *, plane: bool = True) -> float:
    """Spacing of two LEDs for the flattest middle.

    Parameters
    ----------
    gap_mm : float
        LEDs to sheet [mm], more than 0.
    order : float
        Exponent m [-], more than 0.
    plane : bool
        True for a flat diffuser; False for the published form.
    Returns
    -------
    float
        Spacing [mm]; z sqrt(4/(m+4)), published z sqrt(4/(m+3)).
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Moreno, Avendano-Alejo & Tzonchev, Appl. Opt. 45 (2006) 2265 (formulas from memory); plane form derived.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    return gap_mm * math.sqrt(4.0 / (_effective(order, plane) + 3.0))


def ring_radius_mm(gap_mm: float, order: float, *, plane: bool = True) -> float:
    """Radius of a ring of three or more LEDs for the flattest middle.

    Parameters
    ----------
    gap_mm, order, plane
        As `pair_spacing_mm`.
    Returns
    -------
    float
        Radius [mm]; z sqrt(2/(m+3)), published z sqrt(2/(m+2)).
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    As `pair_spacing_mm`.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    return gap_mm * math.sqrt(2.0 / (_effective(order, plane) + 2.0))


def square_side_mm(gap_mm: float, order: float, *, plane: bool = True) -> float:
    """Side of a square of four LEDs for the flattest middle.

    Parameters
    ----------
    gap_mm, order, plane
        As `pair_spacing_mm`.
    Returns
    -------
    float
        Side [mm]; z sqrt(4/(m+3)), published z sqrt(4/(m+2)).
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    As `pair_spacing_mm`; a ring of four.
    """
    return math.sqrt(2.0) * ring_radius_mm(gap_mm, order, plane=plane)


def triple_spacing_mm(gap_mm: float, order: float, *, plane: bool = True) -> float:
    """Spacing of three LEDs in line for the flattest middle (no spacing is perfectly flat).

    Parameters
    ----------
    gap_mm, order, plane
        As `pair_spacing_mm`.
    Returns
    -------
    float
        Spacing [mm]; z sqrt(3/(m+4)), without the target's cosine z sqrt(3/(m+3)).
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Derived: least second derivative in the middle.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    return gap_mm * math.sqrt(3.0 / (_effective(order, plane) + 3.0))


def long_row_pitch_mm(gap_mm: float, order: float, *, plane: bool = True) -> float:
    """Pitch of a long row by the published rule; a rule of small ripple, not of greatest flatness.

    Parameters
    ----------
    gap_mm, order, plane
        As `pair_spacing_mm`.
    Returns
    -------
    float
        Pitch [mm]; z sqrt(3.2773/(m+4.2539)), for a flat diffuser with m + 1.
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Notes
    -----
    Ripple there is 0.5 to 0.7 % on a flat diffuser; `row_pitch_mm` gives the pitch for a stated contrast.
    Source
    ------
    Moreno et al. 2006 (constant from memory, not reproduced as a root).
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    return gap_mm * math.sqrt(3.2773 / (_effective(order, plane) + 4.2539))


def row_pitch_mm(gap_mm: float, order: float, *, contrast: float) -> float:
    """Widest pitch of a long row that keeps a contrast at a gap.

    Parameters
    ----------
    gap_mm : float
        LEDs to sheet [mm], more than 0.
    order : float
        Exponent m [-], above 0, at most 300.
    contrast : float
        Michelson contrast allowed [-], 0.0001 to 0.9.
    Returns
    -------
    float
        Pitch [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    `diffuser.gap_for_contrast`.
    """
    checked("gap (mm)", gap_mm, 0.0, above=True)
    return gap_mm / gap_for_contrast(contrast, pitch_mm=1.0, order=order)
