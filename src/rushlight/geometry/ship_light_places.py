"""Limits of where a ship's lights sit, by her length and breadth: COLREGs 1972 Annex I."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange


def forward_masthead_height_m(breadth_m: float) -> float:
    """Least height of the forward masthead light above the hull, ships of 20 m and over.

    Parameters
    ----------
    breadth_m : float
        Greatest breadth [m], over 0.
    Returns
    -------
    float
        Height [m], 6 to 12.
    Raises
    ------
    OutOfRange
        If the breadth is not over 0.
    Notes
    -----
    Not under 6 m, nor under the breadth, but never need exceed 12 m.
    Source
    ------
    COLREGs 1972 Annex I 2(a)(i).
    """
    return max(6.0, min(_size("breadth_m", breadth_m), 12.0))


def masthead_pair_distance_m(length_m: float) -> float:
    """Least horizontal distance between two masthead lights [m]: half the length, need not exceed 100 m.

    Raises
    ------
    OutOfRange
        If the length is not over 0.
    Source
    ------
    COLREGs 1972 Annex I 3(a).
    """
    return min(0.5 * _size("length_m", length_m), 100.0)


def forward_masthead_from_stem_m(length_m: float) -> float:
    """Largest distance of the forward of two masthead lights from the stem [m]: a quarter of the length.

    Raises
    ------
    OutOfRange
        If the length is not over 0.
    Source
    ------
    COLREGs 1972 Annex I 3(a).
    """
    return 0.25 * _size("length_m", length_m)


def sidelight_height_m(masthead_height_m: float) -> float:
    """Largest height of the sidelights above the hull [m]: three quarters of the forward masthead light's.

    Raises
    ------
    OutOfRange
        If the height is not over 0.
    Source
    ------
    COLREGs 1972 Annex I 2(g).
    """
    return 0.75 * _size("masthead_height_m", masthead_height_m)


def vertical_spacing_m(length_m: float) -> float:
    """Least spacing of two or three lights in a vertical line [m]: 2 m from 20 m of length, else 1 m.

    Raises
    ------
    OutOfRange
        If the length is not over 0.
    Source
    ------
    COLREGs 1972 Annex I 2(i).
    """
    return 2.0 if _size("length_m", length_m) >= 20.0 else 1.0


def fishing_pair_height_m(spacing_m: float) -> float:
    """Least height of a fishing vessel's lower all-round light above the sidelights [m]: twice the pair's spacing.

    Raises
    ------
    OutOfRange
        If the spacing is not over 0.
    Source
    ------
    COLREGs 1972 Annex I 2(j).
    """
    return 2.0 * _size("spacing_m", spacing_m)


def lights_between_ends(length_m: float, gap_m: float) -> int:
    """Lights needed between those at the two ends so that no gap is larger than `gap_m`.

    Raises
    ------
    OutOfRange
        If length or gap is not over 0.
    Source
    ------
    Counting; COLREGs 1972 Rule 24(g)(iii) asks for 100 m, obstruction rules for other gaps.
    """
    return max(0, math.ceil(_size("length_m", length_m) / _size("gap_m", gap_m) - 1e-9) - 1)


def _size(name: str, value: float) -> float:
    if not 0.0 < value < math.inf:
        raise OutOfRange(name, value, "a size over 0 m")
    return value
