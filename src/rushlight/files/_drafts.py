"""A plan half read: values that are right, places of all of them, so that every check can still speak."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from rushlight.files._nodes import Mapping, Node, Text


@dataclass(slots=True)
class Draft:
    """One item of the plan: what could be read of it, and where each key stands."""

    kind: type
    node: Mapping
    label: str
    values: dict[str, Any] = field(default_factory=dict)
    failed: set[str] = field(default_factory=set)

    def get(self, key: str) -> Any:
        """The value of a key, None where it is left out or could not be read."""
        return self.values.get(key)

    def given(self, key: str) -> bool:
        """Whether the document holds this key with something in it, right or wrong."""
        return key in self.values or key in self.failed

    def items(self, key: str) -> tuple[Draft, ...]:
        """The nested items of a key."""
        value = self.values.get(key)
        if isinstance(value, Draft):
            return (value,)
        return tuple(value or ())

    def place(self, key: str, *indexes: int) -> Node | Text:
        """Where the value of a key stands, or one entry of its list; where the item starts if it has no such key."""
        found: Node = self.node.get(key) or self.node
        for index in indexes:
            inner = getattr(found, "items", ())
            found = inner[index] if index < len(inner) else found
        return found

    @property
    def name(self) -> str | None:
        """The item's name, if it has a right one."""
        return self.values.get("name")


def build(draft: Draft) -> Any:
    """The frozen value; only for drafts without faults."""
    return draft.kind(**{key: built(value) for key, value in draft.values.items()})


def built(value: Any) -> Any:
    """The same for the value of one key."""
    if isinstance(value, Draft):
        return build(value)
    if isinstance(value, tuple) and value and isinstance(value[0], Draft):
        return tuple(build(entry) for entry in value)
    return value
