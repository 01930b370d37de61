"""The last thousandth: a sequential linear programme turns a pressed packing into an exact one."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry._exact import smallest_circle

Floats = NDArray[np.float64]
Places = NDArray[np.signedinteger[Any]]
Rows = tuple[Floats | Places, Floats | Places, Floats]


def polished(centres: Floats, radii: Floats, passes: int = 11) -> Floats:
    """Centres moved to the nearest vertex of the contact constraints, by HiGHS, pass by pass.

    Least R with |c_i - c_j| >= r_i + r_j and |c_i| <= R - r_i, both replaced by their tangents, inside
    a box. The first is convex, so its tangent is on the safe side; the second is wrong by box^2 / (2 |c|)
    (the whole packing may turn freely), so the box shrinks in every pass.
    """
    best, reach = recentred(spread_apart(centres, radii), radii)
    box = 0.02 * float(radii.min())
    for _ in range(passes):
        moved = _one_pass(best, radii, reach, box)
        if moved is not None:
            moved, new_reach = recentred(spread_apart(moved, radii), radii)
            if new_reach < reach:
                best, reach = moved, new_reach
        box *= 0.2
    return best


def spread_apart(centres: Floats, radii: Floats) -> Floats:
    """The centres scaled from their origin so that the closest pair just does not overlap."""
    if len(radii) < 2:
        return centres
    i, j = _pairs_within(centres, radii, 0.5)
    if len(i) == 0:
        return centres
    apart = np.hypot(*(centres[i] - centres[j]).T)
    worst = float(np.max((radii[i] + radii[j]) / np.maximum(apart, 1e-300)))
    return centres * worst if worst > 1.0 else centres


def container_radius(centres: Floats, radii: Floats) -> float:
    """Radius of the smallest circle round discs that stand where they stand."""
    return smallest_circle([(x, y, r) for (x, y), r in zip(centres.tolist(), radii.tolist(), strict=True)])[2]


def recentred(centres: Floats, radii: Floats) -> tuple[Floats, float]:
    """The centres about the middle of their smallest container, and its radius."""
    x, y, radius = smallest_circle(
        [(x, y, r) for (x, y), r in zip(centres.tolist(), radii.tolist(), strict=True)]
    )
    return centres - np.array([x, y]), radius


def _pairs_within(centres: Floats, radii: Floats, slack: float) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Pairs nearer than their touching distance plus `slack` mean radii."""
    n = len(radii)
    reach = slack * float(radii.mean())
    if n > 600:
        from scipy.spatial import cKDTree

        near = np.asarray(cKDTree(centres).query_pairs(2 * float(radii.max()) + reach, output_type="ndarray"))
        i, j = near[:, 0].astype(np.intp), near[:, 1].astype(np.intp)
    else:
        i, j = np.triu_indices(n, 1)
    apart = np.hypot(*(centres[i] - centres[j]).T)
    close = apart < radii[i] + radii[j] + reach
    return i[close], j[close]


def _one_pass(centres: Floats, radii: Floats, reach: float, box: float) -> Floats | None:
    """Solve one linear programme for the moves of all centres and R; None if HiGHS gives up."""
    from scipy.optimize import linprog
    from scipy.sparse import csr_array

    n = len(radii)
    pairs, pair_limit = _pair_rows(centres, radii)
    walls, wall_limit = _wall_rows(centres, radii, reach - 4 * box)
    rows = np.concatenate([pairs[0], walls[0] + len(pair_limit)]).astype(np.intp)
    columns = np.concatenate([pairs[1], walls[1]]).astype(np.intp)
    shape = (len(pair_limit) + len(wall_limit), 2 * n + 1)
    matrix: Any = csr_array((np.concatenate([pairs[2], walls[2]]), (rows, columns)), shape=shape)
    low, high = np.full(2 * n + 1, -box), np.full(2 * n + 1, box)
    low[-1], high[-1] = 0.0, np.inf
    result = linprog(
        np.eye(1, 2 * n + 1, 2 * n)[0],
        A_ub=matrix,
        b_ub=np.concatenate([pair_limit, wall_limit]),
        bounds=list(zip(low.tolist(), high.tolist(), strict=True)),
        method="highs",
    )
    if result.x is None:
        return None
    return centres + np.asarray(result.x[: 2 * n], dtype=np.float64).reshape(n, 2)


def _pair_rows(centres: Floats, radii: Floats) -> tuple[Rows, Floats]:
    """Rows, columns, values and limits of: near pairs come no nearer than touching."""
    i, j = _pairs_within(centres, radii, 0.3)
    step = centres[i] - centres[j]
    apart = np.hypot(step[:, 0], step[:, 1])
    ux, uy = step[:, 0] / apart, step[:, 1] / apart
    rows = np.tile(np.arange(len(i)), 4)
    columns = np.concatenate([2 * i, 2 * i + 1, 2 * j, 2 * j + 1])
    return (rows, columns, np.concatenate([-ux, -uy, ux, uy])), apart - radii[i] - radii[j]


def _wall_rows(centres: Floats, radii: Floats, beyond: float) -> tuple[Rows, Floats]:
    """Rows, columns, values and limits of: discs that reach `beyond` stay inside R."""
    out = np.hypot(centres[:, 0], centres[:, 1])
    wall = np.flatnonzero(out + radii > beyond)
    unit = centres[wall] / np.maximum(out[wall], 1e-300)[:, None]
    rows = np.tile(np.arange(len(wall)), 3)
    columns = np.concatenate([2 * wall, 2 * wall + 1, np.full(len(wall), 2 * len(radii))])
    values = np.concatenate([unit[:, 0], unit[:, 1], np.full(len(wall), -1.0)])
    return (rows, columns, values), -(out[wall] + radii[wall])
