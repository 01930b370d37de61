"""What a lamp that was read tells of its sisters: the same bundle, LEDs of the same bag, joints of the same hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rushlight.stages.build import Build
from rushlight.stages.outlook import seen_share
from rushlight.tables import row_by
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class Kin:
    """What a lamp shares with others: its emitter, and its bag: kind of emitter, row of the drawer, fibre and tip.

    Lamps that are looked at from beside their axis, and so are read there, are sisters of each other alone.
    """

    emitter: str
    bag: tuple[str, str, float | None, str]
    aside: bool = False

    def relation(self, other: Kin) -> str | None:
        """A row of sister_spread.csv; None for lamps that share nothing."""
        if self.bag != other.bag or self.aside != other.aside:
            return None
        if self.bag[0] == "illuminator":
            return "bundle" if self.emitter == other.emitter else "hand"
        return "bag"


def kin_of(build: Build) -> dict[str, Kin]:
    """By lamp that is built what it shares with others."""
    sources = {source.lamp: source for source in build.sources}
    beside = {lamp.name for lamp in build.lamps if lamp.arc_deg is not None and lamp.name in sources
              and 0.0 < seen_share(build.plan, build.drawer, lamp, sources[lamp.name]) < 1.0}
    return {
        lamp: Kin(row.name, (row.kind, row.part_row, sources[lamp].fibre_mm, sources[lamp].tip), lamp in beside)
        for row in build.loom.emitters for lamp in row.lamps
    }


def sister_times(read: Mapping[str, Range], believed: Mapping[str, Range], kin: Mapping[str, Kin]) -> dict[str, Range]:
    """How far each lamp that was not read lies off what is reckoned, as far as its sisters' readings tell.

    Parameters
    ----------
    read : mapping of str to Range
        By lamp that was read: reading over what is reckoned as typical [-], with the meter's error.
    believed : mapping of str to Range
        By lamp the range that is reckoned, over its typical value [-].
    kin : mapping of str to Kin
        What lamps share.
    Returns
    -------
    dict of str to Range
        By sister [-], never wider than what is believed of it. A reading that what is believed of a sister does not
        allow tells nothing of it.
    Notes
    -----
    x = c p: c is shared, p each lamp's own, and two own parts differ by at most w times. A reading x_1 in [a, b] leaves
    x_2 in [a / w, b w]; with what was believed and with other readings the ranges are cut. No likelihood is assumed:
    the truth lies inside whenever it lay inside what was believed, the meter kept its error and the sisters their w.
    Source
    ------
    Interval arithmetic (Moore, Interval Analysis, 1966); w from sister_spread.csv.
    """
    found: dict[str, Range] = {}
    for lamp, before in believed.items():
        if lamp in read or lamp not in kin:
            continue
        now = before
        for other, value in read.items():
            relation = kin[lamp].relation(kin[other]) if other in kin else None
            if relation is not None:
                now = cut_by(now, value, relation)
        if now != before:
            found[lamp] = now
    return found


def cut_by(believed: Range, read: Range, relation: str) -> Range:
    """What a sister's reading, over what is reckoned of it, leaves of a lamp's own range [-]."""
    return _cut(believed, read, float(row_by("sister_spread", "relation", relation)["times"]))


def _cut(now: Range, read: Range, times: float) -> Range:
    """What two ranges have in common; the first where that is nothing."""
    low, high = max(now.low, read.low / times), min(now.high, read.high * times)
    return Range(low, min(max(read.typical, low), high), high) if low <= high else now
