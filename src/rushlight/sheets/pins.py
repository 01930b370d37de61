"""Places marked on a part: numbers where a fault may be, red and black where the probes go."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.model.plan_part import Part
from rushlight.model.sheet import Band, Circle, Drawing, Ink, Layer, Mark, Point, Polyline
from rushlight.sheets import part_marks as marks
from rushlight.sheets.labels import Clutter, Wanted, placed_labels
from rushlight.sheets.part_marks import OnPaper
from rushlight.sheets.place import bounds, framed, merged_layers
from rushlight.sheets.words import slug

WIDE_MM, TALL_MM = 82.0, 92.0
"""As large as a phone shows it with readable letters."""

MOST_SCALE = 3.0
TOGETHER_MM = 2.5
"""Marks nearer than this on paper share one label."""

RING_MM = 2.2
LEAD = Ink("dimension", "solid", "ink")
SUSPECT = Ink("detail", "solid", "accent")


@dataclass(frozen=True, slots=True)
class Pin:
    """A place on a part [mm] with its words; `kind` is number, red or black; `lead` is drawn whole where given."""

    part: str
    at_mm: Point
    words: str
    kind: str = "number"
    lead: str = ""


def pin_drawings(design: Design, pins: Sequence[Pin], *, key: str) -> tuple[Drawing, ...]:
    """Each part that has a pin, with its leads as hairlines.

    Parameters
    ----------
    design : Design
        With its loom.
    pins : sequence of Pin
        In order of right of way for their labels.
    key : str
        Start of the drawings' keys.
    Returns
    -------
    tuple of Drawing
        In the order of the plan's parts.
    """
    with_pins = {pin.part for pin in pins}
    parts = (part for part in design.plan.parts if part.name in with_pins)
    return tuple(_part(design, part, [pin for pin in pins if pin.part == part.name], key) for part in parts)


def _part(design: Design, part: Part, pins: Sequence[Pin], key: str) -> Drawing:
    paper = OnPaper(_scale(part))
    layers = (
        marks.outline(part, paper), marks.openings(part, paper), marks.bays(part, paper),
        Layer("leads", tuple(_leads(design, part.name, paper, {pin.lead for pin in pins} - {""}))),
        marks.crossings(design, part.name, paper), marks.splices(design, part.name, paper),
        marks.lamps(design, part.name, paper), Layer("symbols", tuple(_rings(pins, paper))),
    )
    drawn = [layer for layer in layers if layer.marks]
    box = bounds(mark for layer in drawn for mark in layer.marks)
    assert box is not None
    clutter = Clutter(box.grown(8.0))
    for layer in drawn:
        clutter.add(layer.marks, 6.0 if layer.name == "symbols" else 0.6)
    labels = Layer("text", placed_labels(_labels(pins, paper), clutter))
    side = "outside" if part.drawn_from == "outside" else "inside"
    return framed(merged_layers((*drawn, labels)), key=f"{key}-{slug(part.name)}"[:80], title=part.name,
                  scale=paper.scale, caption=f"{part.name}, seen from {side}")


def _scale(part: Part) -> float:
    xs, ys = zip(*part.outline_mm, strict=True)
    wide, tall = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
    return float(min(WIDE_MM / wide, TALL_MM / tall, MOST_SCALE))


def _leads(design: Design, part: str, paper: OnPaper, suspected: set[str]) -> Iterable[Mark]:
    """Hairlines for all, a bold run for the suspected ones."""
    runs = [(lead, paper.run(leg.points_mm)) for lead in design.loom.leads for leg in lead.legs
            if leg.part == part and len(leg.points_mm) > 1]
    yield from (Polyline(run, LEAD) for lead, run in runs if lead.name not in suspected)
    yield from (Band(run, 0.9, SUSPECT) for lead, run in runs if lead.name in suspected)


def _rings(pins: Sequence[Pin], paper: OnPaper) -> Iterable[Mark]:
    for pin in pins:
        at, dark = paper.at(pin.at_mm), pin.kind == "black"
        yield Circle(at, RING_MM, Ink("edge", "solid", "ink" if dark else "accent"))
        if pin.kind != "number":
            yield Circle(at, RING_MM / 2, Ink("detail", "solid", "ink" if dark else "accent",
                                              "ink" if dark else "accent"))


def _labels(pins: Sequence[Pin], paper: OnPaper) -> list[Wanted]:
    """One label for marks that lie together: '1, 3'."""
    groups: list[tuple[Point, list[str]]] = []
    for pin in pins:
        at = paper.at(pin.at_mm)
        near = next((words for place, words in groups if math.dist(place, at) < TOGETHER_MM), None)
        if near is None:
            groups.append((at, [pin.words]))
        elif pin.words not in near:
            near.append(pin.words)
    return [Wanted(at, ", ".join(words), RING_MM, size=4, bold=True) for at, words in groups]
