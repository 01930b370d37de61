"""A drawing as primitives in millimetres and a table as data: what every sheet hands to its writers.

Coordinates are millimetres on paper, x to the right, y up. A drawing's frame runs from (0, 0) to (width_mm, height_mm).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from rushlight.errors import OutOfRange, UnknownName

Point = tuple[float, float]

Weight = Literal["edge", "detail", "dimension"]
Pattern = Literal["solid", "dashed", "dotted", "chain"]
Colour = Literal["ink", "accent", "pale", "paper"]
BandColour = Literal[
    "band black", "band brown", "band red", "band orange", "band yellow", "band green", "band blue", "band violet",
    "band grey", "band white", "band gold", "band silver", "band pink",
]
"""Paint of a resistor's bands: the one place where a drawing shows colours, each with its word beside it."""

Fill = Literal["none", "paper", "pale", "ink", "accent", "hatch"] | BandColour
Anchor = Literal["c", "n", "s", "e", "w", "ne", "nw", "se", "sw"]
TextSize = Literal[1, 2, 3, 4, 5]

WEIGHTS_MM: dict[Weight, float] = {"edge": 0.5, "detail": 0.25, "dimension": 0.13}
"""Width on paper of the three line weights; three steps of the line width series of ISO 128-2."""

TEXT_SIZES_MM: dict[TextSize, float] = {1: 2.0, 2: 2.5, 3: 3.2, 4: 4.2, 5: 6.0}
"""Font size on paper of the five text sizes (2.5 mm is 7 point)."""

LAYERS: tuple[str, ...] = (
    "picture", "keep-outs", "outline", "detail", "openings", "crossings", "supply", "tails", "leads", "splices",
    "holes", "lamps", "symbols", "dimensions", "text", "register",
)
"""Names of layers in the order in which they are drawn, the lowest first."""

PAGE_WIDTH_MM = 176.0
"""Widest drawing that a page of the book holds on both papers."""

PAGE_HEIGHT_MM = 226.0
"""Tallest drawing that a page of the book holds on both papers, with its caption."""


PHONE_WIDTH_MM = 95.0
"""Widest drawing that a phone of 360 px shows whole with its letters as large as the app draws them everywhere."""


_KEY = re.compile(r"[a-z0-9][a-z0-9_-]{0,79}")


def _check_key(what: str, key: str) -> None:
    """Keys become file names, so they never hold the user's words as typed."""
    if not _KEY.fullmatch(key):
        raise OutOfRange(f"key of a {what}", repr(key), "lower case letters, digits, '-' and '_', at most 80")


@dataclass(frozen=True, slots=True)
class Ink:
    """How a line is drawn and a shape filled; colour is only ever a second sign beside pattern or fill."""

    weight: Weight = "detail"
    pattern: Pattern = "solid"
    colour: Colour = "ink"
    fill: Fill = "none"
    stroked: bool = True


EDGE = Ink("edge")
DETAIL = Ink("detail")
THIN = Ink("dimension")


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight segments through points; closed joins the last to the first."""

    points_mm: tuple[Point, ...]
    ink: Ink = DETAIL
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """A run of true width: a lead or sleeve as thick as it is. Colour 'paper' only covers what lies below."""

    points_mm: tuple[Point, ...]
    width_mm: float
    ink: Ink = DETAIL


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre_mm: Point
    radius_mm: float
    ink: Ink = DETAIL


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise from the start angle to the end angle, measured from the x axis."""

    centre_mm: Point
    radius_mm: float
    start_deg: float
    end_deg: float
    ink: Ink = DETAIL


@dataclass(frozen=True, slots=True)
class Text:
    """A short label; the anchor says which point of its box stands at `at_mm` ('s' is the middle of the baseline)."""

    at_mm: Point
    text: str
    size: TextSize = 2
    anchor: Anchor = "sw"
    angle_deg: float = 0.0
    colour: Colour = "ink"
    bold: bool = False
    mono: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured distance from a to b, drawn `offset_mm` to the left of the way from a to b."""

    a_mm: Point
    b_mm: Point
    offset_mm: float
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A raster picture (PNG) with its lower left corner at `corner_mm`."""

    corner_mm: Point
    width_mm: float
    height_mm: float
    png: bytes
    mirrored: bool = False


Mark = Polyline | Band | Circle | Arc | Text | Dimension | Picture


@dataclass(frozen=True, slots=True)
class Layer:
    """Marks that belong together; the name decides the layer in a DXF file and the order of drawing.

    Raises
    ------
    UnknownName
        If the name is not one of LAYERS.
    """

    name: str
    marks: tuple[Mark, ...]

    def __post_init__(self) -> None:
        if self.name not in LAYERS:
            raise UnknownName("layer", self.name, LAYERS)


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing, its marks in layers.

    Parameters
    ----------
    key : str
        Stable name for files: lower case letters, digits, '-' and '_'; `slug` in sheets/words.py makes one.
    title : str
        Heading, may hold the user's words.
    width_mm, height_mm : float
        Size of the frame on paper [mm], > 0.
    layers : tuple of Layer
        Drawn in this order.
    scale : float or None
        Paper mm per true mm, > 0; 1.0 is true size; None is a diagram without scale.
    template : bool
        True for a drawing to be cut or drilled from: printed at true size on pages of its own; needs scale 1.0.
    origin_mm : Point
        Where the part's own (0, 0) lies in the frame; a DXF file is written in the part's coordinates.
    caption : str
        A sentence below the drawing.
    narrow : Drawing or None
        The same laid out for the width of a phone; None where it is drawn in one way alone.
    Raises
    ------
    OutOfRange
        If the key cannot be a file name, the size or the scale is not above 0, or a template is not at scale 1.0.
    """

    key: str
    title: str
    width_mm: float
    height_mm: float
    layers: tuple[Layer, ...]
    scale: float | None = 1.0
    template: bool = False
    origin_mm: Point = (0.0, 0.0)
    caption: str = ""
    narrow: Drawing | None = None

    def __post_init__(self) -> None:
        _check_key("drawing", self.key)
        for name, value in (("width_mm", self.width_mm), ("height_mm", self.height_mm), ("scale", self.scale)):
            if value is not None and not 0 < value < 1e6:
                raise OutOfRange(f"{name} of drawing '{self.key}'", value, "above 0 and below 1e6")
        if self.template and self.scale != 1.0:
            raise OutOfRange(f"scale of template '{self.key}'", self.scale, "1.0")


Cell = str | float | int | None
Align = Literal["left", "right", "centre"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column: key for files (ends in its unit), heading for people, decimals for printing (None: three digits).

    `wide` columns share the width that the others leave.
    """

    key: str
    heading: str
    unit: str = ""
    align: Align = "left"
    decimals: int | None = None
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table as data; None is an empty cell.

    Raises
    ------
    OutOfRange
        If the key cannot be a file name, a row has not one cell for each column, or two columns have one key.
    """

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""

    def __post_init__(self) -> None:
        _check_key("table", self.key)
        keys = [column.key for column in self.columns]
        if not keys or len(set(keys)) != len(keys):
            raise OutOfRange(f"column keys of table '{self.key}'", keys, "at least one, each once")
        for index, row in enumerate(self.rows):
            if len(row) != len(keys):
                raise OutOfRange(f"cells of row {index} of table '{self.key}'", len(row), f"{len(keys)} cells")


@dataclass(frozen=True, slots=True)
class Caution:
    """A short warning with the standard that it defers to."""

    hazard: str
    text: str
    standard: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A paragraph or several (parted by empty lines), with a heading if one is given."""

    text: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class Cautions:
    """Warnings in boxes of their own."""

    items: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of work with a box to tick; a gate must be passed before what follows it.

    `readings` are (what to measure, what to expect) pairs; `cautions` stand in the margin beside the step.
    """

    text: str
    detail: str = ""
    label: str = ""
    gate: bool = False
    readings: tuple[tuple[str, str], ...] = ()
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True)
class Steps:
    """Steps in order; a step without a label gets its number."""

    steps: tuple[Step, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """A program: a file beside the book, named in it; shown whole on a screen.

    Raises
    ------
    OutOfRange
        If the key cannot be a file name.
    """

    key: str
    title: str
    text: str

    def __post_init__(self) -> None:
        _check_key("listing", self.key)

    @property
    def path(self) -> str:
        """Where it is written, below the folder of the book."""
        return f"program/{self.key}.py"


TextBlock = Note | Cautions | Steps
Block = Drawing | Table | Note | Cautions | Steps | Listing


@dataclass(frozen=True, slots=True)
class Sheet:
    """One topic of the book: its blocks in order; `part` names the part that it belongs to.

    Raises
    ------
    OutOfRange
        If the key cannot be a file name.
    """

    key: str
    title: str
    blocks: tuple[Block, ...]
    part: str | None = None

    def __post_init__(self) -> None:
        _check_key("sheet", self.key)


@dataclass(frozen=True, slots=True)
class TitlePage:
    """First page of the book: what it is about, a few facts, an optional drawing, and cautions for all of it."""

    title: str
    subtitle: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    drawing: Drawing | None = None
    note: str = ""
    cautions: tuple[Caution, ...] = ()
