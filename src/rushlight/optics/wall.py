"""Light through walls and coats: what leaks out of a closed model, and how many coats stop it."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import number, rows
from rushlight.units import Range, checked


def wall_transmittance(scatter_per_mm: float, absorb_per_mm: float, *, thickness_mm: float) -> float:
    """Diffuse transmittance of a scattering sheet, its own surfaces left out.

    Parameters
    ----------
    scatter_per_mm : float
        Kubelka-Munk scattering S [1/mm], 0 or more.
    absorb_per_mm : float
        Kubelka-Munk absorption K [1/mm], 0 or more.
    thickness_mm : float
        Thickness [mm], 0 or more.
    Returns
    -------
    float
        Transmittance [-].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Notes
    -----
    T = b / (a sinh bSX + b cosh bSX), a = 1 + K/S, b = sqrt(a^2 - 1); K = 0: 1 / (1 + SX); S = 0: exp(-KX).
    White plastic: twice the thickness about halves T; black obeys Beer and squares it.
    Source
    ------
    Kubelka & Munk 1931; Kubelka, J. Opt. Soc. Am. 38 (1948) 448; checked by doubling in tests/outside/.
    """
    return _kubelka_munk(scatter_per_mm, absorb_per_mm, thickness_mm)[0]


def wall_reflectance(scatter_per_mm: float, absorb_per_mm: float, *, thickness_mm: float) -> float:
    """Diffuse reflectance of the same sheet over black.

    Parameters
    ----------
    scatter_per_mm, absorb_per_mm : float
        Kubelka-Munk S and K [1/mm], 0 or more.
    thickness_mm : float
        Thickness [mm], 0 or more.
    Returns
    -------
    float
        Reflectance [-].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Notes
    -----
    R = sinh bSX / (a sinh bSX + b cosh bSX).
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 38 (1948) 448.
    """
    return _kubelka_munk(scatter_per_mm, absorb_per_mm, thickness_mm)[1]


def _kubelka_munk(scatter: float, absorb: float, thickness_mm: float) -> tuple[float, float]:
    """Transmittance and reflectance."""
    checked("scattering (1/mm)", scatter, 0.0)
    checked("absorption (1/mm)", absorb, 0.0)
    depth = scatter * checked("thickness (mm)", thickness_mm, 0.0)
    if absorb == 0.0:
        return 1.0 / (1.0 + depth), depth / (1.0 + depth)
    if scatter == 0.0:
        return math.exp(-absorb * thickness_mm), 0.0
    ratio = absorb / scatter
    a, b = 1.0 + ratio, math.sqrt(ratio * (2.0 + ratio))
    decay = math.exp(-2.0 * b * depth)
    below = a * (1.0 - decay) + b * (1.0 + decay)
    return 2.0 * b * math.exp(-b * depth) / below, (1.0 - decay) / below


def known_transmittance(item: str) -> Range:
    """Transmittance [-] or, of a coat, optical density [-] of a usual wall or coat, from leak_typical.csv.

    Parameters
    ----------
    item : str
        A row of the table, 'white kit styrene 1.0 mm' or 'black acrylic, one sprayed coat'.
    Returns
    -------
    Range
        As the row says, T or OD; a guess to be replaced by a reading.
    Raises
    ------
    UnknownName
        If no row has that name or the row has no typical value.
    Source
    ------
    leak_typical.csv, row by row.
    """
    usable = {row["item"]: row for row in rows("leak_typical") if row["typical"].replace(".", "").isdigit()}
    if item not in usable:
        raise UnknownName("wall or coat", item, usable)
    row = usable[item]
    return Range(*(number(row, end) or 0.0 for end in ("low", "typical", "high")))


def stacked(first: float, second: float, *, first_reflectance: float, second_reflectance: float) -> float:
    """Transmittance of two sheets or coats, one on the other.

    Parameters
    ----------
    first, second : float
        Transmittances [-], 0 to 1.
    first_reflectance, second_reflectance : float
        Reflectances of the faces that look at each other [-], 0 to 1 less the transmittance.
    Returns
    -------
    float
        Transmittance [-].
    Raises
    ------
    OutOfRange
        If a value lies outside its range.
    Notes
    -----
    T12 = T1 T2 / (1 - R1 R2).
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 44 (1954) 330.
    """
    checked("first transmittance", first, 0.0, 1.0)
    checked("second transmittance", second, 0.0, 1.0)
    checked("first reflectance", first_reflectance, 0.0, 1.0 - first + 1e-12)
    checked("second reflectance", second_reflectance, 0.0, 1.0 - second + 1e-12)
    if first == 0.0 or second == 0.0:
        return 0.0
    return first * second / (1.0 - first_reflectance * second_reflectance)


def stacked_reflectance(under: float, transmittance: float, *, reflectance: float) -> float:
    """Reflectance of a sheet or a coat with another sheet or wall close behind it.

    Parameters
    ----------
    under : float
        Reflectance of what lies behind [-], 0 to 1.
    transmittance : float
        Of the coat by itself [-], 0 to 1.
    reflectance : float
        Of the coat by itself, over nothing [-], 0 to 1 less the transmittance.
    Returns
    -------
    float
        Reflectance [-].
    Raises
    ------
    OutOfRange
        If a value lies outside its range.
    Notes
    -----
    R12 = R1 + T1^2 R2 / (1 - R1 R2).
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 44 (1954) 330.
    """
    checked("reflectance behind", under, 0.0, 1.0)
    checked("transmittance", transmittance, 0.0, 1.0)
    checked("reflectance", reflectance, 0.0, 1.0 - transmittance + 1e-12)
    if transmittance == 0.0:
        return reflectance
    return reflectance + transmittance**2 * under / (1.0 - reflectance * under)


def reflectance_from_readings(one_sheet: float, two_sheets: float) -> float:
    """Reflectance of a sheet from lux readings through one and through two of it.

    Parameters
    ----------
    one_sheet, two_sheets : float
        Readings over the bare reading [-]; one_sheet^2 <= two_sheets <= one_sheet.
    Returns
    -------
    float
        Reflectance [-].
    Raises
    ------
    OutOfRange
        If the readings contradict each other.
    Notes
    -----
    R = sqrt(1 - T1^2 / T12).
    Source
    ------
    Kubelka 1954, rearranged.
    """
    checked("one sheet", one_sheet, 0.0, 1.0, above=True)
    checked("two sheets", two_sheets, one_sheet**2 * (1.0 - 1e-12), one_sheet)
    return math.sqrt(max(0.0, 1.0 - one_sheet**2 / two_sheets))


def optical_density(bare_lx: float, covered_lx: float) -> float:
    """Optical density [-] of a coat from lux before and after: log10(E0 / E1).

    Parameters
    ----------
    bare_lx, covered_lx : float
        Readings at one place in one beam [lx], more than 0; a phone holds out to OD 3.
    Returns
    -------
    float
        Optical density [-].
    Raises
    ------
    OutOfRange
        If a reading is not above 0 or the covered one is the greater.
    Source
    ------
    Definition of optical density.
    """
    checked("bare reading (lx)", bare_lx, 0.0, above=True)
    return math.log10(bare_lx / checked("covered reading (lx)", covered_lx, 0.0, bare_lx, above=True))


def absorbing_coats(wall: float, density: float, *, coats: int) -> float:
    """Transmittance [-] of a wall under coats of black or silver.

    Parameters
    ----------
    wall : float
        Transmittance without them [-], 0 to 1.
    density : float
        Optical density of one coat [-], 0 or more.
    coats : int
        Number of coats, 0 or more.
    Returns
    -------
    float
        Transmittance [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    T0 10^(-n OD).
    Source
    ------
    Beer's law.
    """
    checked("transmittance", wall, 0.0, 1.0)
    checked("optical density", density, 0.0)
    return float(wall * 10.0 ** (-checked("coats", coats, 0) * density))


def white_coats(wall: float, coat: float, *, coats: int) -> float:
    """Transmittance [-] of a white wall under coats of white, all without absorption.

    Parameters
    ----------
    wall : float
        Transmittance of the wall [-], above 0, at most 1.
    coat : float
        Transmittance of one coat [-], above 0, at most 1.
    coats : int
        Number of coats, 0 or more.
    Returns
    -------
    float
        Transmittance [-].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    1/T - 1 adds up from layer to layer: white stops light slowly, however thick.
    Source
    ------
    Kubelka, J. Opt. Soc. Am. 44 (1954) 330, with R = 1 - T.
    """
    checked("transmittance", wall, 0.0, 1.0, above=True)
    checked("coat's transmittance", coat, 0.0, 1.0, above=True)
    return 1.0 / (1.0 / wall + checked("coats", coats, 0) * (1.0 / coat - 1.0))


def coats_needed(leak_cd_m2: float, allowed_cd_m2: float, *, density: float, most: int = 12) -> int:
    """Coats of black or silver that bring a leak down to what is not noticed.

    Parameters
    ----------
    leak_cd_m2 : float
        Luminance of the leak now [cd/m2], 0 or more.
    allowed_cd_m2 : float
        Luminance allowed [cd/m2], more than 0.
    density : float
        Optical density of one coat [-], more than 0; take the low end of its range to be safe.
    most : int
        Most coats that a builder would spray.
    Returns
    -------
    int
        Coats, 0 when none is needed.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range or more than `most` coats would be needed.
    Notes
    -----
    n = ceil(log10(L / L_allowed) / OD).
    Source
    ------
    Beer's law.
    """
    checked("leak (cd/m2)", leak_cd_m2, 0.0)
    checked("allowed (cd/m2)", allowed_cd_m2, 0.0, above=True)
    checked("optical density", density, 0.0, above=True)
    if leak_cd_m2 <= allowed_cd_m2:
        return 0
    coats = math.ceil(math.log10(leak_cd_m2 / allowed_cd_m2) / density - 1e-9)
    if coats > most:
        raise OutOfRange("coats", coats, f"at most {most}: foil or a box inside instead of paint")
    return coats


def cavity_lx(flux_lm: float, *, area_m2: float, reflectance: float) -> float:
    """Illuminance of the inside of a closed hull by light thrown about in it.

    Parameters
    ----------
    flux_lm : float
        Flux set free inside [lm], 0 or more.
    area_m2 : float
        Inner surface [m2], more than 0.
    reflectance : float
        Its mean reflectance [-], 0 to 0.98.
    Returns
    -------
    float
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    E = Phi / (A (1 - rho)); even light, openings neglected. Near a lamp the direct light comes on top
    (`direct_lx`) and can be ten times this.
    Source
    ------
    Integrating-sphere relation.
    """
    checked("flux (lm)", flux_lm, 0.0)
    checked("area (m2)", area_m2, 0.0, above=True)
    return flux_lm / (area_m2 * (1.0 - checked("reflectance", reflectance, 0.0, 0.98)))


def direct_lx(intensity_cd: float, *, distance_mm: float) -> float:
    """Illuminance [lx] of a wall straight before a lamp: I / d^2.

    Parameters
    ----------
    intensity_cd : float
        Intensity towards it [cd], 0 or more.
    distance_mm : float
        Distance [mm], more than 0.
    Returns
    -------
    float
        Illuminance [lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104.
    """
    checked("intensity (cd)", intensity_cd, 0.0)
    return 1e6 * intensity_cd / checked("distance (mm)", distance_mm, 0.0, above=True) ** 2


def leak_luminance_cd_m2(inside_lx: float, transmittance: float) -> float:
    """Luminance [cd/m2] of a wall lit from inside: E T / pi.

    Parameters
    ----------
    inside_lx : float
        Light on its inner side, direct and thrown about [lx], 0 or more.
    transmittance : float
        Transmittance of wall and coats [-], 0 to 1.
    Returns
    -------
    float
        Luminance seen from outside [cd/m2].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of a Lambertian surface.
    """
    checked("inside illuminance (lx)", inside_lx, 0.0)
    return inside_lx * checked("transmittance", transmittance, 0.0, 1.0) / math.pi
