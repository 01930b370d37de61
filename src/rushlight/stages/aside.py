"""What a lamp's dome sends to its side, over what it sends ahead: as its kind does, or as it was read."""

from __future__ import annotations

from rushlight.model.design import Source
from rushlight.model.drawer import Drawer
from rushlight.optics.fibre_loss import side_share
from rushlight.tables import row_by
from rushlight.units import Range

ASIDE = "light aside"
"""The method that reads it, and what it is kept under: by the LED, or by the end of a fibre."""

BEAD = "domed"
"""The end of a fibre that sends light to its side."""

NOTHING = Range.exactly(0.0)


def usual_aside(drawer: Drawer, of: str) -> Range:
    """What an LED of the drawer or a fibre's end sends to its side, as its kind does.

    Parameters
    ----------
    drawer : Drawer
        The parts.
    of : str
        Name of an LED, or `domed`.
    Returns
    -------
    Range
        Share of what it sends along its axis [-]; 0 of what has no dome that glows.
    Source
    ------
    led_launch.csv, fibre_finish.csv.
    """
    if of == BEAD:
        return side_share(of)
    row = row_by("led_launch", "lens", drawer.led(of).lens)
    return Range(float(row["side_low"]), float(row["side"]), float(row["side_high"]))


def aside(drawer: Drawer, source: Source) -> Range:
    """The same of what makes a lamp, as it was read if it was [-]; 0 for an opening and for a fibre's flat end."""
    of = aside_of(source)
    if not of:
        return NOTHING
    read = drawer.measured(ASIDE, of)
    return usual_aside(drawer, of) if read is None else read


def aside_of(source: Source) -> str:
    """What it is kept under; empty for what sends nothing to its side."""
    if source.kind == "fibre":
        return BEAD if source.tip == BEAD else ""
    return source.led if source.kind == "led" else ""
