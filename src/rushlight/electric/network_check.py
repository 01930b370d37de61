"""What is wrong with a network in words, before any mathematics."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Network

Index = NDArray[np.int64]

FAULT_KINDS = ("no-supply", "short", "floating", "loose-end", "backwards", "not-settled")


@dataclass(frozen=True, slots=True)
class NetworkFault:
    """One thing that keeps a network, or a piece of it, from working."""

    kind: str
    message: str
    nodes: tuple[str, ...] = ()
    elements: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()


def joined(count: int, ends_a: Index, ends_b: Index) -> Index:
    """For each of `count` nodes the least node that it is joined to, through the given edges."""
    label = np.arange(count, dtype=np.int64)
    while True:
        a, b = label[ends_a], label[ends_b]
        apart = (a != b).nonzero()[0]
        if not len(apart):
            return label
        a, b = a[apart], b[apart]
        np.minimum.at(label, np.maximum(a, b), np.minimum(a, b))
        while (further := label[label]).tobytes() != label.tobytes():
            label = further


def contact_patterns(closed: NDArray[np.bool_]) -> tuple[list[NDArray[np.bool_]], Index]:
    """The unlike ways in which contacts are closed, and which of them each column has."""
    number: dict[bytes, int] = {}
    rows = list(np.ascontiguousarray(closed.T))
    which = [number.setdefault(row.tobytes(), len(number)) for row in rows]
    first = dict(zip(reversed(which), reversed(rows), strict=True))
    return [first[k] for k in range(len(number))], np.array(which, np.int64)


def supply_faults(network: Network, columns: Columns) -> tuple[NetworkFault, ...]:
    """'no-supply' where nothing drives the network in any column."""
    if not network.named("source"):
        return (NetworkFault("no-supply", "There is no supply in the network; every lamp stays dark."),)
    if not np.any(columns.emf_v != 0):
        return (NetworkFault("no-supply", "Every supply stands at 0 V; every lamp stays dark."),)
    return ()


def short_faults(network: Network, columns: Columns) -> tuple[NetworkFault, ...]:
    """'short' for each source whose terminals are joined by wire and closed contacts alone."""
    wires, contacts, sources = (network.rows(kind) for kind in ("wire", "switch", "source"))
    base = joined(len(network.nodes), network.end_a[wires], network.end_b[wires])
    # Only where contacts and supplies end does it matter what is joined.
    ends = base[np.array([rows[np.concatenate([contacts, sources])] for rows in (network.end_a, network.end_b)])]
    points, place = np.unique(ends, return_inverse=True)
    start, stop = place.reshape(2, -1)
    patterns, which = contact_patterns(columns.closed)
    which = np.broadcast_to(which, columns.count)
    labels = [joined(len(points), start[: len(contacts)][closed], stop[: len(contacts)][closed]) for closed in patterns]
    found = []
    for row, at in enumerate(sources.tolist(), len(contacts)):
        bad = [pattern for pattern, label in enumerate(labels) if label[start[row]] == label[stop[row]]]
        names = tuple(name for name, pattern in zip(columns.names, which, strict=True) if pattern in bad)
        if names:
            found.append(_short(network.elements[at].name, names))
    return tuple(found)


def _short(source: str, columns: tuple[str, ...]) -> NetworkFault:
    words = (
        f"Supply '{source}' is short-circuited: plain wire joins its plus to its minus in "
        f"{', '.join(columns[:4])}. Do not connect it."
    )
    return NetworkFault("short", words, elements=(source,), columns=columns)


def floating_fault(network: Network, alive: NDArray[np.bool_]) -> tuple[NetworkFault, ...]:
    """'floating' for the nodes that no supply reaches."""
    if alive.all():
        return ()
    lost = tuple(node for node, ok in zip(network.nodes, alive, strict=True) if not ok)
    gone = set(lost)
    inside = tuple(e.name for e in network.elements if e.node_a in gone)
    words = f"No supply reaches {_some(lost)}: {_some(inside)} cannot light."
    return (NetworkFault("floating", words, lost, inside),)


def loose_fault(network: Network, loose: Index) -> tuple[NetworkFault, ...]:
    """'loose-end' for the elements that no current can pass, since one side leads nowhere."""
    names = tuple(network.elements[at].name for at in loose)
    if not names:
        return ()
    words = f"One side of {_some(names)} leads nowhere, so no current can pass."
    return (NetworkFault("loose-end", words, elements=names),)


def backwards_faults(
    network: Network, columns: Columns, string_v: NDArray[np.float64], string_a: NDArray[np.float64]
) -> tuple[NetworkFault, ...]:
    """'backwards' for strings that only ever see reverse voltage."""
    sound = np.all(columns.string_state == 0, axis=1)
    never = np.all(np.nan_to_num(string_a) < 1e-8, axis=1) & sound
    reverse = np.where(never[:, None], string_v, 0.0)
    bad = np.flatnonzero(np.any(reverse < -0.5, axis=1))
    names = network.named("string")
    return tuple(_backwards(names[at], float(-np.nanmin(string_v[at]))) for at in bad)


def _backwards(name: str, reverse_v: float) -> NetworkFault:
    words = f"'{name}' sits backwards: it sees up to {reverse_v:.1f} V in reverse, never conducts, and may be damaged."
    return NetworkFault("backwards", words, elements=(name,))


def _some(names: tuple[str, ...]) -> str:
    shown = ", ".join(f"'{name}'" for name in names[:4])
    return shown + (f" and {len(names) - 4} more" if len(names) > 4 else "")
