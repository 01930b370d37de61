"""Choices that the modeller may hold fast, each with what the design took, as data for the forms."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from rushlight.findings.plan.pin_without_effect import usable_names
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.design_loom import Emitter, Lead
from rushlight.sheets.source_ways import way_words
from rushlight.stages.row_proposals import row_proposals
from rushlight.stages.row_words import pick_words
from rushlight.stages.source_choice import STIFF_MM, Way
from rushlight.stages.source_ways import Weighed, source_ways


def held_json(design: Design) -> dict[str, Any]:
    """What can be held, and for what.

    Returns
    -------
    dict
        `picks`: by lamp or row what is proposed for it, in words. `ways`: what could make it, each with what came of
        it.
        `rows`: choice, of (lamp, row, strip, circuit, illuminator, return, all) and `took`: what the design took for
        it, in the choice's own unit (mA, ohm, fibres, AWG) or as the drawer or the plan names it. Lamps of a row
        stand for themselves only with their row.
    """
    of_rows = {lamp.name for lamp in design.lamps if lamp.made_of == "rows"}
    usable, ways = usable_names(design), source_ways(design)
    picks = row_proposals(design, ways)
    return {"rows": [{"choice": choice, "of": of, "took": took(design, of)} for choice, took in TOOK.items()
                     for of in usable[choice] if of not in of_rows],
            "ways": {group: _ways(row) for row in ways for group in row.groups},
            "picks": {group: {"says": pick_words(pick), "kind": pick.proposed, "built": pick.proposed == pick.built}
                      for pick in picks for group in pick.groups}}


def _ways(row: Weighed) -> list[dict[str, Any]]:
    """What could make the lamps of a row or group."""
    return [{"says": way_words(way), "verdict": verdict, "kind": way.kind, "of": list(row.groups),
             "fibre_mm": other_width(way, row.lamps[0]), "built": way is row.ways[0]}
            for way, verdict in zip(row.ways, row.verdicts, strict=True)]


def other_width(way: Way, lamp: PlacedLamp) -> float | None:
    """The fibre of a way that has to be named, because the lamp's size alone would bring a stiffer one; else None."""
    return way.fibre_mm if way.kind == "fibre" and lamp.model_mm is not None and lamp.model_mm > STIFF_MM else None


def _emitters(design: Design, of: str) -> list[Emitter]:
    """The LEDs, strips and illuminators that a name stands for."""
    groups = {lamp.name: lamp.group for lamp in design.lamps}
    return [row for row in design.loom.emitters
            if of in (row.name, row.circuit) or any(of in (lamp, groups.get(lamp)) for lamp in row.lamps)]


def _led(design: Design, of: str) -> list[str]:
    lit = zip(design.lamps, design.sources, strict=True)
    return _once(source.led for lamp, source in lit if of in (lamp.group, lamp.name))


def _current(design: Design, of: str) -> list[str]:
    return _once(f"{1000 * row.aim_current_a:.3g}" for row in _emitters(design, of))


def _resistor(design: Design, of: str) -> list[str]:
    found = (design.power.resistor(row.name) for row in _emitters(design, of))
    return _once(f"{row.value_ohm:g}" for row in found if row)


def _bundles(design: Design, of: str) -> list[Emitter]:
    return [row for row in _emitters(design, of) if row.kind == "illuminator"]


def _part(design: Design, of: str) -> list[str]:
    return _once(row.spot.part for row in _bundles(design, of))


def _fibres(design: Design, of: str) -> list[str]:
    return _once(str(sum(tail.emitter == row.name for tail in design.loom.tails)) for row in _bundles(design, of))


def _widths(design: Design, of: str) -> list[str]:
    lit = zip(design.lamps, design.sources, strict=True)
    return _once(f"{source.fibre_mm:g}" for lamp, source in lit if of in (lamp.group, lamp.name) and source.fibre_mm)


def _bundle_names(design: Design, of: str) -> list[str]:
    return _once(row.name for row in _bundles(design, of))


def _gauge(design: Design, of: str) -> list[str]:
    awg = {wire.name: wire.awg for wire in design.drawer.wires}
    return _once(str(awg[lead.wire]) for lead in design.loom.leads if lead.wire in awg and _is_of(lead, of))


def _is_of(lead: Lead, of: str) -> bool:
    return of in ("all", lead.circuit or "return")


def _once(words: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(words))


TOOK: dict[str, Callable[[Design, str], list[str]]] = {
    "led": _led, "current_ma": _current, "resistor_ohm": _resistor, "fibre_mm": _widths,
    "bundle": _bundle_names, "fibres_per_led": _fibres, "illuminator_part": _part, "gauge_awg": _gauge,
}
"""For each choice that a form holds by itself what the design took; strings and regulators have forms of their own."""
