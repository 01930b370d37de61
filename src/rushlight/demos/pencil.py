"""A pencil: wobbling strokes, hatching and lettering on toned paper, the same bytes every time."""

from __future__ import annotations

import hashlib
import io
import math
import random
from importlib.resources import files
from itertools import pairwise

from PIL import Image, ImageChops, ImageDraw, ImageFont

Pixel = tuple[float, float]
"""x to the right, y down, from the top left corner."""

Box = tuple[int, int, int, int]
"""Left, top, right, foot in fine pixels."""

FINE = 3
"""The sheet is drawn this many times larger and then averaged, so that strokes are soft."""

PAPER = (250, 246, 236)
GRAPHITE = (52, 54, 62)
TONES = 16


class Sheet:
    """One pencil drawing. Strokes wobble by a seed taken from the drawing's name.

    Parameters
    ----------
    name : str
        Name of the drawing; two sheets of one name are drawn alike.
    width_px, height_px : int
        Size of the finished picture.
    """

    def __init__(self, name: str, width_px: int, height_px: int) -> None:
        self.width_px, self.height_px = width_px, height_px
        self._hand = random.Random(hashlib.sha256(name.encode()).hexdigest())
        self._tone = Image.new("L", (width_px * FINE, height_px * FINE), 0)

    def stroke(self, points: list[Pixel], *, dark: float = 0.8, thick_px: float = 1.4, wobble_px: float = 0.7) -> None:
        """One pencil line through the points, pressed from 0 (not at all) to 1 (hard)."""
        paths = [self._wobbled(start, end, wobble_px) for start, end in pairwise(points)]
        self._press(paths, dark, thick_px)

    def closed(self, points: list[Pixel], *, dark: float = 0.8, thick_px: float = 1.4, passes: int = 1) -> None:
        """An outline, drawn over more than once if asked, as a hand does."""
        for _ in range(passes):
            self.stroke([*points, points[0]], dark=dark, thick_px=thick_px)

    def circle(self, centre: Pixel, radius_px: float, *, dark: float = 0.8, thick_px: float = 1.2) -> None:
        """A round stroke."""
        turns = [2 * math.pi * n / 24 for n in range(25)]
        self.stroke([(centre[0] + radius_px * math.cos(t), centre[1] + radius_px * math.sin(t)) for t in turns],
                    dark=dark, thick_px=thick_px, wobble_px=0.2)

    def hatch(self, points: list[Pixel], *, gap_px: float = 7.0, dark: float = 0.3, lean: float = 1.0) -> None:
        """Slanting strokes inside an outline."""
        xs, ys = [x for x, _ in points], [y for _, y in points]
        low, high = min(ys), max(ys)
        lines, x = [], min(xs) - abs(lean) * (high - low)
        while x < max(xs) + abs(lean) * (high - low):
            lines.append([(x, high), (x + lean * (high - low), low)])
            x += gap_px * (0.9 + 0.2 * self._hand.random())
        self.within(points, lines, dark=dark)

    def within(self, outline: list[Pixel], lines: list[list[Pixel]], *, dark: float = 0.25) -> None:
        """Faint lines that stop at an outline."""
        paths = [self._wobbled(start, end, 0.5) for line in lines for start, end in pairwise(line)]
        self._press(paths, dark, 1.0, outline)

    def shade(self, outline: list[Pixel], *, dark: float = 0.1) -> None:
        """A flat rubbed tone."""
        box = self._box(outline)
        mask = self._mask(outline, box).point(lambda level: round(level * dark))
        self._lay(mask, box)

    def rub_out(self, outline: list[Pixel]) -> None:
        """Bare paper inside an outline, so that what lies before hides what lies behind."""
        box = self._box(outline)
        self._tone.paste(0, box, self._mask(outline, box))

    def letter(self, at: Pixel, text: str, *, size_px: int = 17, dark: float = 0.75, anchor: str = "la") -> None:
        """Lettering; `anchor` says which point of the text stands at the place, as Pillow's anchors do."""
        font = lettering(size_px * FINE)
        x, y = round(at[0] * FINE), round(at[1] * FINE)
        left, top, right, foot = (round(side) for side in font.getbbox(text, anchor=anchor))
        box = (x + left - 2, y + top - 2, x + right + 2, y + foot + 2)
        layer = Image.new("L", (box[2] - box[0], box[3] - box[1]), 0)
        ImageDraw.Draw(layer).text((x - box[0], y - box[1]), text, fill=round(255 * dark), font=font, anchor=anchor)
        self._lay(layer, box)

    def scale_bar(self, at: Pixel, px_per_mm: float, length_mm: int = 50) -> None:
        """A bar of known length on the model."""
        x, y = at
        for n in range(0, length_mm + 1, 10):
            tick = 8 if n in (0, length_mm) else 5
            self.stroke([(x + n * px_per_mm, y), (x + n * px_per_mm, y - tick)], dark=0.7, wobble_px=0)
        self.stroke([(x, y), (x + length_mm * px_per_mm, y)], dark=0.8, wobble_px=0)
        self.letter((x + length_mm * px_per_mm + 8, y), f"{length_mm} mm", size_px=15, anchor="lm")

    def png(self) -> bytes:
        """The finished picture in sixteen tones."""
        tone = self._tone.reduce(FINE).point(lambda level: min(TONES - 1, (level + 8) // 17))
        picture = tone.convert("L")
        indexed = Image.new("P", picture.size)
        indexed.putdata(list(picture.tobytes()))
        indexed.putpalette([value for n in range(TONES) for value in _between(n / (TONES - 1))])
        return png_bytes(indexed, bits=4)

    def _press(
        self, paths: list[list[Pixel]], dark: float, thick_px: float, inside: list[Pixel] | None = None
    ) -> None:
        """Draw paths with one pressure; what is darker already stays so. `inside` clips them."""
        box = self._box([point for path in paths for point in path] if inside is None else inside)
        layer = Image.new("L", (box[2] - box[0], box[3] - box[1]), 0)
        pen = ImageDraw.Draw(layer)
        for path in paths:
            pen.line([(x * FINE - box[0], y * FINE - box[1]) for x, y in path], fill=round(255 * dark),
                     width=max(1, round(thick_px * FINE)), joint="curve")
        self._lay(layer if inside is None else ImageChops.multiply(layer, self._mask(inside, box)), box)

    def _lay(self, layer: Image.Image, box: Box) -> None:
        self._tone.paste(ImageChops.lighter(self._tone.crop(box), layer), (box[0], box[1]))

    def _box(self, points: list[Pixel]) -> Box:
        """The fine pixels round some points, with room for a stroke's width."""
        xs, ys = [x * FINE for x, _ in points], [y * FINE for _, y in points]
        return (math.floor(min(xs)) - 9, math.floor(min(ys)) - 9, math.ceil(max(xs)) + 9, math.ceil(max(ys)) + 9)

    def _mask(self, outline: list[Pixel], box: Box) -> Image.Image:
        mask = Image.new("L", (box[2] - box[0], box[3] - box[1]), 0)
        ImageDraw.Draw(mask).polygon([(x * FINE - box[0], y * FINE - box[1]) for x, y in outline], fill=255)
        return mask

    def _wobbled(self, start: Pixel, end: Pixel, wobble_px: float) -> list[Pixel]:
        """The way of a hand from one point to the next: true at both ends, a little off between."""
        steps = max(1, round(math.dist(start, end) / 40))
        path = []
        for n in range(steps + 1):
            share = n / steps
            off = 0.0 if n in (0, steps) else wobble_px
            path.append((start[0] + share * (end[0] - start[0]) + off * self._hand.uniform(-1, 1),
                         start[1] + share * (end[1] - start[1]) + off * self._hand.uniform(-1, 1)))
        return path


def lettering(size_px: int) -> ImageFont.FreeTypeFont:
    """The package's own typeface in a size."""
    font = files("rushlight").joinpath("book", "fonts", "AtkinsonHyperlegibleNext-Regular.ttf")
    return ImageFont.truetype(io.BytesIO(font.read_bytes()), size_px, layout_engine=ImageFont.Layout.BASIC)


def png_bytes(picture: Image.Image, *, bits: int = 8) -> bytes:
    """A picture as a PNG file without date or other chunks that change."""
    out = io.BytesIO()
    if bits == 8:
        picture.save(out, "PNG", optimize=True)
    else:
        picture.save(out, "PNG", optimize=True, bits=bits)
    return out.getvalue()


def _between(share: float) -> tuple[int, int, int]:
    """A tone between paper and graphite."""
    red, green, blue = (round(p + share * (g - p)) for p, g in zip(PAPER, GRAPHITE, strict=True))
    return (red, green, blue)
