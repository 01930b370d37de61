"""Documents of older versions, brought up to date one version at a time, on the tree of nodes.

To change a key of the plan: raise DOCUMENT_VERSION in model/plan.py and add one Migration at the end of MIGRATIONS.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from rushlight.files._faults import Faults, shown
from rushlight.files._nodes import Mapping, Node, Sequence, Text
from rushlight.files._quantity import NotThat, whole_number
from rushlight.model.plan import DOCUMENT_VERSION

VERSION_KEY = "rushlight"


@dataclass(frozen=True, slots=True)
class Migration:
    """From `version` to the next one."""

    version: int
    what: str
    apply: Callable[[Mapping], Mapping]


def renamed(node: Mapping, old: str, new: str) -> Mapping:
    """The same keys, one of them under its new name."""
    entries = tuple((replace(key, value=new) if key.value == old else key, value) for key, value in node.entries)
    return replace(node, entries=entries)


def in_each(node: Mapping, key: str, change: Callable[[Mapping], Mapping]) -> Mapping:
    """The same keys, each item of one list changed."""
    def changed(value: Node) -> Node:
        if not isinstance(value, Sequence):
            return value
        return replace(value, items=tuple(change(item) if isinstance(item, Mapping) else item for item in value.items))

    return replace(node, entries=tuple((k, changed(v) if k.value == key else v) for k, v in node.entries))


def _lights_become_lamps(root: Mapping) -> Mapping:
    """Version 0 called lamps lights, and their place at."""
    root = renamed(root, "lights", "lamps")
    return in_each(root, "lamps", lambda lamp: renamed(lamp, "at", "at_mm"))


MIGRATIONS: tuple[Migration, ...] = (
    Migration(0, "lights are called lamps, and their place at_mm", _lights_become_lamps),
)
"""One for each version before the present one, in order."""


def up_to_date(root: Mapping, faults: Faults) -> Mapping | None:
    """The document as the present version has it, without its version key; None where it cannot be read.

    Parameters
    ----------
    root : Mapping
        The whole document; its first key says its version.
    faults : Faults
        Takes the problem of a missing, wrong or newer version.
    Returns
    -------
    Mapping or None
        The keys of a plan.
    """
    version = _version(root, faults)
    if version is None:
        return None
    for migration in MIGRATIONS[version:]:
        root = migration.apply(root)
    return replace(root, entries=tuple(entry for entry in root.entries if entry[0].value != VERSION_KEY))


def _version(root: Mapping, faults: Faults) -> int | None:
    node = root.get(VERSION_KEY)
    if not isinstance(node, Text):
        faults.add(node or root, "", "no version of the document",
                   f"'{VERSION_KEY}: {DOCUMENT_VERSION}' as its first line")
        return None
    try:
        version = whole_number(node.value)
    except NotThat:
        version = -1
    if version > DOCUMENT_VERSION:
        faults.add(node, "", f"a document of version {version}, newer than this program",
                   f"version {DOCUMENT_VERSION} or older; a newer rushlight reads it")
        return None
    if version < 0:
        faults.add(node, "", f"the version {shown(node.value)}", f"{DOCUMENT_VERSION}")
        return None
    return version
