"""The page for showing a build: drawings, lamp list, a control for the state and the room light, in one HTML file."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from html import escape
from pathlib import Path
from typing import Any

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.plan import State
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Drawing, Picture, Point, Polyline
from rushlight.sheets.dark import Laid, Layout, glow_shape, laid_out, lit_glows, shown_parts
from rushlight.sheets.glow import Glow
from rushlight.sheets.hues import dimmed, swatch
from rushlight.sheets.lamp_list import made_by
from rushlight.sheets.night_pools import ShownPool, paper_pool, shown_pools
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.seen_round import seen_round
from rushlight.sheets.shown import ShownPicture, shown_levels, shown_picture, shown_rhythms
from rushlight.sheets.standing import standing_pictures

HERE = Path(__file__).parent
MODULES = HERE.parent / "web" / "static" / "js"
"""Where the app's own pure modules lie; the page carries some of them."""

SHARED_MODULES = ("room.js", "rhythm.js", "clock.js", "night.js", "later/seen-round.js")
CORE_LEAST_MM = 0.35
"""Least radius of a lamp's edge, as a place to point at; its light has its real size."""
HEADINGS = ("No.", "Lamp", "On", "Colour", "Rhythm", "Made by", "Lit when")
NAME_SHARE = 0.02
"""Size of a part's name as a share of the drawing's width."""

@dataclass(frozen=True, slots=True)
class SharedPicture:
    """A part's picture for the page: a JPEG without any tags, and the box that it covers on the part [mm]."""

    jpeg: bytes
    box_mm: tuple[float, float, float, float]


def share_page(design: Design, pictures: Mapping[str, SharedPicture] | None = None) -> str:
    """The whole page.

    Parameters
    ----------
    design : Design
        What is shown.
    pictures : mapping of str to SharedPicture, optional
        Pictures of parts by the part's name; none: drawings only.
    Returns
    -------
    str
        HTML that asks for nothing outside itself, and may not: its content security policy names the one script and
        the one style by their checksums.
    """
    style, script = (HERE / "page.css").read_text(encoding="utf-8"), _script()
    subject = design.plan.subject
    title = escape(subject.title)
    return "\n".join((
        "<!doctype html>", '<html lang="en">', "<head>", '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_policy(style, script)}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{title}</title>", f"<style>{style}</style>", "</head>", "<body>",
        *_body(design, pictures or {}), f'<script type="application/json" id="lit">{_json(_lit(design))}</script>',
        f"<script>{script}</script>", "</body>", "</html>", "",
    ))


def _policy(style: str, script: str) -> str:
    return (f"default-src 'none'; style-src '{_sum(style)}'; script-src '{_sum(script)}'; img-src data:; "
            "base-uri 'none'; form-action 'none'")


def _sum(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def _script() -> str:
    """The page's script with the app's own pure modules before it, in one closed scope."""
    shared = ((MODULES / name).read_text(encoding="utf-8") for name in SHARED_MODULES)
    texts = [re.sub(r"^(export |import .*)", "", text, flags=re.MULTILINE) for text in shared]
    own = (HERE / "page.js").read_text(encoding="utf-8")
    return "(() => {\n" + "\n".join((*texts, own)) + "})();\n"


def _json(value: Any) -> str:
    """JSON that cannot end its own script element."""
    return json.dumps(value, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


# --- what the script needs ----------------------------------------------------------------------------------------


def _lit(design: Design) -> dict[str, Any]:
    """What shines in every state by the lamp's number, where it stands on the sheet, the eye, the rhythms."""
    numbers, layout, picture = lamp_numbers(design), laid_out(shown_parts(design)), shown_picture(design)
    states: dict[str, dict[int, float]] = {state.name: {} for state in design.plan.states}
    for row in design.light.lamps:
        states[row.state][numbers[row.lamp]] = float(f"{1000 * row.intensity_cd.typical:.5g}")
    return {
        "states": [{"name": state.name, "mcd": states[state.name], **_past_doors(design, state, layout)}
                   for state in design.plan.states],
        "picture": asdict(_as_shown(_without_places(picture), design)),
        "beam_of": {numbers[name]: beam for name, beam in picture.round.beam_of.items()},
        "grounds": [_ground(pool, layout) for pool in shown_pools(design)],
        "sheet_mm": (layout.width_mm, layout.height_mm), "scale": layout.scale,
        "lamps": {numbers[lamp.name]: _lamp(lamp, shape) for lamp, shape in _shapes(design, layout)},
        "rhythms": {text: asdict(rhythm) for text, rhythm in shown_rhythms(design).items()},
        "rhythm_of": {numbers[lamp.name]: lamp.rhythm for lamp in design.lamps if lamp.rhythm != "steady"},
        "all": len(design.lamps),
    }


def _past_doors(design: Design, state: State, layout: Layout) -> dict[str, Any]:
    """Lit lamps of which nothing comes out, by number, and what is seen of openings whose door stands ajar."""
    numbers, seen = lamp_numbers(design), lit_glows(design, state, layout, square_on=True)
    whole = {lamp.name: shape.shape_mm for lamp, shape in _shapes(design, layout)}
    lit = {row.lamp for row in design.light.lamps if row.state == state.name}
    return {
        "behind": [numbers[name] for name in whole if name in lit and name not in seen],
        "shapes": {numbers[name]: [_rounded(point) for point in glow.shape_mm]
                   for name, glow in seen.items() if glow.shape_mm != whole[name]},
    }


def _without_places(shown: ShownPicture) -> ShownPicture:
    """The picture's terms without what the script does not read: places on parts and the lamps behind a ground."""
    return replace(shown, own_hues={}, pools=tuple(replace(pool, lamps=(), edge_mm=()) for pool in shown.pools))


def _as_shown(shown: ShownPicture, design: Design) -> ShownPicture:
    """Flat lamps as the page lays their parts: one drawn from inside is turned over."""
    over = {part.name for part in design.plan.parts if _over(part)}
    beams = tuple(replace(beam, lies=((-beam.lies[0][0], -beam.lies[0][1], -beam.lies[0][2]), beam.lies[1]))
                  if beam.lies and beam.part in over else beam for beam in shown.round.beams)
    return replace(shown, round=replace(shown.round, beams=beams))


def _ground(pool: ShownPool, layout: Layout) -> dict[str, Any] | None:
    """Where floodlit ground lies on the sheet; None where its part is not shown."""
    laid = next((laid for laid in layout.parts if laid.part.name == pool.part), None)
    if laid is None:
        return None
    paper = paper_pool(pool, laid)
    edge = [_rounded(point) for point in paper.edge_mm]
    return {"origin": _rounded(paper.origin_mm), "step": paper.step_mm, "edge": edge}


def _lamp(lamp: PlacedLamp, shape: Glow) -> dict[str, Any]:
    """Place, size and shape on the sheet, millimetres of paper with y up."""
    edge = [_rounded(point) for point in shape.shape_mm]
    told = {"at": _rounded(shape.at_mm), "radius": round(shape.radius_mm, 4), "shape": edge, "colour": lamp.colour.name}
    if shape.xy != (lamp.colour.x, lamp.colour.y):
        told |= {"xy": [round(value, 6) for value in shape.xy]}
    if shape.bands:
        told |= {"bands": shape.bands, "ends": [_rounded(point) for point in shape.ends_mm]}
    return told


def _rounded(point: Point) -> tuple[float, float]:
    return (round(point[0], 4), round(point[1], 4))


def _shapes(design: Design, layout: Layout) -> Iterator[tuple[PlacedLamp, Glow]]:
    places = {laid.part.name: laid for laid in layout.parts}
    for lamp in design.lamps:
        if lamp.spot is not None and lamp.spot.part in places:
            yield lamp, glow_shape(design, lamp, places[lamp.spot.part], None)


# --- the body -----------------------------------------------------------------------------------------------------


def _body(design: Design, pictures: Mapping[str, SharedPicture]) -> Iterator[str]:
    subject = design.plan.subject
    yield f"<header><h1>{escape(subject.title)}</h1><p>{escape(_about(design))}</p></header>"
    yield "<main>"
    yield '<figure class="sheet">'
    yield _drawing(design, pictures)
    yield '<figcaption><p id="says" role="status"></p><p id="terms"></p></figcaption></figure>'
    yield from _controls(design)
    yield from _standing(design)
    yield from _list(design)
    yield "</main>"
    yield ("<footer><p>Each lamp has the size and the strength that were worked out, with the glare that arises in the "
           "eye; of two places the brighter never looks darker. Rhythms that would flash too often to be looked at are "
           "slowed. For models only.</p><noscript><p>Without JavaScript the lamps of the first state are shown as "
           "discs, without their glow.</p></noscript></footer>")


def _about(design: Design) -> str:
    subject, lamps = design.plan.subject, len(design.lamps)
    states = len(design.plan.states)
    words = [f"A model to the scale 1:{subject.scale:g}", f"{lamps} lamp{'' if lamps == 1 else 's'}",
             f"{states} state{'' if states == 1 else 's'}"]
    return ", ".join(words) + "." + (" The subject is invented." if subject.invented else "")


def _controls(design: Design) -> Iterator[str]:
    yield '<form class="controls" id="controls">'
    yield "<fieldset><legend>State</legend>"
    for number, state in enumerate(design.plan.states):
        checked = " checked" if number == 0 else ""
        yield (f'<label><input type="radio" name="state" value="{number}"{checked}> '
               f"<span>{escape(state.name)}</span></label>")
    yield "</fieldset>"
    yield ('<label class="light"><span>Room light</span><input type="range" id="light" min="0" max="1" step="0.01" '
           'value="0"><output id="now" for="light">night</output></label>')
    if seen_round(design).beams:
        yield ('<label class="light"><span>Seen from</span><input type="range" id="turn" min="0" max="360" step="5" '
               'value="0"><output id="way" for="turn"></output></label>')
        yield '<button type="button" id="square">Square on</button>'
    if any(lamp.rhythm != "steady" for lamp in design.lamps):
        yield '<button type="button" id="play" aria-pressed="false">Play the rhythms</button>'
        yield '<span id="pace" role="status"></span>'
    yield "</form>"


def _standing(design: Design) -> Iterator[str]:
    """The book's pictures of the model as it stands, of which the chosen state's is shown."""
    drawings = standing_pictures(design)
    if not drawings:
        return
    yield '<section aria-labelledby="stands"><h2 id="stands">As it stands, in the dark</h2>'
    for number, drawing in enumerate(drawings):
        hidden = " hidden" if number else ""
        yield f'<figure class="stands" data-state="{number}"{hidden}>{_stood(drawing)}'
        yield f"<figcaption><p>{escape(drawing.caption)}</p></figcaption></figure>"
    yield "</section>"


def _stood(drawing: Drawing) -> str:
    """The raster picture with the edges over it; what it shows is told by its title."""
    size = f'viewBox="0 0 {_n(drawing.width_mm)} {_n(drawing.height_mm)}"'
    marks = [mark for layer in drawing.layers for mark in layer.marks]
    edges = "".join(f'<path class="edge" d="{_line(mark.points_mm, drawing.height_mm)}"/>'
                    for mark in marks if isinstance(mark, Polyline))
    images = "".join(f'<image width="{_n(mark.width_mm)}" height="{_n(mark.height_mm)}" '
                     f'href="data:image/png;base64,{base64.b64encode(mark.png).decode()}"/>'
                     for mark in marks if isinstance(mark, Picture))
    return f'<svg {size} role="img"><title>{escape(drawing.title)}</title>{images}<g class="ink">{edges}</g></svg>'


def _line(points: tuple[Point, ...], height_mm: float) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(height_mm - y)}" for x, y in points)


def _list(design: Design) -> Iterator[str]:
    numbers = lamp_numbers(design)
    yield '<section aria-labelledby="lamps"><h2 id="lamps">Lamps</h2>'
    if not design.lamps:
        yield "<p>No lamps yet.</p></section>"
        return
    yield '<div class="scroll" role="region" aria-label="List of lamps" tabindex="0"><table><thead><tr>'
    yield "".join(f'<th scope="col">{word}</th>' for word in HEADINGS)
    yield "</tr></thead><tbody>"
    for lamp in design.lamps:
        yield _row(design, lamp, numbers[lamp.name])
    yield "</tbody></table></div></section>"


def _row(design: Design, lamp: PlacedLamp, number: int) -> str:
    hue = swatch((lamp.colour.x, lamp.colour.y))
    dot = (f'<svg class="dot" viewBox="0 0 12 12" width="12" height="12" aria-hidden="true"><circle cx="6" cy="6" '
           f'r="5" fill="{hue}" stroke="currentColor"/></svg>')
    lit = "stays dark" if lamp.dark else ", ".join(lamp.states)
    cells = (lamp.spot.part if lamp.spot else "not placed", lamp.colour.name, lamp.rhythm,
             made_by(design.source(lamp.name)), lit)
    first = f'<td>{number}</td><th scope="row">{escape(lamp.name)}</th>'
    told = [escape(cell) for cell in cells]
    return f"<tr>{first}<td>{told[0]}</td><td>{dot} {told[1]}</td>" + "".join(
        f"<td>{cell}</td>" for cell in told[2:]) + "</tr>"


# --- the drawing --------------------------------------------------------------------------------------------------


def _drawing(design: Design, pictures: Mapping[str, SharedPicture]) -> str:
    layout = laid_out(shown_parts(design))
    size = f"0 0 {_n(layout.width_mm)} {_n(layout.height_mm)}"
    return "".join((
        '<div class="stage"><canvas id="night" aria-hidden="true"></canvas>',
        f'<svg id="sheet" viewBox="{size}" role="img" aria-labelledby="says">',
        '<rect class="paper" width="100%" height="100%"/>',
        *(_picture(laid, pictures[laid.part.name], layout) for laid in layout.parts if laid.part.name in pictures),
        '<g class="ink">', *(_outline(laid, layout) for laid in layout.parts), "</g>",
        '<g class="lamps">', *_lamps(design, layout), "</g></svg></div>",
    ))


def _lamps(design: Design, layout: Layout) -> Iterator[str]:
    """Each lamp's edge, filled as in the first state until the script takes over."""
    numbers, first = lamp_numbers(design), next(iter(shown_levels(design).values()), {})
    for lamp, shape in _shapes(design, layout):
        seen = _seen(shape, layout, level=first.get(lamp.name, 0.0))
        yield f'<g id="l{numbers[lamp.name]}" {seen}<title>{escape(lamp.name)}</title></g>'


def _seen(shape: Glow, layout: Layout, *, level: float) -> str:
    """What the lamp looks like: its group's own words, and the disc or opening."""
    x, y = _n(shape.at_mm[0]), _n(layout.height_mm - shape.at_mm[1])
    core = f'<path d="{_path(shape.shape_mm, layout)}"' if shape.shape_mm else (
        f'<circle cx="{x}" cy="{y}" r="{_n(max(shape.radius_mm, CORE_LEAST_MM))}"')
    fill = dimmed(shape.xy, level) if level else "none"
    return f'class="{"lit" if level else "dark"}">{core} class="core" fill="{fill}"/>'


def _outline(laid: Laid, layout: Layout) -> str:
    part = laid.part
    openings = "".join(f'<path class="opening" d="{_path(tuple(map(laid.at, row.shape_mm)), layout)}"/>'
                       for row in part.openings)
    size = NAME_SHARE * layout.width_mm
    x, y = laid.corner_mm[0], layout.height_mm - laid.corner_mm[1] + 1.2 * size
    return (f'<path class="edge" d="{_path(tuple(map(laid.at, part.outline_mm)), layout)}"/>{openings}'
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}">{escape(part.name)}</text>')


def _picture(laid: Laid, picture: SharedPicture, layout: Layout) -> str:
    """The picture within the part's edge; one that is drawn from inside is shown from outside, so it is turned over."""
    left, low, right, top = picture.box_mm
    a, b = laid.at((left, top)), laid.at((right, low))
    width, height = abs(b[0] - a[0]), abs(a[1] - b[1])
    x, y = min(a[0], b[0]), layout.height_mm - max(a[1], b[1])
    turned = f' transform="translate({_n(2 * x + width)} 0) scale(-1 1)"' if _over(laid.part) else ""
    data = base64.b64encode(picture.jpeg).decode()
    name = f"c{layout.parts.index(laid)}"
    edge = _path(tuple(map(laid.at, laid.part.outline_mm)), layout)
    return (f'<clipPath id="{name}"><path d="{edge}"/></clipPath><g clip-path="url(#{name})">'
            f'<image class="photo" x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}"{turned} '
            f'preserveAspectRatio="none" href="data:image/jpeg;base64,{data}"/></g>')


def _over(part: Part) -> bool:
    return part.drawn_from != "outside"


def _path(points: tuple[Point, ...], layout: Layout) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(layout.height_mm - y)}" for x, y in points) + "Z"


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") or "0"
