"""How sure a plan may be of a lamp: evidence of one side taken together."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rushlight.model.plan import Evidence

EVEN_CHANCE = 0.5
"""Under this a lamp is more likely absent than present (project proposal)."""


def belief(evidence: Iterable[Evidence], side: str) -> float:
    """Chance that at least one piece of evidence of a side (for, against) is right.

    Parameters
    ----------
    evidence : iterable of Evidence
        All that speaks about one lamp, both sides.
    side : str
        'for' or 'against'.
    Returns
    -------
    float
        Chance [-], 0 (nothing speaks) to 1.
    Notes
    -----
    1 - product of (1 - certainty), as if the witnesses did not know of each other.
    Source
    ------
    Product rule for independent events.
    """
    doubts = [1.0 - row.certainty for row in evidence if row.says == side]
    return 1.0 - math.prod(doubts)
