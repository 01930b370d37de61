"""Changes of a plan, item by item, and an edit: the changes that belong together with the sentence that names them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

Action = Literal["set", "add", "remove"]


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one item: `kind` is a list of the plan or a single item, `values` plain values by plan key.

    A value of None takes the key out, so that it is what it is when left out. An item that is added comes last, or
    before the one that `before` names. An entry of the log is called by its step and part (`Done.name`). With
    `inner_list` the change is one of the item `inner` in that list of the item: an opening of a part, a mark of a
    picture. The kind 'plan' sets keys of the plan itself: its version, and lists whose items have no names.
    """

    action: Action
    kind: str
    name: str
    values: Mapping[str, Any]
    before: str | None = None
    inner_list: str = ""
    inner: str = ""


@dataclass(frozen=True, slots=True)
class Edit:
    """Changes that are made as one step, and what they change in one sentence."""

    changes: tuple[Change, ...]
    says: str
