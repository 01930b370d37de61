"""Sizes between subject and model, holes for fibres, and drills."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.errors import OutOfRange
from rushlight.tables import rows
from rushlight.units import checked

FIBRE_TOLERANCE = 1.06
"""A fibre may be 6 % over its nominal width (fibre_hole.csv names the data sheet)."""

FIBRE_CLEARANCE_MM = 0.03
"""Room for the fibre to slide (project proposal; drill a scrap first)."""


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill of a series: its mark and its diameter."""

    mark: str
    diameter_mm: float


def on_subject_mm(model_mm: float, scale: float) -> float:
    """Size on the subject [mm] of a size on the model.

    Parameters
    ----------
    model_mm : float
        Size on the model [mm], 0 or more.
    scale : float
        Denominator of the scale [-], more than 0: 72 for 1:72.
    Returns
    -------
    float
        Size on the subject [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of scale; 3 mm at 1:72 is 216 mm.
    """
    return checked("size (mm)", model_mm, 0.0) * checked("scale", scale, 0.0, above=True)


def on_model_mm(subject_mm: float, scale: float) -> float:
    """Size on the model of a size on the subject; the inverse of `on_subject_mm`.

    Parameters
    ----------
    subject_mm : float
        Size on the subject [mm], 0 or more.
    scale : float
        Denominator of the scale [-], more than 0.
    Returns
    -------
    float
        Size on the model [mm].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of scale.
    """
    return checked("size (mm)", subject_mm, 0.0) / checked("scale", scale, 0.0, above=True)


def oversize(model_mm: float, *, subject_mm: float, scale: float) -> float:
    """How many times too large a lamp on the model is [-]; 1 is true to scale, below 1 too small.

    Parameters
    ----------
    model_mm : float
        Width of the lamp on the model [mm], more than 0.
    subject_mm : float
        Width of the lamp on the subject [mm], more than 0.
    scale : float
        Denominator of the scale [-], more than 0.
    Returns
    -------
    float
        Ratio [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of scale.
    """
    checked("width on the model (mm)", model_mm, 0.0, above=True)
    return on_subject_mm(model_mm, scale) / checked("width on the subject (mm)", subject_mm, 0.0, above=True)


def fibre_hole_mm(fibre_mm: float) -> float:
    """Least hole that a fibre of a nominal diameter passes.

    Parameters
    ----------
    fibre_mm : float
        Nominal diameter [mm], more than 0.
    Returns
    -------
    float
        Hole [mm].
    Raises
    ------
    OutOfRange
        If the diameter is not above 0.
    Notes
    -----
    1.06 d + 0.03.
    Source
    ------
    fibre_hole.csv: tolerance of a data sheet and a clearance proposed here.
    """
    return FIBRE_TOLERANCE * checked("fibre diameter (mm)", fibre_mm, 0.0, above=True) + FIBRE_CLEARANCE_MM


def metric_drills() -> tuple[Drill, ...]:
    """Metric drills, small to large.

    Returns
    -------
    tuple of Drill
        Marks and diameters [mm].
    Source
    ------
    drills_metric.csv.
    """
    sizes = sorted(float(row["mm"]) for row in rows("drills_metric"))
    return tuple(Drill(f"{size:g} mm", size) for size in sizes)


def number_drills() -> tuple[Drill, ...]:
    """Number drills, small to large.

    Returns
    -------
    tuple of Drill
        Marks and diameters [mm].
    Source
    ------
    drills_number.csv.
    """
    table = sorted(rows("drills_number"), key=lambda row: float(row["mm"]))
    return tuple(Drill(f"#{row['number']}", float(row["mm"])) for row in table)


def drill_for(hole_mm: float, drills: tuple[Drill, ...]) -> Drill:
    """Smallest drill that makes a hole at least that wide.

    Parameters
    ----------
    hole_mm : float
        Least hole [mm], more than 0.
    drills : tuple of Drill
        A series, small to large.
    Returns
    -------
    Drill
        The drill.
    Raises
    ------
    OutOfRange
        If the hole is wider than the largest drill, or not above 0.
    Source
    ------
    drills_metric.csv, drills_number.csv.
    """
    checked("hole (mm)", hole_mm, 0.0, above=True)
    for drill in drills:
        if drill.diameter_mm >= hole_mm - 1e-9:
            return drill
    raise OutOfRange("hole (mm)", hole_mm, f"at most the largest drill, {drills[-1].diameter_mm:g}")


def nearest_drill(hole_mm: float, drills: tuple[Drill, ...]) -> Drill:
    """Drill nearest to a diameter, over or under; the smaller of two equally near.

    Parameters
    ----------
    hole_mm : float
        Diameter [mm], more than 0.
    drills : tuple of Drill
        A series, small to large.
    Returns
    -------
    Drill
        The drill.
    Raises
    ------
    OutOfRange
        If the diameter is not above 0.
    Source
    ------
    drills_metric.csv, drills_number.csv.
    """
    checked("hole (mm)", hole_mm, 0.0, above=True)
    return min(drills, key=lambda drill: abs(drill.diameter_mm - hole_mm))
