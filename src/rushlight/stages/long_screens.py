"""Screens of sector lights that come out longer than any on the subject, and what is shorter, in numbers."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.drawer import Drawer
from rushlight.optics.sector import penumbra_deg, screen_length_mm
from rushlight.stages.outlook import CUT_AHEAD_DEG, CUT_DEG, screen_mm

SUBJECT_M = 1.0
"""Screens of ships' lights are some 0.9 m long (from memory): a longer one on the model stands out (project rule)."""

SHORTEST_MM = 2.0
"""A shorter screen cannot be cut and folded by hand (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LongScreen:
    """A screen too long for its scale.

    `length_mm` is what it reaches beyond the lamp, `scale_mm` what would look right, `soft_deg` the angle past the edge
    by which the light is gone with that; `fibre_mm` the widest fibre of which a right one is long enough, else the
    thinnest, and `fibre_screen_mm` how long its screen is.
    """

    length_mm: float
    scale_mm: float
    soft_deg: float
    cut_deg: float
    scale: float
    fibre_mm: float | None
    fibre_screen_mm: float

    @property
    def words(self) -> str:
        """How long it is, and what is shorter."""
        told = (f"a screen that touches the lamp and reaches {_mm(self.length_mm)} mm beyond it would be "
                f"{_mm(self.length_mm * self.scale / 1000)} m long on the subject. Cut to {_mm(self.scale_mm)} mm the "
                f"light is gone {_mm(self.soft_deg)} degrees past the edge, where {_mm(self.cut_deg)} are wanted")
        if self.fibre_mm is None:
            return f"{told}."
        return (f"{told}; a smaller lamp, a fibre of {_mm(self.fibre_mm)} mm or a slit as narrow before it, needs no "
                f"more than {_mm(self.fibre_screen_mm)} mm for all of it.")


def long_screen(drawer: Drawer, scale: float, size_mm: float, arc_deg: tuple[float, float]) -> LongScreen | None:
    """Whether the screen of a lamp is too long for its scale, and what is shorter.

    Parameters
    ----------
    drawer : Drawer
        Fibres.
    scale : float
        Number after the colon [-].
    size_mm : float
        Diameter of the lamp [mm].
    arc_deg : (from, to)
        Edges of its sector [deg].
    Returns
    -------
    LongScreen or None
        None where it is no longer than SUBJECT_M at scale, or than SHORTEST_MM.
    Source
    ------
    `sector.screen_length_mm`, `sector.penumbra_deg`.
    """
    length, right = screen_mm(size_mm, arc_deg), max(1000.0 * SUBJECT_M / scale, SHORTEST_MM)
    if length <= right * 1.05:
        return None
    cut = CUT_AHEAD_DEG if any(edge % 360.0 == 0.0 for edge in arc_deg) else CUT_DEG
    thinner = sorted((row for row in drawer.fibres if row.core_mm < size_mm / 1.05), key=lambda row: row.core_mm)
    fits = [row for row in thinner if screen_length_mm(row.core_mm, cut) <= right]
    fibre = fits[-1] if fits else thinner[0] if thinner else None
    return LongScreen(length, right, penumbra_deg(size_mm, right), cut, scale,
                      fibre.diameter_mm if fibre else None, screen_length_mm(fibre.core_mm, cut) if fibre else 0.0)


def _mm(value: float) -> str:
    return f"{float(f'{value:.2g}'):g}"
