"""Whether a lamp looks as it is wanted to: for certain, likely, or open until something is measured."""

from __future__ import annotations

from rushlight.model.design_light import LampLight
from rushlight.units import Range

OPEN = "open"
TOO_DIM, TOO_BRIGHT = "too dim", "too bright"


def look_words(light: LampLight, even: float) -> str:
    """How the light of a lamp stands to what is wanted of it.

    Parameters
    ----------
    light : LampLight
        What it gives in one state.
    even : float
        So many times off what is wanted it may be [-], 1 or more (habit `equal`).
    Returns
    -------
    str
        'as wanted', 'too dim' or 'too bright' where the outer range leaves no doubt, 'likely ...' where the likely one
        does not; 'perhaps too dim' or 'perhaps too bright' where it reaches past one limit, and 'open' past both.
    Source
    ------
    `rushlight.likely`.
    """
    bounds = (light.wanted_cd / even, light.wanted_cd * even)
    for likely, value in (("", light.intensity_cd), ("likely ", light.likely_cd)):
        side = _side(value, bounds)
        if side is not None:
            return likely + side
    if light.likely_cd.low >= bounds[0]:
        return f"perhaps {TOO_BRIGHT}"
    return f"perhaps {TOO_DIM}" if light.likely_cd.high <= bounds[1] else OPEN


def _side(value: Range, bounds: tuple[float, float]) -> str | None:
    least, most = bounds[0] * (1 - 1e-9), bounds[1] * (1 + 1e-9)
    if value.high < least:
        return TOO_DIM
    if value.low > most:
        return TOO_BRIGHT
    return "as wanted" if least <= value.low and value.high <= most else None


def over_words(outer: Range, likely: Range, limit: float, *, too: str) -> str:
    """How sure it is that a value which is typically on the wrong side of a limit lies there.

    Parameters
    ----------
    outer, likely : Range
        The value, with all guesses to one side and as is likely.
    limit : float
        Least or most that it should be, in the unit of the value.
    too : str
        `TOO_DIM`: the limit is the least; `TOO_BRIGHT`: the most.
    Returns
    -------
    str
        'too dim', 'likely too dim' or 'perhaps too dim', the last where the likely range reaches past the limit.
    Source
    ------
    `rushlight.likely`.
    """
    def wholly(value: Range) -> bool:
        return value.high < limit if too == TOO_DIM else value.low > limit

    return too if wholly(outer) else f"likely {too}" if wholly(likely) else f"perhaps {too}"
