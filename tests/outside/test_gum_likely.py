"""Likely ranges against the examples of the GUM and against guesses drawn at random.

Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM); its numbers are quoted from memory.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import truncexpon, uniform

from designed import PACKAGED
from rushlight.likely import COVERAGE_FACTOR, joined, known_apart, likely_range, likely_times, summed
from rushlight.optics.fibre import (
    KnownLosses,
    Launch,
    Tail,
    TailLight,
    joint_factor,
    launch_sine,
    tail_flux,
    tail_guesses,
)
from rushlight.optics.fibre_loss import Bend, Fibre, attenuation_db_per_m, finish_db, route_bend_db
from rushlight.stages.parts_law import led_flux_lm, led_guesses, led_launch
from rushlight.units import Range

DRAWS = 200_000


def standard(*guesses: tuple[str, float]) -> float:
    """Combined standard uncertainty of guesses by name and width, as the program reckons it."""
    return math.log(likely_times(guesses)) / COVERAGE_FACTOR


def test_a_rectangle() -> None:
    """Source: GUM 4.3.7, example 1: copper expands by 16.52e-6 per kelvin, give or take 0.40e-6: u = 0.23e-6."""
    assert standard(("alpha", 2 * 0.40)) == pytest.approx(0.23, abs=0.005)


def test_an_asymmetric_one() -> None:
    """Source: GUM 4.3.8: u^2 = (b+ + b-)^2 / 12, wherever between the bounds the best estimate lies."""
    for typical in (0.3, 0.5, 0.9):
        (guess,) = known_apart([("joint", Range(0.25, typical, 1.0))])
        assert standard(guess) ** 2 == pytest.approx(math.log(4.0) ** 2 / 12)


def test_the_end_gauge() -> None:
    """Source: GUM H.1: 25, 9.7, 2.9 and 16.6 nm, known apart, make 32 nm together."""
    parts = [(str(k), u * math.sqrt(12)) for k, u in enumerate((25.0, 9.7, 2.9, 16.6))]
    assert standard(*parts) == pytest.approx(32, abs=0.5)


def test_ten_resistors_of_one_calibration() -> None:
    """Source: GUM 5.2.2, example: ten resistors that were compared with one standard of u = 0.1 ohm, in a row: 1 ohm in
    all, not the 0.32 ohm of ten that know nothing of each other."""
    wide = 0.1 * math.sqrt(12)
    assert standard(*joined(*[(("the standard", wide),)] * 10)) == pytest.approx(1.0)
    assert standard(*((str(k), wide) for k in range(10))) == pytest.approx(0.32, abs=0.005)


@pytest.mark.parametrize("widths", [(2.0, 2.0), (4.0, 1.5, 1.5), (3.3, 2.0, 1.5, 1.3, 1.2), (1.2,) * 9])
def test_products_drawn_at_random(widths: tuple[float, ...]) -> None:
    """Source: Monte Carlo by NumPy and SciPy of the same product, each guess even in the logarithm."""
    rng = np.random.default_rng(11)
    logs = sum(uniform.rvs(-math.log(w) / 2, math.log(w), size=DRAWS, random_state=rng) for w in widths)
    guesses = tuple((str(k), math.log(w)) for k, w in enumerate(widths))
    error = 4 / math.sqrt(2 * DRAWS)  # four standard errors of a standard deviation
    assert standard(*guesses) == pytest.approx(float(np.std(logs)), rel=error)
    outer = Range.spread(1.0, math.prod(widths) ** -0.5, math.prod(widths) ** 0.5)
    likely = likely_range(outer, likely_times(guesses))
    held = np.mean((likely.low <= np.exp(logs)) & (np.exp(logs) <= likely.high))
    assert 0.95 <= held <= 1.0


def test_sums_drawn_at_random() -> None:
    """Source: Monte Carlo by NumPy: three sources inside a hull, each with a guess of its own and one that all share."""
    rng = np.random.default_rng(3)
    parts = [(3.0, 1.1), (2.0, 1.6), (0.5, 2.3)]
    shared = 2.0
    own = sum(value * np.exp(rng.uniform(-wide / 2, wide / 2, DRAWS)) for value, wide in parts)
    total = own * np.exp(rng.uniform(-shared / 2, shared / 2, DRAWS))
    guesses = summed((value, ((f"own {k}", wide), ("shared", shared))) for k, (value, wide) in enumerate(parts))
    assert standard(*guesses) == pytest.approx(float(np.std(np.log(total))), rel=0.05)
    most = likely_times(guesses)
    middle = math.fsum(value for value, _ in parts)
    assert 0.95 <= np.mean((middle / most <= total) & (total <= middle * most)) <= 1.0


# --- a whole tail -------------------------------------------------------------------------------------------------


FIBRE = Fibre(0.5, 0.49, 0.5)
BENDS = (Bend(10.0, 90.0),)


def draw(value: Range, rng: np.random.Generator) -> float:
    """A value of which the bounds and what is expected are known, in the logarithm: the flattest such distribution, a
    truncated exponential (GUM F.2.4.4); even where the bound itself is told as usual, which no distribution expects."""
    if value.low == value.high:
        return value.typical
    low, high = math.log(value.low), math.log(value.high)
    share = (math.log(value.typical) - low) / (high - low)
    if abs(share - 0.5) < 1e-3 or not 0.01 < share < 0.99:
        return math.exp(rng.uniform(low, high))
    steep = steepness(min(share, 1 - share))
    at = float(truncexpon.rvs(steep, random_state=rng)) / steep
    return math.exp(low + (1 - at if share > 0.5 else at) * (high - low))


@cache
def steepness(mean: float) -> float:
    """How many times its scale the interval of an exponential is whose mean lies at a share of it [-]."""
    return float(brentq(lambda b: 1 / b - 1 / math.expm1(b) - mean, 1e-4, 500.0))


def at_random(launch: Launch, tail: Tail, rng: np.random.Generator) -> float:
    """Flux of the tail with every guess drawn by itself, through the whole law [lm]."""
    def loss(db: Range) -> Range:
        share = draw(Range(*(10 ** (-end / 10) for end in (db.high, db.typical, db.low))), rng)
        return Range.exactly(-10 * math.log10(share))

    ends = loss(finish_db(tail.tip))  # both ends by one hand
    sine = launch_sine(launch, FIBRE, offset_mm=tail.offset_mm.typical)
    bends = route_bend_db(tail.bends, FIBRE, launch_na=sine)
    typical = bends.typical or 1.0
    keeps = draw(joint_factor(), rng) * draw(launch.face_spread, rng)
    offset = rng.uniform(tail.offset_mm.low, tail.offset_mm.high)
    known = KnownLosses(loss(attenuation_db_per_m(None)), ends, ends, Range.exactly(loss(bends).typical / typical))
    drawn = replace(tail, offset_mm=Range.exactly(offset), known=known)
    exact = replace(launch, coupling=Range.exactly(keeps))
    return tail_flux(exact, FIBRE, drawn).flux_lm.typical


@pytest.mark.parametrize("lens", ["flat top", "clear"])
@pytest.mark.parametrize("finish", ["polished", "cut"])
def test_tails_drawn_at_random(lens: str, finish: str) -> None:
    """Source: Monte Carlo by NumPy and SciPy: each guess is drawn by itself and the whole law of the tail worked out,
    limits and all. The likely range holds 19 in 20 of them and is not much wider than it must be."""
    rng, count = np.random.default_rng(5), 1500
    led = next(row for row in PACKAGED.leds if row.lens == lens and row.dominant_nm is None)
    tail = Tail(Range(1.0, 1.05, 1.1), 200.0, BENDS, inlet=finish, tip=finish)
    launch = led_launch(led, 0.01)
    told: TailLight = tail_flux(launch, FIBRE, tail)
    likely = likely_range(told.flux_lm, likely_times(joined(*led_guesses(led), tail_guesses(launch, FIBRE, tail, told)[0])))
    lit = np.array([at_random(replace(launch, flux_lm=Range.exactly(_lamp_lm(led, rng))), tail, rng) for _ in range(count)])
    assert np.all((told.flux_lm.low * (1 - 1e-9) <= lit) & (lit <= told.flux_lm.high * (1 + 1e-9)))
    inside = np.mean((likely.low <= lit) & (lit <= likely.high))
    assert inside >= 0.95 - 3 * math.sqrt(0.95 * 0.05 / count)
    least, most = np.quantile(lit, [0.025, 0.975])
    assert likely.high / likely.low < 1.35 * most / least
    assert likely.high / likely.low < 0.4 * told.flux_lm.high / told.flux_lm.low


def _lamp_lm(led: object, rng: np.random.Generator) -> float:
    """Flux of an LED whose intensity and half angle are drawn each by itself."""
    peak = Range.exactly(draw(led.intensity_mcd, rng))  # type: ignore[attr-defined]
    alone = led_flux_lm(replace(led, intensity_mcd=peak), 0.01)  # type: ignore[type-var]
    return draw(alone, rng)
