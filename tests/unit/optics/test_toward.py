"""What a lamp sends off its axis."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy.spatial.distance import pdist

from rushlight.errors import OutOfRange
from rushlight.optics.emitter import flux_lm, pattern_order
from rushlight.optics.fibre_cone import axial_intensity_cd
from rushlight.optics.toward import Beam, beam_share, cone_share, lean_cosine, seen_aslant

AHEAD = (1.0, 0.0, 0.0)


def eye(bearing: float, up: float = 0.0) -> tuple[float, float, float]:
    b, u = math.radians(bearing), math.radians(up)
    return (math.cos(u) * math.cos(b), -math.cos(u) * math.sin(b), math.sin(u))


@pytest.mark.parametrize("half", [10.0, 15.0, 30.0, 60.0])
def test_at_the_half_angle_half_is_left(half: float) -> None:
    share = beam_share(Beam(AHEAD, pattern_order(half)), eye(half))
    assert share == pytest.approx(0.5)  # derived: what a half angle is


@pytest.mark.parametrize(("order", "edge"), [(1.0, 90.0), (4.8, 90.0), (1.0, 30.0), (12.0, 20.0)])
def test_second_method_all_shares_make_the_flux(order: float, edge: float) -> None:
    angles = np.linspace(0.0, math.pi / 2, 200_001)
    shares = np.array([cone_share(order, edge, cosine=math.cos(angle)) for angle in angles])
    peak = axial_intensity_cd(1.0, order=order, sine=math.sin(math.radians(edge)))
    assert peak * 2 * math.pi * np.trapezoid(shares * np.sin(angles), angles) == pytest.approx(1.0, rel=1e-3)
    if edge == 90.0:
        assert flux_lm(peak, order) == pytest.approx(1.0)


def test_nothing_goes_backwards_or_past_the_edge() -> None:
    assert beam_share(Beam(AHEAD, 1.0), eye(90.0)) == beam_share(Beam(AHEAD, 0.0), eye(135.0)) == 0.0
    fibre = Beam(AHEAD, 1.0, 30.0)
    assert beam_share(fibre, eye(29.9)) == pytest.approx(math.cos(math.radians(29.9))) and beam_share(fibre, eye(30.1)) == 0.0
    assert beam_share(fibre, eye(0.0, 31.0)) == 0.0 < beam_share(fibre, eye(0.0, -29.0))


@pytest.mark.parametrize(("bearing", "up"), [(0.0, 0.0), (50.0, 0.0), (0.0, 30.0), (40.0, -35.0), (89.0, 5.0), (90.0, 0.0)])
def test_second_method_a_flat_shape_aslant_is_its_projection(bearing: float, up: float) -> None:
    """Beside the projection in space, onto a plane square to the eye: the same but for a turn of the picture."""
    rng, way = np.random.default_rng(4), np.array(eye(bearing, up))
    shape = rng.uniform(-20.0, 20.0, (7, 2))
    x, y = np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0])  # of a face that looks ahead
    solid = shape[:, :1] * x + shape[:, 1:] * y
    flat = solid - (solid @ way)[:, None] * way
    made = np.array(seen_aslant(tuple(map(tuple, shape.tolist())), (float(x @ way), float(y @ way)), about=(3.0, -2.0)))
    assert pdist(made) == pytest.approx(pdist(flat), abs=1e-6)
    assert shapely.convex_hull(shapely.MultiPoint(made)).area == pytest.approx(
        abs(way[0]) * shapely.convex_hull(shapely.MultiPoint(shape)).area, abs=1e-6)
    assert lean_cosine((float(x @ way), float(y @ way))) == pytest.approx(abs(way[0]), abs=1e-6)


def test_square_on_nothing_moves_and_the_middle_never() -> None:
    places = ((1.0, 2.0), (4.0, -1.0))
    assert seen_aslant(places, (0.0, 0.0), about=(0.0, 0.0)) == places
    assert seen_aslant(((4.0, -1.0),), (0.3, 0.8), about=(4.0, -1.0)) == ((4.0, -1.0),)
    assert seen_aslant(((5.0, 3.0),), (1.0, 0.0), about=(0.0, 0.0)) == ((0.0, 3.0),)  # derived: edge on
    with pytest.raises(OutOfRange, match="length of the lean"):
        seen_aslant(places, (0.8, 0.7), about=(0.0, 0.0))


def test_an_unknown_axis_looks_at_the_eye_and_keeps_its_screen() -> None:
    beam = Beam(None, 4.8, 30.0, (112.5, 247.5), 5.0)
    assert [beam_share(beam, eye(at)) for at in (0.0, 100.0, 113.0, 180.0, 247.0, 260.0)] == [0.0, 0.0, 1.0, 1.0, 1.0, 0.0]
    assert 0.0 < beam_share(beam, eye(110.0)) < 1.0
    assert beam_share(beam, (0.0, 0.0, 1.0)) == 1.0, "from straight above there is no bearing"


@pytest.mark.parametrize("bearing", [0.0, 77.0, 111.0, 115.0, 200.0, 359.0])
def test_a_whole_turn_changes_nothing_and_mirrored_lamps_are_mirrored(bearing: float) -> None:
    beam = Beam((0.6, -0.8, 0.0), 2.0, 80.0, (0.0, 112.5), 3.0)
    other = Beam((0.6, 0.8, 0.0), 2.0, 80.0, (247.5, 0.0), 3.0)
    share = beam_share(beam, eye(bearing))
    assert beam_share(beam, eye(bearing + 360.0)) == pytest.approx(share, abs=1e-9)
    assert beam_share(other, eye(-bearing)) == pytest.approx(share, abs=1e-9)


def test_a_cone_beyond_a_half_space_is_refused() -> None:
    with pytest.raises(OutOfRange, match="edge of the cone"):
        cone_share(1.0, 91.0, cosine=1.0)
    with pytest.raises(OutOfRange, match="order"):
        cone_share(-1.0, 30.0, cosine=1.0)


def test_a_dome_is_seen_from_its_side_and_not_from_behind() -> None:
    dome = Beam(AHEAD, 1.0, side=0.25)
    assert [beam_share(dome, eye(at)) for at in (0.0, 60.0, 80.0, 90.0, 91.0)] == pytest.approx([1.0, 0.5, 0.25, 0.25, 0.0])
    assert beam_share(Beam((0.0, 0.0, 1.0), 4.8, side=0.05), eye(123.0)) == pytest.approx(0.05)
