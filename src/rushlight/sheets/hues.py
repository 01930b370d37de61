"""Hues as a screen shows them; apart from the rest of the pictures, for the first look that shows only these."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from rushlight.optics.display import decoded, encoded, swatch_rgb


@cache
def swatch(xy: tuple[float, float]) -> str:
    """Brightest screen colour of a hue, as #rrggbb."""
    return hex_colour(swatch_rgb(xy))


@cache
def dimmed(xy: tuple[float, float], level: float) -> str:
    """The screen colour of a hue at a share of its brightest light."""
    return hex_colour(int(code) for code in encoded(decoded(swatch_rgb(xy)) * level))


def hex_colour(codes: Iterable[int]) -> str:
    """Three code values as #rrggbb."""
    return "#" + "".join(f"{code:02x}" for code in codes)
