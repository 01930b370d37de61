"""Pictures of the invented subjects, put together from the parts' own outlines, with every mark where its lamp is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rushlight.demos.dusk import RGB, Dusk
from rushlight.demos.pencil import Pixel, Sheet
from rushlight.model.design import PlacedLamp
from rushlight.model.place import Point, Spot
from rushlight.model.plan import Plan, Reference
from rushlight.model.plan_part import Opening
from rushlight.stages.lamps import place_lamps

GLOWS: dict[str, RGB] = {
    "warm white": (255, 206, 132), "incandescent": (255, 190, 110), "cool white": (214, 228, 255),
    "5000 K": (236, 236, 255), "white": (250, 248, 240), "red": (255, 60, 50), "green": (60, 255, 140),
    "yellow": (255, 220, 70), "amber": (255, 170, 40), "candle": (255, 180, 90),
}


@dataclass(frozen=True, slots=True)
class Pane:
    """A piece of a part as it stands in a view: the part's own area, and where its lower left corner falls.

    `level` puts everything on it at one height, for a part seen edge on; `back` turns it left to right.
    """

    part: str
    area_mm: tuple[float, float, float, float]
    left_mm: float
    foot_mm: float
    level: bool = False
    back: bool = False

    def holds(self, spot: Spot) -> bool:
        """Whether a spot lies on this piece."""
        x, y, wide, high = self.area_mm
        return self.part == spot.part and x <= spot.x_mm <= x + wide and y <= spot.y_mm <= y + high

    def place(self, at_mm: Point) -> Point:
        """Where a place on the part stands in the view."""
        across = at_mm[0] - self.area_mm[0]
        along = self.area_mm[2] - across if self.back else across
        return (self.left_mm + along, self.foot_mm + (0.0 if self.level else at_mm[1] - self.area_mm[1]))


@dataclass(frozen=True, slots=True)
class View:
    """A picture's frame: its size, its scale, where its own zero falls, the pieces in it, the state it shows."""

    size_px: tuple[int, int]
    px_per_mm: float
    zero_px: Pixel
    panes: tuple[Pane, ...]
    state: str | None

    def pixel(self, at_mm: Point) -> Pixel:
        """The pixel of a place in the view."""
        return (self.zero_px[0] + self.px_per_mm * at_mm[0], self.zero_px[1] - self.px_per_mm * at_mm[1])

    def pixels(self, points_mm: tuple[Point, ...]) -> list[Pixel]:
        """The pixels of places in the view."""
        return [self.pixel(point) for point in points_mm]

    def spot(self, spot: Spot) -> Pixel | None:
        """The pixel of a spot on a part; None where the view does not show it."""
        pane = next((pane for pane in self.panes if pane.holds(spot)), None)
        return None if pane is None else self.pixel(pane.place(spot.at_mm))


HOUSE_AT_MM = (150.0, 57.0)
MAST_AT_MM = 197.0
ROOF_MM = 109.0
WATER_MM = 30.0

TUG_SIDE = (
    Pane("hull starboard", (0, 0, 300, 70), 0, 0),
    Pane("house", (0, 0, 84, 52), *HOUSE_AT_MM),
    Pane("house", (0, 52, 84, 56), HOUSE_AT_MM[0], ROOF_MM + 4, level=True),
    Pane("mast", (0, 0, 30, 100), MAST_AT_MM - 15, ROOF_MM),
    Pane("crane", (0, 0, 63, 11), 72, 66, back=True),
    Pane("deck", (100, 0, 50, 86), 100, 59, level=True),
)
TUG_ASTERN = (Pane("house", (224, 0, 56, 52), 336, 57),)

LIGHT_FROM_SEA = (
    Pane("tower", (0, 0, 62, 238), 40, 36),
    Pane("cottages", (0, 0, 93, 38), 250, 38),
    Pane("ground", (0, 0, 400, 220), 8, 60, level=True),
    Pane("west mole", (130, 0, 22, 30), 140, 52, level=True),
    Pane("west mole", (115, 0, 15, 30), 125, 44, level=True),
    Pane("west mole", (0, 0, 115, 30), 10, 33, level=True),
    Pane("east mole", (200, 0, 22, 30), 208, 52, level=True, back=True),
    Pane("east mole", (0, 0, 200, 30), 230, 33, level=True, back=True),
)

VIEWS = {
    ("tug", "reference_dusk.png"): View((1180, 850), 3.6, (50, 800), TUG_SIDE, "alongside"),
    ("tug", "reference_arrangement.png"): View((1280, 690), 3.0, (30, 640), TUG_SIDE + TUG_ASTERN, None),
    ("lighthouse", "reference_harbour.png"): View((1200, 800), 2.7, (24, 760), LIGHT_FROM_SEA, "dusk"),
}


def reference_pictures(demo: str, plan: Plan) -> dict[str, bytes]:
    """The PNG files of a demo's reference pictures, by file name."""
    painters: dict[str, Callable[[Plan, View], bytes]] = {
        "reference_dusk.png": _tug_dusk, "reference_arrangement.png": _tug_arrangement,
        "reference_harbour.png": _harbour,
    }
    return {file: painters[file](plan, view) for (owner, file), view in VIEWS.items() if owner == demo}


def lamp_pixels(demo: str, plan: Plan, reference: Reference) -> dict[str, list[Pixel]]:
    """Where on a reference picture each lamp, row or strip is seen; lamps that stay dark are left out."""
    view = VIEWS[demo, reference.file or ""]
    seen: dict[str, list[Pixel]] = {}
    for lamp in place_lamps(plan):
        pixel = view.spot(lamp.spot) if lamp.spot else None
        if pixel is not None and not lamp.dark:
            seen.setdefault(lamp.group, []).append(pixel)
    return seen


def _outline(plan: Plan, pane: Pane, view: View) -> list[Pixel]:
    return [view.pixel(pane.place(point)) for point in plan.part(pane.part).outline_mm]


def _opening(plan: Plan, view: View, lamp: PlacedLamp) -> list[Pixel] | None:
    """The corners of the opening that a lamp is seen through, if the view shows it upright."""
    if lamp.spot is None or lamp.opening is None:
        return None
    pane = next((pane for pane in view.panes if pane.holds(lamp.spot) and not pane.level), None)
    opening = next(one for one in plan.part(lamp.spot.part).openings if one.name == lamp.opening)
    return None if pane is None else [view.pixel(pane.place(point)) for point in opening.shape_mm]


def _light_up(plan: Plan, view: View, painting: Dusk) -> None:
    """Every lamp of the view's state that can be seen in it."""
    for lamp in place_lamps(plan):
        pixel = view.spot(lamp.spot) if lamp.spot else None
        if pixel is None or view.state not in lamp.states:
            continue
        colour = GLOWS[lamp.colour.name]
        corners = _opening(plan, view, lamp)
        if corners:
            painting.glow(corners, _softer(colour), spread_px=8.0)
        else:
            painting.lamp(pixel, colour, radius_px=3.2 if lamp.made_of == "lamps" else 2.2)


def _softer(colour: RGB) -> RGB:
    """A colour for a wide pane, which would else burn out."""
    red, green, blue = (round(level * 0.72) for level in colour)
    return (red, green, blue)


def _tug_dusk(plan: Plan, view: View) -> bytes:
    painting = Dusk(*view.size_px, sky=((24, 30, 58), (126, 92, 96)))
    dark: RGB = (16, 18, 26)
    for points in QUAY_SHEDS:
        painting.shape(view.pixels(points), (34, 32, 50))
    painting.shape(_outline(plan, TUG_SIDE[0], view), (22, 24, 34))
    painting.shape(view.pixels(((150, 57), (234, 57), (234, 109), (150, 109))), (40, 38, 46))
    painting.shape(view.pixels(((147, 108), (238, 108), (238, 111), (147, 111))), dark)
    for points in (FUNNEL, BULWARK, SKYLIGHT_BOX, MAST_SIDE, CRANE_POST):
        painting.shape(view.pixels(points), dark)
    painting.shape(_outline(plan, TUG_SIDE[4], view), dark)
    painting.lines([view.pixels(line) for line in TUG_RIGGING], dark, thick_px=1.4)
    painting.lines([view.pixels(((2, 54), (130, 52.5), (250, 57), (298, 65)))], (52, 46, 52), thick_px=3)
    glass = view.pixels(((112, 60), (145, 60), (143, 63), (114, 63)))
    painting.glow(glass, _softer(GLOWS["warm white"]), spread_px=8.0)
    painting.glow(view.pixels(((250, 64), (252, 64), (252, 66), (250, 66))), (120, 110, 90), spread_px=7.0)
    _light_up(plan, view, painting)
    painting.shine()
    painting.mirror(round(view.pixel((0, WATER_MM))[1]))
    return painting.png()


QUAY_SHEDS: tuple[tuple[Point, ...], ...] = (
    ((-20, 28), (-20, 88), (26, 100), (72, 88), (72, 28)),
    ((72, 28), (72, 70), (128, 70), (128, 28)),
    ((236, 28), (236, 82), (282, 96), (320, 84), (320, 28)),
)
FUNNEL: tuple[Point, ...] = ((158, 109), (176, 109), (174, 134), (160, 134))
BULWARK: tuple[Point, ...] = (
    (0, 57), (60, 55), (60, 62), (2, 64), (0, 64),
)
SKYLIGHT_BOX: tuple[Point, ...] = ((110, 55), (147, 55), (147, 60), (143, 63.5), (114, 63.5), (110, 60))
CRANE_POST: tuple[Point, ...] = ((126, 55.5), (132, 55.5), (131, 68), (127, 68))
MAST_SIDE: tuple[Point, ...] = ((195, 109), (199.5, 109), (198, 209), (196.4, 209))
TUG_RIGGING: tuple[tuple[Point, ...], ...] = (
    ((197, 207), (294, 69)), ((197, 200), (153, 111)), ((129, 77), (129, 83), (84, 74)),
    ((26, 57), (26, 66), (30, 66)), ((270, 62), (270, 72), (298, 78), (298, 70)), ((284, 66), (284, 75)),
)


def _tug_arrangement(plan: Plan, view: View) -> bytes:
    sheet = Sheet("arrangement", *view.size_px)
    for pane in TUG_SIDE[:2]:
        corners = _outline(plan, pane, view) if pane.part != "house" else _wall(view, pane)
        sheet.shade(corners, dark=0.08)
        sheet.closed(corners, passes=2)
    for points in (FUNNEL, SKYLIGHT_BOX, MAST_SIDE, CRANE_POST):
        sheet.rub_out(view.pixels(points))
        sheet.closed(view.pixels(points), dark=0.7, thick_px=1.2)
    sheet.hatch(view.pixels(FUNNEL), dark=0.3)
    sheet.closed(_outline(plan, TUG_SIDE[4], view), dark=0.7, thick_px=1.2)
    for line in (*TUG_RIGGING, ((0, 52), (130, 50.5), (250, 55), (298, 63))):
        sheet.stroke(view.pixels(line), dark=0.45, thick_px=1.0)
    sheet.stroke(view.pixels(((-8, WATER_MM), (308, WATER_MM))), dark=0.4, thick_px=1.0)
    _stern_view(sheet, view)
    for opening, corners in _seen_openings(plan, view):
        sheet.hatch(corners, gap_px=6, dark=0.25) if opening.diffusers else sheet.shade(corners, dark=0.3)
        sheet.closed(corners, dark=0.65, thick_px=1.0)
    for pixel in _fittings(plan, view):
        sheet.rub_out([(pixel[0] - 4, pixel[1] - 4), (pixel[0] + 4, pixel[1] - 4), (pixel[0] + 4, pixel[1] + 4),
                       (pixel[0] - 4, pixel[1] + 4)])
        sheet.circle(pixel, 4.0, dark=0.95, thick_px=1.5)
    sheet.letter((30, 22), "Tembrisk: side and stern", size_px=24)
    sheet.letter((30, 52), "An invented tug, drawn by a script", size_px=16, dark=0.6)
    sheet.scale_bar((30, view.size_px[1] - 20), view.px_per_mm)
    return sheet.png()


def _wall(view: View, pane: Pane) -> list[Pixel]:
    _, _, wide, high = pane.area_mm
    left, foot = pane.left_mm, pane.foot_mm
    return view.pixels(((left, foot), (left + wide, foot), (left + wide, foot + high), (left, foot + high)))


def _stern_view(sheet: Sheet, view: View) -> None:
    """The tug from astern: port on the left."""
    middle = 364.0
    half = ((0, 0), (30, 8), (41, 30), (43, 57))
    ring = [(middle + x, y) for x, y in half] + [(middle - x, y) for x, y in reversed(half)]
    for outline in (view.pixels(tuple(ring)), _wall(view, TUG_ASTERN[0])):
        sheet.shade(outline, dark=0.08)
        sheet.closed(outline, passes=2)
    mast = view.pixels(((middle - 3, 109), (middle + 3, 109), (middle + 2, 209), (middle - 2, 209)))
    sheet.closed(mast, dark=0.7, thick_px=1.2)
    sheet.stroke(view.pixels(((middle - 15, 180), (middle + 15, 180))), dark=0.7)
    sheet.stroke(view.pixels(((middle - 50, WATER_MM), (middle + 50, WATER_MM))), dark=0.4, thick_px=1.0)
    door = view.pixels(((360, 57), (369, 57), (369, 77), (360, 77)))
    sheet.closed(door, dark=0.5, thick_px=1.0)


def _seen_openings(plan: Plan, view: View) -> list[tuple[Opening, list[Pixel]]]:
    found = []
    for pane in view.panes:
        for opening in plan.part(pane.part).openings:
            if not pane.level and all(pane.holds(Spot(pane.part, *point)) for point in opening.shape_mm):
                found.append((opening, [view.pixel(pane.place(point)) for point in opening.shape_mm]))
    return found


def _fittings(plan: Plan, view: View) -> list[Pixel]:
    """Where single lamps and the lamps of rows are seen."""
    spots = [lamp.spot for lamp in place_lamps(plan) if lamp.spot and lamp.opening is None]
    return [pixel for spot in spots if (pixel := view.spot(spot)) is not None]


def _harbour(plan: Plan, view: View) -> bytes:
    painting = Dusk(*view.size_px, sky=((18, 26, 54), (150, 104, 92)))
    dark: RGB = (18, 20, 28)
    painting.shape(view.pixels(HILLS), (40, 42, 64))
    painting.shape(view.pixels(SHORE), (26, 28, 38))
    painting.shape(_outline(plan, LIGHT_FROM_SEA[0], view), (86, 84, 92))
    for low_mm, high_mm in ((42, 80), (114, 150)):
        painting.shape(_band(view, low_mm, high_mm), (120, 52, 50))
    painting.shape(view.pixels(((250, 38), (343, 38), (343, 59), (250, 59))), (70, 68, 76))
    painting.shape(view.pixels(((246, 58), (347, 58), (336, 76), (257, 76))), dark)
    painting.shape(view.pixels(((274, 74), (280, 74), (280, 84), (274, 84))), dark)
    painting.shape(view.pixels(((313, 74), (319, 74), (319, 84), (313, 84))), dark)
    posts = [view.pixels(((x, 34), (x, 60))) for x in (68, 124, 180, 236, 292, 348)]
    painting.lines(posts, dark, thick_px=2)
    painting.shape(view.pixels(((-12, 12), (148, 12), (162, 16), (162, 26), (-12, 26))), (14, 16, 24))
    painting.shape(view.pixels(((450, 12), (222, 12), (208, 16), (208, 26), (450, 26))), (14, 16, 24))
    for points in MOLE_TOWERS:
        painting.shape(view.pixels(points), (14, 16, 24))
    painting.glow(view.pixels(((71, 253), (-12, 266), (-12, 246))), (16, 16, 13), spread_px=10.0)
    painting.glow(view.pixels(((71, 253), (450, 284), (450, 232))), (16, 16, 13), spread_px=10.0)
    _light_up(plan, view, painting)
    painting.shine()
    painting.mirror(round(view.pixel((0, 14))[1]), share=0.5)
    return painting.png()


def _band(view: View, low_mm: float, high_mm: float) -> list[Pixel]:
    """A painted band round the tower, between two heights over its foot."""
    tower = LIGHT_FROM_SEA[0]
    low_in, high_in = 10 * low_mm / 196, 10 * high_mm / 196
    corners = ((low_in, low_mm), (62 - low_in, low_mm), (62 - high_in, high_mm), (high_in, high_mm))
    return [view.pixel(tower.place(corner)) for corner in corners]


HILLS: tuple[Point, ...] = (
    (-12, 20), (-12, 70), (40, 96), (110, 84), (190, 60), (260, 92), (330, 120), (390, 104), (450, 84), (450, 20),
)
SHORE: tuple[Point, ...] = ((-12, 10), (-12, 36), (120, 38), (450, 38), (450, 10))
MOLE_TOWERS: tuple[tuple[Point, ...], ...] = (
    ((144, 26), (152, 26), (150.5, 51), (145.5, 51)), ((218, 26), (226, 26), (224.5, 51), (219.5, 51)),
    ((132.5, 26), (135.5, 26), (135.5, 43), (132.5, 43)),
)
