"""The plan as text: one canonical form, defaults left out, points in brackets; it reads back equal."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import MISSING
from typing import Any

from rushlight.files._nodes import EMPTY_WORDS
from rushlight.files.migrate import VERSION_KEY
from rushlight.model.plan import DOCUMENT_VERSION, Plan
from rushlight.model.schema import Kind, keys_of

WIDTH = 100
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._/()+'-]*[A-Za-z0-9._/()+'-])?")
_OTHER_YAML = ("true", "false", "yes", "no", "on", "off", "y", "n", *(word.casefold() for word in EMPTY_WORDS))
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}


def dump_plan(plan: Plan) -> str:
    """The whole document, canonical.

    Parameters
    ----------
    plan : Plan
        Frozen values.
    Returns
    -------
    str
        Text of plan.yaml: the same plan gives the same text, and reading it gives the same plan.
    """
    lines = [f"{VERSION_KEY}: {DOCUMENT_VERSION}"]
    for key, kind, value in _said(plan):
        lines.append("")
        lines.extend(_entry(key, kind, value, ""))
    return "\n".join(lines) + "\n"


def dump_item(item: Any, indent: str = "") -> list[str]:
    """Lines of one item of a list, with its dash."""
    short = _flow_item(item)
    if short is not None and len(indent) + 2 + len(short) <= WIDTH:
        return [f"{indent}- {short}"]
    lines = [line for key, kind, value in _said(item) for line in _entry(key, kind, value, indent + "  ")]
    return [f"{indent}- {lines[0].lstrip()}", *lines[1:]] if lines else [f"{indent}- {{}}"]


def flow_item(item: Any) -> str:
    """One item in braces, on one line, whatever its length."""
    inner = (f"{key}: {flow_value(kind, value)}" for key, kind, value in _said(item))
    return "{" + ", ".join(inner) + "}"


def _said(item: Any) -> Iterator[tuple[str, Kind, Any]]:
    """The keys that differ from their defaults."""
    for field in keys_of(type(item)):
        value = getattr(item, field.name)
        if field.default is MISSING or value != field.default:
            yield field.name, field.metadata["kind"], value


def _entry(key: str, kind: Kind, value: Any, indent: str) -> list[str]:
    if kind.name == "items" and value:
        return [f"{indent}{key}:", *(line for item in value for line in dump_item(item, indent + "  "))]
    if kind.name == "item":
        return _nested(key, value, indent)
    text = flow_value(kind, value)
    if kind.name in ("points", "point_lists") and len(indent) + len(key) + 2 + len(text) > WIDTH:
        return _folded(key, [flow_value(_inner(kind), entry) for entry in value], indent)
    return [f"{indent}{key}: {text}"]


def _nested(key: str, item: Any, indent: str) -> list[str]:
    short = _flow_item(item)
    if indent and short is not None and len(indent) + len(key) + 2 + len(short) <= WIDTH:
        return [f"{indent}{key}: {short}"]
    lines = [line for inner, kind, value in _said(item) for line in _entry(inner, kind, value, indent + "  ")]
    return [f"{indent}{key}:", *lines] if lines else [f"{indent}{key}: {{}}"]


def _flow_item(item: Any) -> str | None:
    """The item in braces if nothing is nested in it."""
    if any(kind.item is not None for _, kind, _ in _said(item)):
        return None
    return flow_item(item)


def _inner(kind: Kind) -> Kind:
    return Kind("point" if kind.name == "points" else "points", kind.unit)


def _folded(key: str, entries: list[str], indent: str) -> list[str]:
    """A long list of points over several lines."""
    lines, line = [], f"{indent}  "
    for place, entry in enumerate(entries):
        piece = entry + ("," if place < len(entries) - 1 else "")
        if len(line) + len(piece) + 1 > WIDTH and line.strip():
            lines.append(line.rstrip())
            line = f"{indent}  "
        line += piece + " "
    return [f"{indent}{key}: [", *lines, line.rstrip(), f"{indent}]"]


def flow_value(kind: Kind, value: Any) -> str:
    """A value on one line."""
    special = _SPECIAL.get(kind.name)
    if special:
        return special(kind, value)
    if isinstance(value, tuple):
        return _listed([flow_value(kind, entry) for entry in value])
    if isinstance(value, bool):
        return "yes" if value else "no"
    return _text(value) if isinstance(value, str) else number_text(value)


def _listed(entries: list[str]) -> str:
    return f"[{', '.join(entries)}]"


def _items(kind: Kind, value: Any) -> str:
    return _listed([flow_item(item) for item in value])


def _item(kind: Kind, value: Any) -> str:
    return flow_item(value)


def _count_range(kind: Kind, value: tuple[int, int]) -> str:
    return str(value[0]) if value[0] == value[1] else f"{value[0]}-{value[1]}"


def _ratio(kind: Kind, value: float) -> str:
    return f"1:{number_text(value)}"


def _names(kind: Kind, value: tuple[str, ...]) -> str:
    return _text(value[0]) if len(value) == 1 else _listed([_text(word) for word in value])


_SPECIAL: dict[str, Callable[[Kind, Any], str]] = {
    "items": _items, "item": _item, "count_range": _count_range, "ratio": _ratio, "refs": _names, "names": _names,
}


def number_text(value: float) -> str:
    """A number so that it reads back the same; whole ones without a point."""
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    return repr(value)


def _text(value: str) -> str:
    return value if _needs_no_quotes(value) else _quoted(value)


def _needs_no_quotes(value: str) -> bool:
    if not _PLAIN.fullmatch(value) or value.casefold() in _OTHER_YAML:
        return False
    try:
        float(value)
    except ValueError:
        return True
    return False


def _quoted(value: str) -> str:
    return '"' + "".join(_letter(letter) for letter in value) + '"'


def _letter(letter: str) -> str:
    if letter in _ESCAPES:
        return _ESCAPES[letter]
    if letter.isprintable():
        return letter
    code = ord(letter)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
