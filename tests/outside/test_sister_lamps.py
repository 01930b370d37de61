"""What a lamp that was read tells of its sisters, against lamps drawn at random: the truth stays in the range."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.stages.sisters import Kin, sister_times
from rushlight.tables import row_by
from rushlight.units import Range

BELIEVED = Range(0.3, 1.0, 2.0)
OFF = 0.25


def log_uniform(rng: np.random.Generator, low: float, high: float, count: int) -> np.ndarray:
    return np.exp(rng.uniform(np.log(low), np.log(high), count))


@pytest.mark.parametrize(("relation", "kin"), [
    ("bag", (Kin("a", ("led", "x", None, "polished")), Kin("b", ("led", "x", None, "polished")))),
    ("bundle", (Kin("I1", ("illuminator", "x", 0.5, "polished")), Kin("I1", ("illuminator", "x", 0.5, "polished")))),
    ("hand", (Kin("I1", ("illuminator", "x", 0.5, "polished")), Kin("I2", ("illuminator", "x", 0.5, "polished")))),
])
def test_the_truth_stays_inside_and_the_range_narrows(relation: str, kin: tuple[Kin, Kin]) -> None:
    """Source: 2,000 draws by NumPy of a shared part, own parts at most w apart, a meter within its error: the interval
    argument states always (Moore, Interval Analysis, 1966), so not one may fall outside."""
    rng, count = np.random.default_rng(7), 2000
    w = float(row_by("sister_spread", "relation", relation)["times"])
    shared = log_uniform(rng, BELIEVED.low * w**0.5, BELIEVED.high / w**0.5, count)
    first, second = (shared * log_uniform(rng, w**-0.5, w**0.5, count) for _ in range(2))
    shown = first * rng.uniform(1 - OFF, 1 + OFF, count)
    widths = []
    for x, truth in zip(shown, second, strict=True):
        read = Range(x / (1 + OFF), x, x / (1 - OFF))
        found = sister_times({"1": read}, {"1": BELIEVED, "2": BELIEVED}, dict(zip("12", kin, strict=True)))
        left = found.get("2", BELIEVED)
        assert left.low <= truth <= left.high
        widths.append(left.high / left.low)
    assert np.mean(widths) < 0.85 * BELIEVED.high / BELIEVED.low


def test_of_others_nothing_is_learnt_and_a_slip_spoils_nothing() -> None:
    """Derived: no shared part, no news; a reading that no sister could belong to is left out."""
    led, other = Kin("a", ("led", "x", None, "polished")), Kin("b", ("led", "y", None, "polished"))
    believed = {"1": BELIEVED, "2": BELIEVED}
    assert sister_times({"1": Range(0.9, 1, 1.1)}, believed, {"1": led, "2": other}) == {}
    assert sister_times({"1": Range(90, 100, 110)}, believed, {"1": led, "2": led}) == {}
