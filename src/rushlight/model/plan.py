"""The plan: what the modeller wants, knows, decided and did. Frozen values; the keys of plan.yaml are these fields.

Places are in millimetres on each part's own plane (x right, y up) as the part is drawn; `drawn_from` says from
which side. Names are unique within their list. Documented in docs/generated/plan.md, made from this
file, plan_part.py and plan_bench.py.
"""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.place import Point
from rushlight.model.plan_bench import (
    AtHand,
    Camera,
    Controller,
    Done,
    EveningPart,
    Measured,
    OwnValue,
    Pin,
    Practice,
    RhythmMaker,
    Supply,
)
from rushlight.model.plan_part import Part
from rushlight.model.schema import (
    COUNT,
    FLAG,
    LENGTH_MM,
    NAME,
    NAMES,
    NOTE,
    PLACE_MM,
    POINT,
    POINTS,
    POSITIVE_MM,
    SHARE,
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

DOCUMENT_VERSION = 1



@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """The real or imagined thing that the model stands for."""

    title: str = key(TEXT, "What the model shows.")
    kind: str = key(
        choice("ship", "aircraft", "road vehicle", "rail vehicle", "building", "sea mark", "other"),
        "What kind of thing it is; decides which rule tables apply.", "other",
    )
    scale: float = key(Kind("ratio", low=1, high=100_000), "Scale, as 1:72 or 1/72; the number after the colon.")
    length_m: float | None = key(quantity("m", 0.01, 100_000), "Length of the subject.", None)
    breadth_m: float | None = key(quantity("m", 0.01, 100_000), "Breadth of the subject.", None)
    propulsion: str = key(
        choice("power", "sail", "oars", "being towed", "air cushion", "none"), "What moves it.", "power"
    )
    viewing_distance_mm: float = key(
        quantity("mm", 50, 20_000), "From where the model is usually looked at.", 400.0
    )
    viewing_bearing_deg: float | None = key(
        quantity("deg", 0, 360),
        "From where it is looked at in pictures by night, clockwise, 0 = ahead; left out: each part square on.", None,
    )
    viewing_height_deg: float = key(
        quantity("deg", -90, 90), "How far over the horizon the eye is then.", 0.0
    )
    viewing_room: str = key(
        choice("lit room", "dim room", "dark room"), "The room in which the lamps should be seen.", "dim room"
    )
    room_c: float | None = key(
        quantity("c", -10, 45),
        "How warm the air is where the model stands, at its warmest; left out: 20 to 26 degC, a usual room.", None,
    )
    invented: bool = key(FLAG, "True if the subject is made up.", False)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """How one moving part stands in a state."""

    part: str = key(ref("parts"), "The moving part.")
    at: str = key(NAME, "One of the part's named poses.")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """One condition of the subject in which a given set of lamps is lit."""

    name: str = key(NAME, "Name of the state.")
    rule: str | None = key(TEXT, "The state's name in the rule tables, if it has one there.", None)
    poses: tuple[Pose, ...] = key(items(Pose), "How moving parts stand in this state.", ())
    minutes: float | None = key(quantity("min", 0, 100_000), "How long it is shown on a usual evening.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One form of the subject among several."""

    name: str = key(NAME, "Name of the version.")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """One end of a crossing."""

    part: str = key(ref("parts"), "The part.")
    at_mm: Point = key(POINT, "Where on the part.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where leads and fibres pass from one part to another."""

    name: str = key(NAME, "Name of the crossing.")
    kind: str = key(
        choice("fixed", "hinged", "pivoting", "sliding", "plug"),
        "fixed: glued parts; hinged: halves open like a book; pivoting, sliding: a moving part; plug: comes apart.",
    )
    ends: tuple[End, ...] = key(Kind("items", item=End, least=2, most=2), "Its two ends.")
    slack_mm: float = key(LENGTH_MM, "Length of the loop between the two ends.", 20.0)
    hinge_distance_mm: float | None = key(LENGTH_MM, "hinged: distance of the crossing from the hinge edge.", None)
    opening_deg: float = key(quantity("deg", 0, 360), "hinged, pivoting: how far it opens.", 180.0)
    travel_mm: float = key(LENGTH_MM, "sliding: how far it goes.", 0.0)
    hole_mm: float | None = key(POSITIVE_MM, "Diameter of the pass hole, if there is one.", None)
    carries: str = key(choice("leads and fibres", "leads", "fibres"), "What may pass.", "leads and fibres")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A closed room inside the model, for its heat and its stray light."""

    name: str = key(NAME, "Name of the space.")
    parts: tuple[str, ...] = key(refs("parts", least=1), "Parts that form it.")
    size_mm: tuple[float, ...] = key(Kind("numbers", "mm", 1, 100_000, least=3, most=3), "Length, width, height.")
    sealed: bool = key(FLAG, "True if close-up shuts it for good.", True)
    vents_mm2: float = key(quantity("mm2", 0, 1_000_000), "Free area of vents.", 0.0)
    windows: tuple[str, ...] = key(
        NAMES,
        "Openings of its parts through which one LED in it is seen, each with a lamp of its own; then its size is "
        "width, depth, height as one stands before the first.", (),
    )
    led_mm: Point | None = key(
        POINT, "Where that LED hangs under the ceiling, from the left and from the front as one stands before the "
        "first window; left out, in the middle.", None,
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A light seen on a reference picture."""

    name: str = key(NAME, "Name of the mark, unique in its picture.")
    at_px: Point = key(Kind("point", "px", 0, 1_000_000), "Where on the picture.")
    lamp: str | None = key(ref("lamps"), "The lamp, row or strip that stands for it.", None)
    colour: str | None = key(Kind("colour"), "Colour seen.", None)
    certainty: float = key(SHARE, "How sure it is that this is a light, 0 to 1.", 1.0)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A picture of the subject."""

    name: str = key(NAME, "Name of the picture.")
    file: str | None = key(Kind("file"), "File in the plan's folder pictures/.", None)
    versions: tuple[str, ...] = key(refs("versions"), "Versions that it shows; none means all.", ())
    marks: tuple[Mark, ...] = key(items(Mark), "Lights seen on it.", ())
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Why the modeller believes, or doubts, that a lamp is there."""

    kind: str = key(choice("rule", "picture", "drawing", "text", "guess"), "What kind of evidence.")
    of: str | None = key(TEXT, "The rule, the reference picture's name, the book.", None)
    mark: str | None = key(TEXT, "The mark on that picture.", None)
    says: str = key(choice("for", "against"), "Whether it speaks for or against the lamp.", "for")
    certainty: float = key(SHARE, "How sure, 0 to 1.", 0.8)
    count: tuple[int, int] | None = key(
        Kind("count_range", low=0, high=10_000), "How many it shows, as 2 or 2-3.", None
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Brightness:
    """How bright a lamp should look. One of the first four; left out: to be seen in the viewing room."""

    like: str | None = key(
        ref("lamps"), "As bright as that lamp or row: as many candela, a window beside a window as many cd/m2.", None)
    ratio: float = key(Kind("number", low=0.001, high=1000), "Times as bright as that one.", 1.0)
    intensity_mcd: float | None = key(quantity("mcd", 1e-6, 1e7), "Wanted intensity on the model.", None)
    subject_intensity_cd: float | None = key(quantity("cd", 1e-6, 1e9), "The subject's own intensity.", None)
    carry: str = key(
        choice("equal illuminance", "equal luminance"),
        "How the subject's intensity is carried to the scale.", "equal illuminance",
    )
    seen_in: str | None = key(
        choice("lit room", "dim room", "dark room", "beacon"), "Plainly seen in such a room.", None
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeBy:
    """What makes the light, if the modeller insists."""

    kind: str = key(
        choice("led", "fibre", "room", "strip"),
        "LED at the hole, fibre tail, LED in a room behind an opening, a strip behind the openings of a line.",
    )
    led: str | None = key(ref("drawer.leds"), "Row of the drawer's LEDs.", None)
    fibre_mm: float | None = key(quantity("mm", 0.1, 10), "Fibre diameter.", None)
    tip: str = key(
        choice("polished", "sanded", "domed"),
        "Fibre: its end at the lamp; sanded, or melted to a bead and matted, it is dimmer on its axis and seen from "
        "all sides.",
        "polished",
    )
    note: str = key(TEXT, NOTE, "")


WORTH = choice("must", "wished", "left out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """One light that the eye sees on the model."""

    name: str = key(NAME, "Name of the lamp; unique among lamps, rows and strips.")
    part: str | None = key(ref("parts"), "The part that it sits on; none yet if not placed.", None)
    at_mm: Point | None = key(POINT, "Where on the part.", None)
    facing: str = key(
        choice("outward", "ahead", "astern", "port", "starboard", "up", "down", "inward"), "Where it shines.",
        "outward",
    )
    colour: str = key(Kind("colour"), "Colour by name (white, warm white, red, ...), 525 nm or 3000 K.")
    rule: str | None = key(TEXT, "Key of the light in the rule tables (masthead, pos_left, ...).", None)
    arc_deg: tuple[float, float] | None = key(
        Kind("pair", "deg", 0, 360), "Bearings between which it shows, clockwise, 0 = ahead.", None
    )
    size_mm: float | None = key(quantity("mm", 0.1, 100_000), "Diameter on the subject.", None)
    model_mm: float | None = key(quantity("mm", 0.05, 100), "Diameter on the model, if that is what is known.", None)
    brightness: Brightness = key(item(Brightness), "How bright it should look.", Brightness())
    states: tuple[str, ...] = key(refs("states"), "States in which it is lit.")
    rhythm: str = key(Kind("rhythm"), "steady, or as in light lists: Fl(2) W 10s; strobe 1.2 s; fade 3 s.", "steady")
    evidence: tuple[Evidence, ...] = key(items(Evidence), "Why you believe in it.", ())
    versions: tuple[str, ...] = key(refs("versions"), "Versions that have it; none means all.", ())
    worth: str = key(WORTH, "must, wished or left out.", "must")
    source: MadeBy | None = key(item(MadeBy), "What makes it, if you insist.", None)
    opening: str | None = key(TEXT, "The opening it is seen through, for an LED in a room.", None)
    lights_mm: float | None = key(POSITIVE_MM, "Floodlight: height over what it lights.", None)
    tilt_deg: float = key(quantity("deg", 0, 89), "Floodlight: tilt from straight down.", 0.0)
    lights_part: str | None = key(ref("parts"), "Floodlight: the part whose outer face it lights.", None)
    foot_mm: Point | None = key(POINT, "Floodlight: the point of that part straight below the lamp.", None)
    aim_mm: Point | None = key(POINT, "Floodlight: the point of it that it is aimed at, its foot if not given.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """The same row on the other side."""

    part: str = key(ref("parts"), "The part of the other side.")
    axis_x_mm: float = key(PLACE_MM, "x of the mirror line: x becomes 2 * axis - x.", 0.0)
    flip: bool = key(FLAG, "False if the other part is drawn the same way round, so x is kept.", True)
    lights_part: str | None = key(
        ref("parts"), "Floodlights: the part that they light, if it is not the one that the first half lights.", None
    )
    lights_line_mm: tuple[Point, ...] = key(
        Kind("points", "mm"), "Floodlights: two points of the lit part, on the line about which feet are mirrored.", ()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Lamps spaced along a line, written once: 'name 1', 'name 2', ..., and mirrored 'name m1', 'name m2', ..."""

    name: str = key(NAME, "Name of the row; unique among lamps, rows and strips.")
    part: str = key(ref("parts"), "The part that it sits on.")
    along_mm: tuple[Point, ...] = key(POINTS, "Line that the lamps lie on; first and last lamp at its ends.")
    count: int | None = key(COUNT, "How many lamps.", None)
    pitch_mm: float | None = key(POSITIVE_MM, "Instead of a count: distance from lamp to lamp.", None)
    mirror: Mirror | None = key(item(Mirror), "The same row on the other side.", None)
    facing: str = key(
        choice("outward", "ahead", "astern", "port", "starboard", "up", "down", "inward"), "Where they shine.",
        "outward",
    )
    colour: str = key(Kind("colour"), "Colour by name, 525 nm or 3000 K.")
    rule: str | None = key(TEXT, "Key of the light in the rule tables.", None)
    size_mm: float | None = key(quantity("mm", 0.1, 100_000), "Diameter on the subject.", None)
    model_mm: float | None = key(quantity("mm", 0.05, 100), "Diameter on the model.", None)
    brightness: Brightness = key(item(Brightness), "How bright they should look.", Brightness())
    states: tuple[str, ...] = key(refs("states"), "States in which they are lit.")
    rhythm: str = key(Kind("rhythm"), "As for a lamp.", "steady")
    dark_share: float = key(SHARE, "Share of them that stays dark (nobody lights all cabins), seeded.", 0.0)
    evidence: tuple[Evidence, ...] = key(items(Evidence), "Why you believe in them.", ())
    versions: tuple[str, ...] = key(refs("versions"), "Versions that have it; none means all.", ())
    worth: str = key(WORTH, "must, wished or left out.", "must")
    source: MadeBy | None = key(item(MadeBy), "What makes them, if you insist.", None)
    lights_mm: float | None = key(POSITIVE_MM, "Floodlights: height over what they light.", None)
    lights_part: str | None = key(ref("parts"), "Floodlights: the part whose outer face they light.", None)
    feet_mm: tuple[Point, ...] = key(
        Kind("points", "mm"), "Floodlights: line of the points straight below them, first lamp to last.", ()
    )
    aim_by_mm: Point | None = key(POINT, "Floodlights: from each foot to the point that is aimed at.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """An LED strip behind openings; each opening is one lamp, called 'name: opening'."""

    name: str = key(NAME, "Name of the strip; unique among lamps, rows and strips.")
    part: str = key(ref("parts"), "The part whose openings it lights.")
    openings: tuple[str, ...] = key(NAMES, "Openings of that part.")
    along_mm: tuple[Point, ...] = key(POINTS, "Where the strip runs, behind the openings.")
    gap_mm: float = key(quantity("mm", 0.1, 1000), "Distance from its LEDs to the first sheet or the opening.")
    depth_mm: float | None = key(
        quantity("mm", 1, 10_000), "Free depth behind its openings, for strip and sheets; left out, that of the space.",
        None,
    )
    strip: str | None = key(ref("drawer.strips"), "Row of the drawer's strips.", None)
    walls_reflect: float = key(SHARE, "Reflectance of the walls of the channel.", 0.5)
    channel_width_mm: float | None = key(
        quantity("mm", 1, 1000),
        "Inside width of the channel, the strip in its middle; left out, its walls are 1 mm beside the opening.", None,
    )
    channel_walls: str | None = key(
        choice("matt", "foil"), "How its walls throw light back; left out, matt ones are taken and foil may be.", None,
    )
    channel_ends: str | None = key(
        choice("open", "walled"),
        "walled: walls like its own shut the channel at both ends of the strip; left out, not known.", None,
    )
    board_reflects: float | None = key(SHARE, "Reflectance of the strip's own board; left out, a white one.", None)
    colour: str = key(Kind("colour"), "Colour by name or 3000 K.", "warm white")
    states: tuple[str, ...] = key(refs("states"), "States in which it is lit.")
    rhythm: str = key(Kind("rhythm"), "As for a lamp.", "steady")
    brightness: Brightness = key(item(Brightness), "How bright it should look.", Brightness())
    evidence: tuple[Evidence, ...] = key(items(Evidence), "Why you believe in it.", ())
    versions: tuple[str, ...] = key(refs("versions"), "Versions that have it; none means all.", ())
    worth: str = key(WORTH, "must, wished or left out.", "must")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole plan."""

    subject: Subject = key(item(Subject), "The thing that the model stands for.")
    states: tuple[State, ...] = key(Kind("items", item=State, least=1, most=64), "Conditions in which lamps are lit.")
    parts: tuple[Part, ...] = key(Kind("items", item=Part, least=1, most=1000), "Kit parts.")
    crossings: tuple[Crossing, ...] = key(items(Crossing), "Where leads and fibres pass between parts.", ())
    spaces: tuple[Space, ...] = key(items(Space), "Closed rooms inside the model.", ())
    versions: tuple[Version, ...] = key(items(Version), "Forms of the subject.", ())
    version: str | None = key(ref("versions"), "The version that is built.", None)
    references: tuple[Reference, ...] = key(items(Reference), "Pictures of the subject, with marks.", ())
    lamps: tuple[Lamp, ...] = key(items(Lamp), "Single lamps.", ())
    rows: tuple[Row, ...] = key(items(Row), "Rows of lamps.", ())
    strips: tuple[Strip, ...] = key(items(Strip), "LED strips behind openings.", ())
    supply: Supply | None = key(item(Supply), "What feeds the lamps.", None)
    evening: tuple[EveningPart, ...] = key(
        items(EveningPart), "An evening in its order; left out, the states with their minutes.", ()
    )
    rhythms: tuple[RhythmMaker, ...] = key(items(RhythmMaker), "What makes each rhythm.", ())
    controller: Controller | None = key(item(Controller), "The board, where rhythms are made by a controller.", None)
    camera: Camera | None = key(item(Camera), "What the model is photographed or filmed with.", None)
    practice: tuple[Practice, ...] = key(items(Practice), "Your own numbers for habits of the trade.", ())
    drawer: tuple[OwnValue, ...] = key(items(OwnValue), "Your own values of parts.", ())
    measured: tuple[Measured, ...] = key(items(Measured), "Readings at the bench that take a guess's place.", ())
    at_hand: tuple[AtHand, ...] = key(
        items(AtHand),
        "Switches, regulators and resistors that you own; of a table with any the choice is made among them.", ()
    )
    pinned: tuple[Pin, ...] = key(items(Pin), "Choices that you hold fast.", ())
    as_built: tuple[Done, ...] = key(items(Done), "What is done.", ())
    note: str = key(TEXT, NOTE, "")

    def part(self, name: str) -> Part:
        """The part of that name."""
        return next(part for part in self.parts if part.name == name)
