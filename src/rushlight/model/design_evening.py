"""What happens to a build over a described evening, and over evening after evening until the supply is spent."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.units import Range


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningPoint:
    """The supply at one moment: hours of running, the state shown, terminal voltage, current while lit.

    `light_share` is what the state's lamps together give over what they give on a fresh supply, `least_share` the same
    of the one that has faded most; typical LEDs, 1 where the state lights none.
    """

    hour_h: float
    state: str
    terminal_v: float
    current_a: float
    light_share: float = 1.0
    least_share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningMark:
    """Something that first happens while the supply runs down: to which lamps, in which state, after how long.

    `kind` is 'half' (under half of the light of a fresh supply), 'uneven' (lamps of a row too far apart), 'out' (as
    good as dark), 'sleeps' (the power bank may switch itself off) or 'spent' (the cells are at their end). Running
    hours, of a supply with little, typical and much charge; infinite where it does not come to that.
    """

    kind: str
    state: str
    lamps: tuple[str, ...]
    at_h: Range


@dataclass(frozen=True, slots=True, kw_only=True)
class Faded:
    """What a row or single lamp still has of its fresh light, that of its dimmest lamp, with typical LEDs and cells.

    `kept_share` where it was last lit in one evening, `last_share` where it was last lit before the supply was spent.
    """

    group: str
    kept_share: float
    last_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """One described evening: `stages` are state and hours in order; `points` show the first one, `whole` the supply's
    whole life; `ends_h` is infinite for a supply that does not run down.
    """

    stages: tuple[tuple[str, float], ...]
    points: tuple[EveningPoint, ...]
    whole: tuple[EveningPoint, ...]
    ends_h: Range
    marks: tuple[EveningMark, ...]
    faded: tuple[Faded, ...]

    @property
    def hours(self) -> float:
        """Length of one evening [h]."""
        return sum(hours for _, hours in self.stages)

    @property
    def evenings(self) -> Range:
        """How many evenings one charge lasts."""
        return Range(self.ends_h.low / self.hours, self.ends_h.typical / self.hours, self.ends_h.high / self.hours)
