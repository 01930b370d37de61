"""Lamps before a camera: exposure, clipping, and the bands that dimming by pulses makes."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange
from rushlight.optics.display import linear_srgb
from rushlight.units import Range, checked

METER_K = 12.5
"""Calibration constant of reflected-light meters [cd s/m2 ISO]; ISO 2720:1974 allows 10.6 to 13.4."""

METER_C = 250.0
"""Calibration constant of incident-light meters [lx s ISO]; ISO 2720:1974, flat receptor."""

CLIP_OVER_MID = 9.6
"""Saturation over the metered mid-tone: 78 / 0.65 / 12.5, ISO 12232 saturation speed (from memory)."""

BLUR_PIXELS = 4.0
"""A point's picture covers up to this many pixels more, with a sharp lens (common practice, no source)."""


def exposure_s(luminance_cd_m2: float, *, f_number: float, iso: float) -> float:
    """Exposure time that renders a luminance as mid-tone.

    Parameters
    ----------
    luminance_cd_m2 : float
        Luminance metered [cd/m2], more than 0.
    f_number : float
        Aperture number [-], more than 0.
    iso : float
        Speed [ISO], more than 0.
    Returns
    -------
    float
        Time [s].
    Raises
    ------
    OutOfRange
        If an argument is not above 0.
    Notes
    -----
    t = K N^2 / (L S). Clips about 3.3 stops above (`CLIP_OVER_MID`).
    Source
    ------
    ISO 2720:1974, K = 12.5.
    """
    for name, value in (("luminance (cd/m2)", luminance_cd_m2), ("f-number", f_number), ("ISO speed", iso)):
        checked(name, value, 0.0, above=True)
    return METER_K * f_number**2 / (luminance_cd_m2 * iso)


def exposure_value(luminance_cd_m2: float) -> float:
    """Exposure value at ISO 100 of a luminance [-]: log2(100 L / K).

    Parameters
    ----------
    luminance_cd_m2 : float
        Luminance [cd/m2], more than 0.
    Returns
    -------
    float
        EV100 [-].
    Raises
    ------
    OutOfRange
        If the luminance is not above 0.
    Source
    ------
    ISO 2720:1974; EV 12 is 512 cd/m2.
    """
    return math.log2(8.0 * checked("luminance (cd/m2)", luminance_cd_m2, 0.0, above=True))


def metered_lx(exposure_value: float) -> float:
    """Illuminance that an incident meter reads as an exposure value.

    Parameters
    ----------
    exposure_value : float
        EV100 [-].
    Returns
    -------
    float
        Illuminance [lx]: 2.5 x 2^EV.
    Source
    ------
    ISO 2720:1974, C = 250.
    """
    return float(METER_C / 100.0 * 2.0**exposure_value)


def clips(luminance_cd_m2: float, *, exposure_s: float, f_number: float, iso: float) -> bool:
    """Whether a lamp face burns out at an exposure.

    Parameters
    ----------
    luminance_cd_m2 : float
        Luminance of the face [cd/m2].
    exposure_s : float
        Exposure time [s], more than 0.
    f_number, iso : float
        Aperture number and speed [-], more than 0.
    Returns
    -------
    bool
        True from about 3.3 stops over mid-tone.
    Raises
    ------
    OutOfRange
        If an exposure setting is not above 0.
    Source
    ------
    ISO 12232 saturation speed, 78 / 0.65 / 12.5 (from memory).
    """
    for name, value in (("exposure (s)", exposure_s), ("f-number", f_number), ("ISO speed", iso)):
        checked(name, value, 0.0, above=True)
    return luminance_cd_m2 * exposure_s * iso / (METER_K * f_number**2) > CLIP_OVER_MID


def banding_contrast(pulse_hz: float, exposure_s: float, *, duty: float) -> float:
    """Contrast of the bands that a pulsed lamp makes with a rolling shutter or between frames.

    Parameters
    ----------
    pulse_hz : float
        Pulse frequency [Hz], more than 0.
    exposure_s : float
        Exposure time [s], more than 0.
    duty : float
        Share of each period that the lamp is lit [-], above 0, at most 1.
    Returns
    -------
    float
        Michelson contrast [-], 0 to 1; at most 1 / (2n + 1) for n whole periods.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    x = f T, n = floor x, r = x - n: most light n D + min(r, D), least n D + max(0, r + D - 1).
    Source
    ------
    Derived; brute-force phase scan in tests/outside/test_pwm_banding.py.
    """
    checked("pulse frequency (Hz)", pulse_hz, 0.0, above=True)
    checked("exposure (s)", exposure_s, 0.0, above=True)
    checked("duty", duty, 0.0, 1.0, above=True)
    periods = pulse_hz * exposure_s
    whole = math.floor(periods + 1e-9)
    rest = max(0.0, periods - whole)
    most = whole * duty + min(rest, duty)
    least = whole * duty + max(0.0, rest + duty - 1.0)
    return (most - least) / (most + least)


def bands_in_frame(pulse_hz: float, readout_s: float) -> float:
    """Bands across a frame [-]: pulse frequency times the sensor's readout time.

    Parameters
    ----------
    pulse_hz : float
        Pulse frequency [Hz], 0 or more.
    readout_s : float
        Time from first to last line of the sensor [s], 0 or more.
    Returns
    -------
    float
        Bands [-].
    Raises
    ------
    OutOfRange
        If an argument is negative.
    Source
    ------
    One band for each period during readout.
    """
    return checked("pulse frequency (Hz)", pulse_hz, 0.0) * checked("readout (s)", readout_s, 0.0)


def readout_from_bands_s(bands: Range, pulse_hz: float) -> Range:
    """Time from a sensor's first to its last line [s], from the bands that a lamp of known pulses shows.

    Parameters
    ----------
    bands : Range
        Bands counted from the picture's first line to its last [-], above 0.
    pulse_hz : float
        Pulses of the lamp a second [Hz], above 0.
    Returns
    -------
    Range
        Time [s].
    Raises
    ------
    OutOfRange
        If the pulse frequency is not above 0.
    Source
    ------
    One band for each period during readout: `bands_in_frame` the other way round.
    """
    return bands.times(1.0 / checked("pulse frequency (Hz)", pulse_hz, 0.0, above=True))


def pulses_from_bands_hz(bands: Range, readout_s: float) -> Range:
    """Pulses of a lamp a second [Hz], from the bands that a sensor of known readout time shows.

    Parameters
    ----------
    bands : Range
        Bands counted from the picture's first line to its last [-], above 0.
    readout_s : float
        Time from the sensor's first line to its last [s], above 0.
    Returns
    -------
    Range
        Pulse frequency [Hz].
    Raises
    ------
    OutOfRange
        If the time is not above 0.
    Source
    ------
    As `readout_from_bands_s`.
    """
    return bands.times(1.0 / checked("readout (s)", readout_s, 0.0, above=True))


def shutter_s(frames_per_s: float, shutter_deg: float = 180.0) -> float:
    """Exposure of a film shutter angle.

    Parameters
    ----------
    frames_per_s : float
        Frame rate [1/s], more than 0.
    shutter_deg : float
        Shutter angle [deg], above 0, at most 360.
    Returns
    -------
    float
        Time [s]: angle / 360 / frame rate.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Definition of the shutter angle.
    """
    checked("frame rate (1/s)", frames_per_s, 0.0, above=True)
    return checked("shutter angle (deg)", shutter_deg, 0.0, 360.0, above=True) / 360.0 / frames_per_s


def safe_pulse_hz(exposure_s: float, contrast: float = 0.01) -> float:
    """Least pulse frequency that bands no more than a contrast, whatever the duty.

    Parameters
    ----------
    exposure_s : float
        Exposure time [s], more than 0.
    contrast : float
        Michelson contrast allowed [-], above 0, below 1.
    Returns
    -------
    float
        Frequency [Hz].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Contrast never exceeds 1 / (2n + 1), so n = ceil((1/c - 1) / 2) whole periods are enough.
    Source
    ------
    Bound scanned over duty and phase in tests/outside/test_pwm_banding.py.
    """
    checked("exposure (s)", exposure_s, 0.0, above=True)
    checked("contrast", contrast, 0.0, 1.0, above=True)
    if contrast >= 1.0:
        raise OutOfRange("contrast", contrast, "below 1")
    return math.ceil((1.0 / contrast - 1.0) / 2.0 - 1e-9) / exposure_s


def pixel_sr(view_deg: float, across_px: float) -> float:
    """Solid angle of one square pixel in the middle of the picture.

    Parameters
    ----------
    view_deg : float
        What the picture shows from left to right [deg], above 0, below 180.
    across_px : float
        Pixels from left to right [-], more than 0.
    Returns
    -------
    float
        Solid angle [sr].
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    A lens that keeps straight lines straight: a pixel spans 2 tan(view / 2) / pixels.
    """
    checked("angle of view (deg)", view_deg, 0.0, 179.0, above=True)
    checked("pixels across", across_px, 0.0, above=True)
    return (2.0 * math.tan(math.radians(view_deg) / 2.0) / across_px) ** 2


def image_luminance(luminance_cd_m2: Range, *, lamp_sr: float, pixel_sr: float) -> Range:
    """Luminance that a lamp has in the picture: its own as a disc, its illuminance over one pixel as a point.

    Parameters
    ----------
    luminance_cd_m2 : Range
        Luminance of the face [cd/m2].
    lamp_sr, pixel_sr : float
        Solid angles of the face and of one pixel, seen from the camera [sr], more than 0.
    Returns
    -------
    Range
        [cd/m2]. At most: all light on as few pixels as it can be on; at least: spread by four pixels more, as a usual
        lens in focus does (common practice, no source).
    Raises
    ------
    OutOfRange
        If a solid angle is not above 0.
    Source
    ------
    Illuminance at the lens is luminance x solid angle; the picture of a point holds it all.
    """
    checked("solid angle of the lamp (sr)", lamp_sr, 0.0, above=True)
    checked("solid angle of a pixel (sr)", pixel_sr, 0.0, above=True)
    sharp = min(1.0, lamp_sr / pixel_sr)
    soft = lamp_sr / (lamp_sr + BLUR_PIXELS * pixel_sr)
    low, high = soft, max(sharp, soft)
    middle = math.sqrt(low * high)
    return Range(luminance_cd_m2.low * low, luminance_cd_m2.typical * middle, luminance_cd_m2.high * high)


def channel_over_white(xy: tuple[float, float]) -> float:
    """How much stronger a colour meets its own channel of the sensor than white of the same luminance does.

    Parameters
    ----------
    xy : tuple of float
        x, y [-], y above 0.
    Returns
    -------
    float
        Factor [-], 1 for daylight; a red, green or blue lamp burns out so many times sooner than a white one.
    Raises
    ------
    OutOfRange
        If y is not above 0.
    Notes
    -----
    Largest linear sRGB channel at luminance 1, mixed with daylight at equal luminance until no channel is negative: a
    picture in the screen's own primaries, balanced for daylight. What a sensor's own channels do differs by type.
    Source
    ------
    IEC 61966-2-1, primaries; hue line through D65.
    """
    rgb = linear_srgb(xy)
    least = float(rgb.min())
    if least < 0.0:
        rgb = rgb + (1.0 - rgb) * (-least / (1.0 - least))
    return float(rgb.max())


def missed_share(flash_s: float, *, exposure_s: float, frames_per_s: float) -> float:
    """Share of flashes that a film misses, because they fall while the shutter is shut.

    Parameters
    ----------
    flash_s : float
        Length of the flash [s], 0 or more.
    exposure_s : float
        Exposure of each picture [s], more than 0; more than the picture's time counts as all of it.
    frames_per_s : float
        Pictures a second [1/s], more than 0.
    Returns
    -------
    float
        [-], 0 to 1: (gap - flash) over the picture's time, where that is above 0.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    Flashes begin at any moment alike; scanned in tests/outside/test_pwm_banding.py.
    """
    checked("flash (s)", flash_s, 0.0)
    checked("exposure (s)", exposure_s, 0.0, above=True)
    checked("frame rate (1/s)", frames_per_s, 0.0, above=True)
    return max(0.0, 1.0 / frames_per_s - exposure_s - flash_s) * frames_per_s
