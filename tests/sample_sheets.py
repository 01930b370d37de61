"""Sheets of invented shapes, for the tests of drawing and typesetting."""

from __future__ import annotations

import io

from PIL import Image

from rushlight.model.sheet import (
    EDGE,
    Arc,
    Caution,
    Cautions,
    Circle,
    Column,
    Dimension,
    Drawing,
    Ink,
    Layer,
    Note,
    Picture,
    Polyline,
    Sheet,
    Step,
    Steps,
    Table,
    Text,
    TitlePage,
)
from rushlight.sheets import strokes, symbols
from rushlight.sheets.place import framed, scaled

OUTLINE = ((0.0, 0.0), (140.0, 0.0), (150.0, 20.0), (140.0, 60.0), (10.0, 60.0), (0.0, 40.0))


def part_layers() -> tuple[Layer, ...]:
    """A six-cornered plate with everything that can lie on a part."""
    runs = (*strokes.lead(((10.0, 10.0), (55.0, 10.0), (55.0, 50.0), (130.0, 50.0)), 0.9),
            *strokes.lead(((20.0, 5.0), (20.0, 45.0), (120.0, 45.0), (120.0, 30.0)), 0.9, strokes.RETURN),
            *strokes.lead(((30.0, 50.0), (30.0, 5.0), (110.0, 5.0)), 0.6, strokes.SIGNAL))
    sleeves = (*strokes.splice((75.0, 50.0), 12.0, diameter_mm=2.0, name="S1"),
               *strokes.splice((20.0, 30.0), 8.0, diameter_mm=1.6, angle_deg=90.0, name="S2"))
    lamps = (*strokes.lamp((110.0, 20.0), 3.0, direction_deg=0.0, letter="W", name="stem"),
             *strokes.lamp((40.0, 55.0), 0.6, letter="R", name="left"),
             *strokes.lamp((45.0, 20.0), 1.2, direction_deg=135.0, letter="G"))
    return (
        Layer("outline", (Polyline(OUTLINE, EDGE, closed=True),)),
        Layer("keep-outs", strokes.keep_out(((60.0, 10.0), (90.0, 10.0), (90.0, 28.0), (60.0, 28.0)), "bay")),
        Layer("detail", (Arc((140.0, 40.0), 6.0, 90.0, 270.0),)),
        Layer("leads", runs),
        Layer("tails", strokes.fibres(((130.0, 20.0), (100.0, 35.0), (95.0, 55.0)), 5, pitch_mm=0.5, gather_mm=6.0)),
        Layer("splices", sleeves),
        Layer("lamps", lamps),
        Layer("holes", strokes.hole((130.0, 10.0), 2.4)),
        Layer("dimensions", (Dimension((0.0, 0.0), (140.0, 0.0), -8.0, "140.0"),)),
    )


def part_drawing() -> Drawing:
    """The plate as it lies."""
    return framed(part_layers(), key="plate", title="Plate, inner side", caption="Leads cross, splices at true length.")


def template(factor: float = 1.0) -> Drawing:
    """The plate's outline and hole as a template, larger by a factor."""
    kept = (layer for layer in part_layers() if layer.name in ("outline", "holes"))
    layers = [Layer(layer.name, scaled(layer.marks, factor)) for layer in kept]
    return framed(layers, key="plate-template", title="Plate, drilling template", template=True)


def bundle(count: int) -> Drawing:
    """A few circles in a circle at 10:1."""
    circles = tuple(Circle((5.0 * k, 0.0), 2.5, Ink(fill="pale")) for k in range(count))
    ring = Circle((2.5 * (count - 1), 0.0), 2.5 * count + 0.5, EDGE)
    return framed((Layer("symbols", (ring, *circles)),), key=f"bundle-{count}", title=f"Bundle of {count}", scale=10.0)


def circuit(columns: int = 4) -> Drawing:
    """A diagram without scale."""
    marks = [mark for k in range(columns) for mark in (
        *symbols.resistor((20.0 + 30.0 * k, 30.0), label=f"R{k + 1}", value="470 ohm"),
        *symbols.led((32.0 + 30.0 * k, 30.0), label=f"D{k + 1}"))]
    rails = (symbols.wire((14.0, 30.0), (14.0, 60.0)), *symbols.battery((8.0, 60.0), cells=3, label="4.5 V"))
    layer = Layer("symbols", (*marks, *rails, *symbols.junction((14.0, 30.0))))
    return framed((layer,), key="circuit", title="Circuit", scale=None)


def night_picture() -> Drawing:
    """A small raster picture: a ramp from black to warm white."""
    out = io.BytesIO()
    image = Image.new("RGB", (64, 32))
    image.putdata([(4 * x, 3 * x, 2 * x) for _ in range(32) for x in range(64)])
    image.save(out, "PNG")
    layer = Layer("picture", (Picture((0.0, 0.0), 80.0, 40.0, out.getvalue()),))
    return framed((layer,), key="night", title="At anchor, in the dark", scale=None, margin_mm=0.0)


def lamp_table(rows: int = 70) -> Table:
    """A table longer than a page."""
    columns = (
        Column("lamp", "Lamp"), Column("length_mm", "Tail", "mm", "right", 0),
        Column("current_ma", "Current", "mA", "right"), Column("why", "Evidence", wide=True),
        Column("state", "Lit in", align="centre"),
    )
    why = "a row of openings on the only photograph "
    body = tuple((f"portlight {k}", 85.5 + 3 * k, 0.123456 * k, why * (1 + k % 7 // 3), None if k % 5 else "anchor")
                 for k in range(rows))
    return Table("lamps", "Lamps", columns, body, "Lengths include 20 mm to spare.")


SOLDER = Caution("soldering", "Rosin smoke can start lasting asthma: draw it off, head out of the plume.",
                 "Local workplace guidance")
DRILL = Caution("drilling", "Fine drills snap: wear glasses.")


def work_steps() -> Steps:
    """A few steps, one of them a gate."""
    return Steps((
        Step("Drill the eleven holes of 0.6 mm from the face.", "Pilot first.\n\nBack the wall with scrap.",
             cautions=(DRILL,)),
        Step("Slide tube T3 on before the joint S1 is soldered.", cautions=(SOLDER,)),
        Step("Light every lamp before the halves are joined.", gate=True,
             readings=(("Supply, switch at 2", "4.4 to 4.6 V"), ("Current, switch at 2", "38 to 46 mA"))),
        Step("Close the halves.", "Nothing behind them can be reached after this."),
    ), "Order of work")


def title_page() -> TitlePage:
    """A title page with everything on it."""
    facts = (("Scale", "1:96"), ("Lamps", "112"), ("States", "5"))
    return TitlePage("The invented lighter Plum", "Lighting book", facts, bundle(4),
                     "Made up for a test. Nothing like it floats.", (SOLDER, DRILL))


def sheets() -> tuple[Sheet, ...]:
    """A book's worth of sheets."""
    empty = Table("none", "Empty", (Column("a", "A"),), ())
    label = framed((Layer("text", (Text((0.0, 0.0), "naïve façade – 3 × 5", size=5),)),), key="t", title="Text")
    return (
        Sheet("states", "In the dark", (night_picture(), night_picture())),
        Sheet("lamps", "Lamp list", (Note("Every lamp with why it is believed in."), lamp_table())),
        Sheet("plate", "Plate", (part_drawing(), Cautions((SOLDER, DRILL))), part="plate"),
        Sheet("template", "Drilling template", (template(), template(2.6)), part="plate"),
        Sheet("bundles", "Bundles in section", tuple(bundle(k) for k in range(2, 8))),
        Sheet("circuit", "Circuit", (circuit(), circuit(9))),
        Sheet("order", "Build order", (work_steps(),)),
        Sheet("words", "A note", (Note("One paragraph.\n\nAnother one.", "Heading"), empty)),
        Sheet("text", "Labels", (label,)),
    )
