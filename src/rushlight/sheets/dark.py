"""A picture of each state in the dark: parts laid out on soot, lamps glowing at their places."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from rushlight.model.design import Design, PlacedLamp
from rushlight.model.design_light import LampLight
from rushlight.model.plan import State
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Circle, Drawing, Ink, Layer, Mark, Picture, Point, Polyline, Sheet, Text
from rushlight.optics.display import decoded, luminance_of
from rushlight.optics.glare import AGE_YEARS
from rushlight.optics.night import ground_light
from rushlight.optics.toward import seen_aslant
from rushlight.sheets.amounts import amount, sentence
from rushlight.sheets.glow import SOOT, Glow, View, glow_png
from rushlight.sheets.night_pools import bands_of, hue_of, paper_pools
from rushlight.sheets.night_words import night_words, turned_away
from rushlight.sheets.place import SCALES
from rushlight.sheets.words import shortened, slug
from rushlight.stages.outlook import Outlook, eye_of, outlook
from rushlight.stages.poses import free_shape

WIDE_MM, HIGH_MM = 174.0, 224.0
GAP_MM = 7.0
EDGE_MM = 6.0
COVER_HIGH_MM = 95.0
NAME_MM = 5.0
"""Room below the lowest shelf for the names of its parts, and under those for the state's."""
GROUND_REFLECTANCE = 0.5
"""Of the ground that the pictures stand on, when their room light is told in lux: the grey of bare plastic."""

LARGEST_SCALE = 2.0
SMALL_SCALES = (0.005, 0.002, 0.001, 0.0005, 0.0001)
"""Below the usual scales, for parts of many metres."""

PART = Ink("dimension", colour="pale")
UNLIT = Ink("dimension", colour="pale")


@dataclass(frozen=True, slots=True)
class Laid:
    """One part's place on the picture."""

    part: Part
    corner_mm: Point
    scale: float

    def at(self, point: Point) -> Point:
        """Where a point of the part lands; a part drawn from inside is shown turned to its outer side."""
        left, right, low, _ = _box(self.part)
        x = point[0] - left if self.part.drawn_from == "outside" else right - point[0]
        return (self.corner_mm[0] + x * self.scale, self.corner_mm[1] + (point[1] - low) * self.scale)

    def way(self, way: Point) -> Point:
        """A way on the part, turned as `at` turns its places, in its own length."""
        return way if self.part.drawn_from == "outside" else (-way[0], way[1])


@dataclass(frozen=True, slots=True)
class Layout:
    """All parts on one plate."""

    parts: tuple[Laid, ...]
    width_mm: float
    height_mm: float
    scale: float


def draw(design: Design) -> tuple[Sheet, ...]:
    """One picture a state."""
    layout = laid_out(shown_parts(design))
    pictures = tuple(picture(design, state, layout) for state in design.plan.states)
    return (Sheet("dark", "In the dark", pictures),)


def shown_parts(design: Design) -> tuple[Part, ...]:
    """Parts that carry a lamp or that floodlights light; all of them where none does."""
    lit = {lamp.spot.part for lamp in design.lamps if lamp.spot} | {row.part for row in design.light.grounds}
    return tuple(part for part in design.plan.parts if part.name in lit) or design.plan.parts


def cover(design: Design) -> Drawing | None:
    """The state with the most lamps lit, without words; None where nothing is lit."""
    counts = {state.name: sum(row.state == state.name for row in design.light.lamps) for state in design.plan.states}
    best = max(design.plan.states, key=lambda state: counts[state.name])
    if not counts[best.name]:
        return None
    layout = laid_out(shown_parts(design), (WIDE_MM, COVER_HIGH_MM))
    drawn = picture(design, best, layout)
    kept = tuple(layer for layer in drawn.layers if layer.name != "text")
    return replace(drawn, key="cover", title=sentence(best.name), layers=kept, caption="", scale=None)


# --- layout -------------------------------------------------------------------------------------------------------


def laid_out(parts: tuple[Part, ...], room_mm: tuple[float, float] = (WIDE_MM, HIGH_MM)) -> Layout:
    """Parts in shelves at the largest usual scale at which the plate fits a page."""
    for scale in (*(s for s in SCALES if s <= LARGEST_SCALE), *SMALL_SCALES):
        layout = _shelved(parts, scale)
        if layout.width_mm <= room_mm[0] and layout.height_mm <= room_mm[1]:
            return layout
    return _shelved(parts, SMALL_SCALES[-1])


def _shelved(parts: tuple[Part, ...], scale: float) -> Layout:
    """Rows from the top down, each part beside the last while there is room."""
    places: list[tuple[Part, Point]] = []
    x, y, shelf, widest = EDGE_MM, -EDGE_MM, 0.0, 0.0
    for part in parts:
        width, height = _size(part, scale)
        if x > EDGE_MM and x + width > WIDE_MM - EDGE_MM:
            x, y, shelf = EDGE_MM, y - shelf - GAP_MM, 0.0
        places.append((part, (x, y - height)))
        x += width + GAP_MM
        shelf, widest = max(shelf, height), max(widest, x - GAP_MM)
    high = -(y - shelf) + EDGE_MM + NAME_MM
    laid = tuple(Laid(part, (left, low + high), scale) for part, (left, low) in places)
    return Layout(laid, widest + EDGE_MM, high, scale)


def _size(part: Part, scale: float) -> tuple[float, float]:
    left, right, low, top = _box(part)
    return ((right - left) * scale, (top - low) * scale)


def _box(part: Part) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in part.outline_mm], [p[1] for p in part.outline_mm]
    return min(xs), max(xs), min(ys), max(ys)


# --- the picture --------------------------------------------------------------------------------------------------


def picture(design: Design, state: State, layout: Layout) -> Drawing:
    """One state on soot."""
    view = View(layout.scale, design.plan.subject.viewing_distance_mm, half_cd_m2(design))
    pools = paper_pools(design, state.name, layout)
    png = glow_png(glows(design, state, layout), layout.width_mm, layout.height_mm, view, pools)
    layers = (
        Layer("picture", (Picture((0.0, 0.0), layout.width_mm, layout.height_mm, png),)),
        Layer("outline", tuple(_outline(laid) for laid in layout.parts)),
        Layer("lamps", unlit(design, state, layout)),
        Layer("text", (_state_name(state, layout), *(_name(laid) for laid in layout.parts))),
    )
    words = (f"dark-{slug(state.name)}", sentence(state.name))
    return Drawing(*words, layout.width_mm, layout.height_mm, layers, scale=layout.scale,
                   caption=_caption(design, state))


def _caption(design: Design, state: State) -> str:
    lit = sum(state.name in lamp.states and not lamp.dark for lamp in design.lamps)
    poses = "".join(f"; {pose.part} {pose.at}" for pose in state.poses)
    words = f"{view_words(design)} {night_words(design, state.name, shown_parts(design))}".rstrip()
    return f"{lit} of {len(design.lamps)} lamps lit{poses}. {words} Thin rings are lamps that show no light."


def view_words(design: Design) -> str:
    """What a picture by night takes for granted, in words."""
    half = half_cd_m2(design)
    ground_lx = math.pi * float(luminance_of(ground_light(decoded(SOOT), half))) / GROUND_REFLECTANCE
    distance = amount(design.plan.subject.viewing_distance_mm, "mm", 3)
    return (f"As seen from {distance} by an eye of {AGE_YEARS:g} years, with the glare that arises in it. Exposed so "
            f"that {amount(half, 'cd/m2')} shows at half of white (r / (1 + r), r the root); the ground as in a room "
            f"of {amount(ground_lx, 'lx')}.")


def half_cd_m2(design: Design) -> float:
    """The luminance that is shown at half of white: the middle one of all lamps in all states, of those that send light
    to the plan's eye where it has a place and any do."""
    lit = [row for row in design.light.lamps if row.luminance_cd_m2.typical > 0]
    eye = eye_of(design.plan)
    shares = {} if eye is None else {state.name: outlook(design, state.name, eye).lamps for state in design.plan.states}
    seen = [row for row in lit if shares.get(row.state, {}).get(row.lamp, 1.0) > 0.0]
    found = sorted(row.luminance_cd_m2.typical for row in seen or lit)
    return found[len(found) // 2] if found else 1000.0


def glows(design: Design, state: State, layout: Layout) -> tuple[Glow, ...]:
    """Every lamp that is lit in the state and has light worked out."""
    return tuple(lit_glows(design, state, layout).values())


def lit_glows(design: Design, state: State, layout: Layout, *, square_on: bool = False) -> dict[str, Glow]:
    """The same by the lamp's name; `square_on` as if each part were looked at so, whatever the plan says."""
    look = outlook(design, state.name, None if square_on else eye_of(design.plan))
    lights = seen_lights(design, state.name, look)
    places = {laid.part.name: laid for laid in layout.parts}
    return {
        lamp.name: _leant(glow_shape(design, lamp, laid, lights[lamp.name]), laid.way(look.leans[lamp.name]))
        if lamp.name in look.leans else glow_shape(design, lamp, laid, lights[lamp.name])
        for lamp in design.lamps if lamp.name in lights and lamp.spot and (laid := places.get(lamp.spot.part))
    }


def _leant(glow: Glow, lean: Point) -> Glow:
    """A flat lamp as narrow as it is seen."""
    if not glow.shape_mm:
        return replace(glow, lean=lean)
    xs, ys = zip(*glow.shape_mm, strict=True)
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    start, end = seen_aslant(glow.ends_mm, lean, about=middle)
    return replace(glow, shape_mm=seen_aslant(glow.shape_mm, lean, about=middle), ends_mm=(start, end))


def seen_lights(design: Design, state: str, look: Outlook) -> dict[str, LampLight]:
    """Lamps of which an eye sees something in a state, by name, with the intensity that they send there."""
    shares = look.lamps
    rows = [row for row in design.light.lamps if row.state == state and not _shut(design, row)]
    return {row.lamp: replace(row, intensity_cd=row.intensity_cd.times(shares.get(row.lamp, 1.0)))
            for row in rows if shares.get(row.lamp, 1.0) > 0.0}


def _shut(design: Design, light: LampLight) -> bool:
    """Whether nothing of it comes out in its state: the door before it is shut, or it shines inward."""
    lamp = design.lamp(light.lamp)
    return turned_away(design, lamp) or (light.luminance_cd_m2.high <= 0.0 and _fills(design, lamp))


def glow_shape(design: Design, lamp: PlacedLamp, laid: Laid, light: LampLight | None) -> Glow:
    """Where a placed lamp is seen, as what, and how strong; without its light the whole opening that it fills."""
    assert lamp.spot is not None
    opening = next((row for row in laid.part.openings if row.name == lamp.opening), None)
    shape: tuple[Point, ...] = ()
    if opening and _fills(design, lamp):
        free = free_shape(design.plan, opening, light.state) if light else opening.shape_mm
        shape = tuple(laid.at(point) for point in free)
    radius = design.source(lamp.name).seen_mm * laid.scale / 2
    strength_cd = light.intensity_cd.typical if light else 0.0
    glow = Glow(laid.at(lamp.spot.at_mm), radius, hue_of(design, lamp), strength_cd, shape)
    banded = bands_of(design, lamp.name) if shape else None
    if banded is None:
        return glow
    start, end = banded.ends_mm
    return replace(glow, bands=banded.values, ends_mm=(laid.at(start), laid.at(end)))


def _fills(design: Design, lamp: PlacedLamp) -> bool:
    return design.source(lamp.name).kind in ("strip", "room")


def unlit(design: Design, state: State, layout: Layout) -> tuple[Mark, ...]:
    """Thin rings, and thin edges of openings, for lamps that are dark in the state."""
    lights = seen_lights(design, state.name, outlook(design, state.name, eye_of(design.plan)))
    places = {laid.part.name: laid for laid in layout.parts}
    marks: list[Mark] = []
    for lamp in design.lamps:
        if lamp.name in lights or lamp.spot is None or lamp.spot.part not in places:
            continue
        laid = places[lamp.spot.part]
        radius = max(design.source(lamp.name).seen_mm * laid.scale / 2, 0.4)
        opening = next((row for row in laid.part.openings if row.name == lamp.opening), None)
        if opening and _fills(design, lamp):
            marks.append(Polyline(tuple(laid.at(point) for point in opening.shape_mm), UNLIT, closed=True))
        else:
            marks.append(Circle(laid.at(lamp.spot.at_mm), radius, UNLIT))
    return tuple(marks)


def _outline(laid: Laid) -> Polyline:
    return Polyline(tuple(laid.at(point) for point in laid.part.outline_mm), PART, closed=True)


def _state_name(state: State, layout: Layout) -> Text:
    at = (layout.width_mm - EDGE_MM, EDGE_MM / 2)
    return Text(at, shortened(sentence(state.name), 40), size=4, anchor="se", colour="pale")


def _name(laid: Laid) -> Text:
    at = (laid.corner_mm[0], laid.corner_mm[1] - 1.0)
    return Text(at, shortened(laid.part.name, 40), size=1, anchor="nw", colour="pale")
