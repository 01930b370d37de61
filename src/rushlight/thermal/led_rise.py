"""How warm a lamp's junction gets, how warm a strip makes the wall it is glued to, and what parts bear."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.errors import UnknownName
from rushlight.tables import rows
from rushlight.units import Range, checked

BOTH_FACES_W_PER_M2K = 16.0
"""Film of both faces of a wall in still air, convection and radiation (project figure: 8 each)."""

WALL_W_PER_MK = 0.13
"""Thermal conductivity of styrene; published values run 0.08 to 0.22 (polystyrene_thermal.csv)."""


@dataclass(frozen=True, slots=True)
class Limit:
    """Temperatures from which to advise and to stop."""

    what: str
    advise_c: float
    stop_c: float
    source: str


def limit_of(what: str) -> Limit:
    """Temperatures that a part bears.

    Parameters
    ----------
    what : str
        'styrene wall', 'PMMA fibre' or 'LED junction'.
    Returns
    -------
    Limit
        From which to advise and to stop [C].
    Raises
    ------
    UnknownName
        If the table has no such part.
    Source
    ------
    thermal_limits.csv, row by row.
    """
    known = {row["what"]: row for row in rows("thermal_limits")}
    if what not in known:
        raise UnknownName("thermal limit", what, known)
    row = known[what]
    return Limit(what, float(row["advise_c"]), float(row["stop_c"]), row["source"])


def junction_resistance(package: str) -> Range:
    """Thermal resistance of a package from junction to air.

    Parameters
    ----------
    package : str
        Row of led_thermal_resistance.csv.
    Returns
    -------
    Range
        Resistance [K/W].
    Raises
    ------
    UnknownName
        If the table has no such package.
    Source
    ------
    led_thermal_resistance.csv, row by row.
    """
    known = {row["package"]: row for row in rows("led_thermal_resistance")}
    if package not in known:
        raise UnknownName("LED package", package, known)
    return Range(*(float(known[package][f"{end}_k_per_w"]) for end in ("low", "typical", "high")))


def junction_c(air_c: Range, power_w: float, *, resistance_k_per_w: Range) -> Range:
    """Temperature of a lamp's junction.

    Parameters
    ----------
    air_c : Range
        Air round the lamp [C].
    power_w : float
        Electrical power of the lamp [W], 0 to 20; the few per cent that leave as light are not taken off.
    resistance_k_per_w : Range
        Junction to air [K/W].
    Returns
    -------
    Range
        Junction [C].
    Raises
    ------
    OutOfRange
        If the power lies outside its range.
    Notes
    -----
    T_j = T_air + R P.
    Source
    ------
    Definition of thermal resistance, as in LED data sheets.
    """
    return air_c.plus(resistance_k_per_w.times(checked("power (W)", power_w, 0.0, 20.0)))


def fin_length_mm(
    wall_mm: float, *, conductivity_w_per_mk: float = WALL_W_PER_MK, film_w_per_m2k: float = BOTH_FACES_W_PER_M2K
) -> float:
    """Distance over which a wall carries heat away from a warm band [mm]: sqrt(k t / h).

    Parameters
    ----------
    wall_mm : float
        Thickness of the wall [mm], more than 0.
    conductivity_w_per_mk : float
        Its thermal conductivity [W/m K], more than 0.
    film_w_per_m2k : float
        Sum of the films of both faces [W/m2 K], more than 0.
    Returns
    -------
    float
        Length [mm].
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Fin equation, Incropera ch. 3.
    """
    checked("wall (mm)", wall_mm, 0.0, above=True)
    checked("conductivity (W/m K)", conductivity_w_per_mk, 0.0, above=True)
    checked("film (W/m2 K)", film_w_per_m2k, 0.0, above=True)
    return 1000.0 * math.sqrt(conductivity_w_per_mk * wall_mm / 1000.0 / film_w_per_m2k)


def strip_wall_rise_k(
    power_w_per_m: float,
    *,
    width_mm: float,
    wall_mm: float,
    conductivity_w_per_mk: float = WALL_W_PER_MK,
    film_w_per_m2k: float = BOTH_FACES_W_PER_M2K,
) -> Range:
    """Rise of a wall under a strip that is glued to it, over the air round it.

    Parameters
    ----------
    power_w_per_m : float
        Power of the strip [W/m], 0 to 50.
    width_mm : float
        Width of the strip [mm], more than 0.
    wall_mm : float
        Thickness of the wall [mm], more than 0; add a metal spreader as a thicker, better conducting wall.
    conductivity_w_per_mk : float
        Thermal conductivity of the wall [W/m K], more than 0.
    film_w_per_m2k : float
        Sum of the films of both faces [W/m2 K], more than 0.
    Returns
    -------
    Range
        Rise at the middle of the strip [K], 30 % either way; it adds to the rise of the air inside.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    dT = P' / (w h) (1 - exp(-w / 2l)), l = sqrt(k t / h): an endless band on an endless thin wall.
    Source
    ------
    Fin equation with a heated band (derived); finite difference in tests/unit/thermal/test_led_rise.py.
    """
    checked("power (W/m)", power_w_per_m, 0.0, 50.0)
    checked("width (mm)", width_mm, 0.0, above=True)
    length_mm = fin_length_mm(wall_mm, conductivity_w_per_mk=conductivity_w_per_mk, film_w_per_m2k=film_w_per_m2k)
    even_k = power_w_per_m / (width_mm / 1000.0 * film_w_per_m2k)
    return Range.spread(even_k * (1.0 - math.exp(-width_mm / (2.0 * length_mm))), 0.7, 1.3)


def settling_s(mass_g: float, *, area_m2: float, film_w_per_m2k: float = 8.0) -> float:
    """Time constant of an empty hull's wall [s]: m c / (U A); judge the temperature after an hour.

    Parameters
    ----------
    mass_g : float
        Mass of the plastic [g], more than 0.
    area_m2 : float
        Outer area [m2], more than 0.
    film_w_per_m2k : float
        Outer film [W/m2 K], more than 0.
    Returns
    -------
    float
        Time constant [s].
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Source
    ------
    Lumped capacity; specific heat of styrene 1300 J/kg K (polystyrene_thermal.csv).
    """
    checked("mass (g)", mass_g, 0.0, above=True)
    checked("area (m2)", area_m2, 0.0, above=True)
    checked("film (W/m2 K)", film_w_per_m2k, 0.0, above=True)
    heat_j_per_kgk = float(next(row["value"] for row in rows("polystyrene_thermal")
                                if row["quantity"] == "specific heat"))
    return mass_g / 1000.0 * heat_j_per_kgk / (film_w_per_m2k * area_m2)
