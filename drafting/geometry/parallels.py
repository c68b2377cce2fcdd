"""Cubics along the true parallel of smooth pieces of a path.

Each cubic starts and ends on the true parallel, in its direction; its two handle lengths are fitted to the
parallel by least squares of the distance square to it, and pieces that still stray are halved. Points of the
plane are complex numbers here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from drafting.errors import GeometryError
from drafting.geometry.measure import Array, Coefficients, Table, direction, is_straight
from drafting.geometry.shape import line, quadratic_roots
from drafting.tolerance import TOLERANCE

Piece = tuple[int, float, float]
"""A segment of a path between two parameters."""
Plane = npt.NDArray[np.complex128]

_U: Array = np.arange(1, 10) / 10.0
_B1, _B2 = 3.0 * _U * (1.0 - _U) ** 2, 3.0 * _U**2 * (1.0 - _U)
_EARLY, _LATE = (1.0 - _U) ** 3 + _B1, _B2 + _U**3
_DAMPING = 2.0**-20
_ALLOWED = 0.6 * TOLERANCE.offset  # the rest is left for what lies between the samples
_DEEPEST = 10
_STEPS = 4
_HOPELESS = 4.0  # strays this many times too far after two steps: halve it rather than go on
_SLOW = TOLERANCE.same_point


def parallels(table: Table, spans: Sequence[Sequence[Piece]], d: float) -> list[Array]:
    """Return for each span of pieces the segments (n, 4, 2) of its parallel at ``d`` mm to the right."""
    pieces = [piece for span in spans for piece in span]
    curved = [n for n, (i, _, _) in enumerate(pieces) if not is_straight(table.coefs[i])]
    fitted: dict[int, Array] = _fitted(table, pieces, curved, d) if curved else {}
    made: list[Array] = []
    n = 0
    for span in spans:
        parts = []
        for piece in span:
            parts.append(fitted[n] if n in fitted else _straight(table, piece, d))
            n += 1
        for a, b in pairwise(parts):
            a[-1, 3] = b[0, 0] = 0.5 * (a[-1, 3] + b[0, 0])  # tangents that differ by less than a corner
        made.append(np.concatenate(parts))
    return made


def _straight(table: Table, piece: Piece, d: float) -> Array:
    i, t, u = piece
    shift = direction(table.coefs[i], 0.0).right * d
    a, b = table.point(i, t) + shift, table.point(i, u) + shift
    return np.array((line(a.x, a.y, b.x, b.y),))


def _fitted(table: Table, pieces: Sequence[Piece], which: list[int], d: float) -> dict[int, Array]:
    """Return the fitted parallel of each curved piece."""
    coefs = np.array(table.coefs)
    k = coefs[:, 0::2] + 1j * coefs[:, 1::2]
    parts = [(n, *part) for n in which for part in _at_inflections(table.coefs[pieces[n][0]], pieces[n])]
    owner, segment = np.array([part[:2] for part in parts]).T
    low, high = np.array([part[2:] for part in parts]).T
    found: list[tuple[int, float, Plane]] = []
    for depth in range(_DEEPEST + 1):
        control, stray = _fit(table, k[segment], segment, low, high, d)
        good = stray <= _ALLOWED
        found += zip(owner[good].tolist(), low[good].tolist(), control[good], strict=True)
        bad = ~good
        if not bad.any():
            break
        if depth == _DEEPEST:
            raise GeometryError(f"the parallel at {d:.6g} mm can't be followed")
        middle = 0.5 * (low[bad] + high[bad])
        low, high = np.concatenate((low[bad], middle)), np.concatenate((middle, high[bad]))
        owner, segment = np.tile(owner[bad], 2), np.tile(segment[bad], 2)
    found.sort(key=lambda entry: entry[:2])
    z = np.array([control for _, _, control in found])
    flat = np.stack((z.real, z.imag), axis=2)
    owners = np.array([n for n, _, _ in found])
    return {n: flat[owners == n] for n in which}


def _at_inflections(k: Coefficients, piece: Piece) -> list[Piece]:
    """Return a piece cut where it changes the side it bends to; one cubic seldom fits both sides."""
    ax, ay, bx, by, cx, cy = k[:6]
    ab, ca, cb = ax * by - ay * bx, cx * ay - cy * ax, cx * by - cy * bx
    i, low, high = piece
    margin = (high - low) / 16.0
    inside = [t for t in quadratic_roots(-3.0 * ab, 3.0 * ca, cb) if low + margin < t < high - margin]
    return [(i, t, u) for t, u in pairwise((low, *inside, high))]


def _fit(table: Table, k: Plane, segment: Array, low: Array, high: Array, d: float) -> tuple[Plane, Array]:
    """Return control points (m, 4) along the parallel between parameters, and how far each strays (mm)."""
    z0, d0, h0 = _end(table, k, segment, low, d)
    z3, d3, h3 = _end(table, k, segment, high, d)
    width = high - low
    first, last = h0 * width / 3.0, h3 * width / 3.0
    chord = np.abs(z3 - z0) / 3.0
    first, last = np.where(first > 0.0, first, chord), np.where(last > 0.0, last, chord)
    t = low[:, None] + width[:, None] * _U
    base = z0[:, None] * _EARLY + z3[:, None] * _LATE
    lead, trail = d0[:, None] * _B1, d3[:, None] * -_B2
    for step in range(_STEPS + 1):
        q = base + first[:, None] * lead + last[:, None] * trail
        z, heading, pace, bend = _frame(k, t, d)
        off = np.conj(heading) * (q - z)  # real part along the parallel, imaginary part square to it
        aside = off.imag - 0.5 * bend * off.real * off.real  # from the parallel as an arc
        stray = np.abs(aside).max(axis=1)
        hopeless = stray > (_ALLOWED * _HOPELESS if step > 1 else math.inf)
        if step == _STEPS or (step and (hopeless | (stray <= _ALLOWED)).all()):
            break
        j1, j2 = (np.conj(heading) * lead).imag, (np.conj(heading) * trail).imag
        g1, g2 = -(j1 * aside).sum(axis=1), -(j2 * aside).sum(axis=1)
        a11, a22, a12 = (
            (j1 * j1).sum(axis=1) + _DAMPING,
            (j2 * j2).sum(axis=1) + _DAMPING,
            (j1 * j2).sum(axis=1),
        )
        det = a11 * a22 - a12 * a12
        first = np.maximum(first + (a22 * g1 - a12 * g2) / det, 0.0)
        last = np.maximum(last + (a11 * g2 - a12 * g1) / det, 0.0)
        reach = 0.25 * width[:, None]
        t = t + np.clip(off.real / np.maximum(pace, _SLOW), -reach, reach)
        t = np.clip(t, low[:, None], high[:, None])
    control = np.stack((z0, z0 + first * d0, z3 - last * d3, z3), axis=1)
    return control, stray


def _frame(k: Plane, t: Array, d: float) -> tuple[Plane, Plane, Array, Array]:
    """Return the parallel's points, directions, speeds and curvatures at parameters (m, n)."""
    a, b, c, z0 = (k[:, n : n + 1] for n in range(4))
    v = (3.0 * a * t + 2.0 * b) * t + c
    speed = np.maximum(np.abs(v), _SLOW)
    heading = v / speed
    bend = (np.conj(v) * (6.0 * a * t + 2.0 * b)).imag / (speed * speed)
    pace = speed + d * bend
    return ((a * t + b) * t + c) * t + z0 - 1j * d * heading, heading, pace, bend / np.maximum(pace, _SLOW)


def _end(table: Table, k: Plane, segment: Array, t: Array, d: float) -> tuple[Plane, Plane, Array]:
    """Return the same at one parameter each; where a handle has no length, its limit."""
    points, headings, paces, _ = _frame(k, t[:, None], d)
    z, heading, pace = points[:, 0], headings[:, 0], paces[:, 0]
    for n in np.flatnonzero(np.abs(heading) < 0.5):
        u = direction(table.coefs[int(segment[n])], float(t[n]))
        z[n] += -1j * d * (complex(u.x, u.y) - heading[n])
        heading[n], pace[n] = complex(u.x, u.y), 0.0
    return z, heading, pace
