"""Drawings as SVG in true millimetres."""

from __future__ import annotations

import base64
import math
from collections.abc import Callable
from dataclasses import dataclass
from html import escape

from rushlight.model.sheet import (
    TEXT_SIZES_MM,
    WEIGHTS_MM,
    Arc,
    Band,
    Circle,
    Dimension,
    Drawing,
    Ink,
    Layer,
    Mark,
    Pattern,
    Picture,
    Point,
    Polyline,
    Text,
)
from rushlight.sheets.dimension import dimension_marks
from rushlight.sheets.place import CAP_HEIGHT_EM, anchor_shift, on_circle
from rushlight.sheets.words import label, one_line


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours of one medium."""

    ink: str
    accent: str
    pale: str
    paper: str


PRINT = Palette(ink="#000000", accent="#B4491A", pale="#DADADA", paper="#FFFFFF")
"""Black on white with one accent; the accent prints as a mid grey where there is no colour."""

BANDS: dict[str, str] = {
    "band black": "#111111", "band brown": "#6b3e1e", "band red": "#c8201c", "band orange": "#f07d12",
    "band yellow": "#f6d211", "band green": "#16863a", "band blue": "#1f52b4", "band violet": "#7a3b9c",
    "band grey": "#8a8a8a", "band white": "#ffffff", "band gold": "#b8923a", "band silver": "#b9bcc0",
    "band pink": "#ee9fb5",
}
"""Paint of a resistor's bands on the screen and in print; the names are those of IEC 60062, the shades our own."""

PAPER = Palette(ink="#2A2520", accent="#B4491A", pale="#DDD3BF", paper="#F7F1E5")
"""The warm sheet of a screen by day."""

SOOT = Palette(ink="#E9DFCB", accent="#F08A4B", pale="#3B342C", paper="#14110F")
"""The sheet of a screen by night."""

SANS = "Atkinson Hyperlegible Next"
MONO = "Atkinson Hyperlegible Mono"

_DASHES: dict[Pattern, tuple[float, ...]] = {
    "dashed": (6.0, 4.0), "dotted": (0.01, 3.0), "chain": (9.0, 3.0, 1.0, 3.0),
}
_BAND_DASHES: dict[Pattern, tuple[float, ...]] = {
    "dashed": (2.5, 1.5), "dotted": (0.5, 1.0), "chain": (4.0, 1.0, 1.0, 1.0),
}


def to_svg(drawing: Drawing, palette: Palette = PRINT) -> str:
    """The drawing as an SVG document whose user unit is one millimetre.

    Parameters
    ----------
    drawing : Drawing
        Any drawing; marks beyond its frame are cut off.
    palette : Palette
        Colours of the medium; PRINT is black on white.
    Returns
    -------
    str
        The same text for the same drawing, always. Layers are groups with the class 'layer-<name>'.
    Notes
    -----
    y points up in the drawing and down in SVG: y_svg = height_mm - y.
    """
    w, h = _number(drawing.width_mm), _number(drawing.height_mm)
    writer = _Writer(drawing.key, drawing.height_mm, palette)
    body = "\n".join(writer.layer(layer) for layer in drawing.layers)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{w}mm"'
        f' height="{h}mm" viewBox="0 0 {w} {h}" fill="none" stroke-linecap="round" stroke-linejoin="round">\n'
        f"<title>{_text(drawing.title)}</title>\n"
        f'<defs><clipPath id="{drawing.key}-frame"><rect width="{w}" height="{h}"/></clipPath>'
        f"{_hatch(drawing.key, palette)}</defs>\n"
        f'<g clip-path="url(#{drawing.key}-frame)">\n{body}\n</g>\n</svg>\n'
    )


def _hatch(key: str, palette: Palette) -> str:
    width = _number(WEIGHTS_MM["dimension"])
    return (f'<pattern id="{key}-hatch" width="1.6" height="1.6" patternUnits="userSpaceOnUse"'
            ' patternTransform="rotate(45)">'
            f'<path d="M0.8 0V1.6" stroke="{palette.ink}" stroke-width="{width}" stroke-linecap="butt"/></pattern>')


def _number(value: float) -> str:
    """Shortest decimal to a ten-thousandth of a millimetre."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _text(text: str) -> str:
    return escape(one_line(text), quote=True)


@dataclass(frozen=True, slots=True)
class _Writer:
    """Writes marks of one drawing."""

    key: str
    height_mm: float
    palette: Palette

    def layer(self, layer: Layer) -> str:
        marks = "\n".join(self.mark(mark) for mark in layer.marks)
        return f'<g class="layer-{layer.name}">\n{marks}\n</g>'

    def mark(self, mark: Mark) -> str:
        writers: dict[type, Callable[..., str]] = {
            Polyline: self.polyline, Band: self.band, Circle: self.circle, Arc: self.arc, Text: self.text,
            Dimension: self.dimension, Picture: self.picture,
        }
        return writers[type(mark)](mark)

    def xy(self, point: Point) -> str:
        return f"{_number(point[0])} {_number(self.height_mm - point[1])}"

    def path(self, points: tuple[Point, ...], closed: bool = False) -> str:
        return "M" + "L".join(self.xy(p) for p in points) + ("Z" if closed else "")

    def polyline(self, mark: Polyline) -> str:
        if not mark.points_mm:
            return ""
        return f'<path d="{self.path(mark.points_mm, mark.closed)}"{self.look(mark.ink)}/>'

    def band(self, mark: Band) -> str:
        if not mark.points_mm:
            return ""
        colour = getattr(self.palette, mark.ink.colour)
        dash = _dash(_BAND_DASHES.get(mark.ink.pattern), max(mark.width_mm, 0.5))
        cap = ' stroke-linecap="butt"' if dash else ""
        return (f'<path d="{self.path(mark.points_mm)}" stroke="{colour}"'
                f' stroke-width="{_number(mark.width_mm)}"{dash}{cap}/>')

    def circle(self, mark: Circle) -> str:
        (x, y), r = mark.centre_mm, mark.radius_mm
        return (f'<circle cx="{_number(x)}" cy="{_number(self.height_mm - y)}" r="{_number(r)}"'
                f"{self.look(mark.ink)}/>")

    def arc(self, mark: Arc) -> str:
        sweep = (mark.end_deg - mark.start_deg) % 360.0
        if math.isclose(sweep, 0.0, abs_tol=1e-9):
            return self.circle(Circle(mark.centre_mm, mark.radius_mm, mark.ink))
        start = on_circle(mark.centre_mm, mark.radius_mm, mark.start_deg)
        end = on_circle(mark.centre_mm, mark.radius_mm, mark.end_deg)
        r = _number(mark.radius_mm)
        way = f"M{self.xy(start)}A{r} {r} 0 {int(sweep > 180.0)} 0 {self.xy(end)}"
        return f'<path d="{way}"{self.look(mark.ink)}/>'

    def text(self, mark: Text) -> str:
        size = TEXT_SIZES_MM[mark.size]
        across, up = anchor_shift(mark.anchor)
        anchor = {0.0: "start", 0.5: "middle", 1.0: "end"}[across]
        drop = _number(up * CAP_HEIGHT_EM * size)
        turn = f" rotate({_number(-mark.angle_deg)})" if mark.angle_deg else ""
        weight = ' font-weight="700"' if mark.bold else ""
        family = MONO if mark.mono else SANS
        words = _text(label(mark.text))
        return (f'<text transform="translate({self.xy(mark.at_mm)}){turn}" y="{drop}" text-anchor="{anchor}"'
                f' font-family="{family}" font-size="{_number(size)}"{weight}'
                f' fill="{getattr(self.palette, mark.colour)}">{words}</text>')

    def dimension(self, mark: Dimension) -> str:
        return "\n".join(self.mark(part) for part in dimension_marks(mark))

    def picture(self, mark: Picture) -> str:
        x, y = mark.corner_mm
        w, h, top = mark.width_mm, mark.height_mm, self.height_mm - y - mark.height_mm
        flip = f' transform="translate({_number(2 * x + w)} 0) scale(-1 1)"' if mark.mirrored else ""
        data = base64.b64encode(mark.png).decode("ascii")
        return (f'<image x="{_number(x)}" y="{_number(top)}" width="{_number(w)}" height="{_number(h)}"{flip}'
                f' preserveAspectRatio="none" xlink:href="data:image/png;base64,{data}"/>')

    def look(self, ink: Ink) -> str:
        fill = "" if ink.fill == "none" else f' fill="{self.fill(ink.fill)}"'
        if not ink.stroked:
            return fill
        width = WEIGHTS_MM[ink.weight]
        dash = _dash(_DASHES.get(ink.pattern), max(width, 0.2))
        return f'{fill} stroke="{getattr(self.palette, ink.colour)}" stroke-width="{_number(width)}"{dash}'

    def fill(self, fill: str) -> str:
        if fill == "hatch":
            return f"url(#{self.key}-hatch)"
        return BANDS[fill] if fill in BANDS else str(getattr(self.palette, fill))


def _dash(lengths: tuple[float, ...] | None, width_mm: float) -> str:
    if lengths is None:
        return ""
    return f' stroke-dasharray="{" ".join(_number(length * width_mm) for length in lengths)}"'
