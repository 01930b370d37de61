"""What the design assumed, how much hangs on it, and how to measure it instead."""

from __future__ import annotations

from rushlight.model.design import Assumption
from rushlight.stages.build import Build
from rushlight.stages.supplies import in_cells
from rushlight.tables import rows


def assumptions_of(build: Build) -> tuple[Assumption, ...]:
    """The uncertain inputs that this build really uses, with the bench method for each.

    Source
    ------
    uncertain_inputs.csv.
    """
    return tuple(
        Assumption(what=row["input"], value=row["typical_spread"], effect=row["effect"], measure=row["how_to_measure"],
                   source=row["source"])
        for row in rows("uncertain_inputs")
        if _used(build, row["input"])
    )


def _used(build: Build, what: str) -> bool:
    fibres, strips = bool(build.loom.tails), bool(build.plan.strips)
    rhythms = any(circuit.rhythm != "steady" for circuit in build.circuits)
    needs = {
        "LED-to-bundle": fibres, "bundle width": fibres, "fibre ends": fibres, "bend loss": fibres, "diffuser": strips,
        "strip:": strips, "fibre: what": fibres, "power bank": _of_kind(build, "usb power bank"),
        "seams": any(part.seams_mm and part.seams_closed != "filled" for part in build.plan.parts),
        "PWM": rhythms, "camera": rhythms, "hull temperature": bool(build.plan.spaces), "cells": in_cells(build.plan),
        "cavity reflectance": bool(build.plan.spaces),
    }
    return next((used for start, used in needs.items() if what.startswith(start)), True)


def _of_kind(build: Build, kind: str) -> bool:
    return build.plan.supply is not None and build.plan.supply.kind == kind
