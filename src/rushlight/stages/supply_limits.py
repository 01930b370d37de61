"""What parts bear of a supply: the voltage of strips and pre-wired LEDs, a pouch's room, what stays outside."""

from __future__ import annotations

from rushlight.model.drawer import CellPart
from rushlight.model.plan_bench import Supply
from rushlight.model.plan_part import Bay

STRIP_TOLERANCE = 0.1
"""A strip's resistors bear so much over its voltage (from memory, typical)."""

STRIP_MOST_SHARE = 1.5
"""A strip's LEDs bear so much over their nominal current (from memory, typical: 20 mA parts rated for 30 mA)."""

PRE_WIRED_TOLERANCE = 0.05
"""A regulated adapter holds its voltage about so well (from memory)."""

SWELL = 1.1
"""A lithium cell may swell by about a tenth of its thickness in its life (from memory, typical)."""

REACHED_FROM_OUTSIDE = ("plug outside", "open")
"""Kinds of access by which the lead of a finished unit comes in."""


def pouch_needs_mm(part: CellPart) -> float:
    """The depth that a lithium pouch needs to swell [mm]; 0 for other cells."""
    return part.height_mm * SWELL if part.shape == "pouch" and part.height_mm is not None else 0.0


def least_side_mm(bay: Bay) -> float:
    """The shortest side of a bay [mm]."""
    return min(bay.rect_mm[2], bay.rect_mm[3], bay.depth_mm)


def access_for(supply: Supply, bay: Bay) -> str:
    """How a bay is to be reached for a supply: a finished unit stays outside, cells come out again."""
    if supply.kind != "cells":
        return bay.access if supply.bay is None or bay.access in REACHED_FROM_OUTSIDE else "plug outside"
    return "screwed hatch" if bay.access in ("plug outside", "sealed") else bay.access
