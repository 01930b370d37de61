"""How warm a closed model gets inside: still air to wall to room, and the local rise under a strip.

Small models lie at the low edge of the convection fits; every rise is a Range of 30 % either way.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from rushlight.thermal.stack import GRAVITY_M_PER_S2, vent_w
from rushlight.units import STEFAN_BOLTZMANN_W_PER_M2K4, ZERO_CELSIUS_K, Range, checked

SPREAD = (0.7, 1.3)
"""Spread of the convection fits at this size (project proposal: +/-30 %)."""

EMISSIVITY = 0.9
"""Painted or bare plastic (polystyrene_thermal.csv)."""

WALL_W_PER_MK = 0.13
"""Thermal conductivity of styrene; published values run 0.08 to 0.22 and hardly matter to the air's rise."""

INNER_RADIATION_W_PER_M2K = 4.5
"""Lamps, wiring and contents to the wall inside: a black body near 35 C less its view (project proposal)."""

ROUNDS = 16


@dataclass(frozen=True, slots=True)
class Air:
    """Properties of air at one atmosphere."""

    viscosity_m2_per_s: float
    diffusivity_m2_per_s: float
    conductivity_w_per_mk: float

    @property
    def prandtl(self) -> float:
        """Prandtl number [-]."""
        return self.viscosity_m2_per_s / self.diffusivity_m2_per_s


def air_at(temp_c: float) -> Air:
    """Air at a film temperature.

    Parameters
    ----------
    temp_c : float
        Film temperature [C], -40 to 150.
    Returns
    -------
    Air
        Kinematic viscosity, thermal diffusivity [m2/s], conductivity [W/m K].
    Raises
    ------
    OutOfRange
        If the temperature lies outside its range.
    Notes
    -----
    Sutherland's law for viscosity and conductivity, ideal gas, c_p 1006.
    Source
    ------
    White, Viscous Fluid Flow, Sutherland constants (from memory); within 2 % of Incropera's table A.4 from
    250 to 400 K (tests/outside/test_incropera.py).
    """
    kelvin = checked("temperature (C)", temp_c, -40.0, 150.0) + ZERO_CELSIUS_K
    viscosity = 1.716e-5 * (kelvin / 273.15) ** 1.5 * (273.15 + 110.4) / (kelvin + 110.4)
    conductivity = 0.0241 * (kelvin / 273.15) ** 1.5 * (273.15 + 194.0) / (kelvin + 194.0)
    density = 101325.0 / (287.05 * kelvin)
    return Air(viscosity / density, conductivity / (density * 1006.0), conductivity)


def rayleigh(air: Air, rise_k: float, *, length_m: float, film_k: float) -> float:
    """Rayleigh number [-] of a surface in still air.

    Parameters
    ----------
    air : Air
        Air at the film temperature.
    rise_k : float
        Surface against air [K], 0 or more.
    length_m : float
        Height of a wall, area over perimeter of a level face [m], more than 0.
    film_k : float
        Film temperature [K], more than 0.
    Returns
    -------
    float
        g beta dT L^3 / (nu alpha) [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition; beta = 1/T of an ideal gas.
    """
    checked("rise (K)", rise_k, 0.0)
    checked("length (m)", length_m, 0.0, above=True)
    checked("film temperature (K)", film_k, 0.0, above=True)
    below = air.viscosity_m2_per_s * air.diffusivity_m2_per_s * film_k
    return GRAVITY_M_PER_S2 * rise_k * length_m**3 / below


def nusselt_vertical(rayleigh: float, prandtl: float, *, laminar: bool = False) -> float:
    """Mean Nusselt number [-] of an upright wall in still air.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number by height [-], 0 to 1e12 (laminar form: 1e9).
    prandtl : float
        Prandtl number [-], more than 0.
    laminar : bool
        The form that is closer below 1e9.
    Returns
    -------
    float
        Nusselt number [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    0.68 + 0.670 Ra^(1/4) / [1 + (0.492/Pr)^(9/16)]^(4/9), or
    {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}^2.
    Source
    ------
    Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323.
    """
    checked("Rayleigh number", rayleigh, 0.0, 1e9 if laminar else 1e12)
    base = 1.0 + (0.492 / checked("Prandtl number", prandtl, 0.0, above=True)) ** (9.0 / 16.0)
    if laminar:
        return float(0.68 + 0.670 * rayleigh**0.25 / base ** (4.0 / 9.0))
    return float((0.825 + 0.387 * rayleigh ** (1.0 / 6.0) / base ** (8.0 / 27.0)) ** 2)


def nusselt_level(rayleigh: float, *, hot_side_up: bool) -> float:
    """Mean Nusselt number [-] of a level face, length = area over perimeter.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], 0 to 1e11.
    hot_side_up : bool
        True for a warm face looking up (or a cool one looking down).
    Returns
    -------
    float
        Nusselt number [-]; never under 1 (conduction alone).
    Raises
    ------
    OutOfRange
        If the Rayleigh number lies outside its range.
    Notes
    -----
    Up: 0.54 Ra^(1/4) to 1e7, 0.15 Ra^(1/3) above; down: 0.52 Ra^(1/5). Fitted from 1e4; small models lie below.
    Source
    ------
    Incropera, Fundamentals of Heat and Mass Transfer, eqs. 9.30 to 9.32 (Lloyd & Moran; Radziemska &
    Lewandowski), from memory.
    """
    checked("Rayleigh number", rayleigh, 0.0, 1e11)
    if not hot_side_up:
        return float(max(1.0, 0.52 * rayleigh**0.2))
    return float(max(1.0, 0.54 * rayleigh**0.25 if rayleigh <= 1e7 else 0.15 * rayleigh ** (1.0 / 3.0)))


def radiation_w_per_m2k(mean_temp_c: float, emissivity: float = 1.0) -> float:
    """Radiative coefficient of a surface that sees surroundings of nearly its own temperature.

    Parameters
    ----------
    mean_temp_c : float
        Mean of surface and surroundings [C], -50 to 150.
    emissivity : float
        Emissivity [-], 0 to 1.
    Returns
    -------
    float
        4 eps sigma T^3 [W/m2 K].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    ISO 6946, radiative coefficient of a black body (its table in tests/outside/).
    """
    kelvin = checked("temperature (C)", mean_temp_c, -50.0, 150.0) + ZERO_CELSIUS_K
    return 4.0 * checked("emissivity", emissivity, 0.0, 1.0) * STEFAN_BOLTZMANN_W_PER_M2K4 * kelvin**3


@dataclass(frozen=True, slots=True)
class Box:
    """A closed model as a box: outer sizes, wall, air outside; all six faces free unless `base_free` is off.

    `vents_mm2` is the free area of all vents, half of it low and half high. `measured` is what the rise really was, as
    a multiple of the typical law [-]; None: nobody has measured.
    """

    length_mm: float
    width_mm: float
    height_mm: float
    wall_mm: float = 1.5
    base_free: bool = True
    vents_mm2: float = 0.0
    measured: Range | None = None


@dataclass(frozen=True, slots=True)
class BoxHeat:
    """Rise of the air inside over the room, of the mean wall, and the spread of both.

    `inside_air_k` typical lies between the answers without and with radiation inside; high is the safe one.
    """

    inside_air_k: Range
    wall_k: Range
    without_radiation_k: float
    with_radiation_k: float


@lru_cache(maxsize=512)  # the same boxes are asked for by every tolerance, and again at the next edit
def box_heat(box: Box, power_w: float, *, room_c: float = 22.0) -> BoxHeat:
    """Steady rise of air and wall of a closed, opaque box with power turned into heat in it.

    Parameters
    ----------
    box : Box
        Sizes [mm].
    power_w : float
        Electrical power inside [W], 0 to 200; nearly all of it ends as heat.
    room_c : float
        Room [C], -10 to 45.
    Returns
    -------
    BoxHeat
        Rises over the room [K]; 30 % either way, or as far as a measurement leaves them.
    Raises
    ------
    OutOfRange
        If a size, power or temperature lies outside its range, or the wall would pass 150 C.
    Notes
    -----
    Each face: air film inside, wall, air film and radiation outside; the inside film without radiation (safe)
    and with it (lamps and wiring radiate to the wall too). Found by halving on the air's rise.
    Source
    ------
    Churchill & Chu 1975; Incropera ch. 9; makers' U-values of sealed boxes lie between the two
    (enclosure_u_values.csv).
    """
    for name, size in (("length", box.length_mm), ("width", box.width_mm), ("height", box.height_mm)):
        checked(f"{name} (mm)", size, 2.0 * box.wall_mm, 5000.0, above=True)
    checked("wall (mm)", box.wall_mm, 0.0, above=True)
    checked("power (W)", power_w, 0.0, 200.0)
    checked("room (C)", room_c, -10.0, 45.0)
    if power_w == 0.0:
        return BoxHeat(Range.exactly(0.0), Range.exactly(0.0), 0.0, 0.0)
    without, wall = _air_rise_k(box, power_w, room_c, inner_radiation=False)
    radiating, wall_radiating = _air_rise_k(box, power_w, room_c, inner_radiation=True)
    walls = sorted((wall, wall_radiating))
    if box.measured is not None:
        air_k, wall_k = (radiating + without) / 2.0, sum(walls) / 2.0
        return BoxHeat(box.measured.times(air_k), box.measured.times(wall_k), without, radiating)
    return BoxHeat(
        Range(radiating * SPREAD[0], (radiating + without) / 2.0, without * SPREAD[1]),
        Range(walls[0] * SPREAD[0], sum(walls) / 2.0, walls[1] * SPREAD[1]), without, radiating)


def _air_rise_k(box: Box, power_w: float, room_c: float, *, inner_radiation: bool) -> tuple[float, float]:
    """Rise of the air inside and the mean rise of the wall's outside [K]."""
    high = 1.0
    while _flow(box, high, room_c, inner_radiation)[0] < power_w:
        high = checked("rise of the air (K)", 2.0 * high, 0.0, 130.0)
    low = 0.5 * high if high > 1.0 else 0.0
    rise_k = _root(lambda rise: _flow(box, rise, room_c, inner_radiation)[0] - power_w, low, high)
    return rise_k, _flow(box, rise_k, room_c, inner_radiation)[1]


def _root(law: Callable[[float], float], low: float, high: float) -> float:
    """Zero of a rising law by the Illinois rule, a fixed number of rounds at most; the ends may miss it."""
    at_low, at_high = law(low), law(high)
    for _ in range(ROUNDS):
        if at_high - at_low == 0.0 or at_low > 0.0:
            break
        middle = low - at_low * (high - low) / (at_high - at_low)
        at_middle = law(middle)
        if (at_middle < 0.0) == (at_high < 0.0):
            at_low *= 0.5
        else:
            low, at_low = high, at_high
        high, at_high = middle, at_middle
        if abs(at_middle) < 1e-10:
            break
        if low > high:
            low, at_low, high, at_high = high, at_high, low, at_low
    return high if abs(at_high) < abs(at_low) else low


def _flow(box: Box, rise_k: float, room_c: float, inner_radiation: bool) -> tuple[float, float]:
    """Heat through all faces [W] at a rise of the air, and the area-weighted rise of the outer wall [K]."""
    total_w, weighted, area = 0.0, 0.0, 0.0
    for face_m2, length_m, kind in _faces(box):
        wall_k = _wall_rise_k(rise_k, room_c, length_m, kind, wall_m=box.wall_mm / 1000.0,
                              radiates=inner_radiation)
        total_w += face_m2 * _outside_w_per_m2(wall_k, room_c, length_m, kind)
        weighted += face_m2 * wall_k
        area += face_m2
    return total_w + vent_w(box.vents_mm2, rise_k, height_mm=box.height_mm, room_c=room_c), weighted / area


def _faces(box: Box) -> tuple[tuple[float, float, str], ...]:
    """Area [m2], length for the fit [m] and kind of each free face."""
    length, width, height = (size / 1000.0 for size in (box.length_mm, box.width_mm, box.height_mm))
    level_m = length * width / (2.0 * (length + width))
    sides = ((2.0 * (length + width) * height, height, "side"), (length * width, level_m, "top"))
    return (*sides, (length * width, level_m, "base")) if box.base_free else sides


def _film(rise_k: float, mean_c: float, length_m: float, kind: str) -> float:
    """Convection of one face [W/m2 K]. A top loses heat upwards outside; inside warm air lies under it."""
    air = air_at(mean_c)
    number = rayleigh(air, rise_k, length_m=length_m, film_k=mean_c + ZERO_CELSIUS_K)
    if kind == "side":
        nusselt = nusselt_vertical(number, air.prandtl, laminar=number < 1e9)
    else:
        nusselt = nusselt_level(number, hot_side_up=kind == "top")
    return nusselt * air.conductivity_w_per_mk / length_m


def _outside_w_per_m2(wall_k: float, room_c: float, length_m: float, kind: str) -> float:
    mean_c = room_c + wall_k / 2.0
    film = _film(wall_k, mean_c, length_m, kind)
    return (film + radiation_w_per_m2k(mean_c, EMISSIVITY)) * wall_k


def _inside_w_per_m2(drop_k: float, mean_c: float, length_m: float, kind: str, radiates: bool) -> float:
    film = _film(drop_k, mean_c, length_m, kind)
    return (film + (INNER_RADIATION_W_PER_M2K if radiates else 0.0)) * drop_k


def _wall_rise_k(rise_k: float, room_c: float, length_m: float, kind: str, *, wall_m: float,
                 radiates: bool) -> float:
    """Rise of the outer wall that balances the heat in from the air and out to the room."""
    def surplus(wall_k: float) -> float:
        out = _outside_w_per_m2(wall_k, room_c, length_m, kind)
        drop_k = max(rise_k - wall_k - out * wall_m / WALL_W_PER_MK, 0.0)
        return out - _inside_w_per_m2(drop_k, room_c + rise_k - drop_k / 2.0, length_m, kind, radiates)

    return _root(surplus, 0.0, rise_k)
