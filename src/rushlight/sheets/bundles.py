"""Bundles in section: how the fibres lie on their LED, and what holds them."""

from __future__ import annotations

import math

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Bundle
from rushlight.model.sheet import Block, Cell, Circle, Column, Drawing, Fill, Ink, Layer, Mark, Note, Sheet, Table, Text
from rushlight.optics.fibre_loss import transmittance
from rushlight.sheets.amounts import LIKELY, amount, range_words, sentence
from rushlight.sheets.lamp_list import strongest
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.place import SCALES, framed
from rushlight.sheets.words import slug
from rushlight.stages.fibre_light import led_joint
from rushlight.stages.tail_shares import tail_shares
from rushlight.units import Range

SECTION_MM = 46.0
"""Widest usual section on paper; three stand beside each other."""

WIDE_MM = 150.0
"""Widest section on paper where only that makes room for the numbers in its fibres."""

DIGIT_MM = 1.25
"""Room that a digit takes in a fibre as drawn: its width at the smallest size, and air."""

RING_FILLS: tuple[Fill, ...] = ("pale", "none", "hatch")
"""Rings from the centre outward, told apart by their fill."""

LEAST_PERCENT = 0.001
"""Less of the light is left than anybody could tell from none."""

STEPS = ("coupling", "joint", "length", "bends", "ends")
STEP_OF = {"coupling": "coupling", "radiance limit": "coupling", "joint": "joint", "length": "length", "bends": "bends"}
"""Steps from the LED to the tip, and in which of them a named loss counts; any other is one of the ends."""

HOW = (
    "The section as seen from the fan-out, looking at the LED. The thick circle is the LED's face, the dashed one the "
    "bundle as it comes out when gathered by hand. Rings differ by their fill; tails of one ring get much the same "
    "light, each width for itself. The number in each fibre is its lamp's; a section is drawn as large as they need."
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """Sections of all bundles and a table of their sizes; nothing where no fibre is used."""
    if not design.loom.bundles:
        return ()
    sections: tuple[Block, ...] = tuple(section(design, bundle) for bundle in design.loom.bundles)
    mixed = share_table(design)
    blocks = (Note(HOW), *sections, size_table(design), sleeve_table(design), tail_light_table(design),
              *((mixed,) if mixed.rows else ()))
    return (Sheet("bundles", "Bundles in section", blocks),)


def section(design: Design, bundle: Bundle) -> Drawing:
    """One bundle on its LED."""
    scale = _scale(bundle, _words(design, bundle))
    marks = (*_rings(bundle, scale), *_fibres(design, bundle, scale))
    emitter = design.loom.emitter(bundle.emitter)
    caption = f"On {emitter.part_row}, {emitter.spot.part}"
    if bundle.led_face_mm * scale > WIDE_MM:
        caption += f"; its face of {amount(bundle.led_face_mm)} mm is wider than the paper"
    layers = (Layer("symbols", marks),)
    return framed(layers, key=f"bundle-{slug(bundle.name)}", title=sentence(bundle.name), scale=scale, caption=caption)


def _words(design: Design, bundle: Bundle) -> tuple[str, ...]:
    """What stands in each fibre: its lamp's number."""
    numbers = lamp_numbers(design)
    lamps = {tail.name: tail.lamp for tail in design.loom.tails}
    return tuple(str(numbers[lamps[name]]) for name in bundle.tails)


def _scale(bundle: Bundle, words: tuple[str, ...]) -> float:
    """The largest usual scale, or the least one in which each fibre holds its number, where that fits the paper."""
    fibres = max(bundle.hand_made_mm.high, bundle.ideal_mm)
    widest = max(bundle.led_face_mm, fibres)
    usual = next((scale for scale in SCALES if scale * widest <= SECTION_MM), SECTION_MM / widest)
    need = max(DIGIT_MM * len(word) / mm for word, mm in zip(words, bundle.fibre_mm, strict=True)) * 1.001
    if usual >= need:
        return usual
    fits = [scale for scale in reversed(SCALES) if scale >= need and scale * widest <= WIDE_MM]
    return fits[0] if fits else min(need, WIDE_MM / fibres)


def _rings(bundle: Bundle, scale: float) -> tuple[Mark, ...]:
    face, hand = bundle.led_face_mm * scale / 2, bundle.hand_made_mm.typical * scale / 2
    ideal = Circle((0.0, 0.0), bundle.ideal_mm * scale / 2, Ink("dimension"))
    own = (Circle((0.0, 0.0), face, Ink("edge")),) if 2 * face <= WIDE_MM else ()
    return (*own, ideal, Circle((0.0, 0.0), hand, Ink("dimension", "dashed")))


def _fibres(design: Design, bundle: Bundle, scale: float) -> tuple[Mark, ...]:
    rings = {tail.name: tail.ring for tail in design.loom.tails}
    marks: list[Mark] = []
    fibres = zip(bundle.tails, bundle.fibre_mm, bundle.centres_mm, _words(design, bundle), strict=True)
    for name, fibre_mm, (x, y), words in fibres:
        at, ring = (x * scale, y * scale), rings[name]
        marks.append(Circle(at, fibre_mm * scale / 2, Ink("detail", fill=RING_FILLS[ring % len(RING_FILLS)])))
        if DIGIT_MM * len(words) < fibre_mm * scale:
            marks += _number(at, words, hatched=ring % len(RING_FILLS) == 2)
    return tuple(marks)


def _number(at: tuple[float, float], words: str, *, hatched: bool) -> list[Mark]:
    plate = [Circle(at, 0.7 * len(words) + 0.2, Ink("dimension", fill="paper", stroked=False))] if hatched else []
    return [*plate, Text(at, words, size=1, anchor="c")]


def size_table(design: Design) -> Table:
    """Sizes of every bundle."""
    columns = (
        Column("bundle", "Bundle"), Column("led", "LED"), Column("tails", "Tails", align="right", decimals=0),
        Column("fibre_mm", "Fibre", "mm"), Column("ideal_mm", "Ideal", "mm", "right", 2),
        Column("hand_made", "Made by hand", "mm", "right"), Column("face_mm", "LED's face", "mm", "right", 1),
        Column("status", "Packing"), Column("lamps", "Lamps, from the centre outward", wide=True),
        Column("notes", "Note", wide=True),
    )
    return Table("bundles", "Sizes", columns, tuple(_size_row(design, row) for row in design.loom.bundles))


def _size_row(design: Design, bundle: Bundle) -> tuple[Cell, ...]:
    tails, numbers = {tail.name: tail for tail in design.loom.tails}, lamp_numbers(design)
    inner = sorted(zip(bundle.tails, bundle.centres_mm, strict=True),
                   key=lambda row: (tails[row[0]].ring, math.hypot(*row[1])))
    sizes = sorted(set(bundle.fibre_mm))
    fibres = ", ".join(f"{bundle.fibre_mm.count(mm)} of {mm:g}" for mm in sizes) if len(sizes) > 1 else f"{sizes[0]:g}"
    return (
        bundle.name, bundle.emitter, len(bundle.tails), fibres, bundle.ideal_mm,
        range_words(bundle.hand_made_mm, digits=3), bundle.led_face_mm, bundle.status,
        ", ".join(str(numbers[tails[name].lamp]) for name, _ in inner), sentence("; ".join(bundle.notes)),
    )


def sleeve_table(design: Design) -> Table:
    """Tubes that hold each bundle, before and after they shrink."""
    columns = (
        Column("bundle", "Bundle"), Column("sleeve", "Tube for", wide=True), Column("where", "Where", wide=True),
        Column("tube", "Tube"), Column("cut_mm", "Cut", "mm", "right", 0),
        Column("supplied_mm", "Bore as sold", "mm", "right", 1), Column("grips_mm", "Grips", "mm", "right", 2),
        Column("recovered_mm", "Bore shrunk free", "mm", "right", 1),
    )
    tubes = {tube.name: (tube.supplied_bore_mm, tube.recovered_bore_mm) for tube in design.drawer.tubes}
    rows = []
    for bundle in design.loom.bundles:
        for row in bundle.sleeves:
            before, after = tubes.get(row.tube, (None, None))
            rows.append((bundle.name, row.name, row.where, row.tube, row.cut_mm, before, row.grips_mm, after))
    caption = "A tube slides on while its bore as sold is wider, and grips once its bore shrunk free is narrower."
    return Table("bundle-sleeves", "Tubes", columns, tuple(rows), caption)


def tail_light_table(design: Design) -> Table:
    """What each tail gives in the state in which its lamp is brightest, and what is left after each step."""
    columns = (
        Column("tail", "Tail"), Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True),
        Column("ring", "Ring", align="right", decimals=0), Column("mcd", "On its axis", "mcd", "right"),
        Column("outside", "At the outside", "mcd", "right"), Column("mlm", "Flux", "mlm", "right"),
        Column("cd_m2", "Luminance", "cd/m2", "right"),
        *(Column(name, name.capitalize(), "%", "right") for name in STEPS),
    )
    lights, numbers = strongest(design), lamp_numbers(design)
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (tail.name, numbers[tail.lamp], tail.lamp, tail.ring, range_words(lit.likely_cd, times=1000),
         range_words(lit.intensity_cd, times=1000), range_words(lit.likely_lm, times=1000),
         range_words(lit.likely_cd_m2), *_left_percent(lit))
        for tail in design.loom.tails if (lit := lights.get(tail.lamp))
    )
    caption = (f"{LIKELY} Flux and luminance are the likely ones; at the outside they spread no farther than the light "
               "on the axis does. Ring 0 is the middle of the bundle. Of each step stands what is left after it: of "
               "the LED's light, what falls on this one fibre within its cone; a joint as well as hands make it; the "
               "length; the bends; both ends, their faces and how they are cut.")
    return Table("tail-light", "Light of each tail", columns, rows, caption)


def share_table(design: Design) -> Table:
    """Of bundles of several widths what share of their light each tail gets, by its core's area and by its place."""
    columns = (
        Column("tail", "Tail"), Column("number", "No.", align="right", decimals=0), Column("lamp", "Lamp", wide=True),
        Column("fibre_mm", "Fibre", "mm", "right"), Column("area_percent", "Of all cores", "%", "right"),
        Column("place_percent", "By its place", "%", "right"), Column("light_percent", "Of the light", "%", "right"),
    )
    numbers, tails = lamp_numbers(design), {tail.name: tail for tail in design.loom.tails}
    rows: list[tuple[Cell, ...]] = []
    for bundle in design.loom.bundles:
        if len(set(bundle.fibre_mm)) > 1:
            own = [tails[name] for name in bundle.tails]
            led, lamp = design.drawer.led(design.loom.emitter(bundle.emitter).part_row), design.lamp(own[0].lamp)
            shares = tail_shares(design.drawer, led, own, led_joint(design.plan, design.drawer, lamp.group, lamp.name))
            rows += [
                (tail.name, numbers[tail.lamp], tail.lamp, amount(tail.fibre_mm), percent_left(100 * share.of_cores),
                 percent_left(100 * share.by_place), percent_left(100 * share.of_light))
                for tail, share in zip(own, shares, strict=True)
            ]
    caption = ("A wide fibre takes more of the LED's light, in step with its core's area; a tail at the rim gets less "
               "than one in the middle would, which stands at 100 %. Both make its share of the light that the "
               "bundle takes in.")
    return Table("bundle-shares", "Shares of mixed bundles", columns, tuple(rows), caption)


def _left_percent(light: LampLight) -> tuple[str, ...]:
    """What each step leaves, typically, in the order of STEPS."""
    left = dict.fromkeys(STEPS, 1.0)
    for loss in light.losses:
        left[STEP_OF.get(loss.name, "ends")] *= transmittance(Range.exactly(loss.loss_db)).typical
    return tuple(percent_left(100 * share) for share in left.values())


def percent_left(percent: float) -> str:
    """What is left, without noughts that nobody counts."""
    return amount(percent) if percent >= LEAST_PERCENT else "next to none"
