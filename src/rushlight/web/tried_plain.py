"""An edit as it was tried, as plain data."""

from __future__ import annotations

from typing import Any

from rushlight.edits_tried import Tried, tried_offer
from rushlight.files.drawer_csv import own_folder, read_drawer
from rushlight.files.own_values import own_values
from rushlight.open_plan import OpenPlan
from rushlight.stages.pipeline import Progress
from rushlight.web.answer import change_json


def tried_json(held: OpenPlan, key: str, item: str, tell: Progress) -> dict[str, Any]:
    """What a finding's edit takes away and brings; nothing of a finding that is not there, or that offers none."""
    finding = next((row for row in held.findings if (row.key, row.item) == (key, item)), None)
    parts = read_drawer(own_folder())
    offer = None if finding is None else tried_offer(
        held.design, held.findings, finding, lambda plan: own_values(parts, plan), progress=tell)
    if offer is None:
        return {"key": key, "item": item, "says": "", "brings": [], "other": None}
    return {"key": key, "item": item, "says": offer.first.says, "brings": [row.key for row in offer.first.brings],
            "other": None if offer.other is None else _other(offer.other)}


def _other(tried: Tried) -> dict[str, Any]:
    return {"says": tried.edit.says, "changes": [change_json(change) for change in tried.edit.changes],
            "tried": tried.says}
