"""Layers that lie over each other: what hangs over is held outside of what lies beneath, seen from the body.

Contact between points knows no side: a layer that has once slipped beneath the other would be held there. Which way
out is, the body's distance says: it grows along it, whatever folds the cloth lies in.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.worn.compiled import compile_loop
from drafting.worn.shape import Floats, Whole
from drafting.worn.solver import Ordered, Standing, sample_grid

_REACH: Final = 0.03
"""m along the way out within which a layer is looked for; what lies farther has been caught by nothing."""
_TRIED: Final = 12
"""Nearest triangles of the other layer that are tried for lying on a point's way out."""


def find_order(x: Floats, over: Whole, under: Whole, body: Standing, between: float) -> Ordered:
    """Return of each point that lies over another layer, or beneath one, the triangle there, and which way is out.

    ``x`` are points (m), ``over`` and ``under`` the triangles of either, ``between`` how far (m) they are
    to be apart. Points that both share are in no order.
    """
    from scipy.spatial import cKDTree

    outward = np.zeros_like(x)
    compile_loop(point_outward, sample_grid)(x, body, outward)
    parts: list[tuple[Whole, Floats, Floats]] = []
    for own, other, sign in ((over, under, 1.0), (under, over, -1.0)):
        points = np.setdiff1d(own, other)
        near = cKDTree(x[other].mean(axis=1))
        _, tried = near.query(x[points], k=range(1, _TRIED + 1), distance_upper_bound=2.0 * _REACH)
        found, shares = np.full(len(points), -1), np.zeros((len(points), 3))
        compile_loop(match_triangles)(x, points, other, tried.astype(np.int64), sign * outward, shares, found)
        met = found >= 0
        rows = np.concatenate([points[met, None], other[found[met]]], axis=1)
        weights = sign * np.concatenate([np.ones((len(rows), 1)), -shares[met]], axis=1)
        parts.append((rows, weights, outward[points[met]]))
    rows, weights, ways = (np.concatenate(both) for both in zip(*parts, strict=True))
    return Ordered(rows, weights, ways, between)


def no_order() -> Ordered:
    """Return the order of cloth that lies in one layer."""
    return Ordered(np.zeros((0, 4), dtype=np.int64), np.zeros((0, 4)), np.zeros((0, 3)), 0.0)


def point_outward(x: Floats, body: Standing, outward: Floats) -> None:
    """Find for each point the way out (a unit vector) from the nearest of the body's parts; 0 far from all of them."""
    for i in range(x.shape[0]):
        least = 1.0
        for g in range(body.table.shape[0]):
            px = (x[i, 0] - body.starts[g, 0]) / body.cell
            py = (x[i, 1] - body.starts[g, 1]) / body.cell
            pz = (x[i, 2] - body.starts[g, 2]) / body.cell
            ni, nj, nk = body.table[g, 1] - 1, body.table[g, 2] - 1, body.table[g, 3] - 1
            if min(px, py, pz) < 0.0 or px >= ni or py >= nj or pz >= nk:
                continue
            d, gx, gy, gz = sample_grid(body, g, px, py, pz)
            length = np.sqrt(gx * gx + gy * gy + gz * gz)
            if d < least and length > 0.0:
                least = d
                outward[i, 0], outward[i, 1], outward[i, 2] = gx / length, gy / length, gz / length


def match_triangles(
    x: Floats, points: Whole, triangles: Whole, tried: Whole, way: Floats, shares: Floats, found: npt.NDArray[np.int64]
) -> None:
    """Find for each point the triangle of the other layer that lies farthest along its way; -1 where there is none.

    ``shares`` are those of the triangle's corners in the place that it meets (Moeller and Trumbore 1997).
    """
    for n in range(points.shape[0]):
        i, most = points[n], -1.0
        wx, wy, wz = way[i, 0], way[i, 1], way[i, 2]
        for k in range(tried.shape[1]):
            t = tried[n, k]
            if t >= triangles.shape[0]:
                break
            a, b, c = triangles[t, 0], triangles[t, 1], triangles[t, 2]
            ux, uy, uz = x[b, 0] - x[a, 0], x[b, 1] - x[a, 1], x[b, 2] - x[a, 2]
            vx, vy, vz = x[c, 0] - x[a, 0], x[c, 1] - x[a, 1], x[c, 2] - x[a, 2]
            ox, oy, oz = x[i, 0] - x[a, 0], x[i, 1] - x[a, 1], x[i, 2] - x[a, 2]
            px, py, pz = wy * vz - wz * vy, wz * vx - wx * vz, wx * vy - wy * vx
            below = ux * px + uy * py + uz * pz
            if below == 0.0:
                continue
            p = (ox * px + oy * py + oz * pz) / below
            qx, qy, qz = oy * uz - oz * uy, oz * ux - ox * uz, ox * uy - oy * ux
            q = (wx * qx + wy * qy + wz * qz) / below
            far = (vx * qx + vy * qy + vz * qz) / below
            if p < 0.0 or q < 0.0 or p + q > 1.0 or abs(far) > _REACH or far <= most:
                continue
            most, found[n] = far, t
            shares[n, 0], shares[n, 1], shares[n, 2] = 1.0 - p - q, p, q
