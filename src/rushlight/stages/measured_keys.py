"""What a reading must tell: the keys that its method needs, and what it may be of."""

from __future__ import annotations

from typing import Any

from rushlight.errors import nearest_word
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import Measured
from rushlight.stages.aside import ASIDE, BEAD
from rushlight.stages.bundles import BUNDLE_WIDTH
from rushlight.stages.measured_found import (
    HOLE_PLAY,
    LIP_LAP,
    POLISHED,
    POST_GAP,
    POST_PAINT,
    POST_ROOT,
    SEAM_GAP,
    MeasuredFault,
)
from rushlight.stages.rooms import BOXED_ROOM
from rushlight.stages.supplies import (
    BANK,
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    CELL_OHM,
    FEED_POWER,
    UNIT_VOLTS,
    UNITS,
)
from rushlight.tables import Row, rows

TABLES: dict[str, tuple[str, ...]] = {
    "led intensity": ("leds",), "led half angle": ("leds",), ASIDE: ("leds",), "led voltage": ("leds",),
    "strip flux": ("strips",), "diffuser": ("diffusers",),
    "wall": ("walls",), "coat": ("coats",), "reflectance": ("coats", "walls"), "fibre joint": ("leds",),
    "fibre length": ("fibres",), "fibre bend": ("fibres",), BUNDLE_WIDTH: ("fibres",),
    CELL_CHARGE: ("cells",), CELL_OHM: ("cells",),
}
"""Tables of the drawer in which the thing measured is looked up; the others name what they are of by a word."""

ONE_THING = {
    HOLE_PLAY: "holes", BANK_ENERGY: BANK, BANK_LOAD: BANK, "pulse rate": "controller", "camera readout": "camera",
    "room light": "room",
}
"""Methods of which there is one thing alone, and what it is called."""

OF_PLAN = ("lamp", "hull warmth", SEAM_GAP, LIP_LAP, POST_GAP, POST_ROOT, POST_PAINT, FEED_POWER)
"""What is measured of a thing that the plan names; whether it is there is asked where the plan is known."""

KEY_WORDS = {
    "against": "the readings without it", "distance_mm": "the distance to the meter", "length_mm": "the piece's length",
    "led": "the LED that lit it", "state": "the state that it was lit in", "power_w": "what was burnt inside",
    "radius_mm": "the bend's radius", "turn_deg": "how far it turned",
    "series_ohm": "the resistor of each reading",
    "pulse_hz": "the pulses of the lamp that it saw", "at_ma": "the current that it gave",
    "printed_mah": "the capacity printed on it", "printed_v": "the volts printed on it",
    "thickness_mm": "the piece's thickness", "fibre_mm": "the test piece's width", "count": "how many",
}
"""What a key that a method needs tells, in words."""


def keys_needed(method: Row) -> tuple[str, ...]:
    """Keys of a reading that its method needs beside `readings`."""
    return (*(("against",) if method["against"] else ()), *(word for word in method["must"].split(";") if word))


def check_keys(one: Measured, method: Row) -> None:
    """Raises MeasuredFault for a key that is missing, or that holds what no meter shows."""
    for key in keys_needed(method):
        if getattr(one, key) in (None, ()):
            raise MeasuredFault(key, "is missing", f"{KEY_WORDS[key]}: {one.what} needs it")
    for key in ("readings", "against", "two", "series_ohm"):
        low = next((value for value in getattr(one, key) if value <= 0), None)
        if low is not None:
            raise MeasuredFault(key, f"hold {low:g}", "more than 0: what no meter shows cannot be reckoned with")


def may_be_of(drawer: Drawer, what: str) -> tuple[str, ...]:
    """What a method's reading may be of: names of rows of the drawer, or words."""
    if what in OF_PLAN:
        return ()
    if what in ONE_THING:
        return (ONE_THING[what],)
    if what == UNIT_VOLTS:
        return tuple(UNITS.values())
    if what == "fibre end":
        return tuple(row["finish"] for row in rows("fibre_finish") if row["finish"] != POLISHED)
    if what == "stray light":
        return tuple(row["kind"] for row in rows("stray_share") if row["kind"] != "inward")
    words = {"reflectance": (BOXED_ROOM,), ASIDE: (BEAD,)}.get(what, ())
    return (*(row.name for table in TABLES[what] for row in getattr(drawer, table)), *words)


def row_of(drawer: Drawer, one: Measured) -> Any:
    """The row of the drawer that was measured, or the word itself."""
    if one.what in OF_PLAN:
        return one.of
    known = may_be_of(drawer, one.what)
    if one.of not in known:
        of = f"a row of the drawer's {' or '.join(TABLES[one.what])}" if one.what in TABLES else ", ".join(known)
        of += f", or {BEAD}" if one.what == ASIDE else ""
        raise MeasuredFault("of", f"'{one.of}' is not known", of, nearest_word(one.of, known))
    if one.what not in TABLES or one.of == BOXED_ROOM or (one.what, one.of) == (ASIDE, BEAD):
        return one.of
    return next(row for table in TABLES[one.what] for row in getattr(drawer, table) if row.name == one.of)
