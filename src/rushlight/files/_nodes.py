"""A document as a tree of nodes that know where they stand. Scalars stay text: what they mean, the schema says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

EMPTY_WORDS = ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Text:
    """A scalar as it stands; `plain` if it is written without quotes."""

    value: str
    line: int
    column: int
    plain: bool = True
    end_line: int = 0

    @property
    def empty(self) -> bool:
        """Whether nothing stands here, as YAML 1.2 has it."""
        return self.plain and self.value in EMPTY_WORDS


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list; `flow` if it is written in brackets, `end` is then the character index of the closing bracket."""

    items: tuple[Node, ...]
    line: int
    column: int
    flow: bool = False
    end: int = -1


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with their values, in order, each key once."""

    entries: tuple[tuple[Text, Node], ...]
    line: int
    column: int
    flow: bool = False
    end: int = -1
    _index: dict[str, Node] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        self._index.update({key.value: value for key, value in self.entries})

    def get(self, key: str) -> Node | None:
        """The value of a key, or None."""
        return self._index.get(key)

    def key(self, name: str) -> Text | None:
        """The key itself, as it stands."""
        return next((key for key, _ in self.entries if key.value == name), None)


@dataclass(frozen=True, slots=True)
class Unread:
    """What stands here was refused already (an alias, say); nothing more is said of it."""

    line: int
    column: int


Node = Text | Sequence | Mapping | Unread


def last_line(node: Node) -> int:
    """The last line, from 1, that the node's own text reaches."""
    last = _last_leaf(node)
    return node.line if last is None else last.end_line


def _last_leaf(node: Node) -> Text | None:
    if isinstance(node, Text):
        return node
    inner = node.items if isinstance(node, Sequence) else ()
    if isinstance(node, Mapping):
        inner = tuple(part for entry in node.entries[-1:] for part in entry)
    return next((leaf for part in reversed(inner) if (leaf := _last_leaf(part)) is not None), None)


def leaves(node: Node) -> Iterator[Text]:
    """Every scalar of the tree, keys too."""
    waiting: list[Node] = [node]
    while waiting:
        top = waiting.pop()
        if isinstance(top, Text):
            yield top
        elif isinstance(top, Sequence):
            waiting.extend(top.items)
        elif isinstance(top, Mapping):
            waiting.extend(part for entry in top.entries for part in entry)
