"""rushlight: plan, check and build the lighting of a scale model before it is closed for good.

Public calls, loaded when first used so that importing the package stays light:

    read_drawer(user_folder=None) -> Drawer        read_plan(folder, drawer) -> ReadPlan
    own_values(drawer, plan) -> Drawer             design(plan, drawer) -> Design
    find(design) -> tuple[Finding, ...]            draw(design, findings) -> tuple[Sheet, ...]
    open_plan.open_plan(folder) -> OpenPlan        write_book(opened, folder=None) -> WrittenBook
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_CALLS = {
    "read_drawer": "rushlight.files.drawer_csv",
    "read_plan": "rushlight.files.plan_yaml",
    "own_values": "rushlight.files.own_values",
    "design": "rushlight.stages.pipeline",
    "find": "rushlight.findings",
    "draw": "rushlight.sheets",
    "write_book": "rushlight.open_plan",
}

__all__ = ["__version__", *_CALLS]  # noqa: PLE0604


def __getattr__(name: str) -> Any:
    """A public call, from the module that holds it."""
    if name in _CALLS:
        return getattr(import_module(_CALLS[name]), name)
    raise AttributeError(f"module 'rushlight' has no attribute '{name}'")
