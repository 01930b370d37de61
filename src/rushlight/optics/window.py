"""A window lit by LEDs behind its sheets: posts that cast shadows, what the sheets even out, what an eye makes of it.

Maps are arrays (rows across, columns along) on a square grid.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rushlight.optics.diffuser import contrast_thresholds
from rushlight.optics.emitter import illuminance_parallel_lx
from rushlight.optics.sheet import second_sheet_mtf, sheet_blur_mtf
from rushlight.tables import rows
from rushlight.units import checked

Array = NDArray[np.float64]

LED_LIT_MM = 2.0
"""Width of the lit window of an LED on a strip, which softens a post's shadow (2835 and 3528 chips, from memory)."""


@dataclass(frozen=True, slots=True)
class Post:
    """A round post between the LEDs and the sheet: its foot along and across the row, and its radius."""

    along_mm: float
    across_mm: float
    radius_mm: float


def covered_share(led: ArrayLike, places: ArrayLike, post: Post, *, lit_mm: float = LED_LIT_MM) -> Array:
    """Share of each LED's lit window that a post hides from each place on the sheet.

    Parameters
    ----------
    led : array (n, 2)
        LEDs, along and across [mm].
    places : array (m, 2)
        Places on the sheet [mm].
    post : Post
        It reaches from the LEDs' level to the sheet.
    lit_mm : float
        Width of the LEDs' lit window [mm], 0 or more.
    Returns
    -------
    array (n, m)
        Share [-], 0 to 1; a place inside the post gets 1.
    Raises
    ------
    OutOfRange
        If a width or the radius is negative.
    Notes
    -----
    Seen from above, the ray from LED to place passes the post's middle at a distance d, a share t of its way from the
    LED. The lit window spreads the rays there over lit (1 - t), of which the post hides what lies within its radius.
    Source
    ------
    Straight rays; tests/outside/ casts them through a cylinder.
    """
    checked("lit width (mm)", lit_mm, 0.0)
    radius = checked("radius (mm)", post.radius_mm, 0.0)
    start, end = np.asarray(led, dtype=float), np.asarray(places, dtype=float)
    x, y = (end[None, :, k] - start[:, None, k] for k in (0, 1))
    post_x, post_y = post.along_mm - start[:, None, 0], post.across_mm - start[:, None, 1]
    part = np.clip((post_x * x + post_y * y) / np.maximum(x * x + y * y, 1e-12), 0.0, 1.0)
    far = np.hypot(post_x - part * x, post_y - part * y)
    half = np.maximum(0.5 * lit_mm * (1.0 - part), 1e-9)
    hidden = np.minimum(far + half, radius) - np.maximum(far - half, -radius)
    share = np.clip(hidden / (2.0 * half), 0.0, 1.0)
    inside = np.hypot(end[:, 0] - post.along_mm, end[:, 1] - post.across_mm) < radius
    return np.where(np.broadcast_to(inside[None], share.shape), 1.0, share)


def shaded_lx(
    led: ArrayLike, places: ArrayLike, *, order: float, gap_mm: float, half_width_mm: float, posts: Sequence[Post],
) -> tuple[Array, Array]:
    """What posts leave of the straight light of LEDs of one candela, and of what the channel's walls throw back.

    Parameters
    ----------
    led : array (n, 2)
        LEDs, along and across [mm]; what the walls throw back is that of those across 0.
    places : array (m, 2)
        Places on the sheet [mm].
    order : float
        Exponent m of the LEDs [-].
    gap_mm, half_width_mm : float
        LEDs to sheet, middle line to either wall [mm], more than 0.
    posts : sequence of Post
        What stands in the channel.
    Returns
    -------
    tuple of array (m,)
        Straight illuminance behind the posts [lx]; share of the thrown light that passes them [-], 0 to 1.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Notes
    -----
    Thrown light is shaded as that of the first mirror image on each side: it comes from where they stand.
    Source
    ------
    Photometric distance law; method of images.
    """
    wide = checked("half width (mm)", half_width_mm, 0.0, above=True)

    def lit(images: Sequence[int], standing: Sequence[Post]) -> Array:
        return _images_lx(led, places, order=order, gap_mm=gap_mm, wide=wide, posts=standing, images=images)

    straight, free = lit((0,), posts), lit((-1, 1), ())
    return straight, np.where(free > 0.0, lit((-1, 1), posts) / np.where(free > 0.0, free, 1.0), 1.0)


def _images_lx(
    led: ArrayLike, places: ArrayLike, *, order: float, gap_mm: float, wide: float, posts: Sequence[Post],
    images: Sequence[int],
) -> Array:
    """Light of mirror images of LEDs in the walls, 0 being the LEDs themselves."""
    lamps, at = np.asarray(led, dtype=float).reshape(-1, 2), np.asarray(places, dtype=float)
    lit = np.zeros(len(at))
    for image in images:
        mine = lamps[np.abs(lamps[:, 1]) < 1e-2] if image else lamps
        shifted = mine + np.array([0.0, 2.0 * image * wide])
        away = np.hypot(*(shifted[:, None, k] - at[None, :, k] for k in (0, 1)))
        each = illuminance_parallel_lx(1.0, order, gap_mm=gap_mm, offset_mm=away)
        for post in _unfolded(posts, image, wide):
            each = each * (1.0 - covered_share(shifted, at, post))
        lit += each.sum(axis=0)
    return lit


def _unfolded(posts: Sequence[Post], image: int, wide: float) -> list[Post]:
    """The posts of every channel that the light of an image passes, each mirrored where it stands."""
    cells = range(min(image, 0), max(image, 0) + 1)
    return [Post(post.along_mm, 2.0 * cell * wide + (-1.0) ** cell * post.across_mm, post.radius_mm)
            for post in posts for cell in cells]


def evened(light: ArrayLike, step_mm: float, sheets: Sequence[tuple[float, float]]) -> Array:
    """Light behind matt sheets: each evens by its thickness, and by the free gap before it.

    Parameters
    ----------
    light : array (rows, columns)
        Illuminance of the first sheet.
    step_mm : float
        Grid step [mm], more than 0.
    sheets : sequence of (thickness, gap)
        Thickness of each sheet and free gap between it and the one before [mm]; nought for the first.
    Returns
    -------
    array (rows, columns)
        Evened light of the same mean. At its edges the map is continued by its mirror image.
    Raises
    ------
    OutOfRange
        If a length is out of range.
    Source
    ------
    `optics.sheet.second_sheet_mtf`, `sheet_blur_mtf`, applied to each frequency.
    """
    return _filtered(np.asarray(light, dtype=float), step_mm, lambda waves: evened_share(waves, sheets))


def evened_share(waves_per_mm: ArrayLike, sheets: Sequence[tuple[float, float]]) -> Array:
    """Share of a pattern's swing that sheets leave, by its wave number.

    Parameters
    ----------
    waves_per_mm : array
        2 pi over the period [rad/mm], 0 or more.
    sheets : sequence of (thickness, gap)
        As in `evened`.
    Returns
    -------
    array
        Share [-].
    Raises
    ------
    OutOfRange
        If a length is negative.
    Source
    ------
    Product of the sheets' responses.
    """
    waves = np.asarray(waves_per_mm, dtype=float)
    share = np.ones_like(waves)
    for thickness_mm, gap_mm in sheets:
        share = share * sheet_blur_mtf(waves, thickness_mm) * second_sheet_mtf(waves, gap_mm)
    return share


def times_seen(relative: ArrayLike, step_mm: float, *, distance_mm: float, luminance_cd_m2: float) -> float:
    """How many times a pattern exceeds what a trained eye just sees.

    Parameters
    ----------
    relative : array (rows, columns)
        Luminance over its mean [-].
    step_mm : float
        Grid step [mm], more than 0.
    distance_mm : float
        Viewing distance [mm], more than 0.
    luminance_cd_m2 : float
        Mean luminance [cd/m2], 0 or more.
    Returns
    -------
    float
        Largest swing of the pattern weighed with the eye's sensitivity, frequency by frequency [-]: a sine wave at the
        threshold gives 1. Ordinary looking needs three to ten times as much.
    Raises
    ------
    OutOfRange
        If an argument lies outside its range.
    Source
    ------
    `optics.diffuser.contrast_thresholds`; a linear eye that finds the highest peak (project's simplification).
    """
    per_mm = math.radians(1.0) * checked("distance (mm)", distance_mm, 0.0, above=True)

    def sensitivity(waves: Array) -> Array:
        frequency = waves / (2.0 * math.pi) * per_mm
        found = np.zeros_like(frequency)
        some = frequency > 0.0
        found[some] = 1.0 / contrast_thresholds(frequency[some], luminance_cd_m2)
        return found

    return float(np.abs(_filtered(np.asarray(relative, dtype=float), step_mm, sensitivity)).max())


def seen_words(times: float) -> str:
    """How even a pattern looks, by how many times it exceeds what a trained eye just sees.

    Parameters
    ----------
    times : float
        As `times_seen` gives [-], 0 or more.
    Returns
    -------
    str
        Words of seen_words.csv.
    Raises
    ------
    OutOfRange
        If the number is negative.
    Source
    ------
    seen_words.csv (project proposal).
    """
    checked("times seen", times, 0.0)
    words = rows("seen_words")
    return next((row["words"] for row in words if times < float(row["below_times"])), words[-1]["words"])


def _filtered(values: Array, step_mm: float, response: Callable[[Array], Array]) -> Array:
    """A map whose every frequency is multiplied by a response to its wave number [rad/mm]; edges are mirrored."""
    from scipy.fft import dctn, idctn

    step = checked("step (mm)", step_mm, 0.0, above=True)
    high, wide = (math.pi * np.arange(count) / (count * step) for count in values.shape)
    waves = np.hypot(high[:, None], wide[None])
    return np.asarray(idctn(dctn(values, norm="ortho") * response(waves), norm="ortho"), dtype=float)
