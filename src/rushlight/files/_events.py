"""From bytes to nodes. YAML's own events are read, and nothing of YAML that could surprise is let through:
no anchor, no alias, no tag, no second document, no key twice, no depth or size without end.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import yaml

from rushlight.files._faults import Faults, shown
from rushlight.files._nodes import Mapping, Node, Sequence, Text, Unread

MOST_BYTES = 8_000_000
MOST_EVENTS = 2_000_000
DEEPEST = 24

_LOADER: Any = getattr(yaml, "CLoader", yaml.Loader)
_MARKS = {b"\xef\xbb\xbf": "utf-8-sig", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}


class _Stop(Exception):
    """Reading cannot go on; the problem is recorded already."""


def read_nodes(data: bytes | str, faults: Faults) -> Mapping | None:
    """The document as a tree, or None where no tree could be made; problems go to `faults`."""
    text = data if isinstance(data, str) else _decoded(data, faults)
    if text is None or _too_long(text, faults):
        return None
    try:
        return _Reader(text, faults).document()
    except _Stop:
        return None
    except yaml.YAMLError as error:
        _syntax(error, text, faults)
        return None


def decoded(data: bytes) -> str:
    """The text of a document: UTF-8, or UTF-16 with its mark.

    Raises
    ------
    UnicodeDecodeError
        If the bytes are no such text.
    """
    encoding = next((name for mark, name in _MARKS.items() if data.startswith(mark)), "utf-8")
    return data.decode(encoding)


def _decoded(data: bytes, faults: Faults) -> str | None:
    if len(data) > MOST_BYTES:
        faults.add(None, "", f"{len(data) / 1e6:.1f} MB", f"a plan of at most {MOST_BYTES / 1e6:g} MB")
        return None
    try:
        return decoded(data)
    except UnicodeDecodeError as error:
        before = data[: error.start]
        place = Unread(before.count(b"\n") + 1, error.start - before.rfind(b"\n"))
        faults.add(place, "", f"the byte {data[error.start]:#04x}, which is no text", "text saved as UTF-8")
        return None


def _too_long(text: str, faults: Faults) -> bool:
    if len(text) > MOST_BYTES:
        faults.add(None, "", f"{len(text) / 1e6:.1f} million characters", f"at most {MOST_BYTES / 1e6:g} million")
        return True
    return False


def _syntax(error: yaml.YAMLError, text: str, faults: Faults) -> None:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if mark is not None:
        says = getattr(error, "problem", None) or "something that is not YAML"
        faults.add(Unread(mark.line + 1, mark.column + 1), "", f"the YAML breaks here: {says}", _likely(str(says)))
        return
    place = int(getattr(error, "position", 0) or 0)
    before = text[:place]
    letter = getattr(error, "character", None)
    code = letter if isinstance(letter, int) else ord(text[place]) if place < len(text) else 0
    faults.add(Unread(before.count("\n") + 1, place - before.rfind("\n")), "",
               f"the character U+{code:04X}", "characters that can be printed")


def _likely(says: str) -> str:
    """What the likely slip asks for, in plain words."""
    if "tab" in says or "'\\t'" in says:
        return "spaces; YAML takes no tabs at the start of a line"
    if "mapping values" in says:
        return "one 'key: value' a line; a value that holds ': ' stands in quotes"
    if "could not find expected ':'" in says:
        return "'key: value', with a colon and a space"
    if "end of stream" in says or "unexpected end" in says:
        return "a closing quote or bracket before the end"
    return "keys of one item at one indent, brackets and quotes closed"


class _Reader:
    """One pass over the events; a stack is not needed, the depth is bounded."""

    def __init__(self, text: str, faults: Faults) -> None:
        self.faults = faults
        self.events: Iterator[Any] = iter(yaml.parse(text, Loader=_LOADER))
        self.count = 0
        self.aliases: set[str] = set()

    def next(self) -> Any:
        self.count += 1
        if self.count > MOST_EVENTS:
            self.stop(None, f"more than {MOST_EVENTS:,} values", "a plan that a person could read")
        return next(self.events)

    def stop(self, place: Unread | None, found: str, expected: str) -> None:
        self.faults.add(place, "", found, expected)
        raise _Stop

    def document(self) -> Mapping | None:
        self.next()
        if isinstance(self.next(), yaml.StreamEndEvent):
            self.stop(Unread(1, 1), "nothing", "a plan; its first line is 'rushlight: 1'")
        first = self.next()
        root = self.node(first, 1)
        self.next()
        after = self.next()
        if not isinstance(after, yaml.StreamEndEvent):
            self.stop(_place(after), "a second document", "one document; leave out the line '---'")
        if isinstance(root, Mapping):
            return root
        if not isinstance(root, Unread):
            self.stop(_place(first), _kind_of(root), "a plan: keys with values, the first 'rushlight: 1'")
        return None

    def node(self, event: Any, depth: int) -> Node:
        if isinstance(event, yaml.AliasEvent):
            return self.alias(event)
        self.check(event, depth)
        if isinstance(event, yaml.ScalarEvent):
            return _text(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(event, depth)
        return self.mapping(event, depth)

    def alias(self, event: Any) -> Unread:
        """Each alias is named once, however often it stands."""
        if event.anchor not in self.aliases:
            self.aliases.add(event.anchor)
            self.faults.add(_place(event), "", f"an alias ({shown(f'*{event.anchor}')})",
                            "the value itself; plans know no aliases")
        return _place(event)

    def check(self, event: Any, depth: int) -> None:
        if event.anchor is not None:
            self.faults.add(_place(event), "", f"an anchor ({shown('&' + event.anchor)})",
                            "the value alone; plans know no anchors")
        if event.tag is not None:
            self.faults.add(_place(event), "", f"a tag ({shown(event.tag)})", "the value alone; plans know no tags")
        if depth > DEEPEST:
            self.stop(_place(event), f"lists or keys nested more than {DEEPEST} deep", "a plan that is flatter")

    def sequence(self, start: Any, depth: int) -> Sequence:
        items: list[Node] = []
        while not isinstance(event := self.next(), yaml.SequenceEndEvent):
            items.append(self.node(event, depth + 1))
        place = _place(start)
        return Sequence(tuple(items), place.line, place.column, bool(start.flow_style), _end(event))

    def mapping(self, start: Any, depth: int) -> Mapping:
        entries: dict[str, tuple[Text, Node]] = {}
        while not isinstance(event := self.next(), yaml.MappingEndEvent):
            key = self.node(event, depth + 1)
            value = self.node(self.next(), depth + 1)
            self.entry(entries, key, value)
        place = _place(start)
        return Mapping(tuple(entries.values()), place.line, place.column, bool(start.flow_style), _end(event))

    def entry(self, entries: dict[str, tuple[Text, Node]], key: Node, value: Node) -> None:
        if isinstance(key, Unread):
            return
        if not isinstance(key, Text):
            self.faults.add(key, "", f"{_kind_of(key)} as a key", "a word as a key")
        elif key.value in entries:
            first = entries[key.value][0].line
            self.faults.add(key, "", f"the key {shown(key.value)} again (first in line {first})", "each key once")
        else:
            entries[key.value] = (key, value)


def _kind_of(node: Node) -> str:
    return {Text: "a single value", Sequence: "a list", Mapping: "keys with values"}.get(type(node), "nothing")


def _place(event: Any) -> Unread:
    return Unread(event.start_mark.line + 1, event.start_mark.column + 1)


def _end(event: Any) -> int:
    """Character index of the closing bracket, if there is one."""
    return int(event.end_mark.index) - 1


def _text(event: Any) -> Text:
    start, end = event.start_mark, event.end_mark
    end_line = end.line + 1 if end.column or end.line == start.line else end.line
    return Text(event.value, start.line + 1, start.column + 1, not event.style, end_line)
