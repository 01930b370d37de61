"""What each step of the work handles: its items, and its numbers in words."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rushlight.model.design import PlacedLamp, Source

if TYPE_CHECKING:
    from rushlight.stages.order import Build

BLOCKING = ("black", "foil", "metallic")
"""Kinds of coat that stop light by absorbing or by being closed; the others are there to reflect."""


def step_items(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    """Names of the things that a step handles on its part, in the plan's order."""
    loom = build.loom
    on_part = [lamp.name for lamp in build.lamps if lamp.spot and lamp.spot.part == part]
    tables: dict[str, tuple[str, ...]] = {
        "mark_holes": _holed(build, part),
        "drill": _holed(build, part),
        "open_windows": _openings(build, part),
        "fit_clear": _openings(build, part),
        "mask_clear": _openings(build, part),
        "diffuser": _openings(build, part),
        "cut_fibre": tuple(tail.name for tail in loom.tails),
        "cut_wire": tuple(lead.name for lead in loom.leads),
        "tube_on": tuple(splice.name for splice in loom.splices),
        "solder": tuple(splice.name for splice in loom.splices),
        "shrink": tuple(splice.name for splice in loom.splices),
        "join_bundle": tuple(bundle.name for bundle in loom.bundles),
        "bundle_test": tuple(bundle.name for bundle in loom.bundles),
        "fit_led": tuple(emitter.name for emitter in loom.emitters if emitter.spot.part == part),
        "feed_fibre": tuple(tail.name for tail in loom.tails if tail.lamp in on_part),
        "glue_fibre": tuple(tail.name for tail in loom.tails if tail.lamp in on_part),
        "route": tuple(lead.name for lead in loom.leads if any(leg.part == part for leg in lead.legs)),
        "trim": tuple(tail.lamp for tail in loom.tails),
    }
    return tables.get(key, ())


def _holed(build: Build, part: str | None) -> tuple[str, ...]:
    return tuple(lamp.name for lamp, _ in _holes(build, part))


def _holes(build: Build, part: str | None) -> list[tuple[PlacedLamp, Source]]:
    return [
        (lamp, source) for lamp, source in zip(build.lamps, build.sources, strict=True)
        if lamp.spot and lamp.spot.part == part and source.hole_mm
    ]


def _openings(build: Build, part: str | None) -> tuple[str, ...]:
    return tuple(opening.name for row in build.plan.parts if row.name == part for opening in row.openings)


def step_details(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    """What the step means here, in numbers."""
    loom = build.loom
    if key in ("mark_holes", "drill"):
        return _drilled(build, part)
    if key in ("block_coat", "reflect_coat"):
        return _coated(build, key, part)
    if key == "cut_wire":
        total_m = sum(lead.cut_mm for lead in loom.leads) / 1000
        return (f"{len(loom.leads)} leads, {total_m:.1f} m of wire in all: see the cut list; label both ends",)
    if key == "cut_fibre":
        total_m = sum(tail.cut_mm for tail in loom.tails) / 1000
        return (f"{len(loom.tails)} tails, {total_m:.1f} m of fibre in all: cut square, polish",)
    if key == "tube_on":
        return ("slide each tube on before its joint is soldered, well away from the heat",)
    if key == "solder":
        return (f"{len(loom.splices)} splices: see the splice list",)
    if key == "trim":
        return ("trim almost flush, after paint, with a sharp blade",)
    if key == "glue_fibre":
        return ("canopy glue, PVA or slow epoxy; never solvent cement, hot glue or fuming superglue",)
    return ()


def _drilled(build: Build, part: str | None) -> tuple[str, ...]:
    counts = Counter((source.drill or f"{source.hole_mm:.2f} mm", source.hole_mm) for _, source in _holes(build, part))
    return tuple(f"{count} holes with the {drill} drill" for (drill, _), count in sorted(counts.items(), key=str))


def _coated(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    coats = [coat for row in build.plan.parts if row.name == part for coat in row.coats]
    dark = [name for name in coats if build.drawer.coat(name).kind in BLOCKING]
    chosen = dark if key == "block_coat" else [name for name in coats if name not in dark]
    return tuple(chosen) or ("as the leak table asks",)
