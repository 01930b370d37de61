"""Choices that the modeller holds fast, found alike by every stage."""

from __future__ import annotations

from rushlight.model.plan import Plan


def held(plan: Plan, choice: str, *names: str | None) -> str | None:
    """The value held for one choice of any of these names; the one written last counts.

    Parameters
    ----------
    plan : Plan
        The checked plan.
    choice : str
        As in the plan: current_ma, led, fibre_tip ...
    names : str or None
        Lamp, row, strip, illuminator, circuit: from the widest to the narrowest.
    Returns
    -------
    str or None
        The value as written; None where nothing is held.
    """
    values = [pin.value for name in names if name for pin in plan.pinned if pin.choice == choice and pin.of == name]
    return values[-1] if values else None


def held_number(plan: Plan, choice: str, *names: str | None) -> float | None:
    """The same as a number."""
    value = held(plan, choice, *names)
    return None if value is None else float(value)
