"""Thin sheets behind the brighter of some windows, so that they look like the dimmest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rushlight.model.drawer import Drawer
from rushlight.model.plan_part import Diffuser, Opening

THIN_MM = 0.3
"""A sheet no thicker goes against the one that is there, and the gap behind stays what it is (project rule)."""

AIMED = 0.94
"""Windows are brought so far under the most that they may be apart (project rule)."""


def thin_sheets(drawer: Drawer) -> tuple[str, ...]:
    """Sheets that go behind another, those that let most through first."""
    thin = [row for row in drawer.diffusers if row.thickness_mm <= THIN_MM]
    return tuple(row.name for row in sorted(thin, key=lambda row: (-row.transmittance.typical, row.name)))


def with_sheet(opening: Opening, sheet: str) -> Opening:
    """The opening with one sheet more, on the inside, against what is there."""
    return replace(opening, diffusers=(*opening.diffusers, Diffuser(sheet=sheet)))


def sheets_behind(
    lit: Sequence[float], options: Sequence[Mapping[str, float]], most: float
) -> tuple[tuple[str | None, ...], ...]:
    """Which windows get which sheet more.

    Parameters
    ----------
    lit : sequence of float
        Luminance of each window now [cd/m2].
    options : sequence of mapping
        For each window its luminance behind each sheet more, by the sheet's name.
    most : float
        The brightest may be so many times as bright as the dimmest.
    Returns
    -------
    tuple of tuple
        By window a sheet or None: with one kind of sheet the choice that does with the fewest windows and then most
        light, else the nearest; then with the kind that suits each. Nothing where none helps.
    Source
    ------
    Own search: the same sheet behind the brightest one, two and so on, and to each its own; AIMED is a project rule.
    """
    names = list(options[0]) if options else []
    singles = [row for name in names for row in _brighter_ones(lit, options, name)]
    ranked = sorted(singles, key=lambda row: _rank(_shown(lit, options, row), row, most))[:1]
    mixed = _each_its_own(lit, options, most)
    made = [*ranked, mixed]
    now = _apart(lit, options, (None,) * len(lit))
    return tuple(dict.fromkeys(row for row in made if _apart(lit, options, row) < now - 1e-6))


def _rank(shown: Sequence[float], chosen: Sequence[str | None], most: float) -> tuple[bool, float, float]:
    """Of those that do the fewest sheets, then most light; else the nearest."""
    if max(shown) <= AIMED * most * min(shown):
        return (False, sum(name is not None for name in chosen), -sum(shown))
    return (True, max(shown) / max(min(shown), 1e-12), 0.0)


def _brighter_ones(
    lit: Sequence[float], options: Sequence[Mapping[str, float]], name: str
) -> list[tuple[str | None, ...]]:
    """One sheet behind the brightest, the two brightest and so on."""
    order = sorted(range(len(lit)), key=lambda number: -lit[number])
    return [tuple(name if number in order[:count] else None for number in range(len(lit)))
            for count in range(1, len(lit))]


def _each_its_own(
    lit: Sequence[float], options: Sequence[Mapping[str, float]], most: float
) -> tuple[str | None, ...]:
    """For each window the lightest that brings it near enough to the dimmest, else the densest."""
    bound = AIMED * most * min(lit)
    chosen: list[str | None] = []
    for now, row in zip(lit, options, strict=True):
        near = max((name for name in row if row[name] <= bound), key=lambda name: row[name],
                   default=min(row, key=lambda name: row[name], default=None))
        chosen.append(None if now <= bound else near)
    return tuple(chosen)


def _apart(
    lit: Sequence[float], options: Sequence[Mapping[str, float]], chosen: Sequence[str | None]
) -> float:
    shown = _shown(lit, options, chosen)
    return max(shown) / max(min(shown), 1e-12)


def _shown(
    lit: Sequence[float], options: Sequence[Mapping[str, float]], chosen: Sequence[str | None]
) -> list[float]:
    return [row[name] if name else now for now, row, name in zip(lit, options, chosen, strict=True)]
