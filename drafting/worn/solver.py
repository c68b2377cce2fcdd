"""Cloth moved in small steps of time: extended position-based dynamics (Macklin 2016; Macklin, Storey et al. 2019).

All is SI here (m, kg, s, N). Each triangle resists being stretched across and along its grain and sheared, each pair
of triangles to be bent (the quadratic energy of Bergou 2006); a point that comes too near to the body is put back,
and rubs there (Coulomb). These are loops to be compiled: they are given numbers, and change arrays in place.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from drafting.worn.shape import Floats, Whole

Singles = npt.NDArray[np.float32]


PARTING = 0.5
"""m/s at which cloth that lies too near to other cloth parts from it, so that it isn't flung away."""


class Points(NamedTuple):
    """The points of the cloth: places ``x``, speeds ``v``, inverse masses ``w``.

    ``clear`` is how far each keeps from the body, ``thin`` by how much thinner its arms are to it, ``pull`` (N) how
    hard it is drawn down; ``push`` (N) sums up how hard the body pushes it.
    """

    x: Floats
    v: Floats
    w: Floats
    clear: Floats
    thin: Floats
    pull: Floats
    push: Floats


class Fabric(NamedTuple):
    """What the cloth resists: ``rest`` holds the inverse of each triangle's edges across and along, in rows.

    ``give`` is each triangle's compliance across, along and in shear; ``bends`` the weights of the four points of each
    hinge, ``bend_give`` its compliance.
    """

    triangles: Whole
    rest: Floats
    give: Floats
    hinges: Whole
    bends: Floats
    bend_give: Floats


class Ordered(NamedTuple):
    """Points of one layer and the triangles of another that lie over or beneath them, as four points in a row.

    Weighted by ``shares`` (m times which is the gap between them, above 0 where their order is right) and measured
    along ``outward`` they are kept ``between`` (m) apart.
    """

    rows: Whole
    shares: Floats
    outward: Floats
    between: float


class Touching(NamedTuple):
    """Pairs of points of one layer that may touch, how near (m) they may come, and the layers in their order."""

    near: Whole
    thick: float
    ordered: Ordered


class Standing(NamedTuple):
    """The body's distance grids, one after the other in ``values``: first the trunk's, then the arms'.

    Of each, ``table`` gives its first place and its three counts, ``starts`` its first corner; ``cell`` is their step.
    """

    values: Singles
    table: Whole
    starts: Floats
    cell: float


class Pace(NamedTuple):
    """How cloth moves for a while: a step's time, gravity (m/s2), damping (1/s), friction, the greatest speed."""

    dt: float
    gravity: float
    damping: float
    friction: float
    fastest: float


def advance_points(points: Points, before: Floats, pace: Pace) -> None:
    """Let each point fall and go on as it goes, no faster than may be."""
    x, v, w = points.x, points.v, points.w
    kept = max(0.0, 1.0 - pace.damping * pace.dt)
    for i in range(x.shape[0]):
        if w[i] == 0.0:
            continue
        for k in range(3):
            before[i, k] = x[i, k]
            v[i, k] *= kept
        v[i, 1] -= (pace.gravity + points.pull[i] * w[i]) * pace.dt
        speed = np.sqrt(v[i, 0] ** 2 + v[i, 1] ** 2 + v[i, 2] ** 2)
        share = 1.0 if speed <= pace.fastest else pace.fastest / speed
        for k in range(3):
            x[i, k] += share * v[i, k] * pace.dt


def stretch_cloth(x: Floats, w: Floats, sheet: Fabric, square: float) -> None:
    """Bring each triangle nearer to its length across, and then along."""
    triangles, rest, give = sheet.triangles, sheet.rest, sheet.give
    for t in range(triangles.shape[0]):
        a, b, c = triangles[t, 0], triangles[t, 1], triangles[t, 2]
        for axis in range(2):
            p, q = rest[t, axis], rest[t, 2 + axis]
            o = p + q
            fx = x[b, 0] * p + x[c, 0] * q - x[a, 0] * o
            fy = x[b, 1] * p + x[c, 1] * q - x[a, 1] * o
            fz = x[b, 2] * p + x[c, 2] * q - x[a, 2] * o
            length = np.sqrt(fx * fx + fy * fy + fz * fz)
            if length == 0.0:
                continue
            below = w[a] * o * o + w[b] * p * p + w[c] * q * q + give[t, axis] / square
            much = (1.0 - length) / below / length
            fx, fy, fz = fx * much, fy * much, fz * much
            x[a, 0] -= w[a] * o * fx
            x[a, 1] -= w[a] * o * fy
            x[a, 2] -= w[a] * o * fz
            x[b, 0] += w[b] * p * fx
            x[b, 1] += w[b] * p * fy
            x[b, 2] += w[b] * p * fz
            x[c, 0] += w[c] * q * fx
            x[c, 1] += w[c] * q * fy
            x[c, 2] += w[c] * q * fz


def shear_cloth(x: Floats, w: Floats, sheet: Fabric, square: float) -> None:
    """Bring across and along nearer to a right angle in each triangle."""
    triangles, rest, give = sheet.triangles, sheet.rest, sheet.give
    for t in range(triangles.shape[0]):
        a, b, c = triangles[t, 0], triangles[t, 1], triangles[t, 2]
        r00, r01, r10, r11 = rest[t, 0], rest[t, 1], rest[t, 2], rest[t, 3]
        bx, by, bz = x[b, 0] - x[a, 0], x[b, 1] - x[a, 1], x[b, 2] - x[a, 2]
        cx, cy, cz = x[c, 0] - x[a, 0], x[c, 1] - x[a, 1], x[c, 2] - x[a, 2]
        ux, uy, uz = bx * r00 + cx * r10, by * r00 + cy * r10, bz * r00 + cz * r10
        vx, vy, vz = bx * r01 + cx * r11, by * r01 + cy * r11, bz * r01 + cz * r11
        bx, by, bz = r00 * vx + r01 * ux, r00 * vy + r01 * uy, r00 * vz + r01 * uz
        cx, cy, cz = r10 * vx + r11 * ux, r10 * vy + r11 * uy, r10 * vz + r11 * uz
        ax, ay, az = -bx - cx, -by - cy, -bz - cz
        below = w[a] * (ax * ax + ay * ay + az * az) + w[b] * (bx * bx + by * by + bz * bz)
        below += w[c] * (cx * cx + cy * cy + cz * cz) + give[t, 2] / square
        much = -(ux * vx + uy * vy + uz * vz) / below
        x[a, 0] += w[a] * much * ax
        x[a, 1] += w[a] * much * ay
        x[a, 2] += w[a] * much * az
        x[b, 0] += w[b] * much * bx
        x[b, 1] += w[b] * much * by
        x[b, 2] += w[b] * much * bz
        x[c, 0] += w[c] * much * cx
        x[c, 1] += w[c] * much * cy
        x[c, 2] += w[c] * much * cz


def bend_cloth(x: Floats, w: Floats, sheet: Fabric, square: float) -> None:
    """Bring each pair of triangles nearer to one plane."""
    hinges, bends = sheet.hinges, sheet.bends
    for h in range(hinges.shape[0]):
        below = sheet.bend_give[h] / square
        fx, fy, fz = 0.0, 0.0, 0.0
        for k in range(4):
            i, much = hinges[h, k], bends[h, k]
            below += w[i] * much * much
            fx += much * x[i, 0]
            fy += much * x[i, 1]
            fz += much * x[i, 2]
        for k in range(4):
            i = hinges[h, k]
            much = w[i] * bends[h, k] / below
            x[i, 0] -= much * fx
            x[i, 1] -= much * fy
            x[i, 2] -= much * fz


def close_seams(x: Floats, w: Floats, sewn: Whole, apart: Floats) -> None:
    """Hold sewn points no farther apart than is said of each pair."""
    for s in range(sewn.shape[0]):
        a, b = sewn[s, 0], sewn[s, 1]
        fx, fy, fz = x[b, 0] - x[a, 0], x[b, 1] - x[a, 1], x[b, 2] - x[a, 2]
        length = np.sqrt(fx * fx + fy * fy + fz * fz)
        if length <= apart[s]:
            continue
        much = (length - apart[s]) / length / (w[a] + w[b])
        x[a, 0] += w[a] * much * fx
        x[a, 1] += w[a] * much * fy
        x[a, 2] += w[a] * much * fz
        x[b, 0] -= w[b] * much * fx
        x[b, 1] -= w[b] * much * fy
        x[b, 2] -= w[b] * much * fz


def sample_grid(body: Standing, g: int, px: float, py: float, pz: float) -> tuple[float, float, float, float]:
    """Return the distance at a place (in cells from a grid's first corner), and its rise along x, y and z."""
    nj, nk = body.table[g, 2], body.table[g, 3]
    i, j, k = int(px), int(py), int(pz)
    fi, fj, fk = px - i, py - j, pz - k
    first = body.table[g, 0] + (i * nj + j) * nk + k
    d, gx, gy, gz = 0.0, 0.0, 0.0, 0.0
    for corner in range(8):
        a, b, c = corner >> 2, (corner >> 1) & 1, corner & 1
        value = float(body.values[first + (a * nj + b) * nk + c])
        wi = fi if a else 1.0 - fi
        wj = fj if b else 1.0 - fj
        wk = fk if c else 1.0 - fk
        d += wi * wj * wk * value
        gx += (2 * a - 1) * wj * wk * value
        gy += (2 * b - 1) * wi * wk * value
        gz += (2 * c - 1) * wi * wj * value
    return d, gx, gy, gz


def keep_off(points: Points, before: Floats, body: Standing, pace: Pace) -> None:
    """Put back points that are too near to the body; they rub on it as hard as they are pushed."""
    x, cell = points.x, body.cell
    for g in range(body.table.shape[0]):
        sx, sy, sz = body.starts[g, 0], body.starts[g, 1], body.starts[g, 2]
        ni, nj, nk = body.table[g, 1] - 1, body.table[g, 2] - 1, body.table[g, 3] - 1
        for i in range(x.shape[0]):
            px, py, pz = (x[i, 0] - sx) / cell, (x[i, 1] - sy) / cell, (x[i, 2] - sz) / cell
            if min(px, py, pz) < 0.0 or px >= ni or py >= nj or pz >= nk:
                continue
            reach = points.clear[i] - (points.thin[i] if g > 0 else 0.0)
            corner = body.table[g, 0] + (int(px) * (nj + 1) + int(py)) * (nk + 1) + int(pz)
            if body.values[corner] > reach + 2.0 * cell:
                continue
            d, gx, gy, gz = sample_grid(body, g, px, py, pz)
            length = np.sqrt(gx * gx + gy * gy + gz * gz)
            if d >= reach or length == 0.0:
                continue
            gx, gy, gz = gx / length, gy / length, gz / length
            much = min(reach - d, pace.fastest * pace.dt)
            points.push[i] += much / (points.w[i] * pace.dt * pace.dt)
            mx, my, mz = x[i, 0] - before[i, 0], x[i, 1] - before[i, 1], x[i, 2] - before[i, 2]
            along = mx * gx + my * gy + mz * gz
            mx, my, mz = mx - along * gx, my - along * gy, mz - along * gz
            length, held = np.sqrt(mx * mx + my * my + mz * mz), pace.friction * much
            share = 1.0 if length <= held else held / length
            x[i, 0] += much * gx - share * mx
            x[i, 1] += much * gy - share * my
            x[i, 2] += much * gz - share * mz


def part_cloth(points: Points, near: Whole, thick: float, most: float) -> None:
    """Hold points of cloth that lies on cloth no nearer than it is thick; what is nearer parts by ``most`` (m)."""
    x, w = points.x, points.w
    for n in range(near.shape[0]):
        a, b = near[n, 0], near[n, 1]
        fx, fy, fz = x[b, 0] - x[a, 0], x[b, 1] - x[a, 1], x[b, 2] - x[a, 2]
        length = np.sqrt(fx * fx + fy * fy + fz * fz)
        if length >= thick or length == 0.0:
            continue
        much = -min(thick - length, most) / length / (w[a] + w[b])
        x[a, 0] += w[a] * much * fx
        x[a, 1] += w[a] * much * fy
        x[a, 2] += w[a] * much * fz
        x[b, 0] -= w[b] * much * fx
        x[b, 1] -= w[b] * much * fy
        x[b, 2] -= w[b] * much * fz


def order_layers(points: Points, before: Floats, ordered: Ordered, friction: float, most: float) -> None:
    """Hold layers in their order, apart along the way out; what isn't goes there by no more than ``most`` (m).

    They rub on each other as hard as they are pushed, as cloth does on the body. What they are pushed by gives them no
    speed (``before`` goes with them): layers squeezed between arm and trunk would never come to rest.
    """
    x, w = points.x, points.w
    for n in range(ordered.rows.shape[0]):
        gx, gy, gz = ordered.outward[n, 0], ordered.outward[n, 1], ordered.outward[n, 2]
        gap, below, mx, my, mz = 0.0, 0.0, 0.0, 0.0, 0.0
        for k in range(4):
            i, share = ordered.rows[n, k], ordered.shares[n, k]
            gap += share * (x[i, 0] * gx + x[i, 1] * gy + x[i, 2] * gz)
            below += w[i] * share * share
            mx += share * (x[i, 0] - before[i, 0])
            my += share * (x[i, 1] - before[i, 1])
            mz += share * (x[i, 2] - before[i, 2])
        if gap >= ordered.between or below == 0.0:
            continue
        much = min(ordered.between - gap, most)
        along = mx * gx + my * gy + mz * gz
        mx, my, mz = mx - along * gx, my - along * gy, mz - along * gz
        length, held = np.sqrt(mx * mx + my * my + mz * mz), friction * much
        held = 1.0 if length <= held else held / length
        still = min(much, max(0.0, along + much))
        for k in range(4):
            i = ordered.rows[n, k]
            by = w[i] * ordered.shares[n, k] / below
            x[i, 0] += by * (much * gx - held * mx)
            x[i, 1] += by * (much * gy - held * my)
            x[i, 2] += by * (much * gz - held * mz)
            before[i, 0] += by * still * gx
            before[i, 1] += by * still * gy
            before[i, 2] += by * still * gz


def take_speeds(points: Points, before: Floats, dt: float) -> None:
    """Find each point's speed from the way that it went."""
    for i in range(points.x.shape[0]):
        for k in range(3):
            points.v[i, k] = (points.x[i, k] - before[i, k]) / dt


def move_cloth(
    points: Points,
    sheet: Fabric,
    sewn: Whole,
    apart: Floats,
    touching: Touching,
    body: Standing,
    pace: Pace,
    steps: int,
) -> None:
    """Move the cloth by a number of steps; ``sewn`` pairs of points are held no farther ``apart`` than that."""
    square = pace.dt * pace.dt
    before = points.x.copy()
    for _ in range(steps):
        advance_points(points, before, pace)
        stretch_cloth(points.x, points.w, sheet, square)
        shear_cloth(points.x, points.w, sheet, square)
        bend_cloth(points.x, points.w, sheet, square)
        close_seams(points.x, points.w, sewn, apart)
        part_cloth(points, touching.near, touching.thick, PARTING * pace.dt)
        order_layers(points, before, touching.ordered, pace.friction, PARTING * pace.dt)
        keep_off(points, before, body, pace)
        take_speeds(points, before, pace.dt)


PARTS = (
    advance_points,
    stretch_cloth,
    shear_cloth,
    bend_cloth,
    close_seams,
    part_cloth,
    order_layers,
    sample_grid,
    keep_off,
    take_speeds,
)
"""What ``move_cloth`` is compiled with."""
