"""A painting by night: flat shapes in the dark, lamps with a glow round them, and water that mirrors both."""

from __future__ import annotations

import math

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from rushlight.demos.pencil import Pixel, png_bytes

RGB = tuple[int, int, int]

FINE = 3
"""Shapes are drawn this many times larger and then averaged."""


class Dusk:
    """One painting. Glows are kept back and laid over everything at the end."""

    def __init__(self, width_px: int, height_px: int, *, sky: tuple[RGB, RGB]) -> None:
        self.width_px, self.height_px = width_px, height_px
        self._picture = _washed(width_px, height_px, sky)
        self._glows: dict[float, Image.Image] = {}

    def shape(self, outline: list[Pixel], colour: RGB) -> None:
        """A flat shape."""
        large = Image.new("L", (self.width_px * FINE, self.height_px * FINE), 0)
        ImageDraw.Draw(large).polygon([(x * FINE, y * FINE) for x, y in outline], fill=255)
        self._picture.paste(colour, mask=large.reduce(FINE))

    def lines(self, lines: list[list[Pixel]], colour: RGB, *, thick_px: float = 2.0) -> None:
        """Lines of one colour."""
        large = Image.new("L", (self.width_px * FINE, self.height_px * FINE), 0)
        pen = ImageDraw.Draw(large)
        for line in lines:
            pen.line([(x * FINE, y * FINE) for x, y in line], fill=255, width=max(1, round(thick_px * FINE)),
                     joint="curve")
        self._picture.paste(colour, mask=large.reduce(FINE))

    def glow(self, outline: list[Pixel], colour: RGB, *, spread_px: float) -> None:
        """A lit shape with its halo."""
        layer = self._glows.setdefault(spread_px, Image.new("RGB", self._picture.size))
        ImageDraw.Draw(layer).polygon(outline, fill=colour)

    def lamp(self, at: Pixel, colour: RGB, *, radius_px: float = 2.5, spread_px: float = 7.0) -> None:
        """A round lamp with its halo."""
        turns = [2 * math.pi * n / 20 for n in range(20)]
        ring = [(at[0] + radius_px * math.cos(t), at[1] + radius_px * math.sin(t)) for t in turns]
        self.glow(ring, colour, spread_px=spread_px)

    def shine(self) -> None:
        """Lay the glows over what is painted so far."""
        for spread_px, layer in sorted(self._glows.items()):
            halo = layer.filter(ImageFilter.GaussianBlur(spread_px)).point(lambda level: min(255, level * 2))
            core = layer.filter(ImageFilter.GaussianBlur(0.7))
            self._picture = ImageChops.screen(ImageChops.screen(self._picture, halo), core)
        self._glows = {}

    def mirror(self, water_px: int, *, share: float = 0.55) -> None:
        """Fill the foot of the picture, from a height down, with a dim broken image of what stands over it."""
        depth = self.height_px - water_px
        above = self._picture.crop((0, water_px - depth, self.width_px, water_px))
        image = above.transpose(Image.Transpose.FLIP_TOP_BOTTOM).resize((self.width_px, depth * 2)).crop(
            (0, 0, self.width_px, depth)).filter(ImageFilter.GaussianBlur(3))
        for y in range(depth):
            strip = image.crop((0, y, self.width_px, y + 1)).point(lambda level: round(level * share))
            sway = round(3 * math.sin(y * 0.9) * y / depth + 2 * math.sin(y * 0.37))
            self._picture.paste(ImageChops.offset(strip, sway, 0), (0, water_px + y))

    def png(self) -> bytes:
        """The finished picture."""
        return png_bytes(self._picture)


def _washed(width_px: int, height_px: int, sky: tuple[tuple[int, int, int], tuple[int, int, int]]) -> Image.Image:
    """A sky that goes from one colour at the top to another at the foot, in broad steps."""
    picture = Image.new("RGB", (width_px, height_px))
    pen = ImageDraw.Draw(picture)
    for y in range(height_px):
        share = y / height_px
        pen.line([(0, y), (width_px, y)], fill=tuple(
            round(top + share * (foot - top)) for top, foot in zip(*sky, strict=True)))
    return picture
