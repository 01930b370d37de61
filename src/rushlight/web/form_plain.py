"""What the forms that are fetched late need to know: keys of nested items, rows of the drawer, lights of the rules."""

from __future__ import annotations

from typing import Any

from rushlight.model.drawer import Drawer
from rushlight.model.plan import Brightness, MadeBy, Space
from rushlight.model.plan_bench import Pin
from rushlight.model.schema import keys_of
from rushlight.stages.rule_check import RULED
from rushlight.stages.subject_lights import known_states
from rushlight.tables import rows
from rushlight.web.plain import key_json

RULE_TABLES = {
    "ship": "ship_light_kinds", "aircraft": "aircraft_light_kinds", "road vehicle": "road_light_kinds",
    "rail vehicle": "rail_lights",
}
"""For each kind of subject the table of the lights that its rules know, by key."""


def forms_json(drawer: Drawer, kind: str) -> dict[str, Any]:
    """What the late forms offer.

    Parameters
    ----------
    drawer : Drawer
        What the plan is read with.
    kind : str
        Kind of subject, whose rules count.
    Returns
    -------
    dict
        `keys`: for brightness, source, spaces and pinned what each key may hold. `leds`, `strips`, `regulators`: names
        of rows of the drawer; `fibres_mm`: diameters [mm]; `gauges`: AWG numbers of its wires. `rules`: key, name and
        bearings [deg] of each light of the subject's rules; `states`: the states that its rules know.
    """
    kinds = {"brightness": Brightness, "source": MadeBy, "spaces": Space, "pinned": Pin}
    return {
        "keys": {name: [key_json(field) for field in keys_of(item)] for name, item in kinds.items()},
        "leds": [row.name for row in drawer.leds],
        "strips": [row.name for row in drawer.strips],
        "regulators": [row.name for row in drawer.regulators],
        "fibres_mm": sorted({row.diameter_mm for row in drawer.fibres}),
        "gauges": [str(awg) for awg in sorted({row.awg for row in drawer.wires})],
        "rules": _lights(kind),
        "states": list(known_states(kind)) if kind in RULED else [],
    }


def _lights(kind: str) -> list[dict[str, Any]]:
    if kind not in RULE_TABLES:
        return []
    return [{"key": row["key"], "name": row["name"], "arc_deg": _arc(row)} for row in rows(RULE_TABLES[kind])]


def _arc(row: dict[str, str]) -> list[float] | None:
    """The bearings that the rule gives a light, clockwise; None where it gives none."""
    ends = [row.get("bearing_from_deg"), row.get("bearing_to_deg")]
    return [float(end) for end in ends if end] if all(ends) else None
