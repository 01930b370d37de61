"""From nodes to drafts: the schema says which keys an item has and what each may hold."""

from __future__ import annotations

import dataclasses
from dataclasses import MISSING
from functools import cache
from typing import Any

from rushlight.files._drafts import Draft
from rushlight.files._faults import Faults, shown
from rushlight.files._nodes import Mapping, Node, Sequence, Text
from rushlight.files._values import Bad, BadEntries, Silent, entries, value_of
from rushlight.files._words import item_word, kind_in_words
from rushlight.model.schema import Kind, keys_of

_CHECKED = ("colour", "rhythm")


@cache
def _fields(kind: type) -> dict[str, dataclasses.Field[Any]]:
    return {field.name: field for field in keys_of(kind)}


class Converter:
    """Makes drafts; every fault goes to `faults`. Colours and rhythms that came before are known."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self._known: dict[tuple[str, str], str | Bad] = {}

    def value_of_key(self, kind: type, key: str, node: Node) -> Any:
        """The value of one key of an item, read by itself; None and a fault where it is not right."""
        draft = Draft(kind, Mapping((), node.line, node.column), "")
        self._take(draft, _fields(kind)[key], node)
        return draft.get(key)

    def item(self, kind: type, node: Node, label: str) -> Draft | None:
        """One item with keys, or None where there are no keys at all."""
        if not isinstance(node, Mapping):
            self._no_keys(kind, node, label)
            return None
        draft = Draft(kind, node, label)
        fields = _fields(kind)
        for key, value in node.entries:
            if key.value in fields:
                self._take(draft, fields[key.value], value)
            else:
                self.faults.add(key, label, f"the key {shown(key.value)} is not known", _keys(kind),
                                word=key.value, known=fields)
        self._missing(draft, fields)
        return draft

    def _no_keys(self, kind: type, node: Node, label: str) -> None:
        if isinstance(node, Sequence):
            self.faults.add(node, label, "a list stands here", _keys(kind))
        if isinstance(node, Text):
            self.faults.add(node, label, f"{'nothing' if node.empty else shown(node.value)} stands here", _keys(kind))

    def _missing(self, draft: Draft, fields: dict[str, dataclasses.Field[Any]]) -> None:
        for name, field in fields.items():
            if field.default is MISSING and not draft.given(name):
                place = draft.node.key(name) or draft.node
                self.faults.add(place, draft.label, f"{name} is left out", kind_in_words(field.metadata["kind"]))

    def _take(self, draft: Draft, field: dataclasses.Field[Any], node: Node) -> None:
        """Put the value of one key into the draft; an empty one counts as left out."""
        if isinstance(node, Text) and node.empty:
            return
        kind: Kind = field.metadata["kind"]
        try:
            draft.values[field.name] = self._value(kind, node, draft.label, field.name)
        except Silent:
            draft.failed.add(field.name)
        except Bad as bad:
            self._wrong(draft, field, (bad,))
        except BadEntries as many:
            self._wrong(draft, field, many.each)

    def _wrong(self, draft: Draft, field: dataclasses.Field[Any], each: tuple[Bad, ...]) -> None:
        draft.failed.add(field.name)
        for bad in each:
            self.faults.add(bad.place, draft.label, f"{field.name} is {bad.found}",
                            bad.expected or kind_in_words(field.metadata["kind"]), word=bad.word, known=bad.known)

    def _value(self, kind: Kind, node: Node, label: str, key: str) -> Any:
        if kind.item is not None:
            return self._nested(kind, kind.item, node, label, key)
        if kind.name in _CHECKED and isinstance(node, Text):
            return self._understood(kind, node)
        return value_of(kind, node)

    def _understood(self, kind: Kind, node: Text) -> str:
        """A colour or rhythm; what the same words gave before, they give again."""
        before = self._known.get((kind.name, node.value))
        if before is None:
            try:
                before = str(value_of(kind, node))
            except Bad as bad:
                before = bad
            self._known[kind.name, node.value] = before
        if isinstance(before, Bad):
            raise before.at(node)
        return before

    def _nested(self, kind: Kind, item: type, node: Node, label: str, key: str) -> Any:
        before = f"{label}, " if label else ""
        if kind.name == "item":
            draft = self.item(item, node, f"{before}{key.replace('_', ' ')}")
            if draft is None:
                raise Silent
            return draft
        if isinstance(node, Mapping):
            raise Bad(node, "one item without a dash")
        found = entries(node)
        if not kind.least <= len(found) <= kind.most:
            raise Bad(node, f"a list of {len(found)}")
        drafts = [self.item(item, entry, before + _label(item, entry, place)) for place, entry in enumerate(found, 1)]
        return tuple(draft for draft in drafts if draft is not None)


def _label(item: type, node: Node, place: int) -> str:
    """How a problem calls one item: by its name, or by its place in the list."""
    name = node.get("name") if isinstance(node, Mapping) else None
    word = item_word(item)
    return f"{word} {shown(name.value)}" if isinstance(name, Text) and name.value else f"{word} {place}"


def _keys(kind: type) -> str:
    names = list(_fields(kind))
    return f"keys of {item_word(kind)}: {', '.join(names)}"
