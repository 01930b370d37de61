"""The picture by night as a raster of linear light."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight.errors import OutOfRange
from rushlight.optics import night
from rushlight.optics.display import decoded, linear_srgb, luminance_of
from rushlight.optics.glare import glare_per_lx, share_table

TABLE = share_table()
WHITE = (1.0, 1.0, 1.0)
COLOURS = ((0.3127, 0.329), (0.70, 0.30), (0.152, 0.74), (0.1241, 0.0578), (0.4369, 0.4041))
SQUARE = ((10.2, 12.4), (30.9, 12.4), (30.9, 28.1), (10.2, 28.1))


def lamp(x: float, y: float, light: float = 1e3, radius: float = 1.0, colour: int = 0) -> night.Lit:
    red, green, blue = (float(part) for part in linear_srgb(COLOURS[colour], light))
    return night.Lit((x, y), radius, (red, green, blue))


@pytest.mark.parametrize("radius", [0.001, 0.3, 0.5, 1.0, 3.7, 12.0])
@pytest.mark.parametrize("at", [(20.0, 20.0), (20.5, 20.5), (20.13, 19.71)])
def test_a_disc_keeps_its_light_and_its_place_at_every_size(radius: float, at: tuple[float, float]) -> None:
    raster = night.laid((night.Lit(at, radius, WHITE),), 40, 40)[0]
    assert float(raster.sum()) == pytest.approx(1.0)
    middle = np.arange(40) + 0.5
    assert float(raster.sum(axis=0) @ middle) == pytest.approx(at[0], abs=0.05)  # a soft edge of one pixel
    if radius >= 1.0:  # derived: even light over the area of the disc
        assert float(raster.max()) == pytest.approx(1.0 / math.pi / (radius**2 + 1 / 12), rel=0.2)


def test_an_opening_is_evenly_lit_by_the_share_that_it_covers() -> None:
    raster = night.laid((night.Lit((20.0, 20.0), 1.0, WHITE, SQUARE),), 40, 40)[0]
    area = 20.7 * 15.7
    assert float(raster.sum()) == pytest.approx(1.0, abs=0.015)  # edges to a quarter of a pixel
    assert float(raster[20, 20]) == pytest.approx(1.0 / area)
    assert float(raster[20, 10]) == pytest.approx(0.8 / area)  # derived: from 10.2 to 11
    assert float(raster[20, 9]) == float(raster[30, 20]) == 0.0


def test_bands_run_along_an_opening_from_end_to_end() -> None:
    ends = ((10.2, 0.0), (30.9, 0.0))
    raster = night.laid((night.Lit((20.0, 20.0), 1.0, WHITE, SQUARE, (0.5, 1.5, 1.0, 1.0), ends),), 40, 40)[0]
    area = 20.7 * 15.7
    assert float(raster[20, 17] * area) == pytest.approx(1.5 - 0.5 * (17.5 - 17.1) / 6.9)  # derived: nodes 6.9 apart
    assert float(raster[15, 12] * area) == float(raster[25, 12] * area) == pytest.approx(0.5 + (12.5 - 10.2) / 6.9)
    assert float(raster[20, 29] * area) == pytest.approx(1.0)


def test_an_opening_smaller_than_a_pixel_keeps_its_light() -> None:
    speck = ((5.1, 5.1), (5.3, 5.1), (5.3, 5.2), (5.1, 5.2))
    assert float(night.laid((night.Lit((5.2, 5.15), 9.0, WHITE, speck),), 12, 12)[0].sum()) == pytest.approx(1.0)


def test_floodlit_ground_is_straight_between_its_nodes_and_ends_at_its_edge() -> None:
    grid = np.array([[1.0, 3.0, 5.0], [2.0, 4.0, 6.0]])
    edge = ((5.0, 5.0), (35.0, 5.0), (35.0, 25.0), (5.0, 25.0))
    ground = night.LitGround((30.5, 20.5), (-10.0, -10.0), grid, (1.0, 0.5, 0.0), edge)  # turned over
    made = night.grounds_laid((ground,), 40, 40)
    assert float(made[0, 20, 30]) == 1.0 and float(made[0, 10, 10]) == 6.0
    assert float(made[0, 15, 25]) == pytest.approx(2.5)  # derived: the mean of four nodes
    assert float(made[1, 15, 25]) == pytest.approx(1.25)
    assert float(made[0, 20, 34]) == 1.0  # beyond the outer nodes as at them
    assert not made[:, :5].any() and not made[:, :, 35:].any() and not made[:, 25:].any()


@pytest.mark.parametrize("lean", [(0.8, 0.0), (0.0, -0.6), (0.5, 0.5), (0.0, 0.95), (0.0, 1.0), (1e-6, 0.0)])
@pytest.mark.parametrize("radius", [0.1, 8.0, 30.0])
def test_a_disc_aslant_keeps_its_light_and_is_as_narrow_as_its_cosine(lean: tuple[float, float], radius: float) -> None:
    round_, aslant = (night.laid((night.Lit((40.3, 41.7), radius, (5.0, 0.0, 0.0), lean=way),), 80, 80)[0] for way in ((0.0, 0.0), lean))
    assert aslant.sum() == pytest.approx(5.0) and np.all(aslant >= 0.0)
    mirrored = night.laid((night.Lit((80 - 40.3, 41.7), radius, (5.0, 0.0, 0.0), lean=(-lean[0], lean[1])),), 80, 80)[0]
    assert mirrored[:, ::-1] == pytest.approx(aslant, abs=1e-12)
    if radius < 1.0 or lean[1] == 1.0:
        return
    ys, xs = np.meshgrid(np.arange(80) + 0.5 - 41.7, np.arange(80) + 0.5 - 40.3, indexing="ij")
    u, v = np.array(lean) / math.hypot(*lean)
    wide, narrow = (math.sqrt((aslant * (a * xs + b * ys) ** 2).sum() / 5.0) for a, b in ((-v, u), (u, v)))
    # derived: the second moment of an even ellipse is a quarter of its half axis squared, of a pixel's soft edge less
    assert 2.0 * wide == pytest.approx(radius, rel=0.04)
    assert 2.0 * narrow == pytest.approx(max(radius * math.sqrt(1.0 - min(math.hypot(*lean), 1.0) ** 2), 0.5), rel=0.04, abs=0.16)
    if lean[0] == 1e-6:
        assert aslant == pytest.approx(round_, abs=1e-9)


def test_ground_that_leans_is_the_same_ground_seen_aslant() -> None:
    """Each place of the grid lies where its own step has it; within a mesh the light is bilinear."""
    grid = np.array([[1.0, 3.0, 5.0], [2.0, 4.0, 6.0]])
    edge = ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0))
    ground = night.LitGround((10.5, 20.5), (8.0, 12.0), grid, (1.0, 1.0, 1.0), edge, (4.0, -2.0))
    made = night.grounds_laid((ground,), 60, 60)[0]
    # derived: column k, row n at (10 + 8 k - 2 n, 20 + 4 k + 12 n)
    for row, column in ((0, 0), (0, 1), (1, 0), (1, 2)):
        assert float(made[20 + 4 * column + 12 * row, 10 + 8 * column - 2 * row]) == pytest.approx(grid[row, column])
    assert float(made[20 + 4 * 0 + 12 * 0 + 2, 10 + 4]) == pytest.approx(2.0)  # half a column on
    assert float(made[20 + 8, 10 + 3]) == pytest.approx(2.5)  # derived: the mean of four nodes
    square = night.LitGround((10.5, 20.5), (8.0, 12.0), grid, (1.0, 1.0, 1.0), edge)
    barely = night.LitGround((10.5, 20.5), (8.0, 12.0), grid, (1.0, 1.0, 1.0), edge, (1e-12, 0.0))
    assert np.allclose(night.grounds_laid((square,), 60, 60), night.grounds_laid((barely,), 60, 60))


@pytest.mark.parametrize("pixel_deg", [0.002, 0.036, 0.14, 0.4])
def test_what_stays_and_what_is_spread_is_all_of_the_light(pixel_deg: float) -> None:
    shares = night.level_shares(pixel_deg, TABLE)
    assert all(share >= 0.0 for share in shares)
    # derived: what is missing is spread wider than the widest bell curve, a few hundredths at most
    assert 0.75 < sum(shares[:-1]) <= 1.0 + 1e-9
    assert sum(shares[:-1]) > 0.97 or pixel_deg < 0.01


def test_the_raster_is_the_direct_sum_of_the_glare() -> None:
    """Beside the CIE's function itself, summed over all lamps for places that lie 4 pixels or more from each."""
    rng, pixel_deg, size = np.random.default_rng(3), 0.05, 301
    lamps = tuple(lamp(x, y, light) for x, y, light in rng.uniform((40, 40, 500), (260, 260, 2000), (12, 3)))
    made = luminance_of(np.moveaxis(night.spread(night.laid(lamps, size, size), night.level_shares(pixel_deg, TABLE)), 0, -1))
    ys, xs = np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5, indexing="ij")
    want, nearest = np.zeros((size, size)), np.full((size, size), np.inf)
    for row in lamps:
        away = np.hypot(xs - row.at_px[0], ys - row.at_px[1])
        light = float(luminance_of(np.array(row.light))) * math.radians(pixel_deg) ** 2
        want += light * glare_per_lx(np.minimum(away, 1e9) * pixel_deg)
        nearest = np.minimum(nearest, away)
    ratio = (made / want)[nearest >= 4.0]
    # derived: the function holds 1.035 of the light at 40 years, the picture 1; octaves of bell curves leave a ripple of 5 %
    assert float(np.median(ratio)) == pytest.approx(1.0, abs=0.05)
    assert np.percentile(np.abs(ratio - 1.0), 95) < 0.10 and np.max(np.abs(ratio - 1.0)) < 0.25


def test_equal_lamps_look_equal_wherever_they_fall_on_the_pixels() -> None:
    shares = night.level_shares(0.14, TABLE)
    halo = []
    for step in (0.0, 0.3, 0.5, 1.0, 2.0, 3.0):
        made = night.spread(night.laid((lamp(60.5 + step, 60.5, radius=1.5),), 121, 121), shares)[1]
        places = np.hypot(np.arange(121)[None, :] - 60 - step, np.arange(121)[:, None] - 60)
        halo.append([float(made[(places > low) & (places <= low + 2)].mean()) for low in (4, 8, 16, 30)])
    assert np.all(np.ptp(halo, axis=0) / np.mean(halo, axis=0) < (0.08, 0.03, 0.03, 0.03))  # the first by the disc's own edge


def test_a_mirrored_plan_gives_a_mirrored_picture() -> None:
    rng, shares = np.random.default_rng(8), night.level_shares(0.1, TABLE)
    lamps = [(x, y, 10.0**light, int(kind)) for x, y, light, kind in rng.uniform((5, 5, 1, 0), (95, 75, 5, 4.99), (20, 4))]
    one, other = (
        night.toned(night.spread(night.laid(tuple(lamp(100 - x if turned else x, y, light, 1.2, kind)
                                                  for x, y, light, kind in lamps), 80, 100), shares), 500.0).astype(int)
        for turned in (False, True)
    )
    off = np.abs(one - other[:, ::-1])
    assert off.max() <= 4 and off.mean() < 0.2  # derived: the halved rasters do not lie alike on both sides


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_more_light_is_never_darker_anywhere(data: st.DataObject) -> None:
    places = st.tuples(st.floats(0, 48), st.floats(0, 40), st.floats(1, 1e5), st.floats(0.1, 6), st.integers(0, 4))
    lamps = [lamp(*row) for row in data.draw(st.lists(places, min_size=1, max_size=5))]
    shares = night.level_shares(data.draw(st.floats(0.01, 0.5)), TABLE)
    ground = night.ground_light(decoded((20, 17, 15)), 500.0)[:, None, None]
    less, more = (
        luminance_of(np.moveaxis(ground + night.spread(night.laid(tuple(rows), 40, 48), shares), 0, -1))
        for rows in (lamps[:-1], lamps)
    )
    assert np.all(more >= less)


def test_the_order_of_luminance_is_kept_to_the_code_values() -> None:
    rng = np.random.default_rng(2)
    luminance = np.sort(10.0 ** rng.uniform(-2, 6, 500))
    rgb = linear_srgb(np.array(COLOURS)[rng.integers(0, 5, 500)], luminance)
    shown = luminance_of(decoded(night.toned(np.moveaxis(rgb[None], -1, 0), 800.0)[0]))
    # derived: half a code at the steep end of the curve is 0.0045 of white in all channels together, both ways
    assert float((np.maximum.accumulate(shown) - shown).max()) < 0.009
    assert np.all(np.diff(shown[::50]) > 0.0)


def test_the_ground_shows_as_it_was_meant_to() -> None:
    for code in ((20, 17, 15), (150, 124, 98), (247, 241, 229)):
        raster = np.broadcast_to(night.ground_light(decoded(code), 300.0)[:, None, None], (3, 4, 5))
        assert np.abs(night.toned(raster, 300.0).astype(int) - code).max() <= 1


def test_intensity_over_the_area_of_a_pixel() -> None:
    assert night.pixel_light(0.005, 0.2) == pytest.approx(125_000.0)  # derived: 0.005 / (2e-4)^2


@pytest.mark.parametrize("call", [
    lambda: night.pixel_light(-1.0, 1.0), lambda: night.pixel_light(1.0, 0.0), lambda: night.level_shares(0.0, TABLE),
    lambda: night.toned(np.zeros((3, 2, 2)), 0.0),
])
def test_edges_raise(call) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
