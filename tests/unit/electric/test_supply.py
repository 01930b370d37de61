"""Power banks and adapters."""

import pytest

from rushlight.electric.supply import adapter_emf_v, bank_range, bank_run_time_h, bank_verdict
from rushlight.errors import OutOfRange


def test_a_small_load_lets_the_bank_sleep_and_the_bleed_lifts_it():
    asleep, doubtful, awake = bank_verdict(0.02), bank_verdict(0.06), bank_verdict(0.1)
    assert (asleep.verdict, doubtful.verdict, awake.verdict) == ("sleeps", "doubtful", "awake")
    # derived: 5 V over the 80 mA that are missing
    assert asleep.bleed_ohm == pytest.approx(62.5) and asleep.bleed_w == pytest.approx(0.4)
    assert asleep.bleed_time_factor == pytest.approx(0.2)
    assert awake.bleed_w == 0 and awake.bleed_time_factor == 1


def test_bank_ranges_are_in_order():
    assert bank_range("time_out", "s").low == 12


def test_bank_run_time_is_energy_over_power():
    time = bank_run_time_h(10000, 0.5)
    # derived: 10 Ah * 3.7 V * 0.85 / 2.5 W
    assert time.typical == pytest.approx(12.58) and time.low == pytest.approx(0.75 * 12.58)


def test_old_adapter_stands_above_its_print():
    assert adapter_emf_v(12.0).high == pytest.approx(12.6)
    assert adapter_emf_v(12.0, regulated=False).high == pytest.approx(16.8)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: bank_verdict(-0.1), "current_a is -0.1"),
        (lambda: bank_run_time_h(1.0, 0.1), "100 to 1e5 mAh"),
        (lambda: adapter_emf_v(230.0), "3 to 24 V"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
