"""An LED's light against its current."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.errors import OutOfRange, UnknownName
from rushlight.optics.led_light import light_laws, light_times
from rushlight.tables import rows

KEYS = tuple(row["key"] for row in rows("led_light_current"))
shares = st.floats(1e-4, 3.0)


def test_every_colour_of_led_has_its_law() -> None:
    assert set(KEYS) == {row["key"] for row in rows("led_laws") if row["kind"] == "led"}


@given(st.sampled_from(KEYS), shares, shares)
def test_the_current_for_a_light_gives_that_light(key: str, share: float, anchor: float) -> None:
    law = light_laws(key).usual
    assert law.current_share(law.times(share, anchor), anchor) == pytest.approx(share, rel=1e-9)


@given(st.sampled_from(KEYS), shares, shares)
def test_more_current_is_more_light(key: str, one: float, other: float) -> None:
    low, high = sorted((one, other))
    for end in ("low", "typical", "high"):
        assert getattr(light_laws(key).times(low), end) <= getattr(light_laws(key).times(high), end) * (1 + 1e-9)


@given(st.sampled_from(KEYS), shares)
def test_light_has_no_spread_where_it_is_known(key: str, anchor: float) -> None:
    times = light_laws(key).times(anchor, anchor)
    assert times.low == times.typical == times.high == pytest.approx(1.0)


def test_many_currents_at_once_give_what_each_gives() -> None:
    shares = np.array([0.0, 1e-6, 1e-3, 0.05, 1.0, 3.0])
    laws = [light_laws(key).usual for key in KEYS]
    many = light_times(np.tile(shares[:, None], len(laws)), laws)
    assert many == pytest.approx(np.array([[law.times(float(share)) for law in laws] for share in shares]), rel=1e-12)
    at = np.arange(len(shares)) % len(laws)
    assert light_times(shares, laws, at) == pytest.approx(many[np.arange(len(shares)), at], rel=1e-12)


def test_no_current_gives_no_light() -> None:
    assert light_laws("green").times(0.0).high == 0.0
    assert light_laws("green").usual.current_share(0.0) == 0.0


def test_a_green_led_keeps_more_of_its_light_than_a_red_one() -> None:
    """source: led_light_current.csv; at a twentieth of the rated current."""
    assert light_laws("green").times(0.05).low > 0.05 > light_laws("red").times(0.05).typical


def test_what_cannot_be_is_told() -> None:
    with pytest.raises(UnknownName, match="green"):
        light_laws("grean")
    with pytest.raises(OutOfRange):
        light_laws("green").times(-0.1)
    with pytest.raises(OutOfRange):
        light_laws("green").times(0.1, 0.0)
