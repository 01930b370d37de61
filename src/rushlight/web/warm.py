"""Importing this loads what every job of the worker needs, so that a process that is copied from it starts at once."""

from __future__ import annotations

import gc
from importlib import import_module

NEEDED = (
    "scipy.optimize", "scipy.sparse.csgraph", "shapely.ops", "PIL.Image", "contourpy", "rushlight.web.worker",
    "rushlight.open_plan", "rushlight.stages.pipeline", "rushlight.findings", "rushlight.findings.cures",
    "rushlight.sheets.dark", "rushlight.sheets.night_words", "rushlight.web.answer", "rushlight.web.own_plain",
    "rushlight.web.held_plain",
)

gc.disable()  # nothing to throw away while it loads
for _name in NEEDED:
    import_module(_name)
gc.enable()
gc.freeze()  # what is loaded stays for good: its pages are shared with every copy
