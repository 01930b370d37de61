"""The parts of a plan: outline, openings, keep-outs, bays, relief, picture. Frozen values, keys of plan.yaml."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rushlight.model.place import Point
from rushlight.model.schema import (
    FLAG,
    LENGTH_MM,
    NAME,
    NOTE,
    OUTLINE,
    PIXEL,
    PLACE_MM,
    POINT,
    POSITIVE_MM,
    TEXT,
    Kind,
    choice,
    item,
    items,
    key,
    quantity,
    ref,
    refs,
)

WAY = choice("ahead", "starboard", "astern", "port", "up", "down")


@dataclass(frozen=True, slots=True, kw_only=True)
class Diffuser:
    """One sheet behind an opening."""

    sheet: str = key(ref("drawer.diffusers"), "Row of the drawer's diffusers.")
    gap_mm: float = key(LENGTH_MM, "Free gap between this sheet and what lies before it (opening or sheet).", 0.0)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """The moving part that shuts an opening. In a pose of value 0 it is shut."""

    part: str = key(ref("parts"), "The moving part; its poses say how far it is turned or slid.")
    moves: str = key(choice("turns", "slides"), "turns about an edge (degrees) or slides along (mm).", "turns")
    edge: str = key(
        choice("left", "right", "bottom", "top"), "The edge that it hangs on, or towards which it slides.", "left"
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A window or clear part in a part."""

    name: str = key(NAME, "Name of the opening, unique in its part.")
    outline_mm: tuple[Point, ...] = key(OUTLINE, "Corners of the opening.", ())
    rect_mm: tuple[float, float, float, float] | None = key(
        Kind("rect", "mm"), "Instead of corners: x, y of the lower left corner, width, height.", None
    )
    centre_mm: Point | None = key(POINT, "Instead of corners: centre of a round one.", None)
    radius_mm: float | None = key(POSITIVE_MM, "Radius of a round one.", None)
    clear: bool = key(FLAG, "True if a clear part sits in it.", True)
    diffusers: tuple[Diffuser, ...] = key(items(Diffuser), "Sheets behind it, from the outside inward.", ())
    posts_mm: tuple[Point, ...] = key(
        Kind("points", "mm"), "Feet of posts between light and opening that could cast a shadow.", ()
    )
    posts_width_mm: float = key(
        POSITIVE_MM, "Width of those posts, where no post among the part's keep-outs stands there.", 2.0
    )
    door: Door | None = key(item(Door), "Door, hatch or shutter before it, if it has one.", None)
    note: str = key(TEXT, NOTE, "")

    @property
    def shape_mm(self) -> tuple[Point, ...]:
        """Corners of the opening, whichever way it was given; a round one as 24 corners on its circle."""
        return corners_of(self.outline_mm, self.rect_mm, self.centre_mm, self.radius_mm)

    @property
    def middle_mm(self) -> Point:
        """Middle of the box round it: where it is said to be."""
        across, up = zip(*self.shape_mm, strict=True)
        return (min(across) + max(across)) / 2, (min(up) + max(up)) / 2


def corners_of(
    outline_mm: tuple[Point, ...], rect_mm: tuple[float, float, float, float] | None, centre_mm: Point | None,
    radius_mm: float | None,
) -> tuple[Point, ...]:
    """Corners of a shape, whichever way it was given; a round one as 24 corners on its circle."""
    if centre_mm is not None and radius_mm is not None:
        turns = [math.radians(15 * k) for k in range(24)]
        return tuple((centre_mm[0] + radius_mm * math.cos(turn), centre_mm[1] + radius_mm * math.sin(turn))
                     for turn in turns)
    if rect_mm is not None:
        x, y, width, height = rect_mm
        return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return outline_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOut:
    """A region of a part's inner side where nothing may run or sit."""

    name: str = key(NAME, "Name of the keep-out, unique in its part.")
    why: str = key(
        choice("post", "bay", "sweep", "mating edge", "mechanism", "clear part", "other"), "What is there.", "other"
    )
    outline_mm: tuple[Point, ...] = key(OUTLINE, "Corners.", ())
    rect_mm: tuple[float, float, float, float] | None = key(
        Kind("rect", "mm"), "Instead of corners: x, y, width, height.", None
    )
    centre_mm: Point | None = key(POINT, "Instead of corners: centre of a round one.", None)
    radius_mm: float | None = key(POSITIVE_MM, "Radius of a round one.", None)
    height_mm: float | None = key(
        POSITIVE_MM, "How high it stands over the part's outer face; it then throws shadows in floodlight.", None
    )
    note: str = key(TEXT, NOTE, "")

    @property
    def shape_mm(self) -> tuple[Point, ...]:
        """Corners as they are drawn, whichever way it was given; a round one as 24 corners on its circle."""
        return corners_of(self.outline_mm, self.rect_mm, self.centre_mm, self.radius_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """What stands on a part's outer face, or hangs over it: it throws a shadow in floodlight."""

    name: str = key(NAME, "Name of the obstacle, unique in its part.")
    outline_mm: tuple[Point, ...] = key(OUTLINE, "Corners of the ground it stands on or hangs over.", ())
    rect_mm: tuple[float, float, float, float] | None = key(
        Kind("rect", "mm"), "Instead of corners: x, y, width, height.", None
    )
    centre_mm: Point | None = key(POINT, "Instead of corners: centre of a round one.", None)
    radius_mm: float | None = key(POSITIVE_MM, "Radius of a round one.", None)
    height_mm: float = key(POSITIVE_MM, "Height of its top over the outer face.")
    above_mm: float = key(LENGTH_MM, "Free height under it, if it hangs: a boom, a roof.", 0.0)
    moves_with: str | None = key(ref("parts"), "The moving part that it is; drawn as it stands at pose value 0.", None)
    pivot_mm: Point | None = key(POINT, "Point that it turns about, anticlockwise by the pose's degrees.", None)
    slide_deg: float | None = key(
        quantity("deg", -360, 360), "Instead of a pivot: the way it slides by the pose's millimetres, 0 = right.", None
    )
    note: str = key(TEXT, NOTE, "")

    @property
    def shape_mm(self) -> tuple[Point, ...]:
        """Corners as they are drawn, whichever way it was given."""
        return corners_of(self.outline_mm, self.rect_mm, self.centre_mm, self.radius_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """The place for the supply, the switch, a board."""

    name: str = key(NAME, "Name of the bay, unique in the plan.")
    rect_mm: tuple[float, float, float, float] = key(Kind("rect", "mm"), "x, y, width, height on the part.")
    depth_mm: float = key(POSITIVE_MM, "Free depth behind the part.")
    access: str = key(
        choice("screwed hatch", "magnet hatch", "open", "plug outside", "sealed"),
        "How it is reached after close-up.",
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """Depth of the part's inner side at one point."""

    at_mm: Point = key(POINT, "Where.")
    height_mm: float = key(PLACE_MM, "Height over the part's plane.")


@dataclass(frozen=True, slots=True, kw_only=True)
class StringLength:
    """A string laid along the inner side between two marks."""

    from_mm: Point = key(POINT, "First mark.")
    to_mm: Point = key(POINT, "Second mark.")
    length_mm: float = key(POSITIVE_MM, "Length of the string between them.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A wall of the part that is drawn folded flat."""

    from_mm: Point = key(POINT, "One end of the fold line.")
    to_mm: Point = key(POINT, "Other end of the fold line.")
    angle_deg: float = key(quantity("deg", 0, 180), "How far it stands up in truth.", 90.0)
    towards: str | None = key(
        choice("inside", "outside"), "To which face of the part it is folded; its shadow is known only with it.", None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """What is known of a part's depth."""

    flat: bool = key(FLAG, "True if the inner side is flat.", False)
    heights: tuple[Height, ...] = key(items(Height), "Heights at points.", ())
    strings: tuple[StringLength, ...] = key(items(StringLength), "String lengths between marks.", ())
    folds: tuple[Fold, ...] = key(items(Fold), "Walls drawn folded flat.", ())

    @property
    def known(self) -> bool:
        """Whether anything is known."""
        return self.flat or bool(self.heights or self.strings or self.folds)


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturePoint:
    """A point of a picture whose place on the part is known."""

    pixel: Point = key(PIXEL, "x, y in pixels from the top left corner of the picture as it is looked at.")
    at_mm: Point = key(POINT, "The same point on the part, before the picture is turned.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureCheck:
    """A distance that was measured on the part and can be seen on its picture: it proves the picture's scale."""

    from_px: Point = key(PIXEL, "One end of it on the picture.")
    to_px: Point = key(PIXEL, "The other end.")
    length_mm: float = key(POSITIVE_MM, "Length as measured on the part.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photograph or drawing that a part lies on, with its calibration."""

    file: str = key(Kind("file"), "File in the plan's folder pictures/.")
    points: tuple[PicturePoint, ...] = key(items(PicturePoint), "Two points, or four and more to rectify.", ())
    mirrored: bool = key(
        FLAG, "True if the picture shows the other side; with four points and more, they decide.", False
    )
    turned_deg: float = key(
        quantity("deg", -360, 360),
        "Turn of the picture round the part's zero, anticlockwise, after its points laid it.", 0.0,
    )
    checks: tuple[PictureCheck, ...] = key(items(PictureCheck), "Measured distances that prove its scale.", ())
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPose:
    """One named stand of a moving part."""

    name: str = key(NAME, "Name of the pose: shut, open, slewed to port.")
    value: float = key(Kind("number", low=-100_000, high=100_000), "Degrees for a pivot, millimetres for a slide.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a part stands over the outer face of another, in its pose of value 0; its pose moves it from there."""

    over: str = key(ref("parts"), "The part that it stands on, or hangs over.")
    points_mm: tuple[Point, ...] = key(Kind("points", "mm"), "Two points of its own drawing: its foot line, as a rule.")
    at_mm: tuple[Point, ...] = key(Kind("points", "mm"), "Where these two lie on the other part, as far apart.")
    above_mm: float = key(PLACE_MM, "Height of the two over its outer face.", 0.0)
    up_deg: float = key(
        quantity("deg", 0, 180), "How far it is turned up about their line: 0 lies flat, 90 upright.", 90.0
    )
    pivot_mm: Point | None = key(POINT, "Point that it turns about, anticlockwise by the pose's degrees.", None)
    slide_deg: float | None = key(
        quantity("deg", -360, 360), "Instead of a pivot: the way it slides by the pose's millimetres, 0 = right.", None
    )
    tips: bool = key(FLAG, "Instead of a pivot: True if it tips up about the line of the two by the degrees.", False)

    @property
    def moves(self) -> bool:
        """Whether it says how the part moves."""
        return self.pivot_mm is not None or self.slide_deg is not None or self.tips


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One kit part."""

    name: str = key(NAME, "Name of the part.")
    outline_mm: tuple[Point, ...] = key(OUTLINE, "Corners of the part.")
    drawn_from: str = key(choice("outside", "inside"), "The side from which it is drawn.", "outside")
    wall: str = key(ref("drawer.walls"), "Material: a row of the drawer's walls.", "white styrene")
    wall_mm: float = key(quantity("mm", 0.05, 50), "Wall thickness.", 1.2)
    wall_colour: str | None = key(
        Kind("colour"), "Colour in which it glows with white light behind it; left out, in that of the LEDs.", None
    )
    coats: tuple[str, ...] = key(refs("drawer.coats"), "Coats inside, in the order they are put on.", ())
    openings: tuple[Opening, ...] = key(items(Opening), "Windows and clear parts.", ())
    keep_outs: tuple[KeepOut, ...] = key(items(KeepOut), "Where nothing may run or sit.", ())
    obstacles: tuple[Obstacle, ...] = key(items(Obstacle), "What stands on its outer face and throws shadows.", ())
    bays: tuple[Bay, ...] = key(items(Bay), "Places for supply, switch, board.", ())
    relief: Relief = key(item(Relief), "What is known of its depth.", Relief())
    picture: Picture | None = key(item(Picture), "Picture that it is drawn on.", None)
    seams_mm: tuple[tuple[Point, ...], ...] = key(
        Kind("point_lists", "mm"), "Mating edges and rows of locating pins, as lines.", ()
    )
    seam_gap_mm: float | None = key(POSITIVE_MM, "Width of the gap at its seams; left out, the usual one.", None)
    seams_closed: str = key(
        choice("open", "lip behind", "taped inside", "filled"),
        "What keeps light in at its seams; filled: putty or cement all the way through.", "open",
    )
    holes_sealed: bool = key(
        FLAG, "True if dark glue or putty shuts the rings round fibres and posts, and holes of dark lamps.", False
    )
    poses: tuple[NamedPose, ...] = key(items(NamedPose), "Named stands, if the part moves.", ())
    stands: Stand | None = key(item(Stand), "Where it stands over another part, for its shadow and its lamps.", None)
    faces: str | None = key(
        WAY, "Where its outer face looks, at pose value 0; pictures by night then know who sees its lamps.", None,
    )
    faces_deg: float | None = key(
        quantity("deg", 0, 360), "Instead of a word: the bearing it looks at, clockwise, 0 = ahead.", None
    )
    leans_deg: float = key(quantity("deg", -90, 90), "How far its outer face looks up from there.", 0.0)
    top_edge: str | None = key(
        WAY, "Where the top of its drawing points; left out: up, and ahead for a part that faces up or down.", None
    )
    throws_shadow: bool = key(FLAG, "False if nothing of it stands where floodlights shine.", True)
    removable: bool = key(FLAG, "True if it comes off after close-up, and so needs its own plug.", False)
    room_for_illuminators: bool = key(FLAG, "True if LEDs that feed fibres may sit on it.", True)
    note: str = key(TEXT, NOTE, "")
