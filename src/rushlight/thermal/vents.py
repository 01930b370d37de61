"""How large vents must be to keep a closed model's walls cool enough."""

from __future__ import annotations

from dataclasses import replace

from rushlight.errors import OutOfRange
from rushlight.thermal.enclosure import Box, box_heat
from rushlight.units import checked


def vents_for_mm2(box: Box, power_w: float, wall_rise_k: float, *, room_c: float = 22.0) -> float | None:
    """Vents with which the walls of a box stay under a rise at the safe end of the law.

    Parameters
    ----------
    box : Box
        The closed space.
    power_w : float
        Power in it [W], 0 to 200.
    wall_rise_k : float
        Allowed rise of the walls over the room [K], more than 0.
    room_c : float
        Room [C].
    Returns
    -------
    float or None
        Free area in all [mm2]; None where a tenth of the box's top would not do.
    Raises
    ------
    OutOfRange
        If the allowed rise or the power lies outside its range.
    Source
    ------
    `box_heat` with vents, by halving to 2 %.
    """
    checked("rise of the walls (K)", wall_rise_k, 0.0, above=True)
    low, high = box.vents_mm2, box.vents_mm2 + 0.1 * box.length_mm * box.width_mm

    checked("power (W)", power_w, 0.0, 200.0)

    def enough(area_mm2: float) -> bool:
        try:
            return box_heat(replace(box, vents_mm2=area_mm2), power_w, room_c=room_c).wall_k.high <= wall_rise_k
        except OutOfRange:  # hotter than the law goes
            return False

    if enough(low):
        return low
    if not enough(high):
        return None
    while high - low > 0.02 * high:
        middle = (low + high) / 2.0
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
