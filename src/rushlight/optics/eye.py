"""What an eye sees: angle, point or disc, thresholds, veil and glow round a lamp, and lamps carried to scale."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.errors import UnknownName
from rushlight.optics.visible_range import CLEAR_NIGHT_TRANSMISSIVITY, THRESHOLD_LX
from rushlight.tables import row_by, rows
from rushlight.units import Range, checked

Array = NDArray[np.float64]

METRES_PER_NMI = 1852.0
"""Exact."""

DISC_ARCMIN = 1.0
"""Below this a lamp cannot be told from a point: acuity 1.0 resolves one minute of arc (ISO 8596)."""


@dataclass(frozen=True, slots=True)
class Room:
    """A viewing room: light on the model, least contrast [-] and luminance that are noticed in it.

    `summation_arcmin` is the diameter over which an eye sums light there.
    """

    name: str
    illuminance_lx: float
    least_contrast: float
    least_luminance_cd_m2: float
    summation_arcmin: float


def viewing_room(name: str) -> Room:
    """A viewing room by its name.

    Parameters
    ----------
    name : str
        'lit', 'dim', 'dark display' or 'night eye'.
    Returns
    -------
    Room
        Light on the model [lx], least contrast [-] and luminance [cd/m2] noticed, summation [arcmin].
    Raises
    ------
    UnknownName
        If the table has no such room.
    Source
    ------
    viewing_rooms.csv, row by row.
    """
    known = {row["room"]: row for row in rows("viewing_rooms")}
    if name not in known:
        raise UnknownName("viewing room", name, known)
    row = known[name]
    return Room(name, float(row["illuminance_lx"]), float(row["least_contrast"]),
                float(row["least_luminance_cd_m2"]), float(row["summation_arcmin"]))


def room_at(illuminance_lx: float) -> Room:
    """A viewing room by the light on the model, between the rooms of the table.

    Parameters
    ----------
    illuminance_lx : float
        Light on the model [lx], more than 0.
    Returns
    -------
    Room
        Straight between the table's rooms in the logarithms; beyond them the outer room's values, at that light.
    Raises
    ------
    OutOfRange
        If the light is not above 0.
    Source
    ------
    viewing_rooms.csv; thresholds go with powers of the light, straight pieces in the logarithms (de Vries-Rose, Weber).
    """
    lux = checked("light on the model (lx)", illuminance_lx, 0.0, above=True)
    known = sorted((viewing_room(row["room"]) for row in rows("viewing_rooms")), key=lambda room: room.illuminance_lx)
    at = [math.log(room.illuminance_lx) for room in known]

    def between(values: list[float]) -> float:
        return math.exp(float(np.interp(math.log(lux), at, np.log(values))))

    return Room(f"{lux:.3g} lx", lux, between([room.least_contrast for room in known]),
                between([room.least_luminance_cd_m2 for room in known]),
                between([room.summation_arcmin for room in known]))


def room_lux(name: str) -> Range:
    """The light that a viewing room may have on the model.

    Parameters
    ----------
    name : str
        As for `viewing_room`.
    Returns
    -------
    Range
        Illuminance [lx].
    Raises
    ------
    UnknownName
        If the table has no such room.
    Source
    ------
    viewing_rooms.csv (project proposal).
    """
    typical = viewing_room(name).illuminance_lx
    row = row_by("viewing_rooms", "room", name)
    return Range(float(row["illuminance_low_lx"]), typical, float(row["illuminance_high_lx"]))


def visual_angle_deg(size_mm: float, distance_mm: float) -> float:
    """Angle that a thing fills for an eye in front of it.

    Parameters
    ----------
    size_mm : float
        Size across the line of sight [mm], 0 or more.
    distance_mm : float
        Distance of the eye [mm], more than 0.
    Returns
    -------
    float
        Angle [deg].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    2 atan(size / 2 distance).
    Source
    ------
    Geometry.
    """
    checked("size (mm)", size_mm, 0.0)
    checked("distance (mm)", distance_mm, 0.0, above=True)
    return math.degrees(2.0 * math.atan2(size_mm / 2.0, distance_mm))


def disc_sr(diameter_mm: float, distance_mm: float) -> float:
    """Solid angle that a disc fills for an eye straight in front of it.

    Parameters
    ----------
    diameter_mm : float
        Its diameter [mm], 0 or more.
    distance_mm : float
        Distance of the eye [mm], more than 0.
    Returns
    -------
    float
        Solid angle [sr], under 2 pi.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    2 pi (1 - cos a), a half the angle that it fills.
    Source
    ------
    Geometry.
    """
    half_rad = math.radians(visual_angle_deg(diameter_mm, distance_mm)) / 2.0
    return 2.0 * math.pi * (1.0 - math.cos(half_rad))


def is_point(size_mm: float, distance_mm: float) -> bool:
    """Whether a lamp is too small to be told from a point.

    Parameters
    ----------
    size_mm : float
        Width [mm], 0 or more.
    distance_mm : float
        Viewing distance [mm], more than 0.
    Returns
    -------
    bool
        True under one minute of arc.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Acuity 1.0 resolves one minute of arc (ISO 8596).
    """
    return 60.0 * visual_angle_deg(size_mm, distance_mm) < DISC_ARCMIN


def eye_illuminance_lx(intensity_cd: float, distance_mm: float) -> float:
    """Illuminance that a lamp makes at an eye [lx]: I / d^2.

    Parameters
    ----------
    intensity_cd : float
        Intensity towards the eye [cd], 0 or more.
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
    checked("distance (mm)", distance_mm, 0.0, above=True)
    return 1e6 * intensity_cd / distance_mm**2


def point_threshold_lx(background_cd_m2: float) -> Range:
    """Illuminance at the eye from which a steady point of light is seen against a background.

    Parameters
    ----------
    background_cd_m2 : float
        Luminance round the lamp [cd/m2], 0 to 30000.
    Returns
    -------
    Range
        Threshold [lx]; a factor of 3 either way between observers and colours.
    Raises
    ------
    OutOfRange
        If the background lies outside its range.
    Notes
    -----
    log E = 0.05 (log B)^2 + 0.573 log B - 6.667 from 1 cd/m2 up; never under 2e-7 lx, the night value of the
    ship rules. Easy sight wants ten times as much.
    Source
    ------
    ICAO Doc 9328, runway visual range, threshold of illuminance (from memory); COLREGs 1972 Annex I 8.
    """
    checked("background (cd/m2)", background_cd_m2, 0.0, 30000.0)
    level = math.log10(max(background_cd_m2, 1.0))
    return Range.spread(max(THRESHOLD_LX, 10.0 ** (0.05 * level**2 + 0.573 * level - 6.667)), 1 / 3, 3.0)


def allard_lx(intensity_cd: float, distance_m: float, *, transmissivity: float = CLEAR_NIGHT_TRANSMISSIVITY) -> float:
    """Illuminance from a lamp through hazy air.

    Parameters
    ----------
    intensity_cd : float
        Intensity [cd], 0 or more.
    distance_m : float
        Distance [m], more than 0.
    transmissivity : float
        Share of light that a nautical mile of air lets pass [-], above 0, at most 1.
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
    E = I K^(d/nmi) / d^2.
    Source
    ------
    Allard's law (1876), as used in COLREGs 1972 Annex I 8.
    """
    checked("intensity (cd)", intensity_cd, 0.0)
    checked("distance (m)", distance_m, 0.0, above=True)
    checked("transmissivity", transmissivity, 0.0, 1.0, above=True)
    return float(intensity_cd * transmissivity ** (distance_m / METRES_PER_NMI) / distance_m**2)


def veil_cd_m2(eye_lx: float, *, angle_deg: float, age_years: float = 40.0) -> float:
    """Veil that a glaring lamp lays over the sight line.

    Parameters
    ----------
    eye_lx : float
        Illuminance of the lamp at the eye [lx], 0 or more.
    angle_deg : float
        Angle between the lamp and the place looked at [deg], 1 to 30.
    age_years : float
        Age of the eye [years], 5 to 90.
    Returns
    -------
    float
        Equivalent veiling luminance [cd/m2].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    L = 10 (1 + (age/70)^4) E / angle^2.
    Source
    ------
    CIE 146:2002, age-adjusted Stiles-Holladay equation; Vos, Clin. Exp. Optom. 86 (2003) 363.
    """
    checked("illuminance (lx)", eye_lx, 0.0)
    checked("angle (deg)", angle_deg, 1.0, 30.0)
    checked("age (years)", age_years, 5.0, 90.0)
    return 10.0 * (1.0 + (age_years / 70.0) ** 4) * eye_lx / angle_deg**2


def glow_per_lx(angle_deg: ArrayLike, *, age_years: float = 40.0, pigment: float = 0.5) -> Array:
    """Glow round a bright point, as luminance per lux at the eye.

    Parameters
    ----------
    angle_deg : array
        Angle from the point [deg], 0.1 to 100.
    age_years : float
        Age of the eye [years], 5 to 90.
    pigment : float
        Eye colour [-]: 0 black, 0.5 brown, 1 blue, 1.2 very light.
    Returns
    -------
    array
        Luminance per illuminance [cd/m2 per lx].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    10/t^3 + (5/t^2 + 0.1 p/t)(1 + (age/62.5)^4) + 0.0025 p.
    Source
    ------
    CIE 146:2002, CIE general disability glare equation; Vos 2003 (coefficients from memory; agrees with the
    age-adjusted equation at 2 deg).
    """
    angle = np.asarray(angle_deg, dtype=float)
    checked("least angle (deg)", float(angle.min()), 0.1)
    checked("greatest angle (deg)", float(angle.max()), 0.1, 100.0)
    checked("age (years)", age_years, 5.0, 90.0)
    checked("pigment", pigment, 0.0, 1.2)
    lens = 1.0 + (age_years / 62.5) ** 4
    return np.asarray(10.0 / angle**3 + (5.0 / angle**2 + 0.1 * pigment / angle) * lens + 0.0025 * pigment)


def background_cd_m2(illuminance_lx: float, reflectance: float) -> float:
    """Luminance of a matt surface in room light [cd/m2]: rho E / pi.

    Parameters
    ----------
    illuminance_lx : float
        Light on it [lx], 0 or more.
    reflectance : float
        Its reflectance [-], 0 to 1.
    Returns
    -------
    float
        Luminance [cd/m2].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of a matt (Lambertian) surface.
    """
    checked("illuminance (lx)", illuminance_lx, 0.0)
    checked("reflectance", reflectance, 0.0, 1.0)
    return reflectance * illuminance_lx / math.pi


def least_seen_cd_m2(room: Room, *, background_cd_m2: float, veil_cd_m2: float = 0.0) -> float:
    """Added luminance from which a soft patch is noticed on a surface.

    Parameters
    ----------
    room : Room
        Viewing room.
    background_cd_m2 : float
        Luminance of the surface without the patch [cd/m2], 0 or more.
    veil_cd_m2 : float
        Veil from the model's own lamps [cd/m2], 0 or more.
    Returns
    -------
    float
        Luminance [cd/m2]; a patch of more is seen.
    Raises
    ------
    OutOfRange
        If a luminance is negative.
    Notes
    -----
    The greater of c (L_background + L_veil) and the room's least luminance.
    Source
    ------
    Weber contrast with the values of viewing_rooms.csv (project proposal).
    """
    checked("background (cd/m2)", background_cd_m2, 0.0)
    checked("veil (cd/m2)", veil_cd_m2, 0.0)
    return max(room.least_contrast * (background_cd_m2 + veil_cd_m2), room.least_luminance_cd_m2)


def is_seen(patch_cd_m2: float, room: Room, *, background_cd_m2: float, veil_cd_m2: float = 0.0) -> bool:
    """Whether a patch of added luminance is noticed.

    Parameters
    ----------
    patch_cd_m2 : float
        Luminance added [cd/m2].
    room : Room
        Viewing room.
    background_cd_m2, veil_cd_m2 : float
        As `least_seen_cd_m2` [cd/m2].
    Returns
    -------
    bool
        True above the least seen.
    Raises
    ------
    OutOfRange
        If a luminance is negative.
    Source
    ------
    `least_seen_cd_m2`.
    """
    return patch_cd_m2 > least_seen_cd_m2(room, background_cd_m2=background_cd_m2, veil_cd_m2=veil_cd_m2)


def equal_luminance_cd(subject_cd: float, *, subject_diameter_mm: float, model_diameter_mm: float) -> float:
    """Intensity of a model's lamp whose face is as bright as the subject's.

    Parameters
    ----------
    subject_cd : float
        Intensity of the subject's lamp [cd], 0 or more.
    subject_diameter_mm, model_diameter_mm : float
        Widths of the bright faces [mm], more than 0.
    Returns
    -------
    float
        Intensity on the model [cd].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    I_model = I_subject (d_model / d_subject)^2; at true scale that is I / N^2. Right for a lamp seen as a disc.
    Source
    ------
    Definition of luminance.
    """
    checked("intensity (cd)", subject_cd, 0.0)
    checked("subject's diameter (mm)", subject_diameter_mm, 0.0, above=True)
    checked("model's diameter (mm)", model_diameter_mm, 0.0, above=True)
    return subject_cd * (model_diameter_mm / subject_diameter_mm) ** 2


def equal_illuminance_cd(subject_cd: float, *, subject_distance_m: float, model_distance_mm: float) -> float:
    """Intensity of a model's lamp that strikes the eye as the subject's would from a distance.

    Parameters
    ----------
    subject_cd : float
        Intensity of the subject's lamp [cd], 0 or more.
    subject_distance_m : float
        Distance from which the subject is imagined [m], more than 0.
    model_distance_mm : float
        Viewing distance of the model [mm], more than 0.
    Returns
    -------
    float
        Intensity on the model [cd].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    I_model = I_subject (d / D)^2. At D = N d it equals the carry by luminance; nearer it is brighter. Right for
    a lamp seen as a point. Air is taken as clear.
    Source
    ------
    Photometric distance law, CIE ILV 17-25-104.
    """
    checked("intensity (cd)", subject_cd, 0.0)
    checked("subject's distance (m)", subject_distance_m, 0.0, above=True)
    checked("model's distance (mm)", model_distance_mm, 0.0, above=True)
    return subject_cd * (model_distance_mm / (1000.0 * subject_distance_m)) ** 2
